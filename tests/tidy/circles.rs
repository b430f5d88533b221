//! No circle of files within a crate: whoever reads a file must be able to read what it rests on first.
//!
//! A parent names its children (`mod`, `pub use`); a child takes what it needs from a file below, not from its parent.
//! A name that is passed on by `pub use` counts as the file that defines it.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::checkout::{fires, kept};
use crate::manifest::Manifest;
use crate::modules::modules;
use crate::names::Import;
use crate::tree::{Finding, Tree};

/// A chain of `pub use` longer than this leads to itself, or out of the crate.
const LONGEST_CHAIN: usize = 16;

/// For each file, the files that it imports from and the line of the first import.
type Imports = BTreeMap<String, BTreeMap<String, usize>>;

/// The files of every crate rest on each other in one direction only.
fn no_circle(tree: &Tree) -> Vec<Finding> {
    let roots = Manifest::all_roots(tree).into_iter().filter(|root| tree.sources.contains_key(root));
    roots.flat_map(|root| circles(&Crate::of(tree, &root).imports())).collect()
}

/// One finding for each set of files that all lead to each other, with its shortest circle.
fn circles(imports: &Imports) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut told: BTreeSet<String> = BTreeSet::new();
    for file in imports.keys() {
        let Some(way) = way_back(imports, file).filter(|_| !told.contains(file)) else { continue };
        let reach = |from: &str| -> BTreeSet<String> { ways(imports, from).into_keys().collect() };
        let round: Vec<String> =
            reach(file).into_iter().filter(|other| reach(other).contains(file)).collect();
        let says = format!(
            "{} files import in a circle: {}. Move what both need into a file below them.",
            round.len(),
            way.join(" → ")
        );
        found.push(Finding::new(file, imports[file][&way[1]], says));
        told.extend(round);
    }
    found
}

/// From a file along its imports to itself, the shortest way.
fn way_back(imports: &Imports, file: &str) -> Option<Vec<String>> {
    let from = ways(imports, file);
    let mut way = vec![file.to_owned()];
    let mut at = from.get(file)?;
    while at != file {
        way.push(at.clone());
        at = &from[at];
    }
    way.push(file.to_owned());
    way.reverse();
    Some(way)
}

/// Every file that `from` leads to, each with the file before it.
fn ways(imports: &Imports, from: &str) -> BTreeMap<String, String> {
    let mut before: BTreeMap<String, String> = BTreeMap::new();
    let mut waiting = VecDeque::from([from.to_owned()]);
    while let Some(file) = waiting.pop_front() {
        for next in imports.get(&file).into_iter().flat_map(BTreeMap::keys) {
            if !before.contains_key(next) {
                before.insert(next.clone(), file.clone());
                waiting.push_back(next.clone());
            }
        }
    }
    before
}

/// A module: its file, and what that file names inside of it.
#[derive(Default)]
struct Room<'a> {
    file: String,
    children: Vec<(String, usize)>,
    imports: Vec<&'a Import>,
    paths: Vec<&'a Import>,
    defined: BTreeSet<&'a str>,
}

/// The modules of a crate, each by its path from the root.
struct Crate<'a> {
    rooms: BTreeMap<Vec<String>, Room<'a>>,
}

impl<'a> Crate<'a> {
    fn of(tree: &'a Tree, root: &str) -> Self {
        let mut rooms: BTreeMap<Vec<String>, Room<'a>> = BTreeMap::new();
        let mut waiting = vec![(Vec::new(), root.to_owned())];
        while let Some((at, file)) = waiting.pop() {
            let source = &tree.sources[&file];
            let room = || Room { file: file.clone(), ..Room::default() };
            let below = |inside: &[String]| [&at[..], inside].concat();
            rooms.insert(at.clone(), room());
            rooms.extend(source.names.inline.iter().map(|inside| (below(inside), room())));
            for import in &source.names.imports {
                rooms.entry(below(&import.inside)).or_default().imports.push(import);
            }
            for path in &source.names.paths {
                rooms.entry(below(&path.inside)).or_default().paths.push(path);
            }
            for (name, inside) in source.names.defined.iter().filter_map(|path| path.split_last()) {
                rooms.entry(below(inside)).or_default().defined.insert(name);
            }
            for named in modules(&file, source, at.is_empty()) {
                if let Some(child) = named.files.into_iter().find(|file| tree.sources.contains_key(file)) {
                    rooms.entry(at.clone()).or_default().children.push((child.clone(), named.line));
                    waiting.push((below(&named.below), child));
                }
            }
        }
        Self { rooms }
    }

    fn imports(&self) -> Imports {
        let mut imports = Imports::new();
        for (at, room) in &self.rooms {
            let named = room.imports.iter().chain(&room.paths).filter_map(|import| {
                let place = self.resolve(at, &import.path, LONGEST_CHAIN)?;
                Some((self.rooms[&place].file.clone(), import.line))
            });
            for (file, line) in room.children.iter().cloned().chain(named) {
                let of_file = imports.entry(room.file.clone()).or_default();
                if file != room.file {
                    let first = of_file.entry(file).or_insert(line);
                    *first = line.min(*first);
                }
            }
        }
        imports
    }

    /// The module that a path leads to, or that defines what it leads to; `None` where it leads out of the crate.
    fn resolve(&self, from: &[String], path: &[String], steps: usize) -> Option<Vec<String>> {
        let steps = steps.checked_sub(1)?;
        let mut at = from.to_vec();
        for (index, word) in path.iter().enumerate() {
            let below = [&at[..], std::slice::from_ref(word)].concat();
            let passed_on = |import: &&&Import| import.name.as_ref() == Some(word) && import.path != path;
            let room = self.rooms.get(&at)?;
            match word.as_str() {
                "crate" => at.clear(),
                "self" => {}
                "super" => drop(at.pop()?),
                _ if self.rooms.contains_key(&below) => at = below,
                name if room.defined.contains(name) => return Some(at),
                _ => {
                    let rest = &path[index + 1..];
                    if let Some(import) = room.imports.iter().find(passed_on) {
                        return self.resolve(&at, &[&import.path[..], rest].concat(), steps);
                    }
                    let starred = room.imports.iter().filter(|import| import.name.is_none());
                    let mut places = starred.filter_map(|star| {
                        let place = self.resolve(&at, &star.path, steps)?;
                        let knows = |room: &Room<'_>| {
                            room.defined.contains(word.as_str())
                                || room.imports.iter().any(|import| import.name.as_ref() == Some(word))
                        };
                        let known = place != at && self.rooms.get(&place).is_some_and(knows);
                        known.then_some(place)
                    });
                    if let Some(place) = places.next() {
                        return self.resolve(&place, &path[index..], steps);
                    }
                    // What no file defines in so many words a macro may have made; but a first word is another crate's.
                    return (index > 0).then_some(at);
                }
            }
        }
        Some(at)
    }
}

#[test]
fn no_files_of_a_crate_import_in_a_circle() {
    kept(no_circle);
}

const PACKAGE: (&str, &str) = ("a/Cargo.toml", "[package]\nname = \"a\"\n");

#[test]
fn a_planted_circle_is_found_by_every_way_of_importing() {
    let lib = ("a/src/lib.rs", "mod hip;\nmod jack;\nmod ridge;\npub use hip::{Hip as Known};\n");
    let ridge = ("a/src/ridge.rs", "pub struct Ridge;\nuse crate::jack::*;\n");
    let jack = ("a/src/jack.rs", "pub fn jack() { crate::hip::hip() }\n");
    for import in [
        "use crate::ridge::Ridge;",
        "use crate::{ridge::{self, Ridge}};",
        "use super::ridge::Ridge as R;",
        "use crate::ridge;",
        "fn f() -> super::ridge::Ridge { todo() }",
        "fn f() { g!(1, crate::ridge::Ridge) }",
        "mod inner { use super::super::ridge::Ridge; }",
        "mod inner { use super::*; }\nuse crate::ridge::*;",
    ] {
        let hip = format!("pub struct Hip;\npub fn hip() {{}}\n{import}\n");
        let files = [PACKAGE, lib, ridge, jack, ("a/src/hip.rs", &hip)];
        assert_eq!(fires(no_circle, &files).len(), 1, "{import}");
    }
    let passed_on = ("a/src/hip.rs", "pub struct Hip;\npub fn hip() {}\nuse self::inner::x;\nmod inner;\n");
    let inner = ("a/src/hip/inner.rs", "use crate::Known;\npub fn x() {}\n");
    let found = no_circle(&Tree::of(&[PACKAGE, lib, ridge, jack, passed_on, inner]));
    assert_eq!(
        found.iter().map(ToString::to_string).collect::<Vec<_>>(),
        ["a/src/hip.rs:3: 2 files import in a circle: a/src/hip.rs → a/src/hip/inner.rs → a/src/hip.rs. \
          Move what both need into a file below them."]
    );
}

#[test]
fn a_child_that_asks_its_parent_is_found_and_one_that_asks_below_is_not() {
    let lib = ("a/src/lib.rs", "mod roof;\npub use roof::{Plan, measure};\n");
    let parent = "mod measure;\nmod plan;\npub use measure::*;\npub use plan::Plan;\n";
    let plan = ("a/src/roof/plan.rs", "pub struct Plan;\n#[cfg(test)]\nmod tests { use super::*; }\n");
    let measure =
        |import: &str| format!("{import}\npub fn measure(_: Plan) -> std::fmt::Result {{ Ok(()) }}\n");
    for (below, import, circles) in [
        ("", "use crate::roof::plan::Plan;", 0),
        ("", "use super::plan::Plan;", 0),
        ("", "use super::Plan;", 0),
        ("", "use crate::Plan;", 0),
        ("pub struct Own;\n", "use super::{Own, Plan};", 1),
        ("", "use super::*;", 1),
    ] {
        let (parent, measure) = (format!("{parent}{below}"), measure(import));
        let files = [PACKAGE, lib, ("a/src/roof/mod.rs", &parent), plan, ("a/src/roof/measure.rs", &measure)];
        assert_eq!(fires(no_circle, &files).len(), circles, "{import}");
    }
}

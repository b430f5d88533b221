//! No dead file: what no module names is compiled by nobody, and rots unseen.

use std::collections::{BTreeMap, BTreeSet};

use crate::manifest::Manifest;
use crate::source::{Source, item_end, word, words};
use crate::tree::{Finding, Tree};
use crate::{fires, kept};

/// Every Rust file is a crate's root or named by a `mod` that leads to it from one.
fn no_dead_file(tree: &Tree) -> Vec<Finding> {
    let mut reached = BTreeSet::new();
    let mut waiting: Vec<(String, bool)> = roots(tree).into_iter().map(|root| (root, true)).collect();
    while let Some((path, is_root)) = waiting.pop() {
        let Some(source) = tree.sources.get(&path) else { continue };
        if reached.insert(path.clone()) {
            waiting.extend(
                modules(&path, source, is_root)
                    .into_iter()
                    .flat_map(|(named, _)| named)
                    .map(|at| (at, false)),
            );
        }
    }
    let dead = tree.sources.keys().filter(|path| !reached.contains(*path));
    dead.map(|path| Finding::new(path, 1, "No `mod` leads here. Name it in its parent, or delete it."))
        .collect()
}

/// A crate says first of all what it is for.
fn roots_say_what_they_are_for(tree: &Tree) -> Vec<Finding> {
    let silent = roots(tree).into_iter().filter(|root| {
        tree.texts.get(root).is_some_and(|text| !text.starts_with("//!")) && tree.sources.contains_key(root)
    });
    silent
        .map(|root| {
            Finding::new(&root, 1, "Begin with `//!`: what this crate is for, and what it must never do.")
        })
        .collect()
}

/// The files that cargo compiles first, of every package in the tree. Some of them may not be there.
fn roots(tree: &Tree) -> Vec<String> {
    Manifest::all(tree).iter().flat_map(|manifest| manifest.roots(&tree.paths)).collect()
}

/// The files that a `mod` under `#[cfg(test)]` names.
pub(crate) fn test_only(sources: &BTreeMap<String, Source>) -> Vec<String> {
    let named = sources.iter().flat_map(|(path, source)| {
        let is_root = path.ends_with("/lib.rs") || path.ends_with("/main.rs");
        modules(path, source, is_root)
    });
    named.filter(|(_, test)| *test).flat_map(|(paths, _)| paths).collect()
}

/// For each `mod name;` of a file: where its file may be, and whether only a test build has it.
fn modules(path: &str, source: &Source, is_root: bool) -> Vec<(Vec<String>, bool)> {
    let (folder, file) = path.rsplit_once('/').unwrap_or(("", path));
    let stem = file.trim_end_matches(".rs");
    let base = if is_root || stem == "mod" { folder.to_owned() } else { join(folder, stem) };
    let mut found = Vec::new();
    for (at, _) in words(&source.code).filter(|(_, word)| *word == "mod") {
        let after = source.code[at + 3..].trim_start();
        let name = word(after);
        if name.is_empty() || !after[name.len()..].trim_start().starts_with(';') {
            continue;
        }
        let test = source.is_test(source.line_at(at));
        let paths = match named_path(source, at) {
            Some(named) => vec![join(folder, &named)],
            None => vec![join(&base, &format!("{name}.rs")), join(&base, &format!("{name}/mod.rs"))],
        };
        found.push((paths, test));
    }
    found
}

/// The file named by a `#[path = "…"]` of the `mod` at `at`: the attribute's item ends where the `mod` does.
fn named_path(source: &Source, at: usize) -> Option<String> {
    let attribute = source.code[..at].rfind("#[path")?;
    let closed = attribute + source.code[attribute..].find(']')?;
    if item_end(&source.code, closed + 1)? < at {
        return None;
    }
    source
        .literals
        .iter()
        .find(|literal| literal.at > attribute && literal.at < closed)
        .map(|literal| literal.text.clone())
}

fn join(folder: &str, file: &str) -> String {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in file.split('/') {
        if part == ".." {
            parts.pop();
        } else {
            parts.push(part);
        }
    }
    parts.join("/")
}

#[test]
fn no_file_is_dead() {
    kept(no_dead_file);
}

#[test]
fn every_crate_says_what_it_is_for() {
    kept(roots_say_what_they_are_for);
}

#[test]
fn a_dead_file_is_found_and_a_live_one_is_not() {
    let package = ("a/Cargo.toml", "[package]\nname = \"a\"\n");
    let files = [
        package,
        ("a/src/lib.rs", "mod hip;\n// mod dead;\n#[path = \"odd/place.rs\"]\nmod place;\nmod late;\n"),
        ("a/src/hip.rs", "mod jack;\n"),
        ("a/src/hip/jack.rs", ""),
        ("a/src/late/mod.rs", "mod inner;\n"),
        ("a/src/late/inner.rs", ""),
        ("a/src/odd/place.rs", ""),
        ("a/src/dead.rs", ""),
    ];
    assert_eq!(fires(no_dead_file, &files), ["a/src/dead.rs:1"]);
}

#[test]
fn a_test_file_that_is_not_declared_is_dead_where_cargo_does_not_look_for_it() {
    let told = "[package]\nname = \"t\"\nautotests = false\n[[test]]\nname = \"x\"\npath = \"x/main.rs\"\n";
    let files = [("t/Cargo.toml", told), ("t/x/main.rs", "mod y;\n"), ("t/x/y.rs", ""), ("t/tests/z.rs", "")];
    assert_eq!(fires(no_dead_file, &files), ["t/tests/z.rs:1"]);
}

#[test]
fn a_silent_root_is_found() {
    let files = [
        ("a/Cargo.toml", "[package]\nname = \"a\"\n"),
        ("a/src/lib.rs", "// Money.\n//! Money.\n"),
        ("a/src/bin/b.rs", "//! A bench.\n"),
    ];
    assert_eq!(fires(roots_say_what_they_are_for, &files), ["a/src/lib.rs:1"]);
}

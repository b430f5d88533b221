//! No dead file: what no module names is compiled by nobody, and rots unseen.

use std::collections::{BTreeMap, BTreeSet};

use crate::checkout::{fires, kept};
use crate::manifest::Manifest;
use crate::modules::modules;
use crate::source::words;
use crate::tree::{Finding, Tree};

/// Every Rust file is a crate's root or named by a `mod` that leads to it from one.
fn no_dead_file(tree: &Tree) -> Vec<Finding> {
    let mut reached = BTreeSet::new();
    let mut waiting: Vec<(String, bool)> =
        Manifest::all_roots(tree).into_iter().map(|root| (root, true)).collect();
    while let Some((path, is_root)) = waiting.pop() {
        let Some(source) = tree.sources.get(&path) else { continue };
        if reached.insert(path.clone()) {
            let named = modules(&path, source, is_root).into_iter().flat_map(|named| named.files);
            waiting.extend(named.map(|file| (file, false)));
        }
    }
    let dead = tree.sources.keys().filter(|path| !reached.contains(*path));
    dead.map(|path| Finding::new(path, 1, "No `mod` leads here. Name it in its parent, or delete it."))
        .collect()
}

/// A rule of the trade that only its tests call is a figure that nobody sees.
fn every_rule_has_a_user(tree: &Tree) -> Vec<Finding> {
    let mut used: BTreeMap<&str, usize> = BTreeMap::new();
    // Where names are passed on, they are not used.
    let passes_on = |path: &str| path.ends_with("/lib.rs") || path.ends_with("/mod.rs");
    for (_, _, code) in tree.shipped().filter(|(path, _, code)| !passes_on(path) || code.contains('(')) {
        for (_, word) in words(code) {
            *used.entry(word).or_default() += 1;
        }
    }
    let mut found = Vec::new();
    let rules = tree.sources.iter().filter(|(path, _)| path.starts_with("src-tauri/crates/trade/src/"));
    for (path, source) in rules {
        // An operator is asked for by its sign, so that only what is public by its own word is looked at.
        let lines: Vec<&str> = source.code.lines().collect();
        let public = |line: usize| !source.is_test(line) && lines[line - 1].trim_start().starts_with("pub ");
        let shipped = source.functions.iter().filter(|function| public(function.first));
        let unused = shipped.filter(|function| used.get(function.name.as_str()) == Some(&1));
        found.extend(unused.map(|function| {
            let says =
                format!("Nothing that is shipped asks `{}`. Give it a user, or take it out.", function.name);
            Finding::new(path, function.first, says)
        }));
    }
    found
}

/// A crate says first of all what it is for.
fn roots_say_what_they_are_for(tree: &Tree) -> Vec<Finding> {
    let silent = Manifest::all_roots(tree).into_iter().filter(|root| {
        tree.texts.get(root).is_some_and(|text| !text.starts_with("//!")) && tree.sources.contains_key(root)
    });
    silent
        .map(|root| {
            Finding::new(&root, 1, "Begin with `//!`: what this crate is for, and what it must never do.")
        })
        .collect()
}

#[test]
fn no_file_is_dead() {
    kept(no_dead_file);
}

#[test]
fn no_rule_of_the_trade_is_called_by_its_tests_alone() {
    kept(every_rule_has_a_user);
}

#[test]
fn a_rule_without_a_user_is_found() {
    let rules = "pub fn used() {}\npub fn unused() {}\n#[test]\nfn t() { unused() }\n";
    let files = [
        ("src-tauri/crates/trade/src/lib.rs", "mod a;\npub use a::{unused, used};\n"),
        ("src-tauri/crates/trade/src/a.rs", rules),
        ("src-tauri/crates/office/src/b.rs", "fn f() { trade::used() }\nfn g() {}\n"),
        ("src-tauri/crates/trade/tests/c.rs", "fn f() { trade::unused() }\n"),
    ];
    assert_eq!(fires(every_rule_has_a_user, &files), ["src-tauri/crates/trade/src/a.rs:2"]);
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

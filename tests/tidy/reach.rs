//! No dead file: what no module names is compiled by nobody, and rots unseen.

use std::collections::BTreeSet;

use crate::checkout::{fires, kept};
use crate::manifest::Manifest;
use crate::modules::modules;
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

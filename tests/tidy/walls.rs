//! The walls of the house: which crate may know which, and what only one of them may touch.

use crate::checkout::{fires, kept};
use crate::manifest::Manifest;
use crate::source::words;
use crate::tree::{Finding, Tree};

/// Each crate, and those of ours that it may depend on. A face knows the desk and what is done at it, and nothing
/// behind them.
const MAY_KNOW: &[(&str, &[&str])] = &[
    ("trade", &[]),
    ("ledger", &["trade"]),
    ("paperwork", &["trade"]),
    ("desk", &["trade", "ledger"]),
    ("intake", &["trade", "ledger", "desk"]),
    ("office", &["trade", "ledger", "paperwork", "desk"]),
    ("exchange", &["trade", "ledger", "desk"]),
    ("tearoff", &["desk", "intake", "office", "exchange"]),
    ("tearoff-desktop", &["desk", "intake", "office", "exchange"]),
    ("xtask", &[]),
    ("acceptance", &["trade", "ledger", "paperwork", "desk", "intake", "office", "exchange"]),
];

/// The beginning of a package's name, and the crates that may ship it. Tests may open a file with SQL to see what
/// is really in it, and the bench measures against raw SQLite
/// and against PostgreSQL.
const ONLY_FOR: &[(&str, &[&str])] = &[
    ("rusqlite", &["ledger", "acceptance"]),
    ("libsqlite3-sys", &["ledger", "acceptance"]),
    ("tauri", &["tearoff-desktop"]),
    ("opendal", &["exchange"]),
    ("age", &["exchange"]),
    ("postgres", &["exchange", "acceptance"]),
];

/// What pure arithmetic has no use for.
const IMPURE: &[&str] = &[
    "std::fs",
    "std::io",
    "std::env",
    "std::net",
    "std::process",
    "std::thread",
    "std::time",
    "SystemTime",
    "Instant",
    "now",
    "async",
    "static mut",
];

/// How SQL begins, with the word that follows it, so that a sentence in capitals is not taken for it.
const SQL: &[&str] = &[
    "SELECT ",
    "INSERT INTO ",
    "INSERT OR ",
    "REPLACE INTO ",
    "DELETE FROM ",
    "CREATE TABLE ",
    "CREATE INDEX ",
    "CREATE TRIGGER ",
    "CREATE VIEW ",
    "ALTER TABLE ",
    "DROP TABLE ",
    "PRAGMA ",
    "BEGIN IMMEDIATE",
    "VACUUM INTO",
    "ATTACH DATABASE ",
];

/// A crate depends only on those it may know.
fn depend_inwards(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for manifest in Manifest::all(tree) {
        let Some((_, known)) = MAY_KNOW.iter().find(|(name, _)| *name == manifest.name) else {
            let says =
                format!("`{}` is a new crate. Say in tests/tidy/walls.rs whom it may know.", manifest.name);
            found.push(Finding::new(&manifest.path, 1, says));
            continue;
        };
        for dependency in manifest.dependencies() {
            let name = dependency.name.as_str();
            if MAY_KNOW.iter().any(|(ours, _)| *ours == name) && !known.contains(&name) {
                let says =
                    format!("`{}` may not know `{name}`. Ask through the crate between them.", manifest.name);
                found.push(Finding::new(&manifest.path, manifest.line_of(tree, name), says));
            }
            let reserved = ONLY_FOR.iter().find(|(start, _)| name.starts_with(start));
            if reserved
                .is_some_and(|(_, crates)| !dependency.for_tests && !crates.contains(&manifest.name.as_str()))
            {
                let says = format!("`{name}` is not for `{}`. Ask the crate that has it.", manifest.name);
                found.push(Finding::new(&manifest.path, manifest.line_of(tree, name), says));
            }
        }
    }
    found
}

/// Every crate takes the one lint table.
fn one_lint_table(tree: &Tree) -> Vec<Finding> {
    let manifests = Manifest::all(tree).into_iter().filter(|manifest| !manifest.has_house_lints());
    manifests
        .map(|manifest| Finding::new(&manifest.path, 1, "Add `[lints]` with `workspace = true`."))
        .collect()
}

/// Speaks to a server that keeps parcels and no fact: its SQL is of that server's one table.
const OF_A_STORE: &str = "src-tauri/crates/exchange/src/rows.rs";

/// Only the ledger sees SQL.
fn sql_in_the_ledger_only(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, source) in tree
        .sources
        .iter()
        .filter(|(path, _)| !path.starts_with("src-tauri/crates/ledger/") && *path != OF_A_STORE)
    {
        for literal in source.literals.iter().filter(|literal| !source.is_test(literal.line)) {
            if let Some(start) = SQL.iter().find(|start| literal.text.contains(*start)) {
                let says =
                    format!("`{}` is SQL. Give the ledger a function for it and call that.", start.trim());
                found.push(Finding::new(path, literal.line, says));
            }
        }
    }
    for (path, text) in tree.texts.iter().filter(|(path, _)| path.starts_with("ui/src/")) {
        for (index, _) in
            text.lines().enumerate().filter(|(_, line)| SQL.iter().any(|start| line.contains(start)))
        {
            found.push(Finding::new(
                path,
                index + 1,
                "The page knows no SQL. Ask the office through a command.",
            ));
        }
    }
    found
}

/// The web view's crate is named in the shell only, and SQLite's in the ledger only.
fn engines_in_their_rooms(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, line, code, test) in tree.lines() {
        // The bench holds the shell against an empty window, which is a shell too.
        let in_shell = ["src-tauri/src/", "src-tauri/bench/"].iter().any(|folder| path.starts_with(folder))
            || path == "src-tauri/build.rs";
        let in_ledger = path.starts_with("src-tauri/crates/ledger/");
        for (_, word) in words(code) {
            if !in_shell && (word == "tauri" || word.starts_with("tauri_")) {
                found.push(Finding::new(
                    path,
                    line,
                    "Only src-tauri/src sees Tauri. Keep this to plain values.",
                ));
            }
            if !in_ledger && !test && word.starts_with("rusqlite") {
                found.push(Finding::new(
                    path,
                    line,
                    "Only the ledger sees SQLite. Give it a function and call that.",
                ));
            }
        }
    }
    found
}

/// The trade's arithmetic reads no clock, no file and no surroundings: it is given what it needs.
fn trade_is_pure(tree: &Tree) -> Vec<Finding> {
    let ours = tree.shipped().filter(|(path, _, _)| path.starts_with("src-tauri/crates/trade/"));
    ours.filter_map(|(path, line, code)| {
        let impure = IMPURE.iter().find(|impure| has_words(code, impure))?;
        Some(Finding::new(
            path,
            line,
            format!("`{impure}` is not for pure arithmetic. Take the value as an argument."),
        ))
    })
    .collect()
}

/// Whether the line has the phrase with no letter right before or after it.
fn has_words(code: &str, phrase: &str) -> bool {
    let is_word = |letter: char| letter.is_alphanumeric() || letter == '_';
    code.match_indices(phrase)
        .any(|(at, _)| !code[..at].ends_with(is_word) && !code[at + phrase.len()..].starts_with(is_word))
}

#[test]
fn crates_know_only_those_they_may() {
    kept(depend_inwards);
}

#[test]
fn every_crate_has_the_lints_of_the_house() {
    kept(one_lint_table);
}

#[test]
fn there_is_no_sql_outside_the_ledger() {
    kept(sql_in_the_ledger_only);
}

#[test]
fn engines_stay_in_their_rooms() {
    kept(engines_in_their_rooms);
}

#[test]
fn the_arithmetic_is_pure() {
    kept(trade_is_pure);
}

#[test]
fn a_hole_in_a_wall_is_found() {
    let package = |name: &str, rest: &str| format!("[package]\nname = \"{name}\"\n{rest}");
    let files = [
        ("a/Cargo.toml", package("trade", "[dev-dependencies]\nledger.workspace = true\n")),
        (
            "b/Cargo.toml",
            package("tearoff", "[dependencies]\noffice.workspace = true\nledger.workspace = true\n"),
        ),
        (
            "c/Cargo.toml",
            package("office", "[dependencies]\nrusqlite = \"1\"\n[dev-dependencies]\nrusqlite = \"1\"\n"),
        ),
        ("d/Cargo.toml", package("xtask", "[dependencies]\ntauri-build = \"1\"\n")),
        ("e/Cargo.toml", package("shed", "")),
        ("f/Cargo.toml", package("ledger", "[dependencies]\ntrade.workspace = true\nrusqlite = \"1\"\n")),
    ];
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
    let expected = ["a/Cargo.toml:4", "b/Cargo.toml:5", "c/Cargo.toml:4", "d/Cargo.toml:4", "e/Cargo.toml:1"];
    assert_eq!(fires(depend_inwards, &files), expected);
    assert_eq!(fires(one_lint_table, &files[..1]), ["a/Cargo.toml:1"]);
    assert!(
        fires(one_lint_table, &[("a/Cargo.toml", "[package]\nname = \"a\"\n[lints]\nworkspace = true\n")])
            .is_empty()
    );
}

#[test]
fn sql_is_found_in_strings_but_not_in_comments_tests_or_the_ledger() {
    let sql = "// SELECT it\nfn f() {\n    g(\"SELECT cents FROM bill\");\n}\n#[test]\nfn t() { g(\"PRAGMA x\"); }\n";
    let files = [
        ("src-tauri/crates/office/src/a.rs", sql),
        ("src-tauri/crates/ledger/src/a.rs", sql),
        ("tests/a.rs", sql),
        ("ui/src/lib/a.ts", "const q = 'DELETE FROM entry';\n"),
    ];
    assert_eq!(
        fires(sql_in_the_ledger_only, &files),
        ["src-tauri/crates/office/src/a.rs:3", "ui/src/lib/a.ts:1"]
    );
}

#[test]
fn an_engine_outside_its_room_is_found() {
    let files = [
        ("src-tauri/src/main.rs", "use tauri::App;\n"),
        ("src-tauri/crates/office/src/a.rs", "// tauri\nuse tauri_build::X;\nuse rusqlite::Row;\n"),
        ("src-tauri/crates/ledger/src/a.rs", "use rusqlite::Row;\n"),
        ("tests/a.rs", "use rusqlite::Row;\n"),
    ];
    let office = "src-tauri/crates/office/src/a.rs";
    assert_eq!(fires(engines_in_their_rooms, &files), [format!("{office}:2"), format!("{office}:3")]);
}

#[test]
fn a_clock_in_the_arithmetic_is_found() {
    let text = "//! No clock: now is an argument.\nuse std::fs;\nfn due(now_on: Date) {}\nfn f() { Zoned::now(); }\n";
    let files = [("src-tauri/crates/trade/src/a.rs", text), ("src-tauri/crates/ledger/src/a.rs", text)];
    let trade = "src-tauri/crates/trade/src/a.rs";
    assert_eq!(fires(trade_is_pure, &files), [format!("{trade}:2"), format!("{trade}:4")]);
}

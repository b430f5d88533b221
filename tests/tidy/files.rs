//! What lies where: the top of the checkout, the migrations, and what no file of ours may say.

use std::collections::BTreeSet;

use crate::checkout::{fires, kept};
use crate::tree::{Finding, Tree};

/// What may lie at the top of the checkout.
const TOP: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "migrations",
    "sample-data",
    "src-tauri",
    "tests",
    "ui",
    ".cargo",
    ".ci",
    ".clippy.toml",
    ".deny.toml",
    ".gitattributes",
    ".gitignore",
    ".rustfmt.toml",
];

/// Folders of one machine. The slash is written apart, so that this list is not its own first finding.
const MACHINE: &[&str] = &["work", "root", "tmp", "farm", "home"];

/// Hosts of package registries: where a package comes from is each machine's own setting.
const REGISTRIES: &[&str] = &[
    concat!("crates", ".io"),
    concat!("pypi", ".org"),
    concat!("pythonhosted", ".org"),
    concat!("npmjs", ".org"),
    concat!("npmjs", ".com"),
    concat!("deb.debian", ".org"),
];

/// Lock files are written by tools, which put their hosts in.
const LOCKS: &[&str] = &["Cargo.lock", "ui/package-lock.json"];

/// Only what the map names lies at the top.
fn known_top(tree: &Tree) -> Vec<Finding> {
    let tops: BTreeSet<&str> = tree.paths.iter().filter_map(|path| path.split('/').next()).collect();
    let unknown = tops.into_iter().filter(|top| !TOP.contains(top));
    unknown
        .map(|top| Finding::new(top, 1, "Not on the map. Put it into one of the rooms, or leave it out."))
        .collect()
}

/// No path of one machine and no registry's host.
fn no_place_of_one_machine(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, text) in tree.texts.iter().filter(|(path, _)| !LOCKS.contains(&path.as_str())) {
        for (index, line) in text.lines().enumerate() {
            if let Some(folder) = MACHINE.iter().find(|folder| has_path(line, folder)) {
                let says = format!(
                    "A path under /{folder} is one machine's. Use a temporary folder or a relative path."
                );
                found.push(Finding::new(path, index + 1, says));
            }
            if let Some(host) = REGISTRIES.iter().find(|host| line.contains(*host)) {
                found.push(Finding::new(
                    path,
                    index + 1,
                    format!("`{host}` is a registry's host. Name the package only."),
                ));
            }
        }
    }
    found
}

/// Whether the line has the folder as the beginning of an absolute path: `a/tmp` and `/tmpfs` are none.
fn has_path(line: &str, folder: &str) -> bool {
    let goes_on = |letter: char| letter.is_alphanumeric() || "_-.".contains(letter);
    let leads_here = |letter: char| goes_on(letter) || "/}*~)".contains(letter);
    line.match_indices(folder).any(|(at, _)| {
        let before = line[..at].strip_suffix('/');
        before.is_some_and(|before| !before.ends_with(leads_here))
            && !line[at + folder.len()..].starts_with(goes_on)
    })
}

/// What a document at the top points to by a relative path is there: a picture, another document.
fn links_lead_somewhere(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, text) in tree.texts.iter().filter(|(path, _)| path.ends_with(".md") && !path.contains('/')) {
        for (index, line) in text.lines().enumerate() {
            let links = ["](", "src=\""].into_iter().flat_map(|mark| line.split(mark).skip(1));
            for link in links.filter_map(|rest| rest.split([')', '"', '#']).next()) {
                let elsewhere = link.is_empty() || link.contains("://");
                if !elsewhere && !tree.paths.iter().any(|path| path == link) {
                    found.push(Finding::new(
                        path,
                        index + 1,
                        format!("There is no `{link}`. Correct the link."),
                    ));
                }
            }
        }
    }
    found
}

/// Lines end in LF alone. A CSV may be there to show that CRLF is read.
fn no_crlf(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, text) in tree.texts.iter().filter(|(path, _)| !path.ends_with(".csv")) {
        // `lines` would take the CR away with the LF.
        if let Some(index) = text.split('\n').position(|line| line.ends_with('\r')) {
            found.push(Finding::new(path, index + 1, "The line ends in CRLF. Save the file with LF alone."));
        }
    }
    found
}

/// Migrations are numbered from 1 without a gap, and the ledger takes each once, in that order.
fn migrations_in_order(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    let names: Vec<&str> = tree.paths.iter().filter_map(|path| path.strip_prefix("migrations/")).collect();
    let mut listed: Vec<&str> = Vec::new();
    for (path, source) in
        tree.sources.iter().filter(|(path, _)| path.starts_with("src-tauri/crates/ledger/src/"))
    {
        for literal in source.literals.iter().filter(|literal| !source.is_test(literal.line)) {
            let Some((_, name)) = literal.text.rsplit_once("migrations/") else { continue };
            // The same file may be read elsewhere, to learn the tables from; only the list takes it as a step.
            if !source.code[..literal.at].ends_with("M::up(include_str!(") {
                continue;
            }
            if listed.last().is_some_and(|last| *last >= name) {
                found.push(Finding::new(
                    path,
                    literal.line,
                    format!("{name} comes too late. List each once, in order."),
                ));
            }
            listed.push(name);
        }
    }
    for (index, name) in names.iter().enumerate() {
        let path = format!("migrations/{name}");
        let start = format!("{:04}_", index + 1);
        if !name.starts_with(&start) || !name.ends_with(".sql") {
            found.push(Finding::new(
                &path,
                1,
                format!("The name should begin with {start} and end with .sql."),
            ));
        }
        if !listed.contains(name) {
            found.push(Finding::new(
                &path,
                1,
                "The ledger does not take it. Add `M::up(include_str!(…))` to its list.",
            ));
        }
    }
    found
}

#[test]
fn only_known_things_lie_at_the_top() {
    kept(known_top);
}

#[test]
fn no_file_names_a_place_of_one_machine() {
    kept(no_place_of_one_machine);
}

#[test]
fn every_link_of_the_documents_leads_somewhere() {
    kept(links_lead_somewhere);
}

#[test]
fn lines_end_in_lf_alone() {
    kept(no_crlf);
}

#[test]
fn the_ledger_takes_every_migration_once_and_in_order() {
    kept(migrations_in_order);
}

#[test]
fn a_stranger_at_the_top_is_found() {
    assert_eq!(
        fires(known_top, &[("notes/a.md", ""), ("README.md", ""), ("tests/notes/a.md", "")]),
        ["notes:1"]
    );
}

#[test]
fn a_place_of_one_machine_is_found() {
    let places = [
        concat!("x = \"/", "tmp/x\""),
        concat!("cd /", "root"),
        concat!("see https://static.crates", ".io/x"),
    ];
    let fine = concat!(
        "target/",
        "tmp/x\npaper",
        "work/src\n/",
        "tmpfs\nsrc/",
        "work/a\n${TOP}/",
        "work\n/",
        "working\n"
    );
    let text = format!("{fine}{}\n", places.join("\n"));
    let files = [("a.md", text.as_str()), ("Cargo.lock", text.as_str())];
    assert_eq!(fires(no_place_of_one_machine, &files), ["a.md:7", "a.md:8", "a.md:9"]);
}

#[test]
fn a_link_to_nothing_is_found() {
    let text = "![a](ui/a.png) [b](B.md#c) [d](#e)\n\
        <img src=\"ui/f.png\" width=\"4\">\n[g](https://example.invalid/)\n";
    let files = [("README.md", text), ("ui/a.png", ""), ("tests/a.md", "[x](y)")];
    assert_eq!(fires(links_lead_somewhere, &files), ["README.md:1", "README.md:2"]);
}

#[test]
fn a_crlf_is_found_outside_a_csv() {
    assert_eq!(fires(no_crlf, &[("a.md", "a\nb\r\nc\n"), ("b.csv", "a\r\n"), ("c.md", "a\n")]), ["a.md:2"]);
}

#[test]
fn a_gap_a_stray_and_a_late_migration_are_found() {
    let open = "src-tauri/crates/ledger/src/open.rs";
    let step = |call: &str| format!("const _: M = {call};\n");
    let takes = |names: &[&str]| -> String {
        names.iter().map(|name| step(&format!("M::up(include_str!(\"../migrations/{name}\"))"))).collect()
    };
    let both = takes(&["0001_a.sql", "0002_b.sql"]);
    let rule = |files: &[(&str, &str)]| fires(migrations_in_order, files);
    assert!(rule(&[("migrations/0001_a.sql", ""), ("migrations/0002_b.sql", ""), (open, &both)]).is_empty());
    let read_only = format!("{both}{}", step("read(include_str!(\"../migrations/0001_a.sql\"))"));
    assert!(
        rule(&[("migrations/0001_a.sql", ""), ("migrations/0002_b.sql", ""), (open, &read_only)]).is_empty()
    );
    let gap = takes(&["0001_a.sql", "0003_b.sql"]);
    let found = rule(&[("migrations/0001_a.sql", ""), ("migrations/0003_b.sql", ""), (open, &gap)]);
    assert_eq!(found, ["migrations/0003_b.sql:1"]);
    let found = rule(&[
        ("migrations/0001_a.sql", ""),
        ("migrations/0002_b.sql", ""),
        (open, &takes(&["0001_a.sql"])),
    ]);
    assert_eq!(found, ["migrations/0002_b.sql:1"]);
    let late = takes(&["0002_b.sql", "0001_a.sql", "0001_a.sql"]);
    let found = rule(&[("migrations/0001_a.sql", ""), ("migrations/0002_b.sql", ""), (open, &late)]);
    assert_eq!(found, [format!("{open}:2"), format!("{open}:3")]);
}

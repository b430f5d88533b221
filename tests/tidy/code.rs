//! What the code that is shipped must not hold: floats near money, ways to fall over, work left undone.

use crate::checkout::{fires, kept};
use crate::source::words;
use crate::tree::{Finding, Tree};

/// The crates that an amount of money passes through.
const MONEY: &[&str] = &["trade", "ledger", "desk", "intake", "office", "paperwork", "cli"];

/// Files of geometry or statistics that may use floats, because what they work out is measured or guessed and never
/// an amount.
const MAY_FLOAT: &[&str] = &[];

/// What ends the program instead of saying what is wrong.
const FALLS_OVER: &[&str] =
    &[".unwrap()", ".expect(", ".unwrap_err()", ".expect_err(", "panic!(", "unreachable!("];

/// Work left undone.
const UNDONE: &[&str] = &["todo!(", "unimplemented!(", "dbg!(", "#[ignore"];

/// Money is never a float, in Rust or in SQL.
fn no_floats(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    let near_money = |path: &str| {
        let room = path.strip_prefix("src-tauri/crates/").and_then(|rest| rest.split('/').next());
        room.is_some_and(|room| MONEY.contains(&room)) && !MAY_FLOAT.contains(&path)
    };
    for (path, line, code) in tree.shipped().filter(|(path, _, _)| near_money(path)) {
        if words(code).any(|(_, word)| word == "f32" || word == "f64") || has_float_literal(code) {
            found.push(Finding::new(
                path,
                line,
                "A float near money. Use an exact decimal, or whole minor units.",
            ));
        }
    }
    for (path, text) in tree.texts.iter().filter(|(path, _)| path.ends_with(".sql")) {
        for (index, line) in text.lines().enumerate() {
            let sql = line.split("--").next().unwrap_or_default().to_uppercase();
            // A word between quotes is a value that may stand in a column, not the column's type.
            let sql: String = sql.split('\'').step_by(2).collect::<Vec<_>>().join(" ");
            if words(&sql).any(|(_, word)| matches!(word, "REAL" | "FLOAT" | "DOUBLE")) {
                found.push(Finding::new(
                    path,
                    index + 1,
                    "A float column. Keep whole minor units in an INTEGER.",
                ));
            }
        }
    }
    found
}

/// Whether the line has a number such as `1.5`. A field of a field, `pair.0.1`, is none.
fn has_float_literal(code: &str) -> bool {
    words(code).any(|(at, word)| {
        let starts_number =
            word.starts_with(|letter: char| letter.is_ascii_digit()) && !code[..at].ends_with('.');
        let after = code[at + word.len()..].strip_prefix('.');
        starts_number && after.is_some_and(|after| after.starts_with(|letter: char| letter.is_ascii_digit()))
    })
}

/// A program that keeps a firm's books does not fall over: it says what is wrong.
fn no_falling_over(tree: &Tree) -> Vec<Finding> {
    let shipped = tree.shipped().filter_map(|(path, line, code)| {
        let call = FALLS_OVER.iter().find(|call| code.contains(*call))?;
        Some(Finding::new(
            path,
            line,
            format!("`{call}` ends the program. Return an error that says what to do next."),
        ))
    });
    shipped.collect()
}

/// No stub, no test that is left out.
fn nothing_undone(tree: &Tree) -> Vec<Finding> {
    let lines = tree.lines().filter_map(|(path, line, code, _)| {
        let undone = UNDONE.iter().find(|undone| code.contains(*undone))?;
        Some(Finding::new(path, line, format!("`{undone}` is work left undone. Do it, or take it out.")))
    });
    lines.collect()
}

/// A question about facts begins with them: left to itself, SQLite walks the whole spine where an order by device is
/// asked for, which on a large ledger takes half a second.
fn no_walk_along_the_spine(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, text) in tree.texts.iter().filter(|(path, _)| path.contains("/src/") && path.ends_with(".rs"))
    {
        for (index, line) in text.lines().enumerate() {
            let joins = line.match_indices("JOIN entry").map(|(at, _)| line[..at].trim_end());
            if joins.into_iter().any(|before| !before.ends_with("CROSS") && !before.ends_with("LEFT")) {
                found.push(Finding::new(path, index + 1, "Join the spine with CROSS JOIN, after the facts."));
            }
        }
    }
    found
}

#[test]
fn no_question_walks_along_the_spine() {
    kept(no_walk_along_the_spine);
}

#[test]
fn a_plain_join_of_the_spine_is_found() {
    let text = "fn f() {\n    g(\"a CROSS JOIN entry e\");\n    g(\"a LEFT JOIN entry e\");\n    \
                g(\"a JOIN entry e\");\n}\n";
    let files = [("a/src/a.rs", text), ("a/tests/b.rs", text)];
    assert_eq!(fires(no_walk_along_the_spine, &files), ["a/src/a.rs:4"]);
}

#[test]
fn money_is_never_a_float() {
    kept(no_floats);
}

#[test]
fn nothing_shipped_falls_over() {
    kept(no_falling_over);
}

#[test]
fn nothing_is_left_undone() {
    kept(nothing_undone);
}

#[test]
fn every_file_that_may_float_is_there() {
    let missing: Vec<&&str> =
        MAY_FLOAT.iter().filter(|path| !crate::checkout::CHECKOUT.sources.contains_key(**path)).collect();
    assert!(missing.is_empty(), "take out of MAY_FLOAT: {missing:?}");
}

#[test]
fn a_float_near_money_is_found() {
    let text = "// f64\nfn f(x: f64) {}\nfn g() { h(0.5) }\nfn i() { j.0.1 + k[1..2] + \"1.5\" }\n\
                #[cfg(test)]\nmod tests {\n    fn t(x: f32) {}\n}\n";
    let files = [
        ("src-tauri/crates/trade/src/a.rs", text),
        ("src-tauri/crates/xtask/src/a.rs", text),
        ("migrations/1.sql", "-- not REAL\nCREATE TABLE t (a INTEGER,\n b real) STRICT;\n"),
        ("migrations/2.sql", "w TEXT CHECK (w IN ('double')),\n"),
    ];
    let trade = "src-tauri/crates/trade/src/a.rs";
    assert_eq!(
        fires(no_floats, &files),
        [format!("{trade}:2"), format!("{trade}:3"), "migrations/1.sql:3".to_owned()]
    );
}

#[test]
fn a_fall_is_found_in_shipped_code_only() {
    let text = "fn f() {\n    x.unwrap();\n    y.unwrap_or(0);\n    z\n        .expect(\"why\");\n}\n// panic!(\n\
                #[test]\nfn t() { x.unwrap(); }\n";
    assert_eq!(
        fires(no_falling_over, &[("a/src/a.rs", text), ("a/tests/b.rs", text)]),
        ["a/src/a.rs:2", "a/src/a.rs:5"]
    );
}

#[test]
fn undone_work_is_found_in_tests_too() {
    let text = "#[test]\n#[ignore = \"slow\"]\nfn t() {}\nfn f() { todo!() }\n";
    assert_eq!(fires(nothing_undone, &[("a/tests/b.rs", text)]), ["a/tests/b.rs:2", "a/tests/b.rs:4"]);
}

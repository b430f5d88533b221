//! How long a line, a function and a file may get before a reader loses the thread.

use crate::checkout::{fires, kept};
use crate::tree::{Finding, Tree};

/// Characters in a line.
const LINE: usize = 120;
/// Lines in a function, its signature and braces included.
const FUNCTION: usize = 100;
/// Lines in a file.
const FILE: usize = 800;

/// What a person writes and reads. Types for the page that were written by a program are neither.
fn is_written_by_hand(path: &str, endings: &[&str]) -> bool {
    endings.iter().any(|ending| path.ends_with(ending)) && !path.starts_with("ui/src/lib/bindings/")
}

/// No line runs out of the window.
fn no_long_line(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    let endings = [".rs", ".ts", ".svelte", ".css", ".sql"];
    for (path, text) in tree.texts.iter().filter(|(path, _)| is_written_by_hand(path, &endings)) {
        for (index, line) in text.lines().enumerate() {
            let length = line.chars().count();
            if length > LINE {
                found.push(Finding::new(
                    path,
                    index + 1,
                    format!("{length} characters, {LINE} at most. Break the line."),
                ));
            }
        }
    }
    found
}

/// No function needs scrolling twice.
fn no_long_function(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, source) in &tree.sources {
        for function in &source.functions {
            let length = function.last - function.first + 1;
            if length > FUNCTION {
                let says = format!(
                    "`{}` has {length} lines, {FUNCTION} at most. Give its parts names of their own.",
                    function.name
                );
                found.push(Finding::new(path, function.first, says));
            }
        }
    }
    found
}

/// No file holds more than one thing.
fn no_long_file(tree: &Tree) -> Vec<Finding> {
    let files = tree.texts.iter().filter(|(path, _)| is_written_by_hand(path, &[".rs", ".ts", ".svelte"]));
    let long = files.map(|(path, text)| (path, text.lines().count())).filter(|(_, lines)| *lines > FILE);
    long.map(|(path, lines)| {
        Finding::new(path, lines, format!("{lines} lines, {FILE} at most. Split it by noun."))
    })
    .collect()
}

#[test]
fn lines_are_short() {
    kept(no_long_line);
}

#[test]
fn functions_are_short() {
    kept(no_long_function);
}

#[test]
fn files_are_short() {
    kept(no_long_file);
}

#[test]
fn a_long_line_is_found_by_characters_and_not_bytes() {
    let (fits, long) = ("é".repeat(120), "x".repeat(121));
    let text = format!("{fits}\n{long}\n");
    let files =
        [("a.sql", text.as_str()), ("ui/src/lib/bindings/a.ts", text.as_str()), ("a.md", text.as_str())];
    assert_eq!(fires(no_long_line, &files), ["a.sql:2"]);
}

#[test]
fn a_long_function_is_found() {
    let of_lines = |lines: usize| {
        format!("type F = fn(u8);\nfn f(a: [u8; 2]) {{\n{}}}\n", "    g();\n".repeat(lines - 2))
    };
    assert!(fires(no_long_function, &[("a.rs", &of_lines(100))]).is_empty());
    assert_eq!(fires(no_long_function, &[("a.rs", &of_lines(101))]), ["a.rs:2"]);
}

#[test]
fn a_long_file_is_found() {
    let of_lines = |lines: usize| "use x;\n".repeat(lines);
    assert_eq!(fires(no_long_file, &[("a.rs", &of_lines(801)), ("b.rs", &of_lines(800))]), ["a.rs:801"]);
}

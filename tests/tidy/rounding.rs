//! Where figures are rounded and divided: in `trade` alone, each with its source and its test.

use crate::checkout::{fires, kept};
use crate::source::words;
use crate::tree::{Finding, Tree};

/// What is shipped and holds no figure of a firm: measuring tools, how fast a check went, and the tasks of those who
/// build the program.
const NO_FIGURES: &[&str] =
    &["src-tauri/bench/", "src-tauri/crates/ledger/src/verify.rs", "src-tauri/crates/xtask/"];

/// What rounds a decimal, cuts it off, or divides it. A word with brackets takes nothing between them: a calendar's
/// floor asks for a device.
const ROUNDS: &[&str] = &[
    "round()",
    "floor()",
    "ceil()",
    "trunc()",
    "round_dp",
    "round_dp_with_strategy",
    "round_sf",
    "round_sf_with_strategy",
    "rounded",
    "RoundingStrategy",
    "trunc_with_scale",
    "rescale",
    "checked_div",
    "checked_rem",
];

/// A rounding is a rule of the trade, and so is a division: both are somebody's to dispute. Whole numbers that are
/// divided by a number that is written there are no figures.
fn only_trade_rounds(tree: &Tree) -> Vec<Finding> {
    let elsewhere = |path: &str| {
        path.starts_with("src-tauri/")
            && !path.starts_with("src-tauri/crates/trade/")
            && !NO_FIGURES.iter().any(|free| path.starts_with(free))
    };
    let mut found = Vec::new();
    for (path, line, code) in tree.shipped().filter(|(path, _, _)| elsewhere(path)) {
        let called = words(code).find(|(at, word)| {
            let nothing = code[at + word.len()..].starts_with("()");
            let rounds =
                |known: &str| known.strip_suffix("()").map_or(known == *word, |it| it == *word && nothing);
            ROUNDS.iter().any(|known| rounds(known)) && !is_named(&code[..*at])
        });
        let says = match called {
            Some((_, word)) => {
                format!("`{word}` rounds or divides a figure. Give `trade` a function for it.")
            }
            None if divides(code) => "A figure is divided. Give `trade` a function for it.".to_owned(),
            None => continue,
        };
        found.push(Finding::new(path, line, says));
    }
    for (path, source) in tree.sources.iter().filter(|(path, _)| elsewhere(path)) {
        let literals = source.literals.iter().filter(|literal| !source.is_test(literal.line));
        let cut = literals.filter(|literal| cuts_off(&literal.text));
        found.extend(cut.map(|literal| {
            Finding::new(
                path,
                literal.line,
                "The figure is cut off in its text. Let `trade::shown` round it.",
            )
        }));
    }
    found
}

/// Whether what follows is a name that is made here: a function, or a field.
fn is_named(before: &str) -> bool {
    before.ends_with("fn ") || !before.ends_with(['.', ':', ' ', '(', '{'])
}

/// Whether the line divides by anything but a number that is written there.
fn divides(code: &str) -> bool {
    code.match_indices(['/', '%']).any(|(at, _)| {
        let (before, by) = (code[..at].trim_end(), code[at + 1..].trim_start_matches('='));
        // `%name` alone is how a log takes a value.
        let has_two = if before.is_empty() { by.starts_with(' ') } else { !before.ends_with([',', '(']) };
        has_two && !by.trim_start().starts_with(|letter: char| letter.is_ascii_digit())
    })
}

/// Whether a text is to show a figure with so many places: `{share:.1}`.
fn cuts_off(text: &str) -> bool {
    text.split('{').skip(1).any(|inside| {
        let inside = inside.split('}').next().unwrap_or_default();
        let places = inside.split_once(':').and_then(|(_, format)| format.split_once('.'));
        places.is_some_and(|(_, places)| places.starts_with(|letter: char| letter.is_ascii_digit()))
    })
}

#[test]
fn nothing_but_trade_rounds_or_divides_a_figure() {
    kept(only_trade_rounds);
}

#[test]
fn a_rounding_or_a_division_outside_trade_is_found() {
    let text = "use rust_decimal::RoundingStrategy;\n\
                fn f() { x.round_dp(2); }\n\
                fn g() { Money::rounded(a.decimal()) }\n\
                fn h() { a.decimal() / b.decimal() }\n\
                fn i() { a\n    .checked_div(b) }\n\
                fn j() { m!(\"{share:.1} %\", whole % twelve) }\n";
    let office = "src-tauri/crates/office/src/a.rs";
    let found = fires(only_trade_rounds, &[(office, text), ("src-tauri/crates/trade/src/a.rs", text)]);
    assert_eq!(found, [1, 2, 3, 4, 6, 7, 7].map(|line| format!("{office}:{line}")));
}

#[test]
fn whole_numbers_tests_and_words_are_not_taken_for_roundings() {
    let text = "// x.round() / y\n\
                fn rounded() { calendar.floor(device); size / 1024 / 1024; done % 50;\n\
                m!(%error, \"a / b {a:.<9} {b:>3}\") }\n\
                #[test]\nfn t() { x.round_dp(2); }\n";
    let files = [
        ("src-tauri/crates/cli/src/a.rs", text),
        ("src-tauri/bench/b.rs", "fn f() { a.round(); }\n"),
        ("tests/c.rs", "fn f() { a.round(); }\n"),
    ];
    assert!(fires(only_trade_rounds, &files).is_empty());
}

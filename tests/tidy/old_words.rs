//! Words that were given up for the trade's own, and spellings of another country. They come back by habit, and then
//! one thing has two names.

use crate::checkout::{fires, kept};
use crate::tree::{Finding, Tree};

/// A word that was given up, and what is said instead. Of several words each stands by itself; one that ends in `*` is
/// how they begin.
struct GivenUp {
    was: &'static str,
    is: &'static str,
    /// Files that may say it, and why the trade or another program has the word there.
    but: &'static [(&'static str, &'static str)],
}

const fn given_up(was: &'static str, is: &'static str) -> GivenUp {
    GivenUp { was, is, but: &[] }
}

const GIVEN_UP: &[GivenUp] = &[
    GivenUp {
        was: "promise*",
        is: "contract",
        but: &[
            (".ts", "a promise of the language"),
            (".svelte", "a promise of the language"),
            ("tests/window/", "drives the page in its own language"),
            ("tests/bench/window/", "drives the page in its own language"),
        ],
    },
    given_up("surprise*", "hidden condition, or change"),
    given_up("spend", "cost"),
    given_up("mend*", "repair"),
    given_up("one sum", "lump sum"),
    given_up("put on cost", "markup"),
    GivenUp {
        was: "fall away",
        is: "deduct",
        but: &[("ui/src/lib/roof/guess.ts", "a roof falls away from its ridge")],
    },
    given_up("falls away", "deduct"),
    given_up("a further one", "unit price"),
    given_up("on top of pay", "labor burden"),
    given_up("put to invoice*", "apply"),
    given_up("put to an invoice*", "apply"),
    given_up("put to another invoice*", "apply"),
    given_up("put to the invoice*", "apply"),
    given_up("step of the job", "job status"),
    GivenUp {
        was: "credit note",
        is: "credit memo",
        but: &[("src-tauri/crates/intake/tests/import/kinds.rs", "a note of the import that says credit")],
    },
    given_up("credit notes", "credit memo"),
    given_up("tipping", "haul-off and dump fees"),
    given_up("hire", "rental"),
    given_up("hired", "rental"),
    given_up("strip and re", "tear-off"),
    given_up("strip the old", "tear off the old"),
    given_up("house standard*", "company standard"),
    given_up("house rule*", "company rule"),
    given_up("leak barrier*", "ice barrier, or membrane"),
    given_up("reckon*", "calculate"),
    given_up("kept total*", "stored total"),
    given_up("totals kept", "totals stored"),
    given_up("learned", "history of hidden conditions"),
    given_up("seat", "role, or person"),
    given_up("seats", "people"),
    given_up("untold", "not said"),
];

/// Spellings of another country, each as it begins, with the one used here.
const SPELLINGS: &[(&str, &str)] = &[
    ("labour", "labor"),
    ("colour", "color"),
    ("favour", "favor"),
    ("honour", "honor"),
    ("neighbour", "neighbor"),
    ("storey", "story"),
    ("mould", "mold"),
    ("grey", "gray"),
    ("metre", "meter"),
    ("centre", "center"),
    ("programme", "program"),
    ("cancelled", "canceled"),
    ("cancelling", "canceling"),
    ("travelled", "traveled"),
    ("catalogue", "catalog"),
    ("cheque", "check"),
    ("organis", "organiz"),
    ("recognis", "recogniz"),
    ("judgement", "judgment"),
    ("whilst", "while"),
];

/// What says the words of the law as they are printed there.
const LAW: &[&str] =
    &["src-tauri/crates/paperwork/papers/notices.typ", "src-tauri/crates/paperwork/tests/papers/main.rs"];

/// What no person of ours wrote, and this list.
const NOT_READ: &[&str] = &[
    "tests/tidy/old_words.rs",
    "Cargo.lock",
    "ui/package-lock.json",
    ".deny.toml",
    "LICENSE",
    "OFL.txt",
    "ui/tests/fixtures/",
    "ui/src/lib/bindings/",
];

/// The words of a line in lower case; `find_step`, `find-step` and `FindStep` are two words each.
fn words_of(line: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut before = ' ';
    for letter in line.chars() {
        let begins = !before.is_alphanumeric() || (before.is_lowercase() && letter.is_uppercase());
        if letter.is_alphanumeric() {
            if begins {
                words.push(String::new());
            }
            if let Some(word) = words.last_mut() {
                word.extend(letter.to_lowercase());
            }
        }
        before = letter;
    }
    words
}

fn is_said(words: &[String], phrase: &str) -> bool {
    let wanted: Vec<&str> = phrase.split(' ').collect();
    words.windows(wanted.len()).any(|here| {
        here.iter().zip(&wanted).all(|(word, wanted)| {
            wanted.strip_suffix('*').map_or(word == wanted, |stem| word.starts_with(stem))
        })
    })
}

/// Files may be named by how their path begins or ends.
fn is_of(path: &str, which: &str) -> bool {
    path.starts_with(which) || path.ends_with(which)
}

fn lines(tree: &Tree) -> impl Iterator<Item = (&str, usize, Vec<String>)> {
    let read = tree.texts.iter().filter(|(path, _)| !NOT_READ.iter().any(|which| is_of(path, which)));
    read.flat_map(|(path, text)| {
        text.lines().enumerate().map(move |(index, line)| (path.as_str(), index + 1, words_of(line)))
    })
}

fn no_word_that_was_given_up(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, line, words) in lines(tree) {
        for GivenUp { was, is, but } in GIVEN_UP {
            if is_said(&words, was) && !but.iter().any(|(which, _)| is_of(path, which)) {
                found.push(Finding::new(path, line, format!("“{was}” was given up: say “{is}”.")));
            }
        }
    }
    found
}

fn no_spelling_of_another_country(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (path, line, words) in lines(tree).filter(|(path, _, _)| !LAW.contains(path)) {
        for (there, here) in SPELLINGS {
            if words.iter().any(|word| word.starts_with(there)) {
                found.push(Finding::new(path, line, format!("Write “{here}”, not “{there}”.")));
            }
        }
    }
    found
}

#[test]
fn no_file_says_a_word_that_was_given_up() {
    kept(no_word_that_was_given_up);
}

#[test]
fn every_word_is_spelled_as_in_the_united_states() {
    kept(no_spelling_of_another_country);
}

#[test]
fn a_word_that_was_given_up_is_found_in_every_dress() {
    let files = [
        ("a.sql", "CREATE TABLE credit_note (\n"),
        ("b.rs", "struct CreditNote;\n"),
        ("c.md", "A credit-note. A note on his credit.\n"),
        ("d.svelte", "<p>Two Surprises</p>\n<p>A promise</p>\n"),
        ("e.rs", "// A promise.\n// It is put to\n// An invoice to put to invoices.\n"),
        ("ui/src/lib/roof/guess.ts", "// Both fall away.\n"),
    ];
    assert_eq!(
        fires(no_word_that_was_given_up, &files),
        ["a.sql:1", "b.rs:1", "c.md:1", "d.svelte:1", "e.rs:1", "e.rs:3"]
    );
}

#[test]
fn a_spelling_of_another_country_is_found() {
    let files = [("a.rs", "fn labour_cost() {}\nfn labor_cost() {}\n// Coloured wood.\n")];
    assert_eq!(fires(no_spelling_of_another_country, &files), ["a.rs:1", "a.rs:3"]);
}

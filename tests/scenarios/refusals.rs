//! Which refusals the books know, read from their own source, so that a new one without a scenario is found.

use office::OfficeError;

/// The files in which the books refuse.
const SOURCES: [(&str, &str); 5] = [
    ("rules.rs", include_str!("../../src-tauri/crates/ledger/src/rules.rs")),
    ("rules/roof.rs", include_str!("../../src-tauri/crates/ledger/src/rules/roof.rs")),
    ("rules/law.rs", include_str!("../../src-tauri/crates/ledger/src/rules/law.rs")),
    ("shape.rs", include_str!("../../src-tauri/crates/ledger/src/shape.rs")),
    ("links.rs", include_str!("../../src-tauri/crates/ledger/src/links.rs")),
];

/// A refusal as its source has it: the fixed words of what was wrong and of what to do, in order.
#[derive(Debug, PartialEq, Eq)]
struct Known {
    place: String,
    words: Vec<String>,
}

impl Known {
    fn is_met_by(&self, error: &OfficeError) -> bool {
        let told = error.to_string();
        let mut rest = told.as_str();
        self.words.iter().all(|word| match rest.find(word.as_str()) {
            Some(at) => {
                rest = &rest[at + word.len()..];
                true
            }
            None => false,
        })
    }
}

/// The refusals that none of these errors is.
pub(crate) fn never_met(met: &[&OfficeError]) -> Vec<String> {
    let known = SOURCES.iter().flat_map(|(file, text)| known(file, text));
    let never = known.filter(|known| !met.iter().any(|error| known.is_met_by(error)));
    never.map(|known| format!("{}: {}", known.place, known.words.join(" … "))).collect()
}

fn known(file: &str, text: &str) -> Vec<Known> {
    let calls = text.match_indices("refuse(").filter(|(at, _)| !text[..*at].ends_with("fn "));
    calls
        .map(|(at, call)| {
            let literals = literals(&text[at + call.len()..]);
            // The field comes first and need not be a literal; what was wrong and what to do come last.
            let told = literals.len().saturating_sub(2);
            let words = literals[told..].iter().flat_map(|literal| fixed_words(literal)).collect();
            Known { place: format!("{file}:{}", text[..at].matches('\n').count() + 1), words }
        })
        .collect()
}

/// The text literals up to the parenthesis that ends the call.
fn literals(call: &str) -> Vec<String> {
    let mut found = Vec::new();
    let (mut depth, mut current, mut escaped) = (1, None::<String>, false);
    for letter in call.chars() {
        match &mut current {
            Some(text) if escaped => {
                text.push(letter);
                escaped = false;
            }
            Some(_) if letter == '\\' => escaped = true,
            Some(_) if letter == '"' => found.extend(current.take()),
            Some(text) => text.push(letter),
            None => match letter {
                '"' => current = Some(String::new()),
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            },
        }
        if depth == 0 {
            break;
        }
    }
    found
}

/// What of a format is always the same.
fn fixed_words(format: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut rest = format;
    while let Some((before, after)) = rest.split_once('{') {
        words.push(before.to_owned());
        rest = after.split_once('}').map_or("", |(_, behind)| behind);
    }
    words.push(rest.to_owned());
    words.retain(|word| !word.trim().is_empty());
    words
}

#[test]
fn refusals_are_read_from_a_source() {
    let source = concat!(
        "fn refuse(x) {}\n",
        "return refuse(\n  \"due\",\n  format!(\"{} is before {}\", a(b), c),\n  \"Check (both)\",\n);"
    );
    let known = known("a.rs", source);
    assert_eq!(known.len(), 1);
    assert_eq!(
        known[0],
        Known {
            place: "a.rs:2".to_owned(),
            words: vec![" is before ".to_owned(), "Check (both)".to_owned()]
        }
    );
    let error = |message: &str| OfficeError::refused("due", message, "Check (both)");
    assert!(known[0].is_met_by(&error("5 is before 6")) && !known[0].is_met_by(&error("5 is after 6")));
}

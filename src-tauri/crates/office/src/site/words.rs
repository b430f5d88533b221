//! What the crew's own pages and papers say in Spanish: one catalog, by the English words. The page looks its words up
//! in it as well, from what [`words`] writes.
//!
//! Nobody who lays roofs in Spanish has read it yet. Words of the trade and what can hurt stand in both languages, so
//! that a crew can say what it calls them; a correction is a change of `spanish.json` and of nothing else.

use ledger::closed_lists::Language;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::LazyLock;

/// By the English words; `{name}` stands for what is filled in.
static SPANISH: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    // A file of the program's own: were it no catalog, a test would say so, and the words would stay English.
    serde_json::from_str(include_str!("spanish.json")).unwrap_or_default()
});

/// The sentences in which something is filled in, those with the most words of their own first: what says more fits
/// less.
static SENTENCES: LazyLock<Vec<(Vec<Piece<'static>>, &'static str)>> = LazyLock::new(|| {
    let patterns = SPANISH.iter().map(|(english, spanish)| (pieces(english), spanish.as_str()));
    let mut patterns: Vec<_> =
        patterns.filter(|(pieces, _)| pieces.iter().any(|piece| matches!(piece, Piece::Filled(_)))).collect();
    let own = |pieces: &[Piece<'_>]| -> usize {
        pieces.iter().map(|piece| if let Piece::Words(words) = piece { words.len() } else { 0 }).sum()
    };
    patterns.sort_by_key(|(pieces, _)| std::cmp::Reverse(own(pieces)));
    patterns
});

/// A piece of a sentence: words, or the name of what is filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Piece<'a> {
    Words(&'a str),
    Filled(&'a str),
}

fn pieces(sentence: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut rest = sentence;
    while let Some((before, (name, after))) =
        rest.split_once('{').and_then(|(before, rest)| Some((before, rest.split_once('}')?)))
    {
        if !before.is_empty() {
            pieces.push(Piece::Words(before));
        }
        pieces.push(Piece::Filled(name));
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Words(rest));
    }
    pieces
}

/// What is filled in where a text is such a sentence: by name, each as short as it can be.
fn fits<'t>(pieces: &[Piece<'static>], text: &'t str) -> Option<Vec<(&'static str, &'t str)>> {
    match pieces {
        [] => text.is_empty().then(Vec::new),
        [Piece::Words(words), rest @ ..] => fits(rest, text.strip_prefix(words)?),
        [Piece::Filled(name), rest @ ..] => {
            let ends = text.char_indices().map(|(at, letter)| at + letter.len_utf8());
            ends.into_iter().find_map(|end| {
                let mut filled = fits(rest, &text[end..])?;
                filled.insert(0, (name, &text[..end]));
                Some(filled)
            })
        }
    }
}

/// A text of the program in Spanish, where the catalog has it: what is filled in is looked up, too.
fn in_spanish(english: &str) -> Option<String> {
    if let Some(whole) = SPANISH.get(english) {
        return Some(whole.clone());
    }
    SENTENCES.iter().find_map(|(pattern, spanish)| {
        let filled = fits(pattern, english)?;
        let say = |piece: Piece<'_>| match piece {
            Piece::Words(words) => words.to_owned(),
            Piece::Filled(name) => {
                let said = filled.iter().find(|(given, _)| *given == name).map_or("", |(_, said)| *said);
                in_spanish(said).unwrap_or_else(|| said.to_owned())
            }
        };
        Some(pieces(spanish).into_iter().map(say).collect())
    })
}

/// A text of the program in a language. What the catalog does not have, such as what a person typed, stays as it is.
#[must_use]
pub fn told(language: Language, english: &str) -> String {
    match language {
        Language::English => english.to_owned(),
        Language::Spanish => in_spanish(english).unwrap_or_else(|| english.to_owned()),
    }
}

/// Whether the catalog has a text of the program.
#[must_use]
pub fn is_in_spanish(english: &str) -> bool {
    in_spanish(english).is_some()
}

/// The catalog as a file of TypeScript for the page.
#[must_use]
pub fn words() -> String {
    let mut text = String::from(
        "/** Written by the program: what the crew's own pages say in Spanish, by the English words. */\n\n\
         export const SPANISH = {\n",
    );
    for (english, spanish) in SPANISH.iter() {
        let _ = writeln!(text, "  {english:?}: {spanish:?},");
    }
    text.push_str("} as const;\n");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_catalog_is_one_and_fills_in_what_it_takes_from_the_english() {
        let twice = include_str!("spanish.json").matches("\n \"").count();
        assert_eq!(twice, SPANISH.len(), "a word stands twice, or the file is no catalog");
        for (english, spanish) in SPANISH.iter() {
            let names = |text: &'static str| -> Vec<&str> {
                let named = pieces(text).into_iter();
                let mut names: Vec<&str> = named
                    .filter_map(|piece| if let Piece::Filled(name) = piece { Some(name) } else { None })
                    .collect();
                names.sort_unstable();
                names.dedup();
                names
            };
            let (given, taken) = (names(english), names(spanish));
            assert!(taken.iter().all(|name| given.contains(name)), "{english}: {spanish}");
            assert!(!spanish.trim().is_empty() || english.trim().is_empty(), "{english}");
        }
    }

    #[test]
    fn what_is_filled_in_is_said_in_spanish_too_and_what_a_person_typed_is_left() {
        let say = |english: &str| told(Language::Spanish, english);
        assert_eq!(say("Eave"), "Alero");
        assert_eq!(say("September 28, 2026, as planned"), "28 de septiembre de 2026, según el plan");
        assert_eq!(
            say("Condition A-2 on 26-013: 3 deck sheets, valley"),
            "Daño A-2 en 26-013: 3 hojas de madera, limahoya"
        );
        assert_eq!(say("They are slow to pay"), "They are slow to pay");
        assert_eq!(told(Language::English, "Eave"), "Eave");
    }
}

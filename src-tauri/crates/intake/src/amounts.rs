//! Numbers in a file: signs, grouping and the mark before the decimals. `1,234` may be a thousand and some or one and
//! a bit, so that the file's other numbers, or a person, have to say which; nothing is guessed.

use crate::problem::{About, Answer, Note, Problem, Question, on_lines};
use serde::{Deserialize, Serialize};

/// Which mark stands before the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "lowercase")]
pub enum NumberStyle {
    /// `1,234.50`
    Point,
    /// `1.234,50`
    Comma,
}

impl NumberStyle {
    /// The word, as it is typed.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            NumberStyle::Point => "point",
            NumberStyle::Comma => "comma",
        }
    }

    const fn marks(self) -> (char, char) {
        match self {
            NumberStyle::Point => ('.', ','),
            NumberStyle::Comma => (',', '.'),
        }
    }

    const fn example(self) -> &'static str {
        match self {
            NumberStyle::Point => "1,234.50",
            NumberStyle::Comma => "1.234,50",
        }
    }
}

/// What one number shows of the style it is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Clue {
    /// It is the same in both.
    Either,
    /// It can only be this one.
    Only(NumberStyle),
    /// It is a number in both, and another one in each.
    Open,
    /// It is no number.
    NotANumber,
}

/// A number without its sign and currency.
struct Unsigned<'a> {
    negative: bool,
    body: &'a str,
}

/// Takes off one sign (before, behind or as brackets) and one dollar sign.
fn unsigned(text: &str) -> Option<Unsigned<'_>> {
    let mut body = text.trim();
    let mut negative = false;
    let mut has_dollar = false;
    let mut take_dollar = |body: &mut &str| {
        if let Some(rest) = body.strip_prefix('$').filter(|_| !has_dollar) {
            has_dollar = true;
            *body = rest.trim_start();
        }
    };
    take_dollar(&mut body);
    if let Some(inner) = body.strip_prefix('(') {
        body = inner.strip_suffix(')')?.trim();
        negative = true;
    }
    take_dollar(&mut body);
    for mark in ['-', '\u{2212}'] {
        for rest in [body.strip_prefix(mark), body.strip_suffix(mark)].into_iter().flatten() {
            if negative {
                return None;
            }
            negative = true;
            body = rest.trim();
        }
    }
    take_dollar(&mut body);
    Some(Unsigned { negative, body })
}

/// The blanks and apostrophes that some write between groups of three digits.
fn is_quiet_mark(c: char) -> bool {
    matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}')
}

fn are_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a whole part is plain digits, or one to three digits and then groups of three behind one mark.
fn is_whole(text: &str, group: char) -> bool {
    if are_digits(text) {
        return true;
    }
    let grouped_by = |is_mark: &dyn Fn(char) -> bool| {
        let mut groups = text.split(is_mark);
        let first = groups.next().unwrap_or_default();
        let begins = are_digits(first) && first.len() <= 3 && !first.starts_with('0');
        begins && groups.all(|rest| are_digits(rest) && rest.len() == 3)
    };
    grouped_by(&|c| c == group) || grouped_by(&is_quiet_mark)
}

/// The plain digits of a number read in one style, if it is one: `1,234.5` becomes `1234.5`.
fn in_style(body: &str, style: NumberStyle) -> Option<String> {
    let (decimal, group) = style.marks();
    let (whole, fraction) = match body.split_once(decimal) {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (body, None),
    };
    // “.50” is common in lists of small amounts and can only be a half.
    let whole = if whole.is_empty() && fraction.is_some() { "0" } else { whole };
    let fits = is_whole(whole, group) && fraction.is_none_or(are_digits);
    if !fits {
        return None;
    }
    let mut plain: String = whole.chars().filter(char::is_ascii_digit).collect();
    if let Some(fraction) = fraction {
        plain.push('.');
        plain.push_str(fraction);
    }
    Some(plain)
}

fn clue(text: &str) -> Clue {
    let Some(Unsigned { body, .. }) = unsigned(text) else { return Clue::NotANumber };
    match (in_style(body, NumberStyle::Point), in_style(body, NumberStyle::Comma)) {
        (None, None) => Clue::NotANumber,
        (Some(_), None) => Clue::Only(NumberStyle::Point),
        (None, Some(_)) => Clue::Only(NumberStyle::Comma),
        (Some(one), Some(other)) if one == other => Clue::Either,
        (Some(_), Some(_)) => Clue::Open,
    }
}

/// What the numbers of a file say about their style.
#[derive(Debug, Default)]
pub(crate) struct Decided {
    /// The style, when it is known.
    pub(crate) style: Option<NumberStyle>,
    /// How it is known, when the file itself says it and it matters.
    pub(crate) note: Option<Note>,
    /// That the file is written in both.
    pub(crate) problem: Option<Problem>,
    /// That it could be either.
    pub(crate) question: Option<Question>,
}

/// Decides the style of a file's numbers. A person's choice stands above what the file shows; a number that does not
/// fit it is a problem of its own line.
pub(crate) fn decide<'a>(cells: impl Iterator<Item = (u64, &'a str)>, given: Option<NumberStyle>) -> Decided {
    if given.is_some() {
        return Decided { style: given, ..Decided::default() };
    }
    let (mut point, mut comma, mut open) = (Vec::new(), Vec::new(), Vec::new());
    let mut example = None;
    for (line, text) in cells {
        match clue(text) {
            Clue::Only(NumberStyle::Point) => point.push(line),
            Clue::Only(NumberStyle::Comma) => comma.push(line),
            Clue::Open => {
                open.push(line);
                example.get_or_insert(text.trim());
            }
            Clue::Either | Clue::NotANumber => {}
        }
    }
    for lines in [&mut point, &mut comma, &mut open] {
        lines.sort_unstable();
        lines.dedup();
    }
    match (point.is_empty(), comma.is_empty()) {
        (false, false) => Decided { problem: Some(contradiction(&point, &comma)), ..Decided::default() },
        (false, true) => settled(NumberStyle::Point, &point, open),
        (true, false) => settled(NumberStyle::Comma, &comma, open),
        (true, true) => Decided { question: example.map(|example| ask(example, open)), ..Decided::default() },
    }
}

fn settled(style: NumberStyle, by: &[u64], open: Vec<u64>) -> Decided {
    let is_worth_saying = style == NumberStyle::Comma || !open.is_empty();
    let message = format!(
        "Numbers are read like {}, because {} cannot be read the other way.",
        style.example(),
        on_lines(by)
    );
    let note = is_worth_saying.then(|| Note::new(open, message));
    Decided { style: Some(style), note, ..Decided::default() }
}

fn contradiction(point: &[u64], comma: &[u64]) -> Problem {
    let mut lines: Vec<u64> = point.iter().chain(comma).copied().collect();
    lines.sort_unstable();
    lines.dedup();
    Problem {
        lines,
        column: None,
        message: format!(
            "Numbers are written in both ways: like 1,234.50 on {}, like 1.234,50 on {}.",
            on_lines(point),
            on_lines(comma)
        ),
        remedy: "Write all of them one way.".to_owned(),
        near: vec![],
    }
}

fn ask(text: &str, lines: Vec<u64>) -> Question {
    let answer = |style: NumberStyle| {
        let read = read(text, Some(style)).unwrap_or_default();
        Answer::new(
            style.as_str(),
            format!("Numbers are written like {}: “{text}” is {read}.", style.example()),
        )
    };
    Question {
        about: About::NumberStyle,
        field: None,
        column: None,
        message: format!("Is the mark in “{text}” for thousands or for decimals? The file does not show it."),
        answers: vec![answer(NumberStyle::Point), answer(NumberStyle::Comma)],
        lines,
    }
}

/// Why a number was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NoNumber {
    /// Its style is not known yet; the file's question or problem says so.
    Open,
    /// What is wrong with it, and what to do.
    Wrong(String, &'static str),
}

/// Reads one number as plain digits with a point and a leading minus, for the exact types of `trade` to take.
pub(crate) fn read(text: &str, style: Option<NumberStyle>) -> Result<String, NoNumber> {
    let wrong = |message: String, remedy| Err(NoNumber::Wrong(message, remedy));
    let not_a_number = format!("“{text}” is not a number that can be read.");
    let Some(Unsigned { negative, body }) = unsigned(text) else {
        return wrong(not_a_number, "Write it like 1234.50, −12.00 or (12.00).");
    };
    let plain = match (clue(text), style) {
        (Clue::NotANumber, _) => return wrong(not_a_number, "Write it like 1234.50, −12.00 or (12.00)."),
        (Clue::Only(only), Some(style)) if only != style => {
            let message =
                format!("“{text}” is not written like {}, as the file's other numbers are.", style.example());
            return wrong(message, "Write it like the others.");
        }
        (Clue::Open, None) => return Err(NoNumber::Open),
        // In a file that is written in both ways no number is to be trusted; the file's problem says so.
        (Clue::Only(_), None) => return Err(NoNumber::Open),
        (Clue::Either | Clue::Open | Clue::Only(_), style) => {
            in_style(body, style.unwrap_or(NumberStyle::Point))
        }
    };
    let Some(plain) = plain else {
        return wrong(not_a_number, "Write it like 1234.50, −12.00 or (12.00).");
    };
    Ok(if negative { format!("-{plain}") } else { plain })
}

/// Whether a dollar sign stands in a number.
pub(crate) fn is_in_dollars(text: &str) -> bool {
    text.contains('$')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_in_the_style_they_are_written_in() {
        let point = Some(NumberStyle::Point);
        for (text, plain) in [
            ("1234.50", "1234.50"),
            ("1,234.50", "1234.50"),
            ("1,234,567", "1234567"),
            ("1,234", "1234"),
            ("1 234.5", "1234.5"),
            ("1'234.5", "1234.5"),
            ("$1,234.50", "1234.50"),
            ("$ 12", "12"),
            ("(12.00)", "-12.00"),
            ("($12.00)", "-12.00"),
            ("$(12.00)", "-12.00"),
            ("-12", "-12"),
            ("-$12", "-12"),
            ("$-12", "-12"),
            ("12-", "-12"),
            ("\u{2212}12", "-12"),
            (".50", "0.50"),
            ("-.50", "-0.50"),
        ] {
            assert_eq!(read(text, point).as_deref(), Ok(plain), "{text}");
        }
        for text in [
            "",
            "-",
            "12.",
            "1,23",
            "1,2345",
            "12,34,567",
            "0,123",
            "--1",
            "(-1)",
            "-1-",
            "1.2.3",
            "1e3",
            "$$1",
            "12 €",
            "abc",
            "1,234.50,1",
        ] {
            assert!(matches!(read(text, point), Err(NoNumber::Wrong(..))), "{text}");
        }
        let comma = Some(NumberStyle::Comma);
        for (text, plain) in
            [("1.234,50", "1234.50"), ("1.234", "1234"), ("0,5", "0.5"), ("1 234,5", "1234.5"), ("12", "12")]
        {
            assert_eq!(read(text, comma).as_deref(), Ok(plain), "{text}");
        }
    }

    #[test]
    fn what_could_be_two_numbers_stays_open() {
        for text in ["1,234", "1.234", "(1,234)", "12.125", "999,999"] {
            assert_eq!(clue(text), Clue::Open, "{text}");
            assert_eq!(read(text, None), Err(NoNumber::Open), "{text}");
        }
        for text in ["1234", "12", "1 234"] {
            assert_eq!(clue(text), Clue::Either, "{text}");
        }
        for (text, style) in [
            ("1,5", NumberStyle::Comma),
            ("1.5", NumberStyle::Point),
            ("0.125", NumberStyle::Point),
            ("1234.125", NumberStyle::Point),
            ("1,234,567", NumberStyle::Point),
            ("1.234.567", NumberStyle::Comma),
        ] {
            assert_eq!(clue(text), Clue::Only(style), "{text}");
        }
    }
}

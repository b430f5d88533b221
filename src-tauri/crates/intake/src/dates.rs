//! Dates in a file. ISO 8601 dates are always read; `3/4/2026` is read only when the file, or a person, says which
//! number is the month. Nothing is guessed: what stays open becomes a question.

use crate::problem::{About, Answer, Note, Problem, Question, on_lines};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Which number comes first in a date such as `3/4/2026`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "kebab-case")]
pub enum DateOrder {
    /// Month, day, year.
    MonthFirst,
    /// Day, month, year.
    DayFirst,
}

impl DateOrder {
    /// The word, as it is typed.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            DateOrder::MonthFirst => "month-first",
            DateOrder::DayFirst => "day-first",
        }
    }

    const fn shape(self) -> &'static str {
        match self {
            DateOrder::MonthFirst => "month/day/year",
            DateOrder::DayFirst => "day/month/year",
        }
    }
}

/// The years that a date of a business can lie in; others are slips of a key.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=2999;

/// A date as it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// Year, month, day.
    Iso(i16, i8, i8),
    /// Two numbers and a year of four digits.
    Parts(i8, i8, i16),
    /// As `Parts`, with a year of two digits.
    ShortYear,
    /// Anything else.
    Other,
}

fn digits(text: &str, lengths: std::ops::RangeInclusive<usize>) -> Option<i16> {
    let fits = lengths.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    if fits { text.parse().ok() } else { None }
}

fn small(text: &str) -> Option<i8> {
    digits(text, 1..=2).and_then(|number| i8::try_from(number).ok())
}

fn form(text: &str) -> Form {
    let Some(mark) = text.chars().find(|c| !c.is_ascii_digit()) else { return Form::Other };
    let parts: Vec<&str> = text.split(mark).collect();
    let &[first, second, third] = parts.as_slice() else { return Form::Other };
    if mark == '-' && first.len() == 4 && second.len() == 2 && third.len() == 2 {
        return match (digits(first, 4..=4), small(second), small(third)) {
            (Some(year), Some(month), Some(day)) => Form::Iso(year, month, day),
            _ => Form::Other,
        };
    }
    if !matches!(mark, '/' | '-' | '.') {
        return Form::Other;
    }
    match (small(first), small(second), digits(third, 4..=4)) {
        (Some(first), Some(second), Some(year)) => Form::Parts(first, second, year),
        (Some(_), Some(_), None) if digits(third, 2..=2).is_some() => Form::ShortYear,
        _ => Form::Other,
    }
}

/// What a column of dates says about its order.
#[derive(Debug, Default)]
pub(crate) struct Decided {
    /// The order, when it is known.
    pub(crate) order: Option<DateOrder>,
    /// How it is known, when the file itself says it.
    pub(crate) note: Option<Note>,
    /// That the file needs both orders.
    pub(crate) problem: Option<Problem>,
    /// That it could be either.
    pub(crate) question: Option<Question>,
}

/// Decides the order of a column. A person's choice stands above what the file shows; a date that does not fit it is
/// a problem of its own line.
pub(crate) fn decide<'a>(
    column: &str,
    cells: impl Iterator<Item = (u64, &'a str)>,
    given: Option<DateOrder>,
) -> Decided {
    if given.is_some() {
        return Decided { order: given, ..Decided::default() };
    }
    let (mut month_first, mut day_first, mut either) = (Vec::new(), Vec::new(), Vec::new());
    let mut example = None;
    for (line, text) in cells {
        match form(text.trim()) {
            Form::Parts(first, second, _) if first > 12 && second <= 12 => day_first.push(line),
            Form::Parts(first, second, _) if first <= 12 && second > 12 => month_first.push(line),
            Form::Parts(first, second, year) if first != second && first <= 12 => {
                either.push(line);
                example.get_or_insert((text.trim(), first, second, year));
            }
            _ => {}
        }
    }
    let settled = |order: DateOrder, by: Vec<u64>| Decided {
        note: Some(Note::new(
            vec![],
            format!(
                "The dates in “{column}” are read as {}, because {} cannot be read the other way round.",
                order.shape(),
                on_lines(&by)
            ),
        )),
        order: Some(order),
        ..Decided::default()
    };
    match (month_first.is_empty(), day_first.is_empty()) {
        (false, false) => {
            Decided { problem: Some(contradiction(column, &month_first, &day_first)), ..Decided::default() }
        }
        (false, true) => settled(DateOrder::MonthFirst, month_first),
        (true, false) => settled(DateOrder::DayFirst, day_first),
        (true, true) => {
            Decided { question: example.map(|example| ask(column, example, either)), ..Decided::default() }
        }
    }
}

fn contradiction(column: &str, month_first: &[u64], day_first: &[u64]) -> Problem {
    let mut lines: Vec<u64> = month_first.iter().chain(day_first).copied().collect();
    lines.sort_unstable();
    Problem {
        lines,
        column: Some(column.to_owned()),
        message: format!(
            "The dates are in both orders: month first on {}, day first on {}.",
            on_lines(month_first),
            on_lines(day_first)
        ),
        remedy: "Write all of them as year-month-day, such as 2026-03-14, or all in one order.".to_owned(),
        near: vec![],
    }
}

fn ask(column: &str, (text, first, second, year): (&str, i8, i8, i16), lines: Vec<u64>) -> Question {
    let answer = |order: DateOrder, month: i8, day: i8| {
        Answer::new(order.as_str(), format!("{}: “{text}” is {}.", order.shape(), said(year, month, day)))
    };
    Question {
        about: About::DateOrder,
        field: None,
        column: Some(column.to_owned()),
        message: format!("Does “{text}” begin with the month or with the day? The file does not show it."),
        answers: vec![
            answer(DateOrder::MonthFirst, first, second),
            answer(DateOrder::DayFirst, second, first),
        ],
        lines,
    }
}

/// The day that a file's three numbers mean.
fn said(year: i16, month: i8, day: i8) -> String {
    Date::new(year, month, day).map_or_else(|_| "no day".to_owned(), trade::shown::day)
}

/// Why a date was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NoDate {
    /// Its order is not known yet; the column's question or problem says so.
    Open,
    /// What is wrong with it, and what to do.
    Wrong(String, &'static str),
}

const WRITE_IT: &str = "Write it as year-month-day, such as 2026-03-14.";

/// Reads one date.
pub(crate) fn read(text: &str, order: Option<DateOrder>) -> Result<Date, NoDate> {
    let (year, month, day) = match (form(text), order) {
        (Form::Iso(year, month, day), _) => (year, month, day),
        (Form::Parts(first, second, year), None) if first == second => (year, first, second),
        (Form::Parts(..), None) => return Err(NoDate::Open),
        (Form::Parts(first, second, year), Some(DateOrder::MonthFirst)) => (year, first, second),
        (Form::Parts(first, second, year), Some(DateOrder::DayFirst)) => (year, second, first),
        (Form::ShortYear, _) => {
            return Err(NoDate::Wrong(
                format!("The year of “{text}” has only two digits."),
                "Write the year with four digits.",
            ));
        }
        (Form::Other, _) => {
            return Err(NoDate::Wrong(format!("“{text}” is not a date that can be read."), WRITE_IT));
        }
    };
    let is_by_order = matches!(form(text), Form::Parts(..));
    if is_by_order
        && month > 12
        && let Some(order) = order
    {
        let message = format!("“{text}” has no month when it is read as {}.", order.shape());
        return Err(NoDate::Wrong(message, "Check this line and the order chosen for the file."));
    }
    if !YEARS.contains(&year) {
        return Err(NoDate::Wrong(format!("The year of “{text}” cannot be right."), WRITE_IT));
    }
    Date::new(year, month, day)
        .map_err(|_| NoDate::Wrong(format!("There is no day “{text}” in the calendar."), WRITE_IT))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_read_only_as_it_is_written() {
        let day = Date::constant(2026, 3, 4);
        let month = Some(DateOrder::MonthFirst);
        assert_eq!(read("2026-03-04", None), Ok(day));
        for text in ["3/4/2026", "03/04/2026", "3-4-2026", "3.4.2026"] {
            assert_eq!(read(text, month), Ok(day), "{text}");
            assert_eq!(read(text, Some(DateOrder::DayFirst)), Ok(Date::constant(2026, 4, 3)), "{text}");
            assert_eq!(read(text, None), Err(NoDate::Open), "{text}");
        }
        assert_eq!(read("3/3/2026", None), Ok(Date::constant(2026, 3, 3)));
        for text in [
            "",
            "2026-3-4",
            "2026-02-30",
            "3/4/26",
            "3/4",
            "3/4-2026",
            "14/3/2026",
            "0226-03-04",
            "2026/03/04",
            "March 4",
        ] {
            assert!(matches!(read(text, month), Err(NoDate::Wrong(..))), "{text}");
        }
    }
}

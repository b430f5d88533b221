//! What an import says back: what is wrong, what has to be asked, and what is worth knowing.

use serde::Serialize;
use std::collections::HashMap;
use std::fmt;

/// Something that keeps a file from being imported: where it stands, what it is, and what to do about it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Problem {
    /// Every line of the file on which it stands, the first line being 1; empty when it concerns the whole file.
    pub lines: Vec<u64>,
    /// The header of the column, where one column is meant.
    pub column: Option<String>,
    /// What is wrong, a sentence.
    pub message: String,
    /// What to do next, a sentence.
    pub remedy: String,
    /// Names that are spelled nearly like the one that was not found, nearest first.
    pub near: Vec<String>,
}

impl Problem {
    /// A problem of the file as a whole.
    pub(crate) fn of_file(message: impl Into<String>, remedy: impl Into<String>) -> Problem {
        Problem { lines: vec![], column: None, message: message.into(), remedy: remedy.into(), near: vec![] }
    }

    /// A problem of one line.
    pub(crate) fn at(line: u64, column: Option<&str>, message: impl Into<String>, remedy: &str) -> Problem {
        Problem {
            lines: vec![line],
            column: column.map(str::to_owned),
            message: message.into(),
            remedy: remedy.to_owned(),
            near: vec![],
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.lines.as_slice() {
            [] => {}
            [line] => write!(f, "Line {line}")?,
            lines => write!(f, "Lines {}", first_of(lines))?,
        }
        match (&self.column, self.lines.is_empty()) {
            (Some(column), false) => write!(f, ", column “{column}”: ")?,
            (Some(column), true) => write!(f, "Column “{column}”: ")?,
            (None, false) => f.write_str(": ")?,
            (None, true) => {}
        }
        f.write_str(&self.message)?;
        if !self.near.is_empty() {
            write!(f, " Near it: {}.", self.near.join("; "))?;
        }
        if !self.remedy.is_empty() {
            write!(f, " {}", self.remedy)?;
        }
        Ok(())
    }
}

/// How many line numbers a sentence lists before it only counts the rest.
const LISTED: usize = 5;

/// Line numbers for a sentence: the first few, and how many more there are.
pub(crate) fn first_of(lines: &[u64]) -> String {
    let listed: Vec<String> = lines.iter().take(LISTED).map(u64::to_string).collect();
    match lines.len().saturating_sub(LISTED) {
        0 => listed.join(", "),
        more => format!("{} and {more} more", listed.join(", ")),
    }
}

/// “line 3” or “lines 3, 4”, in the middle of a sentence.
pub(crate) fn on_lines(lines: &[u64]) -> String {
    let word = if lines.len() == 1 { "line" } else { "lines" };
    format!("{word} {}", first_of(lines))
}

/// What a question is about. Each is also the name of the field of [`Choices`](super::Choices) that answers it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "snake_case")]
pub enum About {
    /// What stands between the columns.
    Separator,
    /// Which column holds a field; answered in the mapping.
    Mapping,
    /// Whether the day or the month comes first.
    DateOrder,
    /// Whether the point or the comma stands before the decimals.
    NumberStyle,
    /// What to do with lines of one bill that are the same in every column.
    RepeatedLines,
    /// What to do with hours for a person, day, job and code that already have other hours.
    OtherHours,
    /// What stood at the bank after the last line; typed, or one of the answers.
    ClosingBalance,
}

/// Something that only a person can decide. Nothing is imported while it is open.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Question {
    /// What it is about.
    pub about: About,
    /// The field, for a question about the mapping.
    pub field: Option<&'static str>,
    /// The header of the column, where one column is meant.
    pub column: Option<String>,
    /// The question, a sentence.
    pub message: String,
    /// The answers there are.
    pub answers: Vec<Answer>,
    /// The lines that raise it.
    pub lines: Vec<u64>,
}

/// One of the answers to a question.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Answer {
    /// The word that stands in [`Choices`](super::Choices), or the header of a column.
    pub word: String,
    /// What it means, shown on the file's own text where there is some.
    pub meaning: String,
}

impl Answer {
    pub(crate) fn new(word: impl Into<String>, meaning: impl Into<String>) -> Answer {
        Answer { word: word.into(), meaning: meaning.into() }
    }
}

/// Something worth knowing before the file is imported: how it was read, what is left out, what looks odd.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Note {
    /// The lines it is about; empty when it is about the whole file.
    pub lines: Vec<u64>,
    /// What is worth knowing, a sentence.
    pub message: String,
}

impl Note {
    pub(crate) fn new(lines: Vec<u64>, message: impl Into<String>) -> Note {
        Note { lines, message: message.into() }
    }
}

/// Gathers problems; the same one on many lines becomes one problem with many lines.
#[derive(Debug, Default)]
pub(crate) struct Problems {
    found: Vec<Problem>,
    places: HashMap<(Option<String>, String), usize>,
}

impl Problems {
    pub(crate) fn push(&mut self, problem: Problem) {
        let key = (problem.column.clone(), problem.message.clone());
        match self.places.get(&key).and_then(|place| self.found.get_mut(*place)) {
            Some(known) => known.lines.extend(problem.lines),
            None => {
                self.places.insert(key, self.found.len());
                self.found.push(problem);
            }
        }
    }

    /// As [`Problems::push`]; the near names are only looked for when the problem is new.
    pub(crate) fn push_near(&mut self, mut problem: Problem, near: impl FnOnce() -> Vec<String>) {
        let is_new = !self.places.contains_key(&(problem.column.clone(), problem.message.clone()));
        if is_new {
            problem.near = near();
        }
        self.push(problem);
    }

    /// The problems in the order of their first lines, those of the whole file first.
    pub(crate) fn finish(mut self) -> Vec<Problem> {
        for problem in &mut self.found {
            problem.lines.sort_unstable();
            problem.lines.dedup();
        }
        self.found.sort_by_key(|problem| problem.lines.first().copied().unwrap_or(0));
        self.found
    }
}

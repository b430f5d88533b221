//! Reading a file into typed rows: needs no ledger.

use crate::amounts::{self, NumberStyle};
use crate::choices::Choices;
use crate::columns::{self, Kind, Mapping, Matched, Reads};
use crate::dates::{self, DateOrder};
use crate::ofx::{self, StatementSaid};
use crate::problem::{Note, Problem, Problems, Question};
use crate::rows::{self, Rows};
use crate::table::{self, Record, Separator, Table};
use serde::Serialize;

/// A file as it was read: typed rows, and everything that stands in the way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Parsed {
    /// What is imported.
    pub kind: Kind,
    /// What was chosen for reading it.
    pub choices: Choices,
    /// What stands between the columns, when that is known.
    pub separator: Option<Separator>,
    /// The headers, in the order of the file.
    pub header: Vec<String>,
    /// Which column holds which field, chosen or proposed.
    pub mapping: Mapping,
    /// Headers of columns that are not read.
    pub unused: Vec<String>,
    /// The order of dates, when it is known.
    pub date_order: Option<DateOrder>,
    /// The style of numbers, when it is known.
    pub number_style: Option<NumberStyle>,
    /// The first line with a dollar sign in an amount.
    pub dollars_on: Option<u64>,
    /// How many records stand under the header, empty ones left out.
    pub records: usize,
    /// Those that could be read, in the order of the file.
    pub rows: Rows,
    /// What the file says of the statement as a whole, where it is one of a bank.
    pub statement: StatementSaid,
    /// What is wrong; the file is not imported while there is any.
    pub problems: Vec<Problem>,
    /// What has to be asked; the file is not imported while there is any.
    pub questions: Vec<Question>,
    /// How the file was read, where that is worth knowing.
    pub notes: Vec<Note>,
    /// The header line as one text, by which the mapping is remembered.
    #[serde(skip)]
    pub(crate) header_key: String,
}

impl Parsed {
    fn nothing(kind: Kind, choices: &Choices) -> Parsed {
        Parsed {
            kind,
            choices: choices.clone(),
            separator: choices.separator,
            header: vec![],
            mapping: choices.mapping.clone().unwrap_or_default(),
            unused: vec![],
            date_order: choices.date_order,
            number_style: choices.number_style,
            dollars_on: None,
            records: 0,
            rows: Rows::none(kind),
            statement: StatementSaid::default(),
            problems: vec![],
            questions: vec![],
            notes: vec![],
            header_key: String::new(),
        }
    }

    /// The header of the column in which a field was found.
    #[must_use]
    pub fn column(&self, field: &str) -> Option<&str> {
        self.mapping.header(field)
    }
}

/// Reads a file. Needs no ledger: names in it are looked up by [`crate::preview()`] and [`crate::apply()`].
#[must_use]
pub fn read(kind: Kind, bytes: &[u8], choices: &Choices) -> Parsed {
    let mut parsed = Parsed::nothing(kind, choices);
    if kind == Kind::Bank && ofx::is_ofx(bytes) {
        match ofx::read(bytes) {
            Ok((said, rows)) => {
                parsed.records = rows.len();
                (parsed.statement, parsed.rows) = (said, Rows::Bank(rows));
            }
            Err(problem) => parsed.problems.push(problem),
        }
        return parsed;
    }
    let table = match table::read(bytes, choices.separator) {
        Ok(table) => table,
        Err(no_table) => {
            parsed.problems = no_table.problems;
            parsed.questions = no_table.questions;
            return parsed;
        }
    };
    let mut problems = Problems::default();
    let matched =
        columns::match_up(kind.fields(), kind.as_str(), &table, choices.mapping.as_ref(), &mut problems);
    let full: Vec<&Record> = table.records.iter().filter(|record| !record.is_blank()).collect();
    parsed.notes = first_notes(kind, &table, &matched, full.len(), choices.remembered);
    decide(&mut parsed, &table, &matched, &full, &mut problems);
    let reading = rows::Reading {
        kind,
        places: &matched.places,
        headers: &table.header,
        order: parsed.date_order,
        style: parsed.number_style,
    };
    parsed.rows = rows::read(&reading, full.iter().copied(), &mut problems);
    parsed.separator = Some(table.separator);
    parsed.records = full.len();
    parsed.header_key = columns::header_key(&table);
    parsed.mapping = matched.mapping;
    parsed.unused = matched.unused;
    parsed.questions.splice(0..0, matched.questions);
    parsed.header = table.header.iter().map(|cell| cell.trim().to_owned()).collect();
    parsed.problems = problems.finish();
    parsed
}

/// Settles the order of dates and the style of numbers, or asks.
fn decide(parsed: &mut Parsed, table: &Table, matched: &Matched, full: &[&Record], problems: &mut Problems) {
    let kind = parsed.kind;
    let cells = |place: usize| {
        full.iter().filter_map(move |record| record.cell(place).map(|text| (record.line, text)))
    };
    for place in rows::columns_read_as(kind, &matched.places, &[Reads::Date]) {
        let header = table.header.get(place).map_or("", |cell| cell.trim());
        let decided = dates::decide(header, cells(place), parsed.choices.date_order);
        parsed.date_order = decided.order;
        parsed.notes.extend(decided.note);
        parsed.questions.extend(decided.question);
        decided.problem.into_iter().for_each(|problem| problems.push(problem));
    }
    let numeric = [Reads::Amount, Reads::Quantity, Reads::UnitPrice];
    let places: Vec<usize> = rows::columns_read_as(kind, &matched.places, &numeric).collect();
    let decided = amounts::decide(places.iter().flat_map(|place| cells(*place)), parsed.choices.number_style);
    parsed.number_style = decided.style;
    parsed.notes.extend(decided.note);
    parsed.questions.extend(decided.question);
    decided.problem.into_iter().for_each(|problem| problems.push(problem));
    let in_dollars =
        places.iter().flat_map(|place| cells(*place)).filter(|(_, text)| amounts::is_in_dollars(text));
    parsed.dollars_on = in_dollars.map(|(line, _)| line).min();
}

fn first_notes(kind: Kind, table: &Table, matched: &Matched, full: usize, remembered: bool) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut say = |message: String| notes.push(Note::new(vec![], message));
    if table.separator != Separator::Comma {
        say(format!("The columns are separated by a {}.", table.separator.as_str()));
    }
    if remembered {
        say("The columns are matched, and dates and numbers read, as the last time a file with these headers came \
             in."
            .to_owned());
    }
    if !matched.unused.is_empty() {
        say(format!("These columns are not read: {}.", matched.unused.join(", ")));
    }
    if kind == Kind::Bills && !matched.places.contains_key("cost_kind") {
        say("No column tells the kind of cost, so that every line is material.".to_owned());
    }
    match table.records.len() - full {
        0 => {}
        1 => say("One line with nothing in any column is passed over.".to_owned()),
        more => say(format!("{more} lines with nothing in any column are passed over.")),
    }
    if full == 0 {
        say("There is no line under the header.".to_owned());
    }
    notes
}

//! A plan in the making: each kind of import looks names up through it and says what becomes of its rows.

use crate::columns::Kind;
use crate::known::{Found, Known, Thing, fold};
use crate::problem::{Note, Problem, Problems, Question};
use crate::reading::Parsed;
use crate::rows::Rows;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Firm, Vendor};
use ledger::{Books, Fact, Id, LedgerError};
use serde::Serialize;
use std::collections::HashMap;
use trade::{Money, Month, Qty, Rate};

/// What an import is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// Holding rows against the ledger; counted in rows.
    Checking,
    /// Recording; counted in facts.
    Recording,
}

impl Stage {
    /// The stage in words.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Stage::Checking => "checking the lines",
            Stage::Recording => "recording",
        }
    }
}

/// How far it is. The import goes on as long as whoever is told answers `true`; else nothing is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Progress {
    /// What it is at.
    pub stage: Stage,
    /// How many are done.
    pub done: u64,
    /// Of how many.
    pub total: u64,
}

/// What becomes of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "lowercase")]
pub enum RowOutcome {
    /// It would be recorded.
    New,
    /// It is there already, and is passed over.
    Duplicate,
    /// It cannot be taken as it is, or waits for an answer.
    Refused,
}

/// Lines that are passed over because they are there already.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Duplicate {
    /// The lines.
    pub lines: Vec<u64>,
    /// The line of this file with which they are the same.
    pub same_as_line: Option<u64>,
    /// The recorded fact with which they are the same.
    pub same_as: Option<Id>,
    /// What they are, and in what they differ if in anything, a sentence.
    pub message: String,
}

/// Sums for holding an import against the file's own totals. Money is text over any border.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Totals {
    /// Rows.
    pub rows: usize,
    /// Amounts before tax of bills, of payments, or of what moved at the bank.
    pub amount: Option<Money>,
    /// Tax of bills.
    pub tax: Option<Money>,
    /// Hours.
    pub hours: Option<Qty>,
    /// Of the payments, what is applied to invoices.
    pub applied: Option<Money>,
}

impl Totals {
    fn of(rows: &Rows, outcomes: Option<&[RowOutcome]>) -> Totals {
        let is_in = |place: usize| {
            outcomes.is_none_or(|outcomes| outcomes.get(place).copied() == Some(RowOutcome::New))
        };
        let mut totals =
            Totals { rows: (0..rows.len()).filter(|place| is_in(*place)).count(), ..Totals::default() };
        match rows {
            Rows::Bills(rows) => {
                let taken = || rows.iter().enumerate().filter(|(place, _)| is_in(*place)).map(|(_, row)| row);
                totals.amount = Some(taken().map(|row| row.amount).sum());
                totals.tax = Some(taken().map(|row| row.tax).sum());
            }
            Rows::Hours(rows) => {
                let taken = rows.iter().enumerate().filter(|(place, _)| is_in(*place));
                totals.hours = Some(taken.map(|(_, row)| row.hours).sum());
            }
            Rows::Payments(rows) => {
                let taken = || rows.iter().enumerate().filter(|(place, _)| is_in(*place)).map(|(_, row)| row);
                totals.amount = Some(taken().map(|row| row.amount).sum());
                totals.applied =
                    Some(taken().filter(|row| row.invoice.is_some()).map(|row| row.amount).sum());
            }
            Rows::Bank(rows) => {
                let taken = rows.iter().enumerate().filter(|(place, _)| is_in(*place));
                totals.amount = Some(taken.map(|(_, row)| row.amount).sum());
            }
            Rows::Customers(_) | Rows::Jobs(_) | Rows::Prices(_) => {}
        }
        totals
    }
}

/// What a line of a price list changes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct PriceChange {
    /// The line.
    pub line: u64,
    /// The part's title.
    pub part: String,
    /// The vendor.
    pub vendor: String,
    /// What it is bought in.
    pub package: String,
    /// What a package cost at this vendor before; absent when no price was known.
    pub old: Option<Rate>,
    /// What it costs.
    pub new: Rate,
    /// The change as a share of the old price, below zero when it fell.
    pub change: Option<Rate>,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub since: Date,
}

/// What the rows would become.
#[derive(Debug)]
pub(crate) struct Plan {
    /// The facts, in the order in which they are to be recorded.
    pub(crate) facts: Vec<(Id, Fact)>,
    /// What becomes of each row.
    pub(crate) outcomes: Vec<RowOutcome>,
    pub(crate) duplicates: Vec<Duplicate>,
    pub(crate) problems: Vec<Problem>,
    pub(crate) questions: Vec<Question>,
    pub(crate) notes: Vec<Note>,
    /// Vendors that are made.
    pub(crate) makes: Vec<String>,
    /// What a price list changes.
    pub(crate) price_changes: Vec<PriceChange>,
    /// Sums over the whole file.
    pub(crate) file: Totals,
    /// Sums over what is new.
    pub(crate) new: Totals,
}

impl Plan {
    /// Whether it can be recorded.
    pub(crate) fn is_ready(&self) -> bool {
        self.problems.is_empty() && self.questions.is_empty()
    }

    /// How many rows stand so.
    pub(crate) fn count(&self, outcome: RowOutcome) -> usize {
        self.outcomes.iter().filter(|one| **one == outcome).count()
    }
}

/// Where new ids come from.
pub(crate) type Ids<'a> = &'a mut dyn FnMut() -> Id;

/// Who is told how far it is.
pub(crate) type Tell<'a> = &'a mut dyn FnMut(Progress) -> bool;

/// A plan in the making.
pub(crate) struct Planner<'a> {
    pub(crate) books: Books<'a>,
    pub(crate) known: Known,
    pub(crate) parsed: &'a Parsed,
    ids: Ids<'a>,
    tell: Tell<'a>,
    facts: Vec<(Id, Fact)>,
    outcomes: Vec<RowOutcome>,
    duplicates: Vec<Duplicate>,
    problems: Problems,
    questions: Vec<Question>,
    pub(crate) notes: Vec<Note>,
    makes: Vec<String>,
    pub(crate) price_changes: Vec<PriceChange>,
    made: HashMap<String, Id>,
}

/// How many rows are checked between two reports of progress.
const REPORT_EVERY: usize = 1000;

impl<'a> Planner<'a> {
    /// A plan with nothing in it yet.
    ///
    /// # Errors
    /// When the ledger cannot be read.
    pub(crate) fn begin(
        books: Books<'a>,
        parsed: &'a Parsed,
        ids: Ids<'a>,
        tell: Tell<'a>,
    ) -> Result<Self, OfficeError> {
        let count = parsed.rows.len();
        let mut planner = Planner {
            books,
            known: Known::read(books)?,
            parsed,
            ids,
            tell,
            facts: Vec::with_capacity(count),
            outcomes: vec![RowOutcome::New; count],
            duplicates: vec![],
            problems: Problems::default(),
            questions: vec![],
            notes: vec![],
            makes: vec![],
            price_changes: vec![],
            made: HashMap::new(),
        };
        planner.check_currency()?;
        planner.note_closed_months()?;
        Ok(planner)
    }

    /// Tells how far it is.
    pub(crate) fn step(&mut self, place: usize, total: usize) -> Result<(), OfficeError> {
        if !place.is_multiple_of(REPORT_EVERY) {
            return Ok(());
        }
        let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
        let progress = Progress { stage: Stage::Checking, done: count(place), total: count(total) };
        if (self.tell)(progress) { Ok(()) } else { Err(LedgerError::Stopped.into()) }
    }

    /// A row that will be recorded as this fact.
    pub(crate) fn record(&mut self, fact: impl Into<Fact>) -> Id {
        let id = (self.ids)();
        self.facts.push((id, fact.into()));
        id
    }

    /// A row that cannot be taken, with what is wrong in which field.
    pub(crate) fn refuse(&mut self, place: usize, line: u64, field: &str, message: String, remedy: &str) {
        self.hold(place);
        let column = self.parsed.column(field);
        self.problems.push(Problem::at(line, column, message, remedy));
    }

    /// What is wrong with the file as a whole.
    pub(crate) fn problem(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// A row that waits for an answer.
    pub(crate) fn hold(&mut self, place: usize) {
        if let Some(outcome) = self.outcomes.get_mut(place) {
            *outcome = RowOutcome::Refused;
        }
    }

    /// Rows that are there already.
    pub(crate) fn pass_over(&mut self, places: &[usize], duplicate: Duplicate) {
        for place in places {
            if let Some(outcome) = self.outcomes.get_mut(*place) {
                *outcome = RowOutcome::Duplicate;
            }
        }
        self.duplicates.push(duplicate);
    }

    /// A question that some rows raise, if any do.
    pub(crate) fn ask(&mut self, question: Question) {
        if !question.lines.is_empty() {
            self.questions.push(question);
        }
    }

    /// The id behind a name in a row; a name that is not known is a problem with the names near it.
    pub(crate) fn look(
        &mut self,
        thing: Thing,
        place: usize,
        line: u64,
        field: &str,
        name: &str,
    ) -> Option<Id> {
        let word = thing.word();
        let (message, remedy) = match self.known.find(thing, name) {
            Found::One(id) => return Some(id),
            Found::Several if thing == Thing::Customer => (
                format!("More than one customer is called “{name}”."),
                "Write the name and the address with a comma between.",
            ),
            Found::Several => {
                (format!("More than one {word} is called “{name}”."), "Give each a name of its own first.")
            }
            Found::None => {
                (format!("There is no {word} “{name}”."), "Record it first, or correct the spelling.")
            }
        };
        self.hold(place);
        let problem = Problem::at(line, self.parsed.column(field), message, remedy);
        let known = &self.known;
        self.problems.push_near(problem, || match known.find(thing, name) {
            Found::Several => known.told_apart(name),
            _ => known.near(thing, name),
        });
        None
    }

    /// As [`Planner::look`], for a name that may be left out.
    pub(crate) fn look_if(
        &mut self,
        thing: Thing,
        place: usize,
        line: u64,
        field: &str,
        name: Option<&str>,
    ) -> Option<Id> {
        name.and_then(|name| self.look(thing, place, line, field, name))
    }

    /// A vendor by name; one that is not known is made when that was asked for.
    pub(crate) fn vendor(&mut self, place: usize, line: u64, name: &str) -> Option<Id> {
        if !self.parsed.choices.make_missing || self.known.find(Thing::Vendor, name) != Found::None {
            return self.look(Thing::Vendor, place, line, "vendor", name);
        }
        let folded = fold(name);
        if let Some(id) = self.made.get(&folded) {
            return Some(*id);
        }
        let near = self.known.near(Thing::Vendor, name);
        if !near.is_empty() {
            let message = format!("The vendor “{name}” will be made; there already is {}.", near.join(", "));
            self.notes.push(Note::new(vec![line], message));
        }
        let id = self.record(Vendor {
            revises: None,
            name: name.to_owned(),
            subcontractor: false,
            due_days: None,
        });
        self.made.insert(folded, id);
        self.makes.push(name.to_owned());
        Some(id)
    }

    /// Whether a vendor is made by this import, so that the ledger holds nothing of it yet.
    pub(crate) fn is_made(&self, vendor: Id) -> bool {
        self.made.values().any(|made| *made == vendor)
    }

    /// A dollar sign in a file for books in another currency would be read as that currency.
    fn check_currency(&mut self) -> Result<(), OfficeError> {
        let Some(line) = self.parsed.dollars_on else { return Ok(()) };
        let firms = self.books.all::<Firm>()?;
        let Some(firm) = firms.last() else { return Ok(()) };
        if !DOLLARS.contains(&firm.fact.currency.as_str()) {
            let message = format!("Amounts stand in dollars, and the books are in {}.", firm.fact.currency);
            let remedy = "Take the signs out if the amounts are in the currency of the books.";
            self.problems.push(Problem::at(line, None, message, remedy));
        }
        Ok(())
    }

    /// Says which lines are of months that are closed: they are booked in the month that is open.
    fn note_closed_months(&mut self) -> Result<(), OfficeError> {
        if self.parsed.kind == Kind::Jobs {
            return Ok(());
        }
        let Some(last) = self.books.calendar()?.closed_through() else { return Ok(()) };
        let lines: Vec<u64> = dated(&self.parsed.rows)
            .filter(|(_, date)| Month::of(*date) <= last)
            .map(|(line, _)| line)
            .collect();
        if !lines.is_empty() {
            let message = format!(
                "The books are closed through {}: what is dated before {} is booked in that month.",
                trade::shown::month(last),
                trade::shown::month(last.next())
            );
            self.notes.push(Note::new(lines, message));
        }
        Ok(())
    }

    pub(crate) fn finish(self) -> Plan {
        let (file, new) =
            (Totals::of(&self.parsed.rows, None), Totals::of(&self.parsed.rows, Some(&self.outcomes)));
        let mut problems = self.parsed.problems.clone();
        problems.extend(self.problems.finish());
        let mut questions = self.parsed.questions.clone();
        questions.extend(self.questions);
        let mut notes = self.parsed.notes.clone();
        notes.extend(self.notes);
        let mut duplicates = self.duplicates;
        duplicates.sort_by_key(|duplicate| duplicate.lines.first().copied().unwrap_or(0));
        Plan {
            facts: self.facts,
            outcomes: self.outcomes,
            duplicates,
            problems,
            questions,
            notes,
            makes: self.makes,
            price_changes: self.price_changes,
            file,
            new,
        }
    }
}

/// The currencies for which `$` is written.
const DOLLARS: &[&str] = &["USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"];

fn dated(rows: &Rows) -> Box<dyn Iterator<Item = (u64, Date)> + '_> {
    match rows {
        // A price is booked in no month, and what the bank shows moves none.
        Rows::Customers(_) | Rows::Prices(_) | Rows::Bank(_) => Box::new(std::iter::empty()),
        Rows::Jobs(rows) => Box::new(rows.iter().map(|row| (row.line, row.date))),
        Rows::Bills(rows) => Box::new(rows.iter().map(|row| (row.line, row.date))),
        Rows::Hours(rows) => Box::new(rows.iter().map(|row| (row.line, row.date))),
        Rows::Payments(rows) => Box::new(rows.iter().map(|row| (row.line, row.date))),
    }
}

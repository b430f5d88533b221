//! The hand-off: one folder of CSV files a month for whoever keeps the books, complete, balanced, and nothing twice.
//!
//! A month is handed off in parts. The first holds what is booked in the month; each further one only what is new
//! since. What a part holds follows from the facts between two marks (how far each device's facts were in) and from
//! the few figures that its own fact wrote down, so that the last part can be written again, byte for byte. No file
//! says when it was written.
//!
//! Nothing is handed off that does not tie: every entry of the journal balances, and the month's cost, billing,
//! revenue, labor, tax, retainage and payments are those of the month-end report and of the stored totals.

mod accounts;
mod at_month_end;
mod bank;
mod billing;
mod budget;
mod cash;
mod context;
mod costs;
mod facts;
mod hours;
mod journal;
mod labor;
mod month_facts;
mod movements;
mod overhead;
mod page;
mod parts;
mod people;
mod sets;
mod totals;
mod view;

use crate::paper_error::paper_error;
use desk::OfficeError;
use desk::{Act, Code, Desk};
use jiff::civil::Date;
use ledger::facts::HandOff;
use ledger::{Books, Digest};
use paperwork::{Cell, Table};
use serde::Serialize;
use std::path::{Path, PathBuf};
use trade::{Money, Month};

pub use sets::Made;
pub use totals::ControlTotal;

/// What a hand-off is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Gathering what is booked in the month.
    Gathering,
    /// Writing files.
    Writing,
}

impl Stage {
    /// The stage in words.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Stage::Gathering => "gathering the month",
            Stage::Writing => "writing the files",
        }
    }
}

/// How far it is. The work goes on as long as whoever is told answers `true`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// What it is at.
    pub stage: Stage,
    /// How many are done.
    pub done: u64,
    /// Of how many; 0 when that is not known.
    pub total: u64,
}

/// A file of the set, for a first look.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FileLook {
    /// Its name.
    pub file: String,
    /// What people call it.
    pub title: String,
    /// What a row is.
    pub description: String,
    /// The headings.
    pub columns: Vec<String>,
    /// How many rows.
    pub rows: usize,
    /// The first of them, as people read them.
    pub first: Vec<Vec<String>>,
}

/// A part that was made before.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct EarlierPart {
    /// 1, 2 and so on.
    pub part: i64,
    /// When it was made.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Debits of its journal.
    pub debits: Money,
}

/// What a hand-off would hold.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct HandOffPreview {
    /// The month.
    pub month: Month,
    /// Which part it would be; the last one once more when nothing is new.
    pub part: i64,
    /// Whether anything is new since the last part.
    pub new: bool,
    /// Whether the month is closed. While it is open, more may come, for a further part.
    pub closed: bool,
    /// The folder's name.
    pub folder: String,
    /// Entries in its journal.
    pub entries: usize,
    /// Its files.
    pub files: Vec<FileLook>,
    /// What must tie, and whether it does.
    pub control_totals: Vec<ControlTotal>,
    /// What a person should know of before.
    pub warnings: Vec<String>,
    /// The parts made before.
    pub earlier: Vec<EarlierPart>,
}

/// What a hand-off did.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct HandOffDone {
    /// The month.
    pub month: Month,
    /// Which part it is.
    pub part: i64,
    /// The folder.
    pub folder: PathBuf,
    /// The fact that recorded it; none when nothing was new and the last part was written again.
    pub recorded: Option<String>,
    /// Whether the folder was already there with the same bytes.
    pub already_there: bool,
    /// Entries in its journal.
    pub entries: usize,
    /// Debits of its journal, equal to its credits.
    pub debits: Money,
    /// Its files.
    pub files: Vec<FileLook>,
    /// What ties.
    pub control_totals: Vec<ControlTotal>,
    /// What a person should know of.
    pub warnings: Vec<String>,
    /// BLAKE3 over its files, as the fact holds it.
    pub hash: String,
}

/// A part worked out and not yet written.
struct Plan {
    made: Made,
    number: i64,
    /// What is to be recorded; none when nothing is new.
    record: Option<HandOff>,
    closed: bool,
    warnings: Vec<String>,
    earlier: Vec<EarlierPart>,
}

/// Shows what a hand-off of a month would hold, and writes nothing.
///
/// # Errors
/// When nothing is booked in the month, or the facts cannot be read.
pub fn preview(desk: &Desk, month: Month) -> Result<HandOffPreview, OfficeError> {
    let whole = desk.may(Act::SeeMargin)?;
    let plan = desk.books().in_one_read(|books| plan(books, month, desk.clock.today()))?;
    Ok(HandOffPreview {
        month,
        part: plan.number,
        new: plan.record.is_some(),
        closed: plan.closed,
        folder: plan.made.folder.name.clone(),
        entries: plan.made.entries,
        files: looks(&plan.made.tables, whole),
        control_totals: told(plan.made.totals, whole),
        warnings: plan.warnings,
        earlier: plan.earlier,
    })
}

/// Hands a month off into a folder of its own under `dir`, and records that it was. When nothing is new since the last
/// part, that part is written again, byte for byte, and nothing is recorded.
///
/// # Errors
/// `not-found` when nothing is booked in the month; `damaged` when something does not tie; `occupied` when the folder
/// already holds something else; `stopped` when `progress` answered no; `io` when the disk refuses. Nothing is
/// half-written, and nothing is recorded, then.
pub fn hand_off(
    desk: &mut Desk,
    month: Month,
    dir: &Path,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<HandOffDone, OfficeError> {
    if !progress(Progress { stage: Stage::Gathering, done: 0, total: 0 }) {
        return Err(stopped());
    }
    let whole = desk.may(Act::SeeMargin)?;
    let today = desk.clock.today();
    let plan = desk.books().in_one_read(|books| plan(books, month, today))?;
    totals::must_tie(month, &plan.made.totals)?;
    let total = u64::try_from(plan.made.folder.files.len()).unwrap_or(u64::MAX);
    let mut go_on = |done: usize| {
        progress(Progress { stage: Stage::Writing, done: u64::try_from(done).unwrap_or(u64::MAX), total })
    };
    let Some(staged) = plan.made.folder.stage(dir, &mut go_on).map_err(|error| paper_error(&error))? else {
        return Err(stopped());
    };
    let already_there = staged.already_there();
    // Recorded first and named last: should the machine stop in between, the same part is simply written again.
    let hash = Digest(plan.made.folder.digest()).to_string();
    let debits = plan.made.debits;
    let recorded = match plan.record {
        Some(fact) => desk.record(vec![fact.into()])?.first().map(ToString::to_string),
        None => None,
    };
    let folder = staged.settle().map_err(|error| paper_error(&error))?;
    Ok(HandOffDone {
        month,
        part: plan.number,
        folder,
        recorded,
        already_there,
        entries: plan.made.entries,
        debits,
        files: looks(&plan.made.tables, whole),
        control_totals: told(plan.made.totals, whole),
        warnings: plan.warnings,
        hash,
    })
}

/// Works out which part is due and what it holds.
fn plan(books: Books<'_>, month: Month, today: Date) -> Result<Plan, OfficeError> {
    let month_facts = month_facts::MonthFacts::read(books, month)?;
    let history = parts::History::read(books, month)?;
    let next = month_facts.next(books, &history)?;
    let earlier = history.parts().map(|held| EarlierPart {
        part: held.fact.part,
        date: held.fact.date,
        debits: held.fact.journal_debits,
    });
    let last = match history.last() {
        None if next.is_empty() => {
            return Err(OfficeError::not_found(
                format!(
                    "Nothing is booked in {} yet, so there is nothing to hand off.",
                    trade::shown::month(month)
                ),
                "Check the month.",
            ));
        }
        Some(last) if next.is_empty() => Some(last),
        _ => None,
    };
    let again =
        last.map(|last| sets::make(books, &month_facts, &month_facts.again(&history, last))).transpose()?;
    // The same hash also says that what only stands in the month's figures, such as a forecast, is as it was.
    let unchanged = again.filter(|made| last.is_some_and(|last| made.folder.digest() == last.fact.files.0));
    let (made, number, record) = match unchanged {
        Some(made) => (made, last.map_or(next.number, |last| last.fact.part), None),
        None => {
            let made = sets::make(books, &month_facts, &next)?;
            (made, next.number, Some(next))
        }
    };
    let record = record.map(|part| HandOff {
        date: today,
        month,
        part: part.number,
        journal_debits: made.debits,
        files: Digest(made.folder.digest()),
        devices: part.window.to.handed(),
        labor: part.labor,
        jobs: part.movements,
    });
    let warnings = warnings(&made, month_facts.report.closed);
    Ok(Plan { made, number, record, closed: month_facts.report.closed, warnings, earlier: earlier.collect() })
}

fn warnings(made: &Made, closed: bool) -> Vec<String> {
    let mut warnings = Vec::new();
    if !closed {
        warnings.push("The month is still open. What comes in later goes into a further part.".to_owned());
    }
    if !made.unnamed.is_empty() {
        warnings.push(format!(
            "The journal uses lines without an account name of the firm's own, so ours stand there: {}.",
            made.unnamed.join(", ")
        ));
    }
    warnings
}

/// How many rows a first look shows.
const FIRST_ROWS: usize = 5;

fn look(table: &Table) -> FileLook {
    FileLook {
        file: table.file(),
        title: table.title.to_owned(),
        description: table.description.to_owned(),
        columns: table.columns.iter().map(|column| column.name.to_owned()).collect(),
        rows: table.rows().len(),
        first: table
            .rows()
            .iter()
            .take(FIRST_ROWS)
            .map(|row| row.iter().map(Cell::plain).collect())
            .collect(),
    }
}

/// A first look at each file; for whoever may not see margin without those that say what jobs make. They are in the
/// folder all the same: it is the owner's to give away.
fn looks(tables: &[Table], whole: bool) -> Vec<FileLook> {
    let of_margin = |table: &&Table| {
        ["job_results", "budget", "planned_work", "cash_ahead", "cash_expected", "control_totals"]
            .contains(&table.name)
    };
    tables.iter().filter(|table| whole || !of_margin(table)).map(look).collect()
}

/// The control totals; for whoever may not see margin without those that say what jobs make. That all of them tie is
/// looked at before.
fn told(totals: Vec<ControlTotal>, whole: bool) -> Vec<ControlTotal> {
    const OF_MARGIN: [&str; 6] =
        ["earned", "profit", "net_profit", "over_billed", "under_billed", "loss_provision"];
    totals.into_iter().filter(|total| whole || !OF_MARGIN.contains(&total.name)).collect()
}

fn stopped() -> OfficeError {
    OfficeError {
        code: Code::Stopped,
        field: None,
        message: "Stopped as asked.".to_owned(),
        remedy: "Nothing was written and nothing recorded.".to_owned(),
    }
}

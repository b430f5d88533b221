//! Recording a file: all of it in one transaction, or nothing.

use crate::plan::{check_allowed, plan};
use crate::planner::{Plan, Progress, RowOutcome, Stage, Totals};
use crate::reading::Parsed;
use crate::remember::remember;
use desk::Code;
use desk::Desk;
use desk::OfficeError;
use jiff::Timestamp;
use ledger::NewFact;
use serde::Serialize;

/// What was recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Applied {
    /// Facts that were recorded.
    pub facts: usize,
    /// Rows that they came from.
    pub rows: usize,
    /// Rows that were there already and were passed over.
    pub duplicates: usize,
    /// Vendors that were made.
    pub makes: Vec<String>,
    /// Sums over the rows that were recorded.
    pub totals: Totals,
}

/// Records a file in one transaction and remembers how it was read. `progress` is told how far it is; when it answers
/// no, nothing is written.
///
/// # Errors
/// When a problem or a question is open, when the ledger refuses a fact, or when it was stopped; nothing is written
/// then.
pub fn apply(
    desk: &mut Desk,
    parsed: &Parsed,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<Applied, OfficeError> {
    let person = desk.person()?;
    desk.ledger()?;
    // The plan takes its ids from the desk's clock while it reads the desk's books.
    let mut clock = desk.clock.clone();
    let mut at: Option<Timestamp> = None;
    let made = desk.books().in_one_read(|books| {
        let mut ids = || {
            let (moment, id) = clock.tick();
            at.get_or_insert(moment);
            id
        };
        plan(books, parsed, &mut ids, progress)
    })?;
    check_allowed(desk, &made)?;
    if !made.is_ready() {
        return Err(not_ready(&made));
    }
    let at = at.unwrap_or_else(|| clock.tick().0);
    desk.clock = clock;
    let applied = Applied {
        facts: made.facts.len(),
        rows: made.count(RowOutcome::New),
        duplicates: made.count(RowOutcome::Duplicate),
        makes: made.makes,
        totals: made.new,
    };
    let batch: Vec<NewFact> = made.facts.into_iter().map(|(id, fact)| NewFact { id, person, fact }).collect();
    let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
    let total = count(batch.len());
    let mut go_on = |done: usize| progress(Progress { stage: Stage::Recording, done: count(done), total });
    desk.append(&batch, at, &mut go_on).map_err(nothing_written)?;
    // The facts are in: that the mapping could not be kept is no reason to say that the import failed.
    if let Err(error) = remember(desk, parsed, at) {
        tracing::warn!(code = error.code.as_str(), "the mapping of an import was not kept");
    }
    progress(Progress { stage: Stage::Recording, done: total, total });
    Ok(applied)
}

fn nothing_written(error: OfficeError) -> OfficeError {
    let remedy = if [Code::Refused, Code::UnusualDate].contains(&error.code) {
        format!("{} Nothing of the file was recorded.", error.remedy).trim_start().to_owned()
    } else {
        error.remedy
    };
    OfficeError { remedy, ..error }
}

fn not_ready(plan: &Plan) -> OfficeError {
    let of = |count: usize, one: &str, many: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        more => Some(format!("{more} {many}")),
    };
    let open: Vec<String> = [
        of(plan.problems.len(), "problem", "problems"),
        of(plan.questions.len(), "open question", "open questions"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let first = plan
        .problems
        .first()
        .map(ToString::to_string)
        .or_else(|| plan.questions.first().map(|question| question.message.clone()))
        .unwrap_or_default();
    OfficeError {
        code: Code::Refused,
        field: None,
        message: format!("The file has {} and was not imported. The first: {first}", open.join(" and ")),
        remedy: "Nothing was recorded: settle these and import it again.".to_owned(),
    }
}

//! What a file would become, shown before anything is recorded.

use crate::amounts::NumberStyle;
use crate::columns::Kind;
use crate::dates::DateOrder;
use crate::plan::{check_allowed, plan};
use crate::planner::{Duplicate, Plan, PriceChange, RowOutcome, Totals};
use crate::problem::{Note, Problem, Question};
use crate::reading::Parsed;
use crate::table::Separator;
use desk::Desk;
use desk::OfficeError;
use ledger::Id;
use serde::Serialize;

/// How many rows, problems and duplicates a preview shows of each; the counts beside them are of all.
pub const SHOWN: usize = 200;

/// A field with the column it is read from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Column {
    /// The field's name.
    pub field: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Whether every line needs it.
    pub required: bool,
    /// The header of its column; absent when it is not read.
    pub header: Option<String>,
}

/// A row as it would be recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct RowShown {
    /// Line of the file.
    pub line: u64,
    /// Its values in the order of [`Preview::columns`], dates as ISO 8601, numbers plain; empty where nothing stands.
    pub values: Vec<String>,
    /// What becomes of it.
    pub outcome: RowOutcome,
}

/// What a file would become.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct Preview {
    /// What is imported.
    pub kind: Kind,
    /// Whether it can be applied: no problem and no question is open.
    pub ready: bool,
    /// What stands between the columns, when that is known.
    pub separator: Option<Separator>,
    /// The order of dates, when it is known.
    pub date_order: Option<DateOrder>,
    /// The style of numbers, when it is known.
    pub number_style: Option<NumberStyle>,
    /// The headers of the file.
    pub header: Vec<String>,
    /// The fields and their columns.
    pub columns: Vec<Column>,
    /// Headers of columns that are not read.
    pub unused: Vec<String>,
    /// The first rows.
    pub rows: Vec<RowShown>,
    /// Records in the file.
    pub records: usize,
    /// Rows that would be recorded.
    pub new: usize,
    /// Rows that are there already.
    pub duplicate: usize,
    /// Records that cannot be taken as they are, or wait for an answer.
    pub refused: usize,
    /// Facts that would be recorded.
    pub facts: usize,
    /// Vendors that would be made.
    pub makes: Vec<String>,
    /// What a price list would change, the first of it.
    pub price_changes: Vec<PriceChange>,
    /// Sums over all rows that could be read.
    pub file_totals: Totals,
    /// Sums over the new rows.
    pub new_totals: Totals,
    /// The first of what is there already.
    pub duplicates: Vec<Duplicate>,
    /// How many problems there are.
    pub problem_count: usize,
    /// The first of them.
    pub problems: Vec<Problem>,
    /// What has to be asked.
    pub questions: Vec<Question>,
    /// What is worth knowing.
    pub notes: Vec<Note>,
}

/// Holds a file against the ledger and shows what it would become. Nothing is recorded.
///
/// # Errors
/// When the ledger cannot be read.
pub fn preview(desk: &Desk, parsed: &Parsed) -> Result<Preview, OfficeError> {
    let made = desk.books().in_one_read(|books| plan(books, parsed, &mut Id::now, &mut |_| true))?;
    check_allowed(desk, &made)?;
    Ok(shown(parsed, made))
}

fn shown(parsed: &Parsed, plan: Plan) -> Preview {
    let fields = parsed.kind.fields().iter();
    let lines = parsed.rows.lines();
    let rows = lines.iter().zip(&plan.outcomes).take(SHOWN).enumerate();
    let (new, duplicate) = (plan.count(RowOutcome::New), plan.count(RowOutcome::Duplicate));
    Preview {
        kind: parsed.kind,
        ready: plan.is_ready(),
        separator: parsed.separator,
        date_order: parsed.date_order,
        number_style: parsed.number_style,
        header: parsed.header.clone(),
        columns: fields
            .map(|field| Column {
                field: field.name,
                what: field.what,
                required: field.required,
                header: parsed.column(field.name).map(str::to_owned),
            })
            .collect(),
        unused: parsed.unused.clone(),
        rows: rows
            .map(|(place, (line, outcome))| RowShown {
                line: *line,
                values: parsed.rows.texts(place),
                outcome: *outcome,
            })
            .collect(),
        records: parsed.records,
        new,
        duplicate,
        refused: parsed.records.saturating_sub(new + duplicate),
        facts: plan.facts.len(),
        makes: plan.makes,
        price_changes: plan.price_changes.into_iter().take(SHOWN).collect(),
        file_totals: plan.file,
        new_totals: plan.new,
        duplicates: plan.duplicates.into_iter().take(SHOWN).collect(),
        problem_count: plan.problems.len(),
        problems: plan.problems.into_iter().take(SHOWN).collect(),
        questions: plan.questions,
        notes: plan.notes,
    }
}

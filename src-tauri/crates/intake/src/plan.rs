//! What a file's rows would become in this ledger: which are new, which are there already, which cannot be taken.
//! The preview shows a plan and throws it away; applying makes the same plan again and records it.

use crate::planner::{Ids, Plan, Planner, Tell};
use crate::reading::Parsed;
use crate::rows::Rows;
use crate::{bank, bills, customers, hours, jobs, payments, prices};
use desk::{Act, Desk, OfficeError};
use ledger::Books;

/// Makes the plan of a file.
///
/// # Errors
/// When the ledger cannot be read, or whoever is told stops it.
pub(crate) fn plan(
    books: Books<'_>,
    parsed: &Parsed,
    ids: Ids<'_>,
    tell: Tell<'_>,
) -> Result<Plan, OfficeError> {
    let mut planner = Planner::begin(books, parsed, ids, tell)?;
    match &parsed.rows {
        Rows::Customers(rows) => customers::plan(&mut planner, rows)?,
        Rows::Jobs(rows) => jobs::plan(&mut planner, rows)?,
        Rows::Bills(rows) => bills::plan(&mut planner, rows)?,
        Rows::Hours(rows) => hours::plan(&mut planner, rows)?,
        Rows::Payments(rows) => payments::plan(&mut planner, rows)?,
        Rows::Bank(rows) => bank::plan(&mut planner, rows)?,
        Rows::Prices(rows) => prices::plan(&mut planner, rows)?,
    }
    Ok(planner.finish())
}

/// Refuses a file that would record what whoever sits here may not record: a file is no way around that.
///
/// # Errors
/// `not-allowed`, with whose it is.
pub(crate) fn check_allowed(desk: &Desk, plan: &Plan) -> Result<(), OfficeError> {
    let mut kinds: Vec<&'static str> = plan.facts.iter().map(|(_, fact)| fact.kind()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.into_iter().try_for_each(|kind| desk.check(Act::Record(kind)))
}

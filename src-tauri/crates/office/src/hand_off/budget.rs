//! What the firm means to do in the year of the month, month by month.

use super::people::source;
use super::view::{View, id};
use crate::month::budget::{Planned, budgets_of};
use crate::paper_error::AddRow;
use desk::OfficeError;
use ledger::Books;
use paperwork::{Cell, Column, Kind, Table};

/// The budget of each month of the year, as it was set when the part was made.
pub(super) fn table(books: Books<'_>, view: &View<'_>) -> Result<Table, OfficeError> {
    let money = |name: &'static str, title: &'static str, what| {
        Column::new(name, Kind::Money, title, what).required()
    };
    let columns = vec![
        Column::new("month", Kind::Month, "Month", "The month.").required(),
        money("earned", "Earned", "What jobs are to earn."),
        money("cost", "Cost of jobs", "What jobs are to cost."),
        money("gross_profit", "Gross profit", "Earned less cost of jobs."),
        money("overhead", "Overhead", "What the firm is to cost beside its jobs."),
        money("net_profit", "Net profit", "Gross profit less overhead."),
        Column::new("crew_days", Kind::Quantity, "Crew-days", "How many days of crews it takes.").required(),
        Column::new("set_on", Kind::Date, "Set on", "When it was set.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what set it, such as A-123."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact.").required(),
    ];
    let mut table = Table::new(
        "budget",
        "Budget",
        "One row for each month of the year that has a budget: what the owner meant it to bring.",
        &["month"],
        &[],
        columns,
    );
    let budgets = budgets_of(books, view.month.month.year(), |entry| view.part.window.to.hold(entry))?;
    for (month, held) in budgets {
        let planned = Planned::of(&held.fact);
        table.add(vec![
            month.into(),
            planned.earned.into(),
            planned.cost.into(),
            planned.gross_profit.into(),
            planned.overhead_cost.into(),
            planned.net_profit.into(),
            held.fact.crew_days.into(),
            held.fact.date.into(),
            Cell::text(source(&held.entry)),
            id(held.entry.id),
        ])?;
    }
    Ok(table)
}

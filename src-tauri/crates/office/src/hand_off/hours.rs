//! Hours and pay, for payroll.

use super::view::{View, Why, Work};
use crate::paper_error::AddRow;
use desk::OfficeError;
use paperwork::{Cell, Column, Kind, Link, Table};

const LINKS: &[Link] = &[Link { column: "job", table: "jobs", to: "job" }];

fn columns() -> Vec<Column> {
    vec![
        Column::new("row", Kind::Integer, "Row", "Place of the row, from 1.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what booked it, such as A-123."),
        Column::new("person", Kind::Text, "Person", "Who worked; empty for a difference that belongs to nobody alone."),
        Column::new("week", Kind::Date, "Week", "First day of the work week."),
        Column::new("date", Kind::Date, "Date", "The day worked."),
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("code", Kind::Text, "Code", "The cost code.").required(),
        Column::new("crew", Kind::Text, "Crew", "The crew they worked with."),
        Column::new(
            "why",
            Kind::Text,
            "Why",
            "Hours worked; hours reversed; hours given before that cost something else now; a difference caught up.",
        )
        .required()
        .one_of(Why::WORDS),
        Column::new("hours", Kind::Quantity, "Hours", "Hours; none where only the cost changed."),
        Column::new("straight", Kind::Money, "Straight pay", "Straight pay, and bonus.").required(),
        Column::new("premium", Kind::Money, "Overtime premium", "Its part of the week's overtime premium.").required(),
        Column::new("burden", Kind::Money, "Burden", "Employer's taxes, insurance and benefits.").required(),
        Column::new("condition", Kind::Text, "Hidden condition", "The number of the hidden condition it was for."),
        Column::new("reverses", Kind::Text, "Reverses", "The ledger's number of what this row reverses."),
        Column::new("reason", Kind::Text, "Reason", "Why it was reversed."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the hours' entry."),
    ]
}

/// The table of a part.
pub(super) fn table(view: &View<'_>, work: &[Work]) -> Result<Table, OfficeError> {
    let mut table = Table::new(
        "hours_and_pay",
        "Hours and pay",
        "One row for each time card: its hours, and its share of the week's pay, overtime premium and burden. Pay is \
         calculated by the week, so hours that came later can change it; the difference then has a row of its own.",
        &["row"],
        LINKS,
        columns(),
    );
    for (index, one) in work.iter().enumerate() {
        let people = &view.people;
        let (source, fact) = one.source();
        let time = one.time.as_ref();
        let (reverses, reason) = one.reversal.clone().unwrap_or_default();
        table.add(vec![
            Cell::Integer(i64::try_from(index + 1).unwrap_or(i64::MAX)),
            source,
            Cell::of(time.map(|time| people.names.person(time.person))),
            Cell::of(time.map(|time| view.week_of(time.date))),
            Cell::of(time.map(|time| time.date)),
            Cell::text(people.job(one.line.job)),
            Cell::text(people.names.code(one.line.code)),
            Cell::of(time.and_then(|time| time.crew).map(|crew| people.names.crew(crew))),
            one.why.as_str().into(),
            Cell::of(one.hours()),
            one.line.straight.into(),
            one.line.premium.into(),
            one.line.burden.into(),
            Cell::text(people.number(one.line.condition)?),
            Cell::text(reverses),
            Cell::text(reason),
            fact,
        ])?;
    }
    Ok(table)
}

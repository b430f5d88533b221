//! Cost in detail: every line of a bill, every direct cost, every hour's cost.

use super::facts::Facts;
use super::people::source;
use super::view::{View, Work, signed, signed_quantity};
use crate::paper_error::AddRow;
use desk::OfficeError;
use ledger::booked::Booked;
use ledger::facts::{Bill, DirectCost};
use paperwork::{Cell, Column, Kind, Link, Table};
use trade::{CostKind, Money, Qty};

const LINKS: &[Link] = &[Link { column: "job", table: "jobs", to: "job" }];

fn columns() -> Vec<Column> {
    vec![
        Column::new("row", Kind::Integer, "Row", "Place of the row, from 1.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what booked it, such as A-123."),
        Column::new("date", Kind::Date, "Date", "The date on the bill, direct cost or time card.").required(),
        Column::new("from", Kind::Text, "From", "Bill, direct cost, or labor.").required().one_of(FROM),
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("code", Kind::Text, "Code", "The cost code.").required(),
        Column::new("cost_kind", Kind::Text, "Kind of cost", "The kind of cost.").required().one_of(KINDS),
        Column::new("party", Kind::Text, "Vendor or person", "Who sent the bill or did the work."),
        Column::new("description", Kind::Text, "Description", "What it is."),
        Column::new(
            "quantity",
            Kind::Quantity,
            "Quantity",
            "How many; hours for labor. Below zero for what went back.",
        ),
        Column::new("unit", Kind::Text, "Unit", "Of what unit."),
        Column::new("amount", Kind::Money, "Amount", "Before tax; for labor, pay with its burden.")
            .required(),
        Column::new("tax", Kind::Money, "Tax", "Tax paid on it.").required(),
        Column::new(
            "cost",
            Kind::Money,
            "Cost",
            "What it added to the job's cost: with tax where tax is cost.",
        )
        .required(),
        Column::new(
            "condition",
            Kind::Text,
            "Hidden condition",
            "The number of the hidden condition it was for.",
        ),
        Column::new("reference", Kind::Text, "Reference", "The number on the bill."),
        Column::new("order", Kind::Text, "Order", "The number of the order that it fills."),
        Column::new("late", Kind::YesNo, "Late", "Whether its date is in a month closed before it came in.")
            .required(),
        Column::new("reverses", Kind::Text, "Reverses", "The ledger's number of what this row reverses."),
        Column::new("reason", Kind::Text, "Reason", "Why it was reversed."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact."),
    ]
}

const FROM: &[&str] = &["bill", "direct-cost", "labor"];
const KINDS: &[&str] = &["material", "labor", "subcontract", "equipment", "disposal", "permit", "other"];

/// The table of a part.
pub(super) fn table(view: &View<'_>, facts: &Facts, work: &[Work]) -> Result<Table, OfficeError> {
    let mut table = Table::new(
        "cost_detail",
        "Cost in detail",
        "One row for each line of a bill, each direct cost, and each time card's cost. Reversals stand with the \
         opposite sign. Labor that was calculated again stands with the difference alone.",
        &["row"],
        LINKS,
        columns(),
    );
    for bill in &facts.bills {
        bill_rows(view, bill, &mut table)?;
    }
    for cost in &facts.direct_costs {
        direct_cost_row(view, cost, &mut table)?;
    }
    for one in work {
        labor_row(view, one, &mut table)?;
    }
    Ok(table)
}

fn number(table: &Table) -> Cell {
    Cell::Integer(i64::try_from(table.rows().len() + 1).unwrap_or(i64::MAX))
}

fn bill_rows(view: &View<'_>, booked: &Booked<Bill>, table: &mut Table) -> Result<(), OfficeError> {
    let bill = &booked.fact;
    let people = &view.people;
    let tax_is_cost = view.month.settings.tax_is_cost(bill.date);
    for line in &bill.lines {
        let (amount, tax) = (signed(line.amount, booked.sign), signed(line.tax, booked.sign));
        let cost = if tax_is_cost { amount + tax } else { amount };
        // What a credit names went back, whatever sign its quantity was typed with.
        let went_back =
            |quantity: Qty| if bill.credit && quantity > Qty::ZERO { -quantity } else { quantity };
        let quantity = line.quantity.map(|quantity| signed_quantity(went_back(quantity), booked.sign));
        let mut row = vec![
            number(table),
            Cell::text(source(&booked.entry)),
            bill.date.into(),
            "bill".into(),
            Cell::text(people.job(line.job)),
            Cell::text(people.names.code(line.code)),
            line.cost_kind.as_str().into(),
            Cell::text(people.names.vendor(bill.vendor)),
            Cell::of(line.description.clone()),
            Cell::of(quantity),
            Cell::of(line.unit.clone()),
            amount.into(),
            tax.into(),
            cost.into(),
            Cell::text(people.number(line.condition)?),
            Cell::text(bill.reference.clone()),
            Cell::text(people.number(bill.purchase_order)?),
            (!view.month.month.contains(bill.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(())
}

fn direct_cost_row(
    view: &View<'_>,
    booked: &Booked<DirectCost>,
    table: &mut Table,
) -> Result<(), OfficeError> {
    let cost = &booked.fact;
    let amount = signed(cost.amount, booked.sign);
    let mut row = vec![
        number(table),
        Cell::text(source(&booked.entry)),
        cost.date.into(),
        "direct-cost".into(),
        Cell::text(view.people.job(cost.job)),
        Cell::text(view.people.names.code(cost.code)),
        cost.cost_kind.as_str().into(),
        Cell::Empty,
        Cell::text(cost.description.clone()),
        Cell::Empty,
        Cell::Empty,
        amount.into(),
        Money::ZERO.into(),
        amount.into(),
        Cell::text(view.people.number(cost.condition)?),
        Cell::Empty,
        Cell::Empty,
        (!view.month.month.contains(cost.date)).into(),
    ];
    row.extend(view.tail(booked)?);
    table.add(row)?;
    Ok(())
}

fn labor_row(view: &View<'_>, work: &Work, table: &mut Table) -> Result<(), OfficeError> {
    let people = &view.people;
    let (source, fact) = work.source();
    let date = work.time.as_ref().map_or(view.month.month.last_day(), |time| time.date);
    let hours = work.hours();
    let (reverses, reason) = work.reversal.clone().unwrap_or_default();
    table.add(vec![
        number(table),
        source,
        date.into(),
        "labor".into(),
        Cell::text(people.job(work.line.job)),
        Cell::text(people.names.code(work.line.code)),
        CostKind::Labor.as_str().into(),
        Cell::of(work.time.as_ref().map(|time| people.names.person(time.person))),
        work.why.as_str().into(),
        Cell::of(hours),
        Cell::of(hours.map(|_| "hour")),
        work.cost().into(),
        Money::ZERO.into(),
        work.cost().into(),
        Cell::text(people.number(work.line.condition)?),
        Cell::Empty,
        Cell::Empty,
        (!view.month.month.contains(date)).into(),
        Cell::text(reverses),
        Cell::text(reason),
        fact,
    ])?;
    Ok(())
}

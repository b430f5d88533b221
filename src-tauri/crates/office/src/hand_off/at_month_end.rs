//! How things stand at the end of the month: jobs, their results, what customers owe, what subcontractors billed.

use super::month_facts::MonthFacts;
use super::view::{View, id, signed};
use crate::explain::{Figure, MeasuredIn};
use crate::month::end::JobMonth;
use crate::paper_error::AddRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::PaidBy;
use ledger::facts::{Bill, Vendor, VendorPayment};
use ledger::{Books, Id};
use paperwork::{Cell, Column, Kind, Link, Table};
use std::collections::{BTreeMap, BTreeSet};
use trade::shown::share;
use trade::{Age, CostKind, Money, Month, Qty};

const JOB: &[Link] = &[Link { column: "job", table: "jobs", to: "job" }];

fn parsed(id: &str) -> Result<Id, OfficeError> {
    Id::parse(id).map_err(|problem| OfficeError::refused("id", &problem, ""))
}

/// Every job that any file of the part names.
fn named(view: &View<'_>) -> Result<BTreeSet<Id>, OfficeError> {
    let facts = &view.part.facts;
    let mut jobs: BTreeSet<Id> =
        facts.bills.iter().flat_map(|one| &one.fact.lines).map(|line| line.job).collect();
    jobs.extend(facts.direct_costs.iter().map(|one| one.fact.job));
    jobs.extend(facts.invoices.iter().map(|one| one.fact.job));
    jobs.extend(view.part.labor.iter().map(|line| line.job));
    jobs.extend(view.part.movements.iter().map(|line| line.job));
    let mut invoices: BTreeSet<Id> = facts.releases.iter().map(|one| one.fact.invoice).collect();
    invoices.extend(facts.allocations.iter().map(|one| one.fact.invoice));
    invoices.extend(facts.allocations.iter().filter_map(|one| one.fact.credit));
    invoices.extend(facts.refunds.iter().filter_map(|one| one.fact.credit));
    for open in &view.month.report.owed.invoices {
        invoices.insert(parsed(&open.id)?);
    }
    for invoice in invoices {
        jobs.extend(view.people.job_of_invoice(invoice)?);
    }
    for job in &view.month.report.jobs {
        jobs.insert(parsed(&job.result.id)?);
    }
    Ok(jobs)
}

/// The jobs that the other files name.
pub(super) fn jobs(view: &View<'_>) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("title", Kind::Text, "Title", "What is done."),
        Column::new("customer", Kind::Text, "Customer", "For whom."),
        Column::new("site", Kind::Text, "Site", "Where."),
        Column::new("job_id", Kind::Id, "Job's id", "The id of the job.").required(),
    ];
    let mut table = Table::new(
        "jobs",
        "Jobs",
        "One row for each job that any of the files names.",
        &["job"],
        &[],
        columns,
    );
    let mut rows: Vec<(String, Id)> =
        named(view)?.into_iter().map(|job| (view.people.job(job), job)).collect();
    rows.sort();
    for (number, job) in rows {
        let known = view.people.names.jobs.get(&job);
        table.add(vec![
            Cell::text(number),
            Cell::of(known.map(|job| job.title.clone())),
            Cell::text(view.people.customer_of(job)),
            Cell::of(known.map(|job| job.site.clone())),
            id(job),
        ])?;
    }
    Ok(table)
}

/// The figures of a job in the month-end report with the heads of their columns, in the order of the file.
const FIGURES: [(&str, Figure); 34] = [
    ("price", Figure::Price),
    ("changes", Figure::Changes),
    ("hidden_price", Figure::HiddenPrice),
    ("contract", Figure::Contract),
    ("cost", Figure::Cost),
    ("committed", Figure::Committed),
    ("forecast", Figure::Forecast),
    ("uninstalled", Figure::Uninstalled),
    ("complete", Figure::Complete),
    ("earned", Figure::Earned),
    ("backlog", Figure::Backlog),
    ("backlog_profit", Figure::BacklogProfit),
    ("billed", Figure::Billed),
    ("over_billed", Figure::OverBilled),
    ("under_billed", Figure::UnderBilled),
    ("loss_provision", Figure::LossProvision),
    ("retainage_held", Figure::RetainageHeld),
    ("received", Figure::Received),
    ("margin_sold", Figure::MarginSold),
    ("margin", Figure::Margin),
    ("margin_ratio", Figure::MarginRatio),
    ("hours", Figure::Hours),
    ("crew_days", Figure::CrewDays),
    ("overhead", Figure::Overhead),
    ("hidden_spent", Figure::HiddenSpent),
    ("hidden_billed", Figure::HiddenBilled),
    ("unrecovered", Figure::Unrecovered),
    ("backlog_before", Figure::BacklogBefore),
    ("month_signed", Figure::MonthSigned),
    ("month_changed", Figure::MonthChanged),
    ("month_earned", Figure::MonthEarned),
    ("month_cost", Figure::MonthCost),
    ("month_billed", Figure::MonthBilled),
    ("month_profit", Figure::MonthProfit),
];

/// A figure's column: its label and rule are those that it opens with.
fn column(name: &'static str, figure: Figure) -> Column {
    let kind = match figure.measure() {
        MeasuredIn::Money => Kind::Money,
        MeasuredIn::Hours | MeasuredIn::Count => Kind::Quantity,
        MeasuredIn::CrewDays | MeasuredIn::Share => Kind::Rate,
    };
    let column = Column::new(name, kind, figure.label(), figure.rule());
    // A job without a contract has no margin to divide.
    if figure == Figure::MarginRatio { column } else { column.required() }
}

/// A figure's value in its column.
fn cell(figure: Figure, job: &JobMonth) -> Cell {
    let Some(value) = figure.of_job(job) else { return Cell::Empty };
    match figure.measure() {
        MeasuredIn::Money => Money::exact(value).map_or(Cell::Empty, Cell::from),
        MeasuredIn::Hours | MeasuredIn::Count => Qty::exact(value).map_or(Cell::Empty, Cell::from),
        // To the millionth: a quotient's further digits say nothing, and no spreadsheet keeps them.
        MeasuredIn::CrewDays | MeasuredIn::Share => share(value).decimal().into(),
    }
}

/// The month-end report's jobs.
pub(super) fn job_results(view: &View<'_>) -> Result<Table, OfficeError> {
    let mut columns = vec![
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("stage", Kind::Text, "Stage", "Where it is in its life.").required(),
    ];
    columns.extend(FIGURES.into_iter().map(|(name, figure)| column(name, figure)));
    let mut table = Table::new(
        "job_results",
        "Job results",
        "One row for each job of the month-end report, as the month stood when this part was made.",
        &["job"],
        JOB,
        columns,
    );
    for job in &view.month.report.jobs {
        let stage = job.result.stage.as_str().into();
        let mut row = vec![Cell::text(view.people.job(parsed(&job.result.id)?)), stage];
        row.extend(FIGURES.into_iter().map(|(_, figure)| cell(figure, job)));
        table.add(row)?;
    }
    Ok(table)
}

/// What customers owe.
pub(super) fn receivables(view: &View<'_>) -> Result<Table, OfficeError> {
    const AGES: &[&str] = &["current", "1-30", "31-60", "61-90", "over-90"];
    let columns = vec![
        Column::new("invoice_id", Kind::Id, "Invoice's id", "The id of the invoice.").required(),
        Column::new("invoice", Kind::Text, "Invoice", "The invoice's number.").required(),
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("customer", Kind::Text, "Customer", "Who owes it."),
        Column::new(
            "due",
            Kind::Date,
            "Due",
            "The earliest day on which any of it was or is due; empty while all that is open is held.",
        ),
        Column::new(
            "days_past_due",
            Kind::Integer,
            "Days past due",
            "From that day to the month's end; below zero when not yet due.",
        ),
        Column::new("age", Kind::Text, "Age", "The age that this makes.").one_of(AGES),
        Column::new("open", Kind::Money, "Open", "Due and not paid.").required(),
        Column::new("retainage", Kind::Money, "Retainage", "Held and not yet due.").required(),
    ];
    let mut table = Table::new(
        "receivables",
        "Receivables",
        "One row for each invoice with anything open or held at the month's end. What customers have to their credit \
         is not taken off; it stands in receivables_by_customer.",
        &["invoice_id"],
        JOB,
        columns,
    );
    for open in &view.month.report.owed.invoices {
        let invoice = parsed(&open.id)?;
        let job = view.people.job_of_invoice(invoice)?;
        let age: Option<Age> = open.days_past_due.map(trade::age_bucket);
        table.add(vec![
            id(invoice),
            Cell::text(open.number.clone()),
            Cell::text(job.map(|job| view.people.job(job)).unwrap_or_default()),
            Cell::text(job.map(|job| view.people.customer_of(job)).unwrap_or_default()),
            open.due.as_ref().and_then(|due| due.parse::<Date>().ok()).map_or(Cell::Empty, Cell::Date),
            open.days_past_due.map_or(Cell::Empty, |days| Cell::Integer(i64::from(days))),
            age.map_or(Cell::Empty, |age| age.as_str().into()),
            open.open.into(),
            open.retainage.into(),
        ])?;
    }
    Ok(table)
}

/// What customers owe, customer by customer.
pub(super) fn customers(view: &View<'_>) -> Result<Table, OfficeError> {
    let money = |name: &'static str, title: &'static str, what| {
        Column::new(name, Kind::Money, title, what).required()
    };
    let columns = vec![
        Column::new("customer_id", Kind::Id, "Customer's id", "The id of the customer.").required(),
        Column::new("customer", Kind::Text, "Customer", "Who owes it.").required(),
        money("current", "Not yet due", "Due after the month's end."),
        money("days_1_to_30", "1 to 30 days", "1 to 30 days past due."),
        money("days_31_to_60", "31 to 60 days", "31 to 60 days past due."),
        money("days_61_to_90", "61 to 90 days", "61 to 90 days past due."),
        money("over_90", "Over 90 days", "More than 90 days past due."),
        money("open", "Open", "Due and not paid: the five ages together."),
        money("retainage", "Retainage", "Held and not yet due."),
        money(
            "credits",
            "Credits",
            "Credit memos and payments neither applied to an invoice nor given back.",
        ),
        money("balance", "Balance", "Open and retainage, less credits."),
    ];
    let mut table = Table::new(
        "receivables_by_customer",
        "Receivables by customer",
        "One row for each customer who owes anything or has anything to their credit at the month's end. A credit \
         never ages and lowers no age.",
        &["customer_id"],
        &[],
        columns,
    );
    for owes in &view.month.report.owed.customers {
        let customer = parsed(&owes.id)?;
        table.add(vec![
            id(customer),
            Cell::text(view.people.names.customer(customer)),
            owes.ages.current.into(),
            owes.ages.days_1_to_30.into(),
            owes.ages.days_31_to_60.into(),
            owes.ages.days_61_to_90.into(),
            owes.ages.over_90.into(),
            owes.open.into(),
            owes.retainage.into(),
            owes.credits.into(),
            owes.balance.into(),
        ])?;
    }
    Ok(table)
}

/// What one vendor billed in the year.
#[derive(Default)]
struct Billed {
    bills: i64,
    credits: i64,
    year: Money,
    subcontract: Money,
    month: Money,
    paid: Money,
    by_card: Money,
}

/// What subcontractors billed and were paid from January to the month's end.
pub(super) fn subcontractors(
    books: Books<'_>,
    view: &View<'_>,
    month_facts: &MonthFacts,
) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("vendor_id", Kind::Id, "Vendor's id", "The id of the vendor.").required(),
        Column::new("vendor", Kind::Text, "Vendor", "The subcontractor.").required(),
        Column::new("year", Kind::Integer, "Year", "The calendar year, from January to the month's end.")
            .required(),
        Column::new("bills", Kind::Integer, "Bills", "Bills booked in the year, less those reversed.")
            .required(),
        Column::new("credits", Kind::Integer, "Credits", "Credits booked in the year, less those reversed.")
            .required(),
        Column::new("billed", Kind::Money, "Billed", "Billed in the year, with tax and less credits.")
            .required(),
        Column::new(
            "subcontract",
            Kind::Money,
            "Subcontract",
            "Of that, work; the rest is material and the like.",
        )
        .required(),
        Column::new("month_billed", Kind::Money, "Billed in the month", "Of that, booked in the month.")
            .required(),
        Column::new("paid", Kind::Money, "Paid", "Paid in the year, cards left out.").required(),
        Column::new("by_card", Kind::Money, "By card", "Paid by card in the year.").required(),
    ];
    let mut table = Table::new(
        "subcontractors",
        "Subcontractors",
        "One row for each subcontractor that billed or was paid anything in the calendar year, through the month's \
         end.",
        &["vendor_id"],
        &[],
        columns,
    );
    let month = month_facts.month;
    let january = Month::of(jiff::civil::date(month.year(), 1, 1));
    let mut billed: BTreeMap<Id, Billed> = BTreeMap::new();
    let is_subcontractor =
        |vendor| view.people.names.vendors.get(&vendor).is_some_and(|vendor: &Vendor| vendor.subcontractor);
    for booked in books.booked_between::<VendorPayment>(january, month)? {
        let payment = &booked.fact;
        if is_subcontractor(payment.vendor) && view.part.window.to.hold(&booked.entry) {
            let sum = billed.entry(payment.vendor).or_default();
            let of_method = if payment.method == PaidBy::Card { &mut sum.by_card } else { &mut sum.paid };
            *of_method += signed(payment.total(), booked.sign);
        }
    }
    for booked in books.booked_between::<Bill>(january, month)? {
        let bill = &booked.fact;
        if !is_subcontractor(bill.vendor) || !view.part.window.to.hold(&booked.entry) {
            continue;
        }
        let sum = billed.entry(bill.vendor).or_default();
        *if bill.credit { &mut sum.credits } else { &mut sum.bills } += booked.sign;
        for line in &bill.lines {
            let amount = signed(line.amount + line.tax, booked.sign);
            sum.year += amount;
            if line.cost_kind == CostKind::Subcontract {
                sum.subcontract += amount;
            }
            if booked.month == month {
                sum.month += amount;
            }
        }
    }
    let mut rows: Vec<(String, Id, Billed)> = billed
        .into_iter()
        .map(|(vendor, billed)| (view.people.names.vendor(vendor), vendor, billed))
        .collect();
    rows.sort_by(|left, right| (&left.0, left.1).cmp(&(&right.0, right.1)));
    for (name, vendor, billed) in rows {
        table.add(vec![
            id(vendor),
            Cell::text(name),
            Cell::Integer(i64::from(month.year())),
            Cell::Integer(billed.bills),
            Cell::Integer(billed.credits),
            billed.year.into(),
            billed.subcontract.into(),
            billed.month.into(),
            billed.paid.into(),
            billed.by_card.into(),
        ])?;
    }
    Ok(table)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_has_the_word_of_its_figure() {
        for (name, figure) in FIGURES {
            assert_eq!(name, figure.as_str().replace('-', "_"));
        }
    }
}

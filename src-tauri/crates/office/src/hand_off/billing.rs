//! Invoices and their lines, retainage that falls due, payments, what is applied to invoices, and refunds.

use super::facts::Facts;
use super::people::source;
use super::view::{View, signed};
use crate::paper_error::AddRow;
use desk::OfficeError;
use ledger::booked::Booked;
use ledger::facts::Invoice;
use paperwork::{Cell, Column, Kind, Link, Table};
use trade::Money;

const JOB: &[Link] = &[Link { column: "job", table: "jobs", to: "job" }];
const INVOICE: &[Link] = &[Link { column: "source", table: "invoices", to: "source" }];

fn source_column() -> Column {
    Column::new("source", Kind::Text, "Source", "The ledger's number of what booked it, such as A-123.")
        .required()
}

fn late_column() -> Column {
    Column::new("late", Kind::YesNo, "Late", "Whether its date is in a month closed before it came in.")
        .required()
}

fn tail_columns() -> [Column; 3] {
    [
        Column::new("reverses", Kind::Text, "Reverses", "The ledger's number of what this row reverses."),
        Column::new("reason", Kind::Text, "Reason", "Why it was reversed."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact.").required(),
    ]
}

/// Net amount of an invoice before tax.
pub(super) fn net(booked: &Booked<Invoice>) -> Money {
    signed(booked.fact.lines.iter().map(|line| line.amount).sum(), booked.sign)
}

/// Invoices and credit memos.
pub(super) fn invoices(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut columns = vec![
        source_column(),
        Column::new("date", Kind::Date, "Date", "The date on the invoice.").required(),
        Column::new("number", Kind::Text, "Number", "The invoice's number.").required(),
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("customer", Kind::Text, "Customer", "Who is billed."),
        Column::new("purpose", Kind::Text, "For", "What it is for.").required(),
        Column::new("due", Kind::Date, "Due", "The day it is due.").required(),
        Column::new("net", Kind::Money, "Net", "Billed before tax; below zero on a credit memo.").required(),
        Column::new("tax", Kind::Money, "Sales tax", "Sales tax on it.").required(),
        Column::new(
            "retainage",
            Kind::Money,
            "Retainage",
            "Held until the end; below zero, what a credit memo takes off it.",
        )
        .required(),
        Column::new("due_now", Kind::Money, "Due now", "Net and tax less retainage.").required(),
        Column::new(
            "credits",
            Kind::Text,
            "Credits",
            "The invoice that a credit memo lowers; without one it stands to the customer's credit.",
        ),
        Column::new("note", Kind::Text, "Note", "Note."),
        late_column(),
    ];
    columns.extend(tail_columns());
    let mut table = Table::new(
        "invoices",
        "Invoices",
        "One row for each invoice and credit memo. Reversals stand with the opposite sign.",
        &["source"],
        JOB,
        columns,
    );
    for booked in &facts.invoices {
        let invoice = &booked.fact;
        let (tax, held) = (signed(invoice.tax, booked.sign), signed(invoice.retainage, booked.sign));
        let mut row = vec![
            Cell::text(source(&booked.entry)),
            invoice.date.into(),
            Cell::text(invoice.number.clone()),
            Cell::text(view.people.job(invoice.job)),
            Cell::text(view.people.customer_of(invoice.job)),
            invoice.purpose.as_str().into(),
            invoice.due.into(),
            net(booked).into(),
            tax.into(),
            held.into(),
            (net(booked) + tax - held).into(),
            Cell::text(view.people.number(invoice.credits)?),
            Cell::of(invoice.note.clone()),
            (!view.month.month.contains(invoice.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(table)
}

/// Lines of invoices.
pub(super) fn invoice_lines(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let columns = vec![
        source_column(),
        Column::new("line", Kind::Integer, "Line", "Place of the line on its invoice, from 1.").required(),
        Column::new("number", Kind::Text, "Number", "The invoice's number.").required(),
        Column::new("description", Kind::Text, "Description", "What is billed.").required(),
        Column::new("amount", Kind::Money, "Amount", "Before tax; below zero on a credit memo.").required(),
        Column::new("taxable", Kind::YesNo, "Taxable", "Whether sales tax is due on it.").required(),
        Column::new(
            "change_order",
            Kind::Text,
            "Change order",
            "The number of the change order that it bills.",
        ),
    ];
    let mut table = Table::new(
        "invoice_lines",
        "Invoice lines",
        "One row for each line of each invoice.",
        &["source", "line"],
        INVOICE,
        columns,
    );
    for booked in &facts.invoices {
        for (index, line) in booked.fact.lines.iter().enumerate() {
            table.add(vec![
                Cell::text(source(&booked.entry)),
                Cell::Integer(i64::try_from(index + 1).unwrap_or(i64::MAX)),
                Cell::text(booked.fact.number.clone()),
                Cell::text(line.description.clone()),
                signed(line.amount, booked.sign).into(),
                line.taxable.into(),
                Cell::text(view.people.number(line.change_order)?),
            ])?;
        }
    }
    Ok(table)
}

/// Retainage that falls due.
pub(super) fn releases(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut columns = vec![
        source_column(),
        Column::new("date", Kind::Date, "Date", "When it was released.").required(),
        Column::new("invoice", Kind::Text, "Invoice", "The invoice that held it.").required(),
        Column::new("job", Kind::Text, "Job", "The job's number."),
        Column::new("amount", Kind::Money, "Amount", "How much falls due.").required(),
        Column::new("due", Kind::Date, "Due", "The day it is due.").required(),
        late_column(),
    ];
    columns.extend(tail_columns());
    let mut table = Table::new(
        "retainage_released",
        "Retainage released",
        "One row for each amount held on an invoice that now falls due.",
        &["source"],
        JOB,
        columns,
    );
    for booked in &facts.releases {
        let release = &booked.fact;
        let job = view.people.job_of_invoice(release.invoice)?;
        let mut row = vec![
            Cell::text(source(&booked.entry)),
            release.date.into(),
            Cell::text(view.people.number(Some(release.invoice))?),
            Cell::of(job.map(|job| view.people.job(job))),
            signed(release.amount, booked.sign).into(),
            release.due.into(),
            (!view.month.month.contains(release.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(table)
}

/// Payments.
pub(super) fn payments(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut columns = vec![
        source_column(),
        Column::new("date", Kind::Date, "Date", "When it came.").required(),
        Column::new("customer", Kind::Text, "Customer", "From whom.").required(),
        Column::new("amount", Kind::Money, "Amount", "How much came.").required(),
        Column::new("method", Kind::Text, "By", "How it came.").required(),
        Column::new("reference", Kind::Text, "Reference", "Check number or the like."),
        late_column(),
    ];
    columns.extend(tail_columns());
    let mut table = Table::new(
        "payments",
        "Payments",
        "One row for each payment that came. How it was applied to invoices stands in payment_allocations.",
        &["source"],
        &[],
        columns,
    );
    for booked in &facts.payments {
        let payment = &booked.fact;
        let mut row = vec![
            Cell::text(source(&booked.entry)),
            payment.date.into(),
            Cell::text(view.people.names.customer(payment.customer)),
            signed(payment.amount, booked.sign).into(),
            payment.method.as_str().into(),
            Cell::of(payment.reference.clone()),
            (!view.month.month.contains(payment.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(table)
}

/// Money given back to customers.
pub(super) fn refunds(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut columns = vec![
        source_column(),
        Column::new("date", Kind::Date, "Date", "When it was given back.").required(),
        Column::new("customer", Kind::Text, "Customer", "To whom.").required(),
        Column::new(
            "payment",
            Kind::Text,
            "Payment",
            "The ledger's number of the payment that is given back, in this part or before.",
        ),
        Column::new("credit", Kind::Text, "Credit memo", "Or the number of the credit memo."),
        Column::new("amount", Kind::Money, "Amount", "How much was given back.").required(),
        Column::new("method", Kind::Text, "By", "How it was given back.").required(),
        Column::new("reference", Kind::Text, "Reference", "Check number or the like."),
        late_column(),
    ];
    columns.extend(tail_columns());
    let mut table = Table::new(
        "refunds",
        "Refunds",
        "One row for each amount given back to a customer, of a payment or of a credit memo.",
        &["source"],
        &[],
        columns,
    );
    for booked in &facts.refunds {
        let refund = &booked.fact;
        let mut row = vec![
            Cell::text(source(&booked.entry)),
            refund.date.into(),
            Cell::text(view.people.names.customer(refund.customer)),
            Cell::of(refund.payment.map(|payment| view.people.source(payment)).transpose()?),
            Cell::text(view.people.number(refund.credit)?),
            signed(refund.amount, booked.sign).into(),
            refund.method.as_str().into(),
            Cell::of(refund.reference.clone()),
            (!view.month.month.contains(refund.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(table)
}

/// Payments and credits applied to invoices.
pub(super) fn allocations(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut columns = vec![
        source_column(),
        Column::new("date", Kind::Date, "Date", "When it was applied to the invoice.").required(),
        Column::new(
            "payment",
            Kind::Text,
            "Payment",
            "The ledger's number of the payment, in this part or before; empty where a credit memo is applied.",
        ),
        Column::new("reference", Kind::Text, "Reference", "The payment's check number or the like."),
        Column::new("credit", Kind::Text, "Credit memo", "The number of the credit memo that is applied."),
        Column::new("invoice", Kind::Text, "Invoice", "The invoice's number.").required(),
        Column::new("job", Kind::Text, "Job", "The job's number."),
        Column::new("amount", Kind::Money, "Amount", "How much of it went to the invoice.").required(),
        late_column(),
    ];
    columns.extend(tail_columns());
    let mut table = Table::new(
        "payment_allocations",
        "Payments and credits applied to invoices",
        "One row for each amount of a payment or credit memo that was applied to an invoice.",
        &["source"],
        JOB,
        columns,
    );
    for booked in &facts.allocations {
        let allocation = &booked.fact;
        let job = view.people.job_of_invoice(allocation.invoice)?;
        let mut row = vec![
            Cell::text(source(&booked.entry)),
            allocation.date.into(),
            Cell::of(allocation.payment.map(|payment| view.people.source(payment)).transpose()?),
            Cell::text(view.people.number(allocation.payment)?),
            Cell::text(view.people.number(allocation.credit)?),
            Cell::text(view.people.number(Some(allocation.invoice))?),
            Cell::of(job.map(|job| view.people.job(job))),
            signed(allocation.amount, booked.sign).into(),
            (!view.month.month.contains(allocation.date)).into(),
        ];
        row.extend(view.tail(booked)?);
        table.add(row)?;
    }
    Ok(table)
}

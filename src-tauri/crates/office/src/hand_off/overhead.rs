//! What the firm costs beside its jobs, what vendors were paid, and what they are owed.

use super::facts::Facts;
use super::month_facts::MonthFacts;
use super::people::source;
use super::view::{View, id, signed};
use crate::month::overhead::LET_OFF;
use crate::paper_error::AddRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Id;
use ledger::booked::Booked;
use ledger::closed_lists::OwedFrom;
use ledger::facts::Fact;
use paperwork::{Cell, Column, Kind, Table};
use trade::Money;

const FROM: &[&str] = &["bill", "overhead-cost", "direct-cost", "vendor-payment"];

const PAID_FROM: &[&str] = &["bank", "wages", "set-aside"];

fn columns() -> Vec<Column> {
    vec![
        Column::new("row", Kind::Integer, "Row", "Place of the row, from 1.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what booked it, such as A-123."),
        Column::new("date", Kind::Date, "Date", "The date on the bill, cost or payment.").required(),
        Column::new("from", Kind::Text, "From", "What it comes from.").required().one_of(FROM),
        Column::new("account_number", Kind::Text, "Account number", "The account's number."),
        Column::new("account", Kind::Text, "Account", "The account.").required(),
        Column::new("party", Kind::Text, "Vendor or job", "Who sent the bill, or the job that was charged."),
        Column::new("description", Kind::Text, "Description", "What it is."),
        Column::new("amount", Kind::Money, "Amount", "Before tax.").required(),
        Column::new("tax", Kind::Money, "Tax", "Tax paid on it; it is always part of the cost.").required(),
        Column::new(
            "cost",
            Kind::Money,
            "Cost",
            "What it added to the account; below zero where a job was charged or a vendor let off.",
        )
        .required(),
        Column::new("paid_from", Kind::Text, "Paid from", "Where a cost without a bill comes from.")
            .one_of(PAID_FROM),
        Column::new("reference", Kind::Text, "Reference", "The number on the bill, or of the check."),
        Column::new("late", Kind::YesNo, "Late", "Whether its date is in a month closed before it came in.")
            .required(),
        Column::new("reverses", Kind::Text, "Reverses", "The ledger's number of what this row reverses."),
        Column::new("reason", Kind::Text, "Reason", "Why it was reversed."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact."),
    ]
}

/// A row of the table, before it is numbered.
struct Row<'a> {
    from: &'static str,
    date: Date,
    account: Option<Id>,
    party: String,
    description: &'a str,
    amount: Money,
    tax: Money,
    paid_from: Option<OwedFrom>,
    reference: Option<&'a str>,
}

/// What the firm costs beside its jobs, line by line.
pub(super) fn table(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let mut table = Table::new(
        "overhead",
        "Overhead",
        "One row for each line of a bill that is no job's, each cost without a bill, each use of the firm's own \
         equipment on a job, and what vendors let off for being paid early. Reversals stand with the opposite sign.",
        &["row"],
        &[],
        columns(),
    );
    let vendor = |vendor: Id| view.people.names.vendor(vendor);
    for booked in &facts.bills {
        for line in &booked.fact.overhead {
            let row = Row {
                from: "bill",
                date: booked.fact.date,
                account: Some(line.account),
                party: vendor(booked.fact.vendor),
                description: line.description.as_deref().unwrap_or_default(),
                amount: line.amount,
                tax: line.tax,
                paid_from: None,
                reference: Some(&booked.fact.reference),
            };
            add(view, booked, row, &mut table)?;
        }
    }
    for booked in &facts.overhead_costs {
        let cost = &booked.fact;
        let row = Row {
            from: "overhead-cost",
            date: cost.date,
            account: Some(cost.account),
            party: String::new(),
            description: &cost.description,
            amount: cost.amount,
            tax: Money::ZERO,
            paid_from: Some(cost.owed_from),
            reference: None,
        };
        add(view, booked, row, &mut table)?;
    }
    for booked in facts.direct_costs.iter().filter(|booked| booked.fact.equipment.is_some()) {
        let cost = &booked.fact;
        let row = Row {
            from: "direct-cost",
            date: cost.date,
            account: cost.equipment,
            party: view.people.job(cost.job),
            description: &cost.description,
            amount: -cost.amount,
            tax: Money::ZERO,
            paid_from: None,
            reference: None,
        };
        add(view, booked, row, &mut table)?;
    }
    for booked in &facts.vendor_payments {
        let off: Money = booked.fact.bills.iter().map(|line| line.discount).sum();
        if off.is_zero() {
            continue;
        }
        let row = Row {
            from: "vendor-payment",
            date: booked.fact.date,
            account: None,
            party: vendor(booked.fact.vendor),
            description: "Let off for being paid early",
            amount: -off,
            tax: Money::ZERO,
            paid_from: None,
            reference: booked.fact.reference.as_deref(),
        };
        add(view, booked, row, &mut table)?;
    }
    Ok(table)
}

fn add<T>(view: &View<'_>, booked: &Booked<T>, row: Row<'_>, table: &mut Table) -> Result<(), OfficeError> {
    let account = row.account.and_then(|account| view.people.names.overhead.get(&account));
    let name = row.account.map_or_else(|| LET_OFF.to_owned(), |account| view.people.names.overhead(account));
    let (amount, tax) = (signed(row.amount, booked.sign), signed(row.tax, booked.sign));
    let mut cells = vec![
        Cell::Integer(i64::try_from(table.rows().len() + 1).unwrap_or(i64::MAX)),
        Cell::text(source(&booked.entry)),
        row.date.into(),
        row.from.into(),
        Cell::of(account.and_then(|account| account.number.clone())),
        Cell::text(name),
        Cell::text(row.party),
        Cell::text(row.description),
        amount.into(),
        tax.into(),
        (amount + tax).into(),
        Cell::of(row.paid_from.map(OwedFrom::as_str)),
        Cell::of(row.reference),
        (!view.month.month.contains(row.date)).into(),
    ];
    cells.extend(view.tail(booked)?);
    table.add(cells)?;
    Ok(())
}

/// What vendors were paid, bill by bill.
pub(super) fn vendor_payments(view: &View<'_>, facts: &Facts) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("row", Kind::Integer, "Row", "Place of the row, from 1.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what booked it, such as A-123."),
        Column::new("date", Kind::Date, "Date", "When it was paid.").required(),
        Column::new("vendor", Kind::Text, "Vendor", "Who was paid.").required(),
        Column::new("method", Kind::Text, "Method", "How.")
            .required()
            .one_of(&["check", "card", "transfer", "cash"]),
        Column::new("reference", Kind::Text, "Reference", "The number of the check, or the like."),
        Column::new("bill", Kind::Text, "Bill", "The number of the bill that it pays."),
        Column::new(
            "amount",
            Kind::Money,
            "Amount",
            "What was paid of the bill; below zero for a credit that was taken.",
        )
        .required(),
        Column::new("discount", Kind::Money, "Discount", "What the vendor let off.").required(),
        Column::new("reverses", Kind::Text, "Reverses", "The ledger's number of what this row reverses."),
        Column::new("reason", Kind::Text, "Reason", "Why it was reversed."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact."),
    ];
    let mut table = Table::new(
        "vendor_payments",
        "Payments to vendors",
        "One row for each bill that a payment pays. Reversals stand with the opposite sign.",
        &["row"],
        &[],
        columns,
    );
    for booked in &facts.vendor_payments {
        let payment = &booked.fact;
        for line in &payment.bills {
            let mut cells = vec![
                Cell::Integer(i64::try_from(table.rows().len() + 1).unwrap_or(i64::MAX)),
                Cell::text(source(&booked.entry)),
                payment.date.into(),
                Cell::text(view.people.names.vendor(payment.vendor)),
                payment.method.as_str().into(),
                Cell::of(payment.reference.clone()),
                Cell::text(view.people.number(Some(line.bill))?),
                signed(line.amount, booked.sign).into(),
                signed(line.discount, booked.sign).into(),
            ];
            cells.extend(view.tail(booked)?);
            table.add(cells)?;
        }
    }
    Ok(table)
}

/// What vendors are owed at the month's end, bill by bill.
pub(super) fn payables(view: &View<'_>, month: &MonthFacts) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("bill_id", Kind::Id, "Bill's id", "The id of the bill.").required(),
        Column::new("vendor", Kind::Text, "Vendor", "Whose it is.").required(),
        Column::new("bill", Kind::Text, "Bill", "The number on it.").required(),
        Column::new("date", Kind::Date, "Date", "The date on it.").required(),
        Column::new("due", Kind::Date, "Due", "When it is to be paid, where that is known."),
        Column::new("open", Kind::Money, "Open", "Not yet paid; below zero for a credit not yet taken.")
            .required(),
    ];
    let mut table = Table::new(
        "payables",
        "Payables",
        "One row for each bill with anything open at the month's end.",
        &["bill_id"],
        &[],
        columns,
    );
    for (bill, open) in &month.open_bills {
        let Some((_, Fact::Bill(fact))) = view.people.fact(*bill)? else { continue };
        table.add(vec![
            id(*bill),
            Cell::text(view.people.names.vendor(fact.vendor)),
            Cell::text(fact.reference.clone()),
            fact.date.into(),
            fact.due.map_or(Cell::Empty, Cell::Date),
            (*open).into(),
        ])?;
    }
    Ok(table)
}

/// The firm's overhead accounts.
pub(super) fn accounts(view: &View<'_>) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("account_id", Kind::Id, "Account's id", "The id of the account.").required(),
        Column::new("number", Kind::Text, "Number", "Its number, if it has one."),
        Column::new("name", Kind::Text, "Name", "Its name.").required(),
    ];
    let mut table = Table::new(
        "overhead_accounts",
        "Overhead accounts",
        "One row for each account of overhead, used or not.",
        &["account_id"],
        &[],
        columns,
    );
    for (account, named) in &view.people.names.overhead {
        table.add(vec![id(*account), Cell::of(named.number.clone()), Cell::text(named.name.clone())])?;
    }
    Ok(table)
}

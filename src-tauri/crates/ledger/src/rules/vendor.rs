//! What the books refuse of bills, of what vendors are paid, of costs that come again, and of budgets.

use super::ask::{Check, cents, condition_of_job, not_labor, not_negative};
use crate::error::{LedgerError, refuse};
use crate::facts::{Bill, Budget, RecurringCost, VendorPapers, VendorPayment};
use crate::id::Id;
use crate::live::live;
use crate::read::Books;
use rusqlite::Connection;
use trade::Money;
use trade::shown::day;

pub(super) fn check_bill(conn: &Connection, bill: &Bill) -> Check {
    if bill.lines.is_empty() && bill.overhead.is_empty() {
        return refuse(
            "lines",
            "a bill needs at least one line",
            "Type what was bought, for which job and code or for which overhead account",
        );
    }
    let total = bill.total();
    if bill.credit && total > Money::ZERO {
        return refuse(
            "credit",
            format!("a credit lowers cost, but its lines come to {}", total.grouped()),
            "Type the amounts below zero",
        );
    }
    if !bill.credit && total.is_negative() {
        return refuse(
            "lines",
            format!("the lines come to {}", total.grouped()),
            "Mark it as a credit, or correct the signs",
        );
    }
    if bill.completes_order && bill.purchase_order.is_none() {
        return refuse(
            "completes_order",
            "no order is named",
            "Name the purchase order that is now complete",
        );
    }
    if let Some(due) = bill.due.filter(|due| *due < bill.date) {
        return refuse("due", format!("{} is before the bill's own date", day(due)), "Check both dates");
    }
    for (index, line) in bill.lines.iter().enumerate() {
        not_labor(format!("lines[{index}].cost_kind"), line.cost_kind)?;
        condition_of_job(conn, format!("lines[{index}].condition"), line.condition, line.job)?;
    }
    Ok(())
}

/// A bill that came once is recorded once: the same number of the same vendor is the same bill.
pub(super) fn bill_beside(conn: &Connection, bill: &Bill) -> Check {
    let held = Books::over(conn).bills_numbered(bill.vendor, &bill.reference)?;
    let same = held.iter().find(|held| held.fact.credit == bill.credit);
    let Some(same) = same else { return Ok(()) };
    refuse(
        "reference",
        format!(
            "this vendor's {} {} is already recorded, dated {} and for {}",
            if bill.credit { "credit" } else { "bill" },
            bill.reference,
            day(same.fact.date),
            same.fact.total().grouped()
        ),
        "Look at that one; reverse it first if it was wrong",
    )
}

/// A payment pays its own vendor's bills; what it takes of credits is not more than what it pays.
pub(super) fn check_payment(conn: &Connection, payment: &VendorPayment) -> Check {
    if payment.bills.is_empty() {
        return refuse("bills", "a payment pays at least one bill", "Choose what it pays");
    }
    for (index, line) in payment.bills.iter().enumerate() {
        let field = |name: &str| format!("bills[{index}].{name}");
        let (vendor, credit): ([u8; 16], bool) =
            conn.query_row("SELECT vendor, credit FROM bill WHERE id = ?1", [line.bill.bytes()], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })?;
        if vendor != *payment.vendor.bytes() {
            return refuse(field("bill"), "it is another vendor's bill", "Pay each vendor for itself");
        }
        if payment.bills[..index].iter().any(|other| other.bill == line.bill) {
            return refuse(field("bill"), "this bill is named twice", "Name each once");
        }
        let wrong_sign = if credit { line.amount > Money::ZERO } else { line.amount.is_negative() };
        if wrong_sign || (line.amount + line.discount).is_zero() {
            return refuse(
                field("amount"),
                format!(
                    "{} is not what is paid of a {}",
                    line.amount.grouped(),
                    if credit { "credit" } else { "bill" }
                ),
                "Type what it pays, above zero; what it takes of a credit, below zero",
            );
        }
        if line.discount.is_negative() || (credit && !line.discount.is_zero()) {
            return refuse(
                field("discount"),
                format!("{} is no discount", line.discount.grouped()),
                "Type what the vendor lets off, or leave it out",
            );
        }
    }
    let total = payment.total();
    if total.is_negative() {
        return refuse(
            "bills",
            format!("the credits are above the bills: it comes to {}", total.grouped()),
            "Take no more of the credits than the bills hold",
        );
    }
    Ok(())
}

/// No more is paid than is open.
pub(super) fn payment_beside(conn: &Connection, payment: &VendorPayment) -> Check {
    for (index, line) in payment.bills.iter().enumerate() {
        let open = open_on(conn, line.bill)?;
        let paid = line.amount + line.discount;
        let beyond = if open.is_negative() { paid < open } else { paid > open };
        if beyond {
            return refuse(
                format!("bills[{index}].amount"),
                format!("{} is more than the {} open on this bill", paid.grouped(), open.grouped()),
                "Pay no more than is open; what is paid in advance waits for its bill",
            );
        }
    }
    Ok(())
}

/// What is open on a bill: its lines with tax, less what was paid and let off.
fn open_on(conn: &Connection, bill: Id) -> Result<Money, LedgerError> {
    let sql = format!(
        "SELECT coalesce((SELECT sum(amount_cents + tax_cents) FROM bill_line WHERE fact = ?1), 0)
              + coalesce((SELECT sum(amount_cents + tax_cents) FROM bill_overhead WHERE fact = ?1), 0)
              - coalesce((SELECT sum(p.amount_cents + p.discount_cents) FROM vendor_payment_bill p
                          WHERE p.bill = ?1 AND {}), 0)",
        live("p.fact")
    );
    cents(conn, &sql, bill)
}

/// A number for the tax office is written as on its form, an employer's or a person's.
pub(super) fn check_papers(papers: &VendorPapers) -> Check {
    if papers.tin.is_none() && papers.w9_signed.is_none() && papers.insured_until.is_none() {
        return refuse(
            "tin",
            "nothing is handed in",
            "Type the number, the day of the W-9, or how long they are insured",
        );
    }
    // What was typed is not said again: whoever reads the message over a shoulder reads the number.
    if papers.tin.as_deref().is_some_and(|tin| !is_tin(tin)) {
        return refuse(
            "tin",
            "this is not nine digits as on the form",
            "Type it as 12-3456789 or 123-45-6789",
        );
    }
    if papers.w9_signed.is_some_and(|signed| signed > papers.date) {
        return refuse(
            "w9_signed",
            "it is signed after the day on which it was handed in",
            "Check both days",
        );
    }
    Ok(())
}

fn is_tin(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let lengths: Vec<usize> = parts.iter().map(|part| part.len()).collect();
    let digits = parts.iter().all(|part| part.bytes().all(|byte| byte.is_ascii_digit()));
    digits && (lengths == [2, 7] || lengths == [3, 2, 4])
}

pub(super) fn check_recurring(cost: &RecurringCost) -> Check {
    if let Some(until) = cost.until.filter(|until| *until < cost.date) {
        return refuse("until", format!("{} is before the first day", day(until)), "Check both days");
    }
    if cost.vendor.is_some() == cost.owed_from.is_some() {
        return refuse(
            "vendor",
            "it comes as a vendor's bill or without one, and only one of the two",
            "Name the vendor, or say where it comes from",
        );
    }
    Ok(())
}

pub(super) fn check_budget(budget: &Budget) -> Check {
    not_negative("sales", budget.sales)?;
    not_negative("cost", budget.cost)?;
    not_negative("overhead", budget.overhead)?;
    if budget.crew_days.is_negative() {
        return refuse(
            "crew_days",
            "they are below zero",
            "Type the days of crews of the month, zero or more",
        );
    }
    Ok(())
}

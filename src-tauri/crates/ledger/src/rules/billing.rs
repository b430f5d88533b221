//! What the books refuse of invoices and credit memos, of retainage, payments and refunds.

use super::ask::{Check, cents, exists};
use crate::closed_lists::InvoiceFor;
use crate::error::{LedgerError, refuse};
use crate::facts::{Allocation, Fact, Invoice, Job, Refund, RetainageRelease};
use crate::id::Id;
use crate::live::{any_live, live, live_sum};
use crate::read::Books;
use rusqlite::Connection;
use trade::Money;
use trade::shown::day;

pub(super) fn check_invoice(conn: &Connection, invoice: &Invoice) -> Check {
    if invoice.lines.is_empty() {
        return refuse("lines", "an invoice needs at least one line", "Type what is billed");
    }
    let net: Money = invoice.lines.iter().map(|line| line.amount).sum();
    let is_credit = invoice.purpose == InvoiceFor::Credit;
    if !is_credit && (net.is_negative() || invoice.tax.is_negative()) {
        return refuse(
            "lines",
            format!("the lines come to {}", net.grouped()),
            "Make it a credit memo, or correct the signs",
        );
    }
    if invoice.due < invoice.date {
        return refuse(
            "due",
            format!("{} is before the invoice's own date", day(invoice.due)),
            "Check both dates",
        );
    }
    if is_credit {
        check_credit(conn, invoice, net)?;
    } else {
        check_held(invoice, net)?;
    }
    for (index, line) in invoice.lines.iter().enumerate() {
        let Some(order) = line.change_order else { continue };
        let of_job = "SELECT 1 FROM change_order WHERE id = ?1 AND job = ?2";
        if !exists(conn, of_job, &[order.bytes(), invoice.job.bytes()])? {
            return refuse(
                format!("lines[{index}].change_order"),
                "that change order is of another job",
                "Choose one of this job's",
            );
        }
    }
    Ok(())
}

fn check_held(invoice: &Invoice, net: Money) -> Check {
    if invoice.retainage.is_negative() || invoice.retainage > net + invoice.tax {
        return refuse(
            "retainage",
            format!("{} cannot be held of {}", invoice.retainage.grouped(), (net + invoice.tax).grouped()),
            "Check the share held",
        );
    }
    if invoice.credits.is_some() {
        return refuse(
            "credits",
            "only a credit memo names an invoice it lowers",
            "Make it a credit memo, or leave it out",
        );
    }
    Ok(())
}

/// A credit memo is below zero. One that names no invoice stands as the customer's credit until it is applied or
/// refunded.
fn check_credit(conn: &Connection, credit: &Invoice, net: Money) -> Check {
    if net > Money::ZERO || credit.tax > Money::ZERO {
        return refuse(
            "lines",
            format!("a credit memo lowers what is owed, but its lines come to {}", net.grouped()),
            "Type them below zero",
        );
    }
    if credit.retainage > Money::ZERO {
        return refuse(
            "retainage",
            format!("a credit memo holds nothing, and {} is above zero", credit.retainage.grouped()),
            "Type what it lowers of the retainage below zero, or leave it out",
        );
    }
    let (whole, of_held) = (-(net + credit.tax), -credit.retainage);
    if of_held > whole {
        return refuse(
            "retainage",
            format!(
                "{} of retainage is more than the {} of the credit memo",
                of_held.grouped(),
                whole.grouped()
            ),
            "Lower the retainage by no more than the credit memo comes to",
        );
    }
    let Some(lowered) = credit.credits else {
        if of_held.is_zero() {
            return Ok(());
        }
        return refuse(
            "retainage",
            "it names no invoice whose retainage it lowers",
            "Name the invoice, or leave the retainage out",
        );
    };
    // What is open on an invoice is worked out within its job.
    let of_job = "SELECT 1 FROM invoice WHERE id = ?1 AND job = ?2";
    if !exists(conn, of_job, &[lowered.bytes(), credit.job.bytes()])? {
        return refuse("credits", "that invoice is of another job", "Choose one of this job's");
    }
    if is_credit_memo(conn, lowered)? {
        return refuse("credits", "that is a credit memo itself", "Name the invoice that is lowered");
    }
    Ok(())
}

/// What an invoice must be beside those that stand: its number is its own, and a credit memo lowers what is due on its
/// invoice, or what is held of it, and neither below zero.
pub(super) fn invoice_beside(conn: &Connection, invoice: &Invoice) -> Check {
    if any_live(conn, "invoice", "number = ?1", &[&invoice.number])? {
        return refuse(
            "number",
            format!("invoice {} already exists", invoice.number),
            "Take the next number",
        );
    }
    let (Some(lowered), InvoiceFor::Credit) = (invoice.credits, invoice.purpose) else { return Ok(()) };
    let net: Money = invoice.lines.iter().map(|line| line.amount).sum();
    let (whole, of_held) = (-(net + invoice.tax), -invoice.retainage);
    let held = held_of(conn, lowered)?;
    if of_held > held {
        return refuse(
            "retainage",
            format!("{} is more than the {} still held of that invoice", of_held.grouped(), held.grouped()),
            "Lower the retainage by no more than is held",
        );
    }
    let (of_due, open) = (whole - of_held, open_on(conn, lowered)?);
    if of_due > open {
        return refuse(
            "lines",
            format!(
                "{} is more than the {} that is due on that invoice ({} more is held)",
                of_due.grouped(),
                open.grouped(),
                held.grouped()
            ),
            "Lower the amount, let it lower the retainage, or leave the invoice out: then it stands as the \
             customer's credit",
        );
    }
    Ok(())
}

fn is_credit_memo(conn: &Connection, invoice: Id) -> Result<bool, LedgerError> {
    exists(conn, "SELECT 1 FROM invoice WHERE id = ?1 AND purpose = 'credit'", &[invoice.bytes()])
}

/// What is left to be released is asked of the books as they stand.
pub(super) fn check_release(release: &RetainageRelease) -> Check {
    above_zero("amount", release.amount, "Type how much of what is held is due now")
}

/// No more is released than is held.
pub(super) fn release_beside(conn: &Connection, release: &RetainageRelease) -> Check {
    let left = held_of(conn, release.invoice)?;
    no_more_than(left, release.amount, "Check the amount", |amount, left| {
        format!("{amount} cannot be released of {left} still held")
    })
}

/// Refuses an amount beyond what there is of it, and says so with both.
fn no_more_than(
    most: Money,
    amount: Money,
    remedy: &str,
    problem: impl FnOnce(String, String) -> String,
) -> Check {
    if amount > most {
        return refuse("amount", problem(amount.grouped(), most.grouped()), remedy);
    }
    Ok(())
}

pub(super) fn check_allocation(conn: &Connection, allocation: &Allocation) -> Check {
    above_zero("amount", allocation.amount, "Type how much of it goes to this invoice")?;
    on_account(conn, allocation.credit)?;
    if is_credit_memo(conn, allocation.invoice)? {
        return refuse("invoice", "that is a credit memo", "Choose an invoice that is owed");
    }
    Ok(())
}

/// It is the payer's own invoice, and no more is applied than is left of the one and open on the other.
pub(super) fn allocation_beside(conn: &Connection, allocation: &Allocation) -> Check {
    let owing = customer_of(conn, allocation.invoice)?;
    if payer(conn, allocation.payment, allocation.credit)? != owing {
        return refuse("invoice", "it is another customer's invoice", "Choose one of the payer's own");
    }
    let (left, of) = left_of(conn, allocation.payment, allocation.credit)?;
    no_more_than(left, allocation.amount, "Apply no more than is left", |amount, left| {
        format!("{amount} cannot be applied: {left} of the {of} is left")
    })?;
    let open = open_on(conn, allocation.invoice)?;
    let remedy = "Apply the rest to another invoice, or leave it unapplied";
    no_more_than(open, allocation.amount, remedy, |amount, open| {
        format!("{amount} is more than the {open} open on this invoice")
    })
}

pub(super) fn check_refund(conn: &Connection, refund: &Refund) -> Check {
    on_account(conn, refund.credit)
}

/// It is the customer's own, and no more is given back than is left.
pub(super) fn refund_beside(conn: &Connection, refund: &Refund) -> Check {
    if payer(conn, refund.payment, refund.credit)? != Some(refund.customer) {
        let of = if refund.credit.is_some() { "credit memo" } else { "payment" };
        return refuse(
            "customer",
            format!("the {of} is another customer's"),
            "Give it back to whom it belongs, or choose one of this customer's",
        );
    }
    let (left, of) = left_of(conn, refund.payment, refund.credit)?;
    let remedy = "Give back no more than is left; what is applied to an invoice is freed by a credit memo";
    no_more_than(left, refund.amount, remedy, |amount, left| {
        format!("{amount} cannot be given back: {left} of the {of} is left")
    })
}

/// Refuses what is no credit memo, or has lowered its invoice already.
fn on_account(conn: &Connection, credit: Option<Id>) -> Check {
    let Some(credit) = credit else { return Ok(()) };
    if !is_credit_memo(conn, credit)? {
        return refuse("credit", "that is an invoice, not a credit memo", "Name a credit memo");
    }
    let lowers = "SELECT 1 FROM invoice WHERE id = ?1 AND credits IS NOT NULL";
    if exists(conn, lowers, &[credit.bytes()])? {
        return refuse(
            "credit",
            "that credit memo has lowered its invoice already",
            "Name one that stands as the customer's credit",
        );
    }
    Ok(())
}

fn above_zero(field: &str, amount: Money, remedy: &str) -> Check {
    if amount <= Money::ZERO {
        return refuse(field, format!("{} is not an amount above zero", amount.grouped()), remedy);
    }
    Ok(())
}

/// What is left of a payment or credit memo to be applied or given back, and which of the two it is.
fn left_of(
    conn: &Connection,
    payment: Option<Id>,
    credit: Option<Id>,
) -> Result<(Money, &'static str), LedgerError> {
    let used = |column: &str, id: Id| -> Result<Money, LedgerError> {
        let wanted = format!("{column} = ?1");
        let applied = live_sum(conn, "allocation", "amount_cents", &wanted, &[id.bytes()])?;
        Ok(Money::from_minor(applied + live_sum(conn, "refund", "amount_cents", &wanted, &[id.bytes()])?))
    };
    if let Some(payment) = payment {
        let paid = cents(conn, "SELECT amount_cents FROM payment WHERE id = ?1", payment)?;
        return Ok((paid - used("payment", payment)?, "payment"));
    }
    let Some(credit) = credit else { return Ok((Money::ZERO, "credit memo")) };
    Ok((-billed(conn, credit)? - used("credit", credit)?, "credit memo"))
}

/// Lines and tax of an invoice or credit memo, less what is held.
fn billed(conn: &Connection, invoice: Id) -> Result<Money, LedgerError> {
    let sql = "SELECT i.tax_cents - i.retainage_cents
               + coalesce((SELECT sum(l.amount_cents) FROM invoice_line l WHERE l.fact = i.id), 0)
               FROM invoice i WHERE i.id = ?1";
    cents(conn, sql, invoice)
}

/// Whose a payment or credit memo is.
fn payer(conn: &Connection, payment: Option<Id>, credit: Option<Id>) -> Result<Option<Id>, LedgerError> {
    match (payment, credit) {
        (Some(payment), _) => Ok(match Books::over(conn).fact(payment)?.map(|held| held.fact) {
            Some(Fact::Payment(payment)) => Some(payment.customer),
            _ => None,
        }),
        (None, Some(credit)) => customer_of(conn, credit),
        (None, None) => Ok(None),
    }
}

/// Whose an invoice is: its job's customer by the version that is in force. A job that was given to another customer
/// takes its invoices along.
fn customer_of(conn: &Connection, invoice: Id) -> Result<Option<Id>, LedgerError> {
    let books = Books::over(conn);
    let Some(Fact::Invoice(invoice)) = books.fact(invoice)?.map(|held| held.fact) else { return Ok(None) };
    Ok(books.newest::<Job>(invoice.job)?.map(|job| job.customer))
}

/// What is still held of an invoice: less what was released, and less what credit memos took off.
fn held_of(conn: &Connection, invoice: Id) -> Result<Money, LedgerError> {
    let sql = format!(
        "SELECT i.retainage_cents
         - coalesce((SELECT sum(s.amount_cents) FROM retainage_release s WHERE s.invoice = i.id AND {}), 0)
         + coalesce((SELECT sum(c.retainage_cents) FROM invoice c
                     WHERE c.job = i.job AND c.credits = i.id AND {}), 0)
         FROM invoice i WHERE i.id = ?1",
        live("s.id"),
        live("c.id"),
    );
    cents(conn, &sql, invoice)
}

/// What is due now on an invoice: billed with tax, less held, released back in, less credit memos and payments.
fn open_on(conn: &Connection, invoice: Id) -> Result<Money, LedgerError> {
    let sql = format!(
        "SELECT coalesce((SELECT sum(l.amount_cents) FROM invoice_line l WHERE l.fact = i.id), 0)
                + i.tax_cents - i.retainage_cents
         + coalesce((SELECT sum(s.amount_cents) FROM retainage_release s WHERE s.invoice = i.id AND {}), 0)
         - coalesce((SELECT sum(a.amount_cents) FROM allocation a WHERE a.invoice = i.id AND {}), 0)
         + coalesce((SELECT sum(c.tax_cents - c.retainage_cents
                       + (SELECT sum(l.amount_cents) FROM invoice_line l WHERE l.fact = c.id))
               FROM invoice c WHERE c.job = i.job AND c.credits = i.id AND {}), 0)
         FROM invoice i WHERE i.id = ?1",
        live("s.id"),
        live("a.id"),
        live("c.id"),
    );
    cents(conn, &sql, invoice)
}

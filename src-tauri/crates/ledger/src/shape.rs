//! What a fact must be by itself, whatever else is in the books. The tables' own CHECKs say the same; here it is said
//! in words, before SQLite would say it in its own.

use crate::error::{LedgerError, refuse};
use crate::facts::{Allocation, Bonus, Contract, Crew, Fact, Payment, Refund};
use crate::id::Id;
use crate::kind::{KindSpec, Record, TableSpec};
use rusqlite::types::Value;
use trade::{Money, Qty};

type Check = Result<(), LedgerError>;

/// Checks one fact.
pub(crate) fn check(fact: &Fact, spec: &KindSpec, record: &Record) -> Check {
    no_empty_text(&spec.own, &record.own, "")?;
    for ((list, name), lines) in spec.lists.iter().zip(spec.list_names).zip(&record.lists) {
        for (index, line) in lines.iter().enumerate() {
            no_empty_text(list, line, &format!("{name}[{index}]."))?;
        }
    }
    match fact {
        Fact::Crew(crew) => check_crew(crew),
        Fact::Bonus(bonus) => check_bonus(bonus),
        Fact::Contract(contract) => check_contract(contract),
        Fact::Payment(payment) => check_payment(payment),
        Fact::Allocation(Allocation { payment, credit, .. }) => one_source("applied", *payment, *credit),
        Fact::Refund(refund) => check_refund(refund),
        _ => Ok(()),
    }
}

/// An empty text says nothing: an unknown telephone number is absent, not blank.
fn no_empty_text(spec: &TableSpec, values: &[Value], prefix: &str) -> Check {
    for (column, value) in spec.columns.iter().zip(values) {
        if matches!(value, Value::Text(text) if text.is_empty()) {
            return refuse(
                format!("{prefix}{column}"),
                "it is empty",
                "Type something, or leave it out where it may be left out",
            );
        }
    }
    Ok(())
}

/// A crew-day is its size times its hours, and something is divided by it.
fn check_crew(crew: &Crew) -> Check {
    if crew.size < 1 {
        return refuse(
            "size",
            format!("{} is not a number of people", crew.size),
            "Type how many people the crew has",
        );
    }
    if crew.hours_a_day <= Qty::ZERO {
        return refuse(
            "hours_a_day",
            format!("{} is not a number of hours above zero", crew.hours_a_day),
            "Type the hours of its usual day",
        );
    }
    Ok(())
}

fn check_bonus(bonus: &Bonus) -> Check {
    if bonus.amount.is_negative() {
        return refuse("amount", format!("{} is below zero", bonus.amount), "Type an amount of zero or more");
    }
    Ok(())
}

fn check_contract(contract: &Contract) -> Check {
    let covered = [("included_sheets", contract.included_sheets), ("included_feet", contract.included_feet)];
    for (field, count) in covered {
        if count.is_negative() {
            return refuse(field, format!("{count} is below zero"), "Type how many the price covers");
        }
    }
    let share = contract.retainage.decimal();
    if share.is_sign_negative() || share > rust_decimal::Decimal::ONE {
        return refuse(
            "retainage",
            format!("{} is not a share of the whole", contract.retainage),
            "For 10 % type 0.1",
        );
    }
    Ok(())
}

fn check_payment(payment: &Payment) -> Check {
    if payment.amount <= Money::ZERO {
        return refuse(
            "amount",
            format!("{} is not an amount above zero", payment.amount),
            "Type what came; money given back is a refund",
        );
    }
    Ok(())
}

/// Money goes to an invoice, or back to the customer, from one payment or from one credit memo.
fn one_source(done: &str, payment: Option<Id>, credit: Option<Id>) -> Check {
    match (payment, credit) {
        (Some(_), None) | (None, Some(_)) => Ok(()),
        (None, None) => refuse(
            "payment",
            format!("it does not say what is {done}"),
            "Name the payment, or in “credit” the credit memo",
        ),
        (Some(_), Some(_)) => refuse(
            "credit",
            format!("a payment and a credit memo are {done} one by one"),
            "Leave out the payment or the credit",
        ),
    }
}

fn check_refund(refund: &Refund) -> Check {
    one_source("given back", refund.payment, refund.credit)?;
    if refund.amount <= Money::ZERO {
        return refuse(
            "amount",
            format!("{} is not an amount above zero", refund.amount),
            "Type what was given back",
        );
    }
    Ok(())
}

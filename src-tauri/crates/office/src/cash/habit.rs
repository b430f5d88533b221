//! When customers pay: the days between due and paid, of each one's own paid invoices.

use super::view::HabitOf;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Allocation, Invoice, Job, Payment};
use ledger::{Books, Fact, Id};
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month, habit};

/// When one customer paid their invoices.
#[derive(Clone, Debug, Default)]
pub(super) struct PaysAfter {
    /// Days past due, the oldest payment first; below zero where they paid before.
    pub(super) days: Vec<i32>,
}

/// What a customer is taken for, and by whose invoices.
pub(super) fn of(own: Option<&PaysAfter>, everybody: Option<i32>) -> (i32, HabitOf) {
    match (own.and_then(|own| habit(&own.days)), everybody) {
        (Some(days), _) => (days, HabitOf::Own),
        (None, Some(days)) => (days, HabitOf::Everybody),
        (None, None) => (0, HabitOf::Nobody),
    }
}

/// When each customer paid, by what is booked through a month, and the habit of all of them together.
pub(super) fn habits(
    books: Books<'_>,
    through: Month,
) -> Result<(BTreeMap<Id, PaysAfter>, Option<i32>), OfficeError> {
    let open: BTreeSet<Id> = books
        .open_invoices(through)?
        .into_iter()
        .filter(|(_, totals)| totals.open.is_positive())
        .map(|(id, _)| id)
        .collect();
    let mut last: BTreeMap<Id, (Money, Date)> = BTreeMap::new();
    let Some((first, _)) = books.months()? else { return Ok((BTreeMap::new(), None)) };
    for booked in books.booked_between::<Allocation>(first, through)? {
        let Some(payment) = booked.fact.payment.filter(|_| !open.contains(&booked.fact.invoice)) else {
            continue;
        };
        let Some(Fact::Payment(Payment { date, .. })) = books.fact(payment)?.map(|held| held.fact) else {
            continue;
        };
        let (amount, day) = last.entry(booked.fact.invoice).or_insert((Money::ZERO, date));
        if booked.sign < 0 {
            *amount -= booked.fact.amount;
        } else {
            *amount += booked.fact.amount;
            *day = date.max(*day);
        }
    }
    let mut paid: Vec<(Date, Id, i32)> = Vec::new();
    for (id, (amount, day)) in last {
        let Some(Fact::Invoice(Invoice { due, job, .. })) = books.fact(id)?.map(|held| held.fact) else {
            continue;
        };
        let Some(Job { customer, .. }) = books.newest::<Job>(job)?.filter(|_| amount.is_positive()) else {
            continue;
        };
        paid.push((day, customer, trade::days_past_due(due, day)));
    }
    paid.sort_unstable();
    let everybody = habit(&paid.iter().map(|(_, _, days)| *days).collect::<Vec<_>>());
    let mut by_customer: BTreeMap<Id, PaysAfter> = BTreeMap::new();
    for (_, customer, days) in paid {
        by_customer.entry(customer).or_default().days.push(days);
    }
    Ok((by_customer, everybody))
}

//! What the contract's price already covers of a hidden condition, and what one more costs the homeowner.

use crate::job::snapshot::JobSnapshot;
use desk::names::Names;
use desk::working_month::working_month;
use desk::{Desk, OfficeError};
use ledger::closed_lists::{CountedIn, Damaged};
use ledger::facts::UnitPrice;
use serde::Serialize;
use trade::{Money, Qty, Rate};

/// What one costs the homeowner, if the contract says.
pub(crate) fn price_of(prices: &[UnitPrice], damaged: Damaged, counted_in: CountedIn) -> Option<Money> {
    let fits = |unit: &&UnitPrice| unit.damaged == damaged && unit.counted_in == counted_in;
    prices.iter().find(fits).map(|unit| unit.price)
}

/// What some more of it cost the homeowner.
pub(crate) fn further_price(unit_price: Money, beyond: Qty) -> Result<Money, OfficeError> {
    let unit_price = Rate::exact(unit_price.decimal())
        .map_err(|error| OfficeError::refused("price", &error.to_string(), "Check the unit price"))?;
    Ok(trade::line_amount(unit_price, beyond))
}

/// How far the price goes for so many more, and what the homeowner pays for the rest.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Further {
    /// Covered by the price.
    pub covered: Qty,
    /// Beyond it.
    pub beyond: Qty,
    /// What one costs the homeowner; absent where the contract has no price for it.
    pub unit_price: Option<Money>,
    /// What the homeowner pays for what is beyond.
    pub price: Option<Money>,
}

/// What so many further ones would mean on a job, before they are logged: included sheets first, then the unit price.
///
/// # Errors
/// When there is no such job, the count is below zero, or the facts cannot be read.
pub fn further(
    desk: &Desk,
    job: &str,
    damaged: Damaged,
    counted_in: CountedIn,
    count: Qty,
) -> Result<Further, OfficeError> {
    if count.is_negative() {
        return Err(OfficeError::refused("count", "it is below zero", "Count what is there"));
    }
    desk.books().in_one_read(|books| {
        let id = Names::read(books)?.job(job)?;
        let calendar = books.calendar()?;
        let standing = JobSnapshot::gather(books, &calendar, id, working_month(desk, &calendar))?;
        let contract = standing.contract.as_ref().map(|held| &held.fact);
        let used = standing
            .conditions
            .iter()
            .filter(|condition| {
                condition.condition.damaged == damaged && condition.condition.counted_in == counted_in
            })
            .map(|condition| condition.condition.count);
        let included = match (damaged, counted_in, contract) {
            (Damaged::DeckSheet, CountedIn::Sheet, Some(contract)) => contract.included_sheets,
            (Damaged::DeckBoard, CountedIn::Foot, Some(contract)) => contract.included_feet,
            _ => Qty::ZERO,
        };
        let counts: Vec<Qty> = used.chain([count]).collect();
        let last = trade::use_included(included, &counts).pop();
        let (covered, beyond) = last.map_or((Qty::ZERO, count), |last| (last.covered, last.beyond));
        let prices = contract.map(|contract| contract.unit_prices.as_slice()).unwrap_or_default();
        let unit_price = price_of(prices, damaged, counted_in);
        let price = unit_price
            .filter(|_| beyond.is_positive())
            .map(|price| further_price(price, beyond))
            .transpose()?;
        Ok(Further { covered, beyond, unit_price, price })
    })
}

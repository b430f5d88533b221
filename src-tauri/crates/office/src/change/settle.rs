//! What a change order comes to once the work is done: the line that the invoice should have, and what was given away.
//!
//! It tells cost, so it is for the owner and the bookkeeper.

use crate::job::snapshot::{ChangeState, JobSnapshot};
use desk::Desk;
use desk::OfficeError;
use desk::working_month::working_month;
use ledger::closed_lists::Pricing;
use ledger::{Fact, Id};
use serde::Serialize;
use trade::{Money, Rate};

/// What is to be billed of a change order, and why.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Settlement {
    /// The change order.
    pub change: String,
    /// Its number.
    pub number: String,
    /// How it is priced.
    pub pricing: Pricing,
    /// The state of the decision.
    pub state: ChangeState,
    /// The price that was approved: by time and material, what was expected.
    pub approved: Money,
    /// What the conditions cost beyond the included sheets, as posted so far.
    pub cost: Money,
    /// What is markup, where it is by time and material.
    pub markup: Option<Rate>,
    /// The most that was agreed.
    pub not_to_exceed: Option<Money>,
    /// Cost with its markup, before the agreed most; by other pricing, the approved price.
    pub marked_up: Money,
    /// What the homeowner owes for it in all.
    pub price: Money,
    /// Whether the agreed most held the price down.
    pub capped: bool,
    /// Work beyond the agreed most, which is not billed.
    pub unrecovered: Money,
    /// Billed already.
    pub billed: Money,
    /// Still to bill: the amount of the line; below zero, to credit.
    pub to_bill: Money,
    /// What the line of the invoice says.
    pub description: String,
    /// The working, in sentences.
    pub words: Vec<String>,
}

/// Proposes what is to be billed of a change order. By time and material the cost posted on its conditions counts,
/// marked up and held to the agreed most; deducts are credited as agreed. Else it is the approved price.
///
/// # Errors
/// When there is no such change order, or none of it is approved.
pub fn settle(desk: &Desk, change: Id) -> Result<Settlement, OfficeError> {
    desk.books().in_one_read(|books| {
        let missing = || {
            OfficeError::not_found("There is no such change order.", "Choose one of the job's change orders.")
        };
        let Some(Fact::ChangeOrder(order)) = books.fact(change)?.map(|held| held.fact) else {
            return Err(missing());
        };
        let calendar = books.calendar()?;
        let standing = JobSnapshot::gather(books, &calendar, order.job, working_month(desk, &calendar))?;
        let stands = standing.changes.iter().find(|other| other.id == change).ok_or_else(missing)?;
        let approved = stands.approved_price();
        if !stands.approved.iter().any(|approved| *approved) {
            return Err(OfficeError::refused(
                "change",
                "nothing of it is approved",
                "Get the homeowner's decision first; what was spent without one is an unrecovered cost",
            ));
        }
        let mut words_of = Vec::new();
        if let Some(accrued) = stands.accrued {
            words_of.push(format!(
                "Spent so far {}; with the markup {}.",
                accrued.cost.grouped(),
                accrued.marked_up.grouped()
            ));
            if accrued.capped {
                words_of.push(format!(
                    "The most agreed is {}: {} is not recovered.",
                    (accrued.marked_up - accrued.unrecovered).grouped(),
                    accrued.unrecovered.grouped()
                ));
            }
            let credits: Money = stands.credits();
            if credits.is_negative() {
                words_of.push(format!("{} is credited for what is deducted.", credits.abs().grouped()));
            }
            if !accrued.done {
                words_of.push("The work is not done: more may come.".to_owned());
            }
        } else {
            words_of.push(format!("Approved at {}.", approved.grouped()));
        }
        let price = stands.accrued.map_or(approved, |accrued| accrued.price);
        let to_bill = stands.to_bill();
        if !stands.invoiced.is_zero() {
            words_of.push(format!(
                "Billed already {}; {} is left.",
                stands.invoiced.grouped(),
                to_bill.grouped()
            ));
        }
        Ok(Settlement {
            change: change.to_string(),
            number: order.number.clone(),
            pricing: order.pricing,
            state: stands.state(),
            approved,
            cost: stands.cost(&standing.conditions),
            markup: order.markup,
            not_to_exceed: order.not_to_exceed,
            marked_up: stands.accrued.map_or(approved, |accrued| accrued.marked_up),
            price,
            capped: stands.accrued.is_some_and(|accrued| accrued.capped),
            unrecovered: stands.accrued.map_or(Money::ZERO, |accrued| accrued.unrecovered),
            billed: stands.invoiced,
            to_bill,
            description: stands.billed_as(),
            words: words_of,
        })
    })
}

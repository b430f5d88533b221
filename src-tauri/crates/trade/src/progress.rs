//! Percent complete, earned revenue, over- and under-billing, and the provision for a loss: one job, one day.

use rust_decimal::Decimal;

use crate::money::{Money, Qty};

/// What a job's progress is worked out from. All amounts are the job's whole life so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ProgressInput {
    /// The contract price with approved change orders.
    pub contract: Money,
    /// Cost to date, with uninstalled materials.
    pub cost_to_date: Money,
    /// Forecast of the whole cost, with uninstalled materials.
    pub forecast_cost: Money,
    /// Materials on site that are not yet installed, at cost.
    pub uninstalled: Money,
    /// Billed to date.
    pub billed: Money,
    /// Whether the job has ended, so that nothing more is to come.
    pub ended: bool,
}

/// How far a job is, and what of it is earned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Percent complete as a share from 0 to 1, unrounded.
    pub share: Decimal,
    /// Revenue earned to date.
    pub earned: Money,
    /// Earned less cost to date.
    pub profit: Money,
    /// Billed beyond what is earned; a debt of the firm.
    pub over_billed: Money,
    /// Earned beyond what is billed; an asset of the firm.
    pub under_billed: Money,
    /// What is still to be booked so that the whole forecast loss is.
    pub loss_provision: Money,
}

/// A job's progress by cost.
///
/// Share = (cost to date − uninstalled) ÷ (forecast cost − uninstalled), never rounded and never above 1 or
/// below 0. Materials stacked on site say nothing about the work, so they are revenue at cost and no more:
/// earned = (contract − uninstalled) × share + uninstalled, rounded once (ASC 606-10-55-187 ff., Example 19).
/// No customer pays more than the contract, so no more of them is revenue than it holds (company rule); what is earned
/// lies between nothing and the contract.
///
/// Over- and under-billing are this job's alone; they are never netted across jobs. A job forecast to cost
/// more than its contract loses the whole of it at once: the provision is (forecast − contract) + profit to
/// date, never below zero (ASC 605-35-25-45 ff.). A loss to date on a job forecast to gain gets no provision.
///
/// Where nothing but uninstalled material is forecast there is nothing to measure by: the share is 1 if all
/// that is forecast is spent or the job has ended, so that nothing more is to come, else 0 (company rule).
#[must_use]
pub fn progress(job: &ProgressInput) -> Progress {
    let (done, whole) = done_of_whole(job);
    let at_cost = stored_material(job.uninstalled, job.contract);
    // Divided last: a share cut off at any number of places can move the result by a cent.
    let earned = Money::rounded((job.contract - at_cost).decimal() * done / whole) + at_cost;
    let profit = earned - job.cost_to_date;
    let loss = job.forecast_cost - job.contract;
    let loss_provision = if loss > Money::ZERO { (loss + profit).max(Money::ZERO) } else { Money::ZERO };
    Progress {
        share: done / whole,
        earned,
        profit,
        over_billed: (job.billed - earned).max(Money::ZERO),
        under_billed: (earned - job.billed).max(Money::ZERO),
        loss_provision,
    }
}

/// The share as a fraction, 0 ≤ done ≤ whole and whole > 0.
fn done_of_whole(job: &ProgressInput) -> (Decimal, Decimal) {
    let whole = job.forecast_cost - job.uninstalled;
    if whole <= Money::ZERO {
        let all_spent =
            job.ended || (job.forecast_cost > Money::ZERO && job.cost_to_date == job.forecast_cost);
        return (if all_spent { Decimal::ONE } else { Decimal::ZERO }, Decimal::ONE);
    }
    let done = (job.cost_to_date - job.uninstalled).max(Money::ZERO).min(whole);
    (done.decimal(), whole.decimal())
}

/// Backlog of signed work: the contract with its approved changes less what is earned of it. Of the contracts of
/// 26 CFR 1.460-4(h), examples 2, 3 and 5, in their first year: 2,240,000 − 663,333 = 1,576,667. So it rolls on: what
/// it began with, what was signed and what changed, less what was earned.
#[must_use]
pub fn backlog(contract: Money, earned: Money) -> Money {
    contract - earned
}

/// The gross profit that the backlog will bring: backlog less the cost still to come, and with it what of a loss is
/// already booked, so that the profit booked and this together are the margin that the forecast leaves
/// (common practice).
#[must_use]
pub fn profit_in_backlog(backlog: Money, cost_to_come: Money, loss_provision: Money) -> Money {
    backlog - cost_to_come + loss_provision
}

/// Of the material counted on site, what counts: never more than was bought and not returned, so never below zero
/// either. Held to the contract, it is what of that is revenue at cost (company rule).
#[must_use]
pub fn stored_material(counted: Money, within: Money) -> Money {
    counted.min(within).max(Money::ZERO)
}

/// How much of what was bought is built in, where part of it still lies on site: the quantity goes by cost, since what
/// is on site is counted in dollars (company rule). `used` and `bought_for` are at cost; where nothing was paid, all of
/// it is built in.
#[must_use]
pub fn quantity_used(bought: Qty, used: Money, bought_for: Money) -> Qty {
    if used == bought_for {
        return bought;
    }
    let part = (bought.decimal() * used.decimal()).checked_div(bought_for.decimal());
    part.map_or(bought, Qty::rounded)
}

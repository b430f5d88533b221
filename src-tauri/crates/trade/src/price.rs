//! From cost to price and back: margin, markup and the break-even point.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::closed_list;
use crate::money::{Money, Rate};
use crate::shown::percent;

/// Why a price could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PriceError {
    /// A margin of the whole price or more.
    #[error("A margin of {percent} % leaves nothing of the price for the cost. Choose a margin below 100 %.")]
    MarginTooHigh {
        /// The margin asked for, in percent.
        percent: Decimal,
    },
    /// A markup of minus the whole cost or less.
    #[error("A markup of {percent} % gives the work away. Choose a markup above -100 %.")]
    MarkupTooLow {
        /// The markup asked for, in percent.
        percent: Decimal,
    },
}

/// The price at which `margin` (a share of the price) is left over `cost`: cost ÷ (1 − margin), rounded once.
///
/// A margin of 30 % on a cost of 100 needs a price of 142.86 and not 130, which is the usual way to sell a
/// job too cheaply (check in OpenStax, computed).
///
/// # Errors
/// If the margin is 100 % or more: no price can give it.
pub fn price_at_margin(cost: Money, margin: Rate) -> Result<Money, PriceError> {
    let kept = cost_share(margin)?;
    Ok(Money::rounded(cost.decimal() / kept))
}

/// The price at which `markup` (a share of the cost) is added to `cost`, rounded once.
///
/// Cost 8 marked up by 20 % sells at 9.60 (OpenStax, read).
#[must_use]
pub fn price_at_markup(cost: Money, markup: Rate) -> Money {
    Money::rounded(cost.decimal() * (Decimal::ONE + markup.decimal()))
}

/// The cost behind a price that is cost and markup: price ÷ (1 + markup), rounded once. The way back from
/// [`price_at_markup`] (common practice).
///
/// # Errors
/// If the markup is −100 % or less: the work is then given away, and no cost stands behind its price.
pub fn cost_at_markup(price: Money, markup: Rate) -> Result<Money, PriceError> {
    let price_of_one = Decimal::ONE + markup.decimal();
    if price_of_one <= Decimal::ZERO {
        return Err(PriceError::MarkupTooLow { percent: percent(markup.decimal()) });
    }
    Ok(Money::rounded(price.decimal() / price_of_one))
}

/// What work should cost, from its price: the price less the margin that the whole job was sold at, rounded once.
///
/// A job sold at a loss, or without a price, is taken as sold without margin, so that the work is expected to cost its
/// price and not more (company rule; the facts will tell).
#[must_use]
pub fn cost_at_margin_sold(price: Money, job_price: Money, job_cost: Money) -> Money {
    let sold_at = margin(job_price, job_cost).unwrap_or(Decimal::ZERO).max(Decimal::ZERO);
    Money::rounded(price.decimal() * (Decimal::ONE - sold_at))
}

/// What a line of a change order counts as its cost: what was said of it; until the office has said it, its price, so
/// that no margin is counted on work whose cost nobody knows (company rule).
#[must_use]
pub fn cost_of_change(said: Option<Money>, price: Money) -> Money {
    said.unwrap_or(price)
}

/// A schedule of payments as shares of the price in whole percents, the last one what is left, so that they sum to
/// the whole (company rule). Empty where there is no price to have a share of.
#[must_use]
pub fn payment_shares(price: Money, payments: &[Money]) -> Vec<Rate> {
    if price.is_zero() {
        return Vec::new();
    }
    let mut left = Decimal::ONE;
    let share_of = |(index, payment): (usize, &Money)| {
        let share = (payment.decimal() / price.decimal()).round_dp(2);
        let share = if index + 1 == payments.len() { left } else { share };
        left -= share;
        Rate::rounded(share)
    };
    payments.iter().enumerate().map(share_of).collect()
}

/// What is left of the price, as a share of it, unrounded. A job without a price has no margin, so `None`.
#[must_use]
pub fn margin(price: Money, cost: Money) -> Option<Decimal> {
    if price.is_zero() { None } else { Some((price - cost).decimal() / price.decimal()) }
}

/// What is added to the cost, as a share of it, unrounded. `None` where there is no cost.
#[must_use]
pub fn markup(price: Money, cost: Money) -> Option<Decimal> {
    if cost.is_zero() { None } else { Some((price - cost).decimal() / cost.decimal()) }
}

/// How many units must be sold for the profit to be `target` (zero: to break even), unrounded, going by a plan of so
/// many `units` that sell for `sales` and cost `variable`: units × (fixed cost + target) ÷ (sales − variable cost).
/// `None` where the plan leaves nothing towards fixed cost.
///
/// Price 100, variable 20 and fixed 18,000 break even at 225 units; 90, 40 and 85,000 at 1,700 (OpenStax vol. 2, read).
#[must_use]
pub fn units_for_profit(
    units: Decimal,
    sales: Money,
    variable: Money,
    fixed: Money,
    target: Money,
) -> Option<Decimal> {
    let left = sales - variable;
    left.is_positive().then(|| units * (fixed + target).decimal() / left.decimal())
}

/// The sales at which `target` is reached, rounded once: planned sales × (fixed + target) ÷ (planned sales − their
/// variable cost). `None` where they leave nothing towards fixed cost.
///
/// Price 90, variable 40 and fixed 85,000 break even at 153,000 (OpenStax vol. 2, read).
#[must_use]
pub fn sales_for_profit(sales: Money, variable: Money, fixed: Money, target: Money) -> Option<Money> {
    units_for_profit(sales.decimal(), sales, variable, fixed, target).map(Money::rounded)
}

/// What is still to be sold: the sales that are wanted, less what is earned and what signed work will bring. Nothing
/// where enough is sold. That all signed work is earned in time is taken for granted (common practice, no source).
#[must_use]
pub fn still_to_sell(wanted: Money, earned: Money, backlog: Money) -> Money {
    (wanted - earned - backlog).max(Money::ZERO)
}

/// By how much the actual is above the budget, and which share of the budget that is, unrounded; no share of a budget
/// of nothing.
///
/// 450 against 125 is 325 or 260.0 % above; revenue of 176,400 against 147,200 is 29,200 or 19.8 % above (OpenStax
/// vol. 2, read).
#[must_use]
pub fn beside_budget(actual: Decimal, budget: Decimal) -> (Decimal, Option<Decimal>) {
    (actual - budget, (actual - budget).checked_div(budget))
}

/// What is put on the cost to come to a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(feature = "ts", ts(rename_all = "kebab-case"))]
pub enum PricedAt {
    /// So much of the price is left over cost and overhead.
    Margin(Rate),
    /// So much of cost and overhead is added to them.
    Markup(Rate),
}

/// A price and how it comes about: cost + overhead = full cost; full cost + profit = price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OfferPrice {
    /// The job's own cost.
    pub cost: Money,
    /// Its part of the overhead.
    pub overhead: Money,
    /// Both.
    pub full_cost: Money,
    /// What is left of the price.
    pub profit: Money,
    /// The price.
    pub price: Money,
    /// Profit as a share of the price; absent where there is no price.
    pub margin: Option<Rate>,
    /// Profit as a share of the full cost; absent where there is no cost.
    pub markup: Option<Rate>,
}

/// The price of a job: its cost, its part of the overhead by the firm's chosen base, and then margin or markup on both
/// together (company rule: overhead is a cost like any other, and earns as such). The price is rounded once, and the
/// profit is what is left, so that the steps sum exactly.
///
/// # Errors
/// If the margin is 100 % or more.
pub fn offer_price(cost: Money, overhead: Money, priced_at: PricedAt) -> Result<OfferPrice, PriceError> {
    let full_cost = cost + overhead;
    let price = match priced_at {
        PricedAt::Margin(share) => price_at_margin(full_cost, share)?,
        PricedAt::Markup(share) => price_at_markup(full_cost, share),
    };
    Ok(OfferPrice {
        cost,
        overhead,
        full_cost,
        profit: price - full_cost,
        price,
        margin: margin(price, full_cost).map(Rate::rounded),
        markup: markup(price, full_cost).map(Rate::rounded),
    })
}

/// The price of one more piece, at what the whole job's price is to its full cost and never below its own, rounded up
/// to the dollar (common practice, no source). `None` where the job has no cost.
///
/// A sheet of 66.80 with its overhead, on a job that costs 12,000 in full and is sold for 15,000: 83.50, so 84
/// (computed).
#[must_use]
pub fn unit_price(full_cost_of_one: Money, price: Money, full_cost: Money) -> Option<Money> {
    let share = price.decimal().checked_div(full_cost.decimal())?.max(Decimal::ONE);
    Some(Money::rounded((full_cost_of_one.decimal() * share).ceil()))
}

/// What may go otherwise than priced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Setback {
    /// Two more deck sheets, given away.
    TwoSheets,
    /// A day of rain: the crew is paid and nothing is built.
    RainDay,
    /// Shingles 5 % dearer.
    DearerShingles,
}
closed_list!(Setback, "setback", {
    TwoSheets => "two-sheets": "Two more deck sheets, given away",
    RainDay => "rain-day": "A day of rain with the crew paid",
    DearerShingles => "dearer-shingles": "Shingles 5 % dearer",
});

/// What the job's setbacks would cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AtStake {
    /// What one deck sheet costs, laid.
    pub sheet_cost: Money,
    /// What the crew costs for a day.
    pub crew_day_cost: Money,
    /// What the job's shingles cost.
    pub shingle_cost: Money,
}

/// What one setback does to the margin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Sensitivity {
    /// The setback.
    pub setback: Setback,
    /// What it adds to the cost.
    pub added: Money,
    /// The margin that is left.
    pub margin: Money,
    /// The same as a share of the price; absent where there is no price.
    pub share: Option<Rate>,
    /// By how much that share falls.
    pub share_lost: Option<Rate>,
}

/// What each setback by itself would leave of the margin, at a price that no longer changes.
#[must_use]
pub fn sensitivity(price: Money, cost: Money, stake: &AtStake) -> Vec<Sensitivity> {
    let of = |setback: &Setback| {
        let added = match setback {
            Setback::TwoSheets => stake.sheet_cost + stake.sheet_cost,
            Setback::RainDay => stake.crew_day_cost,
            Setback::DearerShingles => Money::rounded(stake.shingle_cost.decimal() * FIVE_PERCENT),
        };
        let share = margin(price, cost + added);
        let lost = margin(price, cost).zip(share).map(|(before, after)| before - after);
        Sensitivity {
            setback: *setback,
            added,
            margin: price - cost - added,
            share: share.map(Rate::rounded),
            share_lost: lost.map(Rate::rounded),
        }
    };
    Setback::ALL.iter().map(of).collect()
}

const FIVE_PERCENT: Decimal = Decimal::from_parts(5, 0, 0, false, 2);

fn cost_share(margin: Rate) -> Result<Decimal, PriceError> {
    if margin.decimal() >= Decimal::ONE {
        return Err(PriceError::MarginTooHigh { percent: percent(margin.decimal()) });
    }
    Ok(Decimal::ONE - margin.decimal())
}

//! From cost to price and back: margin, markup and the break-even point.

use rust_decimal::Decimal;
use thiserror::Error;

use crate::money::{Money, Rate};

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

/// The markup on cost that gives `margin` of the price: margin ÷ (1 − margin), unrounded.
///
/// # Errors
/// If the margin is 100 % or more.
pub fn markup_from_margin(margin: Rate) -> Result<Decimal, PriceError> {
    let kept = cost_share(margin)?;
    Ok(margin.decimal() / kept)
}

/// The margin of the price that a markup on cost gives: markup ÷ (1 + markup), unrounded.
///
/// # Errors
/// If the markup is −100 % or less: there is then no price to have a margin of.
pub fn margin_from_markup(markup: Rate) -> Result<Decimal, PriceError> {
    let price_of_one = Decimal::ONE + markup.decimal();
    if price_of_one <= Decimal::ZERO {
        return Err(PriceError::MarkupTooLow { percent: percent(markup) });
    }
    Ok(markup.decimal() / price_of_one)
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

/// How many units must be sold for the profit to be `target` (zero: to break even), unrounded:
/// (fixed cost + target) ÷ (price − variable cost). `None` where a unit leaves nothing towards fixed cost.
///
/// Price 100, variable 20 and fixed 18,000 break even at 225 units (OpenStax vol. 2, read).
#[must_use]
pub fn units_for_profit(price: Rate, variable: Rate, fixed: Money, target: Money) -> Option<Decimal> {
    let left_a_unit = price - variable;
    left_a_unit.is_positive().then(|| (fixed + target).decimal() / left_a_unit.decimal())
}

/// The sales at which `target` is reached, rounded once: (fixed + target) × price ÷ (price − variable).
/// `None` where a unit leaves nothing towards fixed cost.
#[must_use]
pub fn sales_for_profit(price: Rate, variable: Rate, fixed: Money, target: Money) -> Option<Money> {
    let left_a_unit = price - variable;
    left_a_unit
        .is_positive()
        .then(|| Money::rounded((fixed + target).decimal() * price.decimal() / left_a_unit.decimal()))
}

fn cost_share(margin: Rate) -> Result<Decimal, PriceError> {
    if margin.decimal() >= Decimal::ONE {
        return Err(PriceError::MarginTooHigh { percent: percent(margin) });
    }
    Ok(Decimal::ONE - margin.decimal())
}

fn percent(share: Rate) -> Decimal {
    (share.decimal() * Decimal::ONE_HUNDRED).normalize()
}

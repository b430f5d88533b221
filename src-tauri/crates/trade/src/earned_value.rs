//! Earned value: cost performance and what it says of the end. A check on the forecast, from another side.

use rust_decimal::Decimal;

use crate::money::Money;

/// Cost performance index: earned ÷ actual, unrounded. Below 1 the work costs more than it was budgeted at.
/// `None` where nothing is spent.
#[must_use]
pub fn cost_performance(earned: Money, actual: Money) -> Option<Decimal> {
    (actual > Money::ZERO).then(|| earned.decimal() / actual.decimal())
}

/// Estimate at completion: budget ÷ CPI, rounded once. Worked as budget × actual ÷ earned, so that the index,
/// which may repeat for ever, is never cut off. `None` where nothing is earned.
#[must_use]
pub fn estimate_at_completion(budget: Money, earned: Money, actual: Money) -> Option<Money> {
    (earned > Money::ZERO).then(|| Money::rounded(budget.decimal() * actual.decimal() / earned.decimal()))
}

/// To-complete performance index: the work left ÷ the money left, (budget − earned) ÷ (estimate − actual),
/// unrounded. Where the estimate is budget ÷ CPI, this is CPI again. `None` where no money is left.
#[must_use]
pub fn to_complete(budget: Money, earned: Money, actual: Money, estimate: Money) -> Option<Decimal> {
    let money_left = estimate - actual;
    (money_left > Money::ZERO).then(|| (budget - earned).decimal() / money_left.decimal())
}

//! What one of something costs or takes, and what share one amount is of another: every division of two figures, each
//! rounded once. All of it is plain division, which is common practice and has no source.

use rust_decimal::Decimal;

use crate::money::{Money, Qty, Rate};

/// The price of one, from the price of a package and how much the package covers, to the millionth. `None` where a
/// package covers nothing.
#[must_use]
pub fn price_of_one(package: Rate, covers: Qty) -> Option<Rate> {
    package.decimal().checked_div(covers.decimal()).map(Rate::rounded)
}

/// What one costs, from the price of a package, rounded to the cent once: going by [`price_of_one`] would round twice.
#[must_use]
pub fn cost_of_one(package: Rate, covers: Qty) -> Option<Money> {
    package.decimal().checked_div(covers.decimal()).map(Money::rounded)
}

/// The unit price behind an amount, to the millionth. Without a quantity it is the price of one.
#[must_use]
pub fn price_behind(amount: Money, quantity: Qty) -> Rate {
    Rate::rounded(amount.decimal().checked_div(quantity.decimal()).unwrap_or(amount.decimal()))
}

/// An amount for each hour, to the millionth: pay and burden of a week over its hours. `None` without hours.
#[must_use]
pub fn hourly(amount: Money, hours: Qty) -> Option<Rate> {
    amount.decimal().checked_div(hours.decimal()).map(Rate::rounded)
}

/// The mean of so many amounts, from their sum, rounded to the cent once. `None` where there are none.
#[must_use]
pub fn mean_amount(sum: Money, count: usize) -> Option<Money> {
    sum.decimal().checked_div(Decimal::from(count)).map(Money::rounded)
}

/// Which share of a whole a part is, to the millionth; zero where there is no whole (company rule).
#[must_use]
pub fn share_of(part: Money, whole: Money) -> Rate {
    part.decimal().checked_div(whole.decimal()).map_or(Rate::ZERO, Rate::rounded)
}

/// By which share of the old price the new one is higher, below zero where it fell. `None` where the old one was zero.
#[must_use]
pub fn price_change(old: Rate, new: Rate) -> Option<Rate> {
    (new.decimal() - old.decimal()).checked_div(old.decimal()).map(Rate::rounded)
}

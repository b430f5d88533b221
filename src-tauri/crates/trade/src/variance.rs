//! Why a code came out dearer or cheaper than its standard: the price paid, or the amount used.
//!
//! Every variance here is signed by what it does to the margin: positive is favourable, negative is not.

use rust_decimal::Decimal;

use crate::money::{Money, Qty};

/// The two halves of a material variance. They sum exactly to standard − actual.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct MaterialVariance {
    /// From the price paid: (standard price − actual price) × actual quantity.
    pub price: Money,
    /// From the quantity used: (standard quantity − actual quantity) × standard price.
    pub quantity: Money,
}

impl MaterialVariance {
    /// Both together: what the standard allows less what was spent.
    #[must_use]
    pub fn total(self) -> Money {
        self.price + self.quantity
    }
}

/// The two halves of a labor variance. They sum exactly to standard − actual.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LaborVariance {
    /// From the rate paid: (standard rate − actual rate) × actual hours.
    pub rate: Money,
    /// From the hours taken: (standard hours − actual hours) × standard rate.
    pub hours: Money,
}

impl LaborVariance {
    /// Both together: what the standard allows less what was spent.
    #[must_use]
    pub fn total(self) -> Money {
        self.rate + self.hours
    }
}

/// The price and quantity variance of a material, against the standard quantity for the work really done.
///
/// The price variance is rounded once; the quantity variance is what is left of the total, so that the two
/// always sum (the formulas as in OpenStax vol. 2 ch. 8, the residual a company rule).
/// The price is per unit, in the ledger's currency, unrounded.
#[must_use]
pub fn material_variance(
    actual_amount: Money,
    actual_quantity: Qty,
    standard_price: Decimal,
    standard_quantity: Qty,
) -> MaterialVariance {
    let used_at_standard = Money::rounded(standard_price * actual_quantity.decimal());
    let standard = Money::rounded(standard_price * standard_quantity.decimal());
    let (price, quantity) = two_way(actual_amount, used_at_standard, standard);
    MaterialVariance { price, quantity }
}

/// The rate and hours variance of labor, against the standard hours for the work really done.
///
/// The rate variance is rounded once; the hours variance is what is left of the total (Job
/// cost; the formulas as in OpenStax vol. 2 ch. 8, the residual a company rule). The rate is per hour, unrounded.
#[must_use]
pub fn labor_variance(
    actual_amount: Money,
    actual_hours: Qty,
    standard_rate: Decimal,
    standard_hours: Qty,
) -> LaborVariance {
    let taken_at_standard = Money::rounded(standard_rate * actual_hours.decimal());
    let standard = Money::rounded(standard_rate * standard_hours.decimal());
    let (rate, hours) = two_way(actual_amount, taken_at_standard, standard);
    LaborVariance { rate, hours }
}

/// The step from what was spent to what its quantity should have cost, and from there to the standard.
pub(crate) fn two_way(actual: Money, used_at_standard: Money, standard: Money) -> (Money, Money) {
    (used_at_standard - actual, standard - used_at_standard)
}

//! Figures as people read them: rounded for the eye alone. Nothing is calculated from what stands here (company rule).

use rust_decimal::Decimal;

use crate::money::{Qty, Rate};

const TWELVE: Decimal = Decimal::from_parts(12, 0, 0, false, 0);

/// A quantity with no more than two decimals; half a hundredth goes to the even one.
#[must_use]
pub fn two_places(quantity: Qty) -> Qty {
    Qty::rounded(quantity.decimal().round_dp(2))
}

/// A count or a length with no more than the four decimals that quantities are kept in, and no idle zero.
#[must_use]
pub fn four_places(figure: Decimal) -> String {
    Qty::rounded(figure).decimal().normalize().to_string()
}

/// A statistic with no more than three decimals; half a thousandth goes to the even one.
#[must_use]
pub fn three_places(figure: Decimal) -> Decimal {
    figure.round_dp(3).normalize()
}

/// A share that was worked out, as a rate to the millionth: enough for any percentage that is set.
#[must_use]
pub fn share(exact: Decimal) -> Rate {
    Rate::rounded(exact)
}

/// A share in hundredths with all of its decimals, not rounded: 0.0725 is 7.25.
#[must_use]
pub fn percent(share: Decimal) -> Decimal {
    (share * Decimal::ONE_HUNDRED).normalize()
}

/// A share as a percentage with one decimal and a true minus: `−3.5 %`. Half a tenth goes to the even one.
#[must_use]
pub fn percent_to_tenth(share: Decimal) -> String {
    let shown = (share * Decimal::ONE_HUNDRED).round_dp(1);
    // What is shown as nothing has no sign.
    let shown = if shown.is_zero() { Decimal::ZERO } else { shown };
    format!("{shown:.1} %").replace('-', "−")
}

/// A length in feet as it is read off a tape, to the inch: 24 ft 6 in. Half an inch goes to the even one.
#[must_use]
pub fn feet_and_inches(feet: Qty) -> String {
    let inches = (feet.decimal() * TWELVE).round();
    let (whole, rest) = ((inches / TWELVE).floor(), inches % TWELVE);
    if rest.is_zero() { format!("{whole} ft") } else { format!("{whole} ft {rest} in") }
}

//! Crew-days: the measure by which jobs of different size are ranked.

use rust_decimal::Decimal;

use crate::money::{Money, Qty};

/// How many days of one crew `hours` are: hours ÷ (crew size × hours a day), unrounded. A crew of nobody, or
/// a day of no hours, makes no crew-days (company rule).
#[must_use]
pub fn crew_days(hours: Qty, size: u32, hours_a_day: Qty) -> Decimal {
    let hours_a_crew_day = Decimal::from(size) * hours_a_day.decimal();
    if hours_a_crew_day > Decimal::ZERO { hours.decimal() / hours_a_crew_day } else { Decimal::ZERO }
}

/// What a day of one crew earned: margin ÷ crew-days, rounded once. `None` where no crew worked
/// (company rule).
#[must_use]
pub fn margin_per_crew_day(margin: Money, days: Decimal) -> Option<Money> {
    (days > Decimal::ZERO).then(|| Money::rounded(margin.decimal() / days))
}

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

/// The hours of a whole crew's day: its people × the hours of its day. A crew of less than nobody works none.
#[must_use]
pub fn crew_hours(people: i64, hours_a_day: Qty) -> Qty {
    Qty::rounded(Decimal::from(people.max(0)) * hours_a_day.decimal())
}

/// The longest day of one person that is taken without a question: 16 hours are more often a second tap than a day's
/// work (common practice, no source).
pub const LONG_DAY: Qty = Qty::from_e4(120_000);

/// Days in a usual week.
const DAYS: Decimal = Decimal::from_parts(5, 0, 0, false, 0);

/// The hours of one person's usual week, as an hour's cost is planned from it: five of the crew's days, but no more
/// than are worked without overtime (company rule).
#[must_use]
pub fn usual_week(hours_a_day: Qty, without_overtime: Qty) -> Qty {
    Qty::rounded(hours_a_day.decimal() * DAYS).min(without_overtime)
}

/// What a day of one crew earned: margin ÷ crew-days, rounded once. `None` where no crew worked
/// (company rule).
#[must_use]
pub fn margin_per_crew_day(margin: Money, days: Decimal) -> Option<Money> {
    (days > Decimal::ZERO).then(|| Money::rounded(margin.decimal() / days))
}

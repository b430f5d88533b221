//! The firm's overhead, laid on its jobs by one chosen base.

use rust_decimal::Decimal;

use crate::closed_list;
use crate::money::{Money, Qty, Rate};

/// What overhead is measured by. The base matters: the same job can carry half as much again by another one
/// (OpenStax vol. 2, read), so it is chosen once and shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OverheadBase {
    /// So much for each hour of labor.
    LaborHours,
    /// So much for each dollar of labor cost.
    LaborCost,
    /// So much for each crew-day.
    CrewDays,
}

closed_list!(OverheadBase, "base for overhead", {
    LaborHours => "labor-hours",
    LaborCost => "labor-cost",
    CrewDays => "crew-days",
});

/// The overhead rate for the year: the budgeted overhead ÷ the budgeted hours, dollars or crew-days of the
/// base, kept at six decimals. `None` where the base is not above zero.
///
/// 250,000 over 100,000 labor dollars is 2.50 a dollar (OpenStax vol. 2, read).
#[must_use]
pub fn overhead_rate(annual_overhead: Money, annual_base: Decimal) -> Option<Rate> {
    (annual_base > Decimal::ZERO).then(|| Rate::rounded(annual_overhead.decimal() / annual_base))
}

/// How much of the base some work is: hours, dollars of labor cost, or crew-days.
#[must_use]
pub fn measure_of(base: OverheadBase, hours: Qty, labor_cost: Decimal, crew_days: Decimal) -> Decimal {
    match base {
        OverheadBase::LaborHours => hours.decimal(),
        OverheadBase::LaborCost => labor_cost,
        OverheadBase::CrewDays => crew_days,
    }
}

/// The overhead that a job carries: of each spell in which one rate held, that rate times the job's own measure of the
/// base in it; the sum is rounded once. So a new rate never reaches back to the days before it (company rule).
///
/// 328 hours at 13 and 8 hours at 20 are 4,424.00 (company rule, computed).
#[must_use]
pub fn absorbed(spells: impl IntoIterator<Item = (Rate, Decimal)>) -> Money {
    Money::rounded(spells.into_iter().map(|(rate, measure)| rate.decimal() * measure).sum::<Decimal>())
}

/// The part of a month's labor cost that some of its hours bear, unrounded: labor is booked by the month, so that where
/// the rate of overhead changes inside one, the month's labor cost is parted by hours (company rule). Nothing where the
/// month has no hours.
#[must_use]
pub fn labor_of_hours(labor_cost: Money, hours: Qty, of: Qty) -> Decimal {
    if of.is_zero() {
        return Decimal::ZERO;
    }
    labor_cost.decimal() * hours.decimal() / of.decimal()
}

/// Actual overhead that the jobs of a time did not bear: what the firm cost beside its jobs, less what was laid on
/// them. Below zero where more was laid on them than it cost: over-absorbed. It is never laid on jobs afterwards: a job
/// carries the rate of its days (company rule).
///
/// 352,000 against 49,000 machine-hours at 350,000 ÷ 50,000 leaves 9,000 (OpenStax vol. 2, read).
#[must_use]
pub fn under_absorbed(actual: Money, absorbed: Money) -> Money {
    actual - absorbed
}

/// What the firm made: the gross profit of its jobs less its actual overhead. What was laid on jobs is no second cost.
/// A job that does not cover its share still lowers the loss, as long as it covers more than it costs itself: segment
/// margins of 2,039,000 less 1,581,000 common costs are 458,000, however those are spread (OpenStax vol. 2, read).
#[must_use]
pub fn net_profit(gross_profit: Money, overhead: Money) -> Money {
    gross_profit - overhead
}

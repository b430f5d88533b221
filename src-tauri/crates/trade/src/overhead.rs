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

/// The overhead that a job carries: the rate times the job's own measure of the base, rounded once
///.
#[must_use]
pub fn absorbed(base: OverheadBase, rate: Rate, hours: Qty, labor_cost: Money, crew_days: Decimal) -> Money {
    let measure = match base {
        OverheadBase::LaborHours => hours.decimal(),
        OverheadBase::LaborCost => labor_cost.decimal(),
        OverheadBase::CrewDays => crew_days,
    };
    Money::rounded(rate.decimal() * measure)
}

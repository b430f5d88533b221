//! Production: how long work takes, and what finished jobs say about it.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::money::{Qty, Rate};
use crate::roof::words::Steepness;

/// Hours for so much of an item, at so many hours for one measure of it.
#[must_use]
pub fn hours(quantity: Qty, hours_each: Rate) -> Qty {
    Qty::rounded(quantity.decimal() * hours_each.decimal())
}

/// How steep a slope is for those who work on it: under 4 in 12 low, under 8 walkable, under 12 steep, else very steep
/// (common practice).
#[must_use]
pub fn steepness(slope: Qty) -> Steepness {
    let rise = slope.decimal();
    if rise < Decimal::from(4) {
        Steepness::Low
    } else if rise < Decimal::from(8) {
        Steepness::Walkable
    } else if rise < Decimal::from(12) {
        Steepness::Steep
    } else {
        Steepness::VerySteep
    }
}

/// What finished jobs took: hours for one unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Spread {
    /// How many jobs.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub jobs: i64,
    /// Half of the jobs took no more than this.
    pub median: Rate,
    /// A quarter of the jobs took no more than this.
    pub low: Rate,
    /// Three quarters of the jobs took no more than this.
    pub high: Rate,
    /// All hours over all units: large jobs weigh more.
    pub pooled: Rate,
}

/// The spread of hours for one unit over finished jobs, each given as its hours and its units. Jobs without units are
/// left out, as are negative figures; `None` where no job is left.
///
/// Quartiles lie between neighbors in proportion: the quarter of n jobs in order is the one at 1 + (n − 1) ÷ 4, and
/// between two jobs so far from the one to the other. With few jobs they say little; the count stands beside them.
#[must_use]
pub fn spread(jobs: &[(Qty, Qty)]) -> Option<Spread> {
    let counted: Vec<&(Qty, Qty)> =
        jobs.iter().filter(|(hours, units)| units.is_positive() && !hours.is_negative()).collect();
    let mut rates: Vec<Decimal> =
        counted.iter().map(|(hours, units)| hours.decimal() / units.decimal()).collect();
    rates.sort_unstable();
    let units: Qty = counted.iter().map(|(_, units)| *units).sum();
    let hours: Qty = counted.iter().map(|(hours, _)| *hours).sum();
    Some(Spread {
        jobs: i64::try_from(rates.len()).ok()?,
        median: quartile(&rates, 2)?,
        low: quartile(&rates, 1)?,
        high: quartile(&rates, 3)?,
        pooled: Rate::rounded(hours.decimal() / units.decimal()),
    })
}

/// The first, second or third quartile of figures in order; `None` of none.
fn quartile(ordered: &[Decimal], quarter: usize) -> Option<Rate> {
    let steps = ordered.len().checked_sub(1)? * quarter;
    let lower = ordered.get(steps / 4)?;
    let upper = ordered.get(steps / 4 + 1).unwrap_or(lower);
    let share = Decimal::from(steps % 4) / Decimal::from(4);
    Some(Rate::rounded(lower + (upper - lower) * share))
}

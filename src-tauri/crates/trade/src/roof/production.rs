//! Production: how long work takes, and what finished jobs say about it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::money::{Qty, Rate};
use crate::roof::kinds::{Measure, Steepness};
use crate::roof::measured::WorkStep;
use crate::shown::grouped;

/// The hours of one piece of work, planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Planned {
    /// Hours to the hundredth, as they are typed.
    pub hours: Qty,
    /// How they were found, a step for each steepness.
    pub steps: Vec<WorkStep>,
}

/// The hours of work on `quantity`, which lies on slopes of several steepnesses by the areas given: each takes its
/// share at its own rate, and the sum is rounded once, to the hundredth (company rule; half of one goes to the even
/// one). `None` where a steepness has no rate, or where there is no area.
#[must_use]
pub fn plan(
    quantity: Qty,
    areas: &BTreeMap<Steepness, Qty>,
    rate: impl Fn(Steepness) -> Option<Rate>,
) -> Option<Planned> {
    let whole: Qty = areas.values().sum();
    let (mut hours, mut steps) = (Decimal::ZERO, Vec::new());
    for (steepness, area) in areas {
        let each = rate(*steepness)?;
        let part = (quantity.decimal() * area.decimal()).checked_div(whole.decimal())?;
        let of_part = part * each.decimal();
        hours += of_part;
        steps.push(WorkStep {
            words: format!(
                "{} × {each} hours each, {}",
                grouped(part.round_dp(2).normalize()),
                steepness.label()
            ),
            figure: format!("{} h", Qty::rounded(of_part.round_dp(2))),
        });
    }
    (!steps.is_empty()).then(|| Planned { hours: Qty::rounded(hours.round_dp(2)), steps })
}

/// A quantity in another measure of the same thing: 100 sq ft are a square (common practice), shown to the hundredth of
/// a square. `None` where the two don't measure the same thing.
#[must_use]
pub fn in_measure(quantity: Qty, from: Measure, to: Measure) -> Option<Qty> {
    match (from, to) {
        (same, wanted) if same == wanted => Some(quantity),
        (Measure::SquareFoot, Measure::Square) => {
            Some(Qty::rounded((quantity.decimal() / Decimal::ONE_HUNDRED).round_dp(2)))
        }
        _ => None,
    }
}

/// Hours for one measure, told for another measure of the same thing: 2 hours a square are 0.02 a square foot. `None`
/// where the two don't measure the same thing.
#[must_use]
pub fn hours_in_measure(hours_each: Rate, from: Measure, to: Measure) -> Option<Rate> {
    match (from, to) {
        (same, wanted) if same == wanted => Some(hours_each),
        (Measure::Square, Measure::SquareFoot) => {
            Some(Rate::rounded(hours_each.decimal() / Decimal::ONE_HUNDRED))
        }
        (Measure::SquareFoot, Measure::Square) => {
            Some(Rate::rounded(hours_each.decimal() * Decimal::ONE_HUNDRED))
        }
        _ => None,
    }
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

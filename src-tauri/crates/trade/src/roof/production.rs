//! Production: how long work takes, and what finished jobs say about it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::money::{Qty, Rate};
use crate::roof::kinds::{Item, Measure, Steepness};
use crate::roof::line::{Line, Takeoff};
use crate::roof::measured::{Measured, MeasuredSection, WorkStep};
use crate::roof::shape::Feature;
use crate::roof::sharing::is_shared;
use crate::shown::{grouped, in_sentence};

/// The hours of one piece of work, planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Planned {
    /// Hours to the hundredth, as they are typed.
    pub hours: Qty,
    /// How they were found, a step for each steepness.
    pub steps: Vec<WorkStep>,
}

/// How much of a quantity lies on slopes of each steepness.
pub type OnSlopes = BTreeMap<Steepness, Decimal>;

/// A quantity that lies on several steepnesses, by their weights: areas, lengths or counts. `None` without any weight.
#[must_use]
pub fn spread_over(quantity: Decimal, weights: &OnSlopes) -> Option<OnSlopes> {
    let whole: Decimal = weights.values().sum();
    let of = |(steepness, weight): (&Steepness, &Decimal)| {
        Some((*steepness, (quantity * *weight).checked_div(whole)?))
    };
    if weights.is_empty() { None } else { weights.iter().map(of).collect() }
}

/// On what slopes an item lies: what runs along edges by the edges' lengths, what belongs to features by the sections
/// these stand on, what covers planes by their areas; the rest on the largest plane (company rule). So the edge of a
/// steep section is worked on at the steep one's rate, and what is too flat for shingles has no share in theirs.
///
/// `None` where there is no section.
#[must_use]
pub fn on_slopes(
    takeoff: &Takeoff,
    item: Item,
    measured: &Measured,
    features: &[Feature],
    steepness_of: impl Fn(Qty) -> Steepness,
) -> Option<OnSlopes> {
    let largest = measured.sections.iter().max_by_key(|section| section.area_sqft)?;
    let mut all = OnSlopes::new();
    for line in takeoff.lines.iter().filter(|line| line.item == item) {
        let laid = |section: &&MeasuredSection| !item.goes_with_shingles() || !takeoff.is_bare(&section.name);
        let mut weights = OnSlopes::new();
        for section in measured.sections.iter().filter(laid) {
            let weight = weight(line, section, features, &largest.name);
            if weight.is_positive() {
                *weights.entry(steepness_of(section.slope)).or_default() += weight.decimal();
            }
        }
        if weights.is_empty() {
            let on = measured.sections.iter().filter(laid).max_by_key(|section| section.area_sqft);
            weights.insert(steepness_of(on.unwrap_or(largest).slope), Decimal::ONE);
        }
        for (steepness, part) in spread_over(line.net.decimal(), &weights)? {
            *all.entry(steepness).or_default() += part;
        }
    }
    Some(all)
}

/// What a section weighs in a line. A line between two sections is worked on from both.
fn weight(line: &Line, section: &MeasuredSection, features: &[Feature], largest: &str) -> Qty {
    if let Some(kind) = line.place {
        let edges = section.edges.iter().filter(|edge| edge.kind == kind);
        edges.map(|edge| if is_shared(kind) { edge.length_ft } else { edge.counted_ft }).sum()
    } else if let Some(kind) = line.feature {
        let on = |feature: &&Feature| {
            feature.kind == kind && feature.section.as_deref().unwrap_or(largest) == section.name
        };
        features.iter().filter(on).map(|feature| Qty::rounded(feature.count.into())).sum()
    } else if matches!(line.item, Item::TearOff | Item::Underlayment | Item::Shingles) {
        section.area_sqft
    } else {
        Qty::ZERO
    }
}

/// The hours of work that lies on slopes of several steepnesses, each part at its own rate; the sum is rounded once, to
/// the hundredth (company rule; half of one goes to the even one). `None` where a steepness has no rate.
#[must_use]
pub fn plan(parts: &OnSlopes, rate: impl Fn(Steepness) -> Option<Rate>) -> Option<Planned> {
    let (mut hours, mut steps) = (Decimal::ZERO, Vec::new());
    for (steepness, part) in parts {
        let each = rate(*steepness)?;
        let of_part = part * each.decimal();
        hours += of_part;
        steps.push(WorkStep {
            words: format!(
                "{} × {each} hours each, {}",
                grouped(part.round_dp(2).normalize()),
                in_sentence(steepness.label())
            ),
            figure: format!("{} h", Qty::rounded(of_part.round_dp(2))),
        });
    }
    Some(Planned { hours: Qty::rounded(hours.round_dp(2)), steps })
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

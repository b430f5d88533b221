//! What finished jobs took, code by code: the firm's own record, to hold its production rates against.

use desk::OfficeError;
use desk::names::Names;
use ledger::closed_lists::JobStatusWord;
use ledger::facts::{JobStatus, ProductionRate};
use ledger::{Books, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::roof::spread;
use trade::{Item, Measure, Qty, Rate};

/// A production rate that the record offers for an item.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Offered {
    /// The item.
    pub item: Item,
    /// In words.
    pub item_title: String,
    /// One of its measure, in words.
    pub measure_word: String,
    /// Hours for one measure: the pooled rate, in the item's measure.
    pub hours: Rate,
}

/// What the work on one code took on finished jobs. Rates are hours for one of the code's unit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Observed {
    /// The code's id.
    pub code_id: String,
    /// Its word.
    pub code: String,
    /// Its unit.
    pub unit: String,
    /// How many finished jobs.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub jobs: i64,
    /// Hours in all.
    pub hours: Qty,
    /// Units in all.
    pub units: Qty,
    /// All hours over all units.
    pub rate: Rate,
    /// A quarter of the jobs took no more.
    pub low: Rate,
    /// Half of the jobs took no more.
    pub median: Rate,
    /// Three quarters of the jobs took no more.
    pub high: Rate,
    /// The item whose rate this could be, when the code's hours are those of one item and its unit can be turned into
    /// the item's measure.
    pub offered: Option<Offered>,
}

/// What the work on each measured code took on finished jobs, in the order of the codes. Hours of hidden conditions are
/// in, as their units are. The jobs' slopes and heights are mixed: the page says so beside the figures.
///
/// # Errors
/// When the facts cannot be read.
pub fn observed(books: Books<'_>) -> Result<Vec<Observed>, OfficeError> {
    let Some((_, last)) = books.months()? else { return Ok(Vec::new()) };
    let names = Names::read(books)?;
    let mut by_code: BTreeMap<Id, Vec<(Qty, Qty)>> = BTreeMap::new();
    for (code, totals) in books.code_totals(&finished(books)?, last)?.into_values().flatten() {
        if totals.units.is_positive() && totals.hours.is_positive() {
            by_code.entry(code).or_default().push((totals.hours, totals.units));
        }
    }
    let mut items: BTreeMap<Id, BTreeSet<Item>> = BTreeMap::new();
    for rate in books.all::<ProductionRate>()? {
        items.entry(rate.fact.code).or_default().insert(rate.fact.item);
    }
    let mut codes: Vec<_> = names.codes.iter().collect();
    codes.sort_by_key(|(_, code)| code.position);
    let row = |(id, code): (&Id, &ledger::facts::CostCode)| {
        let (jobs, unit) = (by_code.get(id)?, code.unit.clone()?);
        let found = spread(jobs)?;
        let only = items.get(id).filter(|items| items.len() == 1).and_then(|items| items.first().copied());
        Some(Observed {
            code_id: id.to_string(),
            code: code.code.clone(),
            jobs: found.jobs,
            hours: jobs.iter().map(|(hours, _)| *hours).sum(),
            units: jobs.iter().map(|(_, units)| *units).sum(),
            rate: found.pooled,
            low: found.low,
            median: found.median,
            high: found.high,
            offered: only.and_then(|item| offer(item, &unit, found.pooled)),
            unit,
        })
    };
    Ok(codes.into_iter().filter_map(row).collect())
}

/// The jobs whose last step is that they are done.
fn finished(books: Books<'_>) -> Result<BTreeSet<Id>, OfficeError> {
    let mut stages: BTreeMap<Id, JobStatusWord> = BTreeMap::new();
    for step in desk::rates::dated(books, |step: &JobStatus| step.date)? {
        stages.insert(step.fact.job, step.fact.stage);
    }
    let done = stages.into_iter().filter(|(_, stage)| *stage == JobStatusWord::Finished);
    Ok(done.map(|(job, _)| job).collect())
}

fn offer(item: Item, unit: &str, rate: Rate) -> Option<Offered> {
    let hours = trade::roof::hours_in_measure(rate, unit_measure(unit)?, item.measure())?;
    Some(Offered {
        item,
        item_title: item.label().to_owned(),
        measure_word: item.measure().single().to_owned(),
        hours,
    })
}

/// The measure that a code's unit means, as firms write it.
fn unit_measure(unit: &str) -> Option<Measure> {
    Some(match unit.trim().to_lowercase().as_str() {
        "square" | "squares" | "sq" => Measure::Square,
        "square foot" | "square feet" | "sq ft" | "sqft" => Measure::SquareFoot,
        "foot" | "feet" | "ft" | "lineal feet" | "linear feet" | "lf" => Measure::Foot,
        "each" | "piece" | "pieces" | "sheet" | "sheets" => Measure::Each,
        "ton" | "tons" => Measure::Ton,
        "day" | "days" => Measure::Day,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_a_square_become_hours_a_square_foot_and_nothing_is_made_of_what_cannot_be_turned() {
        let rate = Rate::parse("1.5").unwrap();
        let offered = offer(Item::Shingles, "squares", rate).unwrap();
        assert_eq!((offered.hours.to_string(), offered.measure_word.as_str()), ("0.015".to_owned(), "sq ft"));
        assert_eq!(offer(Item::TearOff, "squares", rate).unwrap().hours, rate);
        assert_eq!(offer(Item::TearOff, "sq ft", rate).unwrap().hours.to_string(), "150");
        assert!(
            offer(Item::Shingles, "bundles", rate).is_none()
                && offer(Item::Gutter, "squares", rate).is_none()
        );
    }
}

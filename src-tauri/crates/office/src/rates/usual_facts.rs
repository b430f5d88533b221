//! What most firms begin with, as facts that are not recorded yet.
//!
//! Figures are common practice and have no source, but for the employer's federal taxes, which name theirs.

use jiff::civil::Date;
use serde_json::{Map, Value};
use trade::{Item, Qty, Rate, Steepness};

/// A fact a line, as `record` takes it. What stands as null is asked; codes stand by their word.
const LISTS: &str = include_str!("usual.jsonl");

/// The year whose figure it is, where a later year has another.
const FIGURE_OF: &str = "base_of";

/// The usual facts of a kind, in their order, as they are on a day: a wage base of an earlier year is asked anew.
pub(crate) fn usual_facts(kind: &str, on: Date) -> Vec<Map<String, Value>> {
    let read = LISTS.lines().filter_map(|line| serde_json::from_str::<Map<String, Value>>(line).ok());
    let of_kind = read.filter(|fact| fact.get("kind").and_then(Value::as_str) == Some(kind));
    of_kind.map(|fact| as_of(fact, on)).collect()
}

fn as_of(mut fact: Map<String, Value>, on: Date) -> Map<String, Value> {
    let Some(year) = fact.remove(FIGURE_OF).and_then(|year| year.as_i64()) else { return fact };
    if i64::from(on.year()) != year {
        fact.insert("wage_base".to_owned(), Value::Null);
    }
    fact
}

fn text<'a>(fact: &'a Map<String, Value>, field: &str) -> Option<&'a str> {
    fact.get(field).and_then(Value::as_str)
}

/// The usual hours and coverages, to tell which of the firm's own are still as they were offered.
#[derive(Debug)]
pub(crate) struct UsualFigures {
    hours: Vec<(Item, Steepness, Rate)>,
    covers: Vec<(String, Item, Qty)>,
}

impl UsualFigures {
    pub(crate) fn read() -> UsualFigures {
        let hours = usual_facts("production-rate", Date::MIN);
        let hours = hours.iter().filter_map(|fact| {
            let item = Item::parse(text(fact, "item")?).ok()?;
            let steepness = Steepness::parse(text(fact, "steepness")?).ok()?;
            Some((item, steepness, text(fact, "hours")?.parse().ok()?))
        });
        let covers = usual_facts("part", Date::MIN);
        let covers = covers.iter().filter_map(|fact| {
            let item = Item::parse(text(fact, "item")?).ok()?;
            Some((text(fact, "title")?.to_owned(), item, text(fact, "covers")?.parse().ok()?))
        });
        UsualFigures { hours: hours.collect(), covers: covers.collect() }
    }

    /// Whether hours are still the ones that were offered: nobody said yet that they are the firm's own.
    pub(crate) fn are_hours(&self, item: Item, steepness: Steepness, hours: Rate) -> bool {
        self.hours.contains(&(item, steepness, hours))
    }

    /// Whether what a part covers is still what was offered, and can differ from maker to maker.
    pub(crate) fn is_coverage(&self, title: &str, item: Item, covers: Qty) -> bool {
        trade::usual_coverage(item).is_some()
            && self.covers.iter().any(|usual| (usual.0.as_str(), usual.1, usual.2) == (title, item, covers))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn every_line_is_read_and_the_usual_figures_are_usual() {
        let kinds = ["cost-code", "burden-rate", "part", "production-rate", "account"];
        let read: usize = kinds.iter().map(|kind| usual_facts(kind, date(2026, 3, 1)).len()).sum();
        assert_eq!(read, LISTS.lines().count());
        let figures = UsualFigures::read();
        assert_eq!(figures.hours.len(), usual_facts("production-rate", Date::MIN).len());
        assert_eq!(figures.covers.len(), usual_facts("part", Date::MIN).len());
        for (item, _, hours) in &figures.hours {
            let range = trade::usual_hours(*item).unwrap();
            assert!(range.holds(hours.decimal()), "{hours} h of {}", item.as_str());
        }
        for (title, item, covers) in &figures.covers {
            let holds = trade::usual_coverage(*item).is_none_or(|range| range.holds(covers.decimal()));
            assert!(holds, "{title} covers {covers}");
        }
    }

    #[test]
    fn a_wage_base_is_that_of_its_own_year_or_is_asked() {
        let base = |on| {
            let facts = usual_facts("burden-rate", on);
            let social = facts.iter().find(|fact| text(fact, "name") == Some("Social Security")).unwrap();
            assert!(!social.contains_key(FIGURE_OF));
            text(social, "wage_base").map(str::to_owned)
        };
        assert_eq!(base(date(2026, 12, 31)).as_deref(), Some("184500.00"));
        assert_eq!(base(date(2027, 1, 1)), None);
        assert_eq!(base(date(2025, 12, 31)), None);
    }
}

//! Hours of work on planes of several steepnesses, and quantities and hours in another measure.

use std::collections::BTreeMap;

use trade::roof::{hours_in_measure, in_measure, plan};
use trade::{Measure, Rate, Steepness};

use crate::plans::q;

fn r(text: &str) -> Rate {
    Rate::parse(text).unwrap()
}

/// 20 squares on 1,500 sq ft that are walkable and 500 that are steep: 15 × 1.5 h and 5 × 2.25 h are 33.75 h.
#[test]
fn each_steepness_has_its_share_of_the_work_at_its_own_rate() {
    let areas = BTreeMap::from([(Steepness::Walkable, q("1500")), (Steepness::Steep, q("500"))]);
    let rate = |steepness| Some(if steepness == Steepness::Walkable { r("1.5") } else { r("2.25") });
    let planned = plan(q("20"), &areas, rate).unwrap();
    assert_eq!(planned.hours, q("33.75"));
    let steps: Vec<_> =
        planned.steps.iter().map(|step| (step.words.as_str(), step.figure.as_str())).collect();
    assert_eq!(
        steps,
        [("15 × 1.5 hours each, walkable", "22.5 h"), ("5 × 2.25 hours each, steep", "11.25 h")]
    );
}

/// Thirds are shown rounded, but the hours are rounded once: 3 × ⅓ × 1 h is one hour.
#[test]
fn planned_hours_are_rounded_once() {
    let areas = [Steepness::Low, Steepness::Walkable, Steepness::Steep].map(|steepness| (steepness, q("7")));
    let planned = plan(q("1"), &BTreeMap::from(areas), |_| Some(r("1"))).unwrap();
    assert_eq!(planned.hours, q("1"));
    assert!(planned.steps.iter().all(|step| step.figure == "0.33 h"));
}

#[test]
fn without_a_rate_or_an_area_nothing_is_planned() {
    let areas = BTreeMap::from([(Steepness::Low, q("100"))]);
    assert_eq!(plan(q("1"), &areas, |_| None), None);
    assert_eq!(plan(q("1"), &BTreeMap::new(), |_| Some(r("1"))), None);
}

#[test]
fn a_square_is_a_hundred_square_feet() {
    assert_eq!(in_measure(q("1931.96"), Measure::SquareFoot, Measure::Square), Some(q("19.32")));
    assert_eq!(in_measure(q("7"), Measure::Foot, Measure::Foot), Some(q("7")));
    assert_eq!(in_measure(q("7"), Measure::Foot, Measure::Each), None);
    assert_eq!(hours_in_measure(r("2"), Measure::Square, Measure::SquareFoot), Some(r("0.02")));
    assert_eq!(hours_in_measure(r("0.02"), Measure::SquareFoot, Measure::Square), Some(r("2")));
    assert_eq!(hours_in_measure(r("2"), Measure::Ton, Measure::Ton), Some(r("2")));
    assert_eq!(hours_in_measure(r("2"), Measure::Ton, Measure::Day), None);
}

//! Hours of work on planes of several steepnesses, and quantities and hours in another measure.

use crate::typed::{q, r};
use rust_decimal::Decimal;
use trade::roof::{
    Around, Feature, OnSlopes, Recipe, around, hours_in_measure, in_measure, measure, on_slopes, plan,
    spread_over,
};
use trade::{FeatureKind, Item, Measure, Origin, Qty, Steepness};

use crate::roof::plans::{Eave, Rake, Ridge, feature, gable, roof, typed};
use crate::roof::takeoffs::of;

fn on(parts: &[(Steepness, &str)]) -> OnSlopes {
    parts.iter().map(|(steepness, part)| (*steepness, q(part).decimal())).collect()
}

/// 20 squares on 1,500 sq ft that are walkable and 500 that are steep: 15 × 1.5 h and 5 × 2.25 h are 33.75 h.
#[test]
fn each_steepness_has_its_share_of_the_work_at_its_own_rate() {
    let areas = on(&[(Steepness::Walkable, "1500"), (Steepness::Steep, "500")]);
    let rate = |steepness| Some(if steepness == Steepness::Walkable { r("1.5") } else { r("2.25") });
    let planned = plan(&spread_over(q("20").decimal(), &areas).unwrap(), rate).unwrap();
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
    let areas =
        on(&[Steepness::Low, Steepness::Walkable, Steepness::Steep].map(|steepness| (steepness, "7")));
    let planned = plan(&spread_over(Decimal::ONE, &areas).unwrap(), |_| Some(r("1"))).unwrap();
    assert_eq!(planned.hours, q("1"));
    assert!(planned.steps.iter().all(|step| step.figure == "0.33 h"));
}

#[test]
fn without_a_rate_or_an_area_nothing_is_planned() {
    assert_eq!(plan(&on(&[(Steepness::Low, "100")]), |_| None), None);
    assert_eq!(spread_over(Decimal::ONE, &OnSlopes::new()), None);
    assert_eq!(spread_over(Decimal::ONE, &on(&[(Steepness::Low, "0")])), None);
}

/// The edges of a steep section are steep work, though the largest plane is walkable: by hand, 30 of 70 ft of eave are
/// on the dormer at 12 in 12; its chimney too, and the ridge that both have is worked on from either.
#[test]
fn the_edges_of_a_steep_section_are_steep_work() {
    let mut two = roof(vec![
        typed("main", "6", "1000", &[(Eave, "40"), (Rake, "20"), (Ridge, "10")]),
        typed("dormer", "12", "200", &[(Eave, "30")]),
    ]);
    two.features = vec![Feature { section: Some("dormer".to_owned()), ..feature(FeatureKind::Chimney, 1) }];
    let measured = measure(&two).unwrap();
    let takeoff = of(&two, Origin::Company, &Recipe::usual());
    let usual = Recipe::usual();
    let how_steep = |slope| usual.steepness(slope);
    let lies = |item| on_slopes(&takeoff, item, &measured, &two.features, how_steep).unwrap();
    for item in [Item::DripEdge, Item::Starter] {
        let steep = lies(item)[&Steepness::VerySteep];
        let eaves = takeoff.lines.iter().find(|line| line.item == item && line.place == Some(Eave)).unwrap();
        let off = steep - eaves.net.decimal() * Decimal::from(30) / Decimal::from(70);
        assert!(off.abs() < Decimal::new(1, 6), "{item}: {steep}");
    }
    assert!(lies(Item::Barrier)[&Steepness::VerySteep] > Decimal::ZERO);
    assert_eq!(lies(Item::ChimneyFlashing), on(&[(Steepness::VerySteep, "1")]));
    assert_eq!(lies(Item::RidgeCap).len(), 1, "the ridge is the main roof's");
    let shingles = lies(Item::Shingles);
    assert_eq!(shingles, on(&[(Steepness::Walkable, "1000"), (Steepness::VerySteep, "200")]));
}

/// Shares of one steepness add up, and a section too flat for shingles has none in theirs: 100 and 200 sq ft walkable,
/// 300 steep; the 400 that are flat are torn off all the same.
#[test]
fn sections_of_one_steepness_count_together_and_bare_ones_not_for_shingles() {
    let of_sections =
        [("one", "6", "100"), ("two", "6", "200"), ("three", "9", "300"), ("porch", "1", "400")];
    let all = roof(of_sections.map(|(name, slope, area)| typed(name, slope, area, &[])).to_vec());
    let measured = measure(&all).unwrap();
    let takeoff = of(&all, Origin::Company, &Recipe::usual());
    let usual = Recipe::usual();
    let lies = |item| on_slopes(&takeoff, item, &measured, &[], |slope| usual.steepness(slope)).unwrap();
    let walkable_and_steep = [(Steepness::Walkable, "300"), (usual.steepness(q("9")), "300")];
    assert_eq!(lies(Item::Shingles), on(&walkable_and_steep));
    assert_eq!(lies(Item::TearOff)[&usual.steepness(q("1"))].round_dp(4), q("4").decimal());
}

/// By hand: 33 hours of a crew of four at eight a day are two days; 80 ft of eave and 62.61 of rake are covered;
/// everybody drives 12 miles there and back on both days: 2 × 12 × 4 × 2 = 192.
#[test]
fn setting_up_covering_cleaning_and_driving_follow_days_edges_and_miles() {
    let measured = measure(&gable(40, 28, "6")).unwrap();
    let given = Around { hours: q("33"), people: 4, hours_a_day: q("8"), miles: q("12") };
    let net = |given: &Around, item| {
        around(&measured, given).into_iter().find(|line| line.item == item).map(|line| line.net.to_string())
    };
    assert_eq!(net(&given, Item::SetUp).as_deref(), Some("2"));
    assert_eq!(net(&given, Item::Covering).as_deref(), Some("142.61"));
    assert_eq!(net(&given, Item::CleanUp).as_deref(), Some("12.522"));
    assert_eq!(net(&given, Item::Driving).as_deref(), Some("192"));
    assert_eq!(net(&Around { hours: q("32"), ..given }, Item::SetUp).as_deref(), Some("1"));
    assert_eq!(net(&Around { miles: Qty::ZERO, ..given }, Item::Driving), None);
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

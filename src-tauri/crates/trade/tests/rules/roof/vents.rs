//! Vents: which ratio holds, how the balance is kept, and how much eave and air there is for it.

use crate::typed::q;
use proptest::prelude::*;
use rstest::rstest;
use rust_decimal::Decimal;
use trade::roof::{
    Asked, Feature, FreeArea, House, Recipe, Roof, Setting, Takeoff, VentChoice, WarningCode, free_area,
    usual,
};
use trade::{FeatureKind, Item, Origin, Qty, Topic};

use crate::roof::plans::{Eave, Ridge, feature, gable, house};
use crate::roof::takeoffs::{asked, is, lines, steps, warned};

fn half() -> Decimal {
    Decimal::new(5, 1)
}

/// The conditions for 1/300 before 2012: 50 to 80 % high, or the vapor retarder.
fn older() -> Asked {
    let mut settings = usual();
    let of = |(topic, value): (Topic, &str)| Setting {
        topic,
        origin: Origin::Code,
        value: q(value),
        source: "IRC R806.2, 2009".to_owned(),
    };
    settings.extend(
        [(Topic::VentUpperLeast, "50"), (Topic::VentUpperMost, "80"), (Topic::VentBoth, "0")].map(of),
    );
    Asked::from(&settings, Origin::Code)
}

fn needed(house: &House, asked: &Asked, high_share: Decimal) -> FreeArea {
    free_area(house.attic_floor_sqft.unwrap(), house, asked, high_share)
}

/// IRC R806.2 (read; examples computed): 1,200 sq ft in zone 6 without a retarder, half high: 1,152 sq in by the new
/// editions and 576 by the old; in zone 5: 576.
#[rstest]
#[case(Some(6), false, "1152", "576")]
#[case(Some(6), true, "576", "576")]
#[case(Some(5), false, "576", "576")]
#[case(None, false, "1152", "576")]
fn one_to_three_hundred_only_where_the_edition_has_it(
    #[case] climate_zone: Option<i64>,
    #[case] vapor_retarder: bool,
    #[case] newer_sqin: &str,
    #[case] older_sqin: &str,
) {
    let mut attic = house();
    (attic.attic_floor_sqft, attic.climate_zone, attic.vapor_retarder) =
        (Some(q("1200")), climate_zone, vapor_retarder);
    assert_eq!(needed(&attic, &asked(Origin::Code), half()).total_sqin, q(newer_sqin));
    assert_eq!(needed(&attic, &older(), half()).total_sqin, q(older_sqin));
}

/// 40 to 50 % high by the new editions, with the retarder or in a mild zone; 50 to 80 % by the old, unless there is a
/// retarder.
#[rstest]
#[case("0.39", "150", "150")]
#[case("0.4", "300", "150")]
#[case("0.5", "300", "300")]
#[case("0.51", "150", "300")]
#[case("0.81", "150", "150")]
fn the_share_that_is_high_decides(#[case] high: &str, #[case] newer: &str, #[case] old: &str) {
    let mut attic = house();
    attic.climate_zone = Some(4);
    let share: Decimal = high.parse().unwrap();
    assert_eq!(needed(&attic, &asked(Origin::Code), share).ratio, q(newer));
    assert_eq!(needed(&attic, &older(), share).ratio, q(old));
    attic.vapor_retarder = true;
    assert_eq!(needed(&attic, &older(), share).ratio, q("300"), "the retarder alone was enough");
}

/// 2,000 sq ft at 1/150: 1,920 sq in (computed). A standard of 1/150 does not give way to any condition.
#[test]
fn a_standard_of_one_to_a_hundred_and_fifty_stands() {
    let mut attic = house();
    (attic.attic_floor_sqft, attic.climate_zone, attic.vapor_retarder) = (Some(q("2000")), Some(2), true);
    let mut settings = usual();
    settings.push(Setting {
        topic: Topic::VentRatio,
        origin: Origin::Company,
        value: q("150"),
        source: "company rule".to_owned(),
    });
    assert_eq!(needed(&attic, &Asked::from(&settings, Origin::Company), half()).total_sqin, q("1920"));
    assert_eq!(needed(&attic, &asked(Origin::Code), half()).total_sqin, q("960"));
}

fn vented(roof: &Roof, asked: &Asked, recipe: &Recipe) -> Takeoff {
    trade::roof::takeoff(&trade::roof::measure(roof).unwrap(), &roof.house, &roof.features, asked, recipe)
}

/// By hand: 1,152 sq ft in zone 4 at 1/300 want 552.96 sq in, half 276.48; ÷ 18 = 15.36, 16 ft of ridge vent give 288,
/// and as much low is 32 ft of 9. With 20 ft of eave that can be vented, 180 sq in low: 62 % is high, so it is 1/150
/// after all: 31 ft high, 20 ft low, and what is missing is said.
#[test]
fn where_the_vents_are_out_of_balance_it_is_one_to_a_hundred_and_fifty() {
    let mut roof = gable(40, 28, "6");
    roof.house.climate_zone = Some(4);
    let balanced = vented(&roof, &asked(Origin::Code), &Recipe::usual());
    is(&balanced, Item::RidgeVent, Some(Ridge), "16");
    is(&balanced, Item::Intake, Some(Eave), "32");
    assert!(lines(&balanced, Item::RidgeVent, Some(Ridge))[0].rule.contains("the conditions for 1/300 hold"));
    let little = Recipe { vented_eave_ft: Some(q("20")), ..Recipe::usual() };
    let takeoff = vented(&roof, &asked(Origin::Code), &little);
    is(&takeoff, Item::RidgeVent, Some(Ridge), "31");
    is(&takeoff, Item::Intake, Some(Eave), "20");
    let rule = &lines(&takeoff, Item::RidgeVent, Some(Ridge))[0].rule;
    assert!(
        rule.contains("not 1/300: 61.54 % of the vents' free area is high, and 40 to 50 % is asked for"),
        "{rule}"
    );
    assert!(warned(&takeoff, WarningCode::LittleIntake));
}

/// Power vents by the air that they move, 0.7 cu ft a minute for a square foot of floor, and a square foot of free area
/// low for 300 (common practice, no source): 1,152 × 0.7 = 806.4, one of 900; 900 ÷ 300 × 144 = 432 sq in, 48 ft of 9.
#[test]
fn power_vents_are_rated_by_the_air_they_move() {
    let roof = gable(40, 28, "6");
    let fan = VentChoice { cfm: Some(q("900")), ..VentChoice::rated(Item::PowerVent, q("200")) };
    let takeoff = vented(&roof, &asked(Origin::Code), &Recipe { exhaust: vec![fan], ..Recipe::usual() });
    is(&takeoff, Item::PowerVent, None, "1");
    is(&takeoff, Item::Intake, Some(Eave), "48");
    let unrated = VentChoice { cfm: None, ..fan };
    let takeoff = vented(&roof, &asked(Origin::Code), &Recipe { exhaust: vec![unrated], ..Recipe::usual() });
    assert!(warned(&takeoff, WarningCode::VentUnknown));
    let ridge = VentChoice::rated(Item::RidgeVent, q("18"));
    let both = vented(&roof, &asked(Origin::Code), &Recipe { exhaust: vec![fan, ridge], ..Recipe::usual() });
    assert!(warned(&both, WarningCode::MixedExhaust));
}

/// 806.4 cu ft a minute are wanted of 1,152 sq ft of floor. One fan of 500 leaves 306.4, for which a second of 500 is
/// taken; a fan that is fixed at one and moves 500 falls short, and one of 806.4 just does not.
#[test]
fn a_second_fan_moves_what_the_first_leaves() {
    let roof = gable(40, 28, "6");
    let fan = |cfm: &str, fixed: Option<&str>| VentChoice {
        cfm: Some(q(cfm)),
        fixed: fixed.map(q),
        ..VentChoice::rated(Item::PowerVent, q("200"))
    };
    let by = |exhaust: Vec<VentChoice>| {
        vented(&roof, &asked(Origin::Code), &Recipe { exhaust, ..Recipe::usual() })
    };
    let two = by(vec![fan("500", Some("1")), fan("400", None)]);
    let counts: Vec<String> =
        lines(&two, Item::PowerVent, None).iter().map(|line| line.net.to_string()).collect();
    assert_eq!(counts, ["1", "1"]);
    // 900 ÷ 300 × 144 sq in low.
    is(&two, Item::Intake, Some(Eave), "48");
    assert!(!warned(&two, WarningCode::LittleExhaust));
    assert!(warned(&by(vec![fan("500", Some("1"))]), WarningCode::LittleExhaust));
    assert!(!warned(&by(vec![fan("806.4", Some("1"))]), WarningCode::LittleExhaust));
    let none = by(vec![fan("500", Some("0"))]);
    assert!(!warned(&none, WarningCode::LittleExhaust), "where no fan moves anything, none is planned");
    let no_air =
        Recipe { intake_cfm_per_sqft: Qty::ZERO, exhaust: vec![fan("500", None)], ..Recipe::usual() };
    assert!(lines(&vented(&roof, &asked(Origin::Code), &no_air), Item::Intake, Some(Eave)).is_empty());
}

/// By hand: half of 552.96 is 276.48; two old vents of 9 × 10 sq in low leave 96.48 of what 288 high ask: 10.72, 11 ft.
#[test]
fn old_intake_that_stays_counts_low() {
    let mut roof = gable(40, 28, "6");
    roof.house.climate_zone = Some(4);
    let old = Feature {
        vent: Some(Item::Intake),
        free_area_sqin: Some(q("90")),
        ..feature(FeatureKind::OldVent, 2)
    };
    roof.features = vec![old.clone()];
    let takeoff = vented(&roof, &asked(Origin::Code), &Recipe::usual());
    is(&takeoff, Item::RidgeVent, Some(Ridge), "16");
    // (288 − 180) ÷ 9.
    is(&takeoff, Item::Intake, Some(Eave), "12");
    let low = steps(&takeoff, Item::Intake, Some(Eave));
    assert_eq!(low, ["552.96 sq in of free area", "288 sq in", "108 sq in", "12 ft"]);
    let words = &lines(&takeoff, Item::Intake, Some(Eave))[0].steps;
    assert!(words[1].words.starts_with("as much as on the other side"), "{}", words[1].words);
    assert!(words[2].words.starts_with("less 180 of vents that stay"), "{}", words[2].words);
    let high = lines(&takeoff, Item::RidgeVent, Some(Ridge));
    assert!(high[0].steps[1].words.starts_with("half of it"), "{}", high[0].steps[1].words);
    assert_eq!(
        steps(&takeoff, Item::RidgeVent, Some(Ridge)),
        ["552.96 sq in of free area", "276.48 sq in", "16 ft"]
    );
    roof.features = vec![Feature { count: 0, ..old }];
    let none = vented(&roof, &asked(Origin::Code), &Recipe::usual());
    is(&none, Item::Intake, Some(Eave), "32");
}

/// Half of what is asked for is high, half low (IRC R806.2, computed): 1,200 sq ft at 1/150 are 1,152 sq in, 576 each.
#[test]
fn free_area_is_asked_for_in_halves() {
    let mut attic = house();
    (attic.attic_floor_sqft, attic.climate_zone) = (Some(q("1200")), Some(6));
    let need = needed(&attic, &asked(Origin::Code), half());
    assert_eq!([need.total_sqin, need.high_sqin, need.low_sqin], ["1152", "576", "576"].map(q));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// However the ratings fall, rounding to feet and pieces never takes the balance out of what is asked.
    #[test]
    fn rounding_never_tips_the_balance(floor in 100_i64..4_000, high in 5_i64..60, low in 5_i64..60) {
        let mut roof = gable(400, 28, "6");
        (roof.house.attic_floor_sqft, roof.house.climate_zone) = (Some(Qty::from_e4(floor * 10_000)), Some(4));
        let rated = |vent, rating: i64| VentChoice::rated(vent, Qty::from_e4(rating * 10_000));
        let recipe = Recipe {
            exhaust: vec![rated(Item::RidgeVent, high)],
            intake: Some(rated(Item::Intake, low)),
            ..Recipe::usual()
        };
        for (asked, newer) in [(asked(Origin::Code), true), (older(), false)] {
            let takeoff = vented(&roof, &asked, &recipe);
            let out = takeoff.net(Item::RidgeVent).decimal() * Decimal::from(high);
            let into = takeoff.net(Item::Intake).decimal() * Decimal::from(low);
            prop_assert!(if newer { out <= into } else { out >= into }, "{out} high, {into} low");
            let need = needed(&roof.house, &asked, out / (out + into)).total_sqin.decimal();
            prop_assert!(out + into >= need, "{out} and {into} of {need}");
        }
    }
}

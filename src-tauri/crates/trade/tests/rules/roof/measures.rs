//! Areas and lengths, against published figures and against pencil and paper.

use crate::typed::q;
use rstest::rstest;
use rust_decimal::Decimal;
use trade::roof::{measure, slope_factor};
use trade::{EdgeKind, FeatureKind, Qty};

use crate::roof::plans::{
    Eave, Headwall, Hip, Rake, Ridge, Transition, Valley, Wall, ell, feature, gable, hip, roof, section,
    typed,
};

fn near(found: Decimal, wanted: &str, by: &str) {
    let (wanted, by): (Decimal, Decimal) = (wanted.parse().unwrap(), by.parse().unwrap());
    assert!((found - wanted).abs() <= by, "{found} is not within {by} of {wanted}");
}

/// A trade magazine's field guide, read; it prints three places, some of them rounded down.
#[rstest]
#[case("4", "1.054", "1.452")]
#[case("5", "1.083", "1.474")]
#[case("6", "1.118", "1.500")]
#[case("8", "1.202", "1.564")]
#[case("9", "1.250", "1.600")]
#[case("10", "1.302", "1.642")]
#[case("12", "1.414", "1.732")]
fn factors_are_those_that_the_trade_prints(#[case] slope: &str, #[case] common: &str, #[case] hips: &str) {
    near(slope_factor(q(slope)), common, "0.0015");
    // Four hips over a run of 12 ft each.
    let measured = measure(&hip(40, 24, slope)).unwrap();
    near(measured.hip_ft.decimal() / Decimal::from(48), hips, "0.0015");
}

/// US Navy Builder manual, NAVEDTRA 14044 ch. 2 (read): 7 in rise, 16 ft span, common rafter 111⅛ in.
/// Griffith, *Carpentry*, 1916 (read): 25 ft span, quarter pitch, which is 6 in 12: 12.5 × 13.42 = 167.75 in. Both
/// books round to what a framing square shows.
#[rstest]
#[case(16, "7", "111.125", "0.0625")]
#[case(25, "6", "167.75", "0.05")]
fn a_rake_is_as_long_as_the_common_rafter(
    #[case] span: i64,
    #[case] slope: &str,
    #[case] rafter_in: &str,
    #[case] by: &str,
) {
    // Twice the span, so that half of it is a whole foot; and half of the rafter again.
    let measured = measure(&gable(30, span * 2, slope)).unwrap();
    let one_rake_in = measured.rake_ft.decimal() / Decimal::from(4) * Decimal::from(12);
    near(one_rake_in / Decimal::TWO, rafter_in, by);
}

/// *Estimating in Building Construction* (read): a hip roof and a gable roof of one span, slope and length have the
/// same area. 40 × 28 ft at 6 in 12: 1,120 × 1.118034 = 1,252.20 sq ft.
#[test]
fn a_hip_roof_has_the_area_of_a_gable_roof() {
    let (gable, hip) = (measure(&gable(40, 28, "6")).unwrap(), measure(&hip(40, 28, "6")).unwrap());
    near(gable.area_sqft.decimal(), "1252.20", "0.005");
    near(hip.area_sqft.decimal(), "1252.20", "0.005");
    // Sums of sections, each kept to a ten-thousandth.
    near(gable.area_sqft.decimal() - hip.area_sqft.decimal(), "0", "0.0002");
    near(gable.squares.decimal(), "12.522", "0.0001");
    // A hip over a run of 14 ft: 14 × √(2 + ¼) = 14 × 1.5 = 21 ft, and four of them, each counted once.
    assert_eq!(hip.hip_ft, q("84"));
    assert_eq!((hip.ridge_ft, hip.eave_ft), (q("12"), q("136")));
    assert_eq!((gable.ridge_ft, gable.eave_ft, gable.hip_ft), (q("40"), q("80"), Qty::ZERO));
    let ridge = &gable.sections[1].edges[0];
    assert_eq!((ridge.kind, ridge.length_ft, ridge.counted_ft), (Ridge, q("40"), Qty::ZERO));
    assert_eq!(ridge.shared_with.as_deref(), Some("front"));
}

/// By hand, at 6 in 12 (factor √1.25 = 1.1180340, hip factor 1.5):
/// front 40 × 12 less the wing's triangle 16 × 8 ÷ 2 = 416; back 480; each side of the wing 8 × (12 + 20) ÷ 2 = 128;
/// together 1,152, which is 40 × 24 + 16 × 12. Times the factor: 1,287.9752.
/// Valleys: two runs of 8 ft × 1.5 = 24. Eaves 12 + 12 + 40 + 12 + 12 = 88. Rakes: runs 12 + 12 + 8 + 8 = 40, × factor
/// = 44.7214. Ridges 40 + 20 = 60. Wall: runs 12 + 12 = 24, × factor = 26.8328. Two eaves end at the wall.
#[test]
fn an_l_shaped_roof_with_a_valley_and_a_wall() {
    let measured = measure(&ell("6")).unwrap();
    near(measured.area_sqft.decimal(), "1287.9752", "0.0003");
    let plan: Qty = measured.sections.iter().map(|section| section.plan_sqft).sum();
    assert_eq!(plan, q("1152"));
    assert_eq!(measured.valley_ft, q("24"));
    assert_eq!(measured.eave_ft, q("88"));
    assert_eq!(measured.ridge_ft, q("60"));
    near(measured.rake_ft.decimal(), "44.7214", "0.0003");
    near(measured.wall_ft.decimal(), "26.8328", "0.0003");
    assert_eq!(measured.wall_ends, 2);
    assert_eq!((measured.steepest, measured.lowest), (q("6"), q("6")));
    assert!(measured.working[0].words.contains("416 sq ft in plan × 1.118"), "{:?}", measured.working);
    assert_eq!(measured.working[4].figure, "1,287.98 sq ft");
}

/// By hand: a hip between 6 in 12 in front and 12 in 12 at the end. Both rise 6 ft where the front has run 12 ft and
/// the end 6 ft, so the hip runs 6 across and 12 up: √(6² + 12² + 6²) = √216 = 14.6969 ft.
#[test]
fn a_hip_between_unequal_slopes_runs_where_both_rise_alike() {
    let unequal = roof(vec![
        section("front", "6", &[(0, 0, Eave), (40, 0, Hip), (34, 12, Ridge), (0, 12, Rake)]),
        section("end", "12", &[(40, 0, Eave), (40, 24, Hip), (34, 12, Hip)]),
        section("back", "6", &[(40, 24, Eave), (0, 24, Rake), (0, 12, Ridge), (34, 12, Hip)]),
    ]);
    let measured = measure(&unequal).unwrap();
    near(measured.hip_ft.decimal(), "29.3939", "0.0001");
    // The end: 24 × 6 ÷ 2 = 72 in plan, × √2.
    near(measured.sections[1].area_sqft.decimal(), "101.8234", "0.0001");
    assert_eq!((measured.steepest, measured.lowest), (q("12"), q("6")));
}

/// The back is drawn in two sections, so that each has only part of the front's ridge; and one of them is longer than
/// the front, so that a part of its ridge is its own.
#[test]
fn an_edge_shared_in_part_is_counted_once() {
    let parted = roof(vec![
        section("front", "5", &[(0, 0, Eave), (30, 0, Rake), (30, 10, Ridge), (0, 10, Rake)]),
        section("back one", "5", &[(0, 10, Ridge), (12, 10, Rake), (12, 20, Eave), (0, 20, Rake)]),
        section("back two", "5", &[(12, 10, Ridge), (40, 10, Rake), (40, 20, Eave), (12, 20, Rake)]),
    ]);
    let measured = measure(&parted).unwrap();
    assert_eq!(measured.ridge_ft, q("40"));
    let counted: Vec<Qty> = measured
        .sections
        .iter()
        .flat_map(|s| &s.edges)
        .filter(|e| e.kind == Ridge)
        .map(|e| e.counted_ft)
        .collect();
    assert_eq!(counted, [q("30"), Qty::ZERO, q("10")]);
}

#[test]
fn a_slope_that_changes_has_its_transition_once() {
    // By hand: below 3 in 12 for 8 ft, above 9 in 12 for 12 ft, both 20 ft long.
    let broken = roof(vec![
        section("porch", "3", &[(0, 0, Eave), (20, 0, Rake), (20, 8, Transition), (0, 8, Rake)]),
        section("upper", "9", &[(0, 8, Transition), (20, 8, Rake), (20, 20, Headwall), (0, 20, Rake)]),
    ]);
    let measured = measure(&broken).unwrap();
    assert_eq!(measured.transition_ft, q("20"));
    assert_eq!(measured.headwall_ft, q("20"));
    assert_eq!(measured.sections[1].area_sqft, q("300"), "240 × 1.25");
    assert_eq!((measured.steepest, measured.lowest), (q("9"), q("3")));
}

#[test]
fn a_typed_roof_measures_as_the_drawn_one() {
    let drawn = measure(&ell("6")).unwrap();
    let by_hand = roof(vec![typed(
        "all",
        "6",
        "1287.9752",
        &[(Eave, "88"), (Rake, "44.7214"), (Valley, "24"), (Ridge, "60"), (Wall, "26.8328")],
    )]);
    let mut noted = by_hand.clone();
    noted.features = vec![feature(FeatureKind::WallEnd, 2)];
    let measured = measure(&noted).unwrap();
    near(measured.area_sqft.decimal() - drawn.area_sqft.decimal(), "0", "0.0003");
    for kind in EdgeKind::ALL {
        near(measured.length_ft(*kind).decimal() - drawn.length_ft(*kind).decimal(), "0", "0.0003");
    }
    assert_eq!(measured.wall_ends, 2);
    near(measured.sections[0].plan_sqft.decimal(), "1152", "0.0001");
    assert_eq!(measure(&by_hand).unwrap().wall_ends, 0);
}

#[test]
fn drawn_and_typed_sections_stand_in_one_roof() {
    let mut mixed = gable(40, 28, "6");
    mixed.sections.push(typed("shed", "3", "100", &[(Eave, "10"), (Headwall, "10")]));
    let measured = measure(&mixed).unwrap();
    near(measured.area_sqft.decimal(), "1352.198", "0.0003");
    assert_eq!((measured.eave_ft, measured.headwall_ft), (q("90"), q("10")));
}

#[test]
fn a_wall_end_that_the_plan_shows_is_not_counted_again() {
    let mut noted = ell("6");
    noted.features = vec![feature(FeatureKind::WallEnd, 2)];
    assert_eq!(measure(&noted).unwrap().wall_ends, 2);
    noted.features = vec![feature(FeatureKind::WallEnd, 3)];
    assert_eq!(measure(&noted).unwrap().wall_ends, 3);
    noted.features[0].section = Some("back".to_owned());
    noted.features[0].count = 1;
    assert_eq!(measure(&noted).unwrap().wall_ends, 2);
}

/// An upper eave hangs 12 in over a lower roof that meets the wall under it: drawn as it is, and no overlap.
#[test]
fn an_eave_may_hang_over_a_lower_roof() {
    let stories = |lower_to: i64| {
        roof(vec![
            section("upper", "6", &[(0, 10, Eave), (20, 10, Rake), (20, 20, Ridge), (0, 20, Rake)]),
            section(
                "lower",
                "4",
                &[(0, 0, Eave), (20, 0, Rake), (20, lower_to, Headwall), (0, lower_to, Rake)],
            ),
        ])
    };
    assert_eq!(measure(&stories(11)).unwrap().headwall_ft, q("20"));
    let wrong = measure(&stories(13)).unwrap_err();
    assert!(wrong[0].to_string().contains("lies over section \"lower\""), "{}", wrong[0]);
}

#[test]
fn a_hip_is_no_longer_than_what_it_shares() {
    let measured = measure(&hip(50, 30, "4")).unwrap();
    let hips = measured.sections.iter().flat_map(|s| &s.edges).filter(|edge| edge.kind == Hip);
    let counted: Qty = hips.map(|edge| edge.counted_ft).sum();
    // Four hips over a run of 15 ft: 15 × √(2 + 1/9) × 4.
    near(counted.decimal(), "87.1780", "0.0002");
}

#[test]
fn a_roof_is_written_and_read_as_text() {
    let written = serde_json::to_string(&ell("6.5")).unwrap();
    assert!(written.contains(r#""slope":"6.5""#) && written.contains(r#""edge":"valley""#), "{written}");
    assert_eq!(serde_json::from_str::<trade::roof::Roof>(&written).unwrap(), ell("6.5"));
    let measured = measure(&ell("6.5")).unwrap();
    let written = serde_json::to_string(&measured).unwrap();
    assert_eq!(serde_json::from_str::<trade::roof::Measured>(&written).unwrap(), measured);
}

/// One plane drawn as two sections side by side has the rakes of the whole: the line between is no edge of the roof.
#[test]
fn a_plane_split_side_by_side_has_its_own_rakes_only() {
    let slope = |name: &str, from: i64, to: i64, rise: &str| {
        section(name, rise, &[(from, 0, Eave), (to, 0, Rake), (to, 12, Ridge), (from, 12, Rake)])
    };
    let whole = measure(&roof(vec![slope("all", 0, 30, "6")])).unwrap();
    let split = measure(&roof(vec![slope("left", 0, 10, "6"), slope("right", 10, 30, "6")])).unwrap();
    assert_eq!((split.rake_ft, split.eave_ft), (whole.rake_ft, whole.eave_ft));
    let steps = measure(&roof(vec![slope("left", 0, 10, "6"), slope("right", 10, 30, "9")])).unwrap();
    assert!(steps.rake_ft > whole.rake_ft, "two slopes leave two rakes");
}

//! What a roof asks for, part by part, worked by hand.

use crate::typed::{q, r};
use rstest::rstest;
use rust_decimal::Decimal;
use trade::roof::{
    Asked, BuyError, Feature, Line, PartFacts, Recipe, Roof, Setting, Takeoff, VentChoice, WarningCode,
    WorkStep, buy, eave_rows, eave_width_in, measure, names_section, step_pieces, takeoff, usual,
};
use trade::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Origin, Qty, Rate, ShingleKind, Topic, ValleyMethod,
};

use crate::roof::plans::{
    Eave, Headwall, Rake, Ridge, Valley, Wall, ell, feature, gable, hip, house, roof, typed,
};

pub(crate) fn asked(origin: Origin) -> Asked {
    Asked::from(&usual(), origin)
}

pub(crate) fn of(roof: &Roof, origin: Origin, recipe: &Recipe) -> Takeoff {
    takeoff(&measure(roof).unwrap(), &roof.house, &roof.features, &asked(origin), recipe)
}

pub(crate) fn lines(takeoff: &Takeoff, item: Item, place: Option<EdgeKind>) -> Vec<&Line> {
    takeoff.lines.iter().filter(|line| line.item == item && line.place == place).collect()
}

/// The one line of an item in a place, to within a thousandth.
pub(crate) fn is(takeoff: &Takeoff, item: Item, place: Option<EdgeKind>, wanted: &str) {
    let found = lines(takeoff, item, place);
    assert_eq!(found.len(), 1, "{item} at {place:?}");
    let off = (found[0].net - q(wanted)).decimal().abs();
    assert!(off <= Decimal::new(1, 3), "{item} at {place:?} is {} and not {wanted}", found[0].net);
    assert!(!found[0].steps.is_empty() && !found[0].rule.is_empty());
    assert_eq!(found[0].measure, item.measure());
}

/// What each step of the one line of an item in a place comes to, as it is shown.
pub(crate) fn steps(takeoff: &Takeoff, item: Item, place: Option<EdgeKind>) -> Vec<String> {
    let found = lines(takeoff, item, place);
    assert_eq!(found.len(), 1, "{item} at {place:?}");
    found[0].steps.iter().map(|step| step.figure.clone()).collect()
}

/// The figures of the steps of a line, as they are shown to two decimals.
pub(crate) fn figures(line: &Line) -> Vec<Decimal> {
    let figure = |step: &WorkStep| step.figure.split(' ').next().unwrap().replace(',', "").parse().unwrap();
    line.steps.iter().map(figure).collect()
}

pub(crate) fn warned(takeoff: &Takeoff, code: WarningCode) -> bool {
    takeoff.warnings.iter().any(|warning| warning.code == code)
}

/// A builders' magazine on IRC 2018 R905.1.2 (read): 12 in of overhang and a 6 in wall, 24 in inside. 42 × 1.1180 =
/// 46.96, printed as 47; 42 × 1.4142 = 59.40, printed as 59⅜.
#[rstest]
#[case("6", "47", "0.05")]
#[case("12", "59.375", "0.03")]
fn an_eave_barrier_is_as_wide_as_printed(#[case] slope: &str, #[case] inches: &str, #[case] by: &str) {
    let width = eave_width_in(&house(), &asked(Origin::Code), q(slope));
    let (wanted, by): (Decimal, Decimal) = (inches.parse().unwrap(), by.parse().unwrap());
    assert!((width - wanted).abs() <= by, "{width}");
}

/// IRC R905.1.2, 2015 to 2021 (quoted): at least 36 in along a slope of 8 in 12 or more. Without overhang and with
/// nothing inside, 6 × 1.2019 = 7.21 in at 8 in 12, and 36 are laid; at 7 in 12 it stays 6.95.
#[test]
fn a_steep_eave_has_its_least_width() {
    let mut flush = house();
    flush.overhang_in = Qty::ZERO;
    let mut settings = usual();
    settings.retain(|setting| setting.topic != Topic::BarrierEaveInside);
    let code = Asked::from(&settings, Origin::Code);
    assert_eq!(eave_width_in(&flush, &code, q("8")), Decimal::from(36));
    assert_eq!(eave_width_in(&flush, &code, q("7")).round_dp(2), Decimal::new(695, 2));
}

/// Rows of 36 in that lap by 6: one reaches 36 in, two 66, three 96.
#[rstest]
#[case("36", 1)]
#[case("36.01", 2)]
#[case("66", 2)]
#[case("66.01", 3)]
#[case("96", 3)]
#[case("1", 1)]
fn rows_reach_as_far_as_asked(#[case] width: &str, #[case] rows: i64) {
    assert_eq!(eave_rows(&Recipe::usual(), width.parse().unwrap()), Decimal::from(rows));
}

/// NAVEDTRA 14044 ch. 3 (read, computed): 27 strips to a bundle and 3 bundles a square, of 36 in with 5 in to the
/// weather: 80 strips a square, 320 nails at 4. No. 15 felt covers 432 sq ft a roll, No. 30 216 (read).
#[test]
fn coverage_is_that_of_the_manual() {
    assert_eq!(Decimal::from(14_400) / Decimal::from(36 * 5), Decimal::from(80));
    let square = roof(vec![typed("one square", "4", "100", &[])]);
    let mut recipe = Recipe::usual().with_shingles(ShingleKind::Strip);
    recipe.underlayment_lap_in = Qty::ZERO;
    recipe.underlayment_nails = Qty::ZERO;
    let takeoff = of(&square, Origin::Code, &recipe);
    is(&takeoff, Item::Fasteners, None, "320");
    // 33⅓ cannot be typed; however it is written, a square is three bundles.
    for covers in ["33.3333", "33.333", "33.33"] {
        let bought = buy(&takeoff.lines, Item::Shingles, Rate::ZERO, q(covers)).unwrap().unwrap();
        assert_eq!(bought.packages, q("3"), "at {covers}");
    }
    let large = of(&roof(vec![typed("large", "4", "4320", &[])]), Origin::Code, &recipe);
    for (covers, rolls) in [("432", "10"), ("216", "20")] {
        let bought = buy(&large.lines, Item::Underlayment, Rate::ZERO, q(covers)).unwrap().unwrap();
        assert_eq!(bought.packages, q(rolls));
    }
}

/// The L of `measures`, built to the code. Eave barrier: 42 in level × 1.1180 = 46.96 in, two rows: 88 × 2 × 3 = 528.
/// Its valleys are open metal, under which the code asks for nothing. Covered: 88 × 5.5 = 484, so underlayment
/// (1,287.9752 − 484) × 36/34 = 851.2679. Drip edge in 10 ft pieces that lap 2 in: × 60/59. Tear-off
/// 12.8798 squares at 250 lb: 1.60997 tons. Nails: shingles 12.8798 × 65 × 4 = 3,348.7355, underlayment 8.5127 × 75 =
/// 638.4509, starter 88 ÷ 3 × 4 = 117.3333, cap 60 ft ÷ 5 in × 2 = 288: 3,349 + 639 + 118 + 288 whole ones. Vents:
/// 1,152 × 144 ÷ 150 = 1,105.92, half 552.96; ÷ 18 = 30.7 ft of ridge vent, ÷ 9 = 61.4 of intake.
#[test]
fn the_l_built_to_the_code() {
    let takeoff = of(&ell("6"), Origin::Code, &Recipe::usual());
    is(&takeoff, Item::TearOff, None, "12.8798");
    is(&takeoff, Item::Haul, None, "1.61");
    is(&takeoff, Item::Barrier, Some(Eave), "528");
    assert_eq!(takeoff.net(Item::Barrier), q("528"), "nothing along valleys, rakes, ridges and walls");
    is(&takeoff, Item::Underlayment, None, "851.2679");
    is(&takeoff, Item::DripEdge, Some(Eave), "89.4915");
    is(&takeoff, Item::DripEdge, Some(Rake), "45.4794");
    is(&takeoff, Item::Starter, Some(Eave), "88");
    assert!(lines(&takeoff, Item::Starter, Some(Rake)).is_empty());
    is(&takeoff, Item::Shingles, None, "1287.9752");
    assert_eq!(takeoff.net(Item::Fasteners), q("4394"), "each line in whole nails");
    // Ten-foot pieces that lap by 4 in: × 30/29.
    is(&takeoff, Item::ValleyMetal, Some(Valley), "24.8276");
    is(&takeoff, Item::KickOut, Some(Wall), "2");
    is(&takeoff, Item::RidgeVent, Some(Ridge), "31");
    is(&takeoff, Item::Intake, Some(Eave), "62");
    is(&takeoff, Item::RidgeCap, Some(Ridge), "60");
    is(&takeoff, Item::Permit, None, "1");
    assert!(warned(&takeoff, WarningCode::FlashingsKept), "the code does not ask for new ones");
    assert_eq!(takeoff.warnings.len(), 1, "{:?}", takeoff.warnings);
}

/// The same to the company standard. Eave: 66 in level × 1.1180 = 73.79 in, three rows: 88 × 3 × 3 = 792. Strips of
/// 18 in: rakes 67.0820, ridges 90, walls 40.2492. Each wall is 13.4164 ft, 28.6 courses of 5⅝ in: 29 + 1, twice.
#[test]
fn the_l_built_to_the_company_standard() {
    let takeoff = of(&ell("6"), Origin::Company, &Recipe::usual());
    is(&takeoff, Item::Barrier, Some(Eave), "792");
    is(&takeoff, Item::Barrier, Some(Rake), "67.0821");
    is(&takeoff, Item::Barrier, Some(Ridge), "90");
    is(&takeoff, Item::Barrier, Some(Wall), "40.2492");
    is(&takeoff, Item::StepFlashing, Some(Wall), "60");
    is(&takeoff, Item::Starter, Some(Rake), "44.7214");
    // 12.879752 squares × 65 × 6.
    assert_eq!(lines(&takeoff, Item::Fasteners, None)[0].net, q("5024"));
    assert!(takeoff.warnings.is_empty(), "{:?}", takeoff.warnings);
}

#[test]
fn each_way_of_building_a_valley_asks_its_own_metal_and_membrane() {
    let built = |valley, origin| of(&ell("6"), origin, &Recipe { valley, ..Recipe::usual() });
    let closed = built(ValleyMethod::ClosedCut, Origin::Company);
    is(&closed, Item::Barrier, Some(Valley), "72");
    assert!(lines(&closed, Item::ValleyMetal, Some(Valley)).is_empty());
    let open = built(ValleyMethod::Open, Origin::Code);
    assert!(
        lines(&open, Item::Barrier, Some(Valley)).is_empty(),
        "the code asks for nothing under the metal"
    );
    is(&open, Item::ValleyMetal, Some(Valley), "24.8276");
    // The house asks for strips over the metal's edges, whatever the method is called.
    is(&built(ValleyMethod::Open, Origin::Company), Item::Barrier, Some(Valley), "120");
    let narrow = Recipe { valley_metal_width_in: q("18"), ..Recipe::usual() };
    assert!(warned(&of(&ell("6"), Origin::Code, &narrow), WarningCode::ValleyMetalNarrow));
}

/// R905.2.2 (quoted): 2 in 12 at least, and two layers of underlayment under 4 in 12. Two sections of 100 sq ft, no
/// eaves: 100 + 200, × 36/34 for the laps.
#[test]
fn low_slopes_have_two_layers() {
    let two = roof(vec![typed("steep", "4", "100", &[]), typed("low", "3.9", "100", &[])]);
    is(&of(&two, Origin::Code, &Recipe::usual()), Item::Underlayment, None, "317.6471");
    let flat = roof(vec![typed("flat", "1.5", "100", &[])]);
    let takeoff = of(&flat, Origin::Code, &Recipe::usual());
    assert_eq!(takeoff.net(Item::Underlayment), Qty::ZERO, "nothing of the shingles is counted on it");
    let warning = &takeoff.warnings[0];
    assert_eq!((warning.code, warning.section.as_deref()), (WarningCode::SlopeUnderLeast, Some("flat")));
    assert!(!warned(&of(&two, Origin::Code, &Recipe::usual()), WarningCode::SlopeUnderLeast));
}

/// One a course, and one more: 10 ft of wall at 5 in is 24 courses, 25 pieces; an inch more is 25 courses.
#[test]
fn step_flashing_is_one_a_course_and_one_more() {
    assert_eq!(step_pieces(q("10"), q("5")), Decimal::from(25));
    assert_eq!(step_pieces(q("10.0833"), q("5")), Decimal::from(26));
    assert_eq!(step_pieces(Qty::ZERO, q("5")), Decimal::ZERO);
    assert_eq!(step_pieces(q("10"), Qty::ZERO), Decimal::ZERO);
}

/// By hand, at 12 in on each side: a 4 in pipe takes 28 × 28 in, three of them 16.3333 sq ft; a chimney of 32 × 20 in
/// takes 56 × 44 less its own 640 sq in: 12.6667.
#[test]
fn what_comes_through_has_its_pieces() {
    let mut pierced = gable(40, 28, "6");
    pierced.features = vec![
        feature(FeatureKind::Pipe, 3),
        Feature { width_in: Some(q("32")), length_in: Some(q("20")), ..feature(FeatureKind::Chimney, 1) },
        feature(FeatureKind::Skylight, 2),
    ];
    let takeoff = of(&pierced, Origin::Company, &Recipe::usual());
    let at = |item, kind| {
        let found = takeoff.lines.iter().find(|line| line.item == item && line.feature == Some(kind));
        found.unwrap().net
    };
    assert_eq!(at(Item::Barrier, FeatureKind::Pipe), q("16.3333"));
    assert_eq!(at(Item::Barrier, FeatureKind::Chimney), q("12.6667"));
    assert_eq!(at(Item::PipeBoot, FeatureKind::Pipe), q("3"));
    assert_eq!(at(Item::ChimneyFlashing, FeatureKind::Chimney), q("1"));
    assert_eq!(at(Item::SkylightFlashing, FeatureKind::Skylight), q("2"));
    assert!(warned(&takeoff, WarningCode::SizeMissing), "the skylight has no size");
}

#[test]
fn hauling_is_by_weight_or_by_volume_whichever_is_more() {
    // 30 squares of two layers: 60 × 250 lb = 7.5 tons, two loads of 4; 60 × 0.4 cu yd = 24, two loads of 20.
    let mut heavy = roof(vec![typed("all", "6", "3000", &[])]);
    heavy.house.layers = 2;
    let mut recipe = Recipe::usual();
    let loads = |recipe: &Recipe| {
        let takeoff = of(&heavy, Origin::Code, recipe);
        buy(&takeoff.lines, Item::Haul, Rate::ZERO, recipe.container_tons).unwrap().unwrap()
    };
    assert_eq!((loads(&recipe).net, loads(&recipe).packages), (q("7.5"), q("2")));
    recipe.container_yards = q("10");
    assert_eq!(loads(&recipe).packages, q("3"), "24 cu yd in containers of 10");
    assert_eq!(loads(&recipe).steps.last().unwrap().words, "but by volume");
    recipe.container_tons = q("2");
    assert_eq!(loads(&recipe).packages, q("4"), "7.5 tons in containers of 2");
}

#[test]
fn packages_are_rounded_up_once_for_the_job() {
    let takeoff = of(&hip(40, 28, "6"), Origin::Code, &Recipe::usual());
    // 1,252.198 × 1.1 = 1,377.42; ÷ 33.33 = 41.33. Each of the four sections by itself would ask for 43.
    let bought = buy(&takeoff.lines, Item::Shingles, Rate::from_e6(100_000), q("33.33")).unwrap().unwrap();
    assert_eq!(bought.packages, q("42"));
    assert_eq!(bought.gross, Qty::rounded(bought.net.decimal() * Decimal::new(11, 1)));
    assert_eq!(buy(&takeoff.lines, Item::Gutter, Rate::ZERO, q("10")), Ok(None));
    let nothing = buy(&takeoff.lines, Item::Shingles, Rate::ZERO, Qty::ZERO);
    assert!(matches!(nothing, Err(BuyError::CoversNothing { .. })));
    let odd = buy(&takeoff.lines, Item::Shingles, Rate::from_e6(10_000_000), q("33.33"));
    assert!(odd.unwrap_err().to_string().contains("0.1 stands for 10 %"));
    // Just over a whole number of packages is one more.
    let one = roof(vec![typed("one", "6", "100.1", &[])]);
    let takeoff = of(&one, Origin::Code, &Recipe::usual());
    assert_eq!(buy(&takeoff.lines, Item::Shingles, Rate::ZERO, q("10")).unwrap().unwrap().packages, q("11"));
}

#[test]
fn the_deck_has_what_the_price_covers() {
    let recipe = Recipe { included_sheets: q("3"), included_board_ft: q("40"), ..Recipe::usual() };
    let mut deck = gable(40, 28, "6");
    is(&of(&deck, Origin::Code, &recipe), Item::DeckSheet, None, "3");
    deck.house.deck = DeckKind::SpacedBoards;
    let takeoff = of(&deck, Origin::Code, &recipe);
    is(&takeoff, Item::DeckBoard, None, "40");
    let open = takeoff.warnings.iter().find(|warning| warning.code == WarningCode::OpenDeck).unwrap();
    assert!(open.remedy.contains("40 sheets"), "1,252.2 ÷ 32 = 39.1: {}", open.remedy);
}

#[test]
fn insulation_gutters_masonry_and_machines_are_counted_where_asked_for() {
    let recipe = Recipe {
        insulation_depth_in: Some(q("14")),
        gutters: true,
        gutter_corners: 2,
        downspouts: Some(4),
        masonry_walls: true,
        machine_days: q("1.5"),
        ..Recipe::usual()
    };
    let mut shed = roof(vec![typed("shed", "4", "200", &[(Eave, "20"), (Headwall, "29"), (Wall, "10")])]);
    shed.house.layers = 0;
    let takeoff = of(&shed, Origin::Company, &recipe);
    is(&takeoff, Item::Insulation, None, "1152");
    is(&takeoff, Item::Gutter, Some(Eave), "20");
    is(&takeoff, Item::Other, Some(Eave), "2");
    is(&takeoff, Item::Downspout, Some(Eave), "40");
    is(&takeoff, Item::Machine, None, "1.5");
    is(&takeoff, Item::Apron, Some(Headwall), "30");
    is(&takeoff, Item::CounterFlashing, Some(Headwall), "30");
    is(&takeoff, Item::CounterFlashing, Some(Wall), "10.3448");
    assert!(lines(&takeoff, Item::TearOff, None).is_empty() && lines(&takeoff, Item::Haul, None).is_empty());
}

#[test]
fn exhaust_of_two_kinds_is_warned_of() {
    let mut vented = gable(40, 28, "6");
    let old = Feature {
        vent: Some(Item::TurbineVent),
        free_area_sqin: Some(q("100")),
        ..feature(FeatureKind::OldVent, 2)
    };
    vented.features = vec![old.clone()];
    let takeoff = of(&vented, Origin::Code, &Recipe::usual());
    let mixed = takeoff.warnings.iter().find(|warning| warning.code == WarningCode::MixedExhaust).unwrap();
    assert!(mixed.words.contains("ridge-vent, turbine-vent"), "{}", mixed.words);
    // What stays counts: (552.96 − 200) ÷ 18 = 19.6.
    is(&takeoff, Item::RidgeVent, Some(Ridge), "20");
    let turbines = VentChoice::rated(Item::TurbineVent, q("100"));
    let one_kind = Recipe { exhaust: vec![turbines], ..Recipe::usual() };
    let takeoff = of(&vented, Origin::Code, &one_kind);
    is(&takeoff, Item::TurbineVent, None, "4");
    assert!(takeoff.warnings.is_empty(), "{:?}", takeoff.warnings);
    vented.features = vec![Feature { free_area_sqin: None, ..old }];
    assert!(warned(&of(&vented, Origin::Code, &one_kind), WarningCode::VentUnknown));
}

#[test]
fn too_little_ridge_exhaust_or_intake_is_warned_of() {
    // A ridge of 12 ft × 18 = 216 of 552.96 sq in.
    let short = of(&hip(40, 28, "6"), Origin::Code, &Recipe::usual());
    is(&short, Item::RidgeVent, Some(Ridge), "12");
    let ridge = short.warnings.iter().find(|warning| warning.code == WarningCode::LittleRidge).unwrap();
    assert!(ridge.words.contains("336.96 sq in"), "{}", ridge.words);
    let boxes = VentChoice { fixed: Some(q("10")), ..VentChoice::rated(Item::BoxVent, q("50")) };
    let few = Recipe { exhaust: vec![boxes], intake: None, ..Recipe::usual() };
    let takeoff = of(&hip(40, 28, "6"), Origin::Code, &few);
    is(&takeoff, Item::BoxVent, None, "10");
    assert!(warned(&takeoff, WarningCode::LittleExhaust) && warned(&takeoff, WarningCode::LittleIntake));
    let mut none = hip(40, 28, "6");
    none.house.attic_floor_sqft = Some(Qty::ZERO);
    let takeoff = of(&none, Origin::Code, &Recipe { exhaust: vec![], intake: None, ..Recipe::usual() });
    assert!(takeoff.warnings.is_empty(), "{:?}", takeoff.warnings);
}

#[test]
fn what_is_missing_or_short_is_warned_of() {
    let mut settings = usual();
    settings.retain(|setting| setting.topic != Topic::KickOut);
    let ell = ell("6");
    let measured = measure(&ell).unwrap();
    let recipe = Recipe { eave_rows: Some(1), step_flashing_side_in: q("3"), ..Recipe::usual() };
    let takeoff = takeoff(&measured, &ell.house, &[], &Asked::from(&settings, Origin::Company), &recipe);
    assert!(
        warned(&takeoff, WarningCode::KickOutMissing) && warned(&takeoff, WarningCode::StepFlashingSmall)
    );
    let short = takeoff.warnings.iter().find(|warning| warning.code == WarningCode::BarrierShort).unwrap();
    assert!(short.words.contains("reaches 36 in") && short.words.contains("73.79 in"), "{}", short.words);
    assert_eq!(short.remedy, "Lay 3 rows.");
}

/// 29 CFR 1926.501(b)(13): 6 ft. 40 CFR 745.83: before 1978, up to 20 sq ft outside is minor. (read)
#[test]
fn cautions_stand_where_the_work_can_hurt() {
    let mut old = gable(40, 28, "9");
    let sources = |roof: &Roof| -> Vec<String> {
        of(roof, Origin::Code, &Recipe::usual()).cautions.into_iter().filter_map(|c| c.source).collect()
    };
    assert!(sources(&old).contains(&"29 CFR 1926.501(b)(11), (b)(13)".to_owned()), "9 in 12 is steep");
    assert!(!sources(&old).iter().any(|source| source.starts_with("40 CFR 745")));
    old.house.built_before_1978 = true;
    let all = of(&old, Origin::Code, &Recipe::usual()).cautions;
    for word in [
        "Falls",
        "Holes",
        "Ladders",
        "Loads",
        "Power lines",
        "Heat",
        "Lead",
        "Asbestos",
        "Silica",
        "check your local code",
    ] {
        assert!(all.iter().any(|caution| caution.words.contains(word)), "{word}");
    }
    assert!(sources(&old).contains(&"40 CFR 745.83, 745.85(a)".to_owned()));
}

/// ceil(65 ÷ 5) + 1 = 14 and ceil(125 ÷ 5) = 25, by hand; a quarter inch more asks for one more.
#[test]
fn nothing_is_rounded_before_it_is_rounded_up() {
    for (feet, pieces) in [("5.4167", 14), ("5.4375", 15), ("10.4167", 26), ("5", 13)] {
        assert_eq!(trade::roof::step_pieces(q(feet), q("5")), Decimal::from(pieces), "{feet} ft");
    }
}

#[test]
fn a_typed_wall_without_noted_ends_is_warned_of() {
    let warned = |noted: bool| {
        let mut roof = roof(vec![typed("shed", "6", "200", &[(Eave, "20"), (Wall, "10")])]);
        if noted {
            roof.features = vec![feature(FeatureKind::WallEnd, 1)];
        }
        let asked = Asked::from(&usual(), Origin::Code);
        let out = takeoff(&measure(&roof).unwrap(), &roof.house, &roof.features, &asked, &Recipe::usual());
        let missing = out.warnings.iter().any(|warning| warning.code == WarningCode::KickOutMissing);
        (missing, out.net(Item::KickOut))
    };
    assert_eq!(warned(false), (true, Qty::ZERO));
    assert_eq!(warned(true), (false, q("1")));
}

/// A barrier that is left out saves no underlayment: with it, less; without, the whole area with its laps.
#[test]
fn only_membrane_that_is_laid_saves_underlayment() {
    let roof = gable(40, 28, "6");
    let measured = measure(&roof).unwrap();
    let asked = Asked::from(&usual(), Origin::Company);
    let net = |left_out: &[Item]| {
        let out =
            trade::roof::takeoff_without(&measured, &roof.house, &[], &asked, &Recipe::usual(), left_out);
        (out.net(Item::Barrier), out.net(Item::Underlayment).decimal())
    };
    let whole = measured.area_sqft.decimal() * Decimal::from(36) / Decimal::from(34);
    assert!(net(&[]).0.is_positive() && net(&[]).1 < whole);
    let (barrier, underlayment) = net(&[Item::Barrier]);
    assert_eq!(barrier, Qty::ZERO);
    assert!((underlayment - whole).abs() < Decimal::new(1, 3), "{underlayment} and {whole}");
}

/// The working of a line in its own figures, at every step. The L to the company standard: valleys of 24 ft under a
/// centered strip of 36 in and two of 12; rakes of 44.7214 ft in ten-foot pieces that lap 2 in; 1,287.9752 sq ft less
/// what the membrane covers, in rows of 36 in that lap 2; 65 shingles a square with 6 nails in each.
#[test]
fn every_step_of_a_working_is_in_figures_that_come_to_the_next() {
    let takeoff = of(&ell("6"), Origin::Company, &Recipe::usual());
    assert_eq!(steps(&takeoff, Item::Barrier, Some(Valley)), ["24 ft", "72 sq ft", "48 sq ft"]);
    assert_eq!(steps(&takeoff, Item::DripEdge, Some(Rake)), ["44.72 ft", "45.48 ft"]);
    let near =
        |found: Decimal, wanted: Decimal| assert!((found - wanted).abs() < Decimal::new(3, 2), "{found}");
    let nails = figures(lines(&takeoff, Item::Fasteners, None)[0]);
    near(nails[..nails.len() - 1].iter().sum(), Decimal::new(502_310, 2));
    let rows = figures(lines(&takeoff, Item::Underlayment, None)[0]);
    let open: Decimal = rows[..rows.len() - 1].iter().sum();
    near(rows[rows.len() - 1], open * Decimal::from(36) / Decimal::from(34));
    let whole = Recipe { flashing_lap_in: Qty::ZERO, ..Recipe::usual() };
    let unlapped = of(&ell("6"), Origin::Company, &whole);
    assert_eq!(steps(&unlapped, Item::ValleyMetal, Some(Valley)), ["24 ft"], "no laps, no step for them");
    let two = roof(vec![typed("steep", "4", "100", &[]), typed("low", "3.9", "50", &[])]);
    let low = of(&two, Origin::Code, &Recipe::usual());
    assert_eq!(steps(&low, Item::Underlayment, None), ["100 sq ft", "100 sq ft", "211.76 sq ft"]);
    let words = &lines(&low, Item::Underlayment, None)[0].steps;
    assert!(!words[0].words.contains("two layers") && words[1].words.contains("two layers"));
}

/// By hand, 28 × 40 ft at 6 in 12: each slope is 40 × 15.6525 = 626.0990 sq ft. A strip of 18 in lies half on each side
/// of the ridge, 40 × 0.75 = 30 sq ft on either; along the rakes all of it lies on its own section: 2 × 15.6525 × 1.5 =
/// 46.9574. At the eaves three rows reach 8 ft: 320. A chimney's piece of 12.6667 sq ft on the front saves as much of
/// the underlayment there.
#[test]
fn underlayment_is_saved_on_the_section_that_the_membrane_lies_on() {
    let mut pierced = gable(40, 28, "6");
    let chimney = Feature {
        width_in: Some(q("32")),
        length_in: Some(q("20")),
        section: Some("front".to_owned()),
        ..feature(FeatureKind::Chimney, 1)
    };
    let open = |roof: &Roof| {
        let takeoff = of(roof, Origin::Company, &Recipe::usual());
        let figures = figures(lines(&takeoff, Item::Underlayment, None)[0]);
        [figures[0], figures[1]]
    };
    // 626.0990 − 320 − 30 − 46.9574.
    let expected = Decimal::new(22_914, 2);
    assert_eq!(open(&pierced), [expected, expected]);
    pierced.features = vec![chimney];
    assert_eq!(open(&pierced), [expected - Decimal::new(1_267, 2), expected]);
}

/// The nails say whose count they follow, and which wind.
#[rstest]
#[case(ShingleKind::Individual, false, Topic::NailsIndividual)]
#[case(ShingleKind::Individual, true, Topic::NailsIndividual)]
#[case(ShingleKind::Strip, true, Topic::NailsHighWind)]
#[case(ShingleKind::Strip, false, Topic::NailsEach)]
fn the_nails_name_the_rule_that_counts_them(
    #[case] shingle: ShingleKind,
    #[case] high_wind: bool,
    #[case] topic: Topic,
) {
    let settings: Vec<_> = [Topic::NailsIndividual, Topic::NailsHighWind, Topic::NailsEach]
        .map(|topic| Setting {
            topic,
            origin: Origin::Company,
            value: q("4"),
            source: format!("rule of {}", topic.as_str()),
        })
        .to_vec();
    let mut house = gable(40, 28, "6");
    house.house.high_wind = high_wind;
    let asked = Asked::from(&settings, Origin::Company);
    let recipe = Recipe::usual().with_shingles(shingle);
    let takeoff = takeoff(&measure(&house).unwrap(), &house.house, &[], &asked, &recipe);
    let rule = &lines(&takeoff, Item::Fasteners, None)[0].rule;
    assert!(rule.contains(&format!("rule of {}", topic.as_str())), "{rule}");
}

/// 30 squares at 250 lb of shingles each are 7,500 lb; old layers are told of from the second on.
#[test]
fn the_load_is_told_in_pounds_and_only_more_layers_than_one_are_a_caution() {
    let mut all = roof(vec![typed("all", "6", "3000", &[])]);
    let said = |roof: &Roof| -> Vec<String> {
        of(roof, Origin::Code, &Recipe::usual()).cautions.into_iter().map(|caution| caution.words).collect()
    };
    let of_weight =
        |all: &[String]| all.iter().filter(|words| words.contains("7,500 lb")).cloned().collect::<Vec<_>>();
    let one = said(&all);
    assert_eq!(of_weight(&one).len(), 1, "{one:?}");
    assert!(of_weight(&one)[0].starts_with("Loads"), "{one:?}");
    assert!(!one.iter().any(|words| words.contains("Old layers")));
    all.house.layers = 2;
    assert!(said(&all).iter().any(|words| words.contains("Old layers: 2.")));
}

/// Flashings that stay are told of where there is anything to flash, and new ones make a warning of too small a size
/// only where there is step flashing at all.
#[rstest]
#[case(&[], &[], false)]
#[case(&[FeatureKind::Chimney], &[], true)]
#[case(&[FeatureKind::Skylight], &[], true)]
#[case(&[FeatureKind::Chimney, FeatureKind::Skylight], &[], true)]
#[case(&[], &[(Wall, "10")], true)]
#[case(&[], &[(Headwall, "10")], true)]
fn flashings_that_stay_are_told_of(
    #[case] features: &[FeatureKind],
    #[case] edges: &[(EdgeKind, &str)],
    #[case] told: bool,
) {
    let mut shed = roof(vec![typed("shed", "6", "200", edges)]);
    shed.features = features.iter().map(|kind| feature(*kind, 1)).collect();
    assert_eq!(warned(&of(&shed, Origin::Code, &Recipe::usual()), WarningCode::FlashingsKept), told);
    let small = Recipe { step_flashing_side_in: q("3"), ..Recipe::usual() };
    let company = of(&shed, Origin::Company, &small);
    let stepped = edges.iter().any(|(kind, _)| *kind == Wall);
    assert_eq!(warned(&company, WarningCode::StepFlashingSmall), stepped);
}

/// A chimney measured in both directions has its size; one that lacks either has not, and a pipe needs only one.
#[rstest]
#[case(FeatureKind::Chimney, Some("32"), Some("20"), false)]
#[case(FeatureKind::Chimney, Some("32"), None, true)]
#[case(FeatureKind::Chimney, None, Some("20"), true)]
#[case(FeatureKind::Pipe, None, None, false)]
#[case(FeatureKind::Pipe, Some("3"), None, false)]
fn a_size_that_is_missing_is_told(
    #[case] kind: FeatureKind,
    #[case] width: Option<&str>,
    #[case] length: Option<&str>,
    #[case] told: bool,
) {
    let mut pierced = gable(40, 28, "6");
    pierced.features = vec![Feature { width_in: width.map(q), length_in: length.map(q), ..feature(kind, 1) }];
    let takeoff = of(&pierced, Origin::Company, &Recipe::usual());
    assert_eq!(warned(&takeoff, WarningCode::SizeMissing), told);
    assert!(!warned(&takeoff, WarningCode::VentUnknown), "it is no vent");
}

/// A section too flat for shingles is covered by what is priced beside the takeoff and names it (company rule); what
/// comes through it is not flashed as on shingles.
#[test]
fn a_section_too_flat_is_bare_until_something_else_names_it() {
    let mut both = roof(vec![typed("Porch", "1", "100", &[]), typed("main", "6", "300", &[])]);
    let on = |kind, section: &str| Feature { section: Some(section.to_owned()), ..feature(kind, 1) };
    both.features = vec![on(FeatureKind::Chimney, "Porch"), on(FeatureKind::Pipe, "main")];
    let takeoff = of(&both, Origin::Company, &Recipe::usual());
    assert!(takeoff.is_bare("Porch") && !takeoff.is_bare("main"));
    let uncovered = |items: &[&str]| takeoff.uncovered(items).len();
    assert_eq!(
        [uncovered(&[]), uncovered(&["Gutter"]), uncovered(&["Gutter", "membrane on the porch"])],
        [1, 1, 0]
    );
    assert!(!names_section("membrane", "") && !names_section("", "Porch"));
    let items = takeoff.items();
    assert!(items.contains(&Item::PipeBoot) && !items.contains(&Item::ChimneyFlashing), "{items:?}");
    let times = items.iter().filter(|item| **item == Item::Barrier || **item == Item::Shingles).count();
    assert_eq!(times, usize::from(items.contains(&Item::Barrier)) + 1, "each once");
}

/// The usual shares of waste, by how cut-up the roof is; what the list does not name has none (common practice, no
/// source).
#[test]
fn waste_goes_by_item_and_by_how_cut_up_the_roof_is() {
    let recipe = Recipe::usual();
    let shares = |item| CutUp::ALL.iter().map(|cut_up| recipe.waste_of(item, *cut_up)).collect::<Vec<_>>();
    assert_eq!(shares(Item::Shingles), ["0.1", "0.13", "0.17"].map(r));
    assert_eq!(shares(Item::Fasteners), ["0.1", "0.1", "0.1"].map(r));
    assert_eq!(shares(Item::Permit), ["0", "0", "0"].map(r));
}

/// What a part says of itself goes before the recipe, each item's own field alone.
#[test]
fn a_chosen_part_has_its_own_nails_pieces_and_air() {
    let usual = Recipe::usual();
    let part = PartFacts {
        exposure_in: Some(q("7")),
        nails_each: Some(q("9")),
        free_area_sqin: Some(q("21")),
        ..PartFacts::default()
    };
    let starter = Recipe { starter_piece_in: q("7"), starter_nails: q("9"), ..usual.clone() };
    assert_eq!(usual.clone().with_part(Item::Starter, &part), starter);
    let rows = Recipe { underlayment_nails: q("9"), ..usual.clone() };
    assert_eq!(usual.clone().with_part(Item::Underlayment, &part), rows);
    let vents = usual.clone().with_part(Item::RidgeVent, &part);
    let rated = |recipe: &Recipe| {
        recipe.exhaust.iter().chain(&recipe.intake).map(|vent| vent.free_area_sqin).collect::<Vec<_>>()
    };
    assert_eq!(rated(&usual), ["18", "9"].map(q));
    assert_eq!(rated(&vents), ["21", "9"].map(q), "the intake keeps its own");
    assert_eq!(usual.clone().with_part(Item::Permit, &part), usual);
}

/// The working of a purchase says whether one line or several are bought together.
#[test]
fn a_purchase_says_how_many_lines_it_is_for() {
    let takeoff = of(&ell("6"), Origin::Company, &Recipe::usual());
    let words =
        |item| buy(&takeoff.lines, item, Rate::ZERO, q("10")).unwrap().unwrap().steps[0].words.clone();
    assert_eq!([words(Item::Shingles), words(Item::DripEdge)], ["net", "net, 2 lines together"]);
    let twofold = buy(&takeoff.lines, Item::Shingles, Rate::from_e6(2_000_000), q("10"));
    assert!(twofold.is_ok(), "as much again, twice, is the most that is taken for waste");
}

/// R905.2.2: from 2 in 12. The flat section is not shingled and the other is.
#[test]
fn a_section_too_flat_is_not_shingled() {
    let net = |slope: &str| {
        let both = roof(vec![typed("flat", slope, "100", &[]), typed("main", "6", "300", &[])]);
        of(&both, Origin::Code, &Recipe::usual()).net(Item::Shingles)
    };
    assert_eq!(net("1.9999"), q("300"));
    assert_eq!(net("2"), q("400"));
}

//! Valleys as IRC R905.2.8.2 has them (read in a town's copy of the code): open ones with metal 24 in wide or two plies
//! of mineral roll roofing, 18 and 36 in; closed ones with smooth roll roofing 36 in wide, membrane in its place, or
//! either of the others.

use crate::typed::q;
use rstest::rstest;
use rust_decimal::Decimal;
use trade::roof::{Asked, Recipe, Setting, Takeoff, WarningCode, measure, takeoff_without, usual};
use trade::{Item, Origin, Topic, ValleyLining, ValleyMethod};

use crate::roof::plans::{Valley, ell};
use crate::roof::takeoffs::{asked, figures, lines, of, warned};

fn net(takeoff: &Takeoff, item: Item) -> String {
    lines(takeoff, item, Some(Valley)).iter().map(|line| line.net.to_string()).collect()
}

/// The L has 24 ft of valley: 72 sq ft in 36 in, 36 in 18; metal in laps is 24.8276 ft. What the code alone asks.
#[rstest]
#[case(ValleyMethod::Open, ValleyLining::Membrane, ["24.8276", "", ""])]
#[case(ValleyMethod::OpenRoll, ValleyLining::Membrane, ["", "108", ""])]
#[case(ValleyMethod::ClosedCut, ValleyLining::Membrane, ["", "", "72"])]
#[case(ValleyMethod::ClosedCut, ValleyLining::SmoothRoll, ["", "72", ""])]
#[case(ValleyMethod::ClosedCut, ValleyLining::MineralRoll, ["", "108", ""])]
#[case(ValleyMethod::ClosedCut, ValleyLining::Metal, ["24.8276", "", ""])]
fn a_valley_to_the_code(
    #[case] valley: ValleyMethod,
    #[case] valley_lining: ValleyLining,
    #[case] wanted: [&str; 3],
) {
    let takeoff = of(&ell("6"), Origin::Code, &Recipe { valley, valley_lining, ..Recipe::usual() });
    let found = [Item::ValleyMetal, Item::RollRoofing, Item::Barrier].map(|item| net(&takeoff, item));
    assert_eq!(found, wanted.map(str::to_owned), "{valley} with {valley_lining}");
    assert!(!warned(&takeoff, WarningCode::ValleyBare));
}

/// Membrane under the metal is what the company asks, not the code; the line says whose wish it is.
#[test]
fn what_lies_under_the_metal_is_for_whoever_asks() {
    let recipe = Recipe { valley: ValleyMethod::Open, ..Recipe::usual() };
    let company = of(&ell("6"), Origin::Company, &recipe);
    let membrane = lines(&company, Item::Barrier, Some(Valley));
    assert_eq!(membrane[0].net, q("120"), "36 in under it, and a strip of 12 in over each edge");
    assert!(membrane[0].rule.contains("asked for by the company standard"), "{}", membrane[0].rule);
    let metal = lines(&company, Item::ValleyMetal, Some(Valley));
    assert!(metal[0].rule.contains("asked for by the code (IRC R905.2.8.2)"), "{}", metal[0].rule);
    let closed = Recipe { valley: ValleyMethod::ClosedCut, ..Recipe::usual() };
    let lining = of(&ell("6"), Origin::Code, &closed);
    let rule = &lines(&lining, Item::Barrier, Some(Valley))[0].rule;
    assert!(rule.contains("asked for by the code (IRC R905.2.8.2)"), "{rule}");
    let three = Recipe { valley: ValleyMethod::OpenThreeLayer, ..Recipe::usual() };
    let three = of(&ell("6"), Origin::Code, &three);
    assert!(lines(&three, Item::Barrier, Some(Valley))[0].rule.contains("by the method alone"));
}

/// Strips of 12 in over the edges of metal 24 in wide reach 6 in beyond it on either side: 36 in of each valley are
/// covered, as the centered strip of 36 in covers by itself. With metal 30 in wide it is 42 in, and of 24 ft of valley
/// 12 sq ft more; with strips alone, nothing centered, it is both of them.
#[test]
fn strips_over_the_metals_edges_cover_as_far_as_they_reach() {
    let open = |recipe: &Recipe, asked: &Asked| -> Decimal {
        let roof = ell("6");
        let takeoff = takeoff_without(&measure(&roof).unwrap(), &roof.house, &[], asked, recipe, &[]);
        let rows = figures(lines(&takeoff, Item::Underlayment, None)[0]);
        rows[..rows.len() - 1].iter().sum()
    };
    let near = |found: Decimal, wanted: i64| {
        assert!((found - Decimal::from(wanted)).abs() < Decimal::new(3, 2), "{found} for {wanted}");
    };
    let recipe = |width: &str| Recipe {
        valley: ValleyMethod::OpenThreeLayer,
        valley_metal_width_in: q(width),
        ..Recipe::usual()
    };
    let code = asked(Origin::Code);
    let bare = open(&Recipe { valley: ValleyMethod::Open, ..Recipe::usual() }, &code);
    near(bare - open(&recipe("24"), &code), 72);
    near(bare - open(&recipe("30"), &code), 84);
    let strips = Setting {
        topic: Topic::ValleyEdgeStrips,
        origin: Origin::Company,
        value: q("1"),
        source: "company rule".to_owned(),
    };
    let mut settings: Vec<_> = usual().into_iter().filter(|setting| setting.origin == Origin::Code).collect();
    settings.push(strips);
    let strips = Asked::from(&settings, Origin::Company);
    near(bare - open(&Recipe { valley: ValleyMethod::Open, ..Recipe::usual() }, &strips), 48);
}

/// What is usual comes first: metal alone as R905.2.8.2 has it, and under it what the company asks (company rule).
#[test]
fn the_usual_valley_is_open_metal() {
    assert_eq!(Recipe::usual().valley, ValleyMethod::Open);
    assert_eq!(ValleyMethod::ALL.first(), Some(&ValleyMethod::Open));
    let code = of(&ell("6"), Origin::Code, &Recipe::usual());
    assert!(
        lines(&code, Item::Barrier, Some(Valley)).is_empty(),
        "the code asks for nothing under the metal"
    );
}

/// Of each topic it is known who asks.
#[test]
fn a_topic_knows_who_asks_for_it() {
    let company = Asked::from(&usual(), Origin::Company);
    assert_eq!(company.origin(Topic::ValleyMetalWidth), Some(Origin::Code));
    assert_eq!(company.origin(Topic::BarrierValley), Some(Origin::Company));
    assert_eq!(
        company.origin(Topic::BarrierEaveInside),
        Some(Origin::Company),
        "where both ask, whoever asks more"
    );
    assert_eq!(asked(Origin::Code).origin(Topic::BarrierValley), None);
}

#[test]
fn a_valley_with_nothing_in_it_is_warned_of() {
    let bare = |valley, left_out: &[Item]| {
        let roof = ell("6");
        let recipe = Recipe { valley, ..Recipe::usual() };
        let out = takeoff_without(
            &measure(&roof).unwrap(),
            &roof.house,
            &[],
            &asked(Origin::Code),
            &recipe,
            left_out,
        );
        warned(&out, WarningCode::ValleyBare)
    };
    assert!(bare(ValleyMethod::ClosedCut, &[Item::Barrier]));
    assert!(bare(ValleyMethod::Open, &[Item::ValleyMetal]));
    assert!(!bare(ValleyMethod::Open, &[Item::Barrier]));
}

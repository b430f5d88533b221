//! Shingles by their own facts, and the nails in what is nailed.

use crate::typed::q;
use rstest::rstest;
use rust_decimal::Decimal;
use trade::roof::{
    NailReach, PartFacts, Recipe, Roof, Takeoff, measure, nail_reach, step_pieces, takeoff_without,
};
use trade::{Item, Origin, Qty, ShingleKind};

use crate::roof::plans::{Eave, Hip, Rake, Ridge, roof, typed};
use crate::roof::takeoffs::{asked, lines, of};

fn one_square(slope: &str) -> Roof {
    roof(vec![typed("one square", slope, "100", &[])])
}

/// The nails in shingles alone.
fn in_shingles(takeoff: &Takeoff) -> Qty {
    lines(takeoff, Item::Fasteners, None)[0].net
}

/// Strips of 12 × 36 in at 5 in: 80 a square, 320 or 480 nails (NAVEDTRA 14044 ch. 3, read). Laminated 13 1/4 × 39 3/8
/// in at 5 5/8: 65 cover 99.98 sq ft (read); at 4 and 6 in each that is 260 and 390 (computed).
#[rstest]
#[case(ShingleKind::Strip, "80", "5", ["320", "480"])]
#[case(ShingleKind::Laminated, "65", "5.625", ["260", "390"])]
fn shingles_have_the_facts_of_their_kind(
    #[case] kind: ShingleKind,
    #[case] per_square: &str,
    #[case] exposure: &str,
    #[case] nails: [&str; 2],
) {
    let recipe = Recipe::usual().with_shingles(kind);
    assert_eq!((recipe.shingles_per_square, recipe.exposure_in), (q(per_square), q(exposure)));
    for (origin, nails) in [Origin::Code, Origin::Company].into_iter().zip(nails) {
        assert_eq!(in_shingles(&of(&one_square("6"), origin, &recipe)), q(nails), "{kind} by {origin}");
    }
}

/// 39 3/8 × 5 5/8 in × 65 ÷ 144 = 99.98 sq ft, and 36 × 5 × 80 ÷ 144 = 100.
#[test]
fn as_many_shingles_as_are_said_cover_a_square() {
    let covers = |width: &str, kind: ShingleKind| {
        let recipe = Recipe::usual().with_shingles(kind);
        q(width).decimal() * recipe.exposure_in.decimal() * recipe.shingles_per_square.decimal()
            / Decimal::from(144)
    };
    assert_eq!(covers("39.375", ShingleKind::Laminated).round_dp(2), Decimal::new(9_998, 2));
    assert_eq!(covers("36", ShingleKind::Strip), Decimal::ONE_HUNDRED);
}

/// IRC R905.2.6 (snippet): four a strip, two in one put up by itself. Over 21 in 12 and in high wind it is what the
/// maker asks, six as a start: common practice, no source.
#[rstest]
#[case(ShingleKind::Strip, "21", false, 320)]
#[case(ShingleKind::Strip, "21.5", false, 480)]
#[case(ShingleKind::Strip, "4", true, 480)]
#[case(ShingleKind::Individual, "6", false, 160)]
#[case(ShingleKind::Individual, "6", true, 160)]
fn steep_roofs_and_high_wind_have_more_nails(
    #[case] kind: ShingleKind,
    #[case] slope: &str,
    #[case] high_wind: bool,
    #[case] nails: i64,
) {
    let mut roof = one_square(slope);
    roof.house.high_wind = high_wind;
    let recipe = Recipe::usual().with_shingles(ShingleKind::Strip).with_shingles(kind);
    let net = in_shingles(&of(&roof, Origin::Code, &recipe));
    assert_eq!(net, Qty::from_e4(nails * 10_000));
}

/// Only the section that is steep has more: 100 sq ft at four, 100 at six.
#[test]
fn each_section_has_its_own_nails() {
    let two = roof(vec![typed("low", "6", "100", &[]), typed("mansard", "22", "100", &[])]);
    let recipe = Recipe::usual().with_shingles(ShingleKind::Strip);
    assert_eq!(in_shingles(&of(&two, Origin::Code, &recipe)), q("800"));
}

/// A part's own facts go before the kind's, and its maker's nails before the code's, but never below them.
#[test]
fn a_part_speaks_for_itself() {
    let part = PartFacts {
        shingle: Some(ShingleKind::Strip),
        pieces_per_square: Some(q("66")),
        exposure_in: Some(q("6")),
        nails_each: Some(q("5")),
        ..PartFacts::default()
    };
    let recipe = Recipe::usual().with_part(Item::Shingles, &part);
    assert_eq!(in_shingles(&of(&one_square("6"), Origin::Code, &recipe)), q("330"));
    let shy = Recipe::usual().with_part(Item::Shingles, &PartFacts { nails_each: Some(q("3")), ..part });
    assert_eq!(in_shingles(&of(&one_square("6"), Origin::Code, &shy)), q("264"));
    // The courses follow the exposure: 10 ft of wall are 20 of 6 in, and one more.
    assert_eq!(step_pieces(q("10"), recipe.exposure_in), Decimal::from(21));
    let only_its_kind = PartFacts { shingle: Some(ShingleKind::Strip), ..PartFacts::default() };
    assert_eq!(Recipe::usual().with_part(Item::Shingles, &only_its_kind).shingles_per_square, q("80"));
    let cap = PartFacts { exposure_in: Some(q("8")), nails_each: Some(q("4")), ..PartFacts::default() };
    let recipe = Recipe::usual().with_part(Item::RidgeCap, &cap);
    assert_eq!((recipe.cap_exposure_in, recipe.cap_nails), (q("8"), q("4")));
    assert_eq!(recipe.exposure_in, Recipe::usual().exposure_in, "the cap says nothing of the shingles");
}

/// By hand: 30 ft of starter in pieces of 36 in are 10, at 4; 20 ft of ridge and 5 of hip at 5 in are 60 caps, at 2.
/// What is left out is not nailed.
#[test]
fn starter_cap_and_underlayment_are_nailed_too() {
    let edges = [(Eave, "30"), (Rake, "18"), (Ridge, "20"), (Hip, "5")];
    let roof = roof(vec![typed("front", "6", "100", &edges)]);
    let mut recipe = Recipe::usual();
    (recipe.underlayment_nails, recipe.underlayment_lap_in) = (q("80"), Qty::ZERO);
    recipe.underlayment_over_barrier = true;
    let code = asked(Origin::Code);
    let net = |left_out: &[Item]| {
        takeoff_without(&measure(&roof).unwrap(), &roof.house, &[], &code, &recipe, left_out)
            .net(Item::Fasteners)
    };
    let all = net(&[]);
    assert_eq!(all, q("260") + q("40") + q("96") + q("24") + q("80"));
    assert_eq!(all - net(&[Item::Starter]), q("40"));
    assert_eq!(all - net(&[Item::RidgeCap]), q("120"));
    assert_eq!(all - net(&[Item::Underlayment]), q("80"));
    assert_eq!(all - net(&[Item::Shingles]), q("260"));
}

/// IRC R905.2.5 (snippet): 3/4 in into the deck or through it; a deck of 7/16 in is nailed through (computed).
#[test]
fn nails_go_through_a_thin_deck() {
    assert_eq!(nail_reach(q("0.4375")), NailReach::Through);
    assert_eq!(nail_reach(q("0.75")), NailReach::Into(q("0.75")));
    let rule = |deck_in: &str| {
        let recipe = Recipe { deck_in: q(deck_in), ..Recipe::usual() };
        lines(&of(&one_square("6"), Origin::Code, &recipe), Item::Fasteners, None)[0].rule.clone()
    };
    assert!(
        rule("0.4375").contains("through the deck, which is 0.4375 in (IRC R905.2.5)"),
        "{}",
        rule("0.4375")
    );
    assert!(rule("0.75").contains("at least 0.75 in into the deck"), "{}", rule("0.75"));
}

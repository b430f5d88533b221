//! Crickets behind what is wide, and the parts that come with gutters and insulation.

use crate::typed::q;
use rstest::rstest;
use trade::roof::{Feature, Recipe, Roof, Takeoff, measure, takeoff_without};
use trade::{FeatureKind, Item, Origin, Qty};

use crate::roof::plans::{Eave, Rake, feature, gable, roof, typed};
use crate::roof::takeoffs::{asked, is, of};

fn pierced(kind: FeatureKind, width: Option<&str>) -> Roof {
    let mut roof = gable(40, 28, "6");
    roof.features = vec![Feature { width_in: width.map(q), length_in: Some(q("24")), ..feature(kind, 2) }];
    roof
}

fn cautioned(takeoff: &Takeoff) -> bool {
    takeoff.cautions.iter().any(|caution| caution.source.as_deref() == Some("IRC R903.2.2"))
}

/// IRC R903.2.2 (snippet): MORE than 30 in wide across the slope; 30 no, 30.25 yes (computed). A chimney that nobody
/// measured is taken for 32 in wide, and has one.
#[rstest]
#[case(Some("30"), "0")]
#[case(Some("30.25"), "2")]
#[case(Some("12"), "0")]
#[case(None, "2")]
fn a_chimney_over_thirty_inches_has_a_cricket(#[case] width: Option<&str>, #[case] crickets: &str) {
    let takeoff = of(&pierced(FeatureKind::Chimney, width), Origin::Code, &Recipe::usual());
    assert_eq!(takeoff.net(Item::Cricket), q(crickets));
    assert!(!cautioned(&takeoff), "what is taken off needs no caution");
}

/// A cricket that is left out is a caution, and so is a wide skylight, for which none is taken off.
#[test]
fn a_cricket_left_out_is_a_caution() {
    let chimney = pierced(FeatureKind::Chimney, Some("32"));
    let code = asked(Origin::Code);
    let without = |roof: &Roof, left_out: &[Item]| {
        let measured = measure(roof).unwrap();
        takeoff_without(&measured, &roof.house, &roof.features, &code, &Recipe::usual(), left_out)
    };
    let left = without(&chimney, &[Item::Cricket]);
    assert_eq!(left.net(Item::Cricket), Qty::ZERO);
    assert!(cautioned(&left));
    assert!(!cautioned(&without(&pierced(FeatureKind::Chimney, Some("30")), &[Item::Cricket])));
    let skylight = without(&pierced(FeatureKind::Skylight, Some("46")), &[]);
    assert!(cautioned(&skylight) && skylight.net(Item::Cricket).is_zero());
    assert!(!cautioned(&without(&pierced(FeatureKind::Skylight, Some("22")), &[])));
}

/// By hand: eaves of 40 and 20 ft at a downspout for 35 ft each are 2 + 1; two stories of 10 ft: 60 ft. Insulation
/// keeps clear of 60 ft of eave in bays of 24 in: 30 baffles; where only 25 ft can be vented, 13.
#[test]
fn gutters_have_downspouts_and_insulation_has_baffles() {
    let mut house = roof(vec![
        typed("front", "6", "600", &[(Eave, "40"), (Rake, "15")]),
        typed("back", "6", "300", &[(Eave, "20"), (Rake, "15")]),
    ]);
    house.house.stories = 2;
    let mut recipe = Recipe { gutters: true, insulation_depth_in: Some(q("14")), ..Recipe::usual() };
    let takeoff = of(&house, Origin::Code, &recipe);
    is(&takeoff, Item::Downspout, Some(Eave), "60");
    is(&takeoff, Item::Baffle, Some(Eave), "30");
    recipe.downspouts = Some(4);
    recipe.vented_eave_ft = Some(q("25"));
    let takeoff = of(&house, Origin::Code, &recipe);
    is(&takeoff, Item::Downspout, Some(Eave), "80");
    is(&takeoff, Item::Baffle, Some(Eave), "13");
}

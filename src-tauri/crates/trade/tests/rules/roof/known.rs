//! What the roof tells of the house where nobody has typed it (common practice, no source; computed by hand).

use crate::roof::plans::{Eave, Hip, Rake, Valley, ell, gable, hip, roof, typed};
use crate::roof::takeoffs::asked;
use crate::typed::q;
use trade::roof::{Measured, Recipe, Roof, measure, takeoff};
use trade::{CutUp, Origin};

/// A roof of whose attic and cuts nobody has said anything.
fn as_drawn(mut roof: Roof) -> Measured {
    (roof.house.attic_floor_sqft, roof.house.cut_up) = (None, None);
    measure(&roof).unwrap()
}

#[test]
fn an_attic_floor_is_the_plan_within_the_overhang_of_its_eaves() {
    // Eaves 12 in out on two sides of a gable, on all four of a hip: 40 × 22 and 38 × 22 ft.
    assert_eq!(as_drawn(gable(40, 24, "6")).attic_floor_sqft, q("880"));
    assert_eq!(as_drawn(hip(40, 24, "6")).attic_floor_sqft, q("836"));
    // A house of 40 × 24 and a wing of 16 × 12 before it. Front and back lose 40 × 1 each, of which the wing takes 16
    // and gives back what its own walls stand inward: 40 × 22 + 14 × 13.
    assert_eq!(as_drawn(ell("6")).attic_floor_sqft, q("1062"));
    let mut wide = gable(40, 24, "6");
    wide.house.overhang_in = q("24");
    assert_eq!(as_drawn(wide).attic_floor_sqft, q("800"));
}

#[test]
fn of_a_roof_measured_by_hand_the_attic_floor_is_its_area_laid_flat() {
    // 5 in 12 makes 13 of 12: 1,040 sq ft on the slope are 960 in plan, and 80 ft of eave take 80 of them.
    let by_hand = roof(vec![typed("all", "5", "1040", &[(Eave, "80"), (Rake, "52")])]);
    assert_eq!(as_drawn(by_hand).attic_floor_sqft, q("880"));
}

#[test]
fn what_is_typed_counts_and_nothing_is_nothing() {
    let mut said = gable(40, 24, "6");
    (said.house.attic_floor_sqft, said.house.cut_up) = (Some(q("0")), Some(CutUp::Much));
    let measured = measure(&said).unwrap();
    assert_eq!((measured.attic_floor_sqft, measured.cut_up), (q("0"), CutUp::Much));
    let strip = roof(vec![typed("a narrow one", "12", "10", &[(Eave, "400")])]);
    assert_eq!(as_drawn(strip).attic_floor_sqft, q("0"), "never less than nothing");
}

#[test]
fn valleys_and_hips_say_how_cut_up_a_roof_is() {
    assert_eq!(as_drawn(gable(40, 24, "6")).cut_up, CutUp::Plain);
    assert_eq!(as_drawn(hip(40, 24, "6")).cut_up, CutUp::Some);
    assert_eq!(as_drawn(ell("6")).cut_up, CutUp::Some);
    let valleys = |many: usize| {
        let edges: Vec<_> = (0..many).map(|_| (Valley, "10")).chain([(Eave, "80"), (Hip, "14")]).collect();
        as_drawn(roof(vec![typed("all", "6", "2000", &edges)])).cut_up
    };
    assert_eq!((valleys(4), valleys(5)), (CutUp::Some, CutUp::Much));
}

/// Air for an attic is no matter to be guessed at without a word.
#[test]
fn an_attic_floor_that_nobody_typed_is_a_caution() {
    let told = |roof: Roof| {
        let measured = measure(&roof).unwrap();
        let takeoff = takeoff(&measured, &roof.house, &[], &asked(Origin::Code), &Recipe::usual());
        takeoff.cautions.iter().any(|caution| caution.words.contains("from the plan, 880 sq ft"))
    };
    let mut drawn = gable(40, 24, "6");
    drawn.house.attic_floor_sqft = None;
    assert!(told(drawn.clone()));
    drawn.house.attic_floor_sqft = Some(q("880"));
    assert!(!told(drawn), "a typed one");
}

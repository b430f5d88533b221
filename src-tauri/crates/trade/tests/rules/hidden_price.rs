//! Pricing hidden conditions by time and material. Every figure is worked in its comment.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot read its own figures should stop")]

use crate::typed::{m, r};
use proptest::prelude::*;
use trade::{Money, Rate, time_and_material};

/// 412.37 × 1.2 = 494.844 → 494.84.
#[test]
fn time_and_material_is_marked_up_and_capped() {
    let open = time_and_material(m("412.37"), r("0.2"), None);
    assert_eq!((open.price, open.capped, open.unrecovered), (m("494.84"), false, Money::ZERO));
    let just = time_and_material(m("412.37"), r("0.2"), Some(m("494.84")));
    assert_eq!((just.price, just.capped, just.unrecovered), (m("494.84"), false, Money::ZERO));
    let capped = time_and_material(m("412.37"), r("0.2"), Some(m("450")));
    assert_eq!((capped.price, capped.capped, capped.unrecovered), (m("450"), true, m("44.84")));
    let none = time_and_material(m("412.37"), r("0.2"), Some(m("-5")));
    assert_eq!((none.price, none.unrecovered), (Money::ZERO, m("494.84")));
    let back = time_and_material(m("-10"), r("0.2"), Some(m("450")));
    assert_eq!((back.price, back.capped), (m("-12.00"), false));
    let back = time_and_material(m("-10"), r("0.2"), Some(m("-20")));
    assert_eq!((back.price, back.capped, back.unrecovered), (m("-12.00"), false, Money::ZERO));
}

proptest! {
    /// Nothing is lost: price + unrecovered cost is the marked-up cost, and the price never passes the most.
    #[test]
    fn what_is_not_billed_is_unrecovered(
        cost in 0_i64..100_000_000, markup in 0_i64..2_000_000, most in 0_i64..100_000_000,
    ) {
        let (cost, markup, most) = (Money::from_minor(cost), Rate::from_e6(markup), Money::from_minor(most));
        let open = time_and_material(cost, markup, None);
        let held = time_and_material(cost, markup, Some(most));
        prop_assert_eq!(held.price + held.unrecovered, open.price);
        prop_assert!(held.price <= most && !held.unrecovered.is_negative());
        prop_assert_eq!(held.capped, held.unrecovered.is_positive());
    }
}

/// Common practice, no source; computed by hand.
#[test]
fn one_more_sheet_is_priced_as_the_roof_is_and_never_below_its_cost() {
    use trade::price::unit_price;
    assert_eq!(unit_price(m("66.80"), m("15000"), m("12000")), Some(m("84")));
    assert_eq!(unit_price(m("66.80"), m("9000"), m("12000")), Some(m("67")), "a roof sold below its cost");
    assert_eq!(unit_price(m("80.00"), m("15000"), m("12000")), Some(m("100")), "a whole dollar stays one");
    assert_eq!(unit_price(m("66.80"), m("15000"), Money::ZERO), None);
}

//! Divisions, each rounded once, and figures as people read them.

use crate::typed::{d, m, q, r};
use rust_decimal::Decimal;
use trade::shown::{
    feet_and_inches, four_places, percent, percent_to_tenth, share, three_places, two_places,
};
use trade::{
    Join, Money, Qty, Rate, Rounding, cost_of_one, hourly, join_terms, mean_amount, price_behind,
    price_change, price_of_one, share_of,
};

/// A box of 3 for 10.00 is 3.333333 for one, and 3.33 as money.
#[test]
fn the_price_of_one_is_the_packages_over_what_it_covers() {
    assert_eq!(price_of_one(r("10"), q("3")), Some(r("3.333333")));
    assert_eq!(cost_of_one(r("10"), q("3")), Some(m("3.33")));
    assert_eq!(price_of_one(r("10"), Qty::ZERO), None);
    assert_eq!(cost_of_one(r("10"), Qty::ZERO), None);
}

/// 0.044996 ÷ 9 = 0.0049995…, which is 0.00 as money; by way of the millionth, 0.005, it would be 0.01.
#[test]
fn the_cost_of_one_is_not_rounded_twice() {
    let (package, covers) = (r("0.044996"), q("9"));
    assert_eq!(cost_of_one(package, covers), Some(Money::ZERO));
    assert_eq!(price_of_one(package, covers).map(|each| Money::rounded(each.decimal())), Some(m("0.01")));
}

#[test]
fn the_unit_price_behind_an_amount_without_a_quantity_is_the_amount() {
    assert_eq!(price_behind(m("250"), q("3")), r("83.333333"));
    assert_eq!(price_behind(m("250"), Qty::ZERO), r("250"));
    assert_eq!(m("-12.30").as_rate(), r("-12.3"));
    assert_eq!(q("-0.1234").abs().as_rate(), r("0.1234"));
    assert_eq!(Qty::whole(-3), q("-3"));
}

#[test]
fn means_and_shares_are_rounded_once() {
    assert_eq!(hourly(m("1000"), q("37.5")), Some(r("26.666667")));
    assert_eq!(hourly(m("1000"), Qty::ZERO), None);
    assert_eq!(mean_amount(m("100"), 3), Some(m("33.33")));
    assert_eq!(mean_amount(m("100"), 0), None);
    assert_eq!(share_of(m("1"), m("3")), r("0.333333"));
    assert_eq!(share_of(m("1"), Money::ZERO), Rate::ZERO);
    assert_eq!(price_change(r("40"), r("30")), Some(r("-0.25")));
    assert_eq!(price_change(Rate::ZERO, r("30")), None);
}

#[test]
fn what_is_shown_has_no_more_places_than_are_read() {
    assert_eq!(two_places(q("12.3456")), q("12.35"));
    assert_eq!((two_places(q("0.125")), two_places(q("0.135"))), (q("0.12"), q("0.14")));
    assert_eq!(three_places(d("1.23449")).to_string(), "1.234");
    assert_eq!(three_places(d("2.000")).to_string(), "2");
    assert_eq!(share(d("0.33333333")), r("0.333333"));
    assert_eq!(percent(d("0.0725")).to_string(), "7.25");
    assert_eq!(percent(Decimal::ONE).to_string(), "100");
}

#[test]
fn a_percentage_has_one_decimal_and_a_true_minus() {
    assert_eq!(percent_to_tenth(d("0.35")), "35.0 %");
    assert_eq!(percent_to_tenth(d("-0.03456")), "−3.5 %");
    assert_eq!(percent_to_tenth(d("-0.0004")), "0.0 %", "nothing has no sign");
}

#[test]
fn a_length_reads_as_off_a_tape() {
    assert_eq!(feet_and_inches(q("24.5")), "24 ft 6 in");
    assert_eq!(feet_and_inches(q("24")), "24 ft");
    assert_eq!(feet_and_inches(q("23.99")), "24 ft", "twelve inches are a foot");
    assert_eq!(feet_and_inches(q("0.25")), "0 ft 3 in");
}

/// Half of the last decimal that is kept goes away from zero, and no idle zero is shown.
#[test]
fn a_count_is_shown_with_the_decimals_it_is_kept_in() {
    let shown = ["1976.68", "1976.67995", "12", "0.50", "-1234.5"].map(|figure| four_places(d(figure)));
    assert_eq!(shown, ["1,976.68", "1,976.68", "12", "0.5", "\u{2212}1,234.5"]);
}

/// Every way in which the terms of a working join, and what cannot be joined.
#[test]
fn terms_join_in_seven_ways_and_are_rounded_once() {
    let join = |how, rounding, terms: &[&str]| {
        let terms: Vec<Decimal> = terms.iter().map(|term| d(term)).collect();
        join_terms(how, rounding, 2, &terms)
    };
    let exactly = |how, terms: &[&str]| join(how, Rounding::None, terms);
    assert_eq!(exactly(Join::Sum, &["5", "-2", "0.5"]), Some(d("3.5")));
    assert_eq!(exactly(Join::Product, &["5", "-2", "0.5"]), Some(d("-5")));
    assert_eq!(exactly(Join::Quotient, &["5", "-2", "0.5"]), Some(d("-5")));
    assert_eq!(exactly(Join::Proportion, &["5", "3", "2"]), Some(d("7.5")));
    assert_eq!(exactly(Join::Larger, &["5", "-2", "7"]), Some(d("7")));
    assert_eq!(exactly(Join::Smaller, &["5", "-2", "7"]), Some(d("-2")));
    // 10.00 in three: the first part carries the cent, this is the second.
    assert_eq!(exactly(Join::Share, &["10", "1", "1", "1"]), Some(d("3.33")));
    assert_eq!(exactly(Join::Sum, &[]), Some(Decimal::ZERO));
    for (how, terms) in [
        (Join::Quotient, &["5", "0"][..]),
        (Join::Proportion, &["5", "3", "0"]),
        (Join::Proportion, &["5", "3"]),
        (Join::Share, &["10", "1"]),
    ] {
        assert_eq!(exactly(how, terms), None, "{how:?} of {terms:?}");
    }
    let third = |rounding| join(Join::Quotient, rounding, &["200", "3"]);
    assert_eq!(third(Rounding::Cent), Some(d("66.67")));
    assert_eq!(third(Rounding::TenThousandth), Some(d("66.6667")));
    assert_eq!(third(Rounding::Millionth), Some(d("66.666667")));
}

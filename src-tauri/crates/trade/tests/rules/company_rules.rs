//! Company rules on amounts: the cost behind a price, parts of a quantity, a rate behind rounded taxes, a schedule as
//! shares, a code's forecast spread over its cells, and what is owed for a change while it is at work.

use crate::typed::{code, m, q, r};
use rstest::rstest;
use trade::{
    BilledAs, CostKind, IncludedUse, Money, Patch, PatchError, PriceError, Qty, Rate, WalkCode, area_sqft,
    beyond_quantity, billed_as, cost_at_margin_sold, cost_at_markup, cost_of_change, crew_hours,
    deal_to_work, forecast_of_conditions, owed_so_far, part_for_work, payment_shares, price_at_markup,
    quantity_used, rate_behind, spread_forecast, stored_material, tax_foreseen, usual_week,
};

/// 494.84 ÷ 1.2 = 412.3666… → 412.37, and back to 494.84.
#[test]
fn the_cost_behind_a_marked_up_price_gives_the_price_again() {
    let cost = cost_at_markup(m("494.84"), r("0.2")).unwrap();
    assert_eq!((cost, price_at_markup(cost, r("0.2"))), (m("412.37"), m("494.84")));
    assert_eq!(cost_at_markup(m("100"), Rate::ZERO), Ok(m("100.00")));
    let unrecovered = cost_at_markup(m("100"), r("-1"));
    assert!(matches!(unrecovered, Err(PriceError::MarkupTooLow { .. })));
}

/// A job sold at 10,000 that should cost 6,000 was sold at 40 %: work of 250 should cost 150.
#[test]
fn work_should_cost_its_price_less_the_margin_sold() {
    assert_eq!(cost_at_margin_sold(m("250"), m("10000"), m("6000")), m("150.00"));
    assert_eq!(cost_at_margin_sold(m("250"), m("10000"), m("12000")), m("250.00"), "sold at a loss");
    assert_eq!(cost_at_margin_sold(m("250"), Money::ZERO, m("6000")), m("250.00"), "without a price");
}

/// Asked on the roof at 250 by a crew that knows no cost: 250 until the office says 150. A credit likewise.
#[test]
fn a_change_whose_cost_is_open_is_expected_to_cost_its_price() {
    assert_eq!(cost_of_change(None, m("250")), m("250.00"));
    assert_eq!(cost_of_change(Some(m("150")), m("250")), m("150.00"));
    assert_eq!(cost_of_change(Some(Money::ZERO), m("250")), Money::ZERO);
    assert_eq!(cost_of_change(None, m("-40")), m("-40.00"));
}

/// Of 5 sheets 2 are covered: 3 ÷ 5 of 10 hours are beyond.
#[test]
fn a_quantity_is_split_as_the_count_is() {
    let used = IncludedUse { covered: q("2"), beyond: q("3") };
    assert_eq!(beyond_quantity(q("10"), used), q("6"));
    assert_eq!(beyond_quantity(q("10"), IncludedUse { covered: Qty::ZERO, beyond: q("3") }), q("10"));
    assert_eq!(beyond_quantity(q("10"), IncludedUse { covered: q("3"), beyond: Qty::ZERO }), Qty::ZERO);
}

/// 7.25 % of 33.33 is 2.416… → 2.42, and 2.42 ÷ 33.33 = 0.07260… → 0.0726.
#[test]
fn the_rate_behind_a_tax_has_four_places() {
    assert_eq!(rate_behind(m("2.42"), m("33.33")), r("0.0726"));
    assert_eq!(rate_behind(m("2.42"), Money::ZERO), Rate::ZERO);
}

/// A third each of 100.00 is 0.33, 0.33 and what is left.
#[test]
fn a_schedule_as_shares_is_the_whole() {
    let shares = payment_shares(m("100"), &[m("33.33"), m("33.33"), m("33.34")]);
    assert_eq!(shares, [r("0.33"), r("0.33"), r("0.34")]);
    assert_eq!(shares.iter().map(|share| share.decimal()).sum::<rust_decimal::Decimal>(), r("1").decimal());
    assert!(payment_shares(Money::ZERO, &[m("1")]).is_empty());
}

fn cell(kind: CostKind, contracted: &str, actual: &str) -> WalkCode {
    code("deck", kind, contracted, actual, "0")
}

/// 300 spent of a forecast of 400: the 100 to come goes by what is left, 100 to 300 → 25 and 75.
#[test]
fn a_forecast_is_spread_by_what_is_left_and_keeps_its_sum() {
    let mut cells = [cell(CostKind::Material, "300", "200"), cell(CostKind::Labor, "400", "100")];
    spread_forecast(&mut cells, m("400"));
    assert_eq!((cells[0].forecast, cells[1].forecast), (m("225.00"), m("175.00")));
    let mut spent = [cell(CostKind::Material, "100", "200"), cell(CostKind::Labor, "100", "100")];
    spread_forecast(&mut spent, m("400.01"));
    assert_eq!(spent.iter().map(|cell| cell.forecast).sum::<Money>(), m("400.01"), "nothing left to go by");
}

/// Of 30 sheets for 900.00, 300.00 still lie on site: 20 are built in.
#[test]
fn what_is_built_in_goes_by_what_it_cost() {
    assert_eq!(quantity_used(q("30"), m("600"), m("900")), q("20"));
    assert_eq!(quantity_used(q("30"), m("900"), m("900")), q("30"), "nothing on site");
    assert_eq!(quantity_used(q("31"), m("0"), m("0")), q("31"), "nothing paid");
    assert_eq!(quantity_used(q("10"), m("200"), m("300")), q("6.6667"));
}

/// Five days of 8 h are 40 h; of 10 h they are 50, and 40 where overtime begins there.
#[test]
fn a_usual_week_has_five_days_and_no_overtime() {
    assert_eq!(usual_week(q("8"), q("40")), q("40"));
    assert_eq!(usual_week(q("10"), q("40")), q("40"));
    assert_eq!(usual_week(q("7.25"), q("40")), q("36.25"));
    assert_eq!(crew_hours(4, q("8.5")), q("34"));
    assert_eq!(crew_hours(-1, q("8")), Qty::ZERO);
}

/// 8.25 % of 1,234.50 is 101.84625 → 101.85.
#[test]
fn tax_on_a_purchase_is_rounded_once() {
    assert_eq!(tax_foreseen(m("1234.50"), r("0.0825")), m("101.85"));
    assert_eq!(tax_foreseen(m("1234.50"), Rate::ZERO), Money::ZERO);
}

#[test]
fn hidden_conditions_will_cost_what_is_spent_or_approved_whichever_is_more() {
    assert_eq!(forecast_of_conditions(m("300"), m("400"), false), m("400"));
    assert_eq!(forecast_of_conditions(m("500"), m("400"), false), m("500"));
    assert_eq!(forecast_of_conditions(m("300"), m("400"), true), m("300"));
}

/// Approved at 400, come to 392 so far: 400 are owed until the work is done, then 392.
#[test]
fn work_by_time_and_material_is_owed_as_expected_until_it_is_done() {
    assert_eq!(owed_so_far(m("392"), m("400"), false), m("400"));
    assert_eq!(owed_so_far(m("430"), m("400"), false), m("430"));
    assert_eq!(owed_so_far(m("392"), m("400"), true), m("392"));
}

/// 100.00 billed of an order of 300, of which each of three conditions is 100: a third, and no cent is lost.
#[test]
fn a_condition_has_its_part_of_what_is_billed_by_its_price() {
    let thirds = [m("100"), m("100"), m("100")];
    assert_eq!(deal_to_work(m("100"), &thirds), [m("33.34"), m("33.33"), m("33.33")]);
    assert_eq!(deal_to_work(m("100"), &[m("300")]), [m("100.00")]);
    assert_eq!(deal_to_work(m("100"), &[m("300"), m("-60")]), [m("100.00"), m("0.00")]);
    assert_eq!(deal_to_work(m("100"), &[]), []);
}

/// Work of 180.00 beside a deduct, and what is billed of the two together.
#[rstest]
#[case("80", "80", "-100", "180")]
#[case("40", "80", "-100", "90")]
#[case("0", "80", "-100", "0")]
#[case("-120", "-120", "-300", "180")]
#[case("-60", "-120", "-300", "90")]
#[case("0", "-120", "-300", "0")]
// The work billed by itself, before the credit of the deduct.
#[case("180", "-120", "-300", "180")]
#[case("180", "80", "-100", "280")]
// The one pays for the other: nothing is left to bill.
#[case("0", "0", "-180", "180")]
#[case("10", "0", "-180", "190")]
// More credited than is owed is of the deduct.
#[case("-150", "-120", "-300", "180")]
// Without a deduct, what is billed is for the work.
#[case("60", "180", "0", "60")]
#[case("200", "180", "0", "200")]
fn a_deduct_never_lowers_what_is_billed_for_the_work(
    #[case] billed: &str,
    #[case] owed: &str,
    #[case] deducts: &str,
    #[case] for_work: &str,
) {
    assert_eq!(part_for_work(m(billed), m(owed), m(deducts)), m(for_work));
}

/// How an amount stands to the whole of a change order of 180.00 for work and 100.00 of deduct, and to others.
#[rstest]
#[case("80", "80", "-100", BilledAs::PartOfWhole)]
#[case("80.01", "80", "-100", BilledAs::Beyond)]
#[case("0", "80", "-100", BilledAs::PartOfWhole)]
#[case("-50", "80", "-100", BilledAs::Work)]
#[case("50", "-80", "-100", BilledAs::Work)]
#[case("0", "-80", "-100", BilledAs::PartOfWhole)]
#[case("-50", "0", "-100", BilledAs::Beyond)]
#[case("50", "80", "0", BilledAs::Work)]
fn what_is_billed_is_work_a_part_of_the_whole_or_beyond_it(
    #[case] amount: &str,
    #[case] owed: &str,
    #[case] deducts: &str,
    #[case] as_what: BilledAs,
) {
    assert_eq!(billed_as(m(amount), m(owed), m(deducts)), as_what);
}

/// Where the sheets that were taken back are as many as those used, there is no share to split by.
#[test]
fn a_quantity_without_any_sheet_left_is_beyond_as_a_whole() {
    let used = |covered: &str, beyond: &str| IncludedUse { covered: q(covered), beyond: q(beyond) };
    assert_eq!(beyond_quantity(q("6"), used("2", "-2")), q("6"));
    assert_eq!(beyond_quantity(q("6"), used("0", "3")), q("6"));
    assert_eq!(beyond_quantity(q("6"), used("2", "1")), q("2"));
}

/// Counted on site within what was bought and not returned.
#[rstest]
#[case("2000", "500", "500")]
#[case("300", "500", "300")]
#[case("300", "-200", "0")]
#[case("0", "500", "0")]
fn no_more_is_on_site_than_was_bought(#[case] counted: &str, #[case] bought: &str, #[case] stored: &str) {
    assert_eq!(stored_material(m(counted), m(bought)), m(stored));
}

fn patch(along_eave: &str, up_slope: &str) -> Patch {
    Patch { along_eave: q(along_eave), up_slope: q(up_slope), from_rafter: None }
}

/// Three patches of 8 × 12 in are two thirds of a square foot each, and two together: no third one by rounding.
#[test]
fn the_area_of_patches_is_rounded_up_once() {
    let small = [patch("8", "12"), patch("8", "12"), patch("8", "12")];
    assert_eq!(area_sqft(&small), Ok(q("2")));
    assert_eq!(area_sqft(&[patch("32", "48"), patch("1", "1")]), Ok(q("11")));
    assert_eq!(area_sqft(&[]), Ok(Qty::ZERO));
    let too_large = PatchError::TooLarge { field: "patches[1].up_slope".to_owned(), value: q("1201") };
    assert_eq!(area_sqft(&[patch("8", "12"), patch("8", "1201")]), Err(too_large));
    let none = PatchError::NotPositive { field: "patches[0].along_eave".to_owned(), value: Qty::ZERO };
    assert_eq!(area_sqft(&[patch("0", "12")]), Err(none));
}

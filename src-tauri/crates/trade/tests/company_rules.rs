//! Company rules on amounts: the cost behind a price, parts of a quantity, a rate behind rounded taxes, a schedule as
//! shares, and a code's forecast spread over its cells.
#![allow(clippy::unwrap_used, reason = "a test that cannot read its own figures should stop")]

use trade::{
    CostKind, IncludedUse, Money, PriceError, Qty, Rate, WalkCode, beyond_quantity, cost_at_margin_sold,
    cost_at_markup, payment_shares, price_at_markup, rate_behind, spread_forecast,
};

fn m(text: &str) -> Money {
    Money::parse(text).unwrap()
}

fn q(text: &str) -> Qty {
    Qty::parse(text).unwrap()
}

fn r(text: &str) -> Rate {
    Rate::parse(text).unwrap()
}

/// 494.84 ÷ 1.2 = 412.3666… → 412.37, and back to 494.84.
#[test]
fn the_cost_behind_a_marked_up_price_gives_the_price_again() {
    let cost = cost_at_markup(m("494.84"), r("0.2")).unwrap();
    assert_eq!((cost, price_at_markup(cost, r("0.2"))), (m("412.37"), m("494.84")));
    assert_eq!(cost_at_markup(m("100"), Rate::ZERO), Ok(m("100.00")));
    let given_away = cost_at_markup(m("100"), r("-1"));
    assert!(matches!(given_away, Err(PriceError::MarkupTooLow { .. })));
}

/// A job sold at 10,000 that should cost 6,000 was sold at 40 %: work of 250 should cost 150.
#[test]
fn work_should_cost_its_price_less_the_margin_sold() {
    assert_eq!(cost_at_margin_sold(m("250"), m("10000"), m("6000")), m("150.00"));
    assert_eq!(cost_at_margin_sold(m("250"), m("10000"), m("12000")), m("250.00"), "sold at a loss");
    assert_eq!(cost_at_margin_sold(m("250"), Money::ZERO, m("6000")), m("250.00"), "without a price");
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
    WalkCode {
        code: "deck".to_owned(),
        kind,
        contracted: m(contracted),
        contracted_quantity: None,
        contracted_hours: Qty::ZERO,
        actual: m(actual),
        actual_quantity: None,
        actual_hours: Qty::ZERO,
        forecast: Money::ZERO,
        units_contracted: None,
        units_done: Qty::ZERO,
        finished: false,
    }
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

//! Money, quantities, rates, currencies, months, words and splitting: what is taken, what is refused and how.

use crate::typed::{d, m};
use jiff::civil::{Date, Weekday, date};
use rstest::rstest;
use rust_decimal::Decimal;
use trade::{
    AmountError, CostKind, Currency, Money, Month, PremiumSpread, Qty, Rate, SplitError, TaxBy, line_amount,
    split, week_start,
};

#[rstest]
#[case("0", 0, "0.00")]
#[case("-0.00", 0, "0.00")]
#[case("1234.5", 123_450, "1234.50")]
#[case("-1234.50", -123_450, "-1234.50")]
#[case(" 7 ", 700, "7.00")]
#[case("0007.05", 705, "7.05")]
#[case("999999999.99", 99_999_999_999, "999999999.99")]
#[case("-999999999.99", -99_999_999_999, "-999999999.99")]
fn money_is_read_and_shown_to_the_cent(#[case] typed: &str, #[case] cents: i64, #[case] shown: &str) {
    let money = m(typed);
    assert_eq!(money.minor(), cents);
    assert_eq!(money.to_string(), shown);
    assert_eq!(money, Money::from_minor(cents));
    assert_eq!(m(shown), money);
}

#[rstest]
#[case("", "empty", "Type a number such as 1234.50")]
#[case("1,234.50", "has a comma or a space", "without grouping")]
#[case("1 234", "has a comma or a space", "without grouping")]
#[case("12.345", "more than 2 decimals", "at most 2")]
#[case("12.500", "more than 2 decimals", "at most 2")]
#[case("1,234 ft", "not a plain number", "only digits")]
#[case("$12", "not a plain number", "only digits")]
#[case("1e3", "not a plain number", "only digits")]
#[case("+5", "not a plain number", "only digits")]
#[case(".50", "not a plain number", "only digits")]
#[case("5.", "not a plain number", "only digits")]
#[case("1.2.3", "not a plain number", "only digits")]
#[case("--5", "not a plain number", "only digits")]
#[case("-", "not a plain number", "only digits")]
#[case("1000000000", "too large", "999999999.99")]
#[case("999999999999999999999999999999999999999999", "too large", "check for extra digits")]
fn a_wrong_amount_is_refused_in_words(#[case] typed: &str, #[case] wrong: &str, #[case] next: &str) {
    let message = Money::parse(typed).unwrap_err().to_string();
    assert!(message.contains(wrong), "{message}");
    assert!(message.contains(next), "{message}");
}

/// Company rule: half away from zero, so that a reversal rounds to the exact negative.
#[rstest]
#[case("0.005", "0.01")]
#[case("-0.005", "-0.01")]
#[case("2.675", "2.68")]
#[case("2.6749999999", "2.67")]
#[case("-0.004", "0.00")]
#[case("1.015", "1.02")]
fn rounding_is_half_away_from_zero(#[case] value: &str, #[case] rounded: &str) {
    assert_eq!(Money::rounded(d(value)).to_string(), rounded);
}

#[rstest]
#[case("0", "0.00")]
#[case("-0.5", "\u{2212}0.50")]
#[case("999.99", "999.99")]
#[case("1000", "1,000.00")]
#[case("-1234.5", "\u{2212}1,234.50")]
#[case("12345678.9", "12,345,678.90")]
#[case("999999999.99", "999,999,999.99")]
fn amounts_for_people_are_grouped(#[case] typed: &str, #[case] shown: &str) {
    assert_eq!(m(typed).grouped(), shown);
}

#[test]
fn exact_refuses_a_third_decimal_and_takes_a_zero_one() {
    assert_eq!(Money::exact(d("1.500")).unwrap(), m("1.50"));
    let refused = Money::exact(d("1.505")).unwrap_err();
    assert!(matches!(refused, AmountError::TooFine { most: 2, .. }), "{refused}");
    assert!(matches!(Qty::exact(d("0.00001")), Err(AmountError::TooFine { most: 4, .. })));
    assert!(matches!(Rate::exact(d("0.0000001")), Err(AmountError::TooFine { most: 6, .. })));
    assert!(matches!(Rate::exact(d("10000000")), Err(AmountError::TooLarge { .. })));
}

#[test]
fn quantities_and_rates_drop_trailing_zeros_and_keep_their_units() {
    assert_eq!(Qty::parse("12.5000").unwrap().to_string(), "12.5");
    assert_eq!(Qty::parse("100").unwrap().to_string(), "100");
    assert_eq!(Qty::parse("33.3333").unwrap().e4(), 333_333);
    assert_eq!(Qty::from_e4(-15_000).to_string(), "-1.5");
    assert_eq!(Rate::parse("0.062").unwrap().e6(), 62_000);
    assert_eq!(Rate::from_e6(14_500), Rate::parse("0.0145").unwrap());
    assert_eq!((Qty::parse("1.5").unwrap() - Qty::parse("1.50").unwrap()).to_string(), "0");
}

#[test]
fn amounts_travel_as_text() {
    assert_eq!(serde_json::to_string(&m("-1234.5")).unwrap(), "\"-1234.50\"");
    assert_eq!(serde_json::from_str::<Money>("\"12.30\"").unwrap(), m("12.3"));
    assert_eq!(serde_json::to_string(&Qty::from_e4(5_000)).unwrap(), "\"0.5\"");
    assert!(serde_json::from_str::<Money>("12.30").is_err(), "a bare number may be a float and is refused");
    let refused = serde_json::from_str::<Money>("\"1,000\"").unwrap_err().to_string();
    assert!(refused.contains("without grouping"), "{refused}");
    assert_eq!(serde_json::to_string(&TaxBy::Item).unwrap(), "\"item\"");
    assert_eq!(serde_json::to_string(&CostKind::Labor).unwrap(), "\"labor\"");
    assert_eq!(serde_json::from_str::<Month>("\"2026-10\"").unwrap().key(), 202_610);
}

#[test]
fn equal_amounts_hash_alike_whatever_they_came_from() {
    let set: std::collections::HashSet<Money> =
        [m("1.50"), Money::exact(d("1.5")).unwrap(), m("1") + m("0.5"), -m("-1.50")].into();
    assert_eq!(set.len(), 1);
    assert_eq!((m("1") - m("1")).to_string(), (-Money::ZERO).to_string());
}

#[test]
fn a_line_is_multiplied_exactly_and_rounded_once() {
    let price = Rate::parse("33.333333").unwrap();
    assert_eq!(line_amount(price, Qty::parse("3").unwrap()), m("100.00"));
    assert_eq!(line_amount(Rate::parse("0.005").unwrap(), Qty::parse("1").unwrap()), m("0.01"));
    assert_eq!(line_amount(Rate::parse("0.005").unwrap(), Qty::parse("-1").unwrap()), m("-0.01"));
    // The largest of each still fits the ledger's whole cents.
    let most = line_amount(Rate::parse("9999999.999999").unwrap(), Qty::parse("99999999.9999").unwrap());
    assert_eq!(Money::from_minor(most.minor()), most);
}

#[rstest]
#[case("JPY", "0 minor digits")]
#[case("kwd", "3 minor digits")]
#[case("XYZ", "not known")]
#[case("US", "not a three-letter code")]
#[case("U$D", "not a three-letter code")]
fn a_currency_without_cents_is_refused(#[case] code: &str, #[case] wrong: &str) {
    let message = Currency::parse(code).unwrap_err().to_string();
    assert!(message.contains(wrong), "{message}");
    assert!(message.contains("USD"), "{message}");
}

#[test]
fn a_currency_with_cents_is_taken() {
    assert_eq!(Currency::parse("usd").unwrap(), Currency::USD);
    assert_eq!(Currency::parse("CAD").unwrap().code(), "CAD");
    assert_eq!(format!("{:>5}", Currency::USD), "  USD");
}

#[test]
fn months_follow_each_other_over_the_turn_of_the_year() {
    let october = Month::parse("2026-10").unwrap();
    assert_eq!(october.key(), 202_610);
    assert_eq!(Month::from_key(202_610).unwrap(), october);
    assert_eq!(Month::of(date(2026, 10, 31)), october);
    assert_eq!(Month::of(date(1, 5, 3)).to_string(), "0001-05");
    assert_eq!(Month::of(date(-1, 5, 3)).to_string(), "0001-01", "before the first year");
    assert_eq!((october.first_day(), october.last_day()), (date(2026, 10, 1), date(2026, 10, 31)));
    let december = Month::parse("2026-12").unwrap();
    assert_eq!(december.next().to_string(), "2027-01");
    assert_eq!(december.next().prev(), december);
    assert!(december < december.next());
    assert_eq!(Month::parse("2028-02").unwrap().last_day(), date(2028, 2, 29));
    assert!(october.contains(date(2026, 10, 1)) && !october.contains(date(2025, 10, 1)));
}

#[rstest]
#[case("2026-13")]
#[case("2026-00")]
#[case("2026-1")]
#[case("26-10")]
#[case("2026/10")]
#[case("-026-10")]
#[case("0000-10")]
#[case("2026-10-01")]
#[case("")]
fn what_is_no_month_is_refused(#[case] typed: &str) {
    assert!(Month::parse(typed).unwrap_err().to_string().contains("2026-10"));
}

#[rstest]
#[case(0)]
#[case(-202_610)]
#[case(202_600)]
#[case(202_613)]
#[case(1_000_001)]
#[case(i32::MAX)]
#[case(i32::MIN)]
fn what_is_no_month_key_is_refused(#[case] key: i32) {
    assert!(Month::from_key(key).unwrap_err().to_string().contains(&key.to_string()));
}

/// 29 CFR 778.105: a fixed period of seven days in a row.
#[rstest]
#[case(date(2026, 10, 7), Weekday::Monday, date(2026, 10, 5))]
#[case(date(2026, 10, 5), Weekday::Monday, date(2026, 10, 5))]
#[case(date(2026, 10, 4), Weekday::Monday, date(2026, 9, 28))]
#[case(date(2026, 10, 4), Weekday::Sunday, date(2026, 10, 4))]
#[case(date(2027, 1, 1), Weekday::Sunday, date(2026, 12, 27))]
fn a_week_begins_on_the_firms_weekday(#[case] day: Date, #[case] first: Weekday, #[case] start: Date) {
    assert_eq!(week_start(day, first), start);
}

#[test]
fn words_are_read_back_and_wrong_ones_name_the_choices() {
    for kind in CostKind::ALL {
        assert_eq!(CostKind::parse(kind.as_str()).unwrap(), *kind);
    }
    assert!(CostKind::parse("wages").unwrap_err().to_string().contains("labor"));
    assert_eq!(PremiumSpread::parse("to-cause").unwrap(), PremiumSpread::ToCause);
    let message = TaxBy::parse("line").unwrap_err().to_string();
    assert!(message.contains("invoice, item"), "{message}");
}

/// Largest remainder, ties to the earlier line (company rule).
#[rstest]
#[case("100.00", &["1", "1", "1"], &["33.34", "33.33", "33.33"])]
#[case("-100.00", &["1", "1", "1"], &["-33.34", "-33.33", "-33.33"])]
#[case("0.01", &["1", "1"], &["0.01", "0.00"])]
#[case("0.05", &["0", "0", "0"], &["0.02", "0.02", "0.01"])]
#[case("10.00", &["0", "3", "0"], &["0.00", "10.00", "0.00"])]
#[case("0.10", &["1", "2", "4"], &["0.01", "0.03", "0.06"])]
#[case("1.00", &["0.3333", "0.6667"], &["0.33", "0.67"])]
#[case("0.00", &["1", "2"], &["0.00", "0.00"])]
#[case("999999999.99", &["79228162514264337593543950335", "1"], &["999999999.99", "0.00"])]
fn a_split_goes_by_largest_remainder(#[case] total: &str, #[case] weights: &[&str], #[case] parts: &[&str]) {
    let weights: Vec<Decimal> = weights.iter().map(|weight| d(weight)).collect();
    let parts: Vec<Money> = parts.iter().map(|part| m(part)).collect();
    assert_eq!(split(m(total), &weights).unwrap(), parts);
}

#[test]
fn a_split_that_cannot_be_made_says_why() {
    let refused = split(m("1"), &[Decimal::ONE, -Decimal::ONE]).unwrap_err();
    assert!(matches!(refused, SplitError::NegativeWeight { line: 2, .. }), "{refused}");
    assert_eq!(split(m("1"), &[]).unwrap_err(), SplitError::NoLines { total: m("1") });
    assert_eq!(split(Money::ZERO, &[]).unwrap(), vec![]);
}

//! Pay, overtime, bonus and burden against the published examples, and what is refused.

use crate::typed::{d, m, q, r};
use jiff::civil::{Weekday, date};
use rstest::rstest;

use trade::{
    BurdenBasis, BurdenPart, BurdenSpell, Earned, FEDERAL_WEEK, LaborError, Money, OvertimeRule, PayCounted,
    PremiumSpread, Qty, Week, WeekPay, WorkLine, loaded_week, week_burden,
};

/// Work on a day of the week that begins on Monday 5 October 2026.
fn line(day: i8, hours: &str, rate: &str) -> WorkLine {
    WorkLine { date: date(2026, 10, 4 + day), hours: q(hours), rate: r(rate), caused_overtime: false }
}

const RULE: OvertimeRule =
    OvertimeRule { weekly_over: FEDERAL_WEEK, daily_over: None, first_weekday: Weekday::Monday };

/// A whole week, as most are.
fn week_pay(
    work: &[WorkLine],
    bonus: Money,
    rule: &OvertimeRule,
    spread: PremiumSpread,
) -> Result<WeekPay, LaborError> {
    trade::week_pay(&Week { work, bonus, rule: *rule, spread, overlap: None })
}

/// 46 hours at one rate, over six days.
fn forty_six_hours(rate: &str) -> Vec<WorkLine> {
    vec![
        line(1, "8", rate),
        line(2, "8", rate),
        line(3, "8", rate),
        line(4, "8", rate),
        line(5, "8", rate),
        line(6, "6", rate),
    ]
}

/// 29 CFR 778.110(a), read: 12 an hour for 46 hours is 552 and 36 more.
#[test]
fn overtime_at_one_rate_adds_half_of_it_for_each_hour_over_forty() {
    let pay = week_pay(&forty_six_hours("12"), Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.straight.iter().sum::<Money>(), m("552.00"));
    assert_eq!(pay.premium_total, m("36.00"));
    assert_eq!(pay.total, m("588.00"));
    assert_eq!((pay.regular_rate, pay.overtime_hours), (d("12"), q("6")));
}

/// 29 CFR 778.110(b), read: the same week with a production bonus of 46.
#[test]
fn a_bonus_raises_the_regular_rate() {
    let pay = week_pay(&forty_six_hours("12"), m("46"), &RULE, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.regular_rate, d("13"));
    assert_eq!(pay.total, m("637.00"));
    assert_eq!(pay.bonus.iter().sum::<Money>(), m("46.00"));
    assert_eq!((pay.bonus[0], pay.bonus[5]), (m("8.00"), m("6.00")));
}

/// 29 CFR 778.115 with the figures of MTAS-2096, read: 40 hours at 15 and 8 at 9 average 14 and pay 728.
#[test]
fn two_rates_are_paid_at_their_average() {
    let mut work: Vec<WorkLine> = (1..=5).map(|day| line(day, "8", "15")).collect();
    work.push(line(6, "8", "9"));
    let pay = week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.regular_rate, d("14"));
    assert_eq!(pay.premium_total, m("56.00"));
    assert_eq!(pay.total, m("728.00"));
}

/// Company rule: the larger of the week's excess and the days' excesses, never both.
#[rstest]
#[case(&["10", "10", "10"], "6")]
#[case(&["10", "10", "10", "10", "10"], "10")]
#[case(&["9", "8", "8", "8", "8", "8"], "9")]
#[case(&["8", "8", "8", "8", "8"], "0")]
fn a_daily_rule_counts_no_hour_twice(#[case] hours: &[&str], #[case] overtime: &str) {
    let rule = OvertimeRule { daily_over: Some(q("8")), ..RULE };
    let days = (1..).zip(hours);
    let work: Vec<WorkLine> = days.map(|(day, hours)| line(day, hours, "20")).collect();
    let pay = week_pay(&work, Money::ZERO, &rule, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.overtime_hours, q(overtime));
    assert_eq!(pay.premium_total, Money::rounded(q(overtime).decimal() * d("10")));
}

#[test]
fn a_daily_rule_adds_up_the_lines_of_a_day() {
    let rule = OvertimeRule { daily_over: Some(q("8")), ..RULE };
    let work = [line(1, "5", "20"), line(1, "5", "20")];
    assert_eq!(week_pay(&work, Money::ZERO, &rule, PremiumSpread::ByHours).unwrap().overtime_hours, q("2"));
}

/// Company rule: by hours, or to the line that caused it; to all where none is said to have.
#[test]
fn the_premium_goes_where_the_person_says() {
    let mut work = forty_six_hours("12");
    let even = week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap().premium;
    assert_eq!((even[0], even[5]), (m("6.26"), m("4.70")));
    assert_eq!(week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ToCause).unwrap().premium, even);
    work[5].caused_overtime = true;
    let caused = week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ToCause).unwrap();
    assert_eq!(caused.premium[5], m("36.00"));
    assert!(caused.premium[..5].iter().all(|part| part.is_zero()));
    assert_eq!(week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap().premium, even);
}

/// Common practice, no source: what two devices wrote down of one day both counts until a person says which is right.
#[test]
fn a_day_written_down_twice_costs_what_stands_there() {
    let work = [line(2, "16", "12"), line(2, "8.0001", "12")];
    let pay = week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.straight, [m("192.00"), m("96.00")]);
    assert!(pay.premium.iter().all(|part| part.is_zero()));
}

#[test]
fn a_week_that_cannot_be_is_refused_with_the_day() {
    let pay = |work: &[WorkLine]| week_pay(work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap_err();
    assert_eq!(
        pay(&[line(1, "8", "12"), line(8, "8", "12")]),
        LaborError::AnotherWeek { date: date(2026, 10, 12), week: date(2026, 10, 5) }
    );
    assert!(pay(&[line(1, "-1", "12")]).to_string().contains("below zero"));
    assert!(pay(&[line(1, "1", "-12")]).to_string().contains("2026-10-05"));
    let by_hours = PremiumSpread::ByHours;
    assert!(matches!(week_pay(&[], m("5"), &RULE, by_hours), Err(LaborError::BonusWithoutWork { .. })));
    assert!(matches!(
        week_pay(&[line(1, "1", "1")], m("-5"), &RULE, by_hours),
        Err(LaborError::NegativeBonus { .. })
    ));
    let rule = OvertimeRule { weekly_over: q("-1"), ..RULE };
    assert!(matches!(week_pay(&[], Money::ZERO, &rule, by_hours), Err(LaborError::NegativeThreshold { .. })));
    assert_eq!(week_pay(&[], Money::ZERO, &RULE, by_hours).unwrap().total, Money::ZERO);
}

fn percent(name: &str, rate: &str, wage_base: Option<&str>) -> BurdenPart {
    let pay = PayCounted { premium: true, wage_base: wage_base.map(m) };
    BurdenPart { name: name.to_owned(), class: None, basis: BurdenBasis::PercentOfPay { rate: r(rate), pay } }
}

/// The payroll taxes of OpenStax vol. 1, read, with the 2026 wage base as quoted.
fn payroll_taxes() -> Vec<BurdenPart> {
    vec![
        percent("social security", "0.062", Some("184500")),
        percent("medicare", "0.0145", None),
        percent("federal unemployment", "0.006", Some("7000")),
        // The example gives the state's share as 100 of 2,000.
        percent("state unemployment", "0.05", Some("7000")),
    ]
}

/// OpenStax vol. 1, payroll chapter, read: the first 2,000 of the year cost 124 + 29 + 12 + 100 = 265.
#[test]
fn the_first_pay_of_the_year() {
    let burden = week_burden(&payroll_taxes(), None, earned("2000", "0"), Earned::default());
    assert_eq!(burden, [m("124.00"), m("29.00"), m("12.00"), m("100.00")]);
    assert_eq!(burden.iter().sum::<Money>(), m("265.00"));
}

/// Wage bases as quoted: 7,000 for federal unemployment, 184,500 for social security in 2026; computed.
#[rstest]
#[case("6500", ["124.00", "29.00", "3.00", "25.00"])]
#[case("7000", ["124.00", "29.00", "0.00", "0.00"])]
#[case("184000", ["31.00", "29.00", "0.00", "0.00"])]
#[case("184500", ["0.00", "29.00", "0.00", "0.00"])]
#[case("200000", ["0.00", "29.00", "0.00", "0.00"])]
fn a_wage_base_runs_out_during_the_year(#[case] paid_before: &str, #[case] due: [&str; 4]) {
    let burden = week_burden(&payroll_taxes(), None, earned("2000", "0"), earned(paid_before, "0"));
    assert_eq!(burden, due.map(m));
}

fn per_hundred(class: Option<&str>, premium_included: bool) -> BurdenPart {
    let pay = PayCounted { premium: premium_included, wage_base: None };
    let basis = BurdenBasis::PerHundredOfPay { rate: r("18.5"), pay };
    BurdenPart { name: "workers' compensation".to_owned(), class: class.map(str::to_owned), basis }
}

/// Common practice, no source: so many dollars a hundred of pay, by class, the overtime premium left out
/// where the carrier does so.
#[rstest]
#[case(Some("roofing"), false, Some("roofing"), "185.00")]
#[case(Some("roofing"), true, Some("roofing"), "194.25")]
#[case(Some("roofing"), false, Some("office"), "0.00")]
#[case(Some("roofing"), false, None, "0.00")]
#[case(None, false, Some("office"), "185.00")]
fn compensation_goes_by_class(
    #[case] part_class: Option<&str>,
    #[case] premium_included: bool,
    #[case] class: Option<&str>,
    #[case] due: &str,
) {
    let parts = [per_hundred(part_class, premium_included)];
    assert_eq!(week_burden(&parts, class, earned("1000", "50"), Earned::default()), [m(due)]);
}

fn earned(straight: &str, premium: &str) -> Earned {
    Earned { straight: m(straight), premium: m(premium), hours: Qty::ZERO }
}

fn of_week(work: &[WorkLine], bonus: Money) -> Week<'_> {
    Week { work, bonus, rule: RULE, spread: PremiumSpread::ByHours, overlap: None }
}

fn spell(parts: Vec<BurdenPart>, class: Option<&str>) -> BurdenSpell {
    BurdenSpell { from: date(2026, 1, 1), parts, class: class.map(str::to_owned) }
}

/// Company rule: straight pay is rounded for the week and split by what each entry earned; entry by entry the same week
/// would come to a cent more.
#[test]
fn straight_pay_is_rounded_once_a_week() {
    let work = [line(1, "2.5", "18.33"), line(2, "2.5", "18.33")];
    let pay = week_pay(&work, Money::ZERO, &RULE, PremiumSpread::ByHours).unwrap();
    assert_eq!(pay.straight, [m("45.83"), m("45.82")]);
    assert_eq!(pay.total, m("91.65"));
}

#[test]
fn a_loaded_week_sums_line_by_line() {
    let mut parts = payroll_taxes();
    parts.push(per_hundred(Some("roofing"), false));
    let hourly = BurdenBasis::PerHour { amount: r("1.75") };
    parts.push(BurdenPart { name: "health".to_owned(), class: None, basis: hourly });
    let work = forty_six_hours("12");
    let spell = spell(parts, Some("roofing"));
    let week = loaded_week(&of_week(&work, m("46")), &[spell], Earned::default()).unwrap();
    // Pay 637.00; compensation on 598.00 without the premium of 39.00; health for 46 hours.
    let expected = ["39.49", "9.24", "3.82", "31.85", "110.63", "80.50"].map(m);
    assert_eq!(week.parts, expected);
    assert_eq!((week.straight, week.premium, week.burden), (m("598.00"), m("39.00"), m("275.53")));
    assert_eq!(week.total, m("912.53"));
    assert_eq!(week.lines.iter().map(trade::LoadedLine::total).sum::<Money>(), week.total);
    assert_eq!(week.lines[0].straight, m("104.00"));
    assert_eq!(week.parts_by_line[5][0], m("14.00"));
    assert_eq!(week.parts_by_line[5][5], m("10.50"));
}

#[test]
fn a_loaded_week_without_work_costs_nothing() {
    let spell = spell(payroll_taxes(), None);
    let week = loaded_week(&of_week(&[], Money::ZERO), &[spell], earned("500", "0")).unwrap();
    assert_eq!((week.total, week.lines.len(), week.parts.len()), (Money::ZERO, 0, 4));
}

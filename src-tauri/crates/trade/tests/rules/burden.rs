//! The burden in every combination of basis, class, premium and wage base.

use crate::typed::{m, r};
use jiff::civil::{Weekday, date};
use rstest::rstest;
use trade::{
    BurdenBasis, BurdenPart, BurdenSpell, Earned, FEDERAL_WEEK, Money, OvertimeRule, PayCounted,
    PremiumSpread, Qty, Week, WorkLine, loaded_week, week_burden,
};

fn earned(straight: &str, premium: &str) -> Earned {
    Earned { straight: m(straight), premium: m(premium), hours: Qty::parse("50").unwrap() }
}

const ROOFING: &str = "roofing";

fn part(basis: BurdenBasis, class: Option<&str>) -> BurdenPart {
    BurdenPart { name: "part".to_owned(), class: class.map(str::to_owned), basis }
}

/// A week of 1,325.00 straight and 132.50 of premium, after 1,000.00 and 100.00 in the year before it; computed.
///
/// The wage base of 1,200.00 leaves 200.00 of straight pay, or 100.00 where the premium counts.
#[rstest]
#[case(true, None, "145.75")]
#[case(false, None, "132.50")]
#[case(true, Some("1200"), "10.00")]
#[case(false, Some("1200"), "20.00")]
#[case(true, Some("1000"), "0.00")]
#[case(false, Some("9000"), "132.50")]
fn by_pay_and_by_the_hundred_alike(
    #[case] premium: bool,
    #[case] wage_base: Option<&str>,
    #[case] due: &str,
) {
    let pay = PayCounted { premium, wage_base: wage_base.map(m) };
    let bases = [
        BurdenBasis::PercentOfPay { rate: r("0.10"), pay },
        BurdenBasis::PerHundredOfPay { rate: r("10"), pay },
    ];
    let (week, before) = (earned("1325", "132.50"), earned("1000", "100"));
    for basis in bases {
        for (of_part, of_person, applies) in [
            (None, None, true),
            (None, Some(ROOFING), true),
            (Some(ROOFING), Some(ROOFING), true),
            (Some(ROOFING), Some("clerical"), false),
            (Some(ROOFING), None, false),
        ] {
            let expected = if applies { m(due) } else { Money::ZERO };
            let found = week_burden(&[part(basis.clone(), of_part)], of_person, week, before);
            assert_eq!(found, [expected], "{basis:?} for {of_part:?}, worked as {of_person:?}");
        }
    }
}

/// By the hour neither pay nor premium nor what was paid before has a say; a class has.
#[rstest]
#[case(None, None, "150.00")]
#[case(None, Some("clerical"), "150.00")]
#[case(Some(ROOFING), Some(ROOFING), "150.00")]
#[case(Some(ROOFING), Some("clerical"), "0.00")]
#[case(Some(ROOFING), None, "0.00")]
fn by_the_hour(#[case] of_part: Option<&str>, #[case] of_person: Option<&str>, #[case] due: &str) {
    let parts = [part(BurdenBasis::PerHour { amount: r("3") }, of_part)];
    for (week, before) in
        [(earned("1325", "132.50"), earned("0", "0")), (earned("0", "0"), earned("9999", "0"))]
    {
        assert_eq!(week_burden(&parts, of_person, week, before), [m(due)]);
    }
}

/// Where the premium counts, the burden follows straight pay and premium together: 2 × 8 hours at 25.00, and 50.00 of
/// premium on the second line, which caused it; 450.00 at 10 % split 200 to 250.
#[test]
fn a_premium_that_counts_bears_its_part() {
    let line = |day: i8, hours: &str, caused_overtime| WorkLine {
        date: date(2026, 3, day),
        hours: Qty::parse(hours).unwrap(),
        rate: r("25"),
        caused_overtime,
    };
    let work = [line(9, "8", false), line(10, "8", true)];
    let pay = |premium| PayCounted { premium, wage_base: None };
    let by_line = |premium| {
        let basis = BurdenBasis::PercentOfPay { rate: r("0.10"), pay: pay(premium) };
        let spell = BurdenSpell { from: date(2026, 3, 9), parts: vec![part(basis, None)], class: None };
        let rule =
            OvertimeRule { weekly_over: Qty::whole(12), daily_over: None, first_weekday: Weekday::Monday };
        let spread = PremiumSpread::ToCause;
        let week = Week { work: &work, bonus: Money::ZERO, rule, spread, overlap: None };
        let loaded = loaded_week(&week, &[spell], Earned::default()).unwrap();
        loaded.lines.iter().map(|line| line.burden).collect::<Vec<_>>()
    };
    assert_eq!(by_line(true), ["20.00", "25.00"].map(m));
    assert_eq!(by_line(false), ["20.00", "20.00"].map(m));
}

/// Company rule: a rate that changes inside a week counts from its day on, and the wage base runs on over the change.
#[test]
fn each_day_goes_by_its_own_burden() {
    let day = |day: i8| WorkLine {
        date: date(2026, 3, day),
        hours: Qty::parse("8").unwrap(),
        rate: r("25"),
        caused_overtime: false,
    };
    let work = [day(9), day(10), day(11), day(12)];
    let tax = |rate: &str| {
        let pay = PayCounted { premium: true, wage_base: Some(m("700")) };
        part(BurdenBasis::PercentOfPay { rate: r(rate), pay }, None)
    };
    let spell =
        |from: i8, rate: &str| BurdenSpell { from: date(2026, 3, from), parts: vec![tax(rate)], class: None };
    let week = Week {
        work: &work,
        bonus: Money::ZERO,
        rule: OvertimeRule { weekly_over: FEDERAL_WEEK, daily_over: None, first_weekday: Weekday::Monday },
        spread: PremiumSpread::ByHours,
        overlap: None,
    };
    // 400.00 at 1 % and, of the 400.00 after, the 300.00 below the wage base at 2 %.
    let loaded = loaded_week(&week, &[spell(9, "0.01"), spell(11, "0.02")], Earned::default()).unwrap();
    let by_line: Vec<Money> = loaded.lines.iter().map(|line| line.burden).collect();
    assert_eq!(by_line, ["2.00", "2.00", "3.00", "3.00"].map(m));
    assert_eq!(loaded.burden, m("10.00"));
    // The first spell holds for the days before it, too.
    let late = loaded_week(&week, &[spell(12, "0.01")], Earned::default()).unwrap();
    assert_eq!(late.burden, m("7.00"));
}

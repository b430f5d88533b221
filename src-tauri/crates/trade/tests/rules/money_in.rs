//! Progress and billing, sales tax, receivables and the right to cancel, against the published examples.

use crate::typed::{d, m, r};
use jiff::civil::{Date, date};
use rstest::rstest;

use trade::{
    Age, Money, OpenItem, Progress, ProgressInput, TaxBy, age_bucket, aging, apply_oldest_first, backlog,
    cancel_by, federal_holidays, is_business_day, profit_in_backlog, progress, retainage, sales_tax,
};

fn job(contract: &str, cost_to_date: &str, forecast: &str, uninstalled: &str, billed: &str) -> Progress {
    progress(&ProgressInput {
        contract: m(contract),
        cost_to_date: m(cost_to_date),
        forecast_cost: m(forecast),
        uninstalled: m(uninstalled),
        billed: m(billed),
        ended: false,
    })
}

/// A deposit that a firm keeps of a job that was called off before anything was spent on it.
#[test]
fn a_job_that_ended_without_cost_has_earned_its_contract() {
    let kept = ProgressInput {
        contract: m("500"),
        cost_to_date: Money::ZERO,
        forecast_cost: Money::ZERO,
        uninstalled: Money::ZERO,
        billed: m("500"),
        ended: true,
    };
    assert_eq!((progress(&kept).earned, progress(&kept).over_billed), (m("500.00"), Money::ZERO));
    let open = progress(&ProgressInput { ended: false, ..kept });
    assert_eq!((open.earned, open.over_billed), (Money::ZERO, m("500.00")));
}

/// Examples 2, 3 and 5 of 26 CFR 1.460-4(h), each in its first year, as one schedule: 2,240,000 contracted, 663,333
/// earned, 213,333 profit, so 1,576,667 in the backlog with 476,667 profit (the examples read, their sums worked out).
#[test]
fn backlog_is_the_contract_less_what_is_earned() {
    let jobs =
        [("1000000", "200000", "800000"), ("1000000", "200000", "600000"), ("240000", "50000", "150000")];
    let (mut earned, mut profit, mut left, mut profit_left) =
        (Money::ZERO, Money::ZERO, Money::ZERO, Money::ZERO);
    for (contract, cost, forecast) in jobs {
        let done = job(contract, cost, forecast, "0", "0");
        let backlog = backlog(m(contract), done.earned);
        let in_backlog = profit_in_backlog(backlog, m(forecast) - m(cost), done.loss_provision);
        assert_eq!(
            done.profit + in_backlog,
            m(contract) - m(forecast),
            "profit made and to be made is the margin"
        );
        earned += done.earned;
        profit += done.profit;
        left += backlog;
        profit_left += in_backlog;
    }
    assert_eq!((earned, profit), (m("663333.33"), m("213333.33")));
    assert_eq!((left, profit_left), (m("1576666.67"), m("476666.67")));
    // Rolled on: it began at nothing, everything was signed in the year.
    assert_eq!(m("2240000") - earned, left);
    // A further year of the second example with its price revised to 860,000 (the example read).
    let later = job("860000", "500000", "700000", "0", "0");
    let first = job("1000000", "200000", "600000", "0", "0");
    let end = backlog(m("860000"), later.earned);
    let began = backlog(m("1000000"), first.earned);
    assert_eq!(began - m("140000") - (later.earned - first.earned), end);
    assert_eq!(end, m("245714.29"));
}

/// A loss foreseen is booked at once, so that the backlog brings neither profit nor loss any more (ASC 605-35-25-45).
#[test]
fn a_backlog_whose_loss_is_booked_brings_nothing() {
    let done = job("1000", "300", "1200", "0", "0");
    let left = backlog(m("1000"), done.earned);
    assert_eq!((done.earned, done.loss_provision, left), (m("250.00"), m("150.00"), m("750.00")));
    assert_eq!(profit_in_backlog(left, m("900"), done.loss_provision), Money::ZERO);
}

/// ASC 606-10-55-187 ff., Example 19, quoted: materials of 1.5 M on site, 500,000 of 2.5 M other cost.
#[test]
fn uninstalled_materials_are_revenue_at_cost() {
    let done = job("5000000", "2000000", "4000000", "1500000", "0");
    assert_eq!(done.share, d("0.2"));
    assert_eq!((done.earned, done.profit), (m("2200000.00"), m("200000.00")));
    assert_eq!(done.loss_provision, Money::ZERO);
}

/// No customer pays more than the contract, whatever is stacked on site.
#[rstest]
#[case("0", "500", "500", "500", "0.00")]
#[case("1000", "2000", "2500", "2000", "1000.00")]
#[case("1000", "-200", "800", "0", "0.00")]
fn what_is_earned_is_never_above_the_contract_nor_below_zero(
    #[case] contract: &str,
    #[case] cost: &str,
    #[case] forecast: &str,
    #[case] uninstalled: &str,
    #[case] earned: &str,
) {
    assert_eq!(job(contract, cost, forecast, uninstalled, "0").earned, m(earned));
}

/// The same method, quoted: a third of 12 M and 1 M at cost is 5.0 M exactly; 33 % would give 4.96 M.
#[test]
fn the_share_is_never_rounded() {
    let done = job("13000000", "4000000", "10000000", "1000000", "0");
    assert_eq!(done.earned, m("5000000.00"));
    assert_eq!(done.share.round_dp(6), d("0.333333"));
}

/// Change of estimate, quoted, computed: price 164; cost 39 then 66 more; 81 then 51 to complete. Amounts
/// times 10,000, so that the four decimals of the source are checked. Year two loses and has no provision.
#[test]
fn a_change_of_estimate_is_caught_up() {
    let first = job("1640000", "390000", "1200000", "0", "0");
    let second = job("1640000", "1050000", "1560000", "0", "0");
    assert_eq!(first.earned, m("533000.00"));
    let caught_up = second.earned - first.earned;
    assert_eq!(caught_up, m("570846.15"));
    assert_eq!(caught_up - m("660000"), m("-89153.85"));
    assert_eq!(second.loss_provision, Money::ZERO);
}

/// Over- and under-billing, read, computed: price 3,000, cost 2,100; amounts times 1,000.
#[rstest]
#[case("500000", "600000", "114285.71")]
#[case("1300000", "1800000", "57142.86")]
#[case("2100000", "3000000", "0.00")]
fn earned_beyond_billed_is_an_asset(#[case] cost: &str, #[case] billed: &str, #[case] under: &str) {
    let done = job("3000000", cost, "2100000", "0", billed);
    assert_eq!((done.under_billed, done.over_billed), (m(under), Money::ZERO));
}

#[test]
fn billed_beyond_earned_is_a_debt() {
    let done = job("3000", "500", "2000", "0", "1000");
    assert_eq!((done.over_billed, done.under_billed), (m("250.00"), Money::ZERO));
}

/// Loss contract, ASC 605-35-25-45 ff., memory, computed: the whole 10,000 at once.
#[test]
fn a_job_forecast_to_lose_loses_at_once() {
    let done = job("100000", "66000", "110000", "0", "0");
    assert_eq!((done.profit, done.loss_provision), (m("-6000.00"), m("4000.00")));
    assert_eq!(done.profit - done.loss_provision, m("-10000.00"));
}

#[rstest]
#[case("0", "0", "0", "0")]
#[case("500", "0", "0", "0")]
#[case("300", "300", "300", "1")]
#[case("200", "300", "300", "0")]
#[case("1200", "1000", "0", "1")]
#[case("100", "1000", "200", "0")]
#[case("-50", "1000", "0", "0")]
fn the_share_stays_between_none_and_all(
    #[case] cost: &str,
    #[case] forecast: &str,
    #[case] uninstalled: &str,
    #[case] share: &str,
) {
    assert_eq!(job("2000", cost, forecast, uninstalled, "0").share, d(share));
}

/// SSUTA §324 as enacted in N.D.C.C. 57-39.4-25, read; the amounts computed.
#[rstest]
#[case(&["10.00"], "0.0825", TaxBy::Invoice, "0.83")]
#[case(&["1.03"], "0.0725", TaxBy::Invoice, "0.07")]
#[case(&["3.33", "3.33", "3.33"], "0.065", TaxBy::Item, "0.66")]
#[case(&["3.33", "3.33", "3.33"], "0.065", TaxBy::Invoice, "0.65")]
#[case(&["-10.00"], "0.0825", TaxBy::Invoice, "-0.83")]
#[case(&["-1.03"], "0.0725", TaxBy::Item, "-0.07")]
#[case(&[], "0.0825", TaxBy::Item, "0.00")]
fn tax_goes_up_over_four_at_the_third_decimal(
    #[case] lines: &[&str],
    #[case] rate: &str,
    #[case] by: TaxBy,
    #[case] tax: &str,
) {
    let lines: Vec<Money> = lines.iter().map(|line| m(line)).collect();
    assert_eq!(sales_tax(&lines, r(rate), by), m(tax));
}

#[rstest]
#[case(-400, Age::Current)]
#[case(0, Age::Current)]
#[case(1, Age::D1To30)]
#[case(30, Age::D1To30)]
#[case(31, Age::D31To60)]
#[case(60, Age::D31To60)]
#[case(61, Age::D61To90)]
#[case(90, Age::D61To90)]
#[case(91, Age::Over90)]
#[case(i32::MAX, Age::Over90)]
fn ages_by_days_past_due(#[case] days: i32, #[case] age: Age) {
    assert_eq!(age_bucket(days), age);
}

#[test]
fn an_open_amount_ages_by_the_days_since_it_was_due() {
    let as_of = date(2026, 10, 31);
    let item = |due, open| OpenItem { due, open: m(open) };
    let table = aging(
        &[
            item(as_of, "100"),
            item(date(2026, 10, 30), "20"),
            item(date(2026, 9, 30), "3"),
            item(date(2026, 8, 2), "0.40"),
            item(date(2025, 10, 31), "0.05"),
            item(date(2027, 1, 1), "-7"),
        ],
        as_of,
    );
    let by_age: Vec<Money> = Age::ALL.iter().map(|age| table.get(*age)).collect();
    assert_eq!(by_age, ["93", "20", "3", "0.40", "0.05"].map(m));
    // 30 September and 2 August lie 31 and 90 days back; the credit falls due later, so it is current.
    assert_eq!(table.total(), m("116.45"));
    assert_eq!(table.past_due(), m("23.45"));
}

/// FAR 32.103 for the rule, read; computed: 10 % of bills of 10,000 and 8,000.
#[test]
fn retainage_is_held_from_each_bill() {
    let bills = [m("10000"), m("8000")];
    let held = bills.map(|bill| retainage(bill, r("0.1")));
    let paid: Vec<Money> = bills.iter().zip(held).map(|(bill, held)| *bill - held).collect();
    assert_eq!(paid, [m("9000.00"), m("7200.00")]);
    assert_eq!(held.iter().sum::<Money>(), m("1800.00"));
}

/// Company rule: oldest due first, earlier in the list where dates are equal.
#[rstest]
#[case("250", ["50", "100", "100"], "0")]
#[case("90", ["0", "90", "0"], "0")]
#[case("1000", ["200", "100", "100"], "600")]
#[case("0", ["0", "0", "0"], "0")]
#[case("-5", ["0", "0", "0"], "-5")]
fn a_payment_goes_to_the_oldest(#[case] paid: &str, #[case] applied: [&str; 3], #[case] left: &str) {
    let open = [(date(2026, 10, 1), m("200")), (date(2026, 8, 1), m("100")), (date(2026, 9, 1), m("100"))];
    assert_eq!(apply_oldest_first(m(paid), &open), (applied.map(m).to_vec(), m(left)));
}

#[test]
fn equal_due_dates_are_paid_in_order_and_credits_get_nothing() {
    let due = date(2026, 10, 1);
    let open = [(due, m("-40")), (due, m("30")), (due, m("30"))];
    assert_eq!(apply_oldest_first(m("40"), &open), (["0", "30", "10"].map(m).to_vec(), Money::ZERO));
}

/// 16 CFR 429 quoted, dates computed. The last is over a Fourth of July on a Saturday, kept on the Friday:
/// neither counts (company rule).
#[rstest]
#[case(date(2026, 11, 24), date(2026, 11, 28))]
#[case(date(2026, 11, 25), date(2026, 11, 30))]
#[case(date(2026, 12, 31), date(2027, 1, 5))]
#[case(date(2026, 10, 5), date(2026, 10, 8))]
#[case(date(2026, 7, 1), date(2026, 7, 7))]
fn three_business_days_to_cancel(#[case] signed: Date, #[case] last: Date) {
    assert_eq!(cancel_by(signed), last);
}

/// 5 U.S.C. 6103; dates computed with a calendar of 2026.
#[test]
fn the_federal_holidays_of_a_year() {
    let days: Vec<Date> = federal_holidays(2026).into_iter().map(|(day, _)| day).collect();
    let expected = [
        (1, 1),
        (1, 19),
        (2, 16),
        (5, 25),
        (6, 19),
        (7, 3),
        (7, 4),
        (9, 7),
        (10, 12),
        (11, 11),
        (11, 26),
        (12, 25),
    ];
    assert_eq!(days, expected.map(|(month, day)| date(2026, month, day)));
    assert!(federal_holidays(2026).contains(&(date(2026, 6, 19), "Juneteenth")));
    assert!(!federal_holidays(2020).iter().any(|(_, name)| *name == "Juneteenth"));
    assert!(federal_holidays(2021).contains(&(date(2021, 6, 19), "Juneteenth")), "the first year of it");
    // The Fourth of July 2027 is a Sunday, kept on the Monday.
    let july = federal_holidays(2027).into_iter().filter(|(day, _)| day.month() == 7);
    assert_eq!(july.map(|(day, _)| day.day()).collect::<Vec<_>>(), [4, 5]);
    // The calendar ends, and the walk along it with it.
    assert_eq!(cancel_by(Date::MAX), Date::MAX);
    // New Year's Day 2028 is a Saturday, kept on the last day of 2027.
    assert_eq!(federal_holidays(2027).last().unwrap().0, date(2027, 12, 31));
    assert!(is_business_day(date(2026, 10, 10)), "a Saturday counts");
    assert!(!is_business_day(date(2026, 10, 11)), "a Sunday does not");
    assert!(!is_business_day(date(2026, 10, 12)));
}

//! Price, overhead, crew-days, forecast, variances, the margin walk and hidden conditions.

use crate::typed::{code, d, m, q, r};
use rstest::rstest;
use rust_decimal::Decimal;
use trade::price::{beside_budget, sales_for_profit, still_to_sell, units_for_profit};
use trade::{
    CodeStanding, CostKind, CountedPart, ForecastRule, IncludedUse, Money, OverheadBase, Qty, Rate, StepKind,
    WalkCode, WalkError, WalkInput, absorbed, beyond_share, crew_days, forecast, labor_of_hours, line_amount,
    margin, margin_per_crew_day, markup, measure_of, net_profit, overhead_rate, price_at_margin,
    price_at_markup, recovery, two_way, under_absorbed, unrecovered, use_included, used_by_part, walk,
};

/// OpenStax, read: cost 8 at a markup of 20 % is 9.60; a margin of 30 % on cost 100 is 142.86 and not 130.
#[test]
fn markup_is_not_margin() {
    assert_eq!(price_at_markup(m("8"), r("0.2")), m("9.60"));
    assert_eq!(price_at_margin(m("100"), r("0.3")).unwrap(), m("142.86"));
    assert_eq!(price_at_markup(m("100"), r("0.3")), m("130.00"));
    assert_eq!(margin(m("100"), m("70")), Some(d("0.3")));
    assert_eq!(markup(m("125"), m("100")), Some(d("0.25")));
    assert_eq!(margin(Money::ZERO, m("70")), None);
    assert_eq!(markup(m("125"), Money::ZERO), None);
}

#[rstest]
#[case("1", "100 %")]
#[case("1.2", "120 %")]
fn a_margin_of_the_whole_price_is_refused(#[case] asked: &str, #[case] said: &str) {
    let message = price_at_margin(m("100"), r(asked)).unwrap_err().to_string();
    assert!(message.contains(said) && message.contains("below 100 %"), "{message}");
}

/// OpenStax vol. 2, read: price 100, variable 20, fixed 18,000; price 90, variable 40, fixed 85,000, 2,500 sold.
#[test]
fn break_even_and_target_profit() {
    let units =
        |price, variable, fixed, target| units_for_profit(d("1"), m(price), m(variable), m(fixed), m(target));
    let sales = |price, variable, fixed, target| sales_for_profit(m(price), m(variable), m(fixed), m(target));
    assert_eq!(units("100", "20", "18000", "0"), Some(d("225")));
    assert_eq!(sales("100", "20", "18000", "0"), Some(m("22500.00")));
    assert_eq!(units("100", "20", "18000", "16000"), Some(d("425")));
    assert_eq!(units("90", "40", "85000", "0"), Some(d("1700")));
    // A plan of 2,500 units has the same point, and 72,000 of its sales lie beyond it.
    let planned = (m("225000"), m("100000"), m("85000"), m("0"));
    assert_eq!(units_for_profit(d("2500"), planned.0, planned.1, planned.2, planned.3), Some(d("1700")));
    let point = sales_for_profit(planned.0, planned.1, planned.2, planned.3).unwrap();
    assert_eq!((point, planned.0 - point), (m("153000.00"), m("72000.00")));
    assert_eq!(units("20", "20", "18000", "0"), None);
    assert_eq!(sales("10", "20", "18000", "0"), None);
}

/// Common practice, computed: what is earned and what signed work will bring need not be sold any more.
#[test]
fn still_to_sell_is_never_below_nothing() {
    assert_eq!(still_to_sell(m("153000"), m("90000"), m("21000.50")), m("41999.50"));
    assert_eq!(still_to_sell(m("153000"), m("90000"), m("63000.01")), m("0"));
}

/// OpenStax, read: actual beside budget, and the share to a tenth of a percent as it is printed.
#[rstest]
#[case("15500", "15000", "500", "3.3")]
#[case("450", "125", "325", "260.0")]
#[case("19725", "18745", "980", "5.2")]
#[case("176400", "147200", "29200", "19.8")]
#[case("143753", "118444", "25309", "21.4")]
fn actual_beside_budget(
    #[case] actual: &str,
    #[case] budget: &str,
    #[case] above: &str,
    #[case] share: &str,
) {
    let (difference, of_budget) = beside_budget(d(actual), d(budget));
    assert_eq!(difference, d(above));
    assert_eq!((of_budget.unwrap() * d("100")).round_dp(1), d(share));
    assert_eq!(beside_budget(d(actual), Decimal::ZERO), (d(actual), None));
}

/// OpenStax vol. 2 ch. 4, read: 250,000 over 100,000 labor dollars; material 700 and labor 66 cost 931.
#[test]
fn overhead_by_labor_cost() {
    let rate = overhead_rate(m("250000"), d("100000")).unwrap();
    assert_eq!(rate, r("2.5"));
    let measure = measure_of(OverheadBase::LaborCost, Qty::ZERO, d("66"), Decimal::ZERO);
    let overhead = absorbed([(rate, measure)]);
    assert_eq!(m("700") + m("66") + overhead, m("931.00"));
}

/// Company rule, computed: each rate is taken of its own hours, and the sum is rounded once.
#[test]
fn a_new_rate_does_not_reach_back() {
    let r = |text: &str| Rate::parse(text).unwrap();
    assert_eq!(absorbed([(r("13"), d("328")), (r("20"), d("8"))]), m("4424.00"));
    assert_eq!(absorbed([(r("0.333333"), d("1")), (r("0.333333"), d("1"))]), m("0.67"));
    assert_eq!(absorbed([]), Money::ZERO);
}

/// Company rule: a month's labor cost is parted by hours; whole, it is not divided at all.
#[test]
fn labor_cost_of_a_month_is_parted_by_hours() {
    assert_eq!(labor_of_hours(m("800"), q("10"), q("40")), d("200"));
    assert_eq!(labor_of_hours(m("100"), q("3"), q("3")), d("100"));
    assert_eq!(labor_of_hours(m("100"), Qty::ZERO, Qty::ZERO), Decimal::ZERO);
}

/// OpenStax vol. 2 ch. 6, read: 900,000 over 60,000 labor hours or 30,000 of another measure; the same job
/// costs 4,340 or 5,240.
#[test]
fn the_base_of_overhead_matters() {
    let direct = m("1550") + price_of_hours("16", "90");
    let by_hours = overhead_rate(m("900000"), d("60000")).unwrap();
    let hours = measure_of(OverheadBase::LaborHours, q("90"), Decimal::ZERO, Decimal::ZERO);
    let labor = absorbed([(by_hours, hours)]);
    assert_eq!(direct + labor, m("4340.00"));
    let by_other = overhead_rate(m("900000"), d("30000")).unwrap();
    let other = measure_of(OverheadBase::CrewDays, q("90"), Decimal::ZERO, d("75"));
    let other = absorbed([(by_other, other)]);
    assert_eq!(direct + other, m("5240.00"));
    assert_eq!(overhead_rate(m("900000"), Decimal::ZERO), None);
}

fn price_of_hours(rate: &str, hours: &str) -> Money {
    trade::line_amount(r(rate), q(hours))
}

/// Company rule, computed: 96 hours of a crew of four at eight hours a day are three crew-days.
#[test]
fn margin_per_crew_day_is_the_margin_over_the_days_a_crew_worked() {
    let days = crew_days(q("96"), 4, q("8"));
    assert_eq!(days, d("3"));
    assert_eq!(margin_per_crew_day(m("2500"), days), Some(m("833.33")));
    assert_eq!(margin_per_crew_day(m("-100"), days), Some(m("-33.33")));
    assert_eq!(crew_days(q("96"), 0, q("8")), Decimal::ZERO);
    assert_eq!(crew_days(q("96"), 4, Qty::ZERO), Decimal::ZERO);
    assert_eq!(margin_per_crew_day(m("2500"), Decimal::ZERO), None);
}

fn standing() -> CodeStanding {
    CodeStanding {
        contracted: m("1000"),
        changes: m("200"),
        actual: m("400"),
        uninstalled: Money::ZERO,
        committed: m("100"),
        own_forecast: None,
        units_contracted: None,
        units_done: Qty::ZERO,
        finished: false,
    }
}

/// Company rules, in their order.
#[test]
fn the_first_rule_that_fits_makes_the_forecast() {
    let told = |code: &CodeStanding| {
        let forecast = forecast(code);
        (forecast.amount, forecast.rule)
    };
    let code = standing();
    assert_eq!(code.revised(), m("1200"));
    assert_eq!(told(&code), (m("1200"), ForecastRule::LargerOf));
    assert_eq!(told(&CodeStanding { committed: m("900"), ..code }), (m("1300"), ForecastRule::LargerOf));
    let measured = CodeStanding { units_contracted: Some(q("30")), units_done: q("7"), ..code };
    assert_eq!(told(&measured), (m("1714.29"), ForecastRule::Units));
    let stacked = CodeStanding { uninstalled: m("260"), ..measured };
    assert_eq!(
        told(&stacked),
        (m("600"), ForecastRule::Units),
        "(400 − 260) ÷ 7 × 30: what is stacked sets no pace"
    );
    assert_eq!(
        told(&CodeStanding { units_done: q("30"), ..measured }),
        (m("500"), ForecastRule::Units),
        "what is committed is still to be paid"
    );
    assert_eq!(told(&CodeStanding { units_done: Qty::ZERO, ..measured }).1, ForecastRule::LargerOf);
    assert_eq!(told(&CodeStanding { units_done: q("31"), ..measured }).1, ForecastRule::LargerOf);
    let own = CodeStanding { own_forecast: Some(m("450")), ..measured };
    assert_eq!(told(&own), (m("450"), ForecastRule::Own));
    assert_eq!(told(&CodeStanding { own_forecast: Some(m("10")), ..own }), (m("400"), ForecastRule::Own));
    assert_eq!(told(&CodeStanding { finished: true, ..own }), (m("500"), ForecastRule::Spent));
}

/// Computed: 1,800,000 spent on 30 of 100 units are 6,000,000 for all of them.
#[test]
fn a_forecast_by_units_goes_on_at_the_pace_so_far() {
    let code = CodeStanding {
        contracted: m("5000000"),
        changes: Money::ZERO,
        actual: m("1800000"),
        uninstalled: Money::ZERO,
        committed: Money::ZERO,
        units_contracted: Some(q("100")),
        units_done: q("30"),
        ..standing()
    };
    assert_eq!(forecast(&code).amount, m("6000000.00"));
}

/// So much of a material or of hours, at the standard price.
fn at_standard(price: &str, quantity: &str) -> Money {
    line_amount(r(price), q(quantity))
}

/// OpenStax vol. 2 ch. 8, read. Positive is favorable.
#[rstest]
#[case("74760", "89000", "0.85", "88000", "890", "-850", "40")]
#[case("4.50", "0.50", "7.00", "0.25", "-1.00", "-1.75", "-2.75")]
fn material_variances(
    #[case] actual: &str,
    #[case] actual_quantity: &str,
    #[case] standard_price: &str,
    #[case] standard_quantity: &str,
    #[case] price: &str,
    #[case] quantity: &str,
    #[case] total: &str,
) {
    let used = at_standard(standard_price, actual_quantity);
    let (by_price, by_quantity) = two_way(m(actual), used, at_standard(standard_price, standard_quantity));
    assert_eq!((by_price, by_quantity, by_price + by_quantity), (m(price), m(quantity), m(total)));
}

/// OpenStax vol. 2 ch. 8, read; the total of the second is favorable, the book's figure text misprints it.
#[rstest]
#[case("1.90", "0.20", "8.00", "0.10", "-0.30", "-0.80", "-1.10")]
#[case("565600", "16000", "35", "16500", "-5600", "17500", "11900")]
fn labor_variances(
    #[case] actual: &str,
    #[case] actual_hours: &str,
    #[case] standard_rate: &str,
    #[case] standard_hours: &str,
    #[case] rate: &str,
    #[case] hours: &str,
    #[case] total: &str,
) {
    let taken = at_standard(standard_rate, actual_hours);
    let (by_rate, by_hours) = two_way(m(actual), taken, at_standard(standard_rate, standard_hours));
    assert_eq!((by_rate, by_hours, by_rate + by_hours), (m(rate), m(hours), m(total)));
}

/// A job whose materials and labor are the OpenStax figures, so that its steps are the book's variances.
fn finished_job() -> WalkInput {
    let bottles = WalkCode {
        contracted_quantity: Some(q("88000")),
        actual_quantity: Some(q("89000")),
        ..code("shingle", CostKind::Material, "74800", "74760", "74760")
    };
    let crew = WalkCode {
        contracted_hours: q("16500"),
        actual_hours: q("16000"),
        ..code("tear", CostKind::Labor, "577500", "565600", "565600")
    };
    WalkInput {
        price_sold: m("800000"),
        cost_sold: m("653800"),
        change_price: m("1500"),
        change_cost: m("1000"),
        codes: vec![
            bottles,
            crew,
            code("flash", CostKind::Material, "500", "620", "620"),
            code("gutter", CostKind::Subcontract, "1000", "900", "900"),
            code("haul", CostKind::Disposal, "1000", "1200", "1200"),
        ],
        hidden_billed: m("300"),
        hidden_spent: m("450"),
    }
}

#[test]
fn a_walk_tells_the_causes_apart() {
    let walk = walk(&finished_job()).unwrap();
    let expected = [
        (StepKind::Changes, "500"),
        (StepKind::MaterialPrice, "890"),
        (StepKind::MaterialQuantity, "-850"),
        (StepKind::MaterialUnsplit, "-120"),
        (StepKind::LaborRate, "-5600"),
        (StepKind::LaborHours, "17500"),
        (StepKind::Subcontract, "100"),
        (StepKind::EquipmentAndOther, "-200"),
        (StepKind::HiddenConditions, "-150"),
        (StepKind::StillToCome, "0"),
    ];
    let steps: Vec<(StepKind, Money)> = walk.steps.iter().map(|step| (step.kind, step.amount)).collect();
    assert_eq!(steps, expected.map(|(kind, amount)| (kind, m(amount))));
    assert_eq!(walk.sold, m("146200"));
    assert_eq!(walk.made, m("158270"));
    assert_eq!(walk.amount(StepKind::LaborHours), m("17500"));
    assert_eq!(walk.steps[1].by_code, [("shingle".to_owned(), m("890"))]);
    assert!(walk.steps[9].by_code.is_empty());
}

/// Where the contract counts nothing, nothing can be divided by it: the code goes as a whole to one step.
#[test]
fn what_is_not_counted_in_the_contract_is_not_split_in_two() {
    let walked = |code: WalkCode| {
        let codes = vec![code];
        let none = Money::ZERO;
        let (price_sold, cost_sold) = (m("1500"), m("1000"));
        let job = WalkInput {
            price_sold,
            cost_sold,
            change_price: none,
            change_cost: none,
            codes,
            hidden_billed: none,
            hidden_spent: none,
        };
        walk(&job).unwrap()
    };
    let labor =
        walked(WalkCode { actual_hours: q("9"), ..code("tear", CostKind::Labor, "1000", "900", "900") });
    assert_eq!((labor.amount(StepKind::LaborRate), labor.amount(StepKind::LaborHours)), (m("0"), m("100")));
    let material = walked(WalkCode {
        contracted_quantity: Some(Qty::ZERO),
        actual_quantity: Some(q("9")),
        ..code("shingle", CostKind::Material, "1000", "900", "900")
    });
    assert_eq!(material.amount(StepKind::MaterialUnsplit), m("100"));
    assert_eq!(material.amount(StepKind::MaterialQuantity), m("0"));
}

/// Company rule, computed: half of the units done at 60 where 50 was contracted; the rest is still to come.
#[test]
fn an_open_code_is_measured_against_the_work_done() {
    let open = WalkCode {
        units_contracted: Some(q("20")),
        units_done: q("10"),
        finished: false,
        contracted_hours: q("10"),
        actual_hours: q("6"),
        ..code("tear", CostKind::Labor, "1000", "600", "1300")
    };
    assert_eq!(open.standard_done(), m("500"));
    let job = WalkInput {
        price_sold: m("1500"),
        cost_sold: m("1000"),
        change_price: Money::ZERO,
        change_cost: Money::ZERO,
        codes: vec![open.clone()],
        hidden_billed: Money::ZERO,
        hidden_spent: Money::ZERO,
    };
    let walked = walk(&job).unwrap();
    assert_eq!(walked.amount(StepKind::LaborRate), m("0"));
    assert_eq!(walked.amount(StepKind::LaborHours), m("-100"));
    assert_eq!(walked.amount(StepKind::StillToCome), m("-200"));
    assert_eq!((walked.sold, walked.made), (m("500"), m("200")));

    let by_cost = WalkCode { units_contracted: None, ..open.clone() };
    assert_eq!(by_cost.standard_done(), m("461.54"));
    let nothing = WalkCode { forecast: Money::ZERO, ..by_cost };
    assert_eq!(nothing.standard_done(), Money::ZERO);
    let overdone = WalkCode { units_done: q("25"), ..open.clone() };
    assert_eq!(overdone.standard_done(), m("1000"));
    let finished = WalkCode { finished: true, ..open.clone() };
    assert_eq!(finished.standard_done(), m("1000"), "what is finished is done, whatever was counted");
    let no_units = WalkCode { units_contracted: Some(Qty::ZERO), ..open };
    assert_eq!(no_units.standard_done(), m("461.54"), "as by cost");
}

#[test]
fn a_walk_that_would_not_arrive_is_refused() {
    let job = WalkInput { cost_sold: m("1"), ..finished_job() };
    let refused = walk(&job).unwrap_err();
    assert_eq!(refused, WalkError::CodesDoNotMatch { by_codes: m("654800"), sold: m("1001") });
    assert!(refused.to_string().contains("654800.00"), "{refused}");
}

#[test]
fn a_walk_travels_as_text() {
    let walked = walk(&finished_job()).unwrap();
    let json = serde_json::to_string(&walked).unwrap();
    assert!(json.contains("\"kind\":\"material-price\",\"amount\":\"890.00\""), "{json}");
    assert_eq!(serde_json::from_str::<trade::Walk>(&json).unwrap(), walked);
    assert!(StepKind::ALL.iter().all(|kind| !kind.label().is_empty()));
}

/// Company rule: included sheets first, in the order of the conditions.
#[test]
fn included_sheets_are_used_up_in_order() {
    let used = use_included(q("3"), &[q("2"), q("2"), q("1.5")]);
    let pairs: Vec<(Qty, Qty)> = used.iter().map(|used| (used.covered, used.beyond)).collect();
    assert_eq!(pairs, [(q("2"), q("0")), (q("1"), q("1")), (q("0"), q("1.5"))]);
    assert_eq!(use_included(q("-1"), &[q("2")])[0].beyond, q("2"));
}

#[rstest]
#[case("100", "1", "2", "33.33", "66.67")]
#[case("100", "3", "0", "100.00", "0.00")]
#[case("100", "0", "3", "0.00", "100.00")]
#[case("100", "0", "0", "0.00", "100.00")]
#[case("-100", "1", "2", "-33.33", "-66.67")]
fn a_finds_cost_is_split_as_its_count(
    #[case] cost: &str,
    #[case] covered: &str,
    #[case] beyond: &str,
    #[case] covered_cost: &str,
    #[case] beyond_cost: &str,
) {
    let cost = beyond_share(m(cost), IncludedUse { covered: q(covered), beyond: q(beyond) });
    assert_eq!((cost.covered, cost.beyond), (m(covered_cost), m(beyond_cost)));
}

/// Company rules.
#[test]
fn recovery_is_billed_over_spent_and_what_can_still_be_billed_is_not_lost() {
    assert_eq!(recovery(m("300"), m("400")), Some(d("0.75")));
    assert_eq!(recovery(m("300"), Money::ZERO), None);
    assert_eq!(unrecovered(m("400"), m("300"), false), m("100"));
    assert_eq!(unrecovered(m("400"), m("300"), true), Money::ZERO);
    assert_eq!(unrecovered(m("300"), m("400"), false), Money::ZERO);
}

/// OpenStax, Principles of Accounting, volume 2, chapter 4 (m68006), its exercises: budget, budgeted base, actual base,
/// actual overhead, and what is then under-absorbed; over-absorbed stands below zero.
#[test]
fn published_overhead_is_over_and_under_absorbed() {
    for (budget, planned, worked, actual, under) in [
        ("350000", "50000", "49000", "352000", "9000"),
        ("450000", "75000", "77000", "452000", "-10000"),
        ("100000", "25000", "26000", "102000", "-2000"),
        ("75000", "25000", "24000", "74000", "2000"),
        ("110000", "27500", "29000", "106000", "-10000"),
    ] {
        let rate = overhead_rate(m(budget), d(planned)).unwrap();
        let absorbed = absorbed([(rate, d(worked))]);
        assert_eq!(under_absorbed(m(actual), absorbed), m(under), "{budget}");
    }
    // 23.92 an hour for 25,000 hours against the costs of six accounts.
    let accounts: Money = ["45000", "259300", "90000", "150000", "48000", "5000"].into_iter().map(m).sum();
    assert_eq!(under_absorbed(accounts, absorbed([(r("23.92"), d("25000"))])), m("-700"));
    // The rate of the year follows from what was under- or over-absorbed: 72,000 and 76,500 were laid on.
    assert_eq!(m("74539") - m("2539"), absorbed([(r("12"), d("6000"))]));
    assert_eq!(m("73175") + m("3325"), absorbed([(r("17"), d("4500"))]));
}

/// OpenStax, volume 2, chapter 10 (m68084): segments as jobs. Common costs come off once, however they are spread, and
/// dropping the segment that is charged with a loss would cost the margin that it brings.
#[test]
fn published_net_profit_takes_common_costs_off_once() {
    let margin = |sales: &str, first: &str, second: &str| m(sales) - m(first) - m(second) - m("75000");
    let margins = [
        margin("1150000", "423000", "195000"),
        margin("1540000", "507000", "130000"),
        margin("1354000", "378000", "147000"),
    ];
    assert_eq!(margins, [m("457000"), m("828000"), m("754000")]);
    let common = m("648000") + m("933000");
    assert_eq!(net_profit(margins.into_iter().sum(), common), m("458000"));
    assert_eq!(
        net_profit(margins[1] + margins[2], common),
        m("1000"),
        "dropping the first costs its 457,000"
    );
}

/// Worked here: 40 pieces for 300.00 are 7.50 each, 3 used; 10 bundles for 333.33 are 33.333 each, 2 used and 1 brought
/// back of another. A part that was not used costs nothing, with a price or without; one used without a price has none.
#[test]
fn what_was_used_costs_what_the_contract_says_part_by_part() {
    let part = |contracted: &str, of: &str, used: &str| CountedPart {
        contracted: m(contracted),
        contracted_quantity: q(of),
        used: q(used),
    };
    let (pieces, bundles) = (part("300", "40", "3"), part("333.33", "10", "2"));
    assert_eq!(used_by_part(&[pieces, bundles]), Some(m("89.17")));
    assert_eq!(used_by_part(&[bundles, part("333.33", "10", "-1")]), Some(m("33.34")));
    let (unused, unpriced) = (part("0", "0", "0"), part("12", "0", "0.5"));
    assert_eq!(used_by_part(&[pieces, unused]), Some(m("22.50")));
    assert_eq!(used_by_part(&[pieces, unpriced]), None);
    assert_eq!(used_by_part(&[part("12", "-2", "1")]), None);
}

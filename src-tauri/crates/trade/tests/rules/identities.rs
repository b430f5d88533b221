//! What must hold for any figures at all: splits keep sums, walks arrive, buckets add up, reversals cancel.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday, date};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use rust_decimal::Decimal;
use trade::{
    BurdenBasis, BurdenPart, BurdenSpell, CodeStanding, CostKind, Earned, FEDERAL_WEEK, IncludedUse, Money,
    Month, OpenItem, OvertimeRule, PayCounted, PremiumSpread, ProgressInput, Qty, Rate, StepKind, TaxBy,
    WalkCode, WalkInput, Week, WorkLine, aging, apply_oldest_first, beyond_share, cancel_by, forecast,
    is_business_day, line_amount, loaded_week, progress, sales_tax, split, two_way, use_included, walk,
    week_start,
};

fn money() -> impl Strategy<Value = Money> {
    prop_oneof![
        4 => (-10_000_000_i64..10_000_000).prop_map(Money::from_minor),
        1 => (-99_999_999_999_i64..=99_999_999_999).prop_map(Money::from_minor),
        1 => Just(Money::ZERO),
    ]
}

fn positive_money() -> impl Strategy<Value = Money> {
    (0..50_000_000_i64).prop_map(Money::from_minor)
}

fn qty() -> impl Strategy<Value = Qty> {
    (0..50_000_000_i64).prop_map(Qty::from_e4)
}

fn rate() -> impl Strategy<Value = Rate> {
    (0..100_000_000_i64).prop_map(Rate::from_e6)
}

fn weight() -> impl Strategy<Value = Decimal> {
    prop_oneof![
        3 => (0..1_000_000_i64, 0..7_u32).prop_map(|(units, scale)| Decimal::new(units, scale)),
        1 => Just(Decimal::ZERO),
        1 => (0..=i64::MAX, 0..19_u32).prop_map(|(units, scale)| Decimal::new(units, scale)),
    ]
}

fn any_date() -> impl Strategy<Value = Date> {
    (0..40_000_i32).prop_map(|days| date(1990, 1, 1).saturating_add(days.days()))
}

/// Lines of the week that begins on Monday 5 October 2026, at most 24 hours a day.
fn work() -> impl Strategy<Value = Vec<WorkLine>> {
    let line = (0..7_i8, 0..80_000_i64, rate(), any::<bool>()).prop_map(|(day, hours, rate, caused)| {
        let date = date(2026, 10, 5 + day);
        WorkLine { date, hours: Qty::from_e4(hours), rate, caused_overtime: caused }
    });
    vec(line, 1..16).prop_filter("a day has 24 hours", |lines| {
        (0..7_i8).all(|day| {
            let of_day = lines.iter().filter(|line| line.date == date(2026, 10, 5 + day));
            of_day.map(|line| line.hours).sum::<Qty>() <= Qty::from_e4(240_000)
        })
    })
}

fn rule() -> impl Strategy<Value = OvertimeRule> {
    option::of(0..120_000_i64).prop_map(|daily| OvertimeRule {
        daily_over: daily.map(Qty::from_e4),
        ..OvertimeRule { weekly_over: FEDERAL_WEEK, daily_over: None, first_weekday: Weekday::Monday }
    })
}

fn spread() -> impl Strategy<Value = PremiumSpread> {
    prop_oneof![Just(PremiumSpread::ByHours), Just(PremiumSpread::ToCause)]
}

fn kind() -> impl Strategy<Value = CostKind> {
    proptest::sample::select(CostKind::ALL.to_vec())
}

fn walk_code() -> impl Strategy<Value = WalkCode> {
    let amounts = (kind(), money(), money(), money());
    let measures = (option::of(qty()), option::of(qty()), qty(), qty(), option::of(qty()), qty());
    (amounts, measures, any::<bool>()).prop_map(|(amounts, measures, finished)| {
        let (kind, contracted, actual, forecast) = amounts;
        let (
            contracted_quantity,
            actual_quantity,
            contracted_hours,
            actual_hours,
            units_contracted,
            units_done,
        ) = measures;
        WalkCode {
            code: "code".to_owned(),
            kind,
            contracted,
            contracted_quantity,
            contracted_hours,
            actual,
            actual_quantity,
            used_by_part: None,
            actual_hours,
            forecast,
            units_contracted,
            units_done,
            finished,
        }
    })
}

fn burden_parts() -> impl Strategy<Value = Vec<BurdenPart>> {
    let basis = prop_oneof![
        (0..300_000_i64, pay_counted())
            .prop_map(|(rate, pay)| BurdenBasis::PercentOfPay { rate: Rate::from_e6(rate), pay }),
        (rate(), pay_counted()).prop_map(|(rate, pay)| BurdenBasis::PerHundredOfPay { rate, pay }),
        rate().prop_map(|amount| BurdenBasis::PerHour { amount }),
    ];
    let class = option::of(prop_oneof![Just("roofing".to_owned()), Just("clerical".to_owned())]);
    let part = (basis, class).prop_map(|(basis, class)| BurdenPart { name: "part".to_owned(), class, basis });
    vec(part, 0..6)
}

fn week_pay(work: &[WorkLine], bonus: Money, rule: OvertimeRule, spread: PremiumSpread) -> trade::WeekPay {
    trade::week_pay(&Week { work, bonus, rule, spread, overlap: None }).unwrap()
}

fn pay_counted() -> impl Strategy<Value = PayCounted> {
    (any::<bool>(), option::of(positive_money()))
        .prop_map(|(premium, wage_base)| PayCounted { premium, wage_base })
}

proptest! {
    #[test]
    fn an_amount_reads_back_as_it_was_written(amount in money(), quantity in qty(), rate in rate()) {
        prop_assert_eq!(Money::parse(&amount.to_string()).unwrap(), amount);
        prop_assert_eq!(Money::from_minor(amount.minor()), amount);
        prop_assert_eq!(Qty::parse(&quantity.to_string()).unwrap(), quantity);
        prop_assert_eq!(Rate::parse(&rate.to_string()).unwrap(), rate);
        prop_assert_eq!(Qty::from_e4(quantity.e4()), quantity);
        prop_assert_eq!(Rate::from_e6(rate.e6()), rate);
    }

    #[test]
    fn reading_never_panics_and_never_guesses(text in "\\PC{0,24}") {
        if let Ok(amount) = Money::parse(&text) {
            let plain = text.trim().trim_start_matches('-');
            prop_assert!(plain.chars().all(|c| c.is_ascii_digit() || c == '.'));
            prop_assert_eq!(Money::parse(&amount.to_string()).unwrap(), amount);
        }
    }

    #[test]
    fn a_grouped_amount_has_the_same_digits(amount in money()) {
        let grouped = amount.grouped();
        let plain: String = grouped.replace(',', "").replace('\u{2212}', "-");
        prop_assert_eq!(plain, amount.to_string());
    }

    #[test]
    fn a_reversal_is_the_exact_negative(price in rate(), quantity in qty(), units in -1_000_000_i64..1_000_000) {
        let line = line_amount(price, quantity);
        prop_assert_eq!(line_amount(price, -quantity), -line);
        prop_assert_eq!(line + -line, Money::ZERO);
        let value = Decimal::new(units, 4);
        prop_assert_eq!(Money::rounded(-value), -Money::rounded(value));
        // No rounding moves an amount by more than half a cent.
        prop_assert!((Money::rounded(value).decimal() - value).abs() <= Decimal::new(5, 3));
    }

    #[test]
    fn a_split_keeps_its_sum_and_mirrors(total in money(), weights in vec(weight(), 1..12)) {
        let parts = split(total, &weights).unwrap();
        prop_assert_eq!(parts.len(), weights.len());
        prop_assert_eq!(parts.iter().sum::<Money>(), total);
        let mirrored: Vec<Money> = parts.iter().map(|part| -*part).collect();
        prop_assert_eq!(split(-total, &weights).unwrap(), mirrored);
        prop_assert!(parts.iter().all(|part| part.is_zero() || part.is_negative() == total.is_negative()));
        let any_weight = weights.iter().any(|weight| !weight.is_zero());
        for (part, weight) in parts.iter().zip(&weights) {
            prop_assert!(part.is_zero() || !any_weight || !weight.is_zero());
        }
    }

    #[test]
    fn a_split_is_never_a_cent_off_its_share(total in 0..1_000_000_i64, weights in vec(0..1_000_i64, 1..8)) {
        let all: i64 = weights.iter().sum();
        prop_assume!(all > 0);
        let decimals: Vec<Decimal> = weights.iter().map(|weight| Decimal::from(*weight)).collect();
        let parts = split(Money::from_minor(total), &decimals).unwrap();
        for (part, weight) in parts.iter().zip(&weights) {
            let off = part.minor() * all - total * weight;
            prop_assert!(off.abs() < all, "{part} for {weight} of {all}");
        }
    }

    #[test]
    fn months_are_in_order_of_time(day in any_date()) {
        let month = Month::of(day);
        prop_assert!(month.contains(day));
        prop_assert!(month.first_day() <= day && day <= month.last_day());
        prop_assert_eq!(month.next().prev(), month);
        prop_assert_eq!(month.last_day().tomorrow().unwrap(), month.next().first_day());
        prop_assert!(month.key() < month.next().key());
        prop_assert_eq!(Month::parse(&month.to_string()).unwrap(), month);
        prop_assert_eq!(Month::from_key(month.key()).unwrap(), month);
    }

    #[test]
    fn a_week_holds_its_day(day in any_date()) {
        let start = week_start(day, Weekday::Wednesday);
        prop_assert_eq!(start.weekday(), Weekday::Wednesday);
        prop_assert!(start <= day && day < start.saturating_add(7.days()));
        prop_assert_eq!(week_start(start, Weekday::Wednesday), start);
    }

    #[test]
    fn pay_sums_line_by_line(work in work(), bonus in positive_money(), rule in rule(), spread in spread()) {
        let pay = week_pay(&work, bonus, rule, spread);
        prop_assert_eq!(pay.premium.iter().sum::<Money>(), pay.premium_total);
        prop_assert_eq!(pay.bonus.iter().sum::<Money>(), bonus);
        let straight: Money = pay.straight.iter().sum();
        prop_assert_eq!(straight + bonus + pay.premium_total, pay.total);
        prop_assert!(pay.overtime_hours <= pay.hours);
        prop_assert!(pay.overtime_hours >= pay.hours - rule.weekly_over);
        // Overtime never earns more than half of everything again.
        prop_assert!(pay.premium_total.decimal() * Decimal::TWO <= (straight + bonus).decimal() + Decimal::ONE);
        // The order of the lines is no matter for the week's pay.
        let turned: Vec<WorkLine> = work.iter().rev().copied().collect();
        prop_assert_eq!(week_pay(&turned, bonus, rule, spread).total, pay.total);
    }

    #[test]
    fn a_loaded_week_loses_no_cent(
        work in work(),
        bonus in positive_money(),
        rule in rule(),
        spread in spread(),
        parts in burden_parts(),
        later in burden_parts(),
        paid_before in positive_money(),
    ) {
        let first = work.iter().map(|line| line.date).min().unwrap_or(Date::MIN);
        let spells = [
            BurdenSpell { from: first, parts, class: Some("roofing".to_owned()) },
            BurdenSpell { from: first.saturating_add(2.days()), parts: later, class: None },
        ];
        let of_week = Week { work: &work, bonus, rule, spread, overlap: None };
        let before = Earned { straight: paid_before, ..Earned::default() };
        let week = loaded_week(&of_week, &spells, before).unwrap();
        prop_assert_eq!(week.lines.iter().map(|line| line.straight).sum::<Money>(), week.straight);
        prop_assert_eq!(week.lines.iter().map(|line| line.premium).sum::<Money>(), week.premium);
        prop_assert_eq!(week.lines.iter().map(|line| line.burden).sum::<Money>(), week.burden);
        prop_assert_eq!(week.parts.iter().sum::<Money>(), week.burden);
        prop_assert_eq!(week.straight + week.premium + week.burden, week.total);
        prop_assert_eq!(week.straight + week.premium, week.pay.total);
        for (part, by_line) in week.parts.iter().zip(&week.parts_by_line) {
            prop_assert_eq!(by_line.iter().sum::<Money>(), *part);
        }
    }

    #[test]
    fn a_wage_base_is_taxed_once_however_the_year_is_cut(
        weeks in vec(positive_money(), 1..20),
        base in positive_money(),
    ) {
        // At a rate of 1 the tax is the taxed pay itself, so rounding cannot hide a difference.
        let pay = PayCounted { premium: true, wage_base: Some(base) };
        let basis = BurdenBasis::PercentOfPay { rate: Rate::from_e6(1_000_000), pay };
        let parts = [BurdenPart { name: "tax".to_owned(), class: None, basis }];
        let mut paid = Money::ZERO;
        let mut taxed = Money::ZERO;
        for week in weeks {
            taxed += {
                let of = |straight: Money| Earned { straight, ..Earned::default() };
                trade::week_burden(&parts, None, of(week), of(paid))[0]
            };
            paid += week;
        }
        prop_assert_eq!(taxed, paid.min(base));
    }

    #[test]
    fn variances_sum_to_standard_less_actual(
        actual in money(),
        used in qty(),
        price in rate(),
        standard in qty(),
    ) {
        let total = Money::rounded(price.decimal() * standard.decimal()) - actual;
        let (by_price, by_quantity) = two_way(actual, line_amount(price, used), line_amount(price, standard));
        prop_assert_eq!(by_price + by_quantity, total);
    }

    #[test]
    fn a_walk_arrives_to_the_cent(
        codes in vec(walk_code(), 0..10),
        prices in (money(), money(), money()),
        hidden in (money(), money()),
    ) {
        let (price_sold, change_price, change_cost) = prices;
        let contracted: Money = codes.iter().map(|code| code.contracted).sum();
        let forecast: Money = codes.iter().map(|code| code.forecast).sum();
        let cost_sold = contracted - change_cost;
        let (hidden_billed, hidden_spent) = hidden;
        let job = WalkInput { price_sold, cost_sold, change_price, change_cost, codes, hidden_billed, hidden_spent };
        let walked = walk(&job).unwrap();
        let steps: Money = walked.steps.iter().map(|step| step.amount).sum();
        prop_assert_eq!(walked.sold + steps, walked.made);
        prop_assert_eq!(walked.made, price_sold + change_price + hidden_billed - forecast - hidden_spent);
        prop_assert_eq!(walked.steps.len(), StepKind::ALL.len());
        for step in &walked.steps {
            let by_code: Money = step.by_code.iter().map(|(_, amount)| *amount).sum();
            let apart = matches!(step.kind, StepKind::Changes | StepKind::HiddenConditions);
            prop_assert_eq!(by_code, if apart { Money::ZERO } else { step.amount });
        }
    }

    #[test]
    fn what_is_done_is_a_part_of_what_was_contracted(code in walk_code()) {
        prop_assert!(code.standard_done().abs() <= code.contracted.abs());
    }

    #[test]
    fn a_forecast_is_never_below_the_facts(
        amounts in (positive_money(), positive_money(), positive_money()),
        own in option::of(positive_money()),
        units in (option::of(qty()), qty()),
        finished in any::<bool>(),
    ) {
        let (contracted, actual, committed) = amounts;
        let code = CodeStanding {
            contracted,
            changes: Money::ZERO,
            actual,
            uninstalled: Money::ZERO,
            committed,
            own_forecast: own,
            units_contracted: units.0,
            units_done: units.1,
            finished,
        };
        prop_assert!(forecast(&code).amount >= actual);
    }

    #[test]
    fn progress_stays_in_bounds(
        contract in positive_money(),
        amounts in (positive_money(), positive_money(), positive_money()),
        billed in positive_money(),
    ) {
        let (cost_to_date, forecast_cost, uninstalled) = amounts;
        let ended = false;
        let done =
            progress(&ProgressInput { contract, cost_to_date, forecast_cost, uninstalled, billed, ended });
        prop_assert!((Decimal::ZERO..=Decimal::ONE).contains(&done.share));
        prop_assert_eq!(done.earned - cost_to_date, done.profit);
        prop_assert_eq!(done.earned + done.over_billed - done.under_billed, billed);
        prop_assert!(done.over_billed.is_zero() || done.under_billed.is_zero());
        prop_assert!(!done.over_billed.is_negative() && !done.under_billed.is_negative());
        // What is earned lies between the materials at cost, as far as the contract holds them, and the contract.
        prop_assert!(done.earned >= contract.min(uninstalled) && done.earned <= contract);
        let loss = forecast_cost - contract;
        if loss > Money::ZERO && !done.loss_provision.is_zero() {
            prop_assert_eq!(done.profit - done.loss_provision, -loss);
        }
        prop_assert!(loss > Money::ZERO || done.loss_provision.is_zero());
    }

    #[test]
    fn a_finished_job_has_earned_its_contract(contract in positive_money(), cost in 1..50_000_000_i64) {
        let cost = Money::from_minor(cost);
        let job = ProgressInput {
            contract, cost_to_date: cost, forecast_cost: cost, uninstalled: Money::ZERO, billed: contract,
            ended: false,
        };
        let done = progress(&job);
        prop_assert_eq!((done.earned, done.profit), (contract, contract - cost));
        prop_assert_eq!(done.loss_provision, Money::ZERO);
    }

    #[test]
    fn tax_mirrors_and_is_near_the_exact(lines in vec(money(), 0..8), rate in 0..200_000_i64) {
        let rate = Rate::from_e6(rate);
        let credit: Vec<Money> = lines.iter().map(|line| -*line).collect();
        for by in [TaxBy::Invoice, TaxBy::Item] {
            prop_assert_eq!(sales_tax(&credit, rate, by), -sales_tax(&lines, rate, by));
        }
        let exact = lines.iter().sum::<Money>().decimal() * rate.decimal();
        let off = (sales_tax(&lines, rate, TaxBy::Invoice).decimal() - exact).abs();
        prop_assert!(off <= Decimal::new(5, 3));
    }

    #[test]
    fn ages_sum_to_all_that_is_open(items in vec((any_date(), money()), 0..20), as_of in any_date()) {
        let items: Vec<OpenItem> = items.into_iter().map(|(due, open)| OpenItem { due, open }).collect();
        let all: Money = items.iter().map(|item| item.open).sum();
        prop_assert_eq!(aging(&items, as_of).total(), all);
    }

    #[test]
    fn a_payment_is_neither_lost_nor_stretched(
        amount in money(),
        open in vec((any_date(), money()), 0..12),
    ) {
        let (applied, left) = apply_oldest_first(amount, &open);
        prop_assert_eq!(applied.iter().sum::<Money>() + left, amount);
        for (part, (_, open)) in applied.iter().zip(&open) {
            prop_assert!(!part.is_negative() && *part <= open.max(&Money::ZERO).abs());
        }
        // Nothing is left over while an invoice is open.
        if left > Money::ZERO {
            prop_assert!(applied.iter().zip(&open).all(|(part, (_, open))| part >= open));
        }
    }

    #[test]
    fn included_sheets_cover_no_more_than_there_are(included in qty(), counts in vec(qty(), 0..12)) {
        let used = use_included(included, &counts);
        for (used, count) in used.iter().zip(&counts) {
            prop_assert_eq!(used.covered + used.beyond, *count);
        }
        let all: Qty = counts.iter().sum();
        let covered: Qty = used.iter().map(|used| used.covered).sum();
        prop_assert_eq!(covered, all.min(included));
    }

    #[test]
    fn a_finds_cost_keeps_its_sum(cost in money(), covered in qty(), beyond in qty()) {
        let parts = beyond_share(cost, IncludedUse { covered, beyond });
        prop_assert_eq!(parts.covered + parts.beyond, cost);
    }

    #[test]
    fn the_last_day_to_cancel_is_the_third_business_day(signed in any_date()) {
        let last = cancel_by(signed);
        let mut day = signed;
        let mut counted = 0;
        while day < last {
            day = day.tomorrow().unwrap();
            counted += i32::from(is_business_day(day));
        }
        prop_assert_eq!(counted, 3);
        prop_assert!(is_business_day(last));
        prop_assert!(last <= signed.saturating_add(8.days()));
    }
}

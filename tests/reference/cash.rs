//! Cash ahead against published cash budgets (OpenStax, Principles of Accounting, volume 2, chapter 7), and against a
//! second calculation in Python.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot ask should stop")]

use jiff::civil::Date;
use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};
use trade::{CashWeek, Flow, Money, Qty, Rate, cash_ahead, line_amount, lowest, short_of};

fn dollars(whole: i64) -> Money {
    Money::from_minor(whole * 100)
}

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

/// The four quarters, and months, of a year.
fn times(months: usize) -> Vec<(Date, Date)> {
    let first = |month: usize| day(&format!("2026-{:02}-01", month + 1));
    (0..12 / months)
        .map(|at| (first(at * months), trade::Month::of(first(at * months + months - 1)).last_day()))
        .collect()
}

/// Sales that are collected in shares: the first in their own time, the next in the one after it, and so on.
fn collected(sales: &[i64], shares: &[&str], times: &[(Date, Date)]) -> Vec<Flow> {
    let mut flows = Vec::new();
    for (at, sale) in sales.iter().enumerate() {
        for (later, share) in shares.iter().enumerate() {
            let share = Rate::parse(share).unwrap();
            let amount = line_amount(share, Qty::whole(*sale));
            flows.extend(times.get(at + later).map(|(begins, _)| Flow { date: *begins, amount, out: false }));
        }
    }
    flows
}

fn came_in(weeks: &[CashWeek]) -> Vec<Money> {
    weeks.iter().map(|week| week.cash_in).collect()
}

#[test]
fn sales_are_collected_in_the_quarters_of_the_published_budget() {
    // 65 % in the quarter of the sale, 30 % in the next; 5 % are lost.
    let times = times(3);
    let flows = collected(&[70_000, 70_000, 112_500, 187_500], &["0.65", "0.30"], &times);
    let weeks = cash_ahead(Money::ZERO, &times, &flows);
    assert_eq!(came_in(&weeks), [45_500, 66_500, 94_125, 155_625].map(dollars));
}

#[test]
fn what_is_lacking_to_the_least_kept_is_borrowed_as_in_the_published_budget() {
    // 13,000 and 5,000 of stock to begin with; 10,000 are to be kept. What was borrowed stands at the beginning of the
    // quarter after. The third quarter's payments as they were gathered do not come to the 1,265 that it repays.
    let quarter = &times(3)[..1];
    let budget = |opening: i64, cash_in: i64, out: i64| {
        let on = quarter[0].0;
        let flow = |amount: i64, out: bool| Flow { date: on, amount: dollars(amount), out };
        let flows = [flow(cash_in, false), flow(out, true)];
        cash_ahead(dollars(opening), quarter, &flows)[0].closing
    };
    let keep = dollars(10_000);
    let first = budget(13_000 + 5_000, 45_500, 70_985);
    assert_eq!((first, short_of(first, keep)), (dollars(-7_485), dollars(17_485)));
    let second = budget(10_000, 66_500, 70_958);
    assert_eq!((second, short_of(second, keep)), (dollars(5_542), dollars(4_458)));
    let fourth = budget(10_000, 155_625, 107_550 + 21_632);
    assert_eq!((fourth, short_of(fourth, keep)), (dollars(36_443), Money::ZERO));
}

#[test]
fn credit_sales_are_collected_over_three_months_as_published() {
    let times = times(1);
    let month = |sales: &[i64], shares: &[&str], at: usize| {
        cash_ahead(Money::ZERO, &times, &collected(sales, shares, &times))[at].cash_in
    };
    // 60 % at once, 30 % the month after, 10 % the one after that.
    let shares = ["0.60", "0.30", "0.10"];
    assert_eq!(month(&[25_000, 35_000, 20_000, 25_000], &shares, 2), dollars(25_000));
    assert_eq!(month(&[25_000, 35_000, 20_000, 25_000], &shares, 3), dollars(24_500));
    let shares = ["0.65", "0.25", "0.10"];
    assert_eq!(month(&[90_000, 120_000, 75_000, 85_000], &shares, 2), dollars(87_750));
    assert_eq!(month(&[90_000, 120_000, 75_000, 85_000], &shares, 3), dollars(86_000));
    // 30 % in cash; of what is sold on credit 65, 25 and 5 %.
    let shares = ["0.755", "0.175", "0.035"];
    assert_eq!(month(&[75_000, 65_000, 90_000], &shares, 2), dollars(81_950));
}

/// A made-up cash budget with uneven times, dates before and after them, and cents.
fn case() -> Value {
    let weeks = trade::weeks_ahead(day("2026-10-31"), jiff::civil::Weekday::Monday);
    let flows: Vec<Flow> = (0_i64..60)
        .map(|at| {
            let cents = (at * 7_919 % 400_000) - 180_000;
            let date = day("2026-10-01").saturating_add(jiff::Span::new().days(at * 2));
            Flow { date, amount: Money::from_minor(cents.abs()), out: cents < 0 }
        })
        .collect();
    let opening = Money::from_minor(1_234_567);
    let ahead = cash_ahead(opening, &weeks, &flows);
    json!({
        "after": "2026-10-31", "opening": opening,
        "flows": flows.iter().map(|flow| {
            json!([flow.date.to_string(), if flow.out { -flow.amount } else { flow.amount }])
        }).collect::<Vec<_>>(),
        "weeks": weeks.iter().zip(&ahead).map(|((begins, ends), week)| {
            json!([begins.to_string(), ends.to_string(), week.opening, week.cash_in, week.cash_out, week.closing])
        }).collect::<Vec<_>>(),
        "lowest": lowest(&ahead),
    })
}

fn ask(case: &Value) -> Output {
    let Some(python) = std::env::var_os("TEAROFF_PYTHON") else {
        panic!("TEAROFF_PYTHON is not set. Run `cargo xtask test`, which sets it.");
    };
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("case.json");
    std::fs::write(&file, case.to_string()).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/cash.py");
    Command::new(python).arg(script).arg(file).output().unwrap()
}

#[test]
fn python_comes_to_the_same_weeks() {
    let out = ask(&case());
    assert!(out.status.success(), "Python says:\n{}", String::from_utf8_lossy(&out.stderr));
    let mut wrong = case();
    wrong["weeks"][4][3] = json!("1.00");
    assert!(!ask(&wrong).status.success(), "a changed week passed");
    let mut wrong = case();
    wrong["lowest"] = json!(wrong["lowest"].as_u64().unwrap() + 1);
    assert!(!ask(&wrong).status.success(), "another lowest passed");
}

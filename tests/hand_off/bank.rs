//! The bank's lines and what cleared by them, in a month whose statements begin and end in other months.

use crate::files::{Set, money};
use crate::firm::Shop;
use crate::python;
use serde_json::{Value, json};

fn totals(set: &Set) -> [Value; 3] {
    ["bank_lines", "bank_cleared", "bank_uncleared"].map(|name| json!(set.control(name)))
}

#[test]
fn lines_cleared_and_uncleared_payments_tie_where_statements_straddle_the_month() {
    let mut shop = Shop::new();
    let bill = shop.bill("2026-03-02", "26-001", "600.00", "0.00");
    let other = shop.bill("2026-03-03", "26-001", "80.00", "0.00");
    let pay = |bill: ledger::Id, date: &str, number: &str, amount: &str| {
        json!({"kind": "vendor-payment", "date": date, "vendor": "Weir Supply", "method": "check",
            "reference": number, "bills": [{"bill": bill.to_string(), "amount": amount}]})
    };
    shop.say(pay(bill, "2026-03-20", "41", "600.00"));
    let late = shop.say(pay(other, "2026-03-30", "42", "80.00"));
    shop.say(json!({"kind": "payment", "date": "2026-03-10", "customer": "Ada Birch", "amount": "1000.00",
        "method": "check"}));
    shop.on("2026-04-15");
    let statement = |begins: &str, ends: &str, opening: &str, closing: &str, lines: Value| {
        json!({"kind": "bank-statement", "date": ends, "begins": begins, "opening": opening, "closing": closing,
            "lines": lines})
    };
    let line = |date: &str, amount: &str, number: Option<&str>| match number {
        Some(number) => json!({"date": date, "amount": amount, "words": "Check", "number": number}),
        None => json!({"date": date, "amount": amount, "words": "Deposit"}),
    };
    // 500 + 7 − 600 is what the first moves; the deposit of February is in no file of March.
    let lines = json!([line("2026-02-28", "7.00", None), line("2026-03-11", "1000.00", None)]);
    shop.say(statement("2026-02-15", "2026-03-14", "500.00", "1507.00", lines));
    let lines = json!([
        line("2026-03-24", "-600.00", Some("41")),
        line("2026-03-28", "-9.00", None),
        line("2026-04-02", "-80.00", Some("42"))
    ]);
    shop.say(statement("2026-03-15", "2026-04-14", "1507.00", "818.00", lines));
    for ends in ["2026-03-14", "2026-04-14"] {
        office::match_fitting(&mut shop.desk, Some(ends.parse().unwrap())).unwrap();
    }
    let march = shop.part("2026-03", 1);
    march.is_sound();
    assert_eq!(totals(&march), [json!("391.00"), json!("400.00"), json!("-80.00")]);
    assert_eq!(march.sum("bank_lines", "amount"), money("391.00"));
    let folder = shop.hand("2026-03", "books-again").unwrap().folder;
    python::agrees(&folder, &python::read(std::slice::from_ref(&folder))[0]);
    // What was said of the check is taken back, and so is the check: it neither cleared nor waits.
    let ends = "2026-04-14".parse().unwrap();
    office::take_back_line(&mut shop.desk, Some(ends), 3, "another check").unwrap();
    shop.reverse(late, "never sent");
    let again = shop.part("2026-03", 2);
    again.is_sound();
    assert_eq!(totals(&again), [json!("391.00"), json!("400.00"), json!("0.00")]);
}

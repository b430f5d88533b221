//! What no fact may say, whatever else is in the books: one thing of a good fact changed at a time, and the field that
//! the refusal names.

use crate::sample::{
    CREW, CUSTOMER, DECK, JOB, OTHER_JOB, OWNER, TEAR, add, books, codes_of, contract, day, direct_cost,
    fact, full_books, id, money, month, one_of_each, place, refusal, reversal, the_one, time,
};
use ledger::{Ledger, NewFact};
use serde_json::{Value, json};
use trade::{Money, Qty};

/// A fact of the sample under another id, with one place in it changed.
fn changed(facts: &[NewFact], kind: &str, at: &str, to: &Value) -> NewFact {
    let good = facts.iter().find(|new| new.fact.kind() == kind).unwrap_or_else(|| panic!("no {kind}"));
    let mut body = serde_json::to_value(&good.fact).expect("a fact as JSON");
    let (around, name) = at.rsplit_once('/').expect("a place");
    let around = if around.is_empty() { Some(&mut body) } else { body.pointer_mut(around) };
    match around.unwrap_or_else(|| panic!("{kind} has nothing at {at}")) {
        Value::Array(list) => list[name.parse::<usize>().expect("a number")] = to.clone(),
        object => object[name] = to.clone(),
    }
    fact(900, kind, body)
}

#[test]
fn what_a_fact_may_not_say_is_refused_at_its_field() {
    let at = place();
    // Each of them is good as it is: here they are all recorded.
    let mut ledger = full_books(&at.path);
    let facts = one_of_each();
    let long = "n".repeat(501);
    let cases = [
        ("firm", "/currency", json!("US"), "currency"),
        ("firm", "/state", json!("Vt"), "state"),
        ("firm", "/overtime_over_week", json!("0"), "overtime_over_week"),
        ("firm", "/sales_tax", json!("1"), "sales_tax"),
        ("firm", "/sales_tax", json!("-0.01"), "sales_tax"),
        ("device", "/letter", json!("a"), "letter"),
        ("attachment", "/bytes", json!(-1), "bytes"),
        ("pay-rate", "/hourly", json!("-0.01"), "hourly"),
        ("contract", "/price", json!("-0.01"), "price"),
        ("contract", "/lines", json!([]), "lines"),
        ("contract", "/lines/0/amount", json!("-0.01"), "lines[0].amount"),
        ("contract", "/lines/0/hours", json!("5"), "lines[0].hours"),
        ("contract", "/lines/1/hours", json!(null), "lines[1].hours"),
        ("contract", "/payments/0/amount", json!("4000.01"), "payments"),
        ("schedule", "/ends", json!("2026-03-08"), "ends"),
        ("schedule", "/crew_days", json!("0"), "crew_days"),
        ("notice", "/state", json!("V"), "state"),
        ("notice", "/copies", json!(0), "copies"),
        ("notice", "/copies", json!(5), "copies"),
        ("notice", "/least_points", json!(7), "least_points"),
        ("notice", "/least_points", json!(25), "least_points"),
        ("insulation-receipt", "/parts", json!([]), "parts"),
        ("insulation-receipt", "/parts/1/r_value", json!("0"), "parts[1].r_value"),
        ("insulation-receipt", "/parts/0/settled_in", json!("12.6"), "parts[0].settled_in"),
        ("insulation-receipt", "/parts/0/bags", json!(null), "parts[0].bags"),
        ("insulation-receipt", "/parts/1/bags", json!(2), "parts[1].bags"),
        ("purchase-order", "/lines", json!([]), "lines"),
        ("purchase-order", "/lines/0/cost_kind", json!("labor"), "lines[0].cost_kind"),
        ("purchase-order", "/lines/0/amount", json!("-0.01"), "lines[0].amount"),
        ("direct-cost", "/cost_kind", json!("labor"), "cost_kind"),
        ("time-entry", "/hours", json!("0"), "hours"),
        ("time-entry", "/hours", json!("24.01"), "hours"),
        ("condition", "/count", json!("0"), "count"),
        ("condition", "/note", json!(long), "note"),
        ("condition", "/damaged", json!("rafter"), "counted_in"),
        ("change-order", "/lines", json!([]), "lines"),
        ("change-order", "/not_to_exceed", json!("274.99"), "not_to_exceed"),
    ];
    for (kind, place, to, field) in cases {
        let said = refusal(&mut ledger, changed(&facts, kind, place, &to));
        assert!(said.starts_with(&format!("{field}: ")), "{kind} {place} {to}: {said}");
    }
}

#[test]
fn the_units_of_a_code_stay_and_its_words_may_change() {
    let at = place();
    let mut ledger = books(&at.path);
    let code = |n: u64, unit: &str, bought_in: &str| {
        let body = json!({"revises": id(DECK), "code": "deck", "title": "Decking", "unit": unit,
            "bought_in": bought_in, "position": 1});
        fact(n, "cost-code", body)
    };
    assert!(refusal(&mut ledger, code(100, "foot", "sheet")).starts_with("unit: "));
    assert!(refusal(&mut ledger, code(100, "sheet", "bundle")).starts_with("unit: "));
    add(&mut ledger, code(100, "sheet", "sheet"));
}

#[test]
fn a_day_has_twenty_four_hours_for_each_person_over_all_jobs() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, time(100, "2026-03-09", JOB, TEAR, "14"));
    assert!(refusal(&mut ledger, time(101, "2026-03-09", OTHER_JOB, DECK, "10.0001")).starts_with("hours: "));
    add(&mut ledger, time(101, "2026-03-09", OTHER_JOB, DECK, "10"));
    assert!(refusal(&mut ledger, time(102, "2026-03-09", JOB, DECK, "0.25")).starts_with("hours: "));
    // Another day, another person, and hours taken back leave room.
    add(&mut ledger, time(102, "2026-03-10", JOB, DECK, "0.25"));
    let mut body = serde_json::to_value(time(0, "2026-03-09", JOB, DECK, "0.25").fact).expect("hours");
    body["person"] = json!(id(OWNER));
    add(&mut ledger, fact(103, "time-entry", body));
    add(&mut ledger, reversal(104, "2026-03-11", 101));
    add(&mut ledger, time(105, "2026-03-09", JOB, DECK, "0.25"));
}

#[test]
fn no_more_is_applied_or_given_back_than_was_paid() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, contract(30, JOB));
    let invoice = json!({"date": "2026-03-10", "job": id(JOB), "number": "I-1", "purpose": "progress",
        "due": "2026-04-09", "tax": "0.00", "retainage": "0.00",
        "lines": [{"description": "Progress", "amount": "1000.00", "taxable": false}]});
    add(&mut ledger, fact(100, "invoice", invoice));
    let customer = id(CUSTOMER);
    let payment = json!({"date": "2026-03-12", "customer": customer, "amount": "600.00", "method": "check"});
    add(&mut ledger, fact(101, "payment", payment));
    let apply = |n: u64, amount: &str| {
        let body = json!({"date": "2026-03-12", "payment": id(101), "invoice": id(100), "amount": amount});
        fact(n, "allocation", body)
    };
    let give_back = |n: u64, amount: &str| {
        let body = json!({"date": "2026-03-13", "customer": customer, "payment": id(101), "amount": amount,
            "method": "check"});
        fact(n, "refund", body)
    };
    assert!(refusal(&mut ledger, apply(110, "600.01")).starts_with("amount: "));
    add(&mut ledger, apply(110, "400.00"));
    assert!(refusal(&mut ledger, give_back(111, "200.01")).starts_with("amount: "));
    add(&mut ledger, give_back(111, "150.00"));
    assert!(refusal(&mut ledger, apply(112, "50.01")).starts_with("amount: "));
    add(&mut ledger, reversal(113, "2026-03-14", 111));
    add(&mut ledger, apply(114, "200.00"));
    assert!(refusal(&mut ledger, apply(115, "0.01")).starts_with("amount: "));
}

#[test]
fn what_stays_of_a_cost_taken_back_is_nothing() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(100, "2026-03-09", JOB, "75.00"));
    let spent = |ledger: &Ledger| {
        let totals = codes_of(ledger, JOB, "2026-03");
        totals.into_values().map(|sums| sums.rest()).sum::<Money>()
    };
    assert_eq!(spent(&ledger), money("75.00"));
    add(&mut ledger, reversal(101, "2026-03-10", 100));
    assert_eq!(spent(&ledger), money("0.00"));
    let days = |ledger: &Ledger| the_one(ledger.reading().worked_days(&[id(JOB)].into(), month("2026-03")));
    assert!(days(&ledger).is_empty());
    add(&mut ledger, time(102, "2026-03-10", JOB, TEAR, "7.5"));
    let worked = days(&ledger);
    assert_eq!(worked.len(), 1);
    assert_eq!((worked[0].day, worked[0].hours), (day("2026-03-10"), Qty::from_e4(75_000)));
    assert_eq!(worked[0].crew, Some(id(CREW)));
}

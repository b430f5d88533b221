//! The stored totals against sums worked by hand, at the end of each month: that they are what a rebuild gives says
//! nothing of a rule that both have wrong.

use crate::sample::{
    CREW, CUSTOMER, DECK, JOB, MEMBER, OTHER_JOB, PART, TEAR, VENDOR, add, books, close, codes_of, contract,
    direct_cost, fact, firm, id, labor_through, money, month, pay, place, problems, reversal, the_one, time,
};
use ledger::totals::{CodeTotals, ConditionTotals, JobTotals, PartTotals};
use ledger::{Ledger, NewFact};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use trade::Qty;

fn of_code(ledger: &Ledger, code: u64, through: &str) -> CodeTotals {
    let totals = codes_of(ledger, JOB, through);
    totals.get(&id(code)).cloned().unwrap_or_default()
}

fn of_job(ledger: &Ledger, through: &str) -> JobTotals {
    the_one(ledger.reading().job_totals(&[id(JOB)].into(), month(through)))
}

fn qty(text: &str) -> Qty {
    Qty::parse(text).expect("a quantity")
}

/// Sheets of the deck on the job, or as the changes say.
fn sheets(amount: &str, changes: &Value) -> Value {
    let mut line =
        json!({"job": id(JOB), "code": id(DECK), "cost_kind": "material", "amount": amount, "unit": "sheet"});
    line.as_object_mut().expect("a line").extend(changes.as_object().cloned().unwrap_or_default());
    line
}

fn bill(n: u64, date: &str, changes: &Value, lines: &Value) -> NewFact {
    let mut body = json!({"date": date, "vendor": id(VENDOR), "reference": format!("V-{n}"), "lines": lines});
    body.as_object_mut().expect("a bill").extend(changes.as_object().cloned().unwrap_or_default());
    fact(n, "bill", body)
}

fn condition(n: u64, date: &str) -> NewFact {
    let body = json!({"date": date, "job": id(JOB), "number": format!("A-{n}"), "place": "eave",
        "cause": "ice-dam", "damaged": "rafter", "counted_in": "each", "count": "1"});
    fact(n, "condition", body)
}

#[test]
fn an_order_leaves_committed_what_no_bill_has_brought_by_code_and_before_tax() {
    let at = place();
    let mut ledger = books(&at.path);
    let order = json!({"date": "2026-03-02", "job": id(JOB), "vendor": id(VENDOR), "number": "P-1", "lines": [
        {"code": id(DECK), "cost_kind": "material", "description": "sheets", "amount": "100.00"},
        {"code": id(TEAR), "cost_kind": "disposal", "description": "a box", "amount": "90.00"},
        {"code": id(DECK), "cost_kind": "material", "description": "sheets", "amount": "80.00"}]});
    add(&mut ledger, fact(100, "purchase-order", order));
    let committed = |ledger: &Ledger, through: &str| {
        [DECK, TEAR].map(|code| of_code(ledger, code, through).committed.to_string())
    };
    let on_order = json!({"purchase_order": id(100)});
    // 180.00 less 150.50: neither the tax nor what is another job's or code's fills it.
    let first =
        json!([sheets("150.50", &json!({"tax": "9.03"})), sheets("20.00", &json!({"job": id(OTHER_JOB)}))]);
    add(&mut ledger, bill(101, "2026-04-03", &on_order, &first));
    assert_eq!(committed(&ledger, "2026-03"), ["180.00", "90.00"]);
    assert_eq!(committed(&ledger, "2026-04"), ["29.50", "90.00"]);
    // More than was ordered leaves nothing, and takes nothing from another code.
    add(&mut ledger, bill(102, "2026-05-04", &on_order, &json!([sheets("40.00", &json!({}))])));
    assert_eq!(committed(&ledger, "2026-05"), ["0.00", "90.00"]);
    add(&mut ledger, reversal(103, "2026-05-05", 102));
    assert_eq!(committed(&ledger, "2026-05"), ["29.50", "90.00"]);
    // The last that comes says so, whatever is missing.
    let last = json!({"purchase_order": id(100), "completes_order": true});
    let box_of_debris = json!([sheets("10.00", &json!({"code": id(TEAR), "cost_kind": "disposal"}))]);
    add(&mut ledger, bill(104, "2026-06-01", &last, &box_of_debris));
    assert_eq!(committed(&ledger, "2026-06"), ["0.00", "0.00"]);
    assert_eq!(committed(&ledger, "2026-05"), ["29.50", "90.00"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn an_approved_change_adds_price_and_budget_from_its_decision_on_and_hidden_conditions_apart() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, contract(99, JOB));
    add(&mut ledger, condition(98, "2026-03-03"));
    let lines = json!([
        {"code": id(DECK), "cost_kind": "material", "condition": id(98), "description": "rafter", "price": "95.00",
            "cost": "30.00"},
        {"code": id(TEAR), "cost_kind": "labor", "description": "wider vent", "price": "120.00", "cost": "80.00",
            "hours": "2"},
        {"code": id(DECK), "cost_kind": "material", "description": "sheets", "quantity": "3", "unit": "sheet",
            "price": "75.00", "cost": "50.00"},
        {"code": id(DECK), "cost_kind": "material", "description": "boards", "quantity": "2", "unit": "board",
            "price": "12.00", "cost": "8.00"},
        {"code": id(DECK), "cost_kind": "other", "description": "sheets carried", "quantity": "5", "unit": "sheet",
            "price": "9.00", "cost": "4.00"},
        {"code": id(DECK), "cost_kind": "material", "condition": id(98), "description": "left out",
            "price": "-6.00", "cost": "-3.00"}]);
    let order = json!({"date": "2026-03-04", "job": id(JOB), "number": "B-1", "title": "More", "pricing": "lump-sum",
        "lines": lines});
    add(&mut ledger, fact(100, "change-order", order));
    let contracted = CodeTotals {
        budget_material: money("180.00"),
        budget_counted: money("180.00"),
        budget_quantity: qty("6"),
        ..CodeTotals::default()
    };
    assert_eq!(of_code(&ledger, DECK, "2026-03"), contracted);
    let decision = |n: u64, date: &str, lines: Value| {
        let body = json!({"date": date, "change_order": id(100), "verdict": "approved", "decided_by": "Pat Lind",
            "method": "phone", "lines": lines});
        fact(n, "decision", body)
    };
    add(&mut ledger, decision(101, "2026-04-05", json!([{"change_line": 2, "verdict": "declined"}])));
    assert_eq!(of_code(&ledger, DECK, "2026-03"), contracted);
    // Own changes 50 + 8 + 4 − 3 = 59.00, of it material 55.00; of sheets alone is anything counted.
    let changed = CodeTotals {
        budget_material: money("235.00"),
        budget_rest: money("4.00"),
        budget_counted: money("230.00"),
        budget_quantity: qty("9"),
        changed: money("59.00"),
        hidden_budget: money("30.00"),
        ..CodeTotals::default()
    };
    let both = |through: &str, ledger: &Ledger, expected: [&CodeTotals; 2]| {
        let found = [DECK, TEAR].map(|code| of_code(ledger, code, through));
        assert_eq!(found.each_ref(), expected, "{through}");
    };
    let labor = CodeTotals {
        budget_labor: money("1500.00"),
        budget_hours: qty("50"),
        budget_units: qty("24.5"),
        ..CodeTotals::default()
    };
    both("2026-04", &ledger, [&changed, &labor]);
    let job = |change: &str, hidden: &str| JobTotals {
        price: money("12000.00"),
        change_price: money(change),
        hidden_price: money(hidden),
        ..JobTotals::default()
    };
    assert_eq!(of_job(&ledger, "2026-03"), job("0.00", "0.00"));
    // 75 + 12 + 9 − 6 = 90.00.
    assert_eq!(of_job(&ledger, "2026-04"), job("90.00", "95.00"));
    // The newest decision counts, from its own month on, and until it is taken back.
    add(&mut ledger, decision(102, "2026-05-02", json!([])));
    let wider = CodeTotals {
        budget_labor: money("1580.00"),
        budget_hours: qty("52"),
        changed: money("80.00"),
        ..labor.clone()
    };
    both("2026-05", &ledger, [&changed, &wider]);
    both("2026-04", &ledger, [&changed, &labor]);
    assert_eq!(of_job(&ledger, "2026-05"), job("210.00", "95.00"));
    add(&mut ledger, reversal(103, "2026-05-20", 102));
    both("2026-05", &ledger, [&changed, &labor]);
    assert_eq!(of_job(&ledger, "2026-05"), job("90.00", "95.00"));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_change_of_unknown_cost_counts_its_price_until_the_office_fills_the_cost_in() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, contract(99, JOB));
    let order = json!({"date": "2026-03-04", "job": id(JOB), "number": "B-1", "title": "A board", "pricing": "lump-sum",
        "lines": [{"code": id(DECK), "cost_kind": "material", "description": "1 board", "price": "100.00"}]});
    add(&mut ledger, fact(100, "change-order", order));
    let yes = json!({"date": "2026-03-05", "change_order": id(100), "verdict": "approved", "decided_by": "Pat Lind",
        "method": "phone"});
    add(&mut ledger, fact(101, "decision", yes));
    let filled_in = |n: u64, date: &str, cost: &str| {
        let body =
            json!({"date": date, "change_order": id(100), "lines": [{"change_line": 1, "cost": cost}]});
        fact(n, "change-cost", body)
    };
    add(&mut ledger, filled_in(102, "2026-04-06", "70.00"));
    add(&mut ledger, direct_cost(103, "2026-04-30", JOB, "1.00"));
    let march = close(&ledger, 104, "2026-05-01", month("2026-03"));
    add(&mut ledger, march);
    let april = close(&ledger, 105, "2026-05-01", month("2026-04"));
    add(&mut ledger, april);
    // What a closed month was told stays; another cost counts from the open month on.
    add(&mut ledger, reversal(106, "2026-05-07", 102));
    let changed = |ledger: &Ledger| {
        ["2026-03", "2026-04", "2026-05"].map(|through| of_code(ledger, DECK, through).changed.to_string())
    };
    assert_eq!(changed(&ledger), ["100.00", "70.00", "100.00"]);
    add(&mut ledger, filled_in(107, "2026-05-08", "65.00"));
    assert_eq!(changed(&ledger), ["100.00", "70.00", "65.00"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_bill_counts_material_in_the_codes_own_unit_and_a_credit_counts_it_down() {
    let at = place();
    let mut ledger = books(&at.path);
    let part = json!({"name": "sheet-half", "title": "Half-inch sheets", "item": "deck-sheet", "code": id(DECK),
        "cost_kind": "material", "package": "sheet", "covers": "32"});
    let part = fact(PART, "part", part);
    add(&mut ledger, part);
    add(&mut ledger, condition(98, "2026-03-03"));
    let lines = json!([
        sheets("150.50", &json!({"quantity": "5", "tax": "9.03", "part": id(PART)})),
        sheets("62.00", &json!({"quantity": "2", "tax": "3.72", "condition": id(98)})),
        sheets("20.00", &json!({"quantity": "3", "cost_kind": "other", "condition": id(98)})),
        sheets("11.00", &json!({"quantity": "4", "unit": "board"})),
        sheets("7.00", &json!({})),
    ]);
    add(&mut ledger, bill(100, "2026-03-10", &json!({}), &lines));
    // Counted: 150.50 + 9.03 + 62.00 + 3.72 = 225.25 for seven sheets; uncounted material 11 + 7.
    let bought = CodeTotals {
        material: money("243.25"),
        other: money("20.00"),
        counted: money("225.25"),
        quantity: qty("7"),
        ..CodeTotals::default()
    };
    assert_eq!(of_code(&ledger, DECK, "2026-03"), bought);
    let found = ConditionTotals {
        material: money("65.72"),
        rest: money("20.00"),
        counted: money("65.72"),
        quantity: qty("2"),
        ..ConditionTotals::default()
    };
    let of_condition = the_one(ledger.reading().condition_totals(&[id(98)].into(), month("2026-03")));
    assert_eq!(of_condition.into_iter().collect::<Vec<_>>(), [(id(DECK), found)]);
    let parts = |ledger: &Ledger, through: &str| {
        let totals = the_one(ledger.reading().part_totals(&[id(JOB)].into(), month(through)));
        let of_deck = totals.get(&id(DECK)).cloned().unwrap_or_default();
        [Some(id(PART)), None].map(|part| of_deck.get(&part).map(|sums: &PartTotals| sums.quantity))
    };
    assert_eq!(parts(&ledger, "2026-03"), [Some(qty("5")), Some(qty("2"))]);
    // Two sheets go back, typed as two; then one, typed as less than none.
    let back = |n: u64, quantity: &str, amount: &str| {
        let line = sheets(amount, &json!({"quantity": quantity, "part": id(PART)}));
        bill(n, "2026-04-02", &json!({"credit": true}), &json!([line]))
    };
    add(&mut ledger, back(101, "2", "-60.00"));
    add(&mut ledger, back(102, "-1", "-30.00"));
    assert_eq!(parts(&ledger, "2026-04"), [Some(qty("2")), Some(qty("2"))]);
    let left =
        CodeTotals { material: money("153.25"), counted: money("135.25"), quantity: qty("4"), ..bought };
    assert_eq!(of_code(&ledger, DECK, "2026-04"), left);
    assert_eq!(of_code(&ledger, DECK, "2026-03"), bought);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn whatever_is_booked_on_a_job_says_that_something_happened_there_in_its_month() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(90, "2026-01-05", "20.00"));
    add(&mut ledger, contract(91, JOB));
    let date = |n: u64| {
        let (year, month) = (2026 + (3 + n) / 12, (3 + n) % 12 + 1);
        format!("{year}-{month:02}-04")
    };
    let of_job = |more: Value| {
        let mut body = json!({"job": id(JOB)});
        body.as_object_mut().expect("a fact").extend(more.as_object().cloned().unwrap_or_default());
        body
    };
    let invoice = |purpose: &str, amount: &str, more: Value| {
        let mut body =
            of_job(json!({"number": format!("{purpose} {amount}"), "purpose": purpose, "due": "2028-01-01",
            "lines": [{"description": "work", "amount": amount}]}));
        body.as_object_mut().expect("an invoice").extend(more.as_object().cloned().unwrap_or_default());
        body
    };
    let facts = [
        ("job-status", of_job(json!({"stage": "begun"}))),
        (
            "purchase-order",
            of_job(json!({"vendor": id(VENDOR), "number": "P-1", "lines": [{"code": id(DECK),
                "cost_kind": "material", "description": "sheets", "amount": "100.00"}]})),
        ),
        (
            "direct-cost",
            of_job(
                json!({"code": id(TEAR), "cost_kind": "equipment", "description": "lift", "amount": "5.00"}),
            ),
        ),
        (
            "time-entry",
            of_job(json!({"person": id(MEMBER), "code": id(TEAR), "hours": "8", "crew": id(CREW)})),
        ),
        ("stored-material", of_job(json!({"code": id(DECK), "amount": "60.20"}))),
        ("units-done", of_job(json!({"code": id(TEAR), "quantity": "12.25"}))),
        ("forecast", of_job(json!({"code": id(TEAR), "amount": "1750.00"}))),
        (
            "condition",
            of_job(json!({"number": "A-1", "place": "eave", "cause": "ice-dam", "damaged": "rafter",
                "counted_in": "each", "count": "1"})),
        ),
        ("repair", json!({"condition": id(107), "stage": "begun"})),
        (
            "change-order",
            of_job(
                json!({"number": "B-1", "title": "A board", "pricing": "lump-sum", "lines": [{"code": id(DECK),
                "cost_kind": "material", "description": "1 board", "price": "100.00"}]}),
            ),
        ),
        ("change-cost", json!({"change_order": id(109), "lines": [{"change_line": 1, "cost": "7.00"}]})),
        (
            "decision",
            json!({"change_order": id(109), "verdict": "approved", "decided_by": "Pat Lind", "method": "phone"}),
        ),
        ("invoice", invoice("progress", "4000.00", json!({"retainage": "200.00"}))),
        ("retainage-release", json!({"invoice": id(112), "amount": "150.00", "due": "2028-01-01"})),
        ("invoice", invoice("credit", "-40.00", json!({}))),
        (
            "refund",
            json!({"customer": id(CUSTOMER), "credit": id(114), "amount": "15.00", "method": "check"}),
        ),
        ("payment", json!({"customer": id(CUSTOMER), "amount": "3000.00", "method": "check"})),
        ("allocation", json!({"payment": id(116), "invoice": id(112), "amount": "3000.00"})),
        (
            "bill",
            json!({"vendor": id(VENDOR), "reference": "V-1", "lines": [sheets("10.00", &json!({})),
                sheets("10.00", &json!({"job": id(OTHER_JOB)})), sheets("11.00", &json!({}))]}),
        ),
    ];
    for (n, (kind, mut body)) in (0..).zip(facts) {
        let on = date(n);
        body["date"] = json!(on);
        add(&mut ledger, fact(100 + n, kind, body));
        let expected: BTreeSet<ledger::Id> = match kind {
            "payment" => BTreeSet::new(),
            "bill" => [id(JOB), id(OTHER_JOB)].into(),
            _ => [id(JOB)].into(),
        };
        let touched = ledger.reading().touched_jobs(month(&on[..7])).expect("the jobs");
        assert_eq!(touched, expected, "{kind} of {on}");
    }
    assert_eq!(ledger.reading().touched_jobs(month("2026-03")).expect("the jobs"), [id(JOB)].into());
    // What is taken back in its own month did not happen; in a later one, both did.
    add(&mut ledger, direct_cost(130, "2028-03-01", JOB, "1.00"));
    assert_eq!(ledger.reading().touched_jobs(month("2028-03")).expect("the jobs"), [id(JOB)].into());
    add(&mut ledger, reversal(131, "2028-03-09", 130));
    assert_eq!(ledger.reading().touched_jobs(month("2028-03")).expect("the jobs"), [].into());
    assert!(problems(&at.path).is_empty());
}

/// A burden on all pay.
fn burden(n: u64, date: &str, rate: &str, wage_base: Option<&str>) -> NewFact {
    let body =
        json!({"date": date, "name": "Taxes", "calculated_on": "pay", "rate": rate, "wage_base": wage_base});
    fact(n, "burden-rate", body)
}

#[test]
fn a_burden_that_begins_inside_a_week_counts_from_its_day_and_not_before() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(90, "2026-01-05", "20.00"));
    add(&mut ledger, burden(91, "2026-01-05", "0.05", None));
    // Monday and Thursday of one week, Sunday of the same; each day 160.00.
    for (n, date) in (100..).zip(["2026-03-09", "2026-03-12", "2026-03-15"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "8"));
    }
    let burdened = |ledger: &Ledger| labor_through(ledger, JOB, "2026-03").burden.to_string();
    assert_eq!(burdened(&ledger), "24.00");
    // From Wednesday twice as much on Thursday and Sunday.
    add(&mut ledger, burden(92, "2026-03-11", "0.10", None));
    assert_eq!(burdened(&ledger), "40.00");
    // Of the week's last day.
    add(&mut ledger, burden(93, "2026-03-15", "0.20", None));
    assert_eq!(burdened(&ledger), "56.00");
    // Of the next week's first.
    add(&mut ledger, burden(94, "2026-03-16", "0.50", None));
    assert_eq!(burdened(&ledger), "56.00");
    assert!(problems(&at.path).is_empty());
}

#[test]
fn hours_that_come_late_reach_a_wage_base_sooner_in_every_later_week_of_the_year() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(90, "2026-01-05", "20.00"));
    add(&mut ledger, burden(91, "2026-01-05", "0.10", Some("400.00")));
    add(&mut ledger, time(100, "2026-03-03", JOB, DECK, "8"));
    add(&mut ledger, time(101, "2026-04-07", JOB, DECK, "24"));
    let burdened = |ledger: &Ledger| {
        ["2026-03", "2026-04"].map(|through| labor_through(ledger, JOB, through).burden.to_string())
    };
    // 160.00, then 240.00 of 480.00.
    assert_eq!(burdened(&ledger), ["16.00", "40.00"]);
    add(&mut ledger, time(102, "2026-03-04", JOB, DECK, "8"));
    assert_eq!(burdened(&ledger), ["32.00", "40.00"]);
    // Another year begins anew.
    add(&mut ledger, time(103, "2027-01-12", JOB, DECK, "8"));
    assert_eq!(labor_through(&ledger, JOB, "2027-01").burden, money("56.00"));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn hours_stand_by_their_day_and_crew_and_touch_a_job_before_anybody_is_paid() {
    let at = place();
    let mut ledger = books(&at.path);
    for (n, date, hours) in [(100, "2026-03-09", "8"), (101, "2026-03-09", "1.5"), (102, "2026-04-01", "4")] {
        add(&mut ledger, time(n, date, JOB, DECK, hours));
    }
    let days = |ledger: &Ledger, through: &str| -> Vec<(String, Option<ledger::Id>, String, String)> {
        let worked = the_one(ledger.reading().worked_days(&[id(JOB)].into(), month(through)));
        let told = |day: ledger::totals::WorkedDay| {
            (day.day.to_string(), day.crew, day.month.to_string(), day.hours.to_string())
        };
        worked.into_iter().map(told).collect()
    };
    let on = |day: &str, month: &str, hours: &str| (day.into(), Some(id(CREW)), month.into(), hours.into());
    let march = on("2026-03-09", "2026-03", "9.5");
    assert_eq!(days(&ledger, "2026-03"), std::slice::from_ref(&march));
    assert_eq!(days(&ledger, "2026-04"), [march, on("2026-04-01", "2026-04", "4")]);
    // Without a rate of pay there is no labor yet that could say so.
    for (through, touched) in [("2026-02", 0), ("2026-03", 1), ("2026-04", 1), ("2026-05", 0)] {
        let jobs = ledger.reading().touched_jobs(month(through)).expect("the jobs");
        assert_eq!(jobs.len(), touched, "{through}");
    }
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_codes_budget_and_its_rest_are_the_sums_of_their_columns() {
    let at = place();
    let mut ledger = books(&at.path);
    let line = |kind: &str, amount: &str| {
        let hours = (kind == "labor").then_some("1");
        json!({"code": id(DECK), "cost_kind": kind, "amount": amount, "hours": hours})
    };
    let lines =
        [("material", "1.00"), ("labor", "20.00"), ("subcontract", "300.00"), ("equipment", "4000.00")];
    let lines: Vec<Value> = lines.iter().map(|(kind, amount)| line(kind, amount)).collect();
    let body = json!({"date": "2026-03-02", "job": id(JOB), "price": "9000.00", "lines": lines,
        "payments": [{"title": "at the end", "amount": "9000.00"}]});
    add(&mut ledger, fact(99, "contract", body));
    let kinds = [("equipment", "0.10"), ("disposal", "2.00"), ("permit", "30.00"), ("other", "400.00")];
    for (n, (kind, amount)) in (100..).zip(kinds) {
        let body = json!({"date": "2026-03-04", "job": id(JOB), "code": id(DECK), "cost_kind": kind,
            "description": kind, "amount": amount});
        add(&mut ledger, fact(n, "direct-cost", body));
    }
    let sums = of_code(&ledger, DECK, "2026-03");
    assert_eq!(
        (sums.budget(), sums.rest(), sums.spent()),
        (money("4321.00"), money("432.10"), money("432.10"))
    );
    assert!(problems(&at.path).is_empty());
}

#[test]
fn the_overtime_premium_goes_by_hours_or_to_what_caused_it_as_the_firm_says() {
    // 40 hours on one job and 5 on the other in one week: half of 20.00 for each of five is 50.00 in all, of which the
    // other job's hours are a ninth.
    for (rule, shares) in [("hours", ["44.44", "5.56"]), ("cause", ["0.00", "50.00"])] {
        let at = place();
        let mut ledger = books(&at.path);
        let mut settings = firm("monday");
        settings["premium_to"] = json!(rule);
        add(&mut ledger, fact(89, "firm", settings));
        add(&mut ledger, pay(90, "2026-01-05", "20.00"));
        for (n, day) in (100..).zip(["2026-03-09", "2026-03-10", "2026-03-11", "2026-03-12"]) {
            add(&mut ledger, time(n, day, JOB, DECK, "10"));
        }
        let caused = json!({"date": "2026-03-13", "person": id(MEMBER), "job": id(OTHER_JOB), "code": id(DECK),
            "hours": "5", "crew": id(CREW), "caused_overtime": true});
        add(&mut ledger, fact(110, "time-entry", caused));
        let premium = [JOB, OTHER_JOB].map(|job| labor_through(&ledger, job, "2026-03").premium);
        assert_eq!(premium.map(|share| share.to_string()), shares, "{rule}");
        assert!(problems(&at.path).is_empty());
    }
}

#[test]
fn whether_tax_on_material_is_cost_goes_by_the_settings_of_the_bills_own_day_whenever_they_come() {
    let at = place();
    let mut ledger = books(&at.path);
    for (n, date, amount, tax) in [
        (100, "2026-03-31", "150.50", "9.03"),
        (101, "2026-04-01", "100.00", "6.00"),
        (102, "2026-04-20", "10.00", "0.60"),
    ] {
        add(&mut ledger, bill(n, date, &json!({}), &json!([sheets(amount, &json!({"tax": tax}))])));
    }
    add(&mut ledger, reversal(103, "2026-05-02", 102));
    let material = |ledger: &Ledger| {
        ["2026-03", "2026-04", "2026-05"].map(|through| of_code(ledger, DECK, through).material.to_string())
    };
    assert_eq!(material(&ledger), ["159.53", "265.53", "265.53"]);
    let settings = |n: u64, date: &str, tax_is_cost: bool, town: &str| {
        let mut body = firm("monday");
        body["date"] = json!(date);
        body["material_tax_is_cost"] = json!(tax_is_cost);
        body["town"] = json!(town);
        fact(n, "firm", body)
    };
    // Another town moves no cent; another rule moves those of its own days.
    add(&mut ledger, settings(110, "2026-03-01", true, "Overbrook"));
    assert_eq!(material(&ledger), ["159.53", "265.53", "265.53"]);
    add(&mut ledger, settings(111, "2026-04-01", false, "Overbrook"));
    assert_eq!(material(&ledger), ["159.53", "259.53", "259.53"]);
    add(&mut ledger, reversal(112, "2026-04-30", 111));
    assert_eq!(material(&ledger), ["159.53", "265.53", "265.53"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_bonus_is_pay_of_its_week_and_raises_the_rate_that_overtime_goes_by() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(90, "2026-01-05", "20.00"));
    for (n, date) in (100..).zip(["2026-03-09", "2026-03-10", "2026-03-11", "2026-03-12", "2026-03-13"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "10"));
    }
    let labor = |ledger: &Ledger| {
        let labor = labor_through(ledger, JOB, "2026-03");
        [labor.straight, labor.premium].map(|amount| amount.to_string())
    };
    assert_eq!(labor(&ledger), ["1000.00", "100.00"]);
    // 1,046.00 for 50 hours are 20.92 an hour, half of it on ten (29 CFR 778.208).
    let bonus =
        |n: u64, date: &str| fact(n, "bonus", json!({"date": date, "person": id(MEMBER), "amount": "46.00"}));
    add(&mut ledger, bonus(110, "2026-03-15"));
    assert_eq!(labor(&ledger), ["1046.00", "104.60"]);
    // One of the week after it, in which nobody worked, is nobody's.
    add(&mut ledger, bonus(111, "2026-03-16"));
    assert_eq!(labor(&ledger), ["1046.00", "104.60"]);
    add(&mut ledger, reversal(112, "2026-03-20", 110));
    assert_eq!(labor(&ledger), ["1000.00", "100.00"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn the_first_rate_counts_from_the_beginning_whenever_it_comes_and_a_later_one_from_its_day() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, time(100, "2026-03-03", JOB, DECK, "8"));
    let labor = |ledger: &Ledger| {
        let labor = labor_through(ledger, JOB, "2026-03");
        [labor.straight, labor.burden].map(|amount| amount.to_string())
    };
    assert_eq!(labor(&ledger), ["0.00", "0.00"]);
    add(&mut ledger, pay(101, "2026-06-01", "20.00"));
    add(&mut ledger, burden(102, "2026-06-01", "0.10", None));
    assert_eq!(labor(&ledger), ["160.00", "16.00"]);
    // A later one moves nothing; one of an earlier day is the first then.
    add(&mut ledger, pay(103, "2026-07-01", "30.00"));
    add(&mut ledger, burden(104, "2026-07-01", "0.50", None));
    assert_eq!(labor(&ledger), ["160.00", "16.00"]);
    add(&mut ledger, pay(105, "2026-05-01", "15.00"));
    assert_eq!(labor(&ledger), ["120.00", "12.00"]);
    add(&mut ledger, burden(106, "2026-05-01", "0.20", None));
    assert_eq!(labor(&ledger), ["120.00", "24.00"]);
    add(&mut ledger, reversal(107, "2026-05-02", 106));
    add(&mut ledger, reversal(108, "2026-05-02", 105));
    assert_eq!(labor(&ledger), ["160.00", "16.00"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_persons_class_counts_from_the_day_on_which_it_changed_also_when_told_late() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(90, "2026-01-05", "20.00"));
    let by_class = |n: u64, class: &str, rate: &str| {
        let body = json!({"date": "2026-01-05", "name": "Compensation", "calculated_on": "hundred-of-pay",
            "rate": rate, "class": class});
        fact(n, "burden-rate", body)
    };
    add(&mut ledger, by_class(91, "5551", "25"));
    add(&mut ledger, by_class(92, "5645", "10"));
    for (n, date) in (100..).zip(["2026-03-09", "2026-03-12", "2026-03-17"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "8"));
    }
    let burdened = |ledger: &Ledger| labor_through(ledger, JOB, "2026-03").burden.to_string();
    assert_eq!(burdened(&ledger), "120.00");
    // From Wednesday: 40.00, then twice 16.00.
    let carpenter = json!({"revises": id(MEMBER), "date": "2026-03-11", "name": "Jo Reed", "role": "crew",
        "class": "5645"});
    add(&mut ledger, fact(110, "person", carpenter));
    assert_eq!(burdened(&ledger), "72.00");
    add(&mut ledger, reversal(111, "2026-03-20", 110));
    assert_eq!(burdened(&ledger), "120.00");
    assert!(problems(&at.path).is_empty());
}

//! What an append contracts: all or nothing, once only, and every refusal with its field and its remedy.

use crate::sample::{
    CUSTOMER, DECK, JOB, MEMBER, OTHER_JOB, PHOTO, TEAR, VENDOR, add, books, close, codes_of, contract, day,
    direct_cost, fact, full_books, id, labor_through, moment, money, month, one_of_each, pay, place,
    problems, refusal, reversal, the_one, time,
};
use ledger::attachment::store;
use ledger::totals::{CodeTotals, JobTotals};
use ledger::{Appended, Fact, Id, Ledger, LedgerError, NewFact};
use serde_json::json;

#[test]
fn one_fact_of_each_kind_is_read_back_as_it_was_written() {
    let at = place();
    let ledger = full_books(&at.path);
    for (seq, new) in (1..).zip(one_of_each()) {
        let held = ledger.reading().fact(new.id).expect("a reading").expect("a fact");
        assert_eq!(held.fact, new.fact);
        assert_eq!(held.entry.device_seq, seq);
        assert_eq!((held.entry.device.as_str(), held.entry.person), ("A", new.person));
        assert_eq!(held.entry.recorded_at, "2026-05-04T07:30:00.250Z");
    }
    assert_eq!(ledger.last_seq(), i64::try_from(one_of_each().len()).expect("a number") + 5);
}

#[test]
fn an_append_tried_again_writes_nothing_the_second_time() {
    let at = place();
    let mut ledger = books(&at.path);
    let new = direct_cost(100, "2026-03-05", JOB, "55.00");
    assert_eq!(add(&mut ledger, new.clone()), Appended::Written(12));
    assert_eq!(add(&mut ledger, new.clone()), Appended::AlreadyThere(12));
    // A batch of which a part is known already: only the rest is written, without a gap.
    let batch = [new, direct_cost(101, "2026-03-05", JOB, "1.00")];
    let outcome = ledger.append(&batch, moment()).expect("a batch");
    assert_eq!(outcome, [Appended::AlreadyThere(12), Appended::Written(13)]);
    let spent = codes_of(&ledger, JOB, "2026-03");
    assert_eq!(spent[&id(TEAR)].equipment, money("56.00"));
}

#[test]
fn the_same_id_with_other_content_or_from_another_person_is_an_alarm() {
    let at = place();
    let mut ledger = books(&at.path);
    let first = direct_cost(100, "2026-03-05", JOB, "55.00");
    add(&mut ledger, first.clone());
    let other_content = direct_cost(100, "2026-03-05", JOB, "55.01");
    let other_person = NewFact { person: id(MEMBER), ..first };
    for again in [other_content, other_person] {
        match ledger.append(&[direct_cost(101, "2026-03-05", JOB, "1.00"), again], moment()) {
            Err(alarm @ LedgerError::Alarm { .. }) => {
                let words = alarm.to_string();
                assert!(
                    words.contains(&id(100).to_string()) && words.contains("Nothing was written"),
                    "{words}"
                );
            }
            other => panic!("expected an alarm, got {other:?}"),
        }
        assert_eq!(ledger.last_seq(), 12);
        assert!(ledger.reading().fact(id(101)).expect("a reading").is_none(), "the batch is all or nothing");
    }
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_refused_fact_takes_its_whole_batch_with_it_and_leaves_the_chain_whole() {
    let at = place();
    let mut ledger = books(&at.path);
    let labor = fact(
        101,
        "direct-cost",
        json!({"date": "2026-03-05", "job": id(JOB), "code": id(TEAR), "cost_kind": "labor",
            "description": "x", "amount": "1.00"}),
    );
    let refused = ledger.append(&[direct_cost(100, "2026-03-05", JOB, "5.00"), labor], moment());
    assert!(matches!(refused, Err(LedgerError::Refused { .. })), "{refused:?}");
    assert_eq!(ledger.last_seq(), 11);
    assert_eq!(add(&mut ledger, direct_cost(102, "2026-03-05", JOB, "7.00")), Appended::Written(12));
    let spent = codes_of(&ledger, JOB, "2026-03");
    assert_eq!(spent[&id(TEAR)].equipment, money("7.00"));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_long_batch_that_is_stopped_writes_nothing() {
    let at = place();
    let mut ledger = books(&at.path);
    let batch: Vec<NewFact> = (0..2500).map(|n| direct_cost(1000 + n, "2026-03-05", JOB, "1.00")).collect();
    let mut told = Vec::new();
    let outcome = ledger.append_with(&batch, moment(), &mut |done| {
        told.push(done);
        told.len() < 2
    });
    assert!(matches!(outcome, Err(LedgerError::Stopped)), "{outcome:?}");
    assert_eq!(told, [999, 1999]);
    assert_eq!(ledger.last_seq(), 11);
    assert_eq!(ledger.append(&batch, moment()).expect("the same batch").len(), 2500);
    assert!(problems(&at.path).is_empty());
}

/// Every sum that counts money, hours or quantities; the number of facts is activity, which a reversal adds to.
fn totals(ledger: &Ledger, job: u64) -> (Vec<(Id, CodeTotals)>, JobTotals) {
    const LATE: &str = "2030-01";
    let codes = codes_of(ledger, job, LATE).into_iter();
    let codes = codes.filter(|(_, sums)| *sums != CodeTotals::default()).collect();
    (codes, the_one(ledger.reading().job_totals(&[id(job)].into(), month(LATE))))
}

#[test]
fn everything_reversed_comes_to_nothing_to_the_cent() {
    let at = place();
    let mut ledger = Ledger::create(&at.path).expect("a ledger");
    store(&at.path, PHOTO, "image/jpeg", None, day("2026-03-04")).expect("a photo");
    let mut facts = one_of_each();
    // The sample's own reversal would leave one fact that cannot be reversed again.
    facts.retain(|new| !matches!(new.fact, Fact::Reversal(_)));
    ledger.append(&facts, moment()).expect("one of each");
    let (codes, job) = totals(&ledger, JOB);
    assert!(!codes.is_empty() && job.price == money("12000.00") && job.received == money("3000.00"));
    let standing_for_good =
        ["person", "firm", "device", "crew", "customer", "vendor", "cost-code", "job", "account"];
    let doomed: Vec<&NewFact> =
        facts.iter().rev().filter(|new| !standing_for_good.contains(&new.fact.kind())).collect();
    for (n, new) in (500..).zip(&doomed) {
        let body = json!({"date": "2026-05-01", "reverses": new.id, "reason": "it never was"});
        add(&mut ledger, fact(n, "reversal", body));
    }
    assert_eq!(totals(&ledger, JOB), (Vec::new(), JobTotals::default()));
    assert!(ledger.reading().open_invoices(month("2030-01")).expect("invoices").is_empty());
    assert_eq!(problems(&at.path), Vec::<String>::new());
}

#[test]
fn a_reversal_is_not_reversed_and_no_fact_is_reversed_twice() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "55.00"));
    add(&mut ledger, reversal(101, "2026-03-06", 100));
    let again = refusal(&mut ledger, reversal(102, "2026-03-07", 100));
    assert_eq!(
        again,
        format!("reverses: that fact is already reversed (by {}). Nothing needs doing.", id(101))
    );
    let of_reversal = refusal(&mut ledger, reversal(103, "2026-03-07", 101));
    assert!(
        of_reversal.starts_with("reverses: a reversal is not reversed. Record the fact"),
        "{of_reversal}"
    );
    let unknown = refusal(&mut ledger, reversal(104, "2026-03-07", 999));
    assert!(unknown.contains("there is no fact"), "{unknown}");
    let firm = refusal(&mut ledger, reversal(105, "2026-03-07", 2));
    assert!(firm.contains("with these settings the books were begun"), "{firm}");
    let blank = fact(106, "reversal", json!({"date": "2026-03-07", "reverses": id(100), "reason": " "}));
    let blank = refusal(&mut ledger, blank);
    assert!(blank.contains("already reversed") || blank.contains("it is blank"), "{blank}");
}

#[test]
fn what_others_rest_on_is_not_reversed_before_them() {
    let at = place();
    let mut ledger = Ledger::create(&at.path).expect("a ledger");
    store(&at.path, PHOTO, "image/jpeg", None, day("2026-03-04")).expect("a photo");
    ledger.append(&one_of_each(), moment()).expect("one of each");
    for (n, target, first) in [
        (500, JOB, "job-status"),
        (501, 40, "bill"),
        (502, 34, "decision"),
        (503, 50, "invoice"),
        (504, 53, "allocation"),
        (507, 55, "refund"),
        (505, 32, "bill"),
        (506, CUSTOMER, "customer"),
    ] {
        let refused = refusal(&mut ledger, reversal(n, "2026-05-01", target));
        let expected = format!("rest on it, the first of kind {first}. Reverse those first.");
        assert!(refused.ends_with(&expected), "{target}: {refused}");
    }
    // In the right order it goes.
    add(&mut ledger, reversal(510, "2026-05-01", 54));
    let refused = refusal(&mut ledger, reversal(511, "2026-05-01", 53));
    assert!(refused.contains("the first of kind bank-cleared"), "{refused}");
    add(&mut ledger, reversal(512, "2026-05-01", 58));
    add(&mut ledger, reversal(513, "2026-05-01", 53));
}

#[test]
fn a_fact_names_only_what_is_there_stands_and_is_the_first_version() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, reversal(100, "2026-03-06", OTHER_JOB));
    let later = json!({"revises": id(VENDOR), "name": "Valley Supply Co"});
    add(&mut ledger, fact(101, "vendor", later));
    let unknown = refusal(&mut ledger, direct_cost(102, "2026-03-05", 999, "1.00"));
    assert!(unknown.starts_with("job: there is no job"), "{unknown}");
    let reversed = refusal(&mut ledger, direct_cost(103, "2026-03-05", OTHER_JOB, "1.00"));
    assert_eq!(reversed, "job: that job was reversed. Choose one that stands.");
    let line = json!([{"job": id(JOB), "code": id(999), "cost_kind": "material", "amount": "1.00"}]);
    let bill = json!({"date": "2026-03-05", "vendor": id(101), "reference": "1", "lines": line});
    let version = refusal(&mut ledger, fact(104, "bill", bill));
    assert!(version.contains("is a later version of a vendor. Name its first version"), "{version}");
    let bill = json!({"date": "2026-03-05", "vendor": id(VENDOR), "reference": "1", "lines": line});
    let inner = refusal(&mut ledger, fact(105, "bill", bill));
    assert!(inner.starts_with("lines[0].code: there is no cost code"), "{inner}");
}

#[test]
fn a_fact_recorded_by_nobody_known_is_refused_in_words() {
    let at = place();
    let mut ledger = books(&at.path);
    let mut new = direct_cost(100, "2026-03-05", JOB, "1.00");
    new.person = id(999);
    let words = refusal(&mut ledger, new);
    assert_eq!(
        words,
        "person: a fact names somebody who is not in the books. Record the person first, or in the same batch."
    );
    assert_eq!(ledger.last_seq(), 11);
}

#[test]
fn a_device_letter_and_an_attachment_stand_once() {
    let at = place();
    let mut ledger = full_books(&at.path);
    let letter = json!({"date": "2026-03-05", "letter": "A", "name": "tablet"});
    let letter = refusal(&mut ledger, fact(100, "device", letter));
    assert_eq!(letter, "letter: A is already another device's. Choose a free letter.");
    let attached = ledger.reading().attachment(crate::sample::photo()).expect("a reading").expect("a fact");
    let again = NewFact { id: id(101), person: id(1), fact: attached.fact.into() };
    let again = refusal(&mut ledger, again);
    assert!(again.starts_with("hash: this file is already attached"), "{again}");
}

#[test]
fn labor_is_calculated_again_when_the_firm_moves_its_week() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(100, "2026-01-05", "20.00"));
    // Friday 6 to Monday 9 March, 12 hours each: with weeks from Monday, 36 and 12 hours; from Friday, 48.
    for (n, date) in (101..).zip(["2026-03-06", "2026-03-07", "2026-03-08", "2026-03-09"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "12"));
    }
    let labor = |ledger: &Ledger| labor_through(ledger, JOB, "2026-03");
    assert_eq!((labor(&ledger).straight, labor(&ledger).premium), (money("960.00"), money("0.00")));
    let mut firm = crate::sample::firm("friday");
    firm["date"] = json!("2026-03-01");
    add(&mut ledger, fact(110, "firm", firm));
    assert_eq!((labor(&ledger).straight, labor(&ledger).premium), (money("960.00"), money("80.00")));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn weeks_that_are_none_any_more_are_taken_back_whole() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(100, "2026-01-05", "20.00"));
    // Monday 16 to Friday 20 March, 12 hours each: 60 hours of one week.
    for (n, date) in (101..).zip(["2026-03-16", "2026-03-17", "2026-03-18", "2026-03-19", "2026-03-20"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "12"));
    }
    let labor = |ledger: &Ledger| {
        let labor = labor_through(ledger, JOB, "2026-03");
        (labor.straight, labor.premium)
    };
    // 20 hours above 40, at half of $20.00.
    assert_eq!(labor(&ledger), (money("1200.00"), money("200.00")));
    // With weeks from Friday, four days (48 hours) end one week and the fifth begins another.
    let mut firm = crate::sample::firm("friday");
    firm["date"] = json!("2026-03-01");
    add(&mut ledger, fact(110, "firm", firm));
    assert_eq!(labor(&ledger), (money("1200.00"), money("80.00")));
    assert!(problems(&at.path).is_empty());
    add(&mut ledger, reversal(111, "2026-03-21", 110));
    assert_eq!(labor(&ledger), (money("1200.00"), money("200.00")));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_contract_stands_once_for_a_job_and_a_close_freezes_what_the_books_say() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, contract(100, JOB));
    let again = refusal(&mut ledger, contract(101, JOB));
    assert!(again.starts_with("job: this job already has its contract"), "{again}");
    add(&mut ledger, pay(102, "2026-01-05", "20.00"));
    add(&mut ledger, time(103, "2026-03-06", JOB, DECK, "8"));
    let march = close(&ledger, 104, "2026-04-01", month("2026-03"));
    add(&mut ledger, direct_cost(105, "2026-03-07", JOB, "1.00"));
    let stale = refusal(&mut ledger, march.clone());
    assert!(
        stale.starts_with("devices: the books end at A 15, which is not what this close names"),
        "{stale}"
    );
    let mut without_labor = close(&ledger, 106, "2026-04-01", month("2026-03"));
    if let Fact::MonthClosed(fact) = &mut without_labor.fact {
        fact.labor.clear();
    }
    let without_labor = refusal(&mut ledger, without_labor);
    assert!(without_labor.starts_with("labor: it is not the labor booked in March 2026"), "{without_labor}");
}

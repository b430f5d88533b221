//! Which version of a dated setting holds on a day, and what no later one may move.

use crate::sample::{
    CREW, CUSTOMER, JOB, MEMBER, add, books, close, day, fact, firm, id, moment, month, photo, place,
    problems, refusal, reversal, the_one,
};
use ledger::{Ledger, NewFact};
use serde_json::{Value, json};

/// The crew from a day on; it is four at first.
fn crew(n: u64, date: &str, size: u8) -> NewFact {
    let body = json!({"revises": id(CREW), "date": date, "name": "Red", "size": size, "hours_a_day": "9.5"});
    fact(n, "crew", body)
}

/// How many are in the crew on each of these days.
fn sizes<const N: usize>(ledger: &Ledger, days: [&str; N]) -> [i64; N] {
    let books = ledger.reading();
    let crews = books.crews(&books.calendar().expect("the calendar")).expect("the crews");
    days.map(|date| crews[&id(CREW)].on(day(date)).expect("a version").fact.size)
}

/// The days on which another version may begin to hold.
fn turns(ledger: &Ledger) -> Vec<String> {
    let books = ledger.reading();
    let crews = books.crews(&books.calendar().expect("the calendar")).expect("the crews");
    crews[&id(CREW)].turns().iter().map(ToString::to_string).collect()
}

fn close_march(ledger: &mut Ledger, n: u64) {
    let march = close(ledger, n, "2026-04-02", month("2026-03"));
    add(ledger, march);
}

/// March handed off as the books stand, and left open.
fn hand_off_march(ledger: &mut Ledger, n: u64) {
    let marks = [json!({"device": "A", "through_seq": ledger.last_seq()})];
    let body = json!({"date": "2026-04-02", "month": "2026-03", "part": 1, "journal_debits": "0.00",
        "files": photo(), "devices": marks, "labor": [], "jobs": []});
    add(ledger, fact(n, "hand-off", body));
}

#[test]
fn a_version_holds_from_its_own_day_in_whatever_order_they_come_in() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, crew(100, "2026-04-10", 6));
    add(&mut ledger, crew(101, "2026-03-20", 5));
    let days = ["2020-01-01", "2026-03-19", "2026-03-20", "2026-04-09", "2026-04-10", "2030-01-01"];
    assert_eq!(sizes(&ledger, days), [4, 4, 5, 5, 6, 6]);
    assert_eq!(turns(&ledger), ["2026-03-20", "2026-04-10"]);
}

#[test]
fn of_one_day_the_version_recorded_last_holds() {
    let at = place();
    let mut ledger = books(&at.path);
    let later = moment() + jiff::SignedDuration::from_hours(1);
    add(&mut ledger, crew(101, "2026-03-20", 5));
    // Its id is the lesser: it is the hour that counts.
    ledger.append(&[crew(100, "2026-03-20", 6)], later).expect("another version");
    assert_eq!(sizes(&ledger, ["2026-03-19", "2026-03-20"]), [4, 6]);
}

#[test]
fn a_version_taken_back_while_its_month_is_open_never_held() {
    let at = place();
    let mut ledger = books(&at.path);
    for (n, date) in [(100, "2026-05-10"), (102, "2026-05-01")] {
        add(&mut ledger, crew(n, date, 6));
        add(&mut ledger, reversal(n + 1, "2026-05-12", n));
    }
    assert_eq!(sizes(&ledger, ["2026-05-01", "2026-05-10", "2026-05-31", "2026-06-01"]), [4; 4]);
    assert_eq!(turns(&ledger), [""; 0]);
}

#[test]
fn a_version_that_counted_in_a_closed_month_is_taken_back_from_the_open_one_on() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, crew(100, "2026-03-10", 5));
    close_march(&mut ledger, 101);
    add(&mut ledger, reversal(102, "2026-04-20", 100));
    let days = ["2026-03-09", "2026-03-10", "2026-03-31", "2026-04-01", "2026-04-30"];
    assert_eq!(sizes(&ledger, days), [4, 5, 5, 4, 4]);
    assert_eq!(turns(&ledger), ["2026-03-10", "2026-04-01"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_version_dated_in_a_closed_month_counts_from_the_open_one_on_and_says_so() {
    let at = place();
    let mut ledger = books(&at.path);
    close_march(&mut ledger, 100);
    let person = |n: u64, date: &str| {
        let body = json!({"revises": id(MEMBER), "date": date, "name": "Jo Reed", "role": "crew"});
        fact(n, "person", body)
    };
    let job = |n: u64, date: &str| {
        let body = json!({"revises": id(JOB), "date": date, "number": "26-001", "title": "Whole roof and porch",
            "customer": id(CUSTOMER), "site": "4 Mill Lane"});
        fact(n, "job", body)
    };
    let settings = |n: u64, date: &str| {
        let mut body = firm("monday");
        body["date"] = json!(date);
        body["overtime_over_week"] = json!("38");
        fact(n, "firm", body)
    };
    type Make<'a> = &'a dyn Fn(u64, &str) -> NewFact;
    let kinds: [Make<'_>; 4] = [&|n, date| crew(n, date, 5), &person, &job, &settings];
    let mut n = 101;
    for make in kinds {
        for (date, later) in [
            ("2026-03-10", Some("2026-04-01")),
            ("2026-01-31", Some("2026-04-01")),
            ("2026-04-01", None),
            ("2026-04-15", None),
        ] {
            let new = make(n, date);
            let kind = new.fact.kind();
            add(&mut ledger, new);
            let counts = ledger.reading().counts_later(id(n)).expect("an answer");
            assert_eq!(counts.map(|day| day.to_string()).as_deref(), later, "{kind} of {date}");
            n += 1;
        }
    }
    assert_eq!(sizes(&ledger, ["2026-03-10", "2026-03-31", "2026-04-01"]), [4, 4, 5]);
    let books = ledger.reading();
    let calendar = books.calendar().expect("the calendar");
    let titles = ["2026-03-31", "2026-04-01"].map(|date| {
        let versions = the_one(books.job_versions(&calendar, &[id(JOB)].into()));
        versions.on(day(date)).expect("a version").fact.title.clone()
    });
    assert_eq!(titles, ["Whole roof", "Whole roof and porch"]);
    let classes = ["2026-03-31", "2026-04-01"].map(|date| {
        let people = books.people(&calendar).expect("the people");
        people[&id(MEMBER)].on(day(date)).expect("a version").fact.class.clone()
    });
    assert_eq!(classes, [Some("5551".to_owned()), None]);
    let weeks = ["2026-03-31", "2026-04-01"].map(|date| {
        let firms = books.firms(&calendar).expect("the firm");
        firms.on(day(date)).expect("a version").fact.overtime_over_week.to_string()
    });
    assert_eq!(weeks, ["40", "38"]);
}

#[test]
fn what_is_no_later_version_of_a_setting_counts_from_no_other_day() {
    let at = place();
    let mut ledger = books(&at.path);
    close_march(&mut ledger, 100);
    // A first version holds from the beginning, whenever it comes in.
    let blue = json!({"date": "2026-03-10", "name": "Blue", "size": 3, "hours_a_day": "8"});
    add(&mut ledger, fact(101, "crew", blue));
    let second = json!({"date": "2026-03-10", "number": "26-003", "title": "Shed", "customer": id(CUSTOMER),
        "site": "4 Mill Lane"});
    add(&mut ledger, fact(102, "job", second));
    add(&mut ledger, fact(103, "person", json!({"date": "2026-03-10", "name": "Al Fern", "role": "crew"})));
    for n in [2, CREW, CUSTOMER, 101, 102, 103] {
        assert_eq!(ledger.reading().counts_later(id(n)).expect("an answer"), None, "{n}");
    }
}

#[test]
fn a_setting_that_was_not_in_a_month_handed_off_counts_from_the_month_after_it() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, crew(100, "2026-03-05", 5));
    hand_off_march(&mut ledger, 101);
    add(&mut ledger, crew(102, "2026-03-10", 6));
    // March is open, and yet stands in the bookkeeper's books with five.
    let days = ["2026-03-04", "2026-03-05", "2026-03-31", "2026-04-01"];
    assert_eq!(sizes(&ledger, days), [4, 5, 5, 6]);
    let counts = |n: u64| ledger.reading().counts_later(id(n)).expect("an answer").map(|day| day.to_string());
    assert_eq!((counts(100), counts(102).as_deref()), (None, Some("2026-04-01")));
    // What was in it is taken back from the month after it, and what was not never held.
    add(&mut ledger, reversal(103, "2026-04-20", 102));
    add(&mut ledger, reversal(104, "2026-04-20", 100));
    assert_eq!(sizes(&ledger, days), [4, 5, 5, 4]);
    assert_eq!(turns(&ledger), ["2026-03-05", "2026-04-01"]);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_burden_that_means_nothing_is_refused_at_the_field_that_says_it() {
    let at = place();
    let mut ledger = books(&at.path);
    let burden = |n: u64, on: &str, rate: &str, more: Value| {
        let mut body =
            json!({"date": "2026-01-05", "name": format!("Rate {n}"), "calculated_on": on, "rate": rate});
        body.as_object_mut().expect("an object").extend(more.as_object().cloned().unwrap_or_default());
        fact(n, "burden-rate", body)
    };
    let none = || json!({});
    for (on, rate, more, says) in [
        ("pay", "1", none(), "rate: 1 of pay is as much as the pay itself, or more. For 7.65 % type 0.0765."),
        ("pay", "7.65", none(), "rate: 7.65 of pay is as much"),
        ("pay", "-0.01", none(), "rate: -0.01 is below zero"),
        ("hundred-of-pay", "100", none(), "rate: 100 for each hundred is as much as the pay itself, or more"),
        ("hour", "-1", none(), "rate: -1 is below zero"),
        ("pay", "0.0765", json!({"wage_base": "0.00"}), "wage_base: a wage base is above zero"),
        (
            "hour",
            "1.50",
            json!({"wage_base": "7000.00"}),
            "wage_base: so much an hour has no pay that could reach",
        ),
        ("hour", "1.50", json!({"on_premium": true}), "on_premium: so much an hour does not go by pay"),
    ] {
        let refused = refusal(&mut ledger, burden(100, on, rate, more));
        assert!(refused.starts_with(says), "{on} {rate}: {refused}");
    }
    let taken = [
        ("pay", "0.9999", none()),
        ("hundred-of-pay", "99.99", json!({"wage_base": "0.01", "on_premium": true})),
        ("pay", "0", json!({"wage_base": "7000.00", "on_premium": true})),
        ("hour", "150", none()),
        ("hour", "0", none()),
    ];
    for (n, (on, rate, more)) in (101..).zip(taken) {
        add(&mut ledger, burden(n, on, rate, more));
    }
    assert!(problems(&at.path).is_empty());
}

#[test]
fn insurance_that_is_no_burden_is_told_where_it_belongs() {
    let told = |word: &str| ledger::no_burden(word);
    assert!(
        told("sales").is_some_and(|(why, what)| why.contains("by sales") && what.contains("overhead rate"))
    );
    assert!(told("subcontract-cost").is_some_and(|(why, what)| {
        why.contains("by subcontract cost") && what.contains("direct cost of the kind other")
    }));
    assert_eq!((told("pay"), told("hour"), told("")), (None, None, None));
}

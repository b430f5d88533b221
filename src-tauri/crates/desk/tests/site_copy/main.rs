//! A copy for the site: a job comes when it is planned and leaves when it is finished.

#![cfg(test)]

use desk::policy::may_come_from_site;
use desk::record::Recorder;
use desk::site_facts::{facts_on_site, jobs_on_site};
use desk::{Clock, Desk, NewFirm};
use jiff::civil::date;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{ChainPart, DeviceKey, HowMuch, Id, Ledger, Member, SignedHead, TakenIn};
use serde_json::{Value, json};
use std::path::Path;

fn key(letter: &str) -> DeviceKey {
    DeviceKey::from_secret([letter.as_bytes()[0]; 32])
}

#[expect(clippy::needless_pass_by_value, reason = "a fact is written where it is recorded")]
fn record(desk: &mut Desk, fact: Value) {
    Recorder::default().record(desk, fact.clone()).unwrap_or_else(|refused| panic!("{fact}: {refused}"));
}

fn clock() -> Clock {
    let at = date(2026, 11, 2).at(7, 0, 0, 0).to_zoned_datetime(jiff::tz::TimeZone::UTC).unwrap();
    Clock::fixed(at.timestamp())
}

/// A firm with a job at work, whose costs, pay and price are all unlike anything that a crew is told; with a key for
/// the office and one for a tablet.
fn office(path: &Path) -> Desk {
    let said = json!({"name": "Gable and Eave", "town": "Otter Bend", "state": "LK",
        "overtime_over_week": "41.7353", "overhead_by": "labor-hours", "overhead_rate": "17.839261"});
    let firm = NewFirm::usual("Olive Marsh", said.as_object().unwrap().clone(), date(2026, 1, 1)).unwrap();
    let mut desk = Desk::make(path, &firm, clock()).unwrap();
    desk.rise();
    let mut facts = vec![
        json!({"kind": "crew", "name": "One", "size": 2, "hours_a_day": "8"}),
        json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "One", "class": "roofing class 5551"}),
        json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
        json!({"kind": "customer", "name": "Ada Birch"}),
        json!({"kind": "vendor", "name": "Weir Supply of Kiln Street"}),
        json!({"kind": "check-point", "words": "Kick-outs in", "position": 1}),
        json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof", "customer": "Ada Birch",
            "site": "1 Mill Lane"}),
        json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "129847.31",
            "note": "margin is thin", "included_sheets": "3", "included_feet": "0", "retainage": "0.083719",
            "lines": [{"code": "tear", "cost_kind": "labor", "description": "what the crew costs", "amount": "93841.27",
                "hours": "817.25"}],
            "unit_prices": [{"damaged": "deck-sheet", "counted_in": "sheet", "price": "87.50"}],
            "payments": [{"title": "a deposit for the owner", "amount": "129847.31"}]}),
        json!({"kind": "change-order", "date": "2026-03-04", "job": "26-001", "number": "1", "title": "Rafter",
            "pricing": "time-and-material", "markup": "0.237419", "not_to_exceed": "412.00",
            "lines": [{"code": "tear", "cost_kind": "labor", "description": "Rafter", "price": "399.00",
                "cost": "271.83", "hours": "6.4519"}]}),
        json!({"kind": "job-status", "date": "2026-03-03", "job": "26-001", "stage": "begun"}),
    ];
    for n in 1..=40_u32 {
        let day = format!("2026-{:02}-{:02}", 1 + n % 9, 1 + n % 27);
        let odd = u64::from(n) * 7_919 + 83_412;
        facts.extend([
            json!({"kind": "pay-rate", "date": day, "person": "Bo Finch", "hourly": format!("{}.{:06}", 20 + n, odd)}),
            json!({"kind": "bill", "date": day, "vendor": "Weir Supply of Kiln Street",
                "reference": format!("ticket {odd}"), "note": format!("paid late by {odd}"),
                "lines": [{"job": "26-001", "code": "tear",
                "cost_kind": "disposal", "amount": format!("{odd}.{n:02}")}]}),
            json!({"kind": "burden-rate", "date": day, "name": format!("tax number {n}"), "calculated_on": "pay",
                "rate": format!("0.{odd:06}")}),
            json!({"kind": "forecast", "date": day, "job": "26-001", "code": "tear",
                "amount": format!("{odd}.{n:02}")}),
        ]);
    }
    for (letter, role, person) in [("A", Role::Owner, "Olive Marsh"), ("B", Role::Crew, "Bo Finch")] {
        facts.push(json!({"kind": "device", "date": "2026-11-01", "letter": letter, "name": format!("device {letter}"),
            "role": role.as_str(), "person": person, "signs_with": key(letter).public(),
            "locks_with": format!("age1{letter}")}));
    }
    for fact in facts {
        record(&mut desk, fact);
    }
    desk
}

fn empty_tablet(path: &Path) -> Ledger {
    let mut ledger = Ledger::create(path).unwrap();
    let founder = key("A").public().to_string();
    for (name, value) in [(DEVICE, "B"), (COPY, SITE), (FOUNDER_KEY, founder.as_str())] {
        ledger.set_setting(name, value).unwrap();
    }
    drop(ledger);
    Ledger::open(path).unwrap()
}

/// What the office sends to a copy for the site.
fn for_site(office: &mut Desk) -> ChainPart {
    let on_site = facts_on_site(office.books()).unwrap();
    let ledger = office.ledger().unwrap();
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&key("A"), "A", seq, hash);
    let amount = |id: Id| if on_site.contains(&id) { HowMuch::Open } else { HowMuch::Nothing };
    ledger.reading().chain_part(&head, 1, &mut |_, _, id| Ok(amount(id))).unwrap()
}

/// Whatever comes may come twice, in one go.
fn take_in(tablet: &mut Ledger, part: ChainPart) -> TakenIn {
    let may = |member: &Member, kind: &str| !member.is_site_copy() || may_come_from_site(kind);
    let taken = tablet.take_in(&[part.clone(), part], jiff::Timestamp::UNIX_EPOCH, &may).unwrap();
    assert!(taken.refused.is_empty() && taken.waiting.is_empty() && taken.forks.is_empty(), "{taken:?}");
    taken
}

fn is_good(path: &Path) {
    let verdict = ledger::verify(path, &mut |_| true).unwrap();
    let problems: Vec<String> = verdict.problems.iter().map(ToString::to_string).collect();
    // Photos come by themselves, after the facts.
    let problems: Vec<&String> = problems.iter().filter(|problem| !problem.contains("ttachment")).collect();
    assert!(problems.is_empty(), "{problems:#?}");
}

/// Whether a text stands anywhere in the file or its log.
fn holds(path: &Path, text: &str) -> bool {
    ["", "-wal"].iter().any(|suffix| {
        let bytes = std::fs::read(format!("{}{suffix}", path.display())).unwrap_or_default();
        bytes.windows(text.len()).any(|window| window == text.as_bytes())
    })
}

#[test]
fn a_job_comes_when_it_is_planned_and_leaves_when_it_is_finished() {
    let home = tempfile::tempdir().unwrap();
    let mut office = office(&home.path().join("office.tearoff"));
    let path = home.path().join("tablet.tearoff");
    let (title, words) = ("Re-roof of the quiet house", "leave the gate shut");
    record(
        &mut office,
        json!({"kind": "job", "date": "2026-11-02", "number": "26-090", "title": title, "customer": "Ada Birch",
            "site": "9 Quarry Bend"}),
    );
    // A job that is only talked about is the office's.
    let mut tablet = empty_tablet(&path);
    take_in(&mut tablet, for_site(&mut office));
    assert!(!holds(&path, title));
    record(
        &mut office,
        json!({"kind": "contract", "date": "2026-11-03", "job": "26-090", "price": "9000.00", "included_sheets": "2",
            "included_feet": "0", "retainage": "0", "choice_title": words,
            "lines": [{"code": "tear", "cost_kind": "permit", "amount": "100.00"}]}),
    );
    take_in(&mut tablet, for_site(&mut office));
    drop(tablet);
    is_good(&path);
    assert!(holds(&path, title) && holds(&path, words));
    // The crew finishes it on the tablet; the office takes that in, and the job leaves the tablet.
    let mut tablet = Desk::open(&path, office.clock.clone()).unwrap();
    record(
        &mut tablet,
        json!({"kind": "job-status", "date": "2026-11-04", "job": "26-090", "stage": "finished"}),
    );
    let ledger = tablet.ledger().unwrap();
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&key("B"), "B", seq, hash);
    let finished = ledger.reading().chain_part(&head, 1, &mut |_, _, _| Ok(HowMuch::All)).unwrap();
    take_in(office.ledger().unwrap(), finished);
    let keep = facts_on_site(tablet.books()).unwrap();
    drop(tablet);
    ledger::renew_site_copy(&path, &key("B"), &keep).unwrap();
    is_good(&path);
    assert!(!holds(&path, title) && !holds(&path, words));
    let tablet = Desk::open(&path, office.clock.clone()).unwrap();
    let jobs = jobs_on_site(tablet.books()).unwrap();
    assert_eq!(jobs, jobs_on_site(office.books()).unwrap());
    assert_eq!(jobs.len(), 1);
    // Every entry is still there, its own among them.
    assert_eq!(tablet.books().device_ends().unwrap(), office.books().device_ends().unwrap());
    assert!(ledger::renew_site_copy(&home.path().join("office.tearoff"), &key("A"), &keep).is_err());
}

//! A copy for the site: no byte of it is a cost, a pay, a margin or a contract's price; a job comes when it is planned
//! and leaves when it is finished.

#![cfg(test)]

use desk::policy::may_come_from_site;
use desk::record::Recorder;
use desk::site_facts::{facts_on_site, jobs_on_site};
use desk::{Clock, Desk, NewFirm};
use jiff::civil::date;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::kind::{KindSpec, Record, TableSpec};
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{ChainPart, DeviceKey, HowMuch, Id, Ledger, Member, SignedHead, TakenIn};
use serde_json::{Value, json};
use std::collections::{BTreeSet, HashMap, HashSet};
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

fn take_in(tablet: &mut Ledger, part: ChainPart) -> TakenIn {
    let may = |member: &Member, kind: &str| !member.is_site_copy() || may_come_from_site(kind);
    let taken = tablet.take_in(&[part], jiff::Timestamp::UNIX_EPOCH, &may).unwrap();
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

/// How an integer lies in a row of SQLite: as few bytes as it needs, the greatest first.
fn stored(number: i64) -> Vec<u8> {
    let bytes = number.to_be_bytes();
    let length = [1, 2, 3, 4, 6, 8].into_iter().find(|length| {
        let bits = u32::try_from(length * 8 - 1).unwrap();
        *length == 8 || (-(1_i64 << bits)..(1_i64 << bits)).contains(&number)
    });
    if number == 0 || number == 1 { Vec::new() } else { bytes[8 - length.unwrap()..].to_vec() }
}

/// What would give values away: texts, long numbers, and numbers that lie side by side; for one part of a fact.
fn traces(spec: &KindSpec, fact: &Record, is_open: bool, out: &mut HashSet<Vec<u8>>) {
    use ledger::kind::Value as Cell;
    let mut of_row = |table: &TableSpec, values: &[Cell]| {
        let mut before: Vec<u8> = Vec::new();
        for (value, _) in values.iter().zip(&table.open).filter(|(_, open)| **open == is_open) {
            let here = match value {
                Cell::Integer(number) => stored(*number),
                Cell::Text(text) => text.as_bytes().to_vec(),
                _ => Vec::new(),
            };
            let beside = [&before[..], &here[..]].concat();
            if here.len() >= 4 {
                out.insert(here.clone());
            }
            if beside.len() >= 5 && !before.is_empty() && !here.is_empty() {
                out.insert(beside);
            }
            before = here;
        }
    };
    of_row(&spec.own, &fact.own);
    for (list, lines) in spec.lists.iter().zip(&fact.lists) {
        lines.iter().for_each(|line| of_row(list, line));
    }
}

#[test]
fn no_byte_of_a_copy_for_the_site_is_a_cost_a_pay_a_margin_or_a_contracts_price() {
    let home = tempfile::tempdir().unwrap();
    let mut office = office(&home.path().join("office.tearoff"));
    let path = home.path().join("tablet.tearoff");
    let mut tablet = empty_tablet(&path);
    take_in(&mut tablet, for_site(&mut office));
    let (mut secrets, mut told) = (HashSet::new(), HashSet::new());
    let ledger = office.ledger().unwrap();
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&key("A"), "A", seq, hash);
    let mut kinds = BTreeSet::new();
    let mut collect = |spec: &KindSpec, fact: &Record, _: Id| {
        traces(spec, fact, false, &mut secrets);
        traces(spec, fact, true, &mut told);
        kinds.insert(spec.kind);
        Ok(HowMuch::Nothing)
    };
    ledger.reading().chain_part(&head, 1, &mut collect).unwrap();
    // Words that the file's own tables are made of give nothing away.
    let bare = home.path().join("bare.tearoff");
    drop(Ledger::create(&bare).unwrap());
    let bare = std::fs::read(&bare).unwrap();
    let is_bare = |secret: &[u8]| bare.windows(secret.len()).any(|window| window == secret);
    let secrets: HashSet<&Vec<u8>> = secrets.difference(&told).filter(|secret| !is_bare(secret)).collect();
    assert!(secrets.len() > 200 && kinds.len() > 10, "{} secrets of {kinds:?}", secrets.len());
    let mut by_start: HashMap<&[u8], Vec<&[u8]>> = HashMap::new();
    for secret in &secrets {
        by_start.entry(&secret[..4]).or_default().push(secret);
    }
    let found = |bytes: &[u8]| -> Vec<String> {
        let starts = 0..bytes.len().saturating_sub(4);
        let hits = starts.filter_map(|at| {
            let secrets = by_start.get(&bytes[at..at + 4])?;
            let hit = secrets.iter().find(|secret| bytes[at..].starts_with(secret))?;
            Some(format!("{}, {hit:?} at {at}", String::from_utf8_lossy(hit)))
        });
        hits.collect()
    };
    // The office's own file gives itself away many times over, so that the search is no empty one.
    drop(office);
    let office = std::fs::read(home.path().join("office.tearoff")).unwrap();
    assert!(found(&office).len() > 200);
    let mut read = 0;
    for suffix in ["", "-wal"] {
        let bytes = std::fs::read(format!("{}{suffix}", path.display())).unwrap();
        assert_eq!(found(&bytes), Vec::<String>::new(), "{suffix}");
        read += bytes.len();
    }
    assert!(read > 100_000, "{read}");
    drop(tablet);
    assert_eq!(found(&std::fs::read(&path).unwrap()), Vec::<String>::new());
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

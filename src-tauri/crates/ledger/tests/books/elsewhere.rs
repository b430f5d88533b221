//! Several devices' chains in one file: each writes by itself, parts of chains go from one to another in any order,
//! more than once and late, and in the end all hold the same facts and the same totals.

use crate::randomly::{Firm, Happening, happening};
use crate::sample::{
    CUSTOMER, DECK, JOB, MEMBER, OWNER, Place, TEAR, beginnings, close, codes_of, contract, day, direct_cost,
    fact, id, moment, month, pay, place, problems, raw, reversal, time,
};
use ledger::attachment::{file_of, store};
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::facts::TimeEntry;
use ledger::open::attachment_folder;
use ledger::roster::FOUNDER;
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{ChainPart, DeviceKey, HowMuch, Ledger, Member, SignedHead, TakenIn};
use proptest::prelude::*;
use rusqlite::Connection;
use rusqlite::types::Value as Stored;
use serde_json::{Value, json};

/// The key of a device: the same in every run.
pub(crate) fn key(letter: &str) -> DeviceKey {
    DeviceKey::from_secret(*blake3::hash(letter.as_bytes()).as_bytes())
}

pub(crate) fn device_fact(n: u64, letter: &str, role: &str) -> Value {
    json!({"date": "2026-01-02", "letter": letter, "name": format!("device {n}"), "role": role, "person": id(OWNER),
        "signs_with": key(letter).public(), "locks_with": format!("age1{letter}")})
}

pub(crate) fn everything(_: &Member, _: &str) -> bool {
    true
}

/// The founder's books, with two more devices on the roster.
pub(crate) fn founded() -> Firm {
    let at = place();
    let mut ledger = Ledger::create(&at.path).expect("a ledger");
    let mut batch = beginnings();
    batch.extend([pay(20, "2026-01-05", "20.00"), contract(21, JOB)]);
    batch.extend([
        fact(30, "device", device_fact(30, "A", "owner")),
        fact(31, "device", device_fact(31, "B", "books")),
        fact(32, "device", device_fact(32, "C", "owner")),
        fact(33, "device", device_fact(33, "D", "crew")),
    ]);
    ledger.append(&batch, moment()).expect("the beginnings");
    Firm { at, ledger, first: 10_100, next: 10_100, written: vec![("contract", 21)], taken: 0 }
}

/// A device that has the founder's key and nothing else.
pub(crate) fn joining(letter: &str, first: u64) -> Firm {
    let at = place();
    let mut ledger = Ledger::create(&at.path).expect("a ledger");
    ledger.set_setting(DEVICE, letter).expect("a letter");
    ledger.set_setting(FOUNDER_KEY, &key(FOUNDER).public().to_string()).expect("a key");
    drop(ledger);
    let ledger = Ledger::open(&at.path).expect("the ledger");
    assert_eq!(ledger.device(), letter);
    Firm { at, ledger, first, next: first, written: Vec::new(), taken: 0 }
}

/// The device's own chain from a number on, or another's as far as its signed head is known here.
pub(crate) fn part(from: &Ledger, letter: &str, first_seq: i64) -> Option<ChainPart> {
    let head = if letter == from.device() {
        let (seq, hash) = from.own_end();
        SignedHead::of(&key(letter), letter, seq, hash)
    } else {
        from.reading().signed_head(letter).expect("a head")?
    };
    if head.device_seq < first_seq {
        return None;
    }
    Some(from.reading().chain_part(&head, first_seq, &mut |_, _, _| Ok(HowMuch::All)).expect("a part"))
}

pub(crate) fn take_in(into: &mut Firm, parts: &[ChainPart]) -> TakenIn {
    let report = into.ledger.take_in(parts, moment(), &everything).expect("an answer");
    into.written = known(&into.at);
    report
}

/// The facts that a device knows, as the happenings name them.
fn known(at: &Place) -> Vec<(&'static str, u64)> {
    let conn = raw(&at.path);
    let mut statement = conn
        .prepare("SELECT id, kind FROM entry WHERE kind NOT IN ('reversal', 'month-closed') ORDER BY id")
        .expect("facts");
    let rows = statement.query_map([], |row| Ok((row.get::<_, [u8; 16]>(0)?, row.get::<_, String>(1)?)));
    rows.expect("facts")
        .map(|row| row.expect("a fact"))
        .filter_map(|(id, kind)| {
            let n = u64::from_be_bytes(id[8..].try_into().expect("eight bytes")) & 0x00ff_ffff_ffff_ffff;
            let kind = ledger::kinds::kind_spec(&kind).expect("a kind").kind;
            (n >= 21 && n != 33 && kind != "device" && kind != "device-left").then_some((kind, n))
        })
        .collect()
}

/// Every stored total that says anything, and every entry, as they stand in the file.
pub(crate) fn state(at: &Place) -> Vec<Vec<Stored>> {
    let conn = raw(&at.path);
    let mut all = Vec::new();
    let stored =
        "SELECT name FROM sqlite_master WHERE substr(name, 1, 6) = 'total_' AND type = 'table' ORDER BY name";
    let tables: Vec<String> = rows(&conn, stored)
        .into_iter()
        .map(|row| match &row[0] {
            Stored::Text(name) => name.clone(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert!(tables.len() >= 7, "{tables:?}");
    for table in tables {
        let columns = rows(&conn, &format!("SELECT name, pk FROM pragma_table_info('{table}')"));
        let sums: Vec<String> = columns
            .iter()
            .filter(|row| row[1] == Stored::Integer(0))
            .map(|row| match &row[0] {
                Stored::Text(name) => format!("{name} != 0"),
                other => panic!("{other:?}"),
            })
            .collect();
        let order = (1..=columns.len()).map(|n| n.to_string()).collect::<Vec<_>>().join(", ");
        all.extend(rows(
            &conn,
            &format!("SELECT * FROM {table} WHERE {} ORDER BY {order}", sums.join(" OR ")),
        ));
    }
    all.extend(rows(&conn, "SELECT device, device_seq, hash, salt FROM entry ORDER BY device, device_seq"));
    all
}

fn rows(conn: &Connection, sql: &str) -> Vec<Vec<Stored>> {
    let mut statement = conn.prepare(sql).unwrap_or_else(|problem| panic!("{sql}: {problem}"));
    let count = statement.column_count();
    let rows = statement.query_map([], |row| (0..count).map(|at| row.get(at)).collect()).expect("rows");
    rows.collect::<Result<_, _>>().expect("rows")
}

fn end(of: &Ledger, letter: &str) -> i64 {
    let ends = of.reading().device_ends().expect("ends");
    ends.iter().find(|(device, _)| device == letter).map_or(0, |(_, seq)| *seq)
}

/// Everything goes to everybody until nothing is new.
pub(crate) fn bring_together(devices: &mut [Firm]) {
    for _ in 0..8 {
        let mut parts = Vec::new();
        for device in devices.iter() {
            parts.extend(part(&device.ledger, device.ledger.device(), 1));
        }
        let mut news = 0;
        for device in devices.iter_mut() {
            let report = take_in(device, &parts);
            assert_eq!((report.refused, report.forks), (Vec::new(), Vec::new()));
            news += report.taken.values().sum::<u64>();
        }
        if news == 0 {
            return;
        }
    }
    panic!("they never come together");
}

#[derive(Clone, Debug)]
enum Step {
    /// Something happens at one device.
    Happens { at: usize, happening: Happening },
    /// A device hands on some of what it has: whose, and how much of it the other already had.
    Sends { from: usize, to: usize, whose: usize, back: i64, twice: bool },
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        5 => (0..3_usize, happening()).prop_map(|(at, happening)| Step::Happens { at, happening }),
        2 => (0..3_usize, 0..3_usize, 0..3_usize, 0..9_i64, any::<bool>())
            .prop_map(|(from, to, whose, back, twice)| Step::Sends { from, to, whose, back, twice }),
    ]
}

fn cases() -> ProptestConfig {
    let soak = std::env::var_os("TEAROFF_SOAK").is_some();
    ProptestConfig {
        cases: if soak { 300 } else { 8 },
        max_shrink_iters: 40,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(26_11_28),
        ..ProptestConfig::default()
    }
}

const LETTERS: [&str; 3] = ["A", "B", "C"];

fn live(devices: &mut [Firm], steps: &[Step]) {
    for step in steps {
        match step {
            Step::Happens { at, happening } => {
                let device = &mut devices[*at];
                if let Some(new) = device.fact_of(happening) {
                    device.offer(vec![new]);
                }
            }
            Step::Sends { from, to, whose, back, twice } if from != to => {
                let first = (end(&devices[*to].ledger, LETTERS[*whose]) + 1 - back).max(1);
                let Some(sent) = part(&devices[*from].ledger, LETTERS[*whose], first) else { continue };
                let report = take_in(&mut devices[*to], std::slice::from_ref(&sent));
                assert_eq!((report.refused, report.forks), (Vec::new(), Vec::new()));
                if *twice {
                    let again = take_in(&mut devices[*to], &[sent.clone(), sent]);
                    assert!(again.taken.is_empty(), "{again:?}");
                }
            }
            Step::Sends { .. } => {}
        }
    }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn whatever_the_order_all_come_to_the_same_totals(steps in prop::collection::vec(step(), 30..80)) {
        let mut devices = [founded(), joining("B", 20_100), joining("C", 30_100)];
        bring_together(&mut devices);
        live(&mut devices, &steps);
        bring_together(&mut devices);
        let expected = state(&devices[0].at);
        for device in &mut devices {
            prop_assert_eq!(problems(&device.at.path), Vec::<String>::new());
            prop_assert!(state(&device.at) == expected, "device {} differs", device.ledger.device());
            device.ledger.rebuild(&mut |_| true).expect("totals anew");
            prop_assert!(state(&device.at) == expected, "device {} differs anew", device.ledger.device());
        }
    }
}

/// A part of A's chain, and one of B's that names what A wrote.
fn two_devices() -> (Firm, Firm) {
    let mut devices = vec![founded(), joining("B", 20_100)];
    bring_together(&mut devices);
    let b = devices.pop().expect("B");
    (devices.pop().expect("A"), b)
}

fn add(device: &mut Firm, facts: &[ledger::NewFact]) {
    device.ledger.append(facts, moment()).expect("facts");
}

#[test]
fn what_names_a_fact_that_has_not_come_waits_for_it() {
    let (mut a, mut b) = two_devices();
    let mut c = joining("C", 30_100);
    let early = part(&a.ledger, "A", 1).expect("A's beginnings");
    take_in(&mut c, &[early]);
    let condition = json!({"date": "2026-03-05", "job": id(JOB), "number": "1", "place": "eave", "cause": "ice-dam",
        "damaged": "deck-sheet", "counted_in": "sheet", "count": "2"});
    add(&mut a, &[fact(10_101, "condition", condition)]);
    let news = part(&a.ledger, "A", 1).expect("A's part");
    take_in(&mut b, std::slice::from_ref(&news));
    let repair = json!({"date": "2026-03-06", "condition": id(10_101), "stage": "done"});
    add(&mut b, &[fact(20_101, "repair", repair)]);
    let repaired = part(&b.ledger, "B", 1).expect("B's part");
    let report = take_in(&mut c, std::slice::from_ref(&repaired));
    assert!(report.taken.is_empty() && report.waiting["B"].contains("has not come"), "{report:?}");
    let report = take_in(&mut c, &[repaired, news]);
    assert_eq!(report.taken.values().sum::<u64>(), 2, "{report:?}");
    assert_eq!(problems(&c.at.path), Vec::<String>::new());
}

#[test]
fn nothing_is_believed_that_the_roster_does_not_vouch_for() {
    let (mut a, mut b) = two_devices();
    add(&mut b, &[direct_cost(20_101, "2026-03-05", JOB, "5.00")]);
    let good = part(&b.ledger, "B", 1).expect("a part");
    // Another key, an altered part, a head of another length, and a device that nobody knows.
    let mut forged = good.clone();
    forged.head = SignedHead::of(&key("thief"), "B", good.head.device_seq, ledger::Digest(good.head.hash));
    let mut altered = good.clone();
    altered.entries[0].sealed.as_mut().expect("a sealed part")[40] ^= 1;
    let mut cut = good.clone();
    cut.head.device_seq += 1;
    for (bad, why) in [(forged, "not signed"), (altered, "sealed part"), (cut, "has not come")] {
        let report = a.ledger.take_in(&[bad], moment(), &everything).expect("an answer");
        assert!(report.taken.is_empty(), "{why}: {report:?}");
        let says = format!("{:?} {:?}", report.refused, report.waiting);
        assert!(says.contains(why), "{why}: {says}");
    }
    let mut stranger = good.clone();
    stranger.head = SignedHead::of(&key("D"), "D", 1, ledger::Digest(good.head.hash));
    let report = a.ledger.take_in(&[stranger], moment(), &everything).expect("an answer");
    assert!(report.taken.is_empty(), "{report:?}");
    // What a device's role does not record is refused whole.
    let books_only = |member: &Member, kind: &str| member.role != Role::Books || kind != "direct-cost";
    let report = a.ledger.take_in(std::slice::from_ref(&good), moment(), &books_only).expect("an answer");
    assert!(report.taken.is_empty() && report.refused[0].problem.contains("does not record"), "{report:?}");
    assert_eq!(take_in(&mut a, &[good]).taken["B"], 1);
    assert_eq!(problems(&a.at.path), Vec::<String>::new());
}

#[test]
fn a_device_that_left_is_believed_as_far_as_anybody_had_it() {
    let mut devices = vec![founded(), joining("B", 20_100), joining("C", 30_100)];
    bring_together(&mut devices);
    let [a, b, c] = &mut devices[..] else { panic!("three devices") };
    add(b, &[direct_cost(20_101, "2026-03-05", JOB, "5.00")]);
    let first = part(&b.ledger, "B", 1).expect("a part");
    take_in(a, std::slice::from_ref(&first));
    let left =
        json!({"date": "2026-03-09", "device": id(31), "last_seq": end(&a.ledger, "B"), "reason": "lost"});
    add(a, &[fact(10_101, "device-left", left)]);
    // C had one more of B before it knew.
    add(b, &[direct_cost(20_102, "2026-03-06", JOB, "7.00")]);
    let second = part(&b.ledger, "B", 1).expect("a part");
    take_in(c, std::slice::from_ref(&second));
    let of_a = part(&a.ledger, "A", 1).expect("A's part");
    take_in(c, &[of_a]);
    let raised = c.ledger.reading().roster().expect("a roster").member("B").expect("B").last_seq;
    assert_eq!(raised, Some(2), "C says how far it had B");
    let report = take_in(a, &[second]);
    assert!(report.refused[0].problem.contains("has left"), "{report:?}");
    let (of_b, of_c) = (part(&c.ledger, "B", 1).expect("B by C"), part(&c.ledger, "C", 1).expect("C's part"));
    assert_eq!(take_in(a, &[of_b, of_c]).taken.get("B"), Some(&1));
    // A thief goes on writing: nobody takes it.
    add(b, &[direct_cost(20_103, "2026-03-07", JOB, "900.00")]);
    let theft = part(&b.ledger, "B", 1).expect("a part");
    for device in [a, c] {
        let report = take_in(device, std::slice::from_ref(&theft));
        assert!(report.taken.is_empty() && report.refused[0].problem.contains("has left"), "{report:?}");
    }
}

#[test]
fn two_files_written_under_one_letter_are_told_apart() {
    let (mut a, mut b) = two_devices();
    let copy = place();
    drop(ledger::back_up(&a.at.path, &copy.path, &mut |_| true).expect("a copy"));
    let mut other = Ledger::open(&copy.path).expect("the copy");
    add(&mut a, &[direct_cost(10_101, "2026-03-05", JOB, "5.00")]);
    other.append(&[direct_cost(10_201, "2026-03-05", JOB, "6.00")], moment()).expect("another fact");
    let (one, two) = (part(&a.ledger, "A", 1).expect("one"), part(&other, "A", 1).expect("the other"));
    assert_eq!(take_in(&mut b, &[one]).taken["A"], 1);
    let report = take_in(&mut b, std::slice::from_ref(&two));
    assert_eq!((report.forks[0].device.as_str(), report.forks[0].device_seq), ("A", two.head.device_seq));
    assert!(report.taken.is_empty(), "{report:?}");
    assert_eq!(problems(&b.at.path), Vec::<String>::new());
}

/// What would be refused at the door is taken in from elsewhere: it was right where it was written.
#[test]
fn no_fact_is_refused_by_a_state_that_its_device_could_not_know() {
    let (mut a, mut b) = two_devices();
    let paid = fact(
        10_101,
        "payment",
        json!({"date": "2026-03-05", "customer": id(CUSTOMER), "amount": "50.00", "method": "check"}),
    );
    let billed = |n: u64, number: &str| {
        fact(
            n,
            "invoice",
            json!({"date": "2026-03-05", "job": id(JOB), "number": number, "purpose": "progress",
            "due": "2026-03-05", "lines": [{"description": "work", "amount": "80.00"}]}),
        )
    };
    add(
        &mut a,
        &[
            paid,
            billed(10_102, "1"),
            time(10_103, "2026-03-05", JOB, DECK, "8"),
            direct_cost(10_104, "2026-03-05", JOB, "9.00"),
        ],
    );
    let news = part(&a.ledger, "A", 1).expect("a part");
    take_in(&mut b, &[news]);
    let apply = |n: u64| {
        fact(
            n,
            "allocation",
            json!({"date": "2026-03-06", "payment": id(10_101), "invoice": id(10_102), "amount": "40.00"}),
        )
    };
    let began =
        |n: u64| fact(n, "job-status", json!({"date": "2026-03-05", "job": id(JOB), "stage": "begun"}));
    for (device, base) in [(&mut a, 10_200), (&mut b, 20_200)] {
        add(
            device,
            &[
                apply(base),
                began(base + 1),
                billed(base + 2, "2"),
                time(base + 3, "2026-03-05", JOB, TEAR, "14"),
            ],
        );
        add(device, &[reversal(base + 4, "2026-03-06", 10_104)]);
        let march = close(&device.ledger, base + 5, "2026-04-01", month("2026-03"));
        add(device, &[march, direct_cost(base + 6, "2026-03-20", JOB, "11.00")]);
    }
    let mut devices = [a, b];
    bring_together(&mut devices);
    assert_eq!(state(&devices[0].at), state(&devices[1].at));
    for device in &devices {
        assert_eq!(problems(&device.at.path), Vec::<String>::new());
    }
    // The close of the first device counts; both late costs are booked after it, and the fact taken back twice once.
    let spent = |through: &str| {
        let codes = codes_of(&devices[1].ledger, JOB, through);
        codes[&id(TEAR)].equipment
    };
    assert_eq!(
        (spent("2026-03").to_string(), spent("2026-04").to_string()),
        ("0.00".to_owned(), "22.00".to_owned())
    );
    assert!(
        devices[0]
            .ledger
            .append(
                &[fact(
                    10_300,
                    "job-status",
                    json!({"date": "2026-03-05", "job": id(JOB), "stage": "begun"})
                )],
                moment()
            )
            .is_err()
    );
    assert_eq!(id(MEMBER), id(5));
}

/// A site copy takes no sealed part in, whoever sends it, and still verifies.
#[test]
fn a_copy_for_the_site_keeps_open_parts_only() {
    let a = founded();
    let mut site = joining("D", 40_100);
    site.ledger.set_setting(COPY, SITE).expect("a copy for the site");
    let all = part(&a.ledger, "A", 1).expect("a part");
    let report = take_in(&mut site, &[all]);
    assert!(report.refused.is_empty() && report.waiting.is_empty(), "{report:?}");
    let conn = raw(&site.at.path);
    let count = |sql: &str| -> i64 { conn.query_row(sql, [], |row| row.get(0)).expect("a count") };
    assert_eq!(count("SELECT count(*) FROM pay_rate"), 0);
    assert_eq!(count("SELECT count(*) FROM contract WHERE price_cents IS NOT NULL"), 0);
    assert_eq!(count("SELECT count(*) FROM entry WHERE salt IS NOT NULL"), 0);
    assert!(count("SELECT count(*) FROM contract") == 1 && count("SELECT count(*) FROM job") == 2);
    assert_eq!(problems(&site.at.path), Vec::<String>::new());
}

/// An older part fills in what a newer one brings as an entry alone. While the newer one waits for another device's
/// facts, so does what the older one fills in; then both come whole.
#[test]
fn what_a_part_fills_in_waits_with_the_part_that_has_its_entry() {
    let (mut a, mut b) = two_devices();
    let mut site = joining("D", 40_100);
    site.ledger.set_setting(COPY, SITE).expect("a copy for the site");
    take_in(&mut site, &[part(&a.ledger, "A", 1).expect("A's part")]);
    let from = a.ledger.last_seq() + 1;
    add(&mut b, &[time(20_300, "2026-03-05", JOB, DECK, "4")]);
    take_in(&mut a, &[part(&b.ledger, "B", 1).expect("B's part")]);
    add(&mut a, &[time(10_300, "2026-03-06", JOB, DECK, "5")]);
    let older = part(&a.ledger, "A", from).expect("hours");
    add(&mut a, &[reversal(10_301, "2026-03-07", 20_300)]);
    let (seq, hash) = a.ledger.own_end();
    let head = SignedHead::of(&key("A"), "A", seq, hash);
    let how_much = |fact| if fact == id(10_300) { HowMuch::Nothing } else { HowMuch::Open };
    let newer = a.ledger.reading().chain_part(&head, from, &mut |_, _, fact| Ok(how_much(fact)));
    let parts = [newer.expect("a part"), older];

    let report = take_in(&mut site, &parts);
    assert!(report.waiting.contains_key("A") && report.refused.is_empty(), "{report:?}");
    assert_eq!(problems(&site.at.path), Vec::<String>::new());
    let of_b = part(&b.ledger, "B", 1).expect("B's part");
    let report = take_in(&mut site, &[&parts[..], &[of_b]].concat());
    assert!(report.waiting.is_empty() && report.refused.is_empty(), "{report:?}");
    let hours = site.ledger.reading().all_with_reversed::<TimeEntry>().expect("hours");
    assert_eq!(hours.len(), 2, "{hours:?}");
    assert_eq!(problems(&site.at.path), Vec::<String>::new());
}

/// A file of this device that is lost is a fault; one of another device's may not have come yet, and is counted. Once
/// it is here it is read as any other.
#[test]
fn a_file_on_another_device_is_counted_and_one_of_our_own_is_missed() {
    let (mut a, mut b) = two_devices();
    let photo =
        store(&a.at.path, b"a picture of rot", "image/jpeg", None, day("2026-03-05")).expect("a file");
    let hash = photo.hash;
    add(&mut a, &[ledger::NewFact { id: id(10_201), person: id(OWNER), fact: photo.into() }]);
    take_in(&mut b, &[part(&a.ledger, "A", 1).expect("A's part")]);
    drop((a.ledger, b.ledger));
    let verdict = |at: &Place| ledger::verify(&at.path, &mut |_| true).expect("a verdict");
    let at_a = verdict(&a.at);
    assert!(at_a.is_good(), "{:?}", at_a.problems);
    assert_eq!((at_a.attachments, at_a.elsewhere), (1, 0));
    let at_b = verdict(&b.at);
    assert!(at_b.is_good(), "{:?}", at_b.problems);
    assert_eq!((at_b.attachments, at_b.elsewhere), (0, 1));

    let here = file_of(&attachment_folder(&b.at.path), hash);
    std::fs::create_dir_all(here.parent().expect("a folder")).expect("a folder");
    std::fs::write(&here, b"a picture of something else").expect("a file");
    assert!(!verdict(&b.at).is_good(), "another picture under its name");
    std::fs::remove_file(file_of(&attachment_folder(&a.at.path), hash)).expect("the file");
    assert!(!verdict(&a.at).is_good(), "its own file is gone");
}

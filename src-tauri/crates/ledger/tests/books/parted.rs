//! Two files that were written under one letter: one of them gets new letters, and goes on as a file of its own. No
//! fact is lost, and what names one still finds it.

use crate::elsewhere::{
    bring_together, device_fact, everything, founded, joining, key, part, state, take_in,
};
use crate::randomly::Firm;
use crate::sample::{
    JOB, Place, close, direct_cost, fact, id, moment, month, place, problems, raw, reversal,
};
use ledger::{Ledger, Moment, Parted};
use rusqlite::types::Value;
use serde_json::json;

fn invoice(n: u64, number: &str, amount: &str) -> ledger::NewFact {
    let body = json!({"date": "2026-03-05", "job": id(JOB), "number": number, "purpose": "progress",
        "due": "2026-03-05", "lines": [{"description": "work", "amount": amount}]});
    fact(n, "invoice", body)
}

/// The first entry of the founder that the two files do not share, and how many the second one wrote.
const APART: i64 = 18;
const WRITTEN: u64 = 6;

/// The founder's books and a copy of them, each written on: one number given twice, and a close that names its own end.
fn apart() -> (Firm, Place) {
    let mut first = founded();
    let second = place();
    drop(ledger::back_up(&first.at.path, &second.path, &mut |_| true).expect("a copy"));
    let mut other = Ledger::open(&second.path).expect("the copy");
    assert_eq!(other.last_seq() + 1, APART);
    let mine = [direct_cost(10_101, "2026-03-05", JOB, "5.00"), invoice(10_102, "7", "80.00")];
    first.ledger.append(&mine, moment()).expect("facts of the first");
    let condition = json!({"date": "2026-03-05", "job": id(JOB), "number": "3", "place": "eave", "cause": "ice-dam",
        "damaged": "deck-sheet", "counted_in": "sheet", "count": "2"});
    let theirs = [
        direct_cost(10_201, "2026-03-06", JOB, "6.00"),
        direct_cost(10_202, "2026-03-06", JOB, "900.00"),
        invoice(10_203, "7", "70.00"),
        fact(10_204, "condition", condition),
        reversal(10_205, "2026-03-07", 10_202),
    ];
    other.append(&theirs, moment()).expect("facts of the second");
    let march = close(&other, 10_206, "2026-04-01", month("2026-03"));
    other.append(&[march], moment()).expect("a close");
    assert_eq!(other.last_seq(), APART + i64::try_from(WRITTEN).expect("a few") - 1);
    (first, second)
}

/// A device that was added on the first one and has all that it holds.
fn added(first: &mut Firm) -> Firm {
    first.ledger.append(&[fact(40, "device", device_fact(40, "E", "owner"))], moment()).expect("a device");
    let mut new = joining("E", 50_100);
    take_in(&mut new, &[part(&first.ledger, "A", 1).expect("the founder's chain")]);
    new
}

fn written(at: &Place, device: &str, first: i64) -> Vec<Vec<Value>> {
    let conn = raw(&at.path);
    let sql = "SELECT id, recorded_at, person, kind, open, sealed, salt FROM entry
               WHERE device = ?1 AND device_seq >= ?2 ORDER BY device_seq";
    let mut statement = conn.prepare(sql).expect("a statement");
    let rows = statement
        .query_map(rusqlite::params![device, first], |row| (0..7).map(|at| row.get(at)).collect())
        .expect("rows");
    rows.collect::<Result<_, _>>().expect("rows")
}

#[test]
fn what_one_of_two_files_wrote_goes_on_under_new_letters_fact_by_fact() {
    let (mut first, second) = apart();
    let mut new = added(&mut first);
    let old = Parted::open(&second.path).expect("the other file");
    assert_eq!(old.books().parts_at(&new.ledger.reading(), "A").expect("an answer"), Some(APART));
    assert_eq!(old.books().lacking_in(&new.ledger.reading(), "A", APART).expect("a count"), WRITTEN);
    let went = new.ledger.carry_over(&old.books(), "A", APART, &key("E"), moment()).expect("it goes on");
    assert_eq!(went, WRITTEN);
    assert_eq!(old.books().lacking_in(&new.ledger.reading(), "A", APART).expect("a count"), 0);
    drop(old);

    // Each entry but the close as it was, moment, person, digests and salt; the close names what it had by new letters.
    let (was, is) = (written(&second, "A", APART), written(&new.at, "E", 1));
    assert_eq!(was.len(), is.len());
    assert_eq!(was[..5], is[..5]);
    assert!(was[5][0] == is[5][0] && was[5][4] != is[5][4], "a close by other marks has another digest");
    let marks = |at: &Place| -> Vec<(String, i64)> {
        let conn = raw(&at.path);
        let mut marks = conn
            .prepare("SELECT device, through_seq FROM month_closed_device ORDER BY device")
            .expect("marks");
        let rows = marks.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).expect("marks");
        rows.collect::<Result<_, _>>().expect("marks")
    };
    assert_eq!(marks(&second), [("A".to_owned(), APART + 4)]);
    assert_eq!(marks(&new.at), [("A".to_owned(), APART - 1), ("E".to_owned(), 5)]);

    // Everybody comes to the same, and has all of it.
    let mut devices = [first, joining("B", 20_100), new];
    bring_together(&mut devices);
    let expected = state(&devices[0].at);
    for device in &mut devices {
        assert_eq!(problems(&device.at.path), Vec::<String>::new());
        assert!(state(&device.at) == expected, "device {} differs", device.ledger.device());
        device.ledger.rebuild(&mut |_| true).expect("totals anew");
        assert!(state(&device.at) == expected, "device {} differs anew", device.ledger.device());
        let count = |sql: &str| -> i64 {
            raw(&device.at.path).query_row(sql, [], |row| row.get(0)).expect("a count")
        };
        assert_eq!(count("SELECT count(*) FROM invoice WHERE number = '7'"), 2);
        assert_eq!(count("SELECT count(*) FROM condition WHERE number = '3'"), 1);
        let spent =
            "SELECT sum(amount_cents) FROM direct_cost WHERE id NOT IN (SELECT reverses FROM reversal)";
        assert_eq!(count(spent), 1100);
    }
}

#[test]
fn what_is_the_same_in_both_is_no_parting() {
    let (first, second) = apart();
    let old = Parted::open(&second.path).expect("the other file");
    let mut behind = joining("B", 20_100);
    assert_eq!(
        old.books().parts_at(&behind.ledger.reading(), "A").expect("an answer"),
        None,
        "it has nothing"
    );
    let all = part(&first.ledger, "A", 1).expect("a part");
    let mut shared = all.clone();
    shared.entries.truncate(usize::try_from(APART - 1).expect("a few"));
    let hash = old.books().entry_hash("A", APART - 1).expect("a hash").expect("an entry");
    shared.head = ledger::SignedHead::of(&key("A"), "A", APART - 1, hash);
    take_in(&mut behind, &[shared]);
    assert_eq!(old.books().parts_at(&behind.ledger.reading(), "A").expect("an answer"), None, "it is behind");
    take_in(&mut behind, &[all]);
    assert_eq!(old.books().parts_at(&behind.ledger.reading(), "A").expect("an answer"), Some(APART));
    assert_eq!(old.books().parts_at(&old.books(), "A").expect("an answer"), None);
}

/// Where something that it names has not come, nothing of it is taken over.
#[test]
fn what_names_a_fact_that_is_not_there_yet_is_refused_whole() {
    let (mut first, second) = apart();
    let mut b = joining("B", 20_100);
    take_in(&mut b, &[part(&first.ledger, "A", 1).expect("a part")]);
    let mut other = Ledger::open(&second.path).expect("the copy");
    // A third device's condition reaches the second file alone.
    let condition = json!({"date": "2026-03-08", "job": id(JOB), "number": "9", "place": "eave", "cause": "ice-dam",
        "damaged": "deck-sheet", "counted_in": "sheet", "count": "1"});
    b.ledger.append(&[fact(20_101, "condition", condition)], moment()).expect("a condition");
    let found = part(&b.ledger, "B", 1).expect("B's part");
    let report = other.take_in(std::slice::from_ref(&found), moment(), &everything).expect("an answer");
    assert_eq!(report.taken["B"], 1, "{report:?}");
    let repair = json!({"date": "2026-03-09", "condition": id(20_101), "stage": "done"});
    other.append(&[fact(10_207, "repair", repair)], moment()).expect("a repair");
    drop(other);
    let mut new = added(&mut first);
    let before = state(&new.at);
    let old = Parted::open(&second.path).expect("the other file");
    let refused =
        new.ledger.carry_over(&old.books(), "A", APART, &key("E"), moment()).expect_err("a refusal");
    assert!(refused.to_string().contains("a fact that has not come"), "{refused}");
    assert!(state(&new.at) == before, "some of it was taken over");
    take_in(&mut new, &[found]);
    let went = new.ledger.carry_over(&old.books(), "A", APART, &key("E"), moment()).expect("it goes on");
    assert_eq!(went, WRITTEN + 1);
    assert_eq!(problems(&new.at.path), Vec::<String>::new());
}

/// Cut after either step, one file lies in the place, whole, and can be opened.
#[test]
fn a_file_gives_its_place_to_another_whole_or_not_at_all() {
    for cut in [None, Some(Moment::IsKept), Some(Moment::HasMoved)] {
        let (mut first, second) = apart();
        let new = added(&mut first);
        let part = new.at.path.clone();
        drop(new.ledger);
        let kept_as = second.folder.path().join("kept");
        let old = Parted::open(&second.path).expect("the other file");
        let outcome = old.give_way(&part, &kept_as, &mut |at| {
            if Some(at) == cut { Err(ledger::LedgerError::Stopped) } else { Ok(()) }
        });
        assert_eq!(outcome.is_ok(), cut.is_none(), "{cut:?}");
        let there = Ledger::open(&second.path).expect("a ledger");
        let has_moved = cut != Some(Moment::IsKept);
        assert_eq!(there.device(), if has_moved { "E" } else { "A" }, "{cut:?}");
        drop(there);
        assert_eq!(part.exists(), !has_moved, "{cut:?}");
        // The other name is a copy of its own, and opens too.
        assert_eq!(Ledger::open(&kept_as).expect("the old one").last_seq(), APART + 5, "{cut:?}");
        for path in [&second.path, &kept_as] {
            assert_eq!(problems(path), Vec::<String>::new());
        }
    }
}

#[test]
fn a_file_that_somebody_has_open_gives_its_place_to_nobody() {
    let (mut first, second) = apart();
    let new = added(&mut first);
    let part = new.at.path.clone();
    drop(new.ledger);
    let other = Ledger::open(&second.path).expect("the copy");
    assert!(matches!(Parted::open(&second.path), Err(ledger::LedgerError::Busy { .. })));
    drop(other);
    let reader = ledger::Reader::open(&second.path).expect("a reader");
    let old = Parted::open(&second.path).expect("the other file");
    let kept_as = second.folder.path().join("kept");
    let refused = old.give_way(&part, &kept_as, &mut |_| Ok(())).expect_err("a refusal");
    assert!(refused.to_string().contains("another window has it open"), "{refused}");
    assert!(part.exists() && !kept_as.exists());
    drop(reader);
}

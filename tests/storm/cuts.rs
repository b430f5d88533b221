//! The power goes in the midst of each thing that is done to a ledger. Whatever the disk had not synced by then, the
//! ledger opens, holds what was acknowledged, and of what was under way all or nothing.

use crate::books::{Place, beginnings, direct_cost, fact, holds, id, now, place};
use crate::disk::Disk;
use acceptance::dice::Dice;
use acceptance::is_soak;
use ledger::open::{APPLICATION_ID, known_version};
use ledger::{Id, Ledger, NewFact};
use serde_json::json;
use std::collections::BTreeMap;
use std::path::Path;

/// What is done to a ledger. It says how many facts were acknowledged whenever that changes.
type Scenario = fn(&Path, &mut dyn FnMut(u64));

/// The facts that each place begins with.
const BEGINNINGS: u64 = 5;

/// One fact or forty at a time, with the file closed and opened again in between.
fn appends(path: &Path, said: &mut dyn FnMut(u64)) {
    let mut count = BEGINNINGS;
    for sizes in [&[1_u64, 1, 40, 1][..], &[1, 40, 1]] {
        let mut ledger = Ledger::open(path).expect("the ledger");
        for size in sizes {
            let batch: Vec<NewFact> = (0..*size).map(|n| direct_cost(1000 + count + n)).collect();
            ledger.append(&batch, now()).expect("facts");
            count += size;
            said(count);
        }
    }
}

/// So much in one transaction that the log is written back into the file while it is open.
fn long_batch(path: &Path, said: &mut dyn FnMut(u64)) {
    let mut ledger = Ledger::open(path).expect("the ledger");
    let batch: Vec<NewFact> = (0..2500).map(|n| direct_cost(2000 + n)).collect();
    ledger.append(&batch, now()).expect("facts");
    said(BEGINNINGS + 2500);
    ledger.append(&[direct_cost(9000)], now()).expect("a fact");
    said(BEGINNINGS + 2501);
}

/// What is no fact goes along, and the totals are worked out anew.
fn settings_and_totals(path: &Path, said: &mut dyn FnMut(u64)) {
    let mut ledger = Ledger::open(path).expect("the ledger");
    ledger.append(&[direct_cost(1000)], now()).expect("a fact");
    said(BEGINNINGS + 1);
    ledger.set_setting("shown", "jobs").expect("a setting");
    ledger.rebuild(&mut |_| true).expect("totals");
    let reversal = json!({"date": "2026-03-06", "reverses": id(1000), "reason": "a slip"});
    ledger.append(&[fact(1001, "reversal", reversal)], now()).expect("a reversal");
    said(BEGINNINGS + 2);
}

const SCENARIOS: [(&str, Scenario, u64); 3] = [
    ("appends", appends, 40),
    ("a long batch", long_batch, 2500),
    ("settings and totals", settings_and_totals, 1),
];

/// The ids in the order in which a scenario writes them, so that the first so many are those acknowledged.
fn written(path: &Path) -> rusqlite::Result<Vec<(i64, Id)>> {
    let conn = rusqlite::Connection::open(path)?;
    let mut rows = conn.prepare("SELECT device_seq, hex(id) FROM entry ORDER BY device_seq")?;
    let rows = rows.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
    rows.map(|row| row.map(|(seq, id)| (seq, Id::parse(&id).expect("an id")))).collect()
}

fn cut_through(name: &str, scenario: Scenario, most_batch: u64, seed: u64, every: u64) -> usize {
    let disk = Disk::here();
    let at = place(0);
    let folder = at.folder.path();
    disk.watches(folder, every, Dice::new(seed));
    disk.said(folder, BEGINNINGS);
    scenario(&at.path, &mut |said| disk.said(folder, said));
    let images = disk.clears(folder);
    let all = written(&at.path).expect("its entries");
    for (count, (said, image)) in images.iter().enumerate() {
        let there = tempfile::tempdir().expect("a folder");
        disk.lay(there.path(), image);
        let acknowledged: BTreeMap<i64, Id> =
            all.iter().copied().take(usize::try_from(*said).expect("a count")).collect();
        let end = holds(&there.path().join("firm.tearoff"), &acknowledged);
        let beyond = u64::try_from(end).expect("an end") - said;
        let whole = beyond == 0 || beyond == 1 || beyond == most_batch;
        assert!(whole, "{name}, seed {seed}, image {count}: {beyond} facts of a batch that was under way");
    }
    images.len()
}

#[test]
fn whatever_the_power_takes_no_acknowledged_fact_is_lost_or_half_there() {
    let (seeds, every) = if is_soak() { (1..=40, 3) } else { (1..=2, 7) };
    let mut images = 0;
    for seed in seeds {
        for (name, scenario, most_batch) in SCENARIOS {
            // A long batch writes a hundred times as often.
            let every = if most_batch > 1000 { every * 40 } else { every };
            images += cut_through(name, scenario, most_batch, seed, every + seed % 3);
        }
    }
    assert!(images > 40, "only {images} cuts");
    println!("{images} cuts");
}

/// A file of an earlier version is brought up to date, and the power goes: it is of the one version or the other.
#[test]
fn a_file_is_of_one_version_or_the_other_when_the_power_goes_in_between() {
    let disk = Disk::here();
    let (seeds, every) = if is_soak() { (1..=20, 1) } else { (1..=1, 23) };
    let mut old = 0;
    for seed in seeds {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("firm.tearoff");
        let conn = rusqlite::Connection::open(&path).expect("a file");
        conn.execute_batch(include_str!("../../migrations/0001_facts.sql")).expect("the first tables");
        let version = format!("PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = 1");
        conn.execute_batch(&version).expect("the first version");
        drop(conn);
        disk.watches(folder.path(), every, Dice::new(seed));
        drop(Ledger::open(&path).expect("the ledger"));
        for (_, image) in disk.clears(folder.path()) {
            let there = tempfile::tempdir().expect("a folder");
            disk.lay(there.path(), &image);
            let path = there.path().join("firm.tearoff");
            let conn = rusqlite::Connection::open(&path).expect("a file");
            let version: i64 =
                conn.query_row("PRAGMA user_version", [], |row| row.get(0)).expect("a version");
            drop(conn);
            assert!(version == 1 || version == known_version(), "seed {seed}: version {version}");
            old += i64::from(version == 1);
            let mut ledger = Ledger::open(&path).expect("it opens");
            ledger.append(&beginnings(), now()).expect("facts");
            drop(ledger);
            holds(&path, &BTreeMap::new());
        }
    }
    assert!(old > 0, "the power always went too late");
}

/// What makes these tests worth anything: a disk that says that it synced and did not is found out by them.
#[test]
fn a_disk_that_lies_about_its_syncs_is_found_out() {
    let disk = Disk::here();
    let mut lost = 0;
    for seed in 1..=6 {
        let Place { folder, path } = place(0);
        disk.forgets(folder.path());
        disk.watches(folder.path(), 40, Dice::new(seed));
        disk.said(folder.path(), BEGINNINGS);
        appends(&path, &mut |said| disk.said(folder.path(), said));
        let all = written(&path).expect("its entries");
        for (said, image) in disk.clears(folder.path()) {
            let there = tempfile::tempdir().expect("a folder");
            disk.lay(there.path(), &image);
            // What is torn beyond reading has lost everything.
            let found = written(&there.path().join("firm.tearoff")).unwrap_or_default();
            let acknowledged = &all[..usize::try_from(said).expect("a count")];
            lost += usize::from(!acknowledged.iter().all(|each| found.contains(each)));
        }
    }
    assert!(lost > 5, "nothing that was not synced was ever lost: {lost}");
}

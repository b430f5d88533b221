//! When nothing is handed off, nothing is left behind and nothing is recorded.

use crate::firm::{Shop, month};
use office::Code;
use office::hand_off::{Progress, Stage, hand_off, preview};
use office::{Clock, Desk};

#[test]
fn a_month_without_anything_is_told() {
    let mut shop = Shop::new();
    let refused = shop.hand("2026-07", "books").unwrap_err();
    assert_eq!(refused.code, Code::NotFound);
    assert_eq!(refused.message, "Nothing is booked in July 2026 yet, so there is nothing to hand off.");
    assert_eq!(preview(&shop.desk, month("2026-07")).unwrap_err().code, Code::NotFound);
    assert!(!shop.folder("books").exists());
}

#[test]
fn what_is_in_the_way_stays() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let taken = shop.folder("books").join("gable-eave-2026-03-part-1");
    std::fs::create_dir_all(&taken).unwrap();
    std::fs::write(taken.join("mine.txt"), "mine").unwrap();
    let refused = shop.hand("2026-03", "books").unwrap_err();
    assert_eq!(refused.code, Code::Occupied);
    assert!(refused.message.contains("already holds something else"));
    assert_eq!(std::fs::read_dir(&taken).unwrap().count(), 1);
    assert_eq!(std::fs::read_dir(shop.folder("books")).unwrap().count(), 1);
    assert_eq!(shop.recorded(), 0);
    // A part that somebody changed is not put right over their work.
    let done = shop.hand("2026-03", "elsewhere").unwrap();
    std::fs::write(done.folder.join("journal.csv"), "changed").unwrap();
    assert_eq!(shop.hand("2026-03", "elsewhere").unwrap_err().code, Code::Occupied);
    assert_eq!(std::fs::read(done.folder.join("journal.csv")).unwrap(), b"changed");
}

#[test]
fn a_stop_at_any_moment_leaves_nothing() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let mut stages = Vec::new();
    let folder = shop.folder("whole");
    hand_off(&mut shop.desk, month("2026-03"), &folder, &mut |progress: Progress| {
        stages.push(progress.stage);
        true
    })
    .unwrap();
    assert!(stages.contains(&Stage::Gathering) && stages.contains(&Stage::Writing));
    for stop_at in 0..stages.len() {
        let mut other = Shop::new();
        other.bill("2026-03-09", "26-001", "1000.00", "0");
        let folder = other.folder("books");
        let mut told = 0;
        let stopped = hand_off(&mut other.desk, month("2026-03"), &folder, &mut |_| {
            told += 1;
            told <= stop_at
        });
        assert_eq!(stopped.unwrap_err().code, Code::Stopped);
        let left = std::fs::read_dir(&folder).map(Iterator::count).unwrap_or(0);
        assert_eq!((left, other.recorded()), (0, 0), "stopped when told for the {stop_at}. time");
    }
}

#[test]
fn a_reader_looks_and_writes_again_but_records_nothing() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let path = shop.desk.path();
    let mut reader = Desk::read(&path, Clock::System).unwrap();
    assert!(preview(&reader, month("2026-03")).unwrap().new);
    let folder = shop.folder("books");
    let refused = hand_off(&mut reader, month("2026-03"), &folder, &mut |_| true).unwrap_err();
    assert_eq!(refused.code, Code::Busy);
    assert_eq!(std::fs::read_dir(&folder).map(Iterator::count).unwrap_or(0), 0);
    shop.hand("2026-03", "books").unwrap();
    let again = hand_off(&mut reader, month("2026-03"), &shop.folder("copy"), &mut |_| true).unwrap();
    assert_eq!((again.part, again.recorded), (1, None));
}

#[test]
fn what_does_not_tie_is_not_handed_off() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let path = shop.desk.path();
    // A stored total gone astray: the facts say 1,000.00, the report would say 999.99.
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.execute("UPDATE total_code SET material_cents = material_cents - 1 WHERE material_cents > 0", [])
        .unwrap();
    drop(raw);
    let look = preview(&shop.desk, month("2026-03")).unwrap();
    let cost = look.control_totals.iter().find(|total| total.name == "cost").unwrap();
    assert!(!cost.ties && cost.month.to_string() == "1000.00" && cost.against.to_string() == "999.99");
    let refused = shop.hand("2026-03", "books").unwrap_err();
    assert_eq!(refused.code, Code::Damaged);
    assert!(refused.message.contains("cost is 1000.00 and the month-end report says 999.99"), "{refused}");
    assert!(!shop.folder("books").exists());
    assert_eq!(shop.recorded(), 0);
}

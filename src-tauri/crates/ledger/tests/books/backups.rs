//! Back-ups and restoring: nothing overwritten, nothing half-made under its name, nothing damaged restored.

use crate::sample::{
    JOB, PHOTO, Place, add, books, direct_cost, full_books, id, photo, place, problems, raw, unguarded,
};
use ledger::attachment::{file_of, read};
use ledger::draft::OWN_SETTING;
use ledger::open::attachment_folder;
use ledger::{Ledger, LedgerError, Reader, Stage, back_up, restore};
use std::path::PathBuf;

fn beside(at: &Place, name: &str) -> PathBuf {
    at.folder.path().join(name)
}

fn names(at: &Place) -> Vec<String> {
    let entries = std::fs::read_dir(at.folder.path()).expect("the folder");
    let mut names: Vec<String> =
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn a_back_up_of_a_ledger_in_use_is_whole_and_can_be_restored() {
    let at = place();
    let mut ledger = full_books(&at.path);
    // Still in the log and not in the file itself: a plain copy of the file would lose it.
    add(&mut ledger, direct_cost(900, "2026-05-05", JOB, "5.00"));
    let to = beside(&at, "safe/2026-05.tearoff");
    let mut stages = Vec::new();
    let verdict = back_up(&at.path, &to, &mut |progress| {
        stages.push(progress.stage);
        true
    })
    .expect("a back-up");
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    assert_eq!(verdict.devices, [("A".to_owned(), ledger.last_seq())]);
    assert!([Stage::Copy, Stage::Attachments, Stage::Chain].iter().all(|stage| stages.contains(stage)));
    assert_eq!(read(&to, photo()).expect("the photo"), PHOTO);
    let safe = std::fs::read_dir(beside(&at, "safe")).expect("the folder").count();
    assert_eq!(safe, 2, "the ledger and its attachments, and no log beside it");
    add(&mut ledger, direct_cost(901, "2026-05-05", JOB, "6.00"));
    let again = beside(&at, "restored.tearoff");
    assert!(restore(&to, &again, &mut |_| true).expect("a restored ledger").is_good());
    let mut restored = Ledger::open(&again).expect("the restored ledger");
    assert_eq!(restored.last_seq(), verdict.devices[0].1);
    assert!(restored.reading().fact(id(901)).expect("a reading").is_none());
    add(&mut restored, direct_cost(902, "2026-05-05", JOB, "7.00"));
    assert!(problems(&again).is_empty());
}

#[test]
fn nothing_is_overwritten() {
    let at = place();
    drop(full_books(&at.path));
    let to = beside(&at, "safe.tearoff");
    std::fs::write(&to, b"something dear").expect("a file");
    let exists = |outcome: Result<_, LedgerError>| matches!(outcome, Err(LedgerError::Exists(_)));
    assert!(exists(back_up(&at.path, &to, &mut |_| true)));
    assert!(exists(back_up(&at.path, &at.path, &mut |_| true)), "nor the ledger itself");
    assert_eq!(std::fs::read(&to).expect("the file"), b"something dear");
    std::fs::remove_file(&to).expect("away");
    std::fs::create_dir(attachment_folder(&to)).expect("a folder");
    let words = back_up(&at.path, &to, &mut |_| true).expect_err("the folder is there").to_string();
    assert!(words.contains("safe.tearoff.attachments already exists. Nothing was overwritten"), "{words}");
    std::fs::remove_dir(attachment_folder(&to)).expect("away");
    back_up(&at.path, &to, &mut |_| true).expect("a back-up");
    assert!(exists(restore(&to, &at.path, &mut |_| true)));
}

#[test]
fn stopped_or_failed_it_leaves_nothing_behind() {
    let at = place();
    drop(full_books(&at.path));
    let before = names(&at);
    for stage in [Stage::Copy, Stage::Attachments, Stage::Chain] {
        let to = beside(&at, "safe.tearoff");
        let mut seen = false;
        let outcome = back_up(&at.path, &to, &mut |progress| {
            seen |= progress.stage == stage;
            progress.stage != stage
        });
        // A small ledger may be copied in one step, without a word in between.
        assert!(matches!(outcome, Err(LedgerError::Stopped)) || (stage == Stage::Copy && !seen), "{stage:?}");
        if outcome.is_ok() {
            std::fs::remove_file(&to).expect("away");
            std::fs::remove_dir_all(attachment_folder(&to)).expect("away");
        }
        assert_eq!(names(&at), before, "{stage:?}");
    }
    std::fs::write(beside(&at, "safe.tearoff.part"), b"somebody else's").expect("a file");
    back_up(&at.path, &beside(&at, "safe.tearoff"), &mut |_| true).expect("a back-up");
    assert_eq!(std::fs::read(beside(&at, "safe.tearoff.part")).expect("a file"), b"somebody else's");
}

#[test]
fn a_damaged_back_up_is_not_restored() {
    let at = place();
    drop(full_books(&at.path));
    let to = beside(&at, "safe.tearoff");
    back_up(&at.path, &to, &mut |_| true).expect("a back-up");
    let again = beside(&at, "again.tearoff");
    let before = || names(&at).iter().any(|name| name.starts_with("again"));
    unguarded(&to).execute("UPDATE direct_cost SET amount_cents = 1", []).expect("a swindle");
    let words = restore(&to, &again, &mut |_| true).expect_err("it was altered").to_string();
    assert!(words.starts_with("The back-up: ") && words.contains("problems, the first: "), "{words}");
    assert!(!before(), "nothing was restored");
    std::fs::write(&to, b"no ledger").expect("worse");
    assert!(matches!(restore(&to, &again, &mut |_| true), Err(LedgerError::Foreign { .. })));
}

#[test]
fn a_lost_photo_is_told_and_does_not_keep_the_books_away() {
    let at = place();
    drop(full_books(&at.path));
    let (to, again) = (beside(&at, "safe.tearoff"), beside(&at, "again.tearoff"));
    back_up(&at.path, &to, &mut |_| true).expect("a back-up");
    std::fs::remove_file(file_of(&attachment_folder(&to), photo())).expect("a lost photo");
    let verdict = restore(&to, &again, &mut |_| true).expect("the books come back");
    assert!(!verdict.is_good() && verdict.is_good_but_for_files() && verdict.of_files == 1, "{verdict:?}");
    assert!(verdict.problems[0].to_string().contains("is missing"), "{verdict:?}");
    let restored = Ledger::open(&again).expect("it opens");
    assert_eq!(restored.last_seq(), Ledger::open(&at.path).expect("it opens").last_seq());
}

#[test]
fn a_ledger_in_which_something_is_wrong_is_copied_and_the_verdict_says_so() {
    let at = place();
    drop(full_books(&at.path));
    std::fs::remove_file(file_of(&attachment_folder(&at.path), photo())).expect("a lost photo");
    let to = beside(&at, "safe.tearoff");
    let verdict = back_up(&at.path, &to, &mut |_| true).expect("the best there is");
    assert_eq!(verdict.problems.len(), 1);
    assert!(to.exists());
}

#[test]
fn a_back_up_of_an_earlier_version_is_brought_up_to_date_when_restored() {
    let at = place();
    let old = beside(&at, "old.tearoff");
    let conn = raw(&old);
    conn.execute_batch(include_str!("../../../../../migrations/0001_facts.sql")).expect("the first tables");
    let marks = format!("PRAGMA application_id = {}; PRAGMA user_version = 1", ledger::open::APPLICATION_ID);
    conn.execute_batch(&marks).expect("the first version");
    drop(conn);
    let before = std::fs::read(&old).expect("the back-up");
    restore(&old, &at.path, &mut |_| true).expect("a restored ledger");
    assert_eq!(std::fs::read(&old).expect("the back-up"), before, "the back-up itself is left as it was");
    assert!(Reader::open(&at.path).is_ok());
}

#[test]
fn a_back_up_can_be_made_while_facts_are_written() {
    let at = place();
    let mut ledger = books(&at.path);
    let batch: Vec<_> = (0..3000).map(|n| direct_cost(1000 + n, "2026-03-05", JOB, "1.00")).collect();
    ledger.append(&batch, crate::sample::moment()).expect("direct costs");
    let (mut n, held) = (9000, ledger.last_seq());
    let verdict = back_up(&at.path, &beside(&at, "safe.tearoff"), &mut |progress| {
        if progress.stage == Stage::Copy {
            n += 1;
            add(&mut ledger, direct_cost(n, "2026-03-06", JOB, "1.00"));
        }
        true
    })
    .expect("a back-up");
    assert!(verdict.is_good() && n > 9000, "{:?}", verdict.problems);
    assert_eq!(verdict.devices, [("A".to_owned(), held)], "the state at its beginning, whole");
}

/// A PIN's hash must not travel with every back-up: whoever finds one could try PINs at leisure.
#[test]
fn a_back_up_holds_nothing_of_a_setting_that_stays_in_its_file() {
    let at = place();
    let mut ledger = full_books(&at.path);
    let own = format!("{OWN_SETTING}pin");
    for value in ["the first secret hash", "the second secret hash"] {
        ledger.set_setting(&own, value).expect("a setting");
    }
    ledger.set_setting("usual", "stays").expect("a setting");
    let to = beside(&at, "safe.tearoff");
    assert!(back_up(&at.path, &to, &mut |_| true).expect("a back-up").is_good());
    let bytes = std::fs::read(&to).expect("the back-up");
    assert!(!bytes.windows(11).any(|window| window == b"secret hash"), "the back-up holds the secret");
    let copy = Reader::open(&to).expect("the back-up");
    assert_eq!(copy.books().setting(&own).expect("a reading"), None);
    assert_eq!(copy.books().setting("usual").expect("a reading").as_deref(), Some("stays"));
    let kept = ledger.reading().setting(&own).expect("a reading");
    assert_eq!(kept.as_deref(), Some("the second secret hash"), "the file itself keeps it");
}

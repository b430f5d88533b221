//! Where a ledger lies: nobody else's file is touched, none of its own names is given away, and what went into a file
//! that is gone is not called recorded.

use crate::sample::{JOB, Place, add, books, direct_cost, full_books, place, problems};
use ledger::open::{attachment_folder, lock_path};
use ledger::place::refuse_ledger;
use ledger::{Ledger, LedgerError, back_up, restore};
use std::path::{Path, PathBuf};

fn beside(at: &Place, name: &str) -> PathBuf {
    at.folder.path().join(name)
}

fn write(path: &Path, bytes: &[u8]) {
    std::fs::write(path, bytes).expect("a file");
}

fn bytes(path: &Path) -> Vec<u8> {
    std::fs::read(path).expect("a file")
}

#[test]
fn a_copy_is_never_made_of_or_into_what_belongs_to_a_ledger() {
    let at = place();
    drop(full_books(&at.path));
    let before = bytes(&at.path);
    for name in
        ["firm.tearoff.lock", "firm.tearoff-journal", "firm.tearoff-wal", "firm.tearoff.attachments/x"]
    {
        let words = back_up(&at.path, &beside(&at, name), &mut |_| true).expect_err(name).to_string();
        assert!(
            words.contains(" belongs to the ledger ") && words.contains("Nothing was written"),
            "{words}"
        );
    }
    // What was once taken for the half-made copy of another is a name like any other.
    let named = beside(&at, "firm.tearoff.part");
    assert!(back_up(&at.path, &named, &mut |_| true).expect("a back-up").is_good());
    let again = beside(&at, "firm");
    assert!(restore(&named, &again, &mut |_| true).expect("a ledger").is_good());
    assert!(problems(&named).is_empty() && problems(&again).is_empty());
    assert_eq!(bytes(&at.path), before);
    // A back-up that has the name of a lock is not locked by what is restored from it.
    let odd = beside(&at, "new.tearoff.lock");
    std::fs::rename(&named, &odd).expect("another name");
    std::fs::rename(attachment_folder(&named), attachment_folder(&odd)).expect("another name");
    let kept = bytes(&odd);
    let refused = restore(&odd, &beside(&at, "new.tearoff"), &mut |_| true);
    assert!(matches!(refused, Err(LedgerError::Companion { .. })), "{refused:?}");
    assert_eq!(bytes(&odd), kept);
}

#[test]
fn an_old_log_beside_a_new_ledger_is_in_the_way() {
    let at = place();
    drop(full_books(&at.path));
    let safe = beside(&at, "safe.tearoff");
    back_up(&at.path, &safe, &mut |_| true).expect("a back-up");
    for suffix in ["-wal", "-journal", "-shm"] {
        let left = beside(&at, &format!("again.tearoff{suffix}"));
        write(&left, b"left by another");
        let again = beside(&at, "again.tearoff");
        let refused = [
            restore(&safe, &again, &mut |_| true).err(),
            back_up(&at.path, &again, &mut |_| true).err(),
            Ledger::create(&again).err(),
        ];
        for error in refused {
            assert!(matches!(error, Some(LedgerError::Exists(ref path)) if *path == left), "{error:?}");
        }
        assert_eq!(bytes(&left), b"left by another");
        assert!(!again.exists());
        std::fs::remove_file(left).expect("away");
    }
}

#[test]
fn of_two_back_ups_to_one_name_only_one_is_made() {
    let at = place();
    drop(full_books(&at.path));
    let to = beside(&at, "safe.tearoff");
    let mut inner = None;
    let outer = back_up(&at.path, &to, &mut |_| {
        if inner.is_none() {
            inner = Some(back_up(&at.path, &to, &mut |_| true));
        }
        true
    });
    assert!(inner.is_some_and(|made| made.is_ok_and(|verdict| verdict.is_good())));
    assert!(matches!(outer, Err(LedgerError::Exists(_))), "{outer:?}");
    assert!(problems(&to).is_empty());
    let names = std::fs::read_dir(at.folder.path()).expect("the folder").count();
    // Ledger, lock and attachments; the back-up and its attachments.
    assert_eq!(names, 5, "nothing half-made is left");
}

#[cfg(unix)]
#[test]
fn a_lock_that_is_no_lock_is_left_alone() {
    let at = place();
    drop(full_books(&at.path));
    let lock = lock_path(&at.path);
    let dear = beside(&at, "letters.txt");
    write(&dear, b"process of law, dear to somebody");
    std::fs::remove_file(&lock).expect("away");
    std::os::unix::fs::symlink(&dear, &lock).expect("a link");
    assert!(matches!(Ledger::open(&at.path), Err(LedgerError::Lock { .. })));
    assert_eq!(bytes(&dear), b"process of law, dear to somebody");
    std::fs::remove_file(&lock).expect("away");
    write(&lock, b"a shopping list");
    let words = Ledger::open(&at.path).expect_err("no lock").to_string();
    assert!(words.contains("it holds something else. Nothing was changed: move it away"), "{words}");
    assert_eq!(bytes(&lock), b"a shopping list");
    std::fs::remove_file(&lock).expect("away");
    assert!(Ledger::open(&at.path).is_ok());
}

#[cfg(unix)]
#[test]
fn a_file_with_two_names_is_read_and_not_written() {
    let at = place();
    drop(full_books(&at.path));
    let other = beside(&at, "other.tearoff");
    std::fs::hard_link(&at.path, &other).expect("a second name");
    for path in [&at.path, &other] {
        assert!(matches!(Ledger::open(path), Err(LedgerError::Linked(_))));
        assert!(ledger::Reader::open(path).is_ok());
    }
    std::fs::remove_file(&other).expect("away");
    assert!(Ledger::open(&at.path).is_ok());
}

#[cfg(unix)]
#[test]
fn what_is_entered_after_the_file_was_moved_or_removed_is_not_called_recorded() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(900, "2026-05-05", JOB, "5.00"));
    let away = beside(&at, "away.tearoff");
    std::fs::rename(&at.path, &away).expect("moved");
    let offer = |ledger: &mut Ledger, n| {
        ledger.append(&[direct_cost(n, "2026-05-05", JOB, "6.00")], crate::sample::moment())
    };
    assert!(matches!(offer(&mut ledger, 901), Err(LedgerError::Replaced(_))));
    write(&at.path, b"another file altogether");
    let words = offer(&mut ledger, 902).expect_err("it was replaced").to_string();
    assert!(words.contains("is no longer the file that was opened"), "{words}");
    std::fs::rename(&away, &at.path).expect("back again");
    assert!(offer(&mut ledger, 903).is_ok());
    drop(ledger);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_cut_file_is_called_cut_and_another_one_foreign() {
    let at = place();
    drop(full_books(&at.path));
    let whole = bytes(&at.path);
    let cut = beside(&at, "cut.tearoff");
    for length in [16, 100, 511, 513, 4000, whole.len() / 2] {
        write(&cut, &whole[..length]);
        let opened = Ledger::open(&cut).map(|_| ());
        assert!(matches!(opened, Err(LedgerError::Damaged { .. })), "{length}: {opened:?}");
    }
    for other in [&b""[..], b"no ledger", &[7; 5000]] {
        write(&cut, other);
        assert!(matches!(Ledger::open(&cut), Err(LedgerError::Foreign { .. })), "{}", other.len());
    }
}

#[test]
fn nothing_else_is_written_over_a_ledger() {
    let at = place();
    drop(full_books(&at.path));
    let safe = beside(&at, "safe.tearoff");
    back_up(&at.path, &safe, &mut |_| true).expect("a back-up");
    for place in [&at.path, &safe] {
        assert!(matches!(refuse_ledger(place, &at.path), Err(LedgerError::Exists(_))));
    }
    assert!(matches!(refuse_ledger(&lock_path(&at.path), &at.path), Err(LedgerError::Companion { .. })));
    let paper = beside(&at, "proposal.pdf");
    assert!(refuse_ledger(&paper, &at.path).is_ok());
    write(&paper, b"a paper");
    assert!(refuse_ledger(&paper, &at.path).is_ok());
}

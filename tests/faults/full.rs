//! A disk that takes no more. The error says so in words, nothing is half-written, and the ledger is as it was.

use crate::books::{APPENDER, acknowledged, holds, place};
use ledger::{LedgerError, back_up};
use std::process::{Command, Output};

/// Runs the program in a shell that lets no file grow beyond so many blocks of 512 bytes. The signal that would end
/// the program is ignored, so that it meets the error as it would meet a full disk.
#[cfg(unix)]
fn starved(blocks: u64, path: &std::path::Path) -> Output {
    Command::new("sh")
        .arg("-c")
        .arg("trap '' XFSZ; ulimit -f \"$1\"; exec \"$2\" append \"$3\"")
        .arg("sh")
        .arg(blocks.to_string())
        .arg(APPENDER)
        .arg(path)
        .output()
        .expect("a shell")
}

#[cfg(unix)]
#[test]
fn when_the_disk_is_full_the_error_is_in_words_and_nothing_is_lost_or_half_written() {
    for more_blocks in [200, 777, 3000] {
        let at = place(0);
        let size = std::fs::metadata(&at.path).expect("the file").len();
        let output = starved(size.div_ceil(512) + more_blocks, &at.path);
        assert!(!output.status.success());
        let text = String::from_utf8(output.stdout).expect("its output");
        let failed = text.lines().last().expect("a last word");
        assert!(failed.starts_with("failed The disk did not do what was asked of it"), "{failed}");
        assert!(failed.ends_with("Nothing was half-written."), "{failed}");
        let said = acknowledged(&text);
        assert!(!said.is_empty(), "some facts went in before the disk was full");
        let end = holds(&at.path, &said);
        assert_eq!(Some(end), said.keys().next_back().copied(), "nothing of the batch that failed");
        // With room again, it goes on.
        let mut ledger = ledger::Ledger::open(&at.path).expect("the ledger");
        ledger.append(&[crate::books::direct_cost(900)], crate::books::now()).expect("a fact");
        assert_eq!(ledger.last_seq(), end + 1);
    }
}

#[test]
fn a_back_up_to_a_place_that_cannot_be_written_leaves_nothing() {
    let at = place(10);
    let file = at.folder.path().join("file");
    std::fs::write(&file, b"no folder").expect("a file");
    let outcome = back_up(&at.path, &file.join("safe.tearoff"), &mut |_| true);
    let words = outcome.expect_err("a file is no folder").to_string();
    assert!(words.contains("could not be made") && words.contains("Nothing was half-written"), "{words}");
    assert_eq!(std::fs::read(&file).expect("the file"), b"no folder");
}

#[test]
fn the_words_for_a_full_disk_name_it() {
    let full = rusqlite::Error::SqliteFailure(rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_FULL), None);
    let words = LedgerError::from(full).to_string();
    assert!(words.starts_with("The disk is full; make room and try again"), "{words}");
}

//! A ledger is held against what this computer last saw of it: its chain alone cannot tell that its tail is gone.

use crate::program::{bad, firm, good, json, run_in, text};
use acceptance::dice::Dice;
use office::{Clock, Desk, Recorder};
use std::fs::{copy, rename};
use std::path::Path;

fn vendor(folder: &Path, file: &str, name: &str) {
    good(folder, &["record", file, &fact(name)]);
}

fn fact(name: &str) -> String {
    format!(r#"{{"kind": "vendor", "name": "{name}"}}"#)
}

#[test]
fn a_file_that_was_rolled_back_is_told_by_whatever_opens_it() {
    let folder = firm();
    let at = folder.path();
    vendor(at, "firm.tearoff", "Birch Run Gutters");
    copy(at.join("firm.tearoff"), at.join("yesterday")).unwrap();
    vendor(at, "firm.tearoff", "Alder Sheet Metal");
    good(at, &["back-up", "firm.tearoff", "tonight.tearoff"]);
    copy(at.join("yesterday"), at.join("firm.tearoff")).unwrap();

    let told = |words: &[&str]| bad(at, words, 6)["message"].as_str().unwrap().to_owned();
    for words in [
        vec!["month-end", "firm.tearoff"],
        vec!["verify", "firm.tearoff"],
        vec!["record", "firm.tearoff", &fact("Cole Reed")],
        vec!["back-up", "firm.tearoff", "bad.tearoff"],
    ] {
        let said = told(&words);
        assert!(said.contains("the last 1 entry is missing"), "{words:?}: {said}");
    }
    // The back-up of tonight knows more, and is good.
    assert_eq!(json(at, &["verify", "tonight.tearoff"])["good"], true);
    good(at, &["restore", "tonight.tearoff", "again.tearoff"]);
    vendor(at, "again.tearoff", "Cole Reed");
    assert_eq!(json(at, &["verify", "again.tearoff"])["good"], true);
    // So is the older state, once somebody says that it is the one to go on with.
    good(at, &["restore", "yesterday", "older.tearoff"]);
    vendor(at, "older.tearoff", "Dora Pell");
}

#[test]
fn another_firms_file_in_its_place_is_told() {
    let folder = firm();
    let at = folder.path();
    vendor(at, "firm.tearoff", "Birch Run Gutters");
    good(
        at,
        &[
            "new",
            "other.tearoff",
            "--owner",
            "Ines Hollow",
            "--name",
            "Hollow Roofs",
            "--town",
            "Ashford",
            "--state",
            "VT",
        ],
    );
    rename(at.join("other.tearoff"), at.join("firm.tearoff")).unwrap();
    let said = bad(at, &["verify", "firm.tearoff"], 6)["message"].as_str().unwrap().to_owned();
    assert!(said.contains("The end of the chain"), "{said}");
    bad(at, &["month-end", "firm.tearoff"], 6);
}

#[test]
fn two_copies_are_not_written_under_one_letter() {
    let folder = firm();
    let at = folder.path();
    vendor(at, "firm.tearoff", "Birch Run Gutters");
    copy(at.join("firm.tearoff"), at.join("copy.tearoff")).unwrap();
    vendor(at, "firm.tearoff", "Alder Sheet Metal");
    let refused = bad(at, &["record", "copy.tearoff", &fact("Cole Reed")], 6);
    let said = refused["message"].as_str().unwrap();
    assert!(said.contains("a copy of it, ") && said.contains("was written on to A "), "{said}");
    // The one that was written on is the ledger still, and a moved one stays itself.
    rename(at.join("firm.tearoff"), at.join("moved.tearoff")).unwrap();
    rename(at.join("firm.tearoff.attachments"), at.join("moved.tearoff.attachments")).ok();
    vendor(at, "moved.tearoff", "Cole Reed");
    assert_eq!(json(at, &["verify", "moved.tearoff"])["good"], true);
}

/// What was printed when the month was closed outlives every computer: it tells whether a ledger is still that ledger.
#[test]
fn a_printed_end_tells_whether_a_ledger_still_holds_its_month() {
    let folder = firm();
    let at = folder.path();
    good(at, &["hand-off", "firm.tearoff", "--month", "2026-09", "--to", "for-the-books"]);
    let inside = std::fs::read_dir(at.join("for-the-books")).unwrap().next().unwrap().unwrap().path();
    let readme = std::fs::read_to_string(inside.join("README.txt")).unwrap();
    let readme = readme.split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, mark) = readme.split_once("--holds ").unwrap();
    let mark = mark.trim_start_matches(|sign: char| !sign.is_ascii_uppercase());
    let mark: String =
        mark.chars().take_while(|sign| sign.is_ascii_alphanumeric() || ":-".contains(*sign)).collect();
    assert_eq!(json(at, &["verify", "firm.tearoff", "--holds", &mark])["good"], true, "{mark}");
    vendor(at, "firm.tearoff", "Alder Sheet Metal");
    assert_eq!(
        json(at, &["verify", "firm.tearoff", "--holds", &mark])["good"],
        true,
        "what comes later changes nothing"
    );

    let (place, hash) = mark.split_once(':').unwrap();
    let flipped: String = hash.chars().map(|sign| if sign == '0' { '1' } else { '0' }).collect();
    let said = bad(at, &["verify", "firm.tearoff", "--holds", &format!("{place}:{flipped}")], 6);
    assert!(said["message"].as_str().unwrap().contains("another entry stands in its place"), "{said}");
    let said = bad(at, &["verify", "firm.tearoff", "--holds", "A-999999:0011223344"], 6);
    assert!(said["message"].as_str().unwrap().contains("there is no such entry here"), "{said}");
    let said = bad(at, &["verify", "firm.tearoff", "--holds", "the last one"], 3);
    assert_eq!(said["field"], "holds");
}

/// The log's own sums make SQLite drop what follows a changed byte, as it drops what a power cut left half-written.
/// What was acknowledged is missing then, and that is told.
#[test]
fn a_changed_byte_in_the_log_never_loses_an_acknowledged_fact_in_silence() {
    let folder = firm();
    let at = folder.path();
    let (file, log) = (at.join("firm.tearoff"), at.join("firm.tearoff-wal"));
    // As the window does: it keeps the ledger open for hours, and the log beside it.
    ledger::kept_ends::keep_in(at.join("state/ends"));
    let mut desk = Desk::open(&file, Clock::System).unwrap();
    for name in ["Birch Run Gutters", "Alder Sheet Metal"] {
        let vendor = serde_json::from_str(&fact(name)).unwrap();
        Recorder::default().record(&mut desk, vendor).unwrap();
    }
    let (whole, written) = (std::fs::read(&file).unwrap(), std::fs::read(&log).unwrap());
    drop(desk);
    let entries = || -> i64 {
        let looking = rusqlite::Connection::open(&file).unwrap();
        looking.query_row("SELECT count(*) FROM entry", [], |row| row.get(0)).unwrap()
    };
    let all = entries();

    let mut told = 0;
    for place in (0..written.len()).step_by(written.len() / 24 + 1) {
        let mut changed = written.clone();
        changed[place] ^= 0x10;
        std::fs::write(&file, &whole).unwrap();
        std::fs::write(&log, changed).unwrap();
        std::fs::remove_file(at.join("firm.tearoff-shm")).ok();
        let output = run_in(at, &["month-end", "firm.tearoff"]);
        if output.status.code() == Some(6) {
            told += 1;
        } else {
            assert!(output.status.success(), "at byte {place}: {output:?}");
            assert_eq!(entries(), all, "at byte {place} an entry went without a word");
        }
    }
    assert!(told > 10, "a changed byte hardly ever mattered: {told}");
}

/// No answer rests on a byte that the disk changed: it is the answer as before, or the file is said to be damaged.
#[test]
fn a_changed_byte_gives_no_other_figure_in_silence() {
    let folder = firm();
    let at = folder.path();
    let file = at.join("firm.tearoff");
    let asked = ["--json", "month-end", "firm.tearoff", "--month", "2026-10"];
    let answer = good(at, &asked);
    let whole = std::fs::read(&file).unwrap();
    // A letter of a job's title: no index and no page falls over it.
    let title = b"tower house";
    let titled = whole.windows(title.len()).position(|part| part == title).unwrap();
    let mut dice = Dice::new(7);
    let places = std::iter::once(titled).chain((0..24).map(|_| dice.place(whole.len())));
    let mut told = 0;
    for (round, place) in places.enumerate() {
        let mut changed = whole.clone();
        changed[place] ^= 0x11;
        std::fs::write(&file, changed).unwrap();
        let output = run_in(at, &asked);
        let is_told = output.status.code() == Some(6);
        assert!(is_told || text(&output) == answer, "at byte {place} another answer came, in silence");
        assert!(is_told || round > 0, "a changed title was not noticed");
        told += u32::from(is_told);
    }
    assert!(told > 5, "a changed byte hardly ever mattered: {told}");
    std::fs::write(&file, whole).unwrap();
    assert_eq!(good(at, &asked), answer);
}

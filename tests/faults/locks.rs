//! Several programs at one file: one writes, others read and go, and none pulls the log from under the writer.

use crate::books::{APPENDER, direct_cost, now, place};
use ledger::{Ledger, LedgerError, Reader, verify};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

/// How far another program of ours finds the file to go. It opens the file and closes it again.
fn read_elsewhere(path: &Path) -> String {
    let output = Command::new(APPENDER).arg("read").arg(path).output().expect("the program");
    String::from_utf8(output.stdout).expect("its output").trim().to_owned()
}

/// Opens and closes the file with a tool that is not ours and, unlike our readers, tidies the log away when it
/// believes that it was the last to have the file.
fn look_with_another_tool(path: &Path) {
    let looks = "import sqlite3, sys; c = sqlite3.connect(sys.argv[1]); c.execute('SELECT 1 FROM entry').fetchone(); \
                 c.close()";
    let output =
        Command::new("python3").arg("-c").arg(looks).arg(path).output().expect("python3 is needed here");
    assert!(output.status.success(), "{output:?}");
}

/// When a process closes any handle of its own to a file, the system drops all its locks on it. Were the ledger file
/// ever opened beside SQLite, another program that closed it would believe it was the last one and remove the log
/// that the writer still writes to.
#[test]
fn what_is_written_after_others_came_and_went_is_there() {
    let at = place(3);
    let mut writer = Ledger::open(&at.path).expect("the ledger");
    for n in 0..5 {
        drop(Reader::open(&at.path).expect("a reader here"));
        assert!(verify(&at.path, &mut |_| true).expect("a verdict").is_good());
        assert!(matches!(Ledger::open(&at.path), Err(LedgerError::Busy { .. })));
        look_with_another_tool(&at.path);
        writer.append(&[direct_cost(500 + n)], now()).expect("a fact");
        assert_eq!(read_elsewhere(&at.path), format!("A {}", writer.last_seq()), "round {n}");
    }
}

#[test]
fn a_second_program_is_told_which_process_writes_and_the_first_ones_end_frees_the_file() {
    let at = place(0);
    let mut first = Command::new(APPENDER)
        .arg("append")
        .arg(&at.path)
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program");
    // Once it acknowledges a fact, it has the file.
    let mut line = String::new();
    let mut output = BufReader::new(first.stdout.take().expect("its output"));
    output.read_line(&mut line).expect("its first word");
    let busy = Ledger::open(&at.path).map(|ledger| ledger.last_seq());
    let reading = read_elsewhere(&at.path);
    let process = first.id();
    first.kill().expect("the kill");
    first.wait().expect("its end");
    let words = busy.expect_err("it is open for writing elsewhere").to_string();
    assert!(words.contains(&format!("(process {process})")), "{words}");
    assert!(reading.starts_with("A "), "{reading}");
    Ledger::open(&at.path).expect("free again");
}

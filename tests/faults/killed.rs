//! A process is killed at any moment while it appends. What it acknowledged is there; what it did not is there whole
//! or not at all; and the next one goes on where it left off.

use crate::books::{APPENDER, acknowledged, holds, place};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read};
use std::process::{Command, Stdio};
use std::time::Duration;

/// The program writes one fact or forty at a time: no more than one batch can be beyond what it acknowledged.
const MOST_BATCH: i64 = 40;

/// The acknowledgements after which the writer is killed: two runs through its batches.
const MOST_WAITED_FOR: u64 = 2 * (7 + 40);

/// Numbers that differ from round to round and are the same in every run.
struct Moments(u64);

impl Moments {
    fn next_below(&mut self, most: u64) -> u64 {
        // The multiplier and increment of Knuth's MMIX generator.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

#[test]
fn no_acknowledged_fact_is_lost_when_the_writer_is_killed() {
    let rounds = if std::env::var_os("TEAROFF_SOAK").is_some() { 500 } else { 25 };
    let mut moments = Moments(26);
    let mut at = place(0);
    let mut all = BTreeMap::new();
    let mut last_end = 0;
    for round in 0..rounds {
        // Now and then a new file, so that the making of the log is met as well as its growth.
        if round % 10 == 0 {
            at = place(0);
            all = BTreeMap::new();
            last_end = holds(&at.path, &all);
        }
        let mut child = Command::new(APPENDER)
            .arg("append")
            .arg(&at.path)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        // How far the writer has come is told by what it acknowledged, never by the clock: a busy machine only takes
        // longer. The pause after that only moves the kill within the next append and decides nothing.
        let mut output = BufReader::new(child.stdout.take().expect("its output"));
        let mut text = String::new();
        let waited_for = moments.next_below(MOST_WAITED_FOR);
        for _ in 0..waited_for {
            assert!(output.read_line(&mut text).expect("its output") > 0, "it ended by itself: {text}");
        }
        std::thread::sleep(Duration::from_micros(moments.next_below(2_000)));
        child.kill().expect("the kill");
        let status = child.wait().expect("its end");
        assert!(!status.success(), "it never ends by itself");
        output.read_to_string(&mut text).expect("the rest of its output");
        assert!(!text.contains("failed"), "{text}");
        all.extend(acknowledged(&text));
        let end = holds(&at.path, &all);
        // What was unacknowledged in an earlier round stays so; only this round's last batch may be beyond.
        let beyond = end - all.keys().next_back().copied().unwrap_or(0).max(last_end);
        // A batch of forty may have been said in part; what is left of it is less than forty.
        assert!((0..=MOST_BATCH).contains(&beyond), "{beyond} facts that nobody acknowledged");
        // Seven batches of one, then one of forty, and so on: a number between is a batch written in part.
        let written = end - last_end;
        assert!(written % (7 + MOST_BATCH) <= 7, "{written} facts are not whole batches");
        last_end = end;
    }
}

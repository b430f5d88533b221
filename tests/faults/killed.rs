//! A process is killed at any moment while it appends. What it acknowledged is there; what it did not is there whole
//! or not at all; and the next one goes on where it left off.

use crate::books::{APPENDER, acknowledged, holds, place};
use std::collections::BTreeMap;
use std::io::Read;
use std::process::{Command, Stdio};
use std::time::Duration;

/// The program writes one fact or forty at a time: no more than one batch can be beyond what it acknowledged.
const MOST_BATCH: i64 = 40;

/// Moments that differ from round to round and are the same in every run.
struct Moments(u64);

impl Moments {
    fn next_millis(&mut self, most: u64) -> u64 {
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
    let mut rounds_with_facts = 0;
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
        let mut output = child.stdout.take().expect("its output");
        let reading = std::thread::spawn(move || {
            let mut text = String::new();
            output.read_to_string(&mut text).map(|_| text)
        });
        std::thread::sleep(Duration::from_millis(moments.next_millis(160)));
        child.kill().expect("the kill");
        let status = child.wait().expect("its end");
        assert!(!status.success(), "it never ends by itself");
        let text = reading.join().expect("the reader").expect("its output");
        assert!(!text.contains("failed"), "{text}");
        let said = acknowledged(&text);
        rounds_with_facts += i32::from(!said.is_empty());
        all.extend(said);
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
    assert!(rounds_with_facts * 2 > rounds, "only {rounds_with_facts} of {rounds} rounds wrote anything");
}

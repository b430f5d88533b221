//! A process is killed at any moment while it appends. What it acknowledged is there; what it did not is there whole
//! or not at all; and the next one goes on where it left off.

use crate::books::{APPENDER, acknowledged, holds, place};
use std::collections::BTreeMap;
use std::io::Read;
use std::process::{Command, Stdio};
use std::time::Duration;

/// Batches hold one fact or forty: whatever is beyond the last acknowledged number is one whole batch.
const BATCHES: [i64; 2] = [1, 40];

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
    let mut rounds_with_facts = 0;
    for round in 0..rounds {
        // Now and then a new file, so that the making of the log is met as well as its growth.
        if round % 10 == 0 {
            at = place(0);
            all = BTreeMap::new();
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
        let beyond = end - all.keys().next_back().copied().unwrap_or(5);
        // A batch of forty may have been said in part; what is left of it is less than forty.
        assert!(
            beyond == 0 || BATCHES.contains(&beyond) || beyond < 40,
            "{beyond} facts that nobody acknowledged"
        );
    }
    assert!(rounds_with_facts * 2 > rounds, "only {rounds_with_facts} of {rounds} rounds wrote anything");
}

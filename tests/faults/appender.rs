//! A program that does one thing with a ledger until it is stopped, for the tests of faults to kill, starve or watch.
//!
//! `appender append FILE` records direct costs without end and says each one's id and number on its output *after* the
//! append has returned. When an append fails it says how, and ends. `appender read FILE` opens the file to read, says
//! how far it goes, and closes it again.

use jiff::Timestamp;
use ledger::facts::Fact;
use ledger::{Appended, Id, Ledger, NewFact, Reader};
use serde_json::json;
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

/// What an error of any kind says.
type Said<T> = Result<T, String>;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let outcome = match words.as_slice() {
        [what, file] if what == "append" => append(Path::new(file)),
        [what, file] if what == "read" => read(Path::new(file)),
        _ => Err("usage: appender append|read FILE".to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(words) => {
            // The parent reads this line; if it is gone, there is nobody to tell.
            let _ = say(&format!("failed {words}"));
            ExitCode::FAILURE
        }
    }
}

fn say(line: &str) -> Said<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{line}").and_then(|()| out.flush()).map_err(|error| error.to_string())
}

fn read(path: &Path) -> Said<()> {
    let reader = Reader::open(path).map_err(|error| error.to_string())?;
    let ends = reader.books().device_ends().map_err(|error| error.to_string())?;
    say(&ends.iter().map(|(device, seq)| format!("{device} {seq}")).collect::<Vec<_>>().join(", "))
}

/// Batches of one, so that each is acknowledged by itself, and now and then of many, so that a kill or a full disk
/// falls into the middle of one.
fn append(path: &Path) -> Said<()> {
    let mut ledger = Ledger::open(path).map_err(|error| error.to_string())?;
    let (job, code, person) = names(&ledger)?;
    for round in 0_u64.. {
        let size = if round % 8 == 7 { 40 } else { 1 };
        let mut batch = Vec::new();
        for _ in 0..size {
            let body = json!({"date": "2026-03-05", "job": job, "code": code, "cost_kind": "disposal",
                "description": "a load", "amount": "1.00"});
            batch.push(NewFact {
                id: Id::now(),
                person,
                fact: Fact::from_json("direct-cost", body).map_err(|unread| unread.to_string())?,
            });
        }
        let outcome = ledger.append(&batch, Timestamp::now()).map_err(|error| error.to_string())?;
        for (new, appended) in batch.iter().zip(outcome) {
            if let Appended::Written(seq) = appended {
                say(&format!("{} {seq}", new.id))?;
            }
        }
    }
    Ok(())
}

/// The one job, code and person of the books.
fn names(ledger: &Ledger) -> Said<(Id, Id, Id)> {
    let books = ledger.reading();
    let job = books.all::<ledger::facts::Job>().map_err(|error| error.to_string())?;
    let code = books.all::<ledger::facts::CostCode>().map_err(|error| error.to_string())?;
    let person = books.all::<ledger::facts::Person>().map_err(|error| error.to_string())?;
    match (job.first(), code.first(), person.first()) {
        (Some(job), Some(code), Some(person)) => Ok((job.entry.id, code.entry.id, person.entry.id)),
        _ => Err("the books have no job, code or person".to_owned()),
    }
}

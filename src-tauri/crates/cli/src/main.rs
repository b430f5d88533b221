//! The command line of Tearoff: the same office as the window, for scripts, tests and people who like it plain.
//!
//! **It must never** hold a rule of the trade or read the ledger by itself: it turns words into a call of the office
//! and the answer into text or JSON.

mod commands;
mod firm;
mod log;
mod progress;
mod show;
mod table;

use clap::Parser;
use office::Code;
use std::process::ExitCode;

fn main() -> ExitCode {
    let line = commands::Line::parse();
    let _log = log::begin();
    office::keep_ends();
    match commands::run(&line) {
        Ok(lines) => say(&lines),
        Err(failure) => {
            complain(&failure, line.json);
            ExitCode::from(exit_code(failure.error.code))
        }
    }
}

/// What each kind of failure exits with; 2 is clap's own, for words it does not know.
fn exit_code(code: Code) -> u8 {
    match code {
        Code::Refused | Code::UnusualDate | Code::NotFound | Code::Exists | Code::LooseEnds => 3,
        Code::Missing | Code::Foreign | Code::Newer | Code::Network => 4,
        Code::Busy => 5,
        Code::Damaged | Code::Alarm => 6,
        Code::Stopped => 7,
        Code::Offline => 9,
        Code::NotAllowed | Code::Pin => 8,
        _ => 1,
    }
}

fn say(lines: &[String]) -> ExitCode {
    use std::io::Write;
    // A reader that has seen enough, such as `head`, closes the pipe: that is no failure.
    let mut out = std::io::stdout().lock();
    for line in lines {
        if writeln!(out, "{line}").is_err() {
            break;
        }
    }
    ExitCode::SUCCESS
}

#[expect(clippy::print_stderr, clippy::print_stdout, reason = "failures go to the terminal")]
fn complain(failure: &commands::Failure, json: bool) {
    if json {
        println!("{}", serde_json::json!({ "error": failure }));
    } else {
        eprintln!("{}", failure.error);
    }
}

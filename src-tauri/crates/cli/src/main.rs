//! The command line of Tearoff: the same office as the window, for scripts, tests and people who like it plain.
//!
//! **It must never** hold a rule of the trade or read the ledger by itself: it turns words into a call of the office
//! and the answer into text or JSON.

mod bank;
mod commands;
mod firm;
mod log;
mod progress;
mod show;
mod table;

use clap::Parser;
use office::Code;
use std::borrow::Cow;
use std::process::ExitCode;

fn main() -> ExitCode {
    let line = commands::Line::parse();
    let _log = log::begin();
    office::keep_ends();
    match commands::run(&line) {
        Ok(lines) => say(&lines, line.json),
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

fn say(lines: &[String], json: bool) -> ExitCode {
    use std::io::Write;
    // A reader that has seen enough, such as `head`, closes the pipe: that is no failure.
    let mut out = std::io::stdout().lock();
    for line in lines {
        if writeln!(out, "{}", harmless(line, json)).is_err() {
            break;
        }
    }
    ExitCode::SUCCESS
}

#[expect(clippy::print_stderr, clippy::print_stdout, reason = "failures go to the terminal")]
fn complain(failure: &commands::Failure, json: bool) {
    if json {
        println!("{}", harmless(&serde_json::json!({ "error": failure }).to_string(), true));
    } else {
        eprintln!("{}", harmless(&failure.error.to_string(), false));
    }
}

/// A text without letters that a terminal would take for an order, such as to write over what stands above: file names
/// and tables that were read may hold them, and are told as they are. In JSON they stand inside of strings, as escapes.
fn harmless(text: &str, json: bool) -> Cow<'_, str> {
    let hidden = |letter: char| letter != '\n' && letter != '\t' && office::is_hidden(letter);
    if !text.contains(hidden) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for letter in text.chars() {
        if !hidden(letter) {
            shown.push(letter);
        } else if json {
            let mut units = [0; 2];
            letter.encode_utf16(&mut units).iter().for_each(|unit| shown.push_str(&format!("\\u{unit:04x}")));
        } else {
            shown.push_str(&format!("<U+{:04X}>", u32::from(letter)));
        }
    }
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_is_said_gives_an_order_to_the_terminal() {
        assert_eq!(harmless("rows\tof\nwords", false), "rows\tof\nwords");
        assert_eq!(
            harmless("a\u{1b}[2Jb\u{9b}c\rd\u{202e}", false),
            "a<U+001B>[2Jb<U+009B>c<U+000D>d<U+202E>"
        );
        let text = "\u{9b}2J and \u{e0041}";
        let shown = harmless(&serde_json::json!({ "text": text }).to_string(), true).into_owned();
        assert!(shown.is_ascii(), "{shown}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&shown).unwrap()["text"], text);
    }
}

//! Reading a scenario: lines of text into steps, each with the file and line it stands on.

use serde_json::Value;
use std::path::{Path, PathBuf};

/// Where a step stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Spot {
    pub(crate) file: String,
    pub(crate) line: usize,
}

impl std::fmt::Display for Spot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}:{}", self.file, self.line)
    }
}

/// What is expected of a step that records something.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Expect {
    /// It is taken. This is so where nothing is said.
    #[default]
    Taken,
    /// It was there already, and nothing is written.
    Repeated,
    /// It is refused: the field (or the word of the error, where no field is at fault), and words of the message.
    Refused { what: String, text: String },
}

/// A step of a scenario.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Step {
    /// Somebody else sits down at the desk.
    By(String),
    /// A fact.
    Fact { json: Value, label: Option<String>, expect: Expect },
    /// A month is closed.
    Close { month: String, date: String, accepting: bool, label: Option<String>, expect: Expect },
    /// A labeled fact is reversed.
    Reverse { label: String, date: String, reason: String, expect: Expect },
    /// A figure of the month end.
    Figure { month: String, path: String, value: String },
    /// A figure of the firm's budget, looked at from the end of a month.
    Budget { month: String, path: String, value: String },
    /// A figure of a customer's statement as of a day.
    Statement { customer: String, day: String, path: String, value: String },
    /// What cash ahead is asked with from here on.
    AsIf(Value),
    /// A figure of cash ahead from the end of a day.
    Cash { on: String, path: String, value: String },
    /// A figure of the bank, as it stands by the statement that ends on a day.
    Bank { ends: String, path: String, value: String },
    /// Every line of that statement that fits is matched.
    MatchBank { ends: String },
    /// A figure of the estimate calculated last.
    Calculated { path: String, value: String },
    /// A figure of what the record says of hidden conditions, of a year or of all.
    ConditionHistory { year: String, through: String, path: String, value: String },
    /// A figure of the damage that was calculated last.
    Counted { path: String, value: String },
    /// A figure of what a change order comes to.
    Settled { name: String, path: String, value: String },
    /// What the homeowner reads of a change order.
    Sheet { name: String, path: String, value: String },
    /// What a crew sees of a job today.
    Site { job: String, path: String, value: String },
    /// What the owner sees of a job, in the month of today.
    Page { job: String, path: String, value: String },
    /// Another device writes from here on.
    Device(String),
    /// A choice of the estimate calculated last is taken.
    Accept { letter: String, date: String, expect: Expect },
    /// How many loose ends a month has, of one kind or in all.
    LooseEnds { month: String, kind: Option<String>, count: usize },
    /// A loose end of one kind is told in these words.
    LooseEndSays { month: String, kind: String, words: String },
    /// Verify finds nothing, or something with these words.
    Verify { finds: Option<String> },
    /// The stored totals are thrown away and worked out again, and nothing differs.
    Rebuild,
    /// What was frozen at the closes comes out the same when worked out again.
    ClosedMonthsStand,
}

/// Steps, or the first line that cannot be read.
pub(crate) type Read = Result<Vec<(Spot, Step)>, String>;

/// Reads a scenario and what it includes.
pub(crate) fn read(path: &Path) -> Read {
    let name = name_of(path);
    let text =
        std::fs::read_to_string(path).map_err(|error| format!("{name}: it cannot be read: {error}"))?;
    let mut steps: Vec<(Spot, Step)> = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let spot = Spot { file: name.clone(), line: text[..at].matches('\n').count() + 1 };
        let rest = &text[at..];
        let line = rest.lines().next().unwrap_or_default();
        if rest.starts_with('{') {
            let (step, length) = fact(rest).map_err(|problem| format!("{spot}: {problem}"))?;
            steps.push((spot, step));
            at += length;
        } else {
            at += line.len() + 1;
            match line.trim() {
                "" => {}
                comment if comment.starts_with('#') => {}
                line => read_line(path, &spot, line, &mut steps).map_err(|problem| {
                    if problem.contains(": ") && line.starts_with("include ") {
                        problem
                    } else {
                        format!("{spot}: {problem}")
                    }
                })?,
            }
        }
    }
    Ok(steps)
}

/// Where the scenarios lie.
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

/// The file's name with the folder it lies in, as far as that says anything.
pub(crate) fn name_of(path: &Path) -> String {
    let home = folder();
    let short = path.strip_prefix(&home).ok().or_else(|| path.file_name().map(Path::new)).unwrap_or(path);
    short.display().to_string()
}

/// A fact from JSON over one line or several, with `as NAME` behind it perhaps, and how long it was.
fn fact(rest: &str) -> Result<(Step, usize), String> {
    let mut reading = serde_json::Deserializer::from_str(rest).into_iter::<Value>();
    let json = match reading.next() {
        Some(Ok(json)) => json,
        Some(Err(error)) if !error.is_eof() => return Err(format!("this is not JSON: {error}")),
        _ => return Err("the JSON that begins here does not end".to_owned()),
    };
    let end = reading.byte_offset();
    let tail = rest[end..].lines().next().unwrap_or_default();
    let label = match tail.trim() {
        "" => None,
        tail => Some(
            tail.strip_prefix("as ").ok_or_else(|| format!("`{tail}` behind a fact should be `as NAME`"))?,
        ),
    };
    let label = label.map(|label| label.trim().to_owned());
    Ok((Step::Fact { json, label, expect: Expect::default() }, (end + tail.len() + 1).min(rest.len())))
}

fn read_line(path: &Path, spot: &Spot, line: &str, steps: &mut Vec<(Spot, Step)>) -> Result<(), String> {
    let unknown = || format!("`{line}` is no line of a scenario; README.md lists them");
    let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
    let rest = rest.trim();
    let step = match word {
        "include" => {
            let beside = path.parent().map(|folder| folder.join(rest)).filter(|file| file.exists());
            steps.extend(read(&beside.unwrap_or_else(|| folder().join(rest)))?);
            return Ok(());
        }
        "expect" => return expect(rest, steps),
        "by" => Step::By(rest.to_owned()),
        "close" => close(rest).ok_or_else(unknown)?,
        "reverse" => reverse(rest).ok_or_else(unknown)?,
        "match" => Step::MatchBank { ends: rest.strip_prefix("bank ").ok_or_else(unknown)?.to_owned() },
        "as" => {
            let json = rest.strip_prefix("if ").ok_or_else(unknown)?;
            Step::AsIf(serde_json::from_str(json).map_err(|error| format!("this is not JSON: {error}"))?)
        }
        "month" | "budget" | "bank" | "cash" => {
            let (left, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            let (month, path) = left.split_once(' ').ok_or_else(unknown)?;
            let text = |text: &str| text.trim().to_owned();
            let (month, path, value) = (text(month), text(path), text(value));
            match word {
                "budget" => Step::Budget { month, path, value },
                "bank" => Step::Bank { ends: month, path, value },
                "cash" => Step::Cash { on: month, path, value },
                _ => Step::Figure { month, path, value },
            }
        }
        "statement" => {
            let (left, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            let (customer, left) = left.split_once(" on ").ok_or_else(unknown)?;
            let (day, path) = left.split_once(' ').ok_or_else(unknown)?;
            let [customer, day, path, value] =
                [customer, day, path, value].map(|text| text.trim().to_owned());
            Step::Statement { customer, day, path, value }
        }
        "calculated" => {
            let (path, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            Step::Calculated { path: path.trim().to_owned(), value: value.trim().to_owned() }
        }
        "counted" => {
            let (path, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            Step::Counted { path: path.trim().to_owned(), value: value.trim().to_owned() }
        }
        "settled" | "sheet" | "site" | "page" => {
            let (left, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            let (name, path) = left.split_once(' ').ok_or_else(unknown)?;
            let (name, path, value) = (name.to_owned(), path.trim().to_owned(), value.trim().to_owned());
            match word {
                "sheet" => Step::Sheet { name, path, value },
                "site" => Step::Site { job: name, path, value },
                "page" => Step::Page { job: name, path, value },
                _ => Step::Settled { name, path, value },
            }
        }
        "on" => Step::Device(rest.strip_prefix("device ").ok_or_else(unknown)?.to_owned()),
        "history" => {
            let (left, value) = rest.rsplit_once(" = ").ok_or_else(unknown)?;
            let mut words = left.splitn(3, ' ').map(str::to_owned);
            let mut word = || words.next().ok_or_else(unknown);
            Step::ConditionHistory {
                year: word()?,
                through: word()?,
                path: word()?,
                value: value.trim().to_owned(),
            }
        }
        "accept" => {
            let (letter, date) = rest.split_once(" on ").ok_or_else(unknown)?;
            Step::Accept { letter: letter.to_owned(), date: date.to_owned(), expect: Expect::default() }
        }
        "loose-ends" => loose_ends(rest).ok_or_else(unknown)?,
        "verify" if rest == "ok" => Step::Verify { finds: None },
        "verify" => Step::Verify { finds: Some(rest.strip_prefix("finds ").ok_or_else(unknown)?.to_owned()) },
        _ if line == "rebuild equals stored" => Step::Rebuild,
        _ if line == "closed months stand" => Step::ClosedMonthsStand,
        _ => return Err(unknown()),
    };
    steps.push((spot.clone(), step));
    Ok(())
}

fn expect(rest: &str, steps: &mut [(Spot, Step)]) -> Result<(), String> {
    let expected = match rest.split_once(' ') {
        None if rest == "ok" => Expect::Taken,
        None if rest == "repeated" => Expect::Repeated,
        Some(("refused", why)) => {
            let (what, text) =
                why.split_once(": ").ok_or("say `expect refused FIELD: WORDS of the message`")?;
            Expect::Refused { what: what.trim().to_owned(), text: text.trim().to_owned() }
        }
        _ => return Err(format!("`expect {rest}` is not known; use ok, repeated or refused FIELD: words")),
    };
    match steps.last_mut().map(|(_, step)| step) {
        Some(
            Step::Fact { expect, .. }
            | Step::Close { expect, .. }
            | Step::Reverse { expect, .. }
            | Step::Accept { expect, .. },
        ) => {
            *expect = expected;
            Ok(())
        }
        _ => Err("`expect` follows a fact, a close, a reverse or an accept".to_owned()),
    }
}

/// `2026-03 on 2026-04-05`, with `accepting loose ends` and then `as NAME` behind it perhaps.
fn close(rest: &str) -> Option<Step> {
    let (rest, label) = match rest.split_once(" as ") {
        Some((rest, label)) => (rest, Some(label.trim().to_owned())),
        None => (rest, None),
    };
    let (rest, accepting) = match rest.strip_suffix(" accepting loose ends") {
        Some(rest) => (rest, true),
        None => (rest, false),
    };
    let (month, date) = rest.split_once(" on ")?;
    let expect = Expect::default();
    Some(Step::Close {
        month: month.trim().to_owned(),
        date: date.trim().to_owned(),
        accepting,
        label,
        expect,
    })
}

/// `NAME on 2026-04-05 because it was typed twice`.
fn reverse(rest: &str) -> Option<Step> {
    let (label, rest) = rest.split_once(" on ")?;
    let (date, reason) = rest.split_once(" because")?;
    let text = |text: &str| text.trim().to_owned();
    Some(Step::Reverse {
        label: text(label),
        date: text(date),
        reason: text(reason),
        expect: Expect::default(),
    })
}

/// `2026-10 = 4`, `2026-10 work-at-risk = 1` or `2026-10 work-at-risk says WORDS`.
fn loose_ends(rest: &str) -> Option<Step> {
    if let Some((left, words)) = rest.split_once(" says ") {
        let (month, kind) = left.split_once(' ')?;
        let words = words.trim().to_owned();
        return Some(Step::LooseEndSays { month: month.to_owned(), kind: kind.trim().to_owned(), words });
    }
    let (left, count) = rest.split_once(" = ")?;
    let (month, kind) = match left.split_once(' ') {
        Some((month, kind)) => (month, Some(kind.trim().to_owned())),
        None => (left, None),
    };
    Some(Step::LooseEnds { month: month.trim().to_owned(), kind, count: count.trim().parse().ok()? })
}

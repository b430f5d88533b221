//! Keeping the file safe: verify, back up, restore.

use super::look::Look;
use crate::file::mark::EntryMark;
use crate::month::close::{Drift, drifts};
use desk::OfficeError;
use desk::{Clock, Desk};
use ledger::verify::Verdict;
use serde::Serialize;
use std::path::Path;

pub use ledger::progress::{Progress, Tell};

/// What verify found.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Checked {
    /// Whether everything is as it was written.
    pub good: bool,
    /// Entries read.
    pub entries: u64,
    /// Attachments read.
    pub attachments: u64,
    /// Entries that are here without what is sealed of them, as in a copy for the site.
    pub withheld: u64,
    /// Photos and papers that another device attached and that are not on this one.
    pub elsewhere: u64,
    /// Entries a second, for the chain alone.
    pub entries_a_second: u64,
    /// What is wrong, in order; the first names the first bad entry.
    pub problems: Vec<Wrong>,
    /// Problems beyond those listed.
    pub more: u64,
}

/// Something that is not as it was written.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Wrong {
    /// Device letter and number of the entry, where one is meant.
    pub entry: Option<String>,
    /// Its kind.
    pub kind: Option<String>,
    /// When it was recorded.
    pub recorded_at: Option<String>,
    /// Where.
    pub place: String,
    /// What.
    pub problem: String,
}

impl Checked {
    pub(super) fn of(verdict: &Verdict, drifts: Vec<Drift>) -> Checked {
        let mut problems: Vec<Wrong> = verdict
            .problems
            .iter()
            .map(|problem| Wrong {
                entry: problem.entry.as_ref().map(|entry| format!("{}-{}", entry.device, entry.device_seq)),
                kind: problem.entry.as_ref().map(|entry| entry.kind.clone()),
                recorded_at: problem.entry.as_ref().map(|entry| entry.recorded_at.clone()),
                place: problem.place.clone(),
                problem: problem.problem.clone(),
            })
            .collect();
        problems.extend(drifts.into_iter().map(|drift| Wrong {
            entry: None,
            kind: None,
            recorded_at: None,
            place: format!("closed month {}, job {}", drift.month, drift.job),
            problem: format!(
                "{} was frozen as {} and now comes out as {}",
                drift.figure, drift.frozen, drift.now
            ),
        }));
        Checked {
            good: problems.is_empty(),
            entries: verdict.entries,
            attachments: verdict.attachments,
            withheld: verdict.withheld,
            elsewhere: verdict.elsewhere,
            entries_a_second: verdict.entries_a_second(),
            problems,
            more: verdict.more,
        }
    }
}

/// Checks the whole file: chain, rows, links, stored totals, attachments, the figures of closed months, and whether it
/// holds the entries that were printed.
///
/// # Errors
/// When the file cannot be opened at all, or the work was stopped. What is wrong inside it is in the answer.
pub fn verify(path: &Path, holds: &[EntryMark], progress: Tell<'_>) -> Result<Checked, OfficeError> {
    let look = Look::at(path);
    let verdict = ledger::verify::verify(path, progress)?;
    // A file whose rows cannot be trusted is not asked for its month ends.
    let drifts = if verdict.is_good() {
        let desk = Desk::read(path, Clock::System)?;
        desk.books().in_one_read(|books| drifts(books))?
    } else {
        Vec::new()
    };
    let mut found = Checked::of(&verdict, drifts);
    if let Some(look) = look.filter(|_| found.good) {
        look.was_sound(path);
    }
    if !holds.is_empty() {
        let desk = Desk::read(path, Clock::System)?;
        for mark in holds {
            let Some(problem) = mark.problem(desk.books())? else { continue };
            let entry = Some(format!("{}-{}", mark.device, mark.number));
            let place = "What was printed".to_owned();
            found.problems.push(Wrong { entry, kind: None, recorded_at: None, place, problem });
        }
        found.good = found.good && found.problems.is_empty();
    }
    Ok(found)
}

/// Copies a ledger with its attachments and verifies the copy. Nothing is ever overwritten.
///
/// # Errors
/// When something is already there, the disk refuses, the copy does not verify, or the work was stopped.
pub fn back_up(from: &Path, to: &Path, progress: Tell<'_>) -> Result<Checked, OfficeError> {
    let verdict = ledger::backup::back_up(from, to, progress)?;
    Ok(Checked::of(&verdict, Vec::new()))
}

/// Makes a ledger from a back-up, after verifying it. Nothing is ever overwritten.
///
/// # Errors
/// As [`back_up`], and when the back-up is damaged.
pub fn restore(from: &Path, to: &Path, progress: Tell<'_>) -> Result<Checked, OfficeError> {
    let verdict = ledger::backup::restore(from, to, progress)?;
    Ok(Checked::of(&verdict, Vec::new()))
}

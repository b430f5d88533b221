//! What is wrong with a file, as it is found.

use crate::error::LedgerError;

/// Which entry is bad.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadEntry {
    /// The device's letter.
    pub device: String,
    /// Its number there.
    pub device_seq: i64,
    /// The kind of fact.
    pub kind: String,
    /// When it was recorded, UTC.
    pub recorded_at: String,
}

impl std::fmt::Display for BadEntry {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Entry {} {} ({}, recorded {})", self.device, self.device_seq, self.kind, self.recorded_at)
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The entry it is about, where it is about one.
    pub entry: Option<BadEntry>,
    /// The table, or the part of the file.
    pub place: String,
    /// What is wrong.
    pub problem: String,
}

impl std::fmt::Display for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.entry {
            Some(entry) => write!(f, "{entry}: {}.", self.problem),
            None => write!(f, "{}: {}.", self.place, self.problem),
        }
    }
}

/// Problems listed of one part; beyond these they are counted only.
const MOST_LISTED: usize = 100;

/// Problems as they are found.
#[derive(Debug, Default)]
pub(super) struct Findings {
    pub(super) problems: Vec<Problem>,
    pub(super) more: u64,
}

impl Findings {
    pub(super) fn add(
        &mut self,
        entry: Option<BadEntry>,
        place: impl Into<String>,
        problem: impl Into<String>,
    ) {
        if self.problems.len() < MOST_LISTED {
            self.problems.push(Problem { entry, place: place.into(), problem: problem.into() });
        } else {
            self.more += 1;
        }
    }

    /// Takes damage as a finding and lets any other failure stop the work.
    pub(super) fn take<T>(
        &mut self,
        place: &str,
        outcome: Result<T, LedgerError>,
    ) -> Result<Option<T>, LedgerError> {
        match outcome {
            Ok(value) => Ok(Some(value)),
            Err(LedgerError::Damaged { place: at, problem }) => {
                self.add(None, place, format!("it cannot be read ({at}: {problem})"));
                Ok(None)
            }
            Err(other) => Err(other),
        }
    }
}

/// The entry in the first four columns of a row.
pub(super) fn bad_entry(row: &rusqlite::Row<'_>) -> Result<BadEntry, LedgerError> {
    Ok(BadEntry { device: row.get(0)?, device_seq: row.get(1)?, kind: row.get(2)?, recorded_at: row.get(3)? })
}

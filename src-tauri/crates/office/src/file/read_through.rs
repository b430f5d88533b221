//! A ledger is read through before what it says is shown: a byte that the disk changed gives another figure than was
//! recorded, and nothing that asks for that figure alone could tell. What was read through and lies there as it did is
//! not read again: this computer keeps the sizes and times of what it found sound ([`Look`]).

use super::keep::{Checked, Tell};
use super::look::Look;
use desk::{Code, OfficeError};
use std::path::Path;

/// Reads a ledger through, unless it was and lies there as it did: entries, rows and stored totals; no photos and
/// papers, on which no figure rests.
///
/// # Errors
/// When it is not as it was written, cannot be opened, or the work was stopped.
pub fn read_through(path: &Path, progress: Tell<'_>) -> Result<(), OfficeError> {
    let look = Look::at(path);
    if look.as_ref().is_some_and(|look| look.is_known(path)) {
        return Ok(());
    }
    let found = Checked::of(&ledger::verify::verify_facts(path, progress)?, Vec::new());
    match (unsound(&found), look) {
        (Some(refusal), _) => Err(refusal),
        (None, Some(look)) => {
            look.was_sound(path);
            Ok(())
        }
        (None, None) => Ok(()),
    }
}

/// What is told of a file that is not as it was written.
#[must_use]
pub fn unsound(checked: &Checked) -> Option<OfficeError> {
    let first = checked.problems.first()?;
    let entry = first.entry.as_ref().map(|entry| format!(", entry {entry}")).unwrap_or_default();
    let beyond = checked.problems.len() as u64 - 1 + checked.more;
    let others = match beyond {
        0 => String::new(),
        1 => " One more place is not as it was written.".to_owned(),
        more => format!(" {more} more places are not as they were written."),
    };
    Some(OfficeError {
        code: Code::Damaged,
        field: None,
        message: format!(
            "This file was read through, and {}{entry}, is not as it was written: {}.{others} Figures from it may be \
             wrong.",
            first.place,
            first.problem.trim_end_matches('.')
        ),
        remedy:
            "Keep this file as it is, restore the last good back-up under another name, and compare the two."
                .to_owned(),
    })
}

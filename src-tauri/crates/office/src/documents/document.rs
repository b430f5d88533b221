//! A paper, ready to be saved.

use crate::paper_error::paper_error;
use desk::OfficeError;
use std::path::Path;

/// A paper, ready to be saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// A name for its file.
    pub name: String,
    /// The PDF.
    pub bytes: Vec<u8>,
}

impl Document {
    /// Saves it where a person chose: over what is there only where they said `replace`, and never over a ledger or
    /// what belongs to one. `ledger` is the one that is open.
    ///
    /// # Errors
    /// When something is there, or what the disk said; nothing is left half-written.
    pub fn save(&self, ledger: &Path, place: &Path, replace: bool) -> Result<(), OfficeError> {
        ledger::place::refuse_ledger(place, ledger)?;
        paperwork::single::write(place, &self.bytes, replace).map_err(|error| paper_error(&error))
    }
}

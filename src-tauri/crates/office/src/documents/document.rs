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
    /// Saves it where a person chose.
    ///
    /// # Errors
    /// What the disk said; nothing is left half-written.
    pub fn save(&self, place: &Path) -> Result<(), OfficeError> {
        paperwork::single::write(place, &self.bytes).map_err(|error| paper_error(&error))
    }
}

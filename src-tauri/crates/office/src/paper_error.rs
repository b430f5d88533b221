//! What the papers refuse, in the one shape of every face.

use desk::{Code, OfficeError};
use paperwork::{Cell, PaperworkError, Table};

/// As every face hears it.
pub(crate) fn paper_error(error: &PaperworkError) -> OfficeError {
    let code = match error {
        PaperworkError::Row { .. } | PaperworkError::Unreadable { .. } => Code::Damaged,
        PaperworkError::Occupied { .. } => Code::Occupied,
        PaperworkError::Io { .. } => Code::Io,
        PaperworkError::Paper(_) => Code::Paper,
    };
    OfficeError { code, field: None, message: error.to_string(), remedy: String::new() }
}

/// Adds a row to a table, refused as every face hears it.
pub(crate) trait AddRow {
    /// Adds a row.
    fn add(&mut self, row: Vec<Cell>) -> Result<(), OfficeError>;
}

impl AddRow for Table {
    fn add(&mut self, row: Vec<Cell>) -> Result<(), OfficeError> {
        self.push(row).map_err(|error| paper_error(&error))
    }
}

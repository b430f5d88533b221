//! What can go wrong with paper.

use std::path::PathBuf;

/// Why a file or a set of files could not be made.
#[derive(Debug, thiserror::Error)]
pub enum PaperworkError {
    /// A row does not fit its table, which is a mistake of the program's own.
    #[error("{table}, row {row}: {problem}. This is a fault of the program's own; please tell its makers.")]
    Row {
        /// The table.
        table: &'static str,
        /// The row, from 1.
        row: usize,
        /// What does not fit.
        problem: String,
    },
    /// A file that was read is not of the shape it should have.
    #[error("{table}, line {line}: {problem}. Take the file as it was handed off, without changes.")]
    Unreadable {
        /// The table.
        table: &'static str,
        /// The record in the file, from 1, the headings included.
        line: usize,
        /// What was found.
        problem: String,
    },
    /// Something else already has the name.
    #[error(
        "{path} already holds something else. Nothing was written: choose another folder, or move that one away."
    )]
    Occupied {
        /// What is in the way.
        path: PathBuf,
    },
    /// The disk or another part of the machine.
    #[error(
        "{what} {path}: {source}. Nothing was half-written: make room or choose another folder, and try again."
    )]
    Io {
        /// What was being done.
        what: &'static str,
        /// Where.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A paper could not be printed.
    #[error(transparent)]
    Paper(#[from] PaperError),
}

/// Why a paper could not be printed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PaperError {
    /// A photo is not a picture that can be printed.
    #[error(
        "The {paper} was not made: its photo {photo} is damaged, or neither a JPEG nor a PNG. Take the photo out or \
         put a good one in its place, and print again."
    )]
    Photo {
        /// The paper.
        paper: &'static str,
        /// The photo, by its caption or its number.
        photo: String,
    },
    /// The paper could not be set, which is a mistake of the program's own.
    #[error(
        "The {paper} was not made: {problem}. This is a fault of the program's own; please tell its makers. The \
         figures are safe, and can be read on the screen."
    )]
    Set {
        /// The paper.
        paper: &'static str,
        /// What the typesetter said.
        problem: String,
    },
}

pub(crate) fn io(
    what: &'static str,
    path: &std::path::Path,
) -> impl FnOnce(std::io::Error) -> PaperworkError {
    let path = path.to_owned();
    move |source| PaperworkError::Io { what, path, source }
}

//! What stops a chore, in words.

use std::path::{Path, PathBuf};

/// Why a chore stopped. Each message says what was being done and what to do next.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Trouble {
    /// The program is not there, or may not be started.
    #[error("`{call}` could not be started: {source}. Is the program installed and on PATH?")]
    NotStarted {
        /// The program and its words.
        call: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// The program ran and said no.
    #[error("`{call}` {how}.")]
    Refused {
        /// The program and its words.
        call: String,
        /// How it ended, as in "ended with code 101".
        how: String,
    },
    /// A file or folder of ours could not be read or written.
    #[error("{path} could not be {verb}: {source}.", path = path.display())]
    File {
        /// Which file or folder.
        path: PathBuf,
        /// What was tried, as a participle: "read", "written", "removed".
        verb: &'static str,
        /// What the system said.
        source: std::io::Error,
    },
    /// Anything else, already a whole sentence.
    #[error("{0}")]
    Said(String),
}

impl Trouble {
    /// Trouble that is already a sentence.
    pub(crate) fn said(sentence: impl Into<String>) -> Self {
        Self::Said(sentence.into())
    }

    /// For `map_err` on what the file system answered.
    pub(crate) fn file(path: &Path, verb: &'static str) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self::File { path, verb, source }
    }
}

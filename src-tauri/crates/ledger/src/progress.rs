//! How far long work has come, for whoever shows it and may stop it.

/// What long work is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Copying the ledger; counted in pages of the file.
    Copy,
    /// Reading the chain; counted in entries.
    Chain,
    /// Working out the stored totals; counted in entries.
    Totals,
    /// Reading or copying attachments; counted in files.
    Attachments,
    /// SQLite's own check of the file, which tells nothing of how far it is.
    File,
}

impl Stage {
    /// The stage in words.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Stage::Copy => "copying the ledger",
            Stage::Chain => "reading the chain",
            Stage::Totals => "working out the totals",
            Stage::Attachments => "reading the attachments",
            Stage::File => "checking the file",
        }
    }
}

/// How far it is. The work goes on as long as whoever is told answers `true`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// What it is at.
    pub stage: Stage,
    /// How many are done.
    pub done: u64,
    /// Of how many; 0 when that is not known.
    pub total: u64,
}

/// Who is told.
pub type Tell<'a> = &'a mut dyn FnMut(Progress) -> bool;

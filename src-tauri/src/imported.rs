//! The table that is being imported: kept between the looks at it, so that the page never names a path.

use office::Code;
use std::path::Path;
use std::sync::Arc;

use intake::{Choices, Kind};

use crate::refusal::Refusal;

/// The largest table that is read: 64 MiB.
pub(crate) const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// A table and how it was last read.
#[derive(Clone, Debug)]
pub(crate) struct Imported {
    pub(crate) bytes: Arc<Vec<u8>>,
    pub(crate) kind: Kind,
    pub(crate) choices: Choices,
}

/// Reads a table from the disk.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Refusal> {
    let trouble = |error: std::io::Error| {
        let message = format!("{} could not be read: {error}.", path.display());
        Refusal::new(Code::Io, message, "Choose another file, or copy it to this machine first.")
    };
    let size = std::fs::metadata(path).map_err(trouble)?.len();
    if size > MOST_BYTES {
        let message =
            format!("{} has {} MiB, and 64 MiB is the most.", path.display(), size.div_ceil(1024 * 1024));
        return Err(Refusal::new(Code::Refused, message, "Split it, by month or by year."));
    }
    std::fs::read(path).map_err(trouble)
}

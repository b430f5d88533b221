//! The table that is being imported: kept between the looks at it, so that the page never names a path.

use office::Code;
use std::path::Path;
use std::sync::Arc;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
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

/// A file that was dropped on the page, which never learns where it lies.
pub(crate) fn dropped(bytes_base64: &str) -> Result<Vec<u8>, Refusal> {
    let most = usize::try_from(MOST_BYTES).unwrap_or(usize::MAX);
    if bytes_base64.len() / 4 * 3 > most {
        let remedy = "Split it, by month or by year.";
        return Err(Refusal::new(Code::Refused, "The file has more than 64 MiB, which is the most.", remedy));
    }
    let whole = STANDARD.decode(bytes_base64);
    whole.map_err(|_| {
        Refusal::new(Code::Refused, "The file did not arrive whole.", "Drop it again, or choose it.")
    })
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

//! Where a ledger lies: the names beside its own that belong to it, and whether the file under its name still is the
//! one that was opened.

use crate::error::{LedgerError, io};
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

/// The application id as its bytes stand in the file.
const APPLICATION_ID: &[u8] = b"TRFF";

/// SQLite's smallest page: no file of its is shorter, save an empty one.
pub(crate) const SHORTEST_BYTES: u64 = 512;

/// What a file named `ledger` has beside it: `ledger-wal`, `ledger.lock`, `ledger.key` and so on. SQLite and this
/// program read, replace and remove these on their own, so nothing else may have such a name.
const COMPANIONS: [&str; 6] = ["-wal", "-shm", "-journal", ".lock", ".attachments", KEYS];

/// The ending of the file that holds the device's secret keys.
pub const KEYS: &str = ".key";

pub(crate) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

/// The file to which a path belongs as its log, lock or attachment, where there is such a file.
fn owner(path: &Path) -> Option<PathBuf> {
    path.ancestors().find_map(|step| {
        let text = step.as_os_str().to_str()?;
        COMPANIONS.iter().find_map(|suffix| {
            let ledger = PathBuf::from(text.strip_suffix(suffix)?);
            (ledger.file_name().is_some() && ledger.is_file()).then_some(ledger)
        })
    })
}

/// Refuses a name that belongs to a ledger.
pub(crate) fn refuse_companion(path: &Path) -> Result<(), LedgerError> {
    match owner(path) {
        Some(ledger) => Err(LedgerError::Companion { path: path.to_owned(), ledger }),
        None => Ok(()),
    }
}

/// Refuses a place for a new ledger that is taken, belongs to another one, or has something beside it that would be
/// taken for its log or its attachments. A link that leads nowhere is in the way too.
pub(crate) fn refuse_taken(to: &Path) -> Result<(), LedgerError> {
    refuse_companion(to)?;
    let beside = COMPANIONS.iter().filter(|suffix| **suffix != ".lock").map(|suffix| beside(to, suffix));
    for taken in std::iter::once(to.to_owned()).chain(beside) {
        if taken.exists() || taken.is_symlink() {
            return Err(LedgerError::Exists(taken));
        }
    }
    Ok(())
}

/// Refuses to write something else over a ledger, or under a name that belongs to one. `opened` is the ledger that
/// this program has open: it is told by its number alone, since looking into it would drop SQLite's locks on it.
///
/// # Errors
/// When there is a ledger, or a part of one.
pub fn refuse_ledger(place: &Path, opened: &Path) -> Result<(), LedgerError> {
    refuse_companion(place)?;
    let Ok(there) = std::fs::metadata(place) else { return Ok(()) };
    let same = Identity::of(opened)? == Identity::told(&there) && cfg!(unix) || place == opened;
    if same || is_ledger(place) {
        return Err(LedgerError::Exists(place.to_owned()));
    }
    Ok(())
}

/// Which file lies under a name: its device and number, as the system counts them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Identity(u64, u64);

impl Identity {
    /// The file that lies there now. Elsewhere than on Unix an open file can be neither moved nor removed.
    pub(crate) fn of(path: &Path) -> Result<Identity, LedgerError> {
        let meta =
            std::fs::metadata(path).map_err(io(format!("{} could not be looked at", path.display())))?;
        Ok(Identity::told(&meta))
    }

    #[cfg(unix)]
    pub(crate) fn told(meta: &std::fs::Metadata) -> Identity {
        use std::os::unix::fs::MetadataExt;
        Identity(meta.dev(), meta.ino())
    }

    #[cfg(not(unix))]
    pub(crate) fn told(_: &std::fs::Metadata) -> Identity {
        Identity(0, 0)
    }

    /// Refuses when another file, or none, lies there by now.
    pub(crate) fn still_at(self, path: &Path) -> Result<(), LedgerError> {
        match std::fs::metadata(path) {
            Ok(meta) if Identity::told(&meta) == self => Ok(()),
            _ => Err(LedgerError::Replaced(path.to_owned())),
        }
    }
}

/// Refuses to write to a file that has a second name: each name would have a log and a lock of its own, and what is
/// written through one is lost through the other (SQLite's page “How To Corrupt An SQLite Database File”, section
/// 2.5).
pub(crate) fn refuse_linked(path: &Path) -> Result<(), LedgerError> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let meta =
            std::fs::metadata(path).map_err(io(format!("{} could not be looked at", path.display())))?;
        if meta.nlink() > 1 {
            return Err(LedgerError::Linked(path.to_owned()));
        }
    }
    #[cfg(not(unix))]
    let _ = path;
    Ok(())
}

/// Whether a file that this program does not have open begins as a ledger does, as far as it goes.
pub(crate) fn is_ledger(path: &Path) -> bool {
    const MAGIC: &[u8] = b"SQLite format 3\0";
    let mut head = Vec::new();
    let read = File::open(path).and_then(|file| file.take(SHORTEST_BYTES).read_to_end(&mut head));
    // It stands at byte 68 (SQLite's page “Database File Format”, section 1.3).
    let ours = head.get(68..72).is_none_or(|found| found == APPLICATION_ID);
    read.is_ok() && head.starts_with(MAGIC) && ours
}

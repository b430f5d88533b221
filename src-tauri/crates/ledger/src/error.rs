//! What can go wrong with a ledger, said so that a person knows what happened, what was kept and what to do.

use crate::id::Id;
use std::path::PathBuf;

/// Any failure of this crate.
#[derive(Debug, thiserror::Error)]
pub enum LedgerError {
    /// A fact that the books cannot take.
    #[error("{field}: {problem}. {remedy}.")]
    Refused {
        /// The field, in the words of the fact's JSON.
        field: String,
        /// What was wrong.
        problem: String,
        /// What to do.
        remedy: String,
    },
    /// The file is not there.
    #[error("There is no file at {0}. Check the path, or make a new firm there.")]
    Missing(PathBuf),
    /// A new ledger was to be made where something already is.
    #[error("{0} already exists. Nothing was overwritten: choose another name.")]
    Exists(PathBuf),
    /// Not a ledger of ours.
    #[error("{path} is not a Tearoff ledger: {why}. Nothing was changed.")]
    Foreign {
        /// The file.
        path: PathBuf,
        /// How it is told.
        why: String,
    },
    /// Written by a later version.
    #[error(
        "{path} was written by a later Tearoff (file version {found}, this program knows {known}). \
         Nothing was changed: install the later program to open it."
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// Ours.
        known: i64,
    },
    /// On a network or synced folder.
    #[error(
        "{path} lies on a network file system ({kind}), where a ledger can be torn by two machines at once. \
         Nothing was opened: keep the ledger on this machine's own disk and back it up to the network instead."
    )]
    NetworkPlace {
        /// The file.
        path: PathBuf,
        /// The file system.
        kind: String,
    },
    /// A name that belongs to a ledger.
    #[error(
        "{path} belongs to the ledger {ledger}: it would be taken for its log, its lock or its attachments. \
         Nothing was written: choose another name."
    )]
    Companion {
        /// The name.
        path: PathBuf,
        /// The ledger.
        ledger: PathBuf,
    },
    /// A file with several names.
    #[error(
        "{0} has more than one name (hard links): what is written through one would be lost through the other. \
         Nothing was written: copy the ledger by a back-up, and remove the other name."
    )]
    Linked(PathBuf),
    /// Another file, or none, lies where the open one was.
    #[error(
        "{0} is no longer the file that was opened: it was moved, removed or replaced meanwhile. What was just \
         entered is not in the file that lies there now: find the one that was moved, or enter it again."
    )]
    Replaced(PathBuf),
    /// Something else where the lock should be.
    #[error(
        "{path} should be the lock of a ledger, but {why}. Nothing was changed: move it away, then open again."
    )]
    Lock {
        /// The lock's place.
        path: PathBuf,
        /// What lies there.
        why: String,
    },
    /// Another process writes.
    #[error(
        "{path} is open for writing in another window or program ({holder}). \
         It can be read here; to write, close it there."
    )]
    Busy {
        /// The file.
        path: PathBuf,
        /// Who holds it, as far as is known.
        holder: String,
    },
    /// Another program, not one of ours, holds on to the file.
    #[error(
        "Another program has the ledger open and did not let go of it within five seconds, such as a tool that reads \
         databases. Nothing was half-written: close it there, then try again."
    )]
    Held,
    /// A setting of the connection could not be made to hold.
    #[error("SQLite would not set {pragma} to {wanted} (it stands at {found}), so the file was not opened.")]
    Pragma {
        /// The setting.
        pragma: &'static str,
        /// What it should be.
        wanted: String,
        /// What it is.
        found: String,
    },
    /// The same id with other content.
    #[error(
        "Entry {id} is already in the ledger with other content than is now offered. Nothing was written: \
         two programs made the same id, or a copy was altered. Run verify and keep both copies."
    )]
    Alarm {
        /// The id.
        id: Id,
    },
    /// Something in the file is not as it was written.
    #[error("{place}: {problem}. Nothing was changed: restore the last good back-up, and keep this file.")]
    Damaged {
        /// Table, entry or file.
        place: String,
        /// What was found.
        problem: String,
    },
    /// Not what this computer last saw at this place.
    #[error("{path}: {problem}. Nothing was changed. {remedy}")]
    OtherEnd {
        /// The file.
        path: PathBuf,
        /// How it is told.
        problem: String,
        /// What to do.
        remedy: String,
    },
    /// Long work was stopped by the person.
    #[error("Stopped as asked. Nothing was half-written.")]
    Stopped,
    /// The disk or another part of the machine.
    #[error("{what}: {source}. Nothing was half-written.")]
    Io {
        /// What was being done.
        what: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// SQLite itself.
    #[error("The ledger could not do that: {0}. Nothing was half-written.")]
    Sqlite(rusqlite::Error),
}

impl From<rusqlite::Error> for LedgerError {
    fn from(error: rusqlite::Error) -> LedgerError {
        use rusqlite::Error::{
            FromSqlConversionFailure, IntegralValueOutOfRange, InvalidColumnType, Utf8Error,
        };
        if let FromSqlConversionFailure(..)
        | IntegralValueOutOfRange(..)
        | InvalidColumnType(..)
        | Utf8Error(..) = error
        {
            return LedgerError::Damaged {
                place: "The ledger file".to_owned(),
                problem: format!("a column holds what it cannot hold ({error})"),
            };
        }
        if matches!(error, rusqlite::Error::QueryReturnedNoRows) {
            return LedgerError::Damaged {
                place: "The ledger file".to_owned(),
                problem: "a row that another row names is missing".to_owned(),
            };
        }
        match error.sqlite_error_code() {
            Some(rusqlite::ErrorCode::DiskFull) => LedgerError::Io {
                what: "The disk is full; make room and try again".to_owned(),
                source: std::io::ErrorKind::StorageFull.into(),
            },
            Some(rusqlite::ErrorCode::DatabaseBusy | rusqlite::ErrorCode::DatabaseLocked) => LedgerError::Held,
            Some(rusqlite::ErrorCode::DatabaseCorrupt | rusqlite::ErrorCode::NotADatabase) => {
                LedgerError::Damaged {
                    place: "The ledger file".to_owned(),
                    problem: format!("SQLite found it damaged ({error})"),
                }
            }
            Some(
                rusqlite::ErrorCode::CannotOpen
                | rusqlite::ErrorCode::PermissionDenied
                | rusqlite::ErrorCode::ReadOnly,
            ) => LedgerError::Io {
                what: "The ledger or its folder cannot be written; see who may write there, and whether the disk is \
                       read-only"
                    .to_owned(),
                source: std::io::Error::other(error),
            },
            Some(rusqlite::ErrorCode::SystemIoFailure) => LedgerError::Io {
                what: "The disk did not do what was asked of it; check that it has room and is well"
                    .to_owned(),
                source: std::io::Error::other(error),
            },
            _ => LedgerError::Sqlite(error),
        }
    }
}

/// A refusal with its three parts.
pub(crate) fn refuse<T>(
    field: impl Into<String>,
    problem: impl Into<String>,
    remedy: impl Into<String>,
) -> Result<T, LedgerError> {
    Err(LedgerError::Refused { field: field.into(), problem: problem.into(), remedy: remedy.into() })
}

pub(crate) fn io(what: impl Into<String>) -> impl FnOnce(std::io::Error) -> LedgerError {
    let what = what.into();
    move |source| LedgerError::Io { what, source }
}

pub(crate) fn damaged(place: impl Into<String>) -> impl FnOnce(String) -> LedgerError {
    let place = place.into();
    move |problem| LedgerError::Damaged { place, problem }
}

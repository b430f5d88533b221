//! What can go wrong between devices, said so that a person knows what happened and what to do.

use desk::{Code, OfficeError};
use ledger::LedgerError;

/// Any failure of this crate.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The store cannot be reached now.
    #[error("The store cannot be reached: {0}. Nothing is lost: it is tried again at the next exchange.")]
    Store(String),
    /// The store was reached, and does not let this device in.
    #[error("The store lets nobody in with this address, user and secret: {0}. Nothing was sent.")]
    Denied(String),
    /// Something else lies in the store.
    #[error(
        "Another firm's parcels lie in this store. Nothing was sent: give each firm a folder of its own."
    )]
    AnotherFirms,
    /// The store's address.
    #[error("{0}.")]
    Address(String),
    /// No store was chosen yet.
    #[error("No store is chosen for this file.")]
    NoStore,
    /// This copy has joined no firm, or its keys were left behind.
    #[error("This file has no keys of a device beside it.")]
    NoKeys,
    /// A parcel is not what its name says, or not for this device.
    #[error("Parcel {name} cannot be opened: {problem}. Its sender is asked for it again.")]
    Parcel {
        /// Its name.
        name: String,
        /// What is wrong.
        problem: String,
    },
    /// A parcel file of which nothing is for this device.
    #[error("Nothing in this parcel is for this device. Nothing was taken in.")]
    NotForUs,
    /// A file that is no parcel or joining file.
    #[error("{0}. Nothing was changed.")]
    NoSuchFile(String),
    /// A joining file and a passphrase that do not go together.
    #[error("That is not the passphrase of this joining file.")]
    Passphrase,
    /// The keys of this device.
    #[error("The keys of this device: {0}.")]
    Keys(String),
    /// The firm knows the device of these letters by another key.
    #[error(
        "The firm knows device {0} by another key: two devices were given this letter, or another file's keys lie \
         beside this one. Nothing was sent."
    )]
    AnothersLetter(String),
    /// A person stopped it.
    #[error("Stopped as asked. What came until then stays, and what is left comes at the next exchange.")]
    Stopped,
    /// The ledger.
    #[error(transparent)]
    Ledger(#[from] LedgerError),
    /// The desk.
    #[error("{0}")]
    Desk(#[from] OfficeError),
}

impl ExchangeError {
    fn parts(&self) -> (Code, Option<&'static str>, &'static str) {
        match self {
            ExchangeError::Store(_) => (Code::Offline, None, ""),
            ExchangeError::Denied(_) => {
                (Code::Refused, Some("store"), "Check them, and choose the store once more.")
            }
            ExchangeError::AnotherFirms => (Code::Refused, Some("store"), ""),
            ExchangeError::Address(_) => (
                Code::Refused,
                Some("store"),
                "Name a folder, or begin with https://, sftp://, s3:// or postgresql://.",
            ),
            ExchangeError::NoStore => {
                (Code::NotFound, Some("store"), "Choose where parcels lie first, or carry them by hand.")
            }
            ExchangeError::NoKeys => {
                (Code::NotFound, None, "Let the owner add this device, and join with the file that gives.")
            }
            ExchangeError::Parcel { .. } | ExchangeError::Keys(_) => (Code::Damaged, None, ""),
            ExchangeError::AnothersLetter(_) => (
                Code::Refused,
                Some("device"),
                "Let the owner add a device on another one, then give this file the letter of its joining file.",
            ),
            ExchangeError::NotForUs => (
                Code::Refused,
                Some("parcel"),
                "It is another firm's, or was made before this device was added: ask for a new one.",
            ),
            ExchangeError::NoSuchFile(_) => (Code::Foreign, None, "Choose the file that was handed over."),
            ExchangeError::Passphrase => (Code::Refused, Some("passphrase"), "Type it again."),
            ExchangeError::Stopped => (Code::Stopped, None, ""),
            ExchangeError::Ledger(_) | ExchangeError::Desk(_) => (Code::Io, None, ""),
        }
    }
}

impl From<ExchangeError> for OfficeError {
    fn from(error: ExchangeError) -> OfficeError {
        match error {
            ExchangeError::Ledger(error) => error.into(),
            ExchangeError::Desk(error) => error,
            other => {
                let (code, field, remedy) = other.parts();
                let (field, remedy) = (field.map(str::to_owned), remedy.to_owned());
                OfficeError { code, field, message: other.to_string(), remedy }
            }
        }
    }
}

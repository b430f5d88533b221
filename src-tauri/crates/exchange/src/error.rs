//! What can go wrong between devices, said so that a person knows what happened and what to do.

use ledger::LedgerError;

/// Any failure of this crate.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The store cannot be reached, or refuses.
    #[error("The store could not do that: {0}. Nothing is lost: it is tried again at the next exchange.")]
    Store(String),
    /// A parcel is not what its name says, or not for this device.
    #[error("Parcel {name} cannot be opened: {problem}. Its sender is asked for it again.")]
    Parcel {
        /// Its name.
        name: String,
        /// What is wrong.
        problem: String,
    },
    /// The keys of this device.
    #[error("The keys of this device: {0}.")]
    Keys(String),
    /// The ledger.
    #[error(transparent)]
    Ledger(#[from] LedgerError),
    /// The desk.
    #[error("{0}")]
    Desk(#[from] desk::OfficeError),
}

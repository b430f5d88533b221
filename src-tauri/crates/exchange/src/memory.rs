//! What a device remembers of the store between exchanges.

use crate::error::ExchangeError;
use crate::index::{Index, MEMORY, Note};
use ledger::{Books, Ledger, LedgerError};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// What a device remembers of the store between exchanges.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Memory {
    pub(crate) index: Index,
    pub(crate) head: Option<String>,
    /// Whether something was put there that its index does not say yet.
    pub(crate) unsaid: bool,
    pub(crate) seen: BTreeMap<String, u64>,
    pub(crate) taken: BTreeSet<String>,
    /// Of those, the parcels with facts that name what this copy for the site did not hold. They are fetched again once
    /// something new has come.
    pub(crate) aside: BTreeSet<String>,
    /// How jobs ended, as far as copies for the site were told of it.
    pub(crate) ends_told: BTreeSet<String>,
    pub(crate) lacking: BTreeMap<String, u32>,
    /// What this file put there under letters that it no longer has.
    pub(crate) left_behind: Option<LeftBehind>,
    /// For how many exchanges a file that some device lacks has lain in no parcel, by its hash.
    pub(crate) unserved: BTreeMap<String, u32>,
}

/// Parcels under letters that another file keeps. Nobody fetches them, and the one that keeps the letters knows nothing
/// of them: whoever put them there takes them away.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct LeftBehind {
    pub(crate) device: String,
    pub(crate) parcels: BTreeSet<String>,
}

impl Memory {
    /// All that it has put there under the letters that it has now, to be taken away under others.
    pub(crate) fn left_behind_as(&self, device: &str) -> LeftBehind {
        let pieces = self.index.files.iter().flat_map(|file| &file.pieces);
        let parcels =
            self.parcels().map(|note| &note.name).chain(pieces).chain(&self.head).cloned().collect();
        LeftBehind { device: device.to_owned(), parcels }
    }

    /// What it has put there.
    pub(crate) fn parcels(&self) -> impl Iterator<Item = &Note> {
        self.index.parcels.iter()
    }

    /// Whether it has left its head in this store.
    pub(crate) fn has_been_here(&self) -> bool {
        self.head.is_some()
    }
}

/// Keeps what is remembered.
pub(crate) fn remember(ledger: &mut Ledger, memory: &Memory) -> Result<(), ExchangeError> {
    let text = serde_json::to_string(memory).map_err(|error| ExchangeError::Store(error.to_string()))?;
    if ledger.reading().setting(MEMORY)?.as_deref() != Some(&text) {
        ledger.set_setting(MEMORY, &text)?;
    }
    Ok(())
}

/// What is not read is begun anew: it is only what spares work.
pub(crate) fn remembered(books: Books<'_>) -> Result<Memory, LedgerError> {
    let text = books.setting(MEMORY)?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
}

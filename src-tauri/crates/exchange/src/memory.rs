//! What a device remembers of the store between exchanges.

use crate::index::{Index, MEMORY, Note};
use ledger::{Books, LedgerError};
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
    pub(crate) lacking: BTreeMap<String, u32>,
    /// For how many exchanges a file that some device lacks has lain in no parcel, by its hash.
    pub(crate) unserved: BTreeMap<String, u32>,
}

impl Memory {
    /// What it has put there.
    pub(crate) fn parcels(&self) -> impl Iterator<Item = &Note> {
        self.index.parcels.iter()
    }

    /// Whether it has left its head in this store.
    pub(crate) fn has_been_here(&self) -> bool {
        self.head.is_some()
    }
}

/// What is not read is begun anew: it is only what spares work.
pub(crate) fn remembered(books: Books<'_>) -> Result<Memory, LedgerError> {
    let text = books.setting(MEMORY)?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
}

//! What a device says it has put into the store.

use ledger::Digest;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// Who a parcel is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Audience {
    /// Devices that hold every fact.
    Office,
    /// Copies for the site: open parts only.
    Site,
}

/// Consecutive entries of one device.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Span {
    /// The device's letters.
    pub device: String,
    /// The first.
    pub first: i64,
    /// The last.
    pub last: i64,
}

/// A parcel that lies in the store.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// Its name: the hash of its bytes.
    pub name: String,
    /// Who it is for.
    pub audience: Audience,
    /// The devices it is locked to.
    pub to: BTreeSet<String>,
    /// What is in it.
    pub span: Span,
}

/// A photo or paper that lies in the store, in pieces.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileNote {
    /// The hash of the whole.
    pub hash: Digest,
    /// The devices that its pieces are locked to.
    pub to: BTreeSet<String>,
    /// The parcels that hold its pieces, in order: all of them, or the first ones.
    pub pieces: Vec<String>,
}

/// What a device has put into the store, and what it has from there.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Index {
    /// Greater than that of every earlier index of the device.
    pub counter: u64,
    /// Its parcels.
    pub parcels: Vec<Note>,
    /// How far it has each device's chain.
    pub holds: BTreeMap<String, i64>,
    /// Parcels that it found damaged: whoever sent one sends it again.
    pub damaged: BTreeSet<String>,
    /// The jobs whose facts its parcels for the site hold.
    pub jobs_on_site: BTreeSet<String>,
    /// Photos and papers that it has put there for devices that lack them.
    pub files: Vec<FileNote>,
    /// Files that it lacks, of those that its facts name.
    pub lacks: BTreeSet<Digest>,
    /// Whether it lacks more than it says.
    pub lacks_more: bool,
    /// The hash of the last entry that it has of each device: by it two files that write under the same letters are
    /// told apart.
    pub ends: BTreeMap<String, Digest>,
}

impl Index {
    /// The last entry that it has of a device, and that one's hash.
    #[must_use]
    pub(crate) fn end(&self, device: &str) -> Option<(i64, Digest)> {
        Some((*self.holds.get(device)?, *self.ends.get(device)?))
    }
}

/// The name of the head that points at an index: all there is to know that something is new.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct HeadName {
    /// The device.
    pub(crate) device: String,
    /// The counter of its index.
    pub(crate) counter: u64,
    /// The parcel that holds the index.
    pub(crate) parcel: String,
}

/// The setting that holds what a device remembers of the store.
pub(crate) const MEMORY: &str = "exchange";

/// The folder in which a firm leaves its name, the key of its first device.
pub(crate) const FIRMS: &str = "firm/";
/// The folder of heads.
pub(crate) const HEADS: &str = "heads/";
/// The folder of parcels.
pub(crate) const PARCELS: &str = "parcels/";

impl HeadName {
    /// The name in the store.
    #[must_use]
    pub(crate) fn path(&self) -> String {
        format!("{HEADS}{}-{:016}-{}", self.device, self.counter, self.parcel)
    }

    /// Reads a name; nothing for any other file that somebody has put there.
    #[must_use]
    pub(crate) fn read(path: &str) -> Option<HeadName> {
        let mut parts = path.strip_prefix(HEADS)?.split('-');
        let (device, counter, parcel) = (parts.next()?, parts.next()?, parts.next()?);
        let is_device = !device.is_empty() && device.bytes().all(|sign| sign.is_ascii_uppercase());
        let is_hash = parcel.len() == 64 && parcel.bytes().all(|sign| sign.is_ascii_hexdigit());
        if parts.next().is_some() || !is_device || !is_hash {
            return None;
        }
        Some(HeadName {
            device: device.to_owned(),
            counter: counter.parse().ok()?,
            parcel: parcel.to_owned(),
        })
    }
}

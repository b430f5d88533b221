//! What is said of parts that were offered.

use crate::roster::Member;
use std::collections::{BTreeMap, BTreeSet};

/// What became of parts that were offered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TakenIn {
    /// How many entries of each device were taken in now.
    pub taken: BTreeMap<String, u64>,
    /// The devices whose parts wait for something that has not come yet, each with what.
    pub waiting: BTreeMap<String, String>,
    /// Entries by device and number that a copy for the site took in without their facts, which name what it does not
    /// hold: they are filled in when they are offered again once it does.
    pub aside: BTreeSet<(String, i64)>,
    /// What cannot be taken in, and why.
    pub refused: Vec<RefusedPart>,
    /// Devices under whose letters two files wrote.
    pub forks: Vec<Fork>,
}

/// A part that cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RefusedPart {
    /// Its device.
    pub device: String,
    /// Its last entry.
    pub device_seq: i64,
    /// Why.
    pub problem: String,
}

/// Two files wrote under the same letters: from this entry on they differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fork {
    /// The letters.
    pub device: String,
    /// The first entry that differs.
    pub device_seq: i64,
}

/// Whether a device may have recorded a fact of a kind.
pub type MayRecord<'a> = &'a dyn Fn(&Member, &str) -> bool;

/// The setting that holds the founder's key in a copy that has just joined and has no roster yet.
pub const FOUNDER_KEY: &str = "founder-key";

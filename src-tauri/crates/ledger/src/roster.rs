//! The roster: which devices are the firm's, by which key each is known, and from which entry on one that left is no
//! longer believed. It is worked out from facts, so that every device comes to the same one.

use crate::closed_lists::Role;
use crate::device;
use crate::error::LedgerError;
use crate::facts::{Device, DeviceLeft};
use crate::id::{Id, PublicKey};
use crate::read::{Books, Entered};
use std::collections::{BTreeMap, BTreeSet};

/// The letter of the device on which the firm's books were made: it vouches for itself, and for the others.
pub const FOUNDER: &str = "A";

/// A device of the firm.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// The fact that added it.
    pub id: Id,
    /// Its letters.
    pub letter: String,
    /// What people call it.
    pub name: String,
    /// What it may hold.
    pub role: Role,
    /// Whose it is.
    pub person: Option<Id>,
    /// The key that it signs with.
    pub signs_with: PublicKey,
    /// What parcels to it are locked with.
    pub locks_with: String,
    /// The last entry of it that is believed, once it has left.
    pub last_seq: Option<i64>,
}

impl Member {
    /// Whether it holds the open part only.
    #[must_use]
    pub fn is_site_copy(&self) -> bool {
        self.role == Role::Crew
    }
}

/// The devices of the firm that have a key, by their letters.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Roster {
    members: BTreeMap<(usize, String), Member>,
}

/// What a device fact says, and where it was written.
pub(crate) struct Said<T> {
    pub(crate) by: String,
    pub(crate) id: Id,
    pub(crate) fact: T,
}

impl<T> From<Entered<T>> for Said<T> {
    fn from(entered: Entered<T>) -> Said<T> {
        Said { by: entered.entry.device, id: entered.entry.id, fact: entered.fact }
    }
}

impl Roster {
    /// Works the roster out. Only the founder and the owner's devices add devices; the first to have a letter has it.
    /// Once an owner's device says that one left, the furthest entry counts that any believed device says it had
    /// before it knew: nobody's work that rests on those entries is lost.
    pub(crate) fn of(devices: &[Said<Device>], left: &[Said<DeviceLeft>]) -> Roster {
        let mut roster = Roster::default();
        while let Some(member) = devices.iter().find_map(|said| roster.next_member(said)) {
            roster.members.insert(key(&member.letter), member);
        }
        let owners: BTreeSet<Id> =
            left.iter().filter(|said| roster.is_owners(&said.by)).map(|said| said.fact.device).collect();
        for said in left.iter().filter(|said| owners.contains(&said.fact.device)) {
            if roster.member(&said.by).is_none() {
                continue;
            }
            if let Some(member) = roster.members.values_mut().find(|member| member.id == said.fact.device) {
                member.last_seq = member.last_seq.max(Some(said.fact.last_seq));
            }
        }
        roster
    }

    /// The device of a fact that is not yet a member and is to be one.
    fn next_member(&self, said: &Said<Device>) -> Option<Member> {
        let fact = &said.fact;
        let vouched = (fact.letter == FOUNDER && said.by == FOUNDER) || self.is_owners(&said.by);
        if !vouched || self.member(&fact.letter).is_some() {
            return None;
        }
        Some(Member {
            id: said.id,
            letter: fact.letter.clone(),
            name: fact.name.clone(),
            role: fact.role.unwrap_or(Role::Crew),
            person: fact.person,
            signs_with: fact.signs_with?,
            locks_with: fact.locks_with.clone()?,
            last_seq: None,
        })
    }

    fn is_owners(&self, letter: &str) -> bool {
        self.member(letter).is_some_and(|member| member.role == Role::Owner)
    }

    /// The device with these letters.
    #[must_use]
    pub fn member(&self, letter: &str) -> Option<&Member> {
        self.members.get(&key(letter))
    }

    /// Every device, in the order of their letters.
    pub fn members(&self) -> impl Iterator<Item = &Member> {
        self.members.values()
    }

    /// The devices that have not left.
    pub fn present(&self) -> impl Iterator<Item = &Member> {
        self.members().filter(|member| member.last_seq.is_none())
    }
}

fn key(letter: &str) -> (usize, String) {
    let (length, letters, _) = device::order(letter, 0);
    (length, letters.to_owned())
}

impl Books<'_> {
    /// The devices of the firm.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub fn roster(&self) -> Result<Roster, LedgerError> {
        let devices: Vec<Said<Device>> = self.all::<Device>()?.into_iter().map(Said::from).collect();
        let left: Vec<Said<DeviceLeft>> = self.all::<DeviceLeft>()?.into_iter().map(Said::from).collect();
        Ok(Roster::of(&devices, &left))
    }
}

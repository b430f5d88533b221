//! What to fetch and what to send: pure functions of what a device has, what the others say, and what the store lists.

use crate::index::{Audience, Index, Note, Span};
use std::collections::{BTreeMap, BTreeSet};

/// How things stand for one device.
#[derive(Clone, Debug)]
pub struct Standing<'a> {
    /// Its letters.
    pub me: &'a str,
    /// What it may be sent.
    pub audience: Audience,
    /// How far it has each device's chain, up to a head that the device signed.
    pub holds: &'a BTreeMap<String, i64>,
    /// What it says itself.
    pub mine: &'a Index,
    /// What the others say.
    pub others: &'a BTreeMap<String, Index>,
    /// The parcels that the store lists.
    pub listed: &'a BTreeSet<String>,
    /// The devices of each audience that have not left.
    pub present: &'a BTreeMap<Audience, BTreeSet<String>>,
    /// For how many exchanges the store has lacked some of a device's chain that is here.
    pub lacking: &'a BTreeMap<String, u32>,
    /// Its own last entry whose fact has left this copy for the site: an office has it, and hands it on.
    pub left_through: i64,
}

/// A part of a chain that is to be sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wish {
    /// Who it is for.
    pub audience: Audience,
    /// What it is.
    pub span: Span,
}

/// After so many exchanges in which the store lacked it, a device hands on what is another's.
pub(crate) const PATIENCE: u32 = 3;

impl Standing<'_> {
    /// Every parcel that is there and was not found damaged.
    fn sound(&self) -> impl Iterator<Item = &Note> {
        let indexes = || self.others.values().chain(std::iter::once(self.mine));
        let is_damaged = move |name: &String| indexes().any(|index| index.damaged.contains(name));
        indexes()
            .flat_map(|index| &index.parcels)
            .filter(move |note| self.listed.contains(&note.name) && !is_damaged(&note.name))
    }

    /// How far the store has a device's chain, from its beginning, for everybody of an audience.
    #[must_use]
    pub fn covered(&self, device: &str, audience: Audience) -> i64 {
        self.covered_after(device, audience, 0)
    }

    /// The same of what comes after an entry.
    fn covered_after(&self, device: &str, audience: Audience, after: i64) -> i64 {
        let everybody = self.present.get(&audience);
        let mut spans: Vec<&Span> = self
            .sound()
            .filter(|note| note.audience == audience && note.span.device == device)
            .filter(|note| everybody.is_none_or(|everybody| everybody.is_subset(&note.to)))
            .map(|note| &note.span)
            .collect();
        spans.sort();
        let mut end = after;
        for span in spans {
            if span.first <= end + 1 {
                end = span.last.max(end);
            }
        }
        end
    }
}

/// The parcels to fetch. An office fetches what carries a chain on from where it has it; a copy for the site fetches
/// each parcel once, since a later one may bring facts of entries that it has.
#[must_use]
pub fn plan_fetch(standing: &Standing<'_>, taken: &BTreeSet<String>) -> Vec<String> {
    let mut for_me: BTreeMap<&str, Vec<&Note>> = BTreeMap::new();
    for note in standing.sound() {
        if note.audience == standing.audience && note.to.contains(standing.me) {
            for_me.entry(&note.span.device).or_default().push(note);
        }
    }
    let mut wanted = Vec::new();
    for (device, notes) in for_me {
        if device == standing.me
            && let Some(other) = standing.others.get(device)
        {
            wanted.extend(written_elsewhere(standing.mine, other, &notes));
            continue;
        }
        if standing.audience == Audience::Site {
            let is_needed = |note: &&&Note| device != standing.me && !taken.contains(&note.name);
            wanted.extend(notes.iter().filter(is_needed).map(|note| note.name.clone()));
            continue;
        }
        let mut end = standing.holds.get(device).copied().unwrap_or(0);
        let next = |end: i64| {
            let is_new = |note: &&&Note| {
                note.span.first <= end + 1 && note.span.last > end && !taken.contains(&note.name)
            };
            let carries_on = notes.iter().filter(is_new);
            carries_on.max_by_key(|note| note.span.last)
        };
        while let Some(note) = next(end) {
            wanted.push(note.name.clone());
            end = note.span.last;
        }
    }
    wanted
}

/// What another file, or its own before it fell back to an older state, has put there under its letters.
fn written_elsewhere(mine: &Index, other: &Index, notes: &[&Note]) -> Vec<String> {
    let has_put = |index: &Index, note: &Note| index.parcels.iter().any(|put| put.name == note.name);
    let mut theirs: Vec<&&Note> =
        notes.iter().filter(|note| has_put(other, note) && !has_put(mine, note)).collect();
    theirs.sort_by_key(|note| (note.span.first, note.span.last));
    theirs.into_iter().map(|note| note.name.clone()).collect()
}

/// What to send: of its own chain all that the store lacks; of another's what it has lacked for some time.
#[must_use]
pub fn plan_send(standing: &Standing<'_>) -> Vec<Wish> {
    let mut wishes = Vec::new();
    for (audience, everybody) in standing.present {
        for (device, last) in standing.holds {
            let is_own = device == standing.me;
            // Its own device is a reader too: its file may have fallen back to an older state.
            let has_readers = everybody.iter().any(|reader| reader != standing.me);
            let is_due = is_own || standing.lacking.get(device).copied().unwrap_or(0) >= PATIENCE;
            // A copy for the site has only the open part of what is another's.
            let may_hand_on = is_own || standing.audience == Audience::Office;
            let left = if is_own && *audience == Audience::Office { standing.left_through } else { 0 };
            let covered = standing.covered_after(device, *audience, left);
            if has_readers && is_due && may_hand_on && covered < *last {
                let span = Span { device: device.clone(), first: covered + 1, last: *last };
                wishes.push(Wish { audience: *audience, span });
            }
        }
    }
    wishes
}

/// The devices of whose chain the store lacks some that is here.
#[must_use]
pub(crate) fn lacking(standing: &Standing<'_>) -> BTreeSet<String> {
    let lacks = |device: &str, last: i64| {
        standing.present.keys().any(|audience| standing.covered(device, *audience) < last)
    };
    let held = standing.holds.iter().filter(|(device, last)| *device != standing.me && lacks(device, **last));
    held.map(|(device, _)| device.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(name: &str, first: i64, last: i64, to: &[&str]) -> Note {
        let to = to.iter().map(|letter| (*letter).to_owned()).collect();
        let span = Span { device: "A".to_owned(), first, last };
        Note { name: name.to_owned(), audience: Audience::Office, to, span }
    }

    fn set(names: &[&str]) -> BTreeSet<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    #[test]
    fn a_device_fetches_what_carries_a_chain_on_and_sends_what_the_store_lacks() {
        let index = |parcels: Vec<Note>| Index { parcels, ..Index::default() };
        let others: BTreeMap<String, Index> = [(
            "A".to_owned(),
            index(vec![
                note("one", 1, 4, &["A", "B"]),
                note("two", 5, 9, &["A", "B"]),
                note("all", 1, 7, &["A", "B"]),
            ]),
        )]
        .into();
        let present: BTreeMap<Audience, BTreeSet<String>> = [(Audience::Office, set(&["A", "B"]))].into();
        let (mine, none) = (Index::default(), BTreeMap::new());
        let holds: BTreeMap<String, i64> = [("A".to_owned(), 2), ("B".to_owned(), 3)].into();
        let every = set(&["one", "two", "all"]);
        let mut standing = Standing {
            me: "B",
            audience: Audience::Office,
            holds: &holds,
            mine: &mine,
            others: &others,
            listed: &every,
            present: &present,
            lacking: &none,
            left_through: 0,
        };
        assert_eq!(plan_fetch(&standing, &BTreeSet::new()), ["all", "two"]);
        assert_eq!(standing.covered("A", Audience::Office), 9);
        let own = Span { device: "B".to_owned(), first: 1, last: 3 };
        assert_eq!(plan_send(&standing), [Wish { audience: Audience::Office, span: own.clone() }]);
        // The store has lost two of them: what is left is fetched, and after some patience B hands on what it has.
        let left = set(&["two"]);
        standing.listed = &left;
        assert!(plan_fetch(&standing, &BTreeSet::new()).is_empty());
        assert_eq!(lacking(&standing), set(&["A"]));
        let patience: BTreeMap<String, u32> = [("A".to_owned(), PATIENCE)].into();
        standing.lacking = &patience;
        let of_a = Span { device: "A".to_owned(), first: 1, last: 2 };
        let wishes = [of_a, own].map(|span| Wish { audience: Audience::Office, span });
        assert_eq!(plan_send(&standing), wishes);
        // What has left it, it does not send; what comes after that it does.
        standing.left_through = 2;
        assert_eq!(plan_send(&standing)[1].span, Span { device: "B".to_owned(), first: 3, last: 3 });
        standing.left_through = 0;
        // A device that joins can read nothing that was locked before it came.
        let joined: BTreeMap<Audience, BTreeSet<String>> = [(Audience::Office, set(&["A", "B", "C"]))].into();
        standing.listed = &every;
        standing.present = &joined;
        assert_eq!(standing.covered("A", Audience::Office), 0);
    }
}

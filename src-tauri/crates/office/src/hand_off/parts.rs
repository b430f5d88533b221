//! The parts in which a month was handed off, and the marks between them.

use crate::file::mark::EntryMark;
use desk::OfficeError;
use ledger::facts::{HandOff, HandedJob, HandedLabor, HandedThrough};
use ledger::{Books, Entered, Entry};
use std::collections::BTreeMap;
use trade::Month;

/// How far each device's facts were in, by the device's letters: A to Z come before AA.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Marks(BTreeMap<(usize, String), i64>);

fn in_order(device: &str) -> (usize, String) {
    (device.len(), device.to_owned())
}

impl Marks {
    /// Where the books end now.
    pub(super) fn now(books: Books<'_>) -> Result<Marks, OfficeError> {
        let ends = books.device_ends()?.into_iter();
        Ok(Marks(ends.map(|(device, through)| (in_order(&device), through)).collect()))
    }

    /// Whether a fact was in.
    pub(super) fn hold(&self, entry: &Entry) -> bool {
        self.0.get(&in_order(&entry.device)).is_some_and(|through| entry.device_seq <= *through)
    }

    /// The later of two marks on each device.
    fn and(mut self, marks: &[HandedThrough]) -> Marks {
        for mark in marks {
            let through = self.0.entry(in_order(&mark.device)).or_insert(mark.through_seq);
            *through = mark.through_seq.max(*through);
        }
        self
    }

    /// The last entry of each device, with the beginning of its hash.
    pub(super) fn ends(&self, books: Books<'_>) -> Result<Vec<EntryMark>, OfficeError> {
        let mut ends = Vec::new();
        for ((_, device), through) in &self.0 {
            ends.extend(books.hash_of(device, *through)?.map(|hash| EntryMark::new(device, *through, hash)));
        }
        Ok(ends)
    }

    /// The marks as a fact holds them.
    pub(super) fn handed(&self) -> Vec<HandedThrough> {
        let mark = |((_, device), through): (&(usize, String), &i64)| HandedThrough {
            device: device.clone(),
            through_seq: *through,
        };
        self.0.iter().map(mark).collect()
    }
}

/// The facts of a part: those after one mark and up to another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Window {
    /// After these.
    pub(super) from: Marks,
    /// Up to and with these.
    pub(super) to: Marks,
}

impl Window {
    /// Whether a fact belongs to the part.
    pub(super) fn holds(&self, entry: &Entry) -> bool {
        self.to.hold(entry) && !self.from.hold(entry)
    }
}

/// Every hand-off ever made, and those of one month apart.
#[derive(Debug)]
pub(super) struct History {
    /// The month's, in the order of their parts.
    month: Vec<Entered<HandOff>>,
    /// Other months'.
    others: Vec<Entered<HandOff>>,
}

impl History {
    pub(super) fn read(books: Books<'_>, month: Month) -> Result<History, OfficeError> {
        let (mut of_month, others): (Vec<_>, Vec<_>) =
            books.all::<HandOff>()?.into_iter().partition(|held| held.fact.month == month);
        of_month.sort_by(|left, right| {
            let key =
                |held: &Entered<HandOff>| (held.fact.part, held.entry.recorded_at.clone(), held.entry.id);
            key(left).cmp(&key(right))
        });
        Ok(History { month: of_month, others })
    }

    /// The month's parts.
    pub(super) fn parts(&self) -> impl Iterator<Item = &Entered<HandOff>> {
        self.month.iter()
    }

    /// The last of them.
    pub(super) fn last(&self) -> Option<&Entered<HandOff>> {
        self.month.last()
    }

    /// The number of the next one.
    pub(super) fn next_number(&self) -> i64 {
        self.last().map_or(1, |last| last.fact.part + 1)
    }

    /// How far the first so many of the month's parts reach.
    pub(super) fn marks(&self, parts: usize) -> Marks {
        self.month.iter().take(parts).fold(Marks::default(), |marks, held| marks.and(&held.fact.devices))
    }

    /// How many parts the month has.
    pub(super) fn count(&self) -> usize {
        self.month.len()
    }

    /// What the first so many of the month's parts gave of labor.
    pub(super) fn labor(&self, parts: usize) -> Vec<HandedLabor> {
        self.month.iter().take(parts).flat_map(|held| held.fact.labor.clone()).collect()
    }

    /// What the first so many of the month's parts moved on jobs.
    pub(super) fn movements(&self, parts: usize) -> Vec<HandedJob> {
        self.month.iter().take(parts).flat_map(|held| held.fact.jobs.clone()).collect()
    }

    /// All labor ever given, whatever the month, with its month.
    pub(super) fn all_labor(&self) -> impl Iterator<Item = (Month, &HandedLabor)> {
        let all = self.month.iter().chain(&self.others);
        all.flat_map(|held| held.fact.labor.iter().map(|line| (held.fact.month, line)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_device_of_two_letters_comes_after_those_of_one() {
        let through =
            |(device, through_seq): (&str, i64)| HandedThrough { device: device.into(), through_seq };
        let marks = Marks::default().and(&[("AA", 3), ("B", 12), ("A", 40)].map(through));
        let marks = marks.and(&[("B", 9), ("AB", 1)].map(through));
        let devices: Vec<String> = marks.handed().into_iter().map(|mark| mark.device).collect();
        assert_eq!(devices, ["A", "B", "AA", "AB"]);
        let devices: Vec<String> = marks.handed().into_iter().map(|mark| mark.device).collect();
        assert_eq!(devices, ["A", "B", "AA", "AB"]);
    }
}

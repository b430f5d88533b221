//! The parts in which a month was handed off, and the marks between them.

use desk::OfficeError;
use ledger::facts::{HandOff, HandedJob, HandedLabor, HandedThrough};
use ledger::{Books, Entered, Entry};
use std::collections::BTreeMap;
use trade::Month;

/// How far each device's facts were in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Marks(BTreeMap<String, i64>);

impl Marks {
    /// Where the books end now.
    pub(super) fn now(books: Books<'_>) -> Result<Marks, OfficeError> {
        Ok(Marks(books.device_ends()?.into_iter().collect()))
    }

    /// Whether a fact was in.
    pub(super) fn hold(&self, entry: &Entry) -> bool {
        self.0.get(&entry.device).is_some_and(|through| entry.device_seq <= *through)
    }

    /// The later of two marks on each device.
    fn and(mut self, marks: &[HandedThrough]) -> Marks {
        for mark in marks {
            let through = self.0.entry(mark.device.clone()).or_insert(mark.through_seq);
            *through = mark.through_seq.max(*through);
        }
        self
    }

    /// The last entry of each device, in words.
    pub(super) fn told(&self) -> String {
        self.0.iter().map(|(device, through)| format!("{device}-{through}")).collect::<Vec<_>>().join(" and ")
    }

    /// The marks as a fact holds them.
    pub(super) fn handed(&self) -> Vec<HandedThrough> {
        let mark = |(device, through): (&String, &i64)| HandedThrough {
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

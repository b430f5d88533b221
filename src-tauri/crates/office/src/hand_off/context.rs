//! The part of a month that is to be handed off.

use super::facts::Facts;
use super::labor;
use super::month_facts::MonthFacts;
use super::movements;
use super::parts::{History, Marks, Window};
use desk::OfficeError;
use ledger::facts::{HandOff, HandedJob, HandedLabor};
use ledger::{Books, Entered};

/// What one part holds.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) number: i64,
    pub(super) window: Window,
    pub(super) facts: Facts,
    pub(super) labor: Vec<HandedLabor>,
    pub(super) movements: Vec<HandedJob>,
    /// What the parts before it gave.
    pub(super) earlier: Given,
}

/// What earlier parts gave.
#[derive(Debug, Default)]
pub(super) struct Given {
    pub(super) facts: Facts,
    pub(super) labor: Vec<HandedLabor>,
    pub(super) movements: Vec<HandedJob>,
}

impl Part {
    /// Whether there is nothing in it that moves money or hours.
    pub(super) fn is_empty(&self) -> bool {
        self.facts.is_empty() && self.labor.is_empty() && self.movements.is_empty()
    }
}

impl MonthFacts {
    /// The part that is due: what came after the last one.
    pub(super) fn next(&self, books: Books<'_>, history: &History) -> Result<Part, OfficeError> {
        let parts = history.count();
        let window = Window { from: history.marks(parts), to: Marks::now(books)? };
        let earlier = self.given(history, parts);
        Ok(Part {
            number: history.next_number(),
            labor: labor::calculate(books, self, history, &window, &earlier.labor)?,
            movements: movements::since(&self.report, &earlier.movements)?,
            facts: self.facts.within(&window),
            earlier,
            window,
        })
    }

    /// The last part once more, as it was.
    pub(super) fn again(&self, history: &History, last: &Entered<HandOff>) -> Part {
        let before = history.count().saturating_sub(1);
        let window = Window { from: history.marks(before), to: history.marks(before + 1) };
        Part {
            number: last.fact.part,
            labor: last.fact.labor.clone(),
            movements: last.fact.jobs.clone(),
            facts: self.facts.within(&window),
            earlier: self.given(history, before),
            window,
        }
    }

    fn given(&self, history: &History, parts: usize) -> Given {
        let window = Window { from: Marks::default(), to: history.marks(parts) };
        Given {
            facts: self.facts.within(&window),
            labor: history.labor(parts),
            movements: history.movements(parts),
        }
    }
}

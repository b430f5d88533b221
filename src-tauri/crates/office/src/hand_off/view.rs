//! A month seen from one of its parts: what everything was called, and which hours stand behind labor.

use super::accounts::Accounts;
use super::context::Part;
use super::labor;
use super::month_facts::MonthFacts;
use super::people::{People, source};
use desk::OfficeError;
use jiff::civil::Date;
use ledger::booked::Booked;
use ledger::closed_lists::JournalLine;
use ledger::facts::{Fact, HandedLabor, TimeEntry};
use ledger::{Books, Entry, Id};
use paperwork::Cell;
use std::collections::BTreeMap;
use trade::{Money, Qty};

/// Everything that the files of a part are made of.
pub(super) struct View<'a> {
    pub(super) month: &'a MonthFacts,
    pub(super) part: &'a Part,
    pub(super) people: People<'a>,
    pub(super) accounts: Accounts,
    /// The hours booked in the month and their reversals, by their entries.
    times: BTreeMap<Id, &'a Booked<TimeEntry>>,
}

/// Why a line of labor is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Why {
    /// Hours worked.
    Hours,
    /// Hours that were reversed.
    Reversed,
    /// Hours given before, which cost something else now that more is known of their week.
    Again,
    /// A difference that belongs to no single entry.
    CaughtUp,
}

impl Why {
    /// The words that stand in the files.
    pub(super) const WORDS: &'static [&'static str] = &["hours", "reversed", "calculated-again", "caught-up"];

    pub(super) const fn as_str(self) -> &'static str {
        match self {
            Why::Hours => "hours",
            Why::Reversed => "reversed",
            Why::Again => "calculated-again",
            Why::CaughtUp => "caught-up",
        }
    }
}

/// A line of labor with the hours behind it.
pub(super) struct Work {
    pub(super) why: Why,
    pub(super) line: HandedLabor,
    pub(super) time: Option<TimeEntry>,
    /// The entry that booked it.
    pub(super) entry: Option<Entry>,
    /// For a reversal, what it reverses and why.
    pub(super) reversal: Option<(String, String)>,
}

impl Work {
    /// Hours that this line adds to the month.
    pub(super) fn hours(&self) -> Option<Qty> {
        let hours = self.time.as_ref()?.hours;
        match self.why {
            Why::Hours => Some(hours),
            Why::Reversed => Some(-hours),
            Why::Again | Why::CaughtUp => None,
        }
    }

    /// What it adds to the cost of its job.
    pub(super) fn cost(&self) -> Money {
        labor::pay(&self.line).into_iter().sum()
    }

    /// The entry's number and the fact's id, for a row of a file.
    pub(super) fn source(&self) -> (Cell, Cell) {
        match &self.entry {
            Some(entry) => (Cell::text(source(entry)), id(entry.id)),
            None => (Cell::Empty, Cell::Empty),
        }
    }
}

/// An id as a cell.
pub(super) fn id(id: Id) -> Cell {
    Cell::Id(id.to_string())
}

impl<'a> View<'a> {
    pub(super) fn of(
        books: Books<'a>,
        month: &'a MonthFacts,
        part: &'a Part,
    ) -> Result<View<'a>, OfficeError> {
        Ok(View {
            month,
            part,
            people: People::at(books, &part.window.to, month.month)?,
            accounts: Accounts::at(books, &part.window.to)?,
            times: month.facts.times.iter().map(|time| (time.entry.id, time)).collect(),
        })
    }

    /// A date as it can stand in the month's journal: itself, else the first or the last day.
    pub(super) fn within(&self, date: Date) -> Date {
        date.clamp(self.month.month.first_day(), self.month.month.last_day())
    }

    /// The first day of the work week that holds a day.
    pub(super) fn week_of(&self, date: Date) -> Date {
        self.month.weeks.week(date).first
    }

    /// The firm's number for a line of the journal; of overhead, its account's.
    pub(super) fn account_number(&self, line: JournalLine, overhead: Option<Id>) -> Option<&str> {
        match overhead.and_then(|account| self.people.names.overhead.get(&account)) {
            Some(account) => account.number.as_deref(),
            None => self.accounts.number(line),
        }
    }

    /// What a line of the journal is called; of overhead, its account.
    pub(super) fn account_name(&self, line: JournalLine, overhead: Option<Id>) -> &str {
        match overhead.and_then(|account| self.people.names.overhead.get(&account)) {
            Some(account) => &account.name,
            None => self.accounts.name(line),
        }
    }

    /// Text for an entry; a reversal says what it reverses and why.
    pub(super) fn told<T>(&self, booked: &Booked<T>, text: &str) -> Result<String, OfficeError> {
        Ok(match &booked.reason {
            None => text.to_owned(),
            Some(reason) => format!("{text}: reverses {}: {reason}", self.people.source(booked.id)?),
        })
    }

    /// The cells that every row of a fact ends in: what it reverses, why, and the fact's id.
    pub(super) fn tail<T>(&self, booked: &Booked<T>) -> Result<[Cell; 3], OfficeError> {
        let reverses = if booked.sign < 0 { self.people.source(booked.id)? } else { String::new() };
        Ok([Cell::text(reverses), Cell::of(booked.reason.clone()), id(booked.id)])
    }

    /// Lines of labor with the hours behind them.
    pub(super) fn work(&self, labor: &[HandedLabor]) -> Result<Vec<Work>, OfficeError> {
        labor.iter().map(|line| self.work_of(line)).collect()
    }

    fn work_of(&self, line: &HandedLabor) -> Result<Work, OfficeError> {
        let mut work =
            Work { why: Why::CaughtUp, line: line.clone(), time: None, entry: None, reversal: None };
        let Some(source) = line.source else { return Ok(work) };
        if let Some(booked) = self.times.get(&source) {
            work.why = match booked.sign {
                _ if !self.part.window.holds(&booked.entry) => Why::Again,
                sign if sign < 0 => Why::Reversed,
                _ => Why::Hours,
            };
            if work.why == Why::Reversed {
                let reason = booked.reason.clone().unwrap_or_default();
                work.reversal = Some((self.people.source(booked.id)?, reason));
            }
            work.time = Some(booked.fact.clone());
            work.entry = Some(booked.entry.clone());
        } else if let Some((entry, Fact::TimeEntry(time))) = self.people.fact(source)? {
            work.why = Why::Again;
            work.time = Some(time);
            work.entry = Some(entry);
        }
        Ok(work)
    }
}

/// An amount with the sign of what booked it.
pub(super) fn signed(amount: Money, sign: i64) -> Money {
    if sign < 0 { -amount } else { amount }
}

/// A quantity with the sign of what booked it.
pub(super) fn signed_quantity(quantity: Qty, sign: i64) -> Qty {
    if sign < 0 { -quantity } else { quantity }
}

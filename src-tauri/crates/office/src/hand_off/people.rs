//! What things were called when a part was made: a customer renamed since must not change a part that is written
//! again.

use super::parts::Marks;
use desk::OfficeError;
use desk::names::Names;
use ledger::facts::{CostCode, Crew, Customer, Fact, Firm, Job, OverheadAccount, Person, Vendor};
use ledger::kind::FactRow;
use ledger::{Books, Entered, Entry, Id};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use trade::Month;

/// Whether a fact was in at some marks and was not reversed by then.
pub(super) fn stands<T>(books: Books<'_>, held: &Entered<T>, marks: &Marks) -> Result<bool, OfficeError> {
    entry_stands(books, &held.entry, held.reversed_by, marks)
}

/// The same of its entry and of what reversed it.
pub(super) fn entry_stands(
    books: Books<'_>,
    entry: &Entry,
    reversed_by: Option<Id>,
    marks: &Marks,
) -> Result<bool, OfficeError> {
    if !marks.hold(entry) {
        return Ok(false);
    }
    let Some(reversal) = reversed_by else { return Ok(true) };
    Ok(!books.fact(reversal)?.is_some_and(|reversal| marks.hold(&reversal.entry)))
}

/// The version of each record that counted at some marks, by the id of its first version.
fn current<T: FactRow>(
    books: Books<'_>,
    marks: &Marks,
    revises: impl Fn(&T) -> Option<Id>,
) -> Result<BTreeMap<Id, T>, OfficeError> {
    let mut newest: BTreeMap<Id, Entered<T>> = BTreeMap::new();
    for held in books.all_with_reversed::<T>()? {
        if !stands(books, &held, marks)? {
            continue;
        }
        let first = revises(&held.fact).unwrap_or(held.entry.id);
        let age = |held: &Entered<T>| (held.entry.recorded_at.clone(), held.entry.id);
        if newest.get(&first).is_none_or(|known| age(known) < age(&held)) {
            newest.insert(first, held);
        }
    }
    Ok(newest.into_iter().map(|(first, held)| (first, held.fact)).collect())
}

/// The company's settings that held at the end of a month, of those that stood at some marks.
fn firm_at(books: Books<'_>, marks: &Marks, month: Month) -> Result<Firm, OfficeError> {
    let mut firms = Vec::new();
    for held in books.all_with_reversed::<Firm>()? {
        if stands(books, &held, marks)? {
            firms.push(held);
        }
    }
    firms.sort_by(|left, right| {
        let age = |held: &Entered<Firm>| (held.fact.date, held.entry.recorded_at.clone(), held.entry.id);
        age(left).cmp(&age(right))
    });
    let last = month.last_day();
    let holds = firms.iter().rev().find(|held| held.fact.date <= last).or(firms.first());
    holds
        .map(|held| held.fact.clone())
        .ok_or_else(|| OfficeError::not_found("This ledger has no firm yet.", "Make the firm first."))
}

/// Names as they were at some marks, and the numbers by which people know facts.
pub(super) struct People<'a> {
    books: Books<'a>,
    /// The firm.
    pub(super) firm: Firm,
    /// Names.
    pub(super) names: Names,
    /// Job numbers that more than one job has.
    doubled: BTreeSet<String>,
    facts: RefCell<BTreeMap<Id, Option<(Entry, Fact)>>>,
}

impl<'a> People<'a> {
    /// Reads them.
    pub(super) fn at(books: Books<'a>, marks: &Marks, month: Month) -> Result<People<'a>, OfficeError> {
        let names = Names {
            jobs: current(books, marks, |job: &Job| job.revises)?,
            customers: current(books, marks, |customer: &Customer| customer.revises)?,
            vendors: current(books, marks, |vendor: &Vendor| vendor.revises)?,
            people: current(books, marks, |person: &Person| person.revises)?,
            crews: current(books, marks, |crew: &Crew| crew.revises)?,
            codes: current(books, marks, |code: &CostCode| code.revises)?,
            overhead: current(books, marks, |account: &OverheadAccount| account.revises)?,
        };
        let firm = firm_at(books, marks, month)?;
        let mut seen = BTreeSet::new();
        let doubled = names
            .jobs
            .values()
            .filter(|job| !seen.insert(&job.number))
            .map(|job| job.number.clone())
            .collect();
        Ok(People { books, firm, names, doubled, facts: RefCell::default() })
    }

    /// A job's number; with the end of its id where two jobs have the same.
    pub(super) fn job(&self, id: Id) -> String {
        let number = self.names.job_number(id);
        if !self.doubled.contains(&number) {
            return number;
        }
        let id = id.to_string();
        format!("{number} ({})", id.get(id.len().saturating_sub(6)..).unwrap_or(&id))
    }

    /// The customer of a job.
    pub(super) fn customer_of(&self, job: Id) -> String {
        self.names.jobs.get(&job).map(|job| self.names.customer(job.customer)).unwrap_or_default()
    }

    /// A fact with its entry.
    pub(super) fn fact(&self, id: Id) -> Result<Option<(Entry, Fact)>, OfficeError> {
        if let Some(known) = self.facts.borrow().get(&id) {
            return Ok(known.clone());
        }
        let found = self.books.fact(id)?.map(|held| (held.entry, held.fact));
        self.facts.borrow_mut().insert(id, found.clone());
        Ok(found)
    }

    /// The number of the entry that recorded a fact, such as `A-123`.
    pub(super) fn source(&self, id: Id) -> Result<String, OfficeError> {
        Ok(self.fact(id)?.map(|(entry, _)| source(&entry)).unwrap_or_default())
    }

    /// The number that people know a condition, order, change order or invoice by; the reference of a payment.
    pub(super) fn number(&self, id: Option<Id>) -> Result<String, OfficeError> {
        let Some(id) = id else { return Ok(String::new()) };
        Ok(match self.fact(id)? {
            Some((_, Fact::Condition(condition))) => condition.number,
            Some((_, Fact::PurchaseOrder(order))) => order.number,
            Some((_, Fact::ChangeOrder(order))) => order.number,
            Some((_, Fact::Invoice(invoice))) => invoice.number,
            Some((_, Fact::Payment(payment))) => payment.reference.unwrap_or_default(),
            Some((_, Fact::Bill(bill))) => bill.reference,
            _ => String::new(),
        })
    }

    /// The job of an invoice.
    pub(super) fn job_of_invoice(&self, id: Id) -> Result<Option<Id>, OfficeError> {
        Ok(match self.fact(id)? {
            Some((_, Fact::Invoice(invoice))) => Some(invoice.job),
            _ => None,
        })
    }
}

/// The number of an entry.
pub(super) fn source(entry: &Entry) -> String {
    format!("{}-{}", entry.device, entry.device_seq)
}

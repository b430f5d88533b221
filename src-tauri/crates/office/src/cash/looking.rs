//! What the parts of cash ahead are gathered with.

use super::habit::PaysAfter;
use super::plan::JobPlan;
use super::view::{AsIf, CashFor, ExpectedCash, Undated};
use crate::billing::bank::Stands;
use crate::job::page::Source;
use desk::names::Names;
use jiff::civil::{Date, Weekday};
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::{Money, Month, counts_in};

/// What the parts are gathered with.
pub(super) struct Looking<'a> {
    pub(super) books: Books<'a>,
    pub(super) names: &'a Names,
    pub(super) on: Date,
    pub(super) stands: Stands<'a>,
    pub(super) month: Month,
    pub(super) as_if: &'a AsIf,
    pub(super) week_begins: Weekday,
    pub(super) times: Vec<(Date, Date)>,
    pub(super) habits: BTreeMap<Id, PaysAfter>,
    pub(super) everybody: Option<i32>,
    pub(super) plans: Vec<JobPlan>,
    pub(super) expected: Vec<ExpectedCash>,
    pub(super) undated: Vec<Undated>,
    pub(super) cautions: Vec<String>,
}

/// Something that is expected, before it is put into its week.
pub(super) struct Comes<'a> {
    pub(super) cause: CashFor,
    pub(super) date: Date,
    pub(super) due: Option<Date>,
    pub(super) job: Option<&'a str>,
    pub(super) who: &'a str,
    pub(super) text: String,
    pub(super) amount: Money,
    pub(super) source: Option<Source>,
}

impl Looking<'_> {
    /// Puts something into its week.
    pub(super) fn add(&mut self, comes: Comes<'_>) {
        if comes.amount.is_zero() {
            return;
        }
        self.expected.push(ExpectedCash {
            week: counts_in(&self.times, comes.date).map(|at| at + 1),
            cause: comes.cause,
            date: comes.date,
            due: comes.due,
            job: comes.job.map(str::to_owned),
            who: comes.who.to_owned(),
            text: comes.text,
            amount: comes.amount,
            source: comes.source,
        });
    }

    /// How many weeks later than planned a job is.
    pub(super) fn slips(&self, job: &str) -> i32 {
        self.as_if.slips(job)
    }

    /// How many weeks later a customer pays.
    pub(super) fn late(&self, customer: &str) -> i32 {
        self.as_if.late(customer)
    }
}

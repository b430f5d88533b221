//! A month gathered once.

use super::facts::Facts;
use crate::month::end::{MonthEnd, month_end_of};
use crate::month::owed::{Owed, owed};
use desk::OfficeError;
use desk::settings::Settings;
use ledger::totals::LaborTotals;
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::{Money, Month, WorkWeeks};

/// A job's code, and the hidden condition if there is one.
pub(super) type CostPlace = (Id, Id, Option<Id>);

/// Everything booked in the month so far.
#[derive(Debug)]
pub(super) struct MonthFacts {
    pub(super) month: Month,
    pub(super) facts: Facts,
    pub(super) labor: BTreeMap<CostPlace, LaborTotals>,
    pub(super) report: MonthEnd,
    /// What customers owed at the end of the month before.
    pub(super) owed_before: Owed,
    /// What is open on vendors' bills at the month's end, and at the end of the month before.
    pub(super) open_bills: BTreeMap<Id, Money>,
    pub(super) owed_to_vendors_before: Money,
    /// Whether this is the first month not closed: where what comes late is booked.
    pub(super) takes_late: bool,
    /// The company's settings of each day.
    pub(super) settings: Settings,
    /// The firm's work weeks.
    pub(super) weeks: WorkWeeks,
}

impl MonthFacts {
    /// Gathers a month.
    pub(super) fn read(books: Books<'_>, month: Month) -> Result<MonthFacts, OfficeError> {
        let calendar = books.calendar()?;
        Ok(MonthFacts {
            month,
            facts: Facts::read(books, month)?,
            labor: books.booked_labor(month)?,
            report: month_end_of(books, month)?,
            owed_before: owed(books, &calendar, month.prev())?,
            open_bills: books.open_bills(month)?,
            owed_to_vendors_before: books.open_bills(month.prev())?.into_values().sum(),
            takes_late: calendar.closed_through().is_some_and(|closed| closed.next() == month),
            settings: Settings::read(books, &calendar)?,
            weeks: books.work_weeks(&calendar)?,
        })
    }
}

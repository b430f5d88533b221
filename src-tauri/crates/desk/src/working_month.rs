//! The month that is open for work.

use crate::desk::Desk;
use trade::Month;

/// The month that work of today is booked in: today's, or the one after the last closed.
#[must_use]
pub fn working_month(desk: &Desk, calendar: &ledger::Calendar) -> Month {
    let today = Month::of(desk.clock.today());
    today.max(calendar.closed_through().map_or(today, Month::next))
}

//! The work week, the span that overtime is calculated over.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// The first day of the work week that `date` lies in, where weeks begin on `first`.
///
/// A work week is seven days in a row that begin on the same weekday every time; which weekday is the firm's
/// to fix (29 CFR 778.105).
#[must_use]
pub fn week_start(date: Date, first: Weekday) -> Date {
    let days_in = date.weekday().since(first);
    date.saturating_sub(days_in.days())
}

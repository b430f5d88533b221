//! The company's settings: facts with a date, of which the one that holds is asked for.

use crate::error::OfficeError;
use ledger::Books;
use ledger::facts::Firm;
use trade::Month;

/// The firm's settings that count for a month.
///
/// # Errors
/// When there is no firm yet, or it cannot be read.
pub fn firm_at(books: Books<'_>, month: Month) -> Result<Firm, OfficeError> {
    let mut firms: Vec<Firm> = books.all::<Firm>()?.into_iter().map(|held| held.fact).collect();
    firms.sort_by_key(|firm| firm.date);
    let last = month.last_day();
    let newest = firms.iter().rev().find(|firm| firm.date <= last).or(firms.first());
    newest
        .cloned()
        .ok_or_else(|| OfficeError::not_found("This ledger has no firm yet.", "Make the firm first."))
}

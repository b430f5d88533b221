//! The company's settings: facts with a date, of which the one that holds is asked for.

use crate::error::OfficeError;
use jiff::civil::Date;
use ledger::Books;
use ledger::closed_lists::NoticeOf;
use ledger::facts::{Firm, Notice};
use std::collections::BTreeMap;
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

/// The notices that hold on a day: of each state and matter the newest, where it is not retired.
///
/// # Errors
/// When they cannot be read.
pub fn notices_on(books: Books<'_>, day: Date) -> Result<Vec<Notice>, OfficeError> {
    let mut newest: BTreeMap<(String, NoticeOf), Notice> = BTreeMap::new();
    for notice in books.all::<Notice>()?.into_iter().map(|held| held.fact).filter(|notice| notice.date <= day)
    {
        let key = (notice.state.clone(), notice.about);
        if newest.get(&key).is_none_or(|known| known.date <= notice.date) {
            newest.insert(key, notice);
        }
    }
    Ok(newest.into_values().filter(|notice| !notice.retired).collect())
}

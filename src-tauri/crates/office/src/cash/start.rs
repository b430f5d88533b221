//! What cash ahead begins with: what somebody typed, or the bank's last statement and what the books moved that it does
//! not show.

use super::view::{CashFrom, ExpectedStart};
use crate::billing::bank::{AtBank, Stands};
use crate::job::page::Source;
use desk::OfficeError;
use desk::names::Names;
use jiff::civil::Date;
use ledger::Books;
use trade::Money;

pub(super) struct Start {
    pub(super) opening: Money,
    pub(super) from: CashFrom,
    pub(super) statement: Option<Date>,
    pub(super) parts: Vec<ExpectedStart>,
}

pub(super) fn start(
    books: Books<'_>,
    names: &Names,
    (on, stands): (Date, Stands<'_>),
    typed: Option<Money>,
) -> Result<Start, OfficeError> {
    if let Some(opening) = typed {
        let part =
            ExpectedStart { date: on, text: "as it was typed".to_owned(), amount: opening, source: None };
        return Ok(Start { opening, from: CashFrom::Typed, statement: None, parts: vec![part] });
    }
    let bank = AtBank::where_it(books, stands)?;
    let Some(last) = bank.statements.iter().rfind(|held| held.fact.date <= on) else {
        return Ok(Start {
            opening: Money::ZERO,
            from: CashFrom::Nothing,
            statement: None,
            parts: Vec::new(),
        });
    };
    let by = last.fact.date;
    let mut parts = vec![ExpectedStart {
        date: by,
        text: "the bank's statement at its end".to_owned(),
        amount: last.fact.closing,
        source: Some(Source::of(&last.entry, names)),
    }];
    let moved = bank.counted(on).filter(|(id, item)| item.date <= on && !bank.has_cleared(*id, by));
    parts.extend(moved.map(|(_, item)| ExpectedStart {
        date: item.date,
        text: item.text(names),
        amount: item.amount,
        source: Some(Source::of(&item.entry, names)),
    }));
    parts.sort_by(|left, right| (left.date, &left.text).cmp(&(right.date, &right.text)));
    let opening = parts.iter().map(|part| part.amount).sum();
    Ok(Start { opening, from: CashFrom::Statement, statement: Some(by), parts })
}

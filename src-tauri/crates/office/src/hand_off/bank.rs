//! The month at the bank: each line with what it is, and each payment with the line that it came by.

use super::people::{entry_stands, source};
use super::view::{View, id};
use crate::billing::bank::{AtBank, Spot, end_of};
use crate::paper_error::AddRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::ClearedItem;
use ledger::kind::FactRow;
use ledger::{Books, Id};
use paperwork::{Cell, Column, Kind, Table};
use std::collections::{BTreeMap, BTreeSet};
use trade::Money;

const KINDS: &[&str] = &[
    ledger::facts::Payment::KIND,
    ledger::facts::Refund::KIND,
    ledger::facts::VendorPayment::KIND,
    ledger::facts::OverheadCost::KIND,
];

const STATES: &[&str] = &["payments", "other", "open"];

/// The bank as it stood when the part was made.
pub(super) fn at_bank(books: Books<'_>, view: &View<'_>) -> Result<AtBank, OfficeError> {
    let marks = &view.part.window.to;
    let mut read =
        AtBank::where_it(books, &|entry, reversed_by| entry_stands(books, entry, reversed_by, marks))?;
    read.only_whole();
    Ok(read)
}

/// What the bank's files come to, each beside what it is held against.
pub(super) struct BankTotals {
    /// The month's lines, and by how much the statements' balances moved in it.
    pub(super) lines: [Money; 2],
    /// The payments that cleared in the month, and the lines that they were matched with.
    pub(super) cleared: [Money; 2],
    /// The payments that the bank does not show by the month's end, and all of the books' less the lines so far.
    pub(super) uncleared: [Money; 2],
}

impl BankTotals {
    pub(super) fn of(view: &View<'_>, at_bank: &AtBank) -> BankTotals {
        let (month, last) = (view.month.month, view.month.month.last_day());
        let sum = |wanted: &dyn Fn(Spot, Date) -> bool| -> Money {
            let lines = at_bank.lines().filter(|(spot, line)| wanted(*spot, line.date));
            lines.map(|(_, line)| line.amount).sum()
        };
        let is_payments =
            |spot: Spot| at_bank.cleared.get(&spot).is_some_and(|held| held.fact.other.is_none());
        let of_month = at_bank.statements.iter().map(|held| &held.fact);
        let of_month = of_month.filter(|held| held.begins <= last && held.date >= month.first_day());
        let moved: Money = of_month.map(|held| held.closing - held.opening).sum();
        let touched = |spot: Spot| {
            let held = at_bank.statements.iter().find(|held| held.entry.id == spot.0);
            held.is_some_and(|held| held.fact.begins <= last && held.fact.date >= month.first_day())
        };
        let counted: Vec<(Id, Money)> =
            at_bank.counted(last).map(|(payment, item)| (payment, item.amount)).collect();
        let payments = |wanted: &dyn Fn(Id) -> bool| -> Money {
            counted.iter().filter(|(payment, _)| wanted(*payment)).map(|(_, amount)| *amount).sum()
        };
        let in_month = |payment: Id| at_bank.cleared_on.get(&payment).is_some_and(|on| month.contains(*on));
        BankTotals {
            lines: [
                sum(&|_, date| month.contains(date)),
                moved - sum(&|spot, date| touched(spot) && !month.contains(date)),
            ],
            cleared: [payments(&in_month), sum(&|spot, date| month.contains(date) && is_payments(spot))],
            uncleared: [
                payments(&|payment| !at_bank.has_cleared(payment, last)),
                payments(&|_| true) - sum(&|spot, date| date <= last && is_payments(spot)),
            ],
        }
    }
}

/// The lines of the bank in the month.
pub(super) fn lines(view: &View<'_>, at_bank: &AtBank) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("statement_id", Kind::Id, "Statement's id", "The id of the statement.").required(),
        Column::new("line", Kind::Integer, "Line", "Which of its lines, from 1.").required(),
        Column::new("account", Kind::Text, "Account", "The end of the account's number."),
        Column::new("date", Kind::Date, "Date", "The day on which the bank booked it.").required(),
        Column::new("words", Kind::Text, "Words", "What the bank says of it.").required(),
        Column::new("number", Kind::Text, "Check", "The number of the check, where the bank gives one."),
        Column::new("amount", Kind::Money, "Amount", "Below zero where money left the bank.").required(),
        Column::new(
            "is",
            Kind::Text,
            "Is",
            "Payments of bank_clearing, something else, or open: nobody has said what it is.",
        )
        .required()
        .one_of(STATES),
        Column::new(
            "other",
            Kind::Text,
            "Something else",
            "What it is, where the books hold no payment of it.",
        )
        .one_of(OTHERS),
        Column::new("note", Kind::Text, "Note", "What else was said of it."),
    ];
    let mut table = Table::new(
        "bank_lines",
        "Bank lines",
        "One row for each line of the bank's statements in the month, as it stood when this part was made.",
        &["statement_id", "line"],
        &[],
        columns,
    );
    let accounts: BTreeMap<Id, Option<String>> = at_bank
        .statements
        .iter()
        .map(|held| (held.entry.id, held.fact.account.as_deref().map(end_of)))
        .collect();
    for (spot, line) in at_bank.lines().filter(|(_, line)| view.month.month.contains(line.date)) {
        let said = at_bank.cleared.get(&spot).map(|held| &held.fact);
        let is = match said.map(|said| said.other) {
            None => "open",
            Some(None) => "payments",
            Some(Some(_)) => "other",
        };
        table.add(vec![
            id(spot.0),
            Cell::Integer(spot.1),
            Cell::of(accounts.get(&spot.0).cloned().flatten()),
            line.date.into(),
            Cell::text(line.words.clone()),
            Cell::of(line.number.clone()),
            line.amount.into(),
            is.into(),
            said.and_then(|said| said.other).map_or(Cell::Empty, |other| other.as_str().into()),
            Cell::of(said.and_then(|said| said.note.clone())),
        ])?;
    }
    Ok(table)
}

const OTHERS: &[&str] = &["wages", "taxes", "owner", "own-account", "loan", "bank-error", "something-else"];

/// The payments that came to the bank in the month, and those that it did not show by its end.
pub(super) fn clearing(view: &View<'_>, at_bank: &AtBank) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("fact_id", Kind::Id, "Fact", "The id of the payment.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of it, such as A-123.").required(),
        Column::new("kind", Kind::Text, "Kind", "What it is.").required().one_of(KINDS),
        Column::new("date", Kind::Date, "Date", "Its day in the books.").required(),
        Column::new("what", Kind::Text, "What", "Whose payment it is, or what for.").required(),
        Column::new("reference", Kind::Text, "Reference", "The number of the check, or the like."),
        Column::new("amount", Kind::Money, "Amount", "Below zero where it leaves the bank.").required(),
        Column::new(
            "cleared",
            Kind::Date,
            "Cleared",
            "The day on which the bank booked it; empty where it had not by the month's end.",
        ),
        Column::new("statement_id", Kind::Id, "Statement's id", "The statement that shows it."),
        Column::new("line", Kind::Integer, "Line", "Which of its lines, from 1."),
    ];
    let mut table = Table::new(
        "bank_clearing",
        "Bank clearing",
        "One row for each payment that a line of the bank in the month was matched with, and for each that the bank \
         did not show by the month's end, as it stood when this part was made. Empty where no statement was taken in.",
        &["fact_id"],
        &[],
        columns,
    );
    let last = view.month.month.last_day();
    let mut spots: BTreeMap<Id, (Spot, Date)> = BTreeMap::new();
    for (spot, line) in at_bank.lines() {
        let said = at_bank.cleared.get(&spot).into_iter().flat_map(|held| &held.fact.items);
        spots.extend(said.filter_map(ClearedItem::id).map(|payment| (payment, (spot, line.date))));
    }
    let waiting: BTreeSet<Id> = at_bank.counted(last).map(|(payment, _)| payment).collect();
    let mut rows: Vec<_> = at_bank.items.iter().collect();
    rows.sort_by_key(|(payment, item)| (item.date, **payment));
    for (payment, item) in rows {
        let cleared = spots.get(payment).filter(|(_, on)| *on <= last);
        let is_here = match cleared {
            Some((_, on)) => view.month.month.contains(*on),
            None => waiting.contains(payment),
        };
        if !is_here {
            continue;
        }
        table.add(vec![
            id(*payment),
            Cell::text(source(&item.entry)),
            item.fact.kind().into(),
            item.date.into(),
            Cell::text(item.text(&view.people.names)),
            Cell::of(item.number.clone()),
            item.amount.into(),
            cleared.map_or(Cell::Empty, |(_, on)| Cell::Date(*on)),
            cleared.map_or(Cell::Empty, |((statement, _), _)| id(*statement)),
            cleared.map_or(Cell::Empty, |((_, line), _)| Cell::Integer(*line)),
        ])?;
    }
    Ok(table)
}

#[cfg(test)]
mod tests {
    use super::OTHERS;
    use ledger::closed_lists::OtherBankLine;

    #[test]
    fn what_else_a_line_may_be_is_the_ledgers_own_list() {
        let words: Vec<&str> = OtherBankLine::ALL.iter().map(|word| word.as_str()).collect();
        assert_eq!(words, OTHERS);
    }
}

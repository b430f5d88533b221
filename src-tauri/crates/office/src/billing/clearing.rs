//! Saying what a line of the bank is, and taking that back.

use super::bank::{AtBank, BankItem, BankLineShown, LineState};
use desk::names::Names;
use desk::policy::Act;
use desk::record::take_back;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::closed_lists::OtherBankLine;
use ledger::facts::{BankCleared, ClearedItem, OverheadCost, Payment, Refund, VendorPayment};
use ledger::kind::FactRow;
use ledger::{Fact, Id};
use serde::Serialize;

/// What was matched at once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MatchedLines {
    /// How many lines.
    pub matched: usize,
    /// How many of the statement are left.
    pub left: usize,
}

/// What a person says a line is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LineIs {
    /// What it is taken for.
    AsProposed,
    /// These payments of the books, each by its id or its number in the ledger, such as A-123.
    Payments(Vec<String>),
    /// What the books hold no payment of.
    Other(OtherBankLine, Option<String>),
}

/// Matches every line of a statement that fits one payment, or one deposit, and no other.
///
/// # Errors
/// When there is no such statement, or whoever sits here may not.
pub fn match_fitting(desk: &mut Desk, ends: Option<Date>) -> Result<MatchedLines, OfficeError> {
    desk.check(Act::Record(BankCleared::KIND))?;
    let (statement, lines, _) = read(desk, ends)?;
    let facts: Vec<Fact> = lines
        .iter()
        .filter(|line| line.state == LineState::Fits)
        .map(|line| cleared(statement, line, line.items.iter().filter_map(named).collect(), None, None))
        .collect();
    let open = lines.iter().filter(|line| line.state != LineState::Matched).count();
    let matched = facts.len();
    desk.record(facts)?;
    Ok(MatchedLines { matched, left: open - matched })
}

/// Says what one line of a statement is.
///
/// # Errors
/// When there is no such line or payment, when they do not come to the same, or whoever sits here may not.
pub fn clear_line(
    desk: &mut Desk,
    ends: Option<Date>,
    place: i64,
    is: &LineIs,
) -> Result<Option<Id>, OfficeError> {
    desk.check(Act::Record(BankCleared::KIND))?;
    let (statement, lines, free) = read(desk, ends)?;
    let line = line_at(&lines, place)?;
    let (items, other, note) = match is {
        LineIs::AsProposed if line.state != LineState::Fits => {
            return Err(OfficeError::refused(
                "place",
                &format!("line {place} is taken for nothing that comes to {}", line.amount.grouped()),
                "Name its payments, or say what else it is",
            ));
        }
        LineIs::AsProposed => (line.items.iter().filter_map(named).collect(), None, None),
        LineIs::Payments(payments) => (chosen(&free, payments)?, None, None),
        LineIs::Other(other, note) => (Vec::new(), Some(*other), note.clone()),
    };
    let ids = desk.record(vec![cleared(statement, line, items, other, note)])?;
    Ok(ids.first().copied())
}

/// Takes back what was said of a line, by a reversal.
///
/// # Errors
/// When nothing was said of it, or whoever sits here may not.
pub fn take_back_line(
    desk: &mut Desk,
    ends: Option<Date>,
    place: i64,
    reason: &str,
) -> Result<Id, OfficeError> {
    let (_, lines, _) = read(desk, ends)?;
    let matched = line_at(&lines, place)?.matched.as_ref().and_then(|source| Id::parse(&source.id).ok());
    let reverses = matched.ok_or_else(|| {
        OfficeError::refused("place", &format!("nobody has said what line {place} is"), "Choose another line")
    })?;
    take_back(desk, reverses, reason)
}

type Lines = (Id, Vec<BankLineShown>, Vec<BankItem>);

fn read(desk: &Desk, ends: Option<Date>) -> Result<Lines, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let read = AtBank::read(books)?;
        let Some(shown) = read.shown(ends)? else {
            let remedy = "Take in a statement of the bank first.";
            return Err(OfficeError::not_found("No statement of the bank is here.", remedy));
        };
        let bank = read.bank(&names, Some(shown));
        Ok((shown.entry.id, bank.lines, bank.free))
    })
}

fn line_at(lines: &[BankLineShown], place: i64) -> Result<&BankLineShown, OfficeError> {
    lines.iter().find(|line| line.place == place).ok_or_else(|| {
        let message = format!("The statement has no line {place}; it has {}.", lines.len());
        OfficeError::not_found(message, "Count its lines from 1.")
    })
}

fn chosen(free: &[BankItem], payments: &[String]) -> Result<Vec<ClearedItem>, OfficeError> {
    let found = |wanted: &String| {
        let item = free.iter().find(|item| item.source.id == *wanted || item.source.entry == *wanted);
        item.and_then(named).ok_or_else(|| {
            OfficeError::refused(
                "items",
                &format!("no payment {wanted} waits for the bank"),
                "Name one that has not cleared, by its number, such as A-123",
            )
        })
    };
    payments.iter().map(found).collect()
}

fn cleared(
    statement: Id,
    line: &BankLineShown,
    items: Vec<ClearedItem>,
    other: Option<OtherBankLine>,
    note: Option<String>,
) -> Fact {
    BankCleared { date: line.date, statement, place: line.place, other, note, items }.into()
}

/// A payment as a line names it.
fn named(item: &BankItem) -> Option<ClearedItem> {
    let id = Id::parse(&item.source.id).ok()?;
    let of = |kind: &str| Some(id).filter(|_| item.source.kind == kind);
    Some(ClearedItem {
        payment: of(Payment::KIND),
        refund: of(Refund::KIND),
        vendor_payment: of(VendorPayment::KIND),
        overhead_cost: of(OverheadCost::KIND),
    })
}

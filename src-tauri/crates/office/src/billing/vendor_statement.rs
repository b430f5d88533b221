//! A vendor's statement held against the books, line by line: nothing of it is recorded.

use crate::job::page::Source;
use desk::names::{Directory, Names};
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::Entered;
use ledger::facts::Bill;
use serde::Serialize;
use trade::{Differing, ListedBill, Money, Month, StatementGap, compare_statement};

/// A bill of which the vendor says something else than the books.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StatementDifference {
    /// How the two differ.
    pub gap: StatementGap,
    /// The number on it.
    pub number: String,
    /// The date on it, where the books hold it.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// Open by the statement.
    pub theirs: Money,
    /// Open by the books.
    pub ours: Money,
    /// By how much the statement asks for more.
    pub amount: Money,
    /// The bill in the books.
    pub source: Option<Source>,
    /// What is so, and what to do.
    pub text: String,
}

/// A vendor's statement beside the books.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct VendorStatement {
    /// The vendor.
    pub vendor: String,
    /// What the lines of the statement come to.
    pub theirs: Money,
    /// What is open by the books.
    pub ours: Money,
    /// By how much the statement asks for more: what the differences come to.
    pub difference: Money,
    /// How many lines there are on it.
    pub lines: usize,
    /// Where the two differ; empty where they agree.
    pub differences: Vec<StatementDifference>,
}

/// Holds the lines of a vendor's statement against the books as they stand.
///
/// # Errors
/// When there is no such vendor, or the facts cannot be read.
pub fn vendor_statement(
    desk: &Desk,
    vendor: &str,
    listed: &[ListedBill],
) -> Result<VendorStatement, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let vendor = Directory::default().id(books, "vendor", "vendor", vendor)?;
        let open = books.open_bills(Month::of(Date::MAX))?;
        let bills: Vec<Entered<Bill>> = books.by(Bill::vendor, vendor)?;
        let booked = |held: &Entered<Bill>| ListedBill {
            number: held.fact.reference.clone(),
            open: open.get(&held.entry.id).copied().unwrap_or_default(),
        };
        let booked: Vec<ListedBill> = bills.iter().map(booked).collect();
        let differing = compare_statement(listed, &booked);
        let shown = |found: &Differing| {
            let bill = found.booked.and_then(|place| bills.get(place));
            StatementDifference {
                gap: found.gap,
                number: found.number.clone(),
                date: bill.map(|held| held.fact.date),
                theirs: found.theirs,
                ours: found.ours,
                amount: found.amount(),
                source: bill.map(|held| Source::of(&held.entry, &names)),
                text: words(found),
            }
        };
        Ok(VendorStatement {
            vendor: names.vendor(vendor),
            theirs: listed.iter().map(|line| line.open).sum(),
            ours: booked.iter().map(|bill| bill.open).sum(),
            difference: differing.iter().map(Differing::amount).sum(),
            lines: listed.len(),
            differences: differing.iter().map(shown).collect(),
        })
    })
}

fn words(found: &Differing) -> String {
    let (number, theirs, ours) = (&found.number, found.theirs.grouped(), found.ours.grouped());
    match found.gap {
        StatementGap::NotInBooks => format!(
            "{number} is on the statement with {theirs}, and no bill of that number is in the books. Ask for a copy of \
             it."
        ),
        StatementGap::SettledInBooks => format!(
            "{number} is on the statement with {theirs}, and by the books it is settled. Tell the vendor which payment \
             or credit settled it."
        ),
        StatementGap::OtherAmount => format!(
            "{number} is open with {theirs} by the statement and with {ours} by the books. Compare the bill and what \
             was paid of it."
        ),
        StatementGap::NotListed => format!(
            "{number} is open with {ours} by the books, and is not on the statement. Ask whether the vendor holds it \
             settled, or wrote the statement before it."
        ),
    }
}

//! What subcontractors were paid in a year and by which method, what they have handed in, and whose payments are
//! reported. Nothing is filed from here: whoever files takes the list.

use crate::documents::Document;
use crate::paper_error::AddRow;
use desk::names::Names;
use desk::{Desk, OfficeError};
use jiff::civil::{Date, date};
use ledger::closed_lists::PaidBy;
use ledger::facts::{VendorPapers, VendorPayment};
use ledger::{Books, Id};
use paperwork::{Cell, Column, Kind, Table};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::Money;

/// A subcontractor in a year.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Subcontractor {
    /// The vendor's id.
    pub id: String,
    /// Who.
    pub name: String,
    /// The last four digits of the number that the tax office knows them by; absent where it is not handed in.
    pub tin_ends: Option<String>,
    /// When they signed their W-9.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub w9_signed: Option<Date>,
    /// Insured through this day.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub insured_until: Option<Date>,
    /// Whether that is today or later.
    pub insured: bool,
    /// Paid by check.
    pub check: Money,
    /// By transfer.
    pub transfer: Money,
    /// In cash.
    pub cash: Money,
    /// By card, which whoever settles cards reports.
    pub card: Money,
    /// Paid otherwise than by card: what counts.
    pub counted: Money,
    /// Whether it is reported.
    pub reported: bool,
}

/// The subcontractors of a year.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Subcontractors {
    /// The calendar year, by the day of payment.
    pub year: i16,
    /// From this sum on they are reported.
    pub reported_from: Money,
    /// By name; those that were paid, and those that may be.
    pub subcontractors: Vec<Subcontractor>,
    /// What is reported of them together.
    pub reported: Money,
}

/// What a vendor has handed in: of each the newest that is given.
#[derive(Clone, Debug, Default)]
pub(crate) struct Papers {
    pub(crate) tin: Option<String>,
    pub(crate) w9_signed: Option<Date>,
    pub(crate) insured_until: Option<Date>,
}

pub(crate) fn papers_of(books: Books<'_>) -> Result<BTreeMap<Id, Papers>, OfficeError> {
    let mut held = books.all::<VendorPapers>()?;
    held.sort_by(|left, right| {
        (left.fact.date, &left.entry.recorded_at).cmp(&(right.fact.date, &right.entry.recorded_at))
    });
    let mut papers: BTreeMap<Id, Papers> = BTreeMap::new();
    for VendorPapers { vendor, tin, w9_signed, insured_until, .. } in held.into_iter().map(|held| held.fact) {
        let of_vendor = papers.entry(vendor).or_default();
        of_vendor.tin = tin.or(of_vendor.tin.take());
        of_vendor.w9_signed = w9_signed.or(of_vendor.w9_signed);
        of_vendor.insured_until = insured_until.or(of_vendor.insured_until);
    }
    Ok(papers)
}

/// The subcontractors of a calendar year; of this one where none is asked for.
///
/// # Errors
/// When the facts cannot be read.
pub fn subcontractors(desk: &Desk, year: Option<i16>) -> Result<Subcontractors, OfficeError> {
    let today = desk.clock.today();
    let year = year.unwrap_or(today.year());
    desk.books().in_one_read(|books| Ok(of_year(books, year, today)?.0))
}

fn of_year(
    books: Books<'_>,
    year: i16,
    today: Date,
) -> Result<(Subcontractors, BTreeMap<String, Papers>), OfficeError> {
    let names = Names::read(books)?;
    let papers = papers_of(books)?;
    let mut paid: BTreeMap<(Id, PaidBy), Money> = BTreeMap::new();
    for held in books.dated_between::<VendorPayment>(date(year, 1, 1), date(year, 12, 31))? {
        *paid.entry((held.fact.vendor, held.fact.method)).or_default() += held.fact.total();
    }
    let mut subcontractors: Vec<Subcontractor> = names
        .vendors
        .iter()
        .filter(|(_, vendor)| vendor.subcontractor)
        .map(|(id, vendor)| {
            let by = |method| paid.get(&(*id, method)).copied().unwrap_or_default();
            let handed_in = papers.get(id).cloned().unwrap_or_default();
            let card = by(PaidBy::Card);
            let counted = by(PaidBy::Check) + by(PaidBy::Transfer) + by(PaidBy::Cash);
            Subcontractor {
                id: id.to_string(),
                name: vendor.name.clone(),
                tin_ends: handed_in.tin.as_deref().map(last_four),
                w9_signed: handed_in.w9_signed,
                insured_until: handed_in.insured_until,
                insured: handed_in.insured_until.is_some_and(|until| until >= today),
                check: by(PaidBy::Check),
                transfer: by(PaidBy::Transfer),
                cash: by(PaidBy::Cash),
                card,
                counted,
                reported: trade::is_reported(year, counted + card, card),
            }
        })
        .collect();
    subcontractors.sort_by(|left, right| (&left.name, &left.id).cmp(&(&right.name, &right.id)));
    let reported = subcontractors.iter().filter(|each| each.reported).map(|each| each.counted).sum();
    let papers = papers.into_iter().map(|(id, papers)| (id.to_string(), papers)).collect();
    let reported_from = trade::reported_from(year);
    Ok((Subcontractors { year, reported_from, subcontractors, reported }, papers))
}

/// All that is shown of a number that the tax office knows somebody by.
fn last_four(tin: &str) -> String {
    tin.chars().skip(tin.chars().count().saturating_sub(4)).collect()
}

/// The year's list for form 1099-NEC as CSV, for whoever files: those that are reported, with their numbers in full.
///
/// # Errors
/// When the facts cannot be read.
pub fn nonemployee_list(desk: &Desk, year: Option<i16>) -> Result<Document, OfficeError> {
    let today = desk.clock.today();
    let year = year.unwrap_or(today.year());
    let (of_year, papers) = desk.books().in_one_read(|books| of_year(books, year, today))?;
    let columns = vec![
        Column::new("vendor_id", Kind::Text, "Vendor's id", "The id of the vendor.").required(),
        Column::new("vendor", Kind::Text, "Vendor", "Who was paid.").required(),
        Column::new(
            "tin",
            Kind::Text,
            "TIN",
            "The number that the tax office knows them by, if it is handed in.",
        ),
        Column::new("w9_signed", Kind::Date, "W-9 signed", "When they signed their W-9."),
        Column::new("year", Kind::Integer, "Year", "The calendar year, by the day of payment.").required(),
        Column::new("paid", Kind::Money, "Paid", "Paid in the year otherwise than by card.").required(),
        Column::new("by_card", Kind::Money, "By card", "Paid by card; it is not part of what is reported.")
            .required(),
    ];
    let mut table = Table::new(
        "nonemployee_compensation",
        "Payments to be reported",
        "One row for each subcontractor whose payments of the year are reported. Nothing is filed from here.",
        &["vendor_id"],
        &[],
        columns,
    );
    for each in of_year.subcontractors.iter().filter(|each| each.reported) {
        table.add(vec![
            Cell::text(each.id.clone()),
            Cell::text(each.name.clone()),
            Cell::of(papers.get(&each.id).and_then(|papers| papers.tin.clone())),
            each.w9_signed.map_or(Cell::Empty, Cell::Date),
            Cell::Integer(i64::from(year)),
            each.counted.into(),
            each.card.into(),
        ])?;
    }
    Ok(Document { name: format!("nonemployee-compensation-{year}.csv"), bytes: table.csv() })
}

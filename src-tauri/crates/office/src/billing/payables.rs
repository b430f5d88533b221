//! What vendors are owed today: bill by bill, vendor by vendor by its age, and week by week as it falls due.

use crate::billing::matched::{Billed, Difference, differences};
use crate::job::page::Source;
use desk::names::Names;
use desk::settings::firm_on;
use desk::{Desk, OfficeError};
use jiff::ToSpan;
use jiff::civil::Date;
use ledger::closed_lists::PaidBy;
use ledger::facts::{Bill, VendorPayment};
use ledger::{Books, Fact, Id};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{AgeTable, Money, Month, OpenItem};

/// A bill with anything open.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenBill {
    /// Where it comes from.
    pub source: Source,
    /// The vendor's id.
    pub vendor_id: String,
    /// The vendor.
    pub vendor: String,
    /// The number on it.
    pub number: String,
    /// Whether it is a credit.
    pub credit: bool,
    /// The date on it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// When it is to be paid; its own date where nobody said.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub due: Date,
    /// Whether any of it is owed past its day.
    pub overdue: bool,
    /// What it came to.
    pub total: Money,
    /// Of that, open; below zero on a credit.
    pub open: Money,
    /// Its picture, if it has one.
    pub picture: Option<String>,
    /// Where it is not what was ordered or came.
    pub differences: Vec<Difference>,
}

/// What one vendor is owed, by days past due.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct VendorOwed {
    /// The vendor's id.
    pub id: String,
    /// The vendor.
    pub vendor: String,
    /// Not yet due, and past due by age.
    #[serde(flatten)]
    pub ages: AgeTable,
    /// Credits not taken yet; they age with nothing.
    pub credits: Money,
    /// In all, less the credits.
    pub balance: Money,
}

/// What falls due in a week.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WeekDue {
    /// Its first day; absent for what was due before this week.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub begins: Option<Date>,
    /// Its last day; the day before this week for what was due before it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub ends: Date,
    /// How many bills.
    pub bills: usize,
    /// For how much.
    pub amount: Money,
}

/// A payment that was made.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PaidVendor {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Whom.
    pub vendor: String,
    /// How.
    pub method: PaidBy,
    /// Number of the check, or the like.
    pub reference: Option<String>,
    /// How much left the bank.
    pub amount: Money,
    /// What was let off.
    pub discount: Money,
    /// The numbers of the bills that it pays.
    pub bills: Vec<String>,
}

/// What vendors are owed today.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Payables {
    /// Today.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub today: Date,
    /// Owed in all, less credits.
    pub balance: Money,
    /// Of it, past due.
    pub past_due: Money,
    /// Of it, due in this week.
    pub due_this_week: Money,
    /// The bills, the earliest due first.
    pub bills: Vec<OpenBill>,
    /// The vendors, by name.
    pub vendors: Vec<VendorOwed>,
    /// The weeks, from what is past on; weeks without anything are left out.
    pub weeks: Vec<WeekDue>,
    /// The payments of the last sixty days, newest first.
    pub paid: Vec<PaidVendor>,
}

/// What vendors are owed today.
///
/// # Errors
/// When the facts cannot be read.
pub fn payables(desk: &Desk) -> Result<Payables, OfficeError> {
    let today = desk.clock.today();
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let bills = open_bills(books, &names, Month::of(Date::MAX), today)?;
        let week_begins = firm_on(books, today)?.week_begins.civil();
        let weeks = weeks(&bills, today, week_begins);
        let this_week = weeks.iter().find(|week| week.begins.is_some_and(|begins| begins <= today));
        Ok(Payables {
            today,
            balance: bills.iter().map(|bill| bill.open).sum(),
            past_due: bills.iter().filter(|bill| bill.overdue).map(|bill| bill.open).sum(),
            due_this_week: this_week.map(|week| week.amount).unwrap_or_default(),
            vendors: vendors(&bills, today),
            weeks,
            paid: paid(books, &names, today)?,
            bills,
        })
    })
}

/// The bills with anything open at the end of a month, as they stand on a day.
pub(crate) fn open_bills(
    books: Books<'_>,
    names: &Names,
    through: Month,
    today: Date,
) -> Result<Vec<OpenBill>, OfficeError> {
    let mut bills = Vec::new();
    for (id, open) in books.open_bills(through)? {
        let Some(held) = books.fact(id)? else { continue };
        let Fact::Bill(bill) = &held.fact else { continue };
        let due = bill.due.unwrap_or(bill.date);
        bills.push(OpenBill {
            source: Source::of(&held.entry, names),
            vendor_id: bill.vendor.to_string(),
            vendor: names.vendor(bill.vendor),
            number: bill.reference.clone(),
            credit: bill.credit,
            date: bill.date,
            due,
            overdue: open.is_positive() && trade::days_past_due(due, today) > 0,
            total: bill.total(),
            open,
            picture: bill.picture.map(|picture| picture.to_string()),
            differences: of_bill(books, names, id, bill)?,
        });
    }
    bills.sort_by(|left, right| {
        (left.due, &left.vendor, &left.number).cmp(&(right.due, &right.vendor, &right.number))
    });
    Ok(bills)
}

/// Where a recorded bill is not what its order says.
fn of_bill(books: Books<'_>, names: &Names, id: Id, bill: &Bill) -> Result<Vec<Difference>, OfficeError> {
    let Some(order) = bill.purchase_order.filter(|_| !bill.credit) else { return Ok(Vec::new()) };
    let Some(Fact::PurchaseOrder(ordered)) = books.fact(order)?.map(|held| held.fact) else {
        return Ok(Vec::new());
    };
    let of_job = bill.lines.iter().filter(|line| line.job == ordered.job);
    let lines: Vec<Billed> = of_job
        .map(|line| Billed {
            code: line.code,
            part: line.part,
            quantity: line.quantity,
            amount: line.amount,
            came: line.came,
        })
        .collect();
    differences(books, names, (order, &ordered), &lines, Some(id))
}

fn vendors(bills: &[OpenBill], today: Date) -> Vec<VendorOwed> {
    let mut by_vendor: BTreeMap<(&str, &str), (Vec<OpenItem>, Money)> = BTreeMap::new();
    for bill in bills {
        let (items, credits) = by_vendor.entry((&bill.vendor, &bill.vendor_id)).or_default();
        if bill.open.is_positive() {
            items.push(OpenItem { due: bill.due, open: bill.open });
        } else {
            *credits -= bill.open;
        }
    }
    by_vendor
        .into_iter()
        .map(|((vendor, id), (items, credits))| {
            let ages: AgeTable = trade::aging(&items, today);
            VendorOwed {
                id: id.to_owned(),
                vendor: vendor.to_owned(),
                ages,
                credits,
                balance: ages.total() - credits,
            }
        })
        .collect()
}

fn weeks(bills: &[OpenBill], today: Date, begins: jiff::civil::Weekday) -> Vec<WeekDue> {
    let this = trade::week_start(today, begins);
    let mut weeks: BTreeMap<Option<Date>, (usize, Money)> = BTreeMap::new();
    for bill in bills.iter().filter(|bill| bill.open.is_positive()) {
        let week = Some(trade::week_start(bill.due, begins)).filter(|week| *week >= this);
        let (count, amount) = weeks.entry(week).or_default();
        *count += 1;
        *amount += bill.open;
    }
    let ends = |begins: Option<Date>| match begins {
        Some(begins) => begins.saturating_add(6.days()),
        None => this.saturating_sub(1.day()),
    };
    weeks
        .into_iter()
        .map(|(begins, (bills, amount))| WeekDue { begins, ends: ends(begins), bills, amount })
        .collect()
}

/// How far back payments are listed, in days.
const LISTED: i64 = 60;

fn paid(books: Books<'_>, names: &Names, today: Date) -> Result<Vec<PaidVendor>, OfficeError> {
    let from = today.checked_sub(jiff::Span::new().days(LISTED)).unwrap_or(today);
    let mut paid = Vec::new();
    for held in books.dated_between::<VendorPayment>(from, Date::MAX)? {
        let mut bills = Vec::new();
        for line in &held.fact.bills {
            if let Some(Fact::Bill(bill)) = books.fact(line.bill)?.map(|held| held.fact) {
                bills.push(bill.reference);
            }
        }
        paid.push(PaidVendor {
            source: Source::of(&held.entry, names),
            date: held.fact.date,
            vendor: names.vendor(held.fact.vendor),
            method: held.fact.method,
            reference: held.fact.reference.clone(),
            amount: held.fact.total(),
            discount: held.fact.bills.iter().map(|line| line.discount).sum(),
            bills,
        });
    }
    paid.sort_by(|left, right| (right.date, &right.source.id).cmp(&(left.date, &left.source.id)));
    Ok(paid)
}

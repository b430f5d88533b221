//! What a bill being typed needs to know: what a vendor's last bills were for, what is on order, and whether the same
//! bill is there already.

use crate::billing::matched::{Billed, Difference, differences};
use crate::job::order::{OrderedLine, ordered_lines};
use desk::names::Names;
use desk::people::JobName;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::facts::{Bill, Condition, PurchaseOrder};
use ledger::{Books, Fact, Id};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use trade::{CostKind, Money, Qty};

/// What a line of a vendor's last bills was for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Habit {
    /// The code, where it was a job's.
    pub code: Option<String>,
    /// And the kind of cost.
    pub cost_kind: Option<CostKind>,
    /// The overhead account, where it was no job's.
    pub account: Option<String>,
}

/// A vendor with what its bills are usually for.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct VendorHabits {
    /// The vendor's id.
    pub id: String,
    /// The vendor.
    pub name: String,
    /// In how many days its bills are due.
    pub due_days: Option<i64>,
    /// What its last bills were for, the newest first.
    pub last: Vec<Habit>,
}

/// An order that no bill has completed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenOrder {
    /// Its id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// The vendor.
    pub vendor: String,
    /// The job's number.
    pub job: String,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Its lines.
    pub lines: Vec<OrderedLine>,
}

/// A hidden condition that a line may be for.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobCondition {
    /// Its id.
    pub id: String,
    /// The job's number.
    pub job: String,
    /// Its own number.
    pub number: String,
}

/// What a pile of bills is typed with.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BillDesk {
    /// Vendors, by name.
    pub vendors: Vec<VendorHabits>,
    /// Orders that no bill has completed, newest first.
    pub orders: Vec<OpenOrder>,
    /// Jobs, newest first.
    pub jobs: Vec<JobName>,
    /// Hidden conditions of the jobs.
    pub conditions: Vec<JobCondition>,
}

/// How far back a vendor's bills are looked at, in days.
const HABIT: i64 = 365;
/// How many of a vendor's habits are offered.
const OFFERED: usize = 4;

/// What a pile of bills is typed with.
///
/// # Errors
/// When the facts cannot be read.
pub fn bill_desk(desk: &Desk) -> Result<BillDesk, OfficeError> {
    let today = desk.clock.today();
    let jobs = desk::people::job_names(desk)?;
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let conditions = books.all::<Condition>()?.into_iter().map(|held| JobCondition {
            id: held.entry.id.to_string(),
            job: names.job_number(held.fact.job),
            number: held.fact.number,
        });
        Ok(BillDesk {
            vendors: vendors(books, &names, today)?,
            orders: orders(books, &names, today)?,
            conditions: conditions.collect(),
            jobs,
        })
    })
}

fn year_ago(today: Date) -> Date {
    today.checked_sub(jiff::Span::new().days(HABIT)).unwrap_or(today)
}

fn vendors(books: Books<'_>, names: &Names, today: Date) -> Result<Vec<VendorHabits>, OfficeError> {
    let mut bills = books.dated_between::<Bill>(year_ago(today), Date::MAX)?;
    bills.sort_by_key(|bill| std::cmp::Reverse((bill.fact.date, bill.entry.id)));
    let mut habits: BTreeMap<Id, Vec<Habit>> = BTreeMap::new();
    for bill in bills.iter().filter(|bill| !bill.fact.credit) {
        let of_vendor = habits.entry(bill.fact.vendor).or_default();
        let jobs = bill.fact.lines.iter().map(|line| Habit {
            code: Some(names.code(line.code)),
            cost_kind: Some(line.cost_kind),
            account: None,
        });
        let own = bill.fact.overhead.iter().map(|line| Habit {
            code: None,
            cost_kind: None,
            account: Some(names.overhead(line.account)),
        });
        for habit in jobs.chain(own) {
            if of_vendor.len() < OFFERED && !of_vendor.contains(&habit) {
                of_vendor.push(habit);
            }
        }
    }
    let mut vendors: Vec<VendorHabits> = names
        .vendors
        .iter()
        .map(|(id, vendor)| VendorHabits {
            id: id.to_string(),
            name: vendor.name.clone(),
            due_days: vendor.due_days,
            last: habits.remove(id).unwrap_or_default(),
        })
        .collect();
    vendors.sort_by(|left, right| left.name.cmp(&right.name));
    Ok(vendors)
}

fn orders(books: Books<'_>, names: &Names, today: Date) -> Result<Vec<OpenOrder>, OfficeError> {
    let bills = books.dated_between::<Bill>(year_ago(today), Date::MAX)?;
    let complete: BTreeSet<Id> = bills
        .iter()
        .filter(|bill| bill.fact.completes_order)
        .filter_map(|bill| bill.fact.purchase_order)
        .collect();
    let mut orders: Vec<OpenOrder> = books
        .dated_between::<PurchaseOrder>(year_ago(today), Date::MAX)?
        .into_iter()
        .filter(|held| !complete.contains(&held.entry.id))
        .map(|held| OpenOrder {
            id: held.entry.id.to_string(),
            number: held.fact.number,
            vendor: names.vendor(held.fact.vendor),
            job: names.job_number(held.fact.job),
            date: held.fact.date,
            lines: ordered_lines(&held.fact.lines, names),
        })
        .collect();
    orders.sort_by(|left, right| (right.date, &right.number).cmp(&(left.date, &left.number)));
    Ok(orders)
}

/// A line of a bill being typed, as far as it is held against an order.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct TypedLine {
    /// The job's number.
    pub job: String,
    /// The code.
    pub code: String,
    /// How many.
    pub quantity: Option<Qty>,
    /// For how much, before tax.
    pub amount: Money,
    /// How many came, where somebody counted.
    pub came: Option<Qty>,
    /// The id of the firm's part, where the line is that of an order.
    pub part: Option<String>,
}

/// A bill being typed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct TypedBill {
    /// The vendor's name.
    pub vendor: String,
    /// The number on it.
    pub reference: String,
    /// Whether it is a credit.
    pub credit: bool,
    /// The date on it.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// The id of the order that it fills.
    pub purchase_order: Option<String>,
    /// Its lines for jobs.
    pub lines: Vec<TypedLine>,
}

/// A bill that is there already.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SameBill {
    /// Its id.
    pub id: String,
    /// The date on it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What it comes to.
    pub total: Money,
}

/// What is known of a bill being typed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BillCheck {
    /// The bill of the same number of the same vendor.
    pub same: Option<SameBill>,
    /// When it is to be paid by the vendor's terms.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub due: Option<Date>,
    /// Where it is not what was ordered or came.
    pub differences: Vec<Difference>,
}

/// What is known of a bill being typed.
///
/// # Errors
/// When the facts cannot be read.
pub fn check_bill(desk: &Desk, typed: &TypedBill) -> Result<BillCheck, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let named = |name: &str| names.vendors.iter().find(|(_, vendor)| vendor.name == name.trim());
        let Some((vendor, terms)) = named(&typed.vendor) else {
            return Ok(BillCheck { same: None, due: None, differences: Vec::new() });
        };
        let held = books.bills_numbered(*vendor, typed.reference.trim())?;
        let same = held.into_iter().find(|held| held.fact.credit == typed.credit);
        let due = typed.date.zip(terms.due_days);
        Ok(BillCheck {
            same: same.map(|held| SameBill {
                id: held.entry.id.to_string(),
                date: held.fact.date,
                total: held.fact.total(),
            }),
            due: due.and_then(|(date, days)| date.checked_add(jiff::Span::new().days(days)).ok()),
            differences: of_typed(books, &names, typed)?,
        })
    })
}

fn of_typed(books: Books<'_>, names: &Names, typed: &TypedBill) -> Result<Vec<Difference>, OfficeError> {
    let order = typed.purchase_order.as_deref().and_then(|id| Id::parse(id).ok());
    let Some(order) = order.filter(|_| !typed.credit) else { return Ok(Vec::new()) };
    let Some(Fact::PurchaseOrder(ordered)) = books.fact(order)?.map(|held| held.fact) else {
        return Ok(Vec::new());
    };
    let job = names.job_number(ordered.job);
    let code = |word: &str| names.codes.iter().find(|(_, code)| code.code == word).map(|(id, _)| *id);
    let lines: Vec<Billed> = typed
        .lines
        .iter()
        .filter(|line| line.job == job)
        .filter_map(|line| {
            let code = code(&line.code)?;
            let part = line.part.as_deref().and_then(|id| Id::parse(id).ok());
            Some(Billed { code, part, quantity: line.quantity, amount: line.amount, came: line.came })
        })
        .collect();
    differences(books, names, (order, &ordered), &lines, None)
}

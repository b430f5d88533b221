//! What the firm costs beside its jobs: by account, fact by fact, and what comes again and is not recorded yet.

use crate::job::page::Source;
use crate::month::result::january;
use desk::names::Names;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::booked::Booked;
use ledger::closed_lists::{Every, OwedFrom};
use ledger::facts::{Bill, DirectCost, OverheadCost, RecurringCost, VendorPayment};
use ledger::{Books, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month};

/// What one account cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AccountCost {
    /// The account's id; absent for what vendors let off.
    pub id: Option<String>,
    /// Its number.
    pub number: Option<String>,
    /// Its name.
    pub name: String,
    /// In the month.
    pub month: Money,
    /// From January to the month's end.
    pub year: Money,
}

/// A fact that moved an account.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OverheadFact {
    /// Where it comes from.
    pub source: Source,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The account's id; absent for what a vendor let off.
    pub account: Option<String>,
    /// The account's name.
    pub name: String,
    /// The vendor, or the job that was charged.
    pub who: String,
    /// What it is.
    pub text: String,
    /// What it adds to the account, with tax.
    pub amount: Money,
}

/// A cost that comes again.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Recurring {
    /// Its id.
    pub id: String,
    /// The account's id.
    pub account: String,
    /// The account's name.
    pub name: String,
    /// What for.
    pub description: String,
    /// How much.
    pub amount: Money,
    /// The first day on which it was due.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub first: Date,
    /// How often.
    pub every: Every,
    /// Whose bill it is.
    pub vendor: Option<String>,
    /// Or where it comes from.
    pub owed_from: Option<OwedFrom>,
    /// The day in the month on which it is due; absent where it is not.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub due: Option<Date>,
    /// Whether a bill or cost of the month says that it is this one.
    pub recorded: bool,
}

/// An account that most firms have.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct UsualAccount {
    /// Its number.
    pub number: &'static str,
    /// Its name.
    pub name: &'static str,
}

/// The firm's overhead in a month.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Overhead {
    /// The month.
    pub month: Month,
    /// By account; every account of the firm, by number and name.
    pub accounts: Vec<AccountCost>,
    /// What it comes to in the month.
    pub cost: Money,
    /// And from January on.
    pub year: Money,
    /// The facts of the month.
    pub facts: Vec<OverheadFact>,
    /// Costs that come again.
    pub recurring: Vec<Recurring>,
    /// Accounts that most firms have and this one not.
    pub usual: Vec<UsualAccount>,
}

/// The accounts that are offered to begin with (common practice).
pub(crate) const USUAL_ACCOUNTS: &[(&str, &str)] = &[
    ("6000", "Rent"),
    ("6100", "Trucks and fuel"),
    ("6200", "Tools and small equipment"),
    ("6300", "Insurance"),
    ("6400", "Office pay"),
    ("6450", "Owner's time"),
    ("6500", "Telephone, software and office supplies"),
    ("6600", "Advertising"),
    ("6700", "Accounting and legal fees"),
    ("6800", "Licenses and dues"),
    ("6900", "Bank fees and interest"),
];

/// The firm's overhead in a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn overhead(desk: &Desk, month: Month) -> Result<Overhead, OfficeError> {
    desk.books().in_one_read(|books| overhead_of(books, month))
}

fn overhead_of(books: Books<'_>, month: Month) -> Result<Overhead, OfficeError> {
    let names = Names::read(books)?;
    let in_month = books.overhead(month, month)?;
    let in_year = books.overhead(january(month), month)?;
    let mut accounts: Vec<AccountCost> = names
        .overhead
        .iter()
        .map(|(id, account)| AccountCost {
            id: Some(id.to_string()),
            number: account.number.clone(),
            name: account.name.clone(),
            month: in_month.get(&Some(*id)).copied().unwrap_or_default(),
            year: in_year.get(&Some(*id)).copied().unwrap_or_default(),
        })
        .collect();
    accounts.sort_by(|left, right| (&left.number, &left.name).cmp(&(&right.number, &right.name)));
    if let Some(year) = in_year.get(&None) {
        let month = in_month.get(&None).copied().unwrap_or_default();
        accounts.push(AccountCost { id: None, number: None, name: LET_OFF.to_owned(), month, year: *year });
    }
    let known: BTreeSet<&str> = names.overhead.values().map(|account| account.name.as_str()).collect();
    let usual = USUAL_ACCOUNTS.iter().filter(|(_, name)| !known.contains(name));
    Ok(Overhead {
        month,
        cost: in_month.into_values().sum(),
        year: in_year.into_values().sum(),
        facts: facts_of(books, &names, month)?,
        recurring: recurring_of(books, &names, month)?,
        usual: usual.map(|(number, name)| UsualAccount { number, name }).collect(),
        accounts,
    })
}

/// What stands where no account does.
pub(crate) const LET_OFF: &str = "Discounts taken";

/// Every fact of a month that moved an account, in the order of their dates.
pub(crate) fn facts_of(
    books: Books<'_>,
    names: &Names,
    month: Month,
) -> Result<Vec<OverheadFact>, OfficeError> {
    let mut facts = Facts { names, facts: Vec::new() };
    for booked in books.booked_in::<Bill>(month)? {
        let who = names.vendor(booked.fact.vendor);
        let what = if booked.fact.credit { "credit" } else { "bill" };
        for line in &booked.fact.overhead {
            let text = match &line.description {
                Some(description) => format!("{what} {}: {description}", booked.fact.reference),
                None => format!("{what} {}", booked.fact.reference),
            };
            facts.add(&booked, booked.fact.date, Some(line.account), (&who, &text), line.amount + line.tax);
        }
    }
    for booked in books.booked_in::<OverheadCost>(month)? {
        let cost = &booked.fact;
        facts.add(&booked, cost.date, Some(cost.account), ("", &cost.description), cost.amount);
    }
    for booked in books.booked_in::<DirectCost>(month)? {
        let cost = &booked.fact;
        if let Some(account) = cost.equipment {
            let text = format!("charged to the job: {}", cost.description);
            let who = names.job_number(cost.job);
            facts.add(&booked, cost.date, Some(account), (&who, &text), -cost.amount);
        }
    }
    for booked in books.booked_in::<VendorPayment>(month)? {
        let off: Money = booked.fact.bills.iter().map(|line| line.discount).sum();
        if !off.is_zero() {
            let who = names.vendor(booked.fact.vendor);
            facts.add(&booked, booked.fact.date, None, (&who, "let off for being paid early"), -off);
        }
    }
    facts.facts.sort_by(|left, right| (left.date, &left.source.id).cmp(&(right.date, &right.source.id)));
    Ok(facts.facts)
}

struct Facts<'a> {
    names: &'a Names,
    facts: Vec<OverheadFact>,
}

impl Facts<'_> {
    fn add<T>(
        &mut self,
        booked: &Booked<T>,
        date: Date,
        account: Option<Id>,
        (who, text): (&str, &str),
        amount: Money,
    ) {
        let text = match &booked.reason {
            Some(reason) => format!("{text}, reversed: {reason}"),
            None => text.to_owned(),
        };
        self.facts.push(OverheadFact {
            source: Source::of(&booked.entry, self.names),
            date,
            account: account.map(|account| account.to_string()),
            name: account.map_or_else(|| LET_OFF.to_owned(), |account| self.names.overhead(account)),
            who: who.to_owned(),
            text,
            amount: if booked.sign < 0 { -amount } else { amount },
        });
    }
}

/// How many months lie between two times.
const fn months_apart(every: Every) -> i32 {
    match every {
        Every::Month => 1,
        Every::Quarter => 3,
        Every::Year => 12,
    }
}

/// The costs that come again and have not ended before the month, each with the day on which it is due in it.
pub(crate) fn recurring_of(
    books: Books<'_>,
    names: &Names,
    month: Month,
) -> Result<Vec<Recurring>, OfficeError> {
    let recorded = recorded_in(books, month)?;
    let costs: BTreeMap<Id, RecurringCost> = books.current(|cost: &RecurringCost| cost.revises)?;
    let mut recurring: Vec<Recurring> = costs
        .into_iter()
        .filter(|(_, cost)| cost.until.is_none_or(|until| until >= month.first_day()))
        .map(|(id, cost)| Recurring {
            id: id.to_string(),
            account: cost.account.to_string(),
            name: names.overhead(cost.account),
            description: cost.description,
            amount: cost.amount,
            first: cost.date,
            every: cost.every,
            vendor: cost.vendor.map(|vendor| names.vendor(vendor)),
            owed_from: cost.owed_from,
            due: trade::due_in(cost.date, months_apart(cost.every), month)
                .filter(|due| cost.until.is_none_or(|until| *due <= until)),
            recorded: recorded.contains(&id),
        })
        .collect();
    recurring.sort_by(|left, right| {
        (left.due.is_none(), left.due, &left.description).cmp(&(
            right.due.is_none(),
            right.due,
            &right.description,
        ))
    });
    Ok(recurring)
}

/// The recurring costs that facts dated in a month say they are.
fn recorded_in(books: Books<'_>, month: Month) -> Result<BTreeSet<Id>, OfficeError> {
    let (first, last) = (month.first_day(), month.last_day());
    let bills = books.dated_between::<Bill>(first, last)?.into_iter();
    let lines = bills.flat_map(|held| held.fact.overhead).filter_map(|line| line.recurring);
    let costs = books.dated_between::<OverheadCost>(first, last)?.into_iter();
    Ok(lines.chain(costs.filter_map(|held| held.fact.recurring)).collect())
}

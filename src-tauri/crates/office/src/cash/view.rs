//! Cash ahead as it is asked and shown.

use crate::job::page::Source;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use trade::Money;

/// A job that is to begin, or to go on, some weeks later than planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobSlips {
    /// The job's number.
    pub job: String,
    /// How many weeks.
    pub weeks: i32,
}

/// A customer who is to pay some weeks later than they are taken to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PaysLate {
    /// The customer's name.
    pub customer: String,
    /// How many weeks.
    pub weeks: i32,
}

/// What is asked. Nothing of it is recorded.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AsIf {
    /// What is at the bank, where it is not taken from the bank's statement and the books.
    #[serde(default)]
    pub cash: Option<Money>,
    /// The least that is to be kept.
    #[serde(default)]
    pub keep: Option<Money>,
    /// Jobs that slip.
    #[serde(default)]
    pub slips: Vec<JobSlips>,
    /// Customers who pay late.
    #[serde(default)]
    pub late: Vec<PaysLate>,
}

impl AsIf {
    /// How many weeks a job slips.
    pub(super) fn slips(&self, job: &str) -> i32 {
        self.slips.iter().filter(|slip| slip.job == job).map(|slip| slip.weeks).sum()
    }

    /// How many weeks later a customer pays.
    pub(super) fn late(&self, customer: &str) -> i32 {
        self.late.iter().filter(|late| late.customer == customer).map(|late| late.weeks).sum()
    }

    pub(super) fn changes_anything(&self) -> bool {
        self.slips.iter().any(|slip| slip.weeks != 0) || self.late.iter().any(|late| late.weeks != 0)
    }
}

/// Where the cash that it begins with comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum CashFrom {
    /// Somebody typed it.
    Typed,
    /// The last statement of the bank, and what the books moved that it does not show.
    Statement,
    /// Nothing says it, and it is taken for nothing.
    Nothing,
}
trade::closed_list!(CashFrom, "beginning of cash ahead", {
    Typed => "typed": "As it was typed",
    Statement => "statement": "By the bank's last statement and the books since",
    Nothing => "nothing": "Nothing says what is at the bank",
});

/// What money is expected for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum CashFor {
    /// An invoice that is open.
    Invoice,
    /// Retainage that is held.
    Retainage,
    /// What is still to be billed of a contract.
    ToBill,
    /// What a customer has to their credit, which lowers what comes in.
    Credit,
    /// A vendor's bill.
    Bill,
    /// Work that is done and not paid yet.
    Worked,
    /// The pay of planned crews.
    Crew,
    /// What is still to be bought for a job.
    ToBuy,
    /// Overhead that comes again.
    Recurring,
    /// What the budget of overhead holds beside it.
    Overhead,
}
impl CashFor {
    /// Whether it is money that goes out, or what lowers that.
    #[must_use]
    pub const fn goes_out(self) -> bool {
        !matches!(self, CashFor::Invoice | CashFor::Retainage | CashFor::ToBill | CashFor::Credit)
    }
}
trade::closed_list!(CashFor, "cause of cash ahead", {
    Invoice => "invoice": "Open invoices",
    Retainage => "retainage": "Retainage",
    ToBill => "to-bill": "Still to be billed",
    Credit => "credit": "Credits of customers",
    Bill => "bill": "Bills of vendors",
    Worked => "worked": "Work done, not paid yet",
    Crew => "crew": "Pay of planned crews",
    ToBuy => "to-buy": "Still to be bought for jobs",
    Recurring => "recurring": "Overhead that comes again",
    Overhead => "overhead": "Other overhead by the budget",
});

/// Money that is expected.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ExpectedCash {
    /// In which week, from 1; absent where it comes after the thirteen.
    pub week: Option<usize>,
    /// What for.
    pub cause: CashFor,
    /// The day on which it is expected.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The day on which it is due, or is billed; absent where there is none.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub due: Option<Date>,
    /// The job's number.
    pub job: Option<String>,
    /// The customer, the vendor, the crew or the account.
    pub who: String,
    /// What it is, in words.
    pub text: String,
    /// How much: below zero where it goes out.
    pub amount: Money,
    /// Where it comes from; absent where no single fact says so.
    pub source: Option<Source>,
}

/// A week ahead.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WeekAhead {
    /// Which, from 1.
    pub week: usize,
    /// Its first day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub begins: Date,
    /// Its last day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub ends: Date,
    /// What is there before.
    pub opening: Money,
    /// What comes in.
    pub cash_in: Money,
    /// What goes out.
    pub cash_out: Money,
    /// What is there after.
    pub closing: Money,
}

/// The lowest closing of the weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct LowestWeek {
    /// In which week, from 1; of several the earliest.
    pub week: usize,
    /// How low.
    pub closing: Money,
    /// What it lacks to the least that is to be kept.
    pub short: Money,
}

/// When a customer is taken to pay.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CustomerHabit {
    /// The customer's id.
    pub customer_id: String,
    /// The customer.
    pub customer: String,
    /// How many invoices they have paid.
    pub paid: usize,
    /// How many days past due they are taken to pay; below zero where they pay before.
    pub days: i32,
    /// By which invoices.
    pub by: HabitOf,
}

/// Whose invoices show when somebody pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum HabitOf {
    /// Their own.
    Own,
    /// All customers', since they have paid too few.
    Everybody,
    /// Nobody's: too few were paid by all of them, and they are taken to pay when it is due.
    Nobody,
}
trade::closed_list!(HabitOf, "habit of paying", {
    Own => "own": "By their own invoices",
    Everybody => "everybody": "By all customers' invoices: they have paid too few",
    Nobody => "nobody": "When due: too few invoices were paid",
});

/// What cannot be dated.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Undated {
    /// The job's number.
    pub job: String,
    /// The customer.
    pub customer: String,
    /// What of its contract is still to be billed or held.
    pub amount: Money,
}

impl ExpectedCash {
    /// How much of its own side it is: below zero where it lowers that.
    #[must_use]
    pub fn of_its_side(&self) -> Money {
        if self.cause.goes_out() { -self.amount } else { self.amount }
    }
}

/// Cash ahead, thirteen weeks.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CashAhead {
    /// The firm's name.
    pub name: String,
    /// The day from whose end it is looked ahead.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub on: Date,
    /// What it begins with.
    pub opening: Money,
    /// Where that comes from.
    pub from: CashFrom,
    /// The last day of the bank's statement that it begins with.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub statement: Option<Date>,
    /// What makes up the opening.
    pub start: Vec<ExpectedStart>,
    /// The weeks.
    pub weeks: Vec<WeekAhead>,
    /// The lowest closing.
    pub lowest: Option<LowestWeek>,
    /// The lowest closing if nothing slips and nobody pays late; absent where nothing of it was asked.
    pub lowest_as_is: Option<LowestWeek>,
    /// What is expected, week by week, and last what comes after them.
    pub expected: Vec<ExpectedCash>,
    /// When customers are taken to pay.
    pub habits: Vec<CustomerHabit>,
    /// Jobs whose work nobody has planned: what they bring is in no week.
    pub undated: Vec<Undated>,
    /// What is to be known of it.
    pub cautions: Vec<String>,
    /// The jobs that may slip, by number.
    pub jobs: Vec<String>,
    /// What was asked.
    pub as_if: AsIf,
}

/// A part of what it begins with.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ExpectedStart {
    /// Its day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What it is.
    pub text: String,
    /// How much.
    pub amount: Money,
    /// Where it comes from; absent where somebody typed it.
    pub source: Option<Source>,
}

//! What the firm costs beside its jobs: overhead by account, what of it comes again, and what the
//! firm means to do.

use crate::closed_lists::{Every, OwedFrom};
use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{Money, Month, Qty};

fact! {
    /// An account of the firm's overhead: rent, trucks, insurance, office pay.
    OverheadAccount as "overhead-account" in "overhead_account" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// Its number in the firm's books.
        number: Option<String>,
        /// Its name.
        name: String,
    }
}
fact! {
    /// A cost of the firm that comes again: offered when it is due, and never recorded by itself. It comes as a
    /// vendor's bill, or without one.
    RecurringCost as "recurring-cost" in "recurring_cost" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// The first day on which it is due.
        date: Date,
        /// Its account.
        account: Id,
        /// What for.
        description: String,
        /// How much each time.
        amount: Money,
        /// How often.
        every: Every,
        /// Who sends the bill.
        vendor: Option<Id>,
        /// Or, without a bill, where it comes from.
        owed_from: Option<OwedFrom>,
        /// The last day on which it may be due.
        until: Option<Date>,
    }
}
row! {
    /// A line of a bill that is no job's.
    BillOverhead in "bill_overhead" {
        /// The account.
        account: Id,
        /// What.
        description: Option<String>,
        /// Amount before tax; negative on a credit.
        amount: Money,
        /// Tax on it; negative on a credit.
        #[serde(default)]
        tax: Money,
        /// The recurring cost that it is.
        recurring: Option<Id>,
    } lists {}
}
fact! {
    /// A cost of the firm without a bill: office pay, a bank's fee, what is set aside for a truck's wear.
    OverheadCost as "overhead-cost" in "overhead_cost" {
        /// When.
        date: Date,
        /// The account.
        account: Id,
        /// What for.
        description: String,
        /// Amount; negative where some of it came back.
        amount: Money,
        /// Where it comes from.
        owed_from: OwedFrom,
        /// The recurring cost that it is.
        recurring: Option<Id>,
    }
}
fact! {
    /// What the firm means to do in a month. Of one month the newest counts; once the month is closed it stays.
    Budget as "budget" in "budget" {
        /// When it was set.
        date: Date,
        /// The month that it is of.
        month: Month,
        /// Sales: what jobs are to earn.
        sales: Money,
        /// What jobs are to cost.
        cost: Money,
        /// What the firm is to cost beside its jobs.
        overhead: Money,
        /// How many days of crews it takes.
        crew_days: Qty,
    }
}

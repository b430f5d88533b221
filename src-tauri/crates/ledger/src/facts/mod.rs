//! The kinds of fact. Each struct is one table (and one table for each of its lists), in the order of the columns.
//!
//! Amounts are `Money` (cents in SQLite), quantities `Qty` (ten-thousandths), unit prices and rates `Rate`
//! (millionths; a percentage is a fraction). Ids point at the *first* version of a master record; a later version
//! names it in `revises`.

use crate::closed_lists::OwedFrom;
use crate::kind::kinds;
use trade::Money;

mod bank;
mod billing;
mod change;
mod closing;
mod cost;
mod firm;
mod job;
mod law;
mod overhead;
mod paying;
mod recipe;
mod roof;
mod workmanship;

pub use bank::*;
pub use billing::*;
pub use change::*;
pub use closing::*;
pub use cost::*;
pub use firm::*;
pub use job::*;
pub use law::*;
pub use overhead::*;
pub use paying::*;
pub use recipe::*;
pub use roof::*;
pub use workmanship::*;

kinds! {
    Firm, Device, DeviceLeft, Crew, Person, Customer, Vendor, CostCode, PayRate, BurdenRate, Bonus, Account,
    Job, JobStatus, Schedule, Contract,
    OverheadAccount, RecurringCost,
    PurchaseOrder, Bill, DirectCost, OverheadCost, VendorPayment, VendorPapers, Budget,
    TimeEntry, StoredMaterial, UnitsDone, Forecast,
    Condition, Repair, ChangeOrder, ChangeCost, Decision, DeclinedRepair,
    Invoice, RetainageRelease, Payment, Allocation, Refund, BankStatement, BankCleared,
    MonthClosed, HandOff, Attachment, Reversal,
    Answer,
    Part, PartPrice, ColorChoice, ProductionRate, Standard, Recipe,
    Roof, CheckPoint, WorkCheck, Inspection, Installed, Warranty,
    Notice, LeadPamphlet, InsulationReceipt,
}

impl Fact {
    /// What it moves at the bank, above zero where money comes in; nothing where it does not go through the bank.
    #[must_use]
    pub fn at_the_bank(&self) -> Option<Money> {
        match self {
            Fact::Payment(payment) => Some(payment.amount),
            Fact::Refund(refund) => Some(-refund.amount),
            Fact::VendorPayment(payment) => Some(-payment.total()).filter(|amount| !amount.is_zero()),
            Fact::OverheadCost(cost) if cost.owed_from == OwedFrom::Bank => Some(-cost.amount),
            _ => None,
        }
    }
}

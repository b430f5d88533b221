//! The kinds of fact. Each struct is one table (and one table for each of its lists), in the order of the columns.
//!
//! Amounts are `Money` (cents in SQLite), quantities `Qty` (ten-thousandths), unit prices and rates `Rate`
//! (millionths; a percentage is a fraction). Ids point at the *first* version of a master record; a later version
//! names it in `revises`.

use crate::kind::kinds;

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
    Condition, Repair, ChangeOrder, Decision, DeclinedRepair,
    Invoice, RetainageRelease, Payment, Allocation, Refund, MonthClosed, HandOff, Attachment, Reversal,
    Answer,
    Part, PartPrice, ColorChoice, ProductionRate, Standard, Recipe,
    Roof, CheckPoint, WorkCheck, Inspection, Installed, Warranty,
    Notice, LeadPamphlet, InsulationReceipt,
}

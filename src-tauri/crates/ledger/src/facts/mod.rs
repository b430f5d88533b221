//! The kinds of fact. Each struct is one table (and one table for each of its lists), in the order of the columns.
//!
//! Amounts are `Money` (cents in SQLite), quantities `Qty` (ten-thousandths), unit prices and rates `Rate`
//! (millionths; a percentage is a fraction). Ids point at the *first* version of a master record; a later version
//! names it in `revises`.

use crate::kind::kinds;

mod billing;
mod closing;
mod firm;
mod job;
mod roof;
mod spend;
mod surprise;
mod work;

pub use billing::*;
pub use closing::*;
pub use firm::*;
pub use job::*;
pub use roof::*;
pub use spend::*;
pub use surprise::*;
pub use work::*;

kinds! {
    Firm, Device, Crew, Person, Customer, Vendor, CostCode, PayRate, BurdenRate, Bonus, Account, Job, JobStep, Promise,
    PurchaseOrder, Receipt, Charge, Time, StoredMaterial, UnitsDone, Forecast, Find, FindStep, ChangeOrder, Answer,
    Invoice, RetainageRelease, Payment, Application, MonthClosed, HandOff, Attachment, Reversal,
    Part, PartPrice, ProductionRate, Standard, Roof, CheckPoint, WorkCheck, Inspection, Installed, Warranty,
}

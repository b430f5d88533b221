//! What a job costs: orders, bills, direct costs, hours, and work done.

use super::overhead::BillOverhead;
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{CostKind, Money, Qty, Rate};

row! {
    /// A line of an order.
    OrderLine in "purchase_order_line" {
        /// Code.
        code: Id,
        /// Kind of cost; not labor.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// How many.
        quantity: Option<Qty>,
        /// Of what unit.
        unit: Option<String>,
        /// Amount.
        amount: Money,
        /// The firm's part, where the line was drawn from the contract.
        part: Option<Id>,
    } lists {}
}
fact! {
    /// Something ordered for a job and not yet received: committed cost.
    PurchaseOrder as "purchase-order" in "purchase_order" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// From whom.
        vendor: Id,
        /// The firm's number for it.
        number: String,
        /// Wanted on site by.
        expected_on: Option<Date>,
    } with {
        /// What is ordered.
        lines: OrderLine,
    }
}
row! {
    /// A line of a bill.
    BillLine in "bill_line" {
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Kind of cost; not labor.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// How many, in the unit of the contract.
        quantity: Option<Qty>,
        /// Unit.
        unit: Option<String>,
        /// Price of one, when printed.
        unit_price: Option<Rate>,
        /// Amount before tax; negative on a credit.
        amount: Money,
        /// Tax on it; negative on a credit.
        #[serde(default)]
        tax: Money,
        /// The hidden condition it was for.
        condition: Option<Id>,
        /// How many came, where somebody counted.
        came: Option<Qty>,
        /// The firm's part, where the line is that of an order.
        part: Option<Id>,
    } lists {}
}
fact! {
    /// A vendor's bill or credit.
    Bill as "bill" in "bill" {
        /// Date on it.
        date: Date,
        /// From whom.
        vendor: Id,
        /// The number on it.
        reference: String,
        /// The order it fills.
        purchase_order: Option<Id>,
        /// Whether nothing more will come on that order.
        #[serde(default)]
        completes_order: bool,
        /// Whether it is a supplier's credit; its lines are then negative.
        #[serde(default)]
        credit: bool,
        /// Note.
        note: Option<String>,
        /// When it is to be paid.
        due: Option<Date>,
        /// A picture or PDF of it.
        picture: Option<Digest>,
    } with {
        /// Its lines for jobs.
        lines: BillLine,
        /// Its lines that are no job's.
        overhead: BillOverhead,
    }
}
impl Bill {
    /// What it comes to, with tax.
    #[must_use]
    pub fn total(&self) -> Money {
        let jobs = self.lines.iter().map(|line| line.amount + line.tax);
        jobs.chain(self.overhead.iter().map(|line| line.amount + line.tax)).sum()
    }
}
fact! {
    /// A cost of a job without a bill: own equipment, a fee paid in cash.
    DirectCost as "direct-cost" in "direct_cost" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Kind of cost; not labor.
        cost_kind: CostKind,
        /// What for.
        description: String,
        /// Amount.
        amount: Money,
        /// The hidden condition it was for.
        condition: Option<Id>,
        /// The account of the firm's own equipment that was used: what the job is charged, that account costs less.
        equipment: Option<Id>,
    }
}
fact! {
    /// Hours of one person on one day, job and code.
    TimeEntry as "time-entry" in "time_entry" {
        /// Day.
        date: Date => open,
        /// Who.
        person: Id => open,
        /// The job.
        job: Id => open,
        /// Code.
        code: Id => open,
        /// Hours.
        hours: Qty => open,
        /// The crew they worked with.
        crew: Option<Id> => open,
        /// Whether these hours made the overtime.
        #[serde(default)]
        caused_overtime: bool => open,
        /// The hidden condition they were for.
        condition: Option<Id> => open,
    }
}
fact! {
    /// Material on site and not installed, at cost, as counted on a day; the newest count of a job and code stands.
    StoredMaterial as "stored-material" in "stored_material" {
        /// Counted on.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// At cost.
        amount: Money,
    }
}
fact! {
    /// Work done on a measured code.
    UnitsDone as "units-done" in "units_done" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// Code.
        code: Id => open,
        /// In the code's unit, since the last entry.
        quantity: Qty => open,
    }
}
fact! {
    /// The owner's own forecast of what a code will have cost at the end.
    Forecast as "forecast" in "forecast" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Cost at completion.
        amount: Money,
        /// Why.
        note: Option<String>,
    }
}

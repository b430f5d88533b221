//! What vendors are paid.

use crate::closed_lists::PaidBy;
use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::Money;

row! {
    /// What a payment pays of one bill; below zero for a credit that is taken with it.
    PaidBill in "vendor_payment_bill" {
        /// The bill.
        bill: Id,
        /// How much.
        amount: Money,
        /// What the vendor lets off for being paid early; it pays the bill too.
        #[serde(default)]
        discount: Money,
    } lists {}
}
fact! {
    /// What a subcontractor has handed in. Of each the newest that is given counts.
    VendorPapers as "vendor-papers" in "vendor_papers" {
        /// When.
        date: Date,
        /// Whose.
        vendor: Id,
        /// The number that the tax office knows them by.
        tin: Option<String>,
        /// The day on which they signed their request for that number, form W-9.
        w9_signed: Option<Date>,
        /// The last day of the insurance that their certificate shows.
        insured_until: Option<Date>,
    }
}
fact! {
    /// Money that went to a vendor for some of its bills.
    VendorPayment as "vendor-payment" in "vendor_payment" {
        /// When.
        date: Date,
        /// To whom.
        vendor: Id,
        /// How.
        method: PaidBy,
        /// Number of the check, or the like.
        reference: Option<String>,
    } with {
        /// What it pays.
        bills: PaidBill,
    }
}

impl VendorPayment {
    /// What left the bank.
    #[must_use]
    pub fn total(&self) -> Money {
        self.bills.iter().map(|line| line.amount).sum()
    }
}

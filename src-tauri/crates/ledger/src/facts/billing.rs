//! Invoices, retainage and payments.

use crate::closed_lists::{InvoiceFor, PaidBy};
use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::Money;

row! {
    /// A line of an invoice.
    InvoiceLine in "invoice_line" {
        /// What.
        description: String,
        /// Amount before tax; negative on a credit.
        amount: Money,
        /// Whether sales tax is due on it.
        #[serde(default)]
        taxable: bool,
        /// The change order it bills.
        change_order: Option<Id>,
    } lists {}
}
fact! {
    /// An invoice, or a credit memo.
    Invoice as "invoice" in "invoice" {
        /// Date on it.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// What it is for.
        purpose: InvoiceFor,
        /// Due on.
        due: Date,
        /// Sales tax.
        #[serde(default)]
        tax: Money,
        /// Retainage.
        #[serde(default)]
        retainage: Money,
        /// The invoice that a credit memo lowers.
        credits: Option<Id>,
        /// Note.
        note: Option<String>,
    } with {
        /// Its lines.
        lines: InvoiceLine,
    }
}
fact! {
    /// Retainage of an invoice that is now due.
    RetainageRelease as "retainage-release" in "retainage_release" {
        /// When.
        date: Date,
        /// The invoice that held it.
        invoice: Id,
        /// How much.
        amount: Money,
        /// Due on.
        due: Date,
    }
}
fact! {
    /// Money that came.
    Payment as "payment" in "payment" {
        /// When.
        date: Date,
        /// From whom.
        customer: Id,
        /// How much.
        amount: Money,
        /// How.
        method: PaidBy,
        /// Check number or the like.
        reference: Option<String>,
    }
}
fact! {
    /// A payment applied to an invoice.
    Allocation as "allocation" in "allocation" {
        /// When.
        date: Date,
        /// The payment.
        payment: Id,
        /// The invoice.
        invoice: Id,
        /// How much.
        amount: Money,
    }
}

//! Invoices, retainage, payments, and what is given back.

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
        /// Retainage held; below zero on a credit memo that lowers what is held of its invoice.
        #[serde(default)]
        retainage: Money,
        /// The invoice that a credit memo lowers. Without one it stands as the customer's credit, to be applied or
        /// refunded.
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
    /// A payment, or a credit memo that names no invoice, applied to an invoice.
    Allocation as "allocation" in "allocation" {
        /// When.
        date: Date,
        /// The payment.
        payment: Option<Id>,
        /// Or the credit memo.
        credit: Option<Id>,
        /// The invoice.
        invoice: Id,
        /// How much.
        amount: Money,
    }
}
fact! {
    /// Money given back to a customer: of a payment that is not applied, or of a credit memo.
    Refund as "refund" in "refund" {
        /// When.
        date: Date,
        /// To whom.
        customer: Id,
        /// The payment that it gives back, or a part of it.
        payment: Option<Id>,
        /// Or the credit memo.
        credit: Option<Id>,
        /// How much.
        amount: Money,
        /// How.
        method: PaidBy,
        /// Check number or the like.
        reference: Option<String>,
    }
}

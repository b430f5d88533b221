//! The invoice, and the credit memo, which is the same paper with another word at its head.

use jiff::civil::Date;
use serde::Serialize;
use trade::{Money, Qty, Rate};

use super::press::{self, Kind};
use super::{Firm, Party};
use crate::PaperError;

/// What is billed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InvoicePaper {
    /// Who bills.
    pub firm: Firm,
    /// Whom.
    pub customer: Party,
    /// Where the work is.
    pub site: String,
    /// The job's name.
    pub job: String,
    /// The invoice's number.
    pub number: String,
    /// Its date.
    pub date: Date,
    /// The day by which it is paid; a credit has none.
    pub due: Option<Date>,
    /// What kind it is.
    pub kind: InvoiceKind,
    /// What is billed, line by line.
    pub lines: Vec<InvoiceLine>,
    /// The sum of the lines.
    pub subtotal: Money,
    /// Sales tax.
    pub tax: Option<InvoiceTax>,
    /// The sum with tax.
    pub total: Money,
    /// What is held back of it.
    pub retained: Option<Retained>,
    /// What was paid on it so far.
    pub payments: Vec<Payment>,
    /// What is still to be paid now.
    pub balance: Money,
    /// How to pay, in words; may be empty.
    pub how_to_pay: String,
    /// Where the contract stands with this invoice.
    pub standing: ContractStanding,
}

/// The kind of an invoice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum InvoiceKind {
    /// Before the work.
    Deposit,
    /// During it.
    Progress,
    /// For a change order.
    ChangeOrder,
    /// At the end.
    Final,
    /// The other way.
    Credit,
}

/// One line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InvoiceLine {
    /// What for.
    pub what: String,
    /// How much, where it is counted.
    pub quantity: Option<Qty>,
    /// In what; may be empty.
    pub unit: String,
    /// The price of one, where it is counted.
    pub price: Option<Rate>,
    /// The line's amount.
    pub amount: Money,
}

/// Sales tax on an invoice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InvoiceTax {
    /// On what, in words; may be empty.
    pub words: String,
    /// At which rate.
    pub rate: Rate,
    /// Of how much.
    pub base: Money,
    /// The tax.
    pub amount: Money,
}

/// What is held back until the end.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Retained {
    /// The share.
    pub rate: Rate,
    /// The amount.
    pub amount: Money,
}

/// A payment received.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Payment {
    /// When.
    pub on: Date,
    /// How, such as "check 2071".
    pub how: String,
    /// How much.
    pub amount: Money,
}

/// Where the contract stands once this invoice is counted. All before tax.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ContractStanding {
    /// The price as signed.
    pub signed: Money,
    /// Approved changes.
    pub changes: Money,
    /// Both.
    pub contract: Money,
    /// Billed to date, this invoice included.
    pub billed: Money,
    /// Left to bill.
    pub left: Money,
    /// Retainage held to date, where any is.
    pub retainage_held: Option<Money>,
}

impl InvoicePaper {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::Invoice, &self.firm, self, &[])
    }
}

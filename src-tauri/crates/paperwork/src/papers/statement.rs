//! A customer's statement: what is open and what moved the balance, as of a day.

use jiff::civil::Date;
use serde::Serialize;
use trade::Money;

use super::press::{self, Kind};
use super::{AgeBucket, Firm, Party};
use crate::PaperError;

/// The statement.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StatementPaper {
    /// Whose it is.
    pub firm: Firm,
    /// For whom.
    pub customer: Party,
    /// As of this day.
    pub date: Date,
    /// What is open or held.
    pub invoices: Vec<StatementInvoice>,
    /// What is open, by how long it is due.
    pub ages: Vec<AgeBucket>,
    /// Open in all.
    pub open: Money,
    /// Of that, past due.
    pub past_due: Money,
    /// Held until jobs end.
    pub held: Money,
    /// To the customer's credit.
    pub credits: Money,
    /// Open and held, less the credit.
    pub balance: Money,
    /// What moved the balance, oldest first.
    pub moves: Vec<StatementMove>,
    /// How to pay, in words; may be empty.
    pub how_to_pay: String,
}

/// An invoice of which something is open or held.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StatementInvoice {
    /// Its number.
    pub number: String,
    /// The job's number.
    pub job: String,
    /// Its date.
    pub date: Date,
    /// When it is due; absent where all that is left of it is held.
    pub due: Option<Date>,
    /// Its sum with tax.
    pub total: Money,
    /// Paid and credited.
    pub paid: Money,
    /// Held.
    pub held: Money,
    /// Open.
    pub open: Money,
}

/// What moved the balance.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StatementMove {
    /// When.
    pub on: Date,
    /// What.
    pub what: String,
    /// What it added.
    pub amount: Money,
    /// The balance with it.
    pub balance: Money,
}

impl StatementPaper {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::Statement, &self.firm, self, &[])
    }
}

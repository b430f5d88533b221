//! The receipt for the pamphlet on lead-based paint (40 CFR 745.84). The pamphlet itself is named and not reproduced.

use jiff::civil::Date;
use serde::Serialize;

use super::press::{self, Kind};
use super::{Firm, Party};
use crate::PaperError;

/// The receipt, to be signed, or as it is recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LeadReceipt {
    /// Who works.
    pub firm: Firm,
    /// The number under which the firm is certified; absent where none is entered.
    pub certificate: Option<String>,
    /// The owner of the house.
    pub customer: Party,
    /// The address of the house.
    pub site: String,
    /// The job's name.
    pub job: String,
    /// The job's number.
    pub number: String,
    /// The day of the paper.
    pub date: Date,
    /// The first day of work, where it is planned.
    pub begins: Option<Date>,
    /// The first day on which the pamphlet may be given for it.
    pub earliest: Option<Date>,
    /// The last day on which it may be mailed for it.
    pub mailed_by: Option<Date>,
    /// What is recorded of it.
    pub given: Vec<PamphletGiven>,
    /// Until when the record is kept, once the work is completed.
    pub kept_until: Option<Date>,
}

/// That it was given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PamphletGiven {
    /// When.
    pub on: Date,
    /// To whom.
    pub to: String,
    /// What shows it, in words.
    pub how: String,
    /// How that stands to the day on which work begins, in words; may be empty.
    pub standing: String,
}

impl LeadReceipt {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::Lead, &self.firm, self, &[])
    }
}

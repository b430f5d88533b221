//! The insulation receipt: what an installer tells of the insulation that was put in, part of the house by part
//! (16 CFR 460.17).

use jiff::civil::Date;
use serde::Serialize;
use trade::Qty;

use super::press::{self, Kind};
use super::{Firm, Party};
use crate::PaperError;

/// What was put in where.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InsulationReceipt {
    /// Whose work it was.
    pub firm: Firm,
    /// For whom.
    pub customer: Party,
    /// Where.
    pub site: String,
    /// The job's name.
    pub job: String,
    /// The job's number.
    pub number: String,
    /// The day of the receipt.
    pub date: Date,
    /// Who installed it, and signs.
    pub installer: String,
    /// Each part of the house. They are never added up.
    pub parts: Vec<Insulated>,
    /// What else was noted; may be empty.
    pub note: String,
}

/// The insulation in one part of the house.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Insulated {
    /// Which part.
    pub place: String,
    /// What it is.
    pub material: String,
    /// Square feet covered.
    pub coverage: Qty,
    /// Inches as installed.
    pub thickness: Qty,
    /// The least inches once settled, of loose fill.
    pub settled: Option<Qty>,
    /// The R-value.
    pub r_value: Qty,
    /// Bags used, of loose fill.
    pub bags: Option<Qty>,
}

impl InsulationReceipt {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::Insulation, &self.firm, self, &[])
    }
}

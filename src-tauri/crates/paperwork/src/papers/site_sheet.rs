//! The crew's site sheet: what goes where, in which order, and what can hurt. It has no costs.

use jiff::civil::Date;
use serde::Serialize;
use trade::Qty;

use super::press::{self, Kind};
use super::{Firm, RoofPicture, UnitPrice};
use crate::PaperError;

/// What a crew takes to the site.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SiteSheet {
    /// The firm.
    pub firm: Firm,
    /// The job's name.
    pub job: String,
    /// The job's number.
    pub number: String,
    /// Where it is.
    pub site: String,
    /// The sheet's date.
    pub date: Date,
    /// When work begins, in words: as planned, as it began, or that it is not planned yet.
    pub begins_words: String,
    /// The last day, where it is planned.
    pub ends: Option<Date>,
    /// How long it is planned to take, in words.
    pub days: Option<String>,
    /// Who works there.
    pub crew: Vec<CrewMember>,
    /// The roof from above.
    pub roof: RoofPicture,
    /// What is laid where.
    pub materials: Vec<PlaceMaterial>,
    /// What is done, in order.
    pub order_of_work: Vec<String>,
    /// At which end the ridge cap begins, so that its laps lie away from the wind.
    pub ridge_cap_begins: Option<String>,
    /// What is to be settled before work begins; may be empty.
    pub before_work: Vec<String>,
    /// Where the work can hurt, each with its source.
    pub cautions: Vec<String>,
    /// What the price already covers.
    pub included: Vec<IncludedAmount>,
    /// What the homeowner pays beyond it.
    pub unit_prices: Vec<UnitPrice>,
    /// What is ticked off.
    pub checks: Vec<CheckLine>,
}

/// One of the crew.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CrewMember {
    /// The name.
    pub name: String,
    /// What for, such as "lead"; may be empty.
    pub duty: String,
}

/// Material at one place of the roof.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlaceMaterial {
    /// The place.
    pub place: String,
    /// The part.
    pub part: String,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: String,
    /// A word on it; may be empty.
    pub note: String,
}

/// What the price already covers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct IncludedAmount {
    /// Of what.
    pub what: String,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: String,
}

/// A line with a box to tick.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CheckLine {
    /// The part it belongs to.
    pub part: String,
    /// What has to be so.
    pub words: String,
}

impl SiteSheet {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::SiteSheet, &self.firm, self, &[])
    }
}

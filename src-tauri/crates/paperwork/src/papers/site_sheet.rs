//! The crew's site sheet: what goes where, in which order, and what can hurt. It has no costs.

use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeMap;
use trade::Qty;

use super::press::{self, Kind};
use super::{Firm, RoofPicture, UnitPrice};
use crate::PaperError;

/// Words of the program in the crew's language, with the English below where that is another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Said {
    /// As the crew reads it.
    pub words: String,
    /// The English, where it is read in another language.
    pub english: Option<String>,
}

impl From<&str> for Said {
    fn from(english: &str) -> Said {
        Said { words: english.to_owned(), english: None }
    }
}

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
    /// What its headings and columns are called, by the English words, where anybody of the crew reads Spanish.
    pub called: BTreeMap<String, String>,
    /// When work begins, in words: as planned, as it began, or that it is not planned yet.
    pub begins_words: Said,
    /// The last day in words, where it is planned.
    pub ends_words: Option<Said>,
    /// How long it is planned to take, in words.
    pub days: Option<Said>,
    /// Who works there.
    pub crew: Vec<CrewMember>,
    /// The roof from above.
    pub roof: RoofPicture,
    /// What is laid where.
    pub materials: Vec<PlaceMaterial>,
    /// What is done, in order.
    pub order_of_work: Vec<Said>,
    /// At which end the ridge cap begins, so that its laps lie away from the wind.
    pub ridge_cap_begins: Option<Said>,
    /// What is to be settled before work begins; may be empty.
    pub before_work: Vec<Said>,
    /// What is said below them: that they are no plan.
    pub reminder: Said,
    /// Where the work can hurt, each with its source.
    pub cautions: Vec<Said>,
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
    pub place: Said,
    /// The part.
    pub part: Said,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: Said,
    /// A word on it; may be empty.
    pub note: String,
}

/// What the price already covers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct IncludedAmount {
    /// Of what.
    pub what: Said,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: Said,
}

/// A line with a box to tick.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CheckLine {
    /// The part it belongs to.
    pub part: Said,
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

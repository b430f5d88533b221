//! The completion packet: what a homeowner keeps when the roof is done.

use jiff::civil::Date;
use serde::Serialize;
use trade::Qty;

use super::change_order::Decision;
use super::press::{self, Kind};
use super::{Firm, Party, Photo};
use crate::PaperError;

/// What was built, looked at, repaired and contracted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CompletionPacket {
    /// Who built.
    pub firm: Firm,
    /// For whom.
    pub customer: Party,
    /// Where.
    pub site: String,
    /// The job's name.
    pub job: String,
    /// The job's number.
    pub number: String,
    /// The packet's date.
    pub date: Date,
    /// The day the work was done.
    pub finished_on: Option<Date>,
    /// What lies on the roof.
    pub parts: Vec<InstalledPart>,
    /// Who looked at it.
    pub inspections: Vec<Inspection>,
    /// What was found under the old roof and put right.
    pub repaired: Vec<Repaired>,
    /// The workmanship, part by part.
    pub checks: Vec<WorkmanshipCheck>,
    /// What is still to be done.
    pub open_points: Vec<OpenPoint>,
    /// What the firm warrants, word for word as it typed it.
    pub warranty: Vec<Warranty>,
    /// How the roof is kept in order.
    pub care: Vec<String>,
    /// The homeowner's sign-off, where there is one; else lines to sign on.
    pub sign_off: Option<Decision>,
}

/// A part as it was installed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InstalledPart {
    /// The part.
    pub part: String,
    /// The material used for it.
    pub material: String,
    /// Where on the roof.
    pub place: String,
    /// The lot on its package; may be empty.
    pub lot: String,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: String,
    /// When, where it was noted.
    pub on: Option<Date>,
}

/// An inspection.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Inspection {
    /// Of what.
    pub what: String,
    /// By whom.
    pub by: String,
    /// When.
    pub on: Date,
    /// How it went, in words.
    pub result: String,
    /// What else was noted; may be empty.
    pub note: String,
    /// What it looked like.
    pub photos: Vec<Photo>,
}

/// A hidden condition that was put right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Repaired {
    /// What it was.
    pub title: String,
    /// Where.
    pub place: String,
    /// When it was found.
    pub found_on: Date,
    /// When it was put right.
    pub repaired_on: Option<Date>,
    /// What was done.
    pub words: String,
    /// Before.
    pub before: Vec<Photo>,
    /// After.
    pub after: Vec<Photo>,
}

/// One point of workmanship.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkmanshipCheck {
    /// The part.
    pub part: String,
    /// What has to be so.
    pub words: String,
    /// Who saw that it is; empty while nobody has.
    pub who: String,
    /// When.
    pub on: Option<Date>,
    /// What it looked like.
    pub photos: Vec<Photo>,
}

/// What is still to be done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenPoint {
    /// What.
    pub words: String,
    /// Who does it; may be empty.
    pub who: String,
    /// By when.
    pub by: Option<Date>,
}

/// A warranty in the firm's own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Warranty {
    /// Of what.
    pub title: String,
    /// Word for word; an empty line begins a paragraph.
    pub words: String,
}

impl CompletionPacket {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If a photo cannot be read, or if the paper cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        let inspected = self.inspections.iter().flat_map(|inspection| &inspection.photos);
        let repaired =
            self.repaired.iter().flat_map(|repaired| repaired.before.iter().chain(&repaired.after));
        let checked = self.checks.iter().flat_map(|check| &check.photos);
        let signature = self.sign_off.iter().filter_map(|decision| decision.signature.as_ref());
        let photos: Vec<&Photo> = inspected.chain(repaired).chain(checked).chain(signature).collect();
        press::print(Kind::Completion, &self.firm, self, &photos)
    }
}

//! How the work was done: the firm's checklist, inspections, what was built in, and what is warranted.

use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use crate::words::{CheckState, Place};
use jiff::civil::Date;
use trade::{Item, Qty};

fact! {
    /// A point of the firm's workmanship checklist.
    CheckPoint as "check-point" in "check_point" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// The part of the roof it belongs to; absent for the job as a whole.
        item: Option<Item>,
        /// What is looked at.
        words: String,
        /// Whether the completion packet waits for it.
        #[serde(default)]
        blocks: bool,
        /// Place in the list.
        position: i64,
        /// No longer asked.
        #[serde(default)]
        retired: bool,
    }
}
row! {
    /// A photo of a checked point.
    CheckPhoto in "work_check_photo" {
        /// Hash of the attachment.
        photo: Digest,
        /// Hash of the picture as it was taken.
        original: Option<Digest>,
    } lists {}
}
fact! {
    /// A point of the checklist looked at on a job. The newest one counts.
    WorkCheck as "work-check" in "work_check" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The point.
        point: Id,
        /// How it stands.
        state: CheckState,
        /// Who looked.
        person: Id,
        /// Note.
        note: Option<String>,
    } with {
        /// Photos.
        photos: CheckPhoto,
    }
}
row! {
    /// A photo of an inspection.
    InspectionPhoto in "inspection_photo" {
        /// Hash of the attachment.
        photo: Digest,
        /// Hash of the picture as it was taken.
        original: Option<Digest>,
    } lists {}
}
fact! {
    /// An inspection by the building office, or the firm's own at the end.
    Inspection as "inspection" in "inspection" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// What was inspected.
        title: String,
        /// By whom.
        inspector: String,
        /// Whether it passed.
        passed: bool,
        /// Note.
        note: Option<String>,
    } with {
        /// Photos.
        photos: InspectionPhoto,
    }
}
fact! {
    /// A part built in, with its place and lot.
    Installed as "installed" in "installed" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The item of a roof.
        item: Item,
        /// What it is, as the package says.
        description: String,
        /// Where on the roof; absent for all of it.
        place: Option<Place>,
        /// Which side.
        side: Option<String>,
        /// Lot or batch on the package.
        lot: Option<String>,
        /// How many packages.
        quantity: Option<Qty>,
        /// Hash of a photo.
        photo: Option<Digest>,
    }
}
fact! {
    /// What the firm warrants on a job. The newest one counts.
    Warranty as "warranty" in "warranty" {
        /// When it was given.
        date: Date,
        /// The job.
        job: Id,
        /// From this day.
        begins: Date,
        /// Years of workmanship.
        years: i64,
        /// The terms, as the firm words them.
        terms: String,
        /// How to care for the roof.
        care: Option<String>,
    }
}

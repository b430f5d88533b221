//! How the work was done: the firm's checklist, inspections, what was built in, and what is warranted.

use crate::closed_lists::{CheckState, Place};
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{Item, Qty};

fact! {
    /// A point of the firm's workmanship checklist.
    CheckPoint as "check-point" in "check_point" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// The part of the roof it belongs to; absent for the job as a whole.
        item: Option<Item> => open,
        /// What is looked at.
        words: String => open,
        /// Whether the completion packet waits for it.
        #[serde(default)]
        blocks: bool => open,
        /// Place in the list.
        position: i64 => open,
        /// No longer asked.
        #[serde(default)]
        retired: bool => open,
    }
}
row! {
    /// A photo of a checked point.
    CheckPhoto in "work_check_photo" {
        /// Hash of the attachment.
        photo: Digest => open,
        /// Hash of the picture as it was taken.
        original: Option<Digest> => open,
    } lists {}
}
fact! {
    /// A point of the checklist looked at on a job. The newest one counts.
    WorkCheck as "work-check" in "work_check" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The point.
        point: Id => open,
        /// How it stands.
        state: CheckState => open,
        /// Who looked.
        person: Id => open,
        /// Note.
        note: Option<String> => open,
    } with {
        /// Photos.
        photos: CheckPhoto,
    }
}
row! {
    /// A photo of an inspection.
    InspectionPhoto in "inspection_photo" {
        /// Hash of the attachment.
        photo: Digest => open,
        /// Hash of the picture as it was taken.
        original: Option<Digest> => open,
    } lists {}
}
fact! {
    /// An inspection by the building office, or the firm's own at the end.
    Inspection as "inspection" in "inspection" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// What was inspected.
        title: String => open,
        /// By whom.
        inspector: String => open,
        /// Whether it passed.
        passed: bool => open,
        /// Note.
        note: Option<String> => open,
    } with {
        /// Photos.
        photos: InspectionPhoto,
    }
}
fact! {
    /// A part built in, with its place and lot.
    Installed as "installed" in "installed" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The item of a roof.
        item: Item => open,
        /// What it is, as the package says.
        description: String => open,
        /// Where on the roof; absent for all of it.
        place: Option<Place> => open,
        /// Which side.
        side: Option<String> => open,
        /// Lot or batch on the package.
        lot: Option<String> => open,
        /// How many packages.
        quantity: Option<Qty> => open,
        /// Hash of a photo.
        photo: Option<Digest> => open,
    }
}
fact! {
    /// What the firm warrants on a job. The newest one counts.
    Warranty as "warranty" in "warranty" {
        /// When it was given.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// From this day.
        begins: Date => open,
        /// Years of workmanship.
        years: i64 => open,
        /// The terms, as the firm words them.
        terms: String => open,
        /// How to care for the roof.
        care: Option<String> => open,
    }
}

//! What the law asks to be handed over or told, and that it was.

use crate::closed_lists::{NoticeOf, PamphletBy};
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::Qty;

fact! {
    /// A notice in the words of a state, as the firm entered them. From its day on it takes the place of an earlier one
    /// of the same state and matter.
    Notice as "notice" in "notice" {
        /// From this day.
        date: Date => open,
        /// The state whose notice it is, as two capital letters.
        state: String => open,
        /// What it is about.
        about: NoticeOf => open,
        /// Its heading.
        heading: String => open,
        /// Its text; an empty line begins a paragraph.
        text: String => open,
        /// How many copies are printed.
        copies: i64 => open,
        /// The least size of its type, in points.
        least_points: i64 => open,
        /// Whether it stands in bold.
        #[serde(default)]
        bold: bool => open,
        /// No longer printed from its day on.
        #[serde(default)]
        retired: bool => open,
    }
}
fact! {
    /// That somebody was given the pamphlet on lead-based paint before the work (40 CFR 745.84).
    LeadPamphlet as "lead-pamphlet" in "lead_pamphlet" {
        /// When it was handed over, or mailed.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// What shows it.
        shown_by: PamphletBy => open,
        /// Who got it.
        given_to: String => open,
        /// Hash of a picture of the receipt or the certificate.
        paper: Option<Digest> => open,
        /// Note.
        note: Option<String> => open,
    }
}
row! {
    /// The insulation in one part of the house. Parts are never added up (16 CFR 460.17).
    InsulatedPart in "insulation_receipt_part" {
        /// Which part of the house.
        place: String => open,
        /// What it is, as the package says.
        material: String => open,
        /// Whether it is loose fill, which settles.
        #[serde(default)]
        loose_fill: bool => open,
        /// Square feet covered.
        coverage_sqft: Qty => open,
        /// Thickness as installed, in inches.
        thickness_in: Qty => open,
        /// The least thickness once it has settled, in inches; of loose fill alone.
        settled_in: Option<Qty> => open,
        /// The R-value of that thickness, by the maker's data.
        r_value: Qty => open,
        /// Bags used; of loose fill alone.
        bags: Option<i64> => open,
    } lists {}
}
fact! {
    /// What the homeowner is told of the insulation that was put in (16 CFR 460.17). The newest one counts.
    InsulationReceipt as "insulation-receipt" in "insulation_receipt" {
        /// When it was installed and signed.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// Who installed it and signs.
        installer: String => open,
        /// Note.
        note: Option<String> => open,
    } with {
        /// Each part of the house by itself.
        parts: InsulatedPart,
    }
}

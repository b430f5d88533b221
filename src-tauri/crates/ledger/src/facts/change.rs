//! Hidden conditions, change orders and their decisions.

use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use crate::words::{Cause, CountedIn, Damaged, DecidedBy, MarkKind, Place, Pricing, RepairStage, Verdict};
use jiff::civil::Date;
use trade::{CostKind, Money, Qty, Rate};

row! {
    /// A photo of a condition.
    ConditionPhoto in "condition_photo" {
        /// Hash of the attachment.
        photo: Digest,
        /// Hash of the picture as it was taken, before place and device were stripped from it.
        original: Option<Digest>,
    } lists {}
}
row! {
    /// An area of damage, as seen.
    ConditionPatch in "condition_patch" {
        /// Inches along the eave.
        along_eave_in: Qty,
        /// Inches up the slope.
        up_slope_in: Qty,
        /// Inches from its near edge to a rafter's center, where it was measured.
        from_rafter_in: Option<Qty>,
    } lists {}
}
row! {
    /// Something drawn on a photo of a condition; places are fractions of the picture's width and height.
    ConditionMark in "condition_mark" {
        /// The photo, from 1.
        photo: i64,
        /// What is drawn.
        kind: MarkKind,
        /// From the left.
        x: Qty,
        /// From the top.
        y: Qty,
        /// An arrow's head, or a ring's edge, from the left.
        to_x: Option<Qty>,
        /// The same from the top.
        to_y: Option<Qty>,
        /// What is written.
        words: Option<String>,
    } lists {}
}
fact! {
    /// A hidden condition found at the tear-off.
    Condition as "condition" in "condition" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// Where on the roof.
        place: Place,
        /// Which side.
        side: Option<String>,
        /// Why.
        cause: Cause,
        /// What.
        damaged: Damaged,
        /// Counted in.
        counted_in: CountedIn,
        /// How many.
        count: Qty,
        /// Why the count differs from the calculated one.
        count_reason: Option<String>,
        /// Note.
        note: Option<String>,
        /// Moisture read in the wood, in percent.
        moisture: Option<Qty>,
        /// How many were calculated from the patches, where the crew's own count differs.
        calculated: Option<Qty>,
        /// Where on the roof's picture: inches to the right.
        x_in: Option<Qty>,
        /// Where on the roof's picture: inches up the sheet.
        y_in: Option<Qty>,
    } with {
        /// Photos.
        photos: ConditionPhoto,
        /// The damage as seen.
        patches: ConditionPatch,
        /// What is drawn on the photos.
        marks: ConditionMark,
    }
}
row! {
    /// A photo taken at a step of the work.
    RepairPhoto in "repair_photo" {
        /// Hash of the attachment.
        photo: Digest,
        /// Hash of the picture as it was taken.
        original: Option<Digest>,
    } lists {}
}
fact! {
    /// Work on a condition begun or done.
    Repair as "repair" in "repair" {
        /// When.
        date: Date,
        /// The condition.
        condition: Id,
        /// The step.
        stage: RepairStage,
        /// Note.
        note: Option<String>,
    } with {
        /// Photos: what it looks like repaired.
        photos: RepairPhoto,
    }
}
row! {
    /// A line of a change order.
    ChangeLine in "change_order_line" {
        /// Code.
        code: Id,
        /// Kind of cost.
        cost_kind: CostKind,
        /// The condition it repairs; absent for a change of the customer's own.
        condition: Option<Id>,
        /// What.
        description: String,
        /// How many.
        quantity: Option<Qty>,
        /// Unit.
        unit: Option<String>,
        /// Price to the customer; negative for a deduct.
        price: Money,
        /// What it should cost the firm.
        cost: Money,
        /// Hours in that cost.
        hours: Option<Qty>,
    } lists {}
}
fact! {
    /// A change order put to the homeowner.
    ChangeOrder as "change-order" in "change_order" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// What it is about.
        title: String,
        /// How it is priced.
        pricing: Pricing,
        /// Markup on time and material, as a fraction.
        markup: Option<Rate>,
        /// The most it may come to.
        not_to_exceed: Option<Money>,
        /// Days by which the end moves.
        days: Option<i64>,
        /// What happens if it is left as it is.
        if_left: Option<String>,
    } with {
        /// Its lines.
        lines: ChangeLine,
    }
}
row! {
    /// A decision to one line, where lines were decided apart.
    DecisionLine in "decision_line" {
        /// Line of the change order, from 1.
        change_line: i64,
        /// What was said of it.
        verdict: Verdict,
    } lists {}
}
fact! {
    /// The decision to a change order.
    Decision as "decision" in "decision" {
        /// When.
        date: Date,
        /// The change order.
        change_order: Id,
        /// What was said.
        verdict: Verdict,
        /// By whom.
        decided_by: String,
        /// How it came.
        method: DecidedBy,
        /// Hash of the signature's picture.
        signature: Option<Digest>,
        /// Whether the caution was given with a decline.
        #[serde(default)]
        caution_given: bool,
        /// Note.
        note: Option<String>,
    } with {
        /// Lines decided apart from the whole.
        lines: DecisionLine,
    }
}

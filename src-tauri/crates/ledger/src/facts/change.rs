//! Hidden conditions, change orders and their decisions.

use crate::closed_lists::{
    Cause, CountedIn, Course, Damaged, DecidedBy, MarkKind, Place, Pricing, RepairStage, Verdict,
};
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{CostKind, Money, Qty, Rate};

row! {
    /// A photo of a condition.
    ConditionPhoto in "condition_photo" {
        /// Hash of the attachment.
        photo: Digest => open,
        /// Hash of the picture as it was taken, before place and device were stripped from it.
        original: Option<Digest> => open,
    } lists {}
}
row! {
    /// An area of damage, as seen.
    ConditionPatch in "condition_patch" {
        /// Inches along the eave.
        along_eave_in: Qty => open,
        /// Inches up the slope.
        up_slope_in: Qty => open,
        /// Inches from its near edge to a rafter's center, where it was measured.
        from_rafter_in: Option<Qty> => open,
    } lists {}
}
row! {
    /// Something drawn on a photo of a condition; places are fractions of the picture's width and height.
    ConditionMark in "condition_mark" {
        /// The photo, from 1.
        photo: i64 => open,
        /// What is drawn.
        kind: MarkKind => open,
        /// From the left.
        x: Qty => open,
        /// From the top.
        y: Qty => open,
        /// An arrow's head, or a ring's edge, from the left.
        to_x: Option<Qty> => open,
        /// The same from the top.
        to_y: Option<Qty> => open,
        /// What is written.
        words: Option<String> => open,
    } lists {}
}
fact! {
    /// A hidden condition found at the tear-off.
    Condition as "condition" in "condition" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The number for people.
        number: String => open,
        /// Where on the roof.
        place: Place => open,
        /// Which side.
        side: Option<String> => open,
        /// Why.
        cause: Cause => open,
        /// What.
        damaged: Damaged => open,
        /// Counted in.
        counted_in: CountedIn => open,
        /// How many.
        count: Qty => open,
        /// Why the count differs from the calculated one.
        count_reason: Option<String> => open,
        /// The firm's own note, which no homeowner reads.
        note: Option<String> => open,
        /// What the homeowner is told about it.
        for_homeowner: Option<String> => open,
        /// Moisture read in the wood, in percent.
        moisture: Option<Qty> => open,
        /// How many were calculated from the patches, where the crew's own count differs.
        calculated: Option<Qty> => open,
        /// Where on the roof's picture: inches to the right.
        x_in: Option<Qty> => open,
        /// Where on the roof's picture: inches up the sheet.
        y_in: Option<Qty> => open,
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
        photo: Digest => open,
        /// Hash of the picture as it was taken.
        original: Option<Digest> => open,
    } lists {}
}
fact! {
    /// Work on a condition begun or done.
    Repair as "repair" in "repair" {
        /// When.
        date: Date => open,
        /// The condition.
        condition: Id => open,
        /// The step.
        stage: RepairStage => open,
        /// Note.
        note: Option<String> => open,
    } with {
        /// Photos: what it looks like repaired.
        photos: RepairPhoto,
    }
}
fact! {
    /// What the firm's owner decides where the homeowner declined the repair of a condition. The newest one holds.
    DeclinedRepair as "declined-repair" in "declined_repair" {
        /// When.
        date: Date => open,
        /// The condition.
        condition: Id => open,
        /// What becomes of it.
        course: Course => open,
        /// Note.
        note: Option<String> => open,
    }
}
row! {
    /// A line of a change order.
    ChangeLine in "change_order_line" {
        /// Code.
        code: Id => open,
        /// Kind of cost.
        cost_kind: CostKind => open,
        /// The condition it repairs; absent for a change of the customer's own.
        condition: Option<Id> => open,
        /// What.
        description: String => open,
        /// How many.
        quantity: Option<Qty> => open,
        /// Unit.
        unit: Option<String> => open,
        /// Price to the customer; negative for a deduct.
        price: Money => open,
        /// What it should cost the firm; absent where whoever asked for it could not know, until the office fills it in
        /// ([`ChangeCost`]).
        cost: Option<Money>,
        /// Hours in that cost.
        hours: Option<Qty>,
    } lists {}
}
impl ChangeLine {
    /// The hidden condition that the line repairs. A deduct repairs none, whatever condition it names: it is
    /// other work, and never lowers what a condition brings.
    #[must_use]
    pub fn repairs(&self) -> Option<Id> {
        self.condition.filter(|_| !self.price.is_negative())
    }

    /// What the line counts as its cost ([`trade::cost_of_change`]).
    #[must_use]
    pub fn expected_cost(&self) -> Money {
        trade::cost_of_change(self.cost, self.price)
    }
}
fact! {
    /// A change order put to the homeowner.
    ChangeOrder as "change-order" in "change_order" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The number for people.
        number: String => open,
        /// What it is about.
        title: String => open,
        /// How it is priced.
        pricing: Pricing => open,
        /// Markup on time and material, as a fraction.
        markup: Option<Rate>,
        /// The most it may come to.
        not_to_exceed: Option<Money> => open,
        /// Days by which the end moves.
        days: Option<i64> => open,
        /// What happens if it is left as it is.
        if_left: Option<String> => open,
    } with {
        /// Its lines.
        lines: ChangeLine,
    }
}
row! {
    /// What a line of a change order should cost.
    ChangeCostLine in "change_cost_line" {
        /// Line of the change order, from 1.
        change_line: i64,
        /// What it should cost the firm.
        cost: Money,
    } lists {}
}
fact! {
    /// What a change order should cost the firm, filled in by the office where a crew asked without knowing it. All of
    /// it is sealed: a copy for the site holds only that it is there.
    ChangeCost as "change-cost" in "change_cost" {
        /// When.
        date: Date,
        /// The change order.
        change_order: Id,
        /// Note.
        note: Option<String>,
    } with {
        /// Each line whose cost the change order leaves open.
        lines: ChangeCostLine,
    }
}
row! {
    /// A decision to one line, where lines were decided apart.
    DecisionLine in "decision_line" {
        /// Line of the change order, from 1.
        change_line: i64 => open,
        /// What was said of it.
        verdict: Verdict => open,
    } lists {}
}
fact! {
    /// The decision to a change order.
    Decision as "decision" in "decision" {
        /// When.
        date: Date => open,
        /// The change order.
        change_order: Id => open,
        /// What was said.
        verdict: Verdict => open,
        /// By whom: the homeowner, or for a withdrawal whoever of the firm took it back.
        decided_by: String => open,
        /// How it came; a withdrawal came from nobody.
        method: Option<DecidedBy> => open,
        /// Hash of the signature's picture.
        signature: Option<Digest> => open,
        /// Whether the caution was given with a decline.
        #[serde(default)]
        caution_given: bool => open,
        /// Note.
        note: Option<String> => open,
    } with {
        /// Lines decided apart from the whole.
        lines: DecisionLine,
    }
}

//! Hidden conditions, change orders and their answers.

use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use crate::words::{AnsweredBy, Cause, CountedIn, Damaged, FindStage, Place, Pricing, Verdict};
use jiff::civil::Date;
use trade::{CostKind, Money, Qty, Rate};

row! {
    /// A photo of a find.
    FindPhoto in "find_photo" {
        /// Hash of the attachment.
        photo: Digest,
    } lists {}
}
fact! {
    /// A hidden condition found at the tear-off.
    Find as "find" in "find" {
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
        /// Why the count differs from the reckoned one.
        count_reason: Option<String>,
        /// Note.
        note: Option<String>,
    } with {
        /// Photos.
        photos: FindPhoto,
    }
}
fact! {
    /// Work on a find begun or done.
    FindStep as "find-step" in "find_step" {
        /// When.
        date: Date,
        /// The find.
        find: Id,
        /// The step.
        stage: FindStage,
    }
}
row! {
    /// A line of a change order.
    ChangeLine in "change_order_line" {
        /// Code.
        code: Id,
        /// Kind of cost.
        cost_kind: CostKind,
        /// The find it mends; absent for a change of the customer's own.
        find: Option<Id>,
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
    } with {
        /// Its lines.
        lines: ChangeLine,
    }
}
row! {
    /// An answer to one line, where lines were answered apart.
    AnswerLine in "answer_line" {
        /// Line of the change order, from 1.
        change_line: i64,
        /// What was said of it.
        verdict: Verdict,
    } lists {}
}
fact! {
    /// The answer to a change order.
    Answer as "answer" in "answer" {
        /// When.
        date: Date,
        /// The change order.
        change_order: Id,
        /// What was said.
        verdict: Verdict,
        /// By whom.
        answered_by: String,
        /// How it came.
        means: AnsweredBy,
        /// Hash of the signature's picture.
        signature: Option<Digest>,
        /// Whether the caution was given with a decline.
        #[serde(default)]
        caution_given: bool,
        /// Note.
        note: Option<String>,
    } with {
        /// Lines answered apart from the whole.
        lines: AnswerLine,
    }
}

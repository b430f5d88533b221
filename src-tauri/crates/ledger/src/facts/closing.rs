//! Closed months, hand-offs, attachments, reversals and answers.

use crate::closed_lists::QuestionKind;
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{Money, Month};

row! {
    /// How far each device's facts were in when a month was closed.
    ClosedThrough in "month_closed_device" {
        /// The device.
        device: String => open,
        /// Its last entry that the month took in.
        through_seq: i64 => open,
    } lists {}
}
row! {
    /// Labor cost booked in the closed month, frozen, since a week across the month's end may still change.
    ClosedLabor in "month_closed_labor" {
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// The hidden condition, if any.
        condition: Option<Id>,
        /// Straight pay and bonus.
        straight: Money,
        /// Overtime premium.
        premium: Money,
        /// Taxes, insurance and benefits.
        burden: Money,
    } lists {}
}
row! {
    /// A job's figures as they stood at the close; verify works them out again and compares.
    ClosedJob in "month_closed_job" {
        /// The job.
        job: Id,
        /// Contract and approved changes.
        contract: Money,
        /// Cost to date.
        cost: Money,
        /// Forecast cost at completion.
        forecast: Money,
        /// Earned to date.
        earned: Money,
        /// Billed to date.
        billed: Money,
        /// Loss provided for.
        loss_provision: Money,
    } lists {}
}
fact! {
    /// A month closed: its figures never change again.
    MonthClosed as "month-closed" in "month_closed" {
        /// When it was closed.
        date: Date => open,
        /// The month.
        month: Month => open,
    } with {
        /// Marks.
        devices: ClosedThrough,
        /// Frozen labor.
        labor: ClosedLabor,
        /// Frozen results.
        jobs: ClosedJob,
    }
}
row! {
    /// How far each device's facts were in when a hand-off was made.
    HandedThrough in "hand_off_device" {
        /// The device.
        device: String,
        /// Its last entry that the hand-off took in.
        through_seq: i64,
    } lists {}
}
row! {
    /// Labor that a hand-off gave to the bookkeeper, as it was calculated then: later hours of the same week may still
    /// change it, and a later part holds only the difference.
    HandedLabor in "hand_off_labor" {
        /// The hours, or their reversal; absent for a difference that belongs to no single entry.
        source: Option<Id>,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// The hidden condition, if any.
        condition: Option<Id>,
        /// Straight pay and bonus.
        straight: Money,
        /// Overtime premium.
        premium: Money,
        /// Taxes, insurance and benefits.
        burden: Money,
    } lists {}
}
row! {
    /// What a hand-off moved on a job beside its billing, so that revenue is what was earned.
    HandedJob in "hand_off_job" {
        /// The job.
        job: Id,
        /// Change in what is billed beyond what is earned.
        over_billed: Money,
        /// Change in what is earned beyond what is billed.
        under_billed: Money,
        /// Change in the loss provided for.
        loss_provision: Money,
    } lists {}
}
fact! {
    /// A set of files given to the bookkeeper.
    HandOff as "hand-off" in "hand_off" {
        /// When.
        date: Date,
        /// The month.
        month: Month,
        /// 1 for the first of a month, 2 for what was new after it, and so on.
        part: i64,
        /// Debits of its journal, equal to its credits.
        journal_debits: Money,
        /// Hash over its files.
        files: Digest,
    } with {
        /// Marks.
        devices: HandedThrough,
        /// Labor.
        labor: HandedLabor,
        /// Movements by job.
        jobs: HandedJob,
    }
}
fact! {
    /// A file beside the ledger.
    Attachment as "attachment" in "attachment" {
        /// When.
        date: Date => open,
        /// Its hash, which is also its name on disk.
        hash: Digest => open,
        /// Media type.
        media_type: String => open,
        /// Size.
        bytes: i64 => open,
        /// The name it came with.
        name: Option<String>,
    }
}
fact! {
    /// Cancels another fact to the cent.
    Reversal as "reversal" in "reversal" {
        /// When.
        date: Date => open,
        /// The fact.
        reverses: Id => open,
        /// Why.
        reason: String,
    }
}
row! {
    /// A fact that an answer is about.
    AnswerAbout in "answer_about" {
        /// The fact.
        about: Id => open,
    } lists {}
}
fact! {
    /// What a person says where facts of several devices contradict each other: they stand as they are. What does not
    /// stand is reversed instead.
    Answer as "answer" in "answer" {
        /// When.
        date: Date => open,
        /// In what they contradict each other.
        question: QuestionKind => open,
        /// Why they stand.
        note: Option<String>,
    } with {
        /// Every fact that the question is about.
        about: AnswerAbout,
    }
}

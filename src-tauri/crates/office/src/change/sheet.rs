//! The sheet that is put before the homeowner, and the decisions that were given to it. No cost and no margin.

use crate::change::ask::{if_declined, pricing_in_words};
use crate::change::damage::{Calculation, cut_list_of};
use crate::job::snapshot::{ChangeAtMonth, ChangeState, ConditionAtMonth, JobSnapshot, WorkState};
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::working_month::working_month;
use jiff::civil::Date;
use ledger::closed_lists::{Cause, CountedIn, Damaged, DecidedBy, MarkKind, Place, Pricing, Verdict};
use ledger::facts::{ConditionMark, Decision, Repair};
use ledger::{Books, Entered, Fact, Id};
use serde::Serialize;
use trade::{Money, Qty};

/// Something drawn on a photo; places are fractions of the picture's width and height.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetMark {
    /// The photo, from 1.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub photo: i64,
    /// What is drawn.
    pub kind: MarkKind,
    /// From the left.
    pub x: Qty,
    /// From the top.
    pub y: Qty,
    /// An arrow's head, or a ring's edge, from the left.
    pub to_x: Option<Qty>,
    /// The same from the top.
    pub to_y: Option<Qty>,
    /// What is written.
    pub words: Option<String>,
}

/// A condition on the sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetCondition {
    /// Its id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// Where.
    pub place: Place,
    /// Which side.
    pub side: Option<String>,
    /// Why.
    pub cause: Cause,
    /// What.
    pub damaged: Damaged,
    /// Counted in.
    pub counted_in: CountedIn,
    /// How many.
    pub count: Qty,
    /// Why the count differs from the calculated one.
    pub count_reason: Option<String>,
    /// Covered by what the price includes.
    pub covered: Qty,
    /// Beyond.
    pub beyond: Qty,
    /// Moisture read in the wood, percent.
    pub moisture: Option<Qty>,
    /// Note.
    pub note: Option<String>,
    /// Where on the roof's picture, inches to the right.
    pub x_in: Option<Qty>,
    /// Inches up the sheet.
    pub y_in: Option<Qty>,
    /// Hashes of its photos.
    pub photos: Vec<String>,
    /// What is drawn on them.
    pub marks: Vec<SheetMark>,
    /// Hashes of the photos of what it looks like repaired.
    pub after: Vec<String>,
    /// The patches calculated; absent where there are none. Its prices are left out.
    pub calculation: Option<Calculation>,
    /// The work on it.
    pub work: WorkState,
}

/// A line of the change order with its decision.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetLine {
    /// Its number on the sheet, from 1.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub line: i64,
    /// What is done.
    pub description: String,
    /// How much of it.
    pub quantity: Option<Qty>,
    /// Counted in.
    pub unit: Option<String>,
    /// What the homeowner pays; below zero what is credited.
    pub price: Money,
    /// Whether it stands approved.
    pub approved: bool,
}

/// One decision, with where it came from.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetDecision {
    /// Its id.
    pub id: String,
    /// What was said.
    pub verdict: Verdict,
    /// By whom.
    pub decided_by: String,
    /// How it came.
    pub method: Option<DecidedBy>,
    /// The day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// When it was written down, UTC.
    pub recorded_at: String,
    /// Who wrote it down.
    pub recorded_by: String,
    /// On which device.
    pub device: String,
    /// Note: the number called, the words of the text.
    pub note: Option<String>,
    /// Whether the caution was given.
    pub caution_given: bool,
    /// The lines that were declined apart.
    #[cfg_attr(feature = "ts", ts(type = "number[]"))]
    pub declined_lines: Vec<i64>,
}

/// The sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ChangeSheet {
    /// The change order.
    pub id: String,
    /// Its number on the job.
    pub number: String,
    /// The job's number.
    pub job: String,
    /// For whom.
    pub customer: String,
    /// Where.
    pub site: String,
    /// The day it was drawn up.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What it is about.
    pub title: String,
    /// How it is priced.
    pub pricing: Pricing,
    /// The same in a sentence.
    pub pricing_words: String,
    /// The most it may come to.
    pub not_to_exceed: Option<Money>,
    /// Days by which the end moves.
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub days: Option<i64>,
    /// What happens if it is left.
    pub if_left: Option<String>,
    /// What follows when it is declined.
    pub if_declined: String,
    /// Its lines.
    pub lines: Vec<SheetLine>,
    /// What all lines come to.
    pub price: Money,
    /// What it repairs.
    pub conditions: Vec<SheetCondition>,
    /// The state.
    pub state: ChangeState,
    /// Whether two devices hold decisions that contradict each other: a question for a person.
    pub contradicted: bool,
    /// Every decision that was not taken back, in the order in which they stand.
    pub decisions: Vec<SheetDecision>,
}

/// The sheet of a change order.
///
/// # Errors
/// When there is no such change order, or the facts cannot be read.
pub fn change_sheet(desk: &Desk, change: Id) -> Result<ChangeSheet, OfficeError> {
    desk.books().in_one_read(|books| {
        let missing = || {
            OfficeError::not_found("There is no such change order.", "Choose one of the job's change orders.")
        };
        let Some(Fact::ChangeOrder(order)) = books.fact(change)?.map(|held| held.fact) else {
            return Err(missing());
        };
        let calendar = books.calendar()?;
        let month = working_month(desk, &calendar);
        let standing = JobSnapshot::gather(books, &calendar, order.job, month)?;
        let stands = standing.changes.iter().find(|other| other.id == change).ok_or_else(missing)?;
        let names = Names::read(books)?;
        let decisions = books.live_at(&calendar, Decision::change_order, change, month, |fact| fact.date)?;
        let mut conditions = Vec::new();
        for condition in standing
            .conditions
            .iter()
            .filter(|condition| stands.order.lines.iter().any(|l| l.condition == Some(condition.id)))
        {
            let steps = books.live_at(&calendar, Repair::condition, condition.id, month, |fact| fact.date)?;
            conditions.push(sheet_condition(books, condition, &steps));
        }
        let job = names.jobs.get(&order.job);
        let customer = job.map(|job| names.customer(job.customer)).unwrap_or_default();
        Ok(ChangeSheet {
            id: change.to_string(),
            number: order.number.clone(),
            job: names.job_number(order.job),
            customer,
            site: job.map(|job| job.site.clone()).unwrap_or_default(),
            date: order.date,
            title: order.title.clone(),
            pricing: order.pricing,
            pricing_words: pricing_in_words(&order),
            not_to_exceed: order.not_to_exceed,
            days: order.days,
            if_left: order.if_left.clone(),
            if_declined: if_declined(
                standing.bears_the_roof(order.lines.iter().filter_map(|line| line.condition)),
            ),
            price: order.lines.iter().map(|line| line.price).sum(),
            lines: sheet_lines(stands),
            conditions,
            state: stands.state(),
            contradicted: stands.contradicted,
            decisions: decisions.iter().map(|held| sheet_decision(held, &names)).collect(),
        })
    })
}

fn sheet_lines(stands: &ChangeAtMonth) -> Vec<SheetLine> {
    let lines = stands.order.lines.iter().zip(&stands.approved).zip(1..);
    lines
        .map(|((line, approved), number)| SheetLine {
            line: number,
            description: line.description.clone(),
            quantity: line.quantity,
            unit: line.unit.clone(),
            price: line.price,
            approved: *approved,
        })
        .collect()
}

fn sheet_condition(books: Books<'_>, found: &ConditionAtMonth, steps: &[Entered<Repair>]) -> SheetCondition {
    let condition = &found.condition;
    SheetCondition {
        id: found.id.to_string(),
        number: condition.number.clone(),
        place: condition.place,
        side: condition.side.clone(),
        cause: condition.cause,
        damaged: condition.damaged,
        counted_in: condition.counted_in,
        count: condition.count,
        count_reason: condition.count_reason.clone(),
        covered: found.used.covered,
        beyond: found.used.beyond,
        moisture: condition.moisture,
        note: condition.for_homeowner.clone(),
        x_in: condition.x_in,
        y_in: condition.y_in,
        photos: condition.photos.iter().map(|photo| photo.photo.to_string()).collect(),
        marks: condition.marks.iter().map(sheet_mark).collect(),
        after: steps.iter().flat_map(|step| &step.fact.photos).map(|photo| photo.photo.to_string()).collect(),
        calculation: cut_list_of(books, condition.job, condition),
        work: found.work,
    }
}

fn sheet_mark(mark: &ConditionMark) -> SheetMark {
    SheetMark {
        photo: mark.photo,
        kind: mark.kind,
        x: mark.x,
        y: mark.y,
        to_x: mark.to_x,
        to_y: mark.to_y,
        words: mark.words.clone(),
    }
}

fn sheet_decision(held: &Entered<Decision>, names: &Names) -> SheetDecision {
    let decision = &held.fact;
    let declined = decision.lines.iter().filter(|line| line.verdict == Verdict::Declined);
    SheetDecision {
        id: held.entry.id.to_string(),
        verdict: decision.verdict,
        decided_by: decision.decided_by.clone(),
        method: decision.method,
        date: decision.date,
        recorded_at: held.entry.recorded_at.clone(),
        recorded_by: names.person(held.entry.person),
        device: held.entry.device.clone(),
        note: decision.note.clone(),
        caution_given: decision.caution_given,
        declined_lines: declined.map(|line| line.change_line).collect(),
    }
}

//! What a job's page shows, as shapes: the parts in the order in which money moves.

use crate::job::order::OrderedLine;
use crate::job::snapshot::{ChangeState, WorkState};
use crate::month::end::JobMonth;
use desk::names::Names;
use jiff::civil::Date;
use ledger::Entry;
use ledger::closed_lists::{
    Cause, CountedIn, Course, Damaged, DecidedBy, InvoiceFor, JobStatusWord, Place, Pricing, RepairStage,
    Verdict,
};
use serde::Serialize;
use trade::{CostKind, Money, Month, Qty, Rate};

/// Where a line comes from, so that it can be opened and reversed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Source {
    /// The fact's id.
    pub id: String,
    /// Its number for people: device letter and number.
    pub entry: String,
    /// What kind it is.
    pub kind: String,
    /// When it was recorded, UTC.
    pub recorded_at: String,
    /// By whom.
    pub person: String,
}

impl Source {
    pub(crate) fn of(entry: &Entry, names: &Names) -> Source {
        Source {
            id: entry.id.to_string(),
            entry: format!("{}-{}", entry.device, entry.device_seq),
            kind: entry.kind.clone(),
            recorded_at: entry.recorded_at.clone(),
            person: names.person(entry.person),
        }
    }
}

/// A line of cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CostLine {
    /// Where it comes from; absent for labor caught up after a close.
    pub source: Option<Source>,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// The month in which it is booked.
    pub month: Month,
    /// Code.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// Vendor or person.
    pub who: String,
    /// What.
    pub text: String,
    /// How much: quantity, or hours.
    pub quantity: Option<Qty>,
    /// Of what unit.
    pub unit: Option<String>,
    /// What it cost.
    pub amount: Money,
    /// The condition it was for.
    pub condition: Option<String>,
}

/// A line of the contract.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ContractLineView {
    /// Code.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// What.
    pub description: Option<String>,
    /// Cost.
    pub amount: Money,
    /// How much.
    pub quantity: Option<Qty>,
    /// Unit.
    pub unit: Option<String>,
    /// Hours.
    pub hours: Option<Qty>,
}

/// A unit price for hidden conditions.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct UnitPriceView {
    /// Of what.
    pub damaged: Damaged,
    /// Counted in.
    pub counted_in: CountedIn,
    /// Price of one.
    pub price: Money,
}

/// A scheduled payment.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ScheduledView {
    /// On what.
    pub title: String,
    /// How much.
    pub amount: Money,
}

/// The contract.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ContractView {
    /// Where it comes from.
    pub source: Source,
    /// Signed on.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Until when the customer may cancel, where the sale was made at their home (16 CFR 429).
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub cancel_by: Date,
    /// Price.
    pub price: Money,
    /// Sheets that the price covers.
    pub included_sheets: Qty,
    /// Feet of board that the price covers.
    pub included_feet: Qty,
    /// Of the sheets, how many conditions have used.
    pub sheets_used: Qty,
    /// Retainage: the fraction of each invoice that is held until the end.
    pub retainage: Rate,
    /// The letter of the choice that was taken, and its title.
    pub choice: Option<String>,
    /// Whether the proposal was kept as it was signed.
    pub has_proposal: bool,
    /// Whether it was signed at the customer's home; absent where nobody said.
    pub sold_at_home: Option<bool>,
    /// Whether insulation is part of it.
    pub insulates: bool,
    /// Note.
    pub note: Option<String>,
    /// What it is built with, by the firm's name for it.
    pub recipe: Option<String>,
    /// The parts that come in colors, with the color that holds.
    pub colors: Vec<ColorView>,
    /// Lines.
    pub lines: Vec<ContractLineView>,
    /// Unit prices.
    pub unit_prices: Vec<UnitPriceView>,
    /// Payment schedule.
    pub payments: Vec<ScheduledView>,
}

/// A part of the contract that comes in colors.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ColorView {
    /// The part's id.
    pub part: String,
    /// What it is.
    pub title: String,
    /// Its product line.
    pub product_line: Option<String>,
    /// The color that holds; absent while it is open.
    pub color: Option<String>,
    /// The colors it comes in.
    pub offered: Vec<String>,
    /// The choices that were made since the contract, each a fact.
    pub chosen: Vec<ChosenColorView>,
}

/// A color chosen after the contract.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ChosenColorView {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The color.
    pub color: String,
    /// Who chose it.
    pub chosen_by: String,
}

/// A step of the work on a condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RepairView {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Begun or done.
    pub stage: RepairStage,
}

/// A hidden condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ConditionView {
    /// Where it comes from.
    pub source: Source,
    /// Number.
    pub number: String,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Where.
    pub place: Place,
    /// Which side.
    pub side: Option<String>,
    /// Why.
    pub cause: Cause,
    /// What.
    pub damaged: Damaged,
    /// How many.
    pub count: Qty,
    /// Counted in.
    pub counted_in: CountedIn,
    /// Covered by the price.
    pub covered: Qty,
    /// Beyond.
    pub beyond: Qty,
    /// Note.
    pub note: Option<String>,
    /// Hashes of its photos.
    pub photos: Vec<String>,
    /// Work on it.
    pub work: WorkState,
    /// The code that its repair goes to, and the hours of it; absent while the firm has no codes.
    pub code: Option<String>,
    /// Whether the homeowner is to be asked for it.
    pub to_ask: bool,
    /// Whether the owner has to say what becomes of it: its repair was declined, and the roof rests on it.
    pub awaits_owner: bool,
    /// What the owner decided of a declined repair, each a fact; the last one holds.
    pub courses: Vec<CourseView>,
    /// The steps of that work, each a fact.
    pub steps: Vec<RepairView>,
    /// Spent beyond the included sheets.
    pub spent: Money,
    /// Approved.
    pub approved: Money,
    /// Billed.
    pub billed: Money,
    /// Unrecovered cost.
    pub unrecovered: Money,
}

/// What the owner decided of a repair that the homeowner declined.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CourseView {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What becomes of it.
    pub course: Course,
}

/// A line of a change order.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ChangeLineView {
    /// Code.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// The condition it repairs.
    pub condition: Option<String>,
    /// What.
    pub description: String,
    /// How many.
    pub quantity: Option<Qty>,
    /// Unit.
    pub unit: Option<String>,
    /// Price.
    pub price: Money,
    /// What it should cost; nothing while nobody has said it.
    pub cost: Option<Money>,
    /// While nobody has said it: what it would usually cost, by the margin that the job was sold at.
    pub usual_cost: Option<Money>,
    /// Whether it is approved.
    pub approved: bool,
}

/// A decision to a change order.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct DecisionView {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What was said.
    pub verdict: Verdict,
    /// By whom.
    pub decided_by: String,
    /// How it came.
    pub method: Option<DecidedBy>,
}

/// A change order.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ChangeView {
    /// Where it comes from.
    pub source: Source,
    /// Its id.
    pub id: String,
    /// Number.
    pub number: String,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// About.
    pub title: String,
    /// How it is priced.
    pub pricing: Pricing,
    /// Price of all lines.
    pub price: Money,
    /// Price of the approved lines.
    pub approved: Money,
    /// What the homeowner owes for it: by time and material what the work came to, else the approved price.
    pub owed: Money,
    /// Billed.
    pub billed: Money,
    /// What it should cost in all; nothing while a line's is open.
    pub cost: Option<Money>,
    /// Whether its cost is still to be filled in: a crew asked for it without knowing cost.
    pub lacks_cost: bool,
    /// Where its cost was filled in.
    pub filled_in: Option<Source>,
    /// State.
    pub state: ChangeState,
    /// Whether decisions contradict each other.
    pub contradicted: bool,
    /// Who decided.
    pub decided_by: Option<String>,
    /// How.
    pub method: Option<DecidedBy>,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub decided_on: Option<Date>,
    /// Every decision that stands, oldest first, each a fact.
    pub decisions: Vec<DecisionView>,
    /// Lines.
    pub lines: Vec<ChangeLineView>,
}

/// A purchase order.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OrderView {
    /// Where it comes from.
    pub source: Source,
    /// Number.
    pub number: String,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// From whom.
    pub vendor: String,
    /// Wanted by.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub expected_on: Option<Date>,
    /// What is on it.
    pub lines: Vec<OrderedLine>,
    /// Ordered.
    pub ordered: Money,
    /// Received before tax.
    pub received: Money,
}

/// Work done, a forecast, or stored material: a dated figure on a code.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CodeFact {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Code.
    pub code: String,
    /// Quantity, for work done.
    pub quantity: Option<Qty>,
    /// Amount, for a forecast or stored material.
    pub amount: Option<Money>,
    /// Note.
    pub note: Option<String>,
}

/// An invoice.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct InvoiceView {
    /// Where it comes from.
    pub source: Source,
    /// Number.
    pub number: String,
    /// Date on it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Due on.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub due: Date,
    /// What for.
    pub purpose: InvoiceFor,
    /// Before tax.
    pub net: Money,
    /// Tax.
    pub tax: Money,
    /// Held.
    pub retainage: Money,
    /// Released since.
    pub released: Money,
    /// Still held: less what was released, and less what credit memos took off.
    pub held: Money,
    /// Paid.
    pub paid: Money,
    /// Still due; of a credit memo, what of it is neither applied nor given back, below zero.
    pub left: Money,
    /// The number of the invoice that a credit memo lowers.
    pub credits: Option<String>,
    /// What for, line by line.
    pub lines: Vec<ScheduledView>,
}

/// A payment or credit applied to this job's invoices, or what a credit memo of this job gave away.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PaymentView {
    /// Where it comes from: the allocation.
    pub source: Source,
    /// When it came.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// How it came or went, in words: check, credit memo, refund by check.
    pub how: String,
    /// Reference: a check number, a credit memo's or an invoice's number.
    pub reference: Option<String>,
    /// The invoice or credit memo of this job.
    pub invoice: String,
    /// Amount; below zero where it was given away.
    pub amount: Money,
}

/// Hours of one week, worked and so far.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WeekHours {
    /// First day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub week: Date,
    /// Worked in it.
    pub hours: Qty,
    /// Worked by its end.
    pub to_date: Qty,
}

/// A step in the job's life: begun, finished, canceled.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobStatusView {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Which.
    pub stage: JobStatusWord,
}

/// A job on one page.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobPage {
    /// Its figures.
    pub figures: JobMonth,
    /// Where.
    pub site: String,
    /// The customer's telephone.
    pub phone: Option<String>,
    /// Age of the old roof.
    pub roof_age_years: Option<i64>,
    /// State of the old roof.
    pub roof_state: Option<String>,
    /// The steps of its life, oldest first.
    pub steps: Vec<JobStatusView>,
    /// The first day of work: the one on which it began, else the one that is planned.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub begins: Option<Date>,
    /// Whether it has begun.
    pub begun: bool,
    /// The last day, where one is planned.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub ends: Option<Date>,
    /// The crew that is planned, else the job's own.
    pub crew: Option<String>,
    /// How many days of a crew are planned.
    pub crew_days: Option<Qty>,
    /// What is to be settled before work begins.
    pub before_work: Vec<String>,
    /// Whether the house was built before 1978; absent where nobody said.
    pub built_before_1978: Option<bool>,
    /// The contract.
    pub contract: Option<ContractView>,
    /// Hidden conditions.
    pub conditions: Vec<ConditionView>,
    /// Change orders.
    pub changes: Vec<ChangeView>,
    /// Everything spent, oldest first; sums to the cost.
    pub costs: Vec<CostLine>,
    /// Orders.
    pub orders: Vec<OrderView>,
    /// Work done on measured codes.
    pub units: Vec<CodeFact>,
    /// The owner's forecasts.
    pub forecasts: Vec<CodeFact>,
    /// Material on site.
    pub stored: Vec<CodeFact>,
    /// Invoices and credit memos.
    pub invoices: Vec<InvoiceView>,
    /// Payments.
    pub payments: Vec<PaymentView>,
    /// Hours contracted in all.
    pub hours_contracted: Qty,
    /// Hours week by week.
    pub hours: Vec<WeekHours>,
}

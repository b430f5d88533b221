//! The month end: every job at work, the firm, and what customers owe.

use crate::job::result::{HiddenResult, JobResult, job_result};
use crate::job::snapshot::JobSnapshot;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::firm_at;
use desk::{Act, Desk};
use ledger::facts::{Firm, Invoice, RetainageRelease};
use ledger::{Books, Calendar, Id};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{Age, AgeTable, Money, Month, OpenItem, Qty, StepKind};

/// What a month added to a job.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Movement {
    /// Earned in the month.
    pub earned: Money,
    /// Cost booked in the month.
    pub cost: Money,
    /// Billed in the month, before tax.
    pub billed: Money,
    /// Earned less cost and less the change in the loss foreseen.
    pub profit: Money,
    /// Change in what is billed beyond what is earned.
    pub over_billed: Money,
    /// Change in what is earned beyond what is billed.
    pub under_billed: Money,
    /// Change in the loss provided for.
    pub loss_provision: Money,
    /// Overhead absorbed in the month.
    pub overhead: Money,
}

/// A job in the month-end report.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobMonth {
    /// How it stands at the end of the month.
    #[serde(flatten)]
    pub result: JobResult,
    /// What the month added.
    pub month: Movement,
}

/// The firm in the month-end report: sums over its jobs. Over- and under-billing are never netted across jobs.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FirmMonth {
    /// Its name.
    pub name: String,
    /// Jobs in the report.
    pub jobs: usize,
    /// Contracted prices.
    pub price: Money,
    /// Approved changes of the customers' own.
    pub changes: Money,
    /// Approved for hidden conditions.
    pub hidden_price: Money,
    /// Contracts.
    pub contract: Money,
    /// Cost to date.
    pub cost: Money,
    /// Committed.
    pub committed: Money,
    /// Forecast.
    pub forecast: Money,
    /// Material on site, not installed.
    pub uninstalled: Money,
    /// Earned to date.
    pub earned: Money,
    /// Billed to date.
    pub billed: Money,
    /// Over-billed, the sum of the jobs that are.
    pub over_billed: Money,
    /// Under-billed, the sum of the jobs that are.
    pub under_billed: Money,
    /// Loss provided for.
    pub loss_provision: Money,
    /// Retainage held.
    pub retainage_held: Money,
    /// Margin sold.
    pub margin_sold: Money,
    /// Margin made or forecast.
    pub margin: Money,
    /// Hours.
    pub hours: Qty,
    /// Crew-days, unrounded.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: rust_decimal::Decimal,
    /// Overhead absorbed.
    pub overhead: Money,
    /// Margin less overhead.
    pub margin_after_overhead: Money,
    /// Hidden conditions.
    pub hidden: HiddenResult,
    /// The steps of all jobs' walks together.
    pub walk: Vec<StepSum>,
    /// What the month added.
    pub month: Movement,
}

/// A walk step summed over the firm.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StepSum {
    /// Which step.
    pub step: StepKind,
    /// In plain words.
    pub title: String,
    /// The sum.
    pub amount: Money,
}

/// What customers owe at the end of the month, by days past due; retainage apart.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Owed {
    /// Not yet due.
    pub current: Money,
    /// 1 to 30 days past due.
    pub days_1_to_30: Money,
    /// 31 to 60 days past due.
    pub days_31_to_60: Money,
    /// 61 to 90 days past due.
    pub days_61_to_90: Money,
    /// Over 90 days past due.
    pub over_90: Money,
    /// Due in all.
    pub open: Money,
    /// Held until jobs end.
    pub retainage: Money,
    /// Invoice by invoice.
    pub invoices: Vec<OpenInvoice>,
}

/// An invoice with something open or held.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenInvoice {
    /// The invoice's id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// The job's number.
    pub job: String,
    /// The customer.
    pub customer: String,
    /// Due on.
    pub due: String,
    /// Days past due at the end of the month; below zero when not yet due.
    pub days_past_due: i32,
    /// That, as a span of days.
    pub age: Age,
    /// Open.
    pub open: Money,
    /// Held.
    pub retainage: Money,
}

/// The month-end report.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MonthEnd {
    /// The month, `yyyy-mm`.
    pub month: Month,
    /// Whether it is closed.
    pub closed: bool,
    /// The firm.
    pub firm: FirmMonth,
    /// Its jobs, by number.
    pub jobs: Vec<JobMonth>,
    /// What customers owe.
    pub owed: Owed,
}

/// Works out a month end.
///
/// # Errors
/// When the facts cannot be read.
pub fn month_end(desk: &Desk, month: Month) -> Result<MonthEnd, OfficeError> {
    let whole = desk.books().in_one_read(|books| month_end_of(books, month))?;
    Ok(if desk.may(Act::SeeMargin)? { whole } else { owed_only(whole) })
}

/// A month end without cost and margin: what is owed, and whether the month is closed.
fn owed_only(whole: MonthEnd) -> MonthEnd {
    let firm = FirmMonth { name: whole.firm.name, ..FirmMonth::default() };
    MonthEnd { firm, jobs: Vec::new(), ..whole }
}

pub(crate) fn month_end_of(books: Books<'_>, month: Month) -> Result<MonthEnd, OfficeError> {
    let calendar = books.calendar()?;
    let live = books.jobs_at_work(&calendar, month)?;
    let touched = books.touched_jobs(month)?;
    let names = Names::of_jobs(books, live.iter().copied())?;
    let firm = firm_at(books, month)?;
    let mut jobs = Vec::with_capacity(live.len());
    for job in live {
        jobs.push(job_month(books, &calendar, &names, &firm, job, month, touched.contains(&job))?);
    }
    jobs.retain(has_something_to_say);
    jobs.sort_by(|left, right| left.result.number.cmp(&right.result.number));
    Ok(MonthEnd {
        month,
        closed: calendar.closed_through().is_some_and(|closed| month <= closed),
        firm: firm_month(&firm, &jobs),
        owed: owed(books, &calendar, month)?,
        jobs,
    })
}

/// A job that was never contracted is left out while nothing was spent on it, billed or moved: its movement would
/// otherwise be missing from the firm's.
fn has_something_to_say(job: &JobMonth) -> bool {
    let result = &job.result;
    result.stage != crate::job::result::Stage::Uncontracted
        || !(result.cost.is_zero() && result.billed.is_zero())
        || job.month != Movement::default()
}

pub(crate) fn job_month(
    books: Books<'_>,
    calendar: &Calendar,
    names: &Names,
    firm: &Firm,
    job: Id,
    month: Month,
    touched: bool,
) -> Result<JobMonth, OfficeError> {
    let result = job_result(&JobSnapshot::gather(books, calendar, job, month)?, names, firm)?;
    if !touched {
        return Ok(JobMonth { result, month: Movement::default() });
    }
    let before = job_result(&JobSnapshot::gather(books, calendar, job, month.prev())?, names, firm)?;
    let earned = result.earned - before.earned;
    let cost = result.cost - before.cost;
    let loss_provision = result.loss_provision - before.loss_provision;
    let movement = Movement {
        earned,
        cost,
        billed: result.billed - before.billed,
        profit: earned - cost - loss_provision,
        over_billed: result.over_billed - before.over_billed,
        under_billed: result.under_billed - before.under_billed,
        loss_provision,
        overhead: result.overhead - before.overhead,
    };
    Ok(JobMonth { result, month: movement })
}

fn firm_month(firm: &Firm, jobs: &[JobMonth]) -> FirmMonth {
    let mut sum = FirmMonth { name: firm.name.clone(), jobs: jobs.len(), ..FirmMonth::default() };
    let mut walk: Vec<StepSum> = Vec::new();
    for job in jobs {
        let result = &job.result;
        sum.price += result.price;
        sum.changes += result.changes;
        sum.hidden_price += result.hidden_price;
        sum.contract += result.contract;
        sum.cost += result.cost;
        sum.committed += result.committed;
        sum.forecast += result.forecast;
        sum.uninstalled += result.uninstalled;
        sum.earned += result.earned;
        sum.billed += result.billed;
        sum.over_billed += result.over_billed;
        sum.under_billed += result.under_billed;
        sum.loss_provision += result.loss_provision;
        sum.retainage_held += result.retainage_held;
        sum.margin_sold += result.margin_sold;
        sum.margin += result.margin;
        sum.hours += result.hours;
        sum.crew_days += result.crew_days;
        sum.overhead += result.overhead;
        sum.margin_after_overhead += result.margin_after_overhead;
        sum.hidden.conditions += result.hidden.conditions;
        sum.hidden.approved += result.hidden.approved;
        sum.hidden.billed += result.hidden.billed;
        sum.hidden.spent += result.hidden.spent;
        sum.hidden.unrecovered += result.hidden.unrecovered;
        add_movement(&mut sum.month, &job.month);
        for step in &result.walk.steps {
            match walk.iter_mut().find(|known| known.step == step.step) {
                Some(known) => known.amount += step.amount,
                None => {
                    walk.push(StepSum { step: step.step, title: step.title.clone(), amount: step.amount });
                }
            }
        }
    }
    sum.hidden.recovery = trade::recovery(sum.hidden.billed, sum.hidden.spent);
    sum.walk = walk;
    sum
}

fn add_movement(sum: &mut Movement, job: &Movement) {
    sum.earned += job.earned;
    sum.cost += job.cost;
    sum.billed += job.billed;
    sum.profit += job.profit;
    sum.over_billed += job.over_billed;
    sum.under_billed += job.under_billed;
    sum.loss_provision += job.loss_provision;
    sum.overhead += job.overhead;
}

/// What customers owe. A released retainage is due by its own day; payments are read as paying the earliest due first.
fn owed(books: Books<'_>, calendar: &Calendar, month: Month) -> Result<Owed, OfficeError> {
    let as_of = month.last_day();
    let mut owed = Owed::default();
    let mut items: Vec<OpenItem> = Vec::new();
    let mut names: BTreeMap<Id, (String, String)> = BTreeMap::new();
    for (id, totals) in books.open_invoices(month)? {
        let Some(held) = books.fact(id)? else { continue };
        let ledger::Fact::Invoice(invoice) = held.fact else { continue };
        let mut due = released(books, calendar, id, month)?;
        let released_in_all: Money = due.iter().map(|item| item.open).sum();
        // What was due before any release, less what was paid, comes first; the rest of the open amount is released.
        let from_release = released_in_all.min(totals.open.max(Money::ZERO));
        let mut left = from_release;
        for item in due.iter_mut().rev() {
            item.open = item.open.min(left);
            left -= item.open;
        }
        due.push(OpenItem { due: invoice.due, open: totals.open - from_release });
        due.retain(|item| !item.open.is_zero());
        let oldest = due.iter().map(|item| item.due).min().unwrap_or(invoice.due);
        items.extend(due);
        let (job, customer) = name_of(books, &mut names, invoice.job)?;
        owed.retainage += totals.held;
        owed.invoices.push(open_invoice(
            id,
            &invoice,
            job,
            customer,
            oldest,
            as_of,
            totals.open,
            totals.held,
        ));
    }
    let table: AgeTable = trade::aging(&items, as_of);
    owed.current = table.current;
    owed.days_1_to_30 = table.d1_to_30;
    owed.days_31_to_60 = table.d31_to_60;
    owed.days_61_to_90 = table.d61_to_90;
    owed.over_90 = table.over_90;
    owed.open = items.iter().map(|item| item.open).sum();
    owed.invoices.sort_by(|left, right| (&left.due, &left.number).cmp(&(&right.due, &right.number)));
    Ok(owed)
}

#[expect(clippy::too_many_arguments, reason = "each is one column of the row it makes")]
fn open_invoice(
    id: Id,
    invoice: &Invoice,
    job: String,
    customer: String,
    due: jiff::civil::Date,
    as_of: jiff::civil::Date,
    open: Money,
    retainage: Money,
) -> OpenInvoice {
    let days_past_due = trade::days_past_due(due, as_of);
    OpenInvoice {
        id: id.to_string(),
        number: invoice.number.clone(),
        job,
        customer,
        due: due.to_string(),
        days_past_due,
        age: trade::age_bucket(days_past_due),
        open,
        retainage,
    }
}

fn name_of(
    books: Books<'_>,
    known: &mut BTreeMap<Id, (String, String)>,
    job: Id,
) -> Result<(String, String), OfficeError> {
    if let Some(names) = known.get(&job) {
        return Ok(names.clone());
    }
    let found = books.newest::<ledger::facts::Job>(job)?;
    let customer = match &found {
        Some(job) => books.newest::<ledger::facts::Customer>(job.customer)?.map(|customer| customer.name),
        None => None,
    };
    let names = (found.map(|job| job.number).unwrap_or_default(), customer.unwrap_or_default());
    known.insert(job, names.clone());
    Ok(names)
}

fn released(
    books: Books<'_>,
    calendar: &Calendar,
    invoice: Id,
    month: Month,
) -> Result<Vec<OpenItem>, OfficeError> {
    let releases = books.live_at(calendar, RetainageRelease::invoice, invoice, month, |fact| fact.date)?;
    let mut due: Vec<OpenItem> =
        releases.into_iter().map(|held| OpenItem { due: held.fact.due, open: held.fact.amount }).collect();
    due.sort_by_key(|item| item.due);
    Ok(due)
}

/// The first and last months in which anything is booked.
///
/// # Errors
/// When they cannot be read.
pub fn booked_months(desk: &Desk) -> Result<Option<(Month, Month)>, OfficeError> {
    Ok(desk.books().months()?)
}

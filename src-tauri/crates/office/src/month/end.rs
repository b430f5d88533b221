//! The month end: every job at work, the firm, and what customers owe.

use crate::job::recorded::{Recorded, some_at_once};
use crate::job::result::{HiddenResult, JobResult, job_result};
use crate::job::snapshot::JobSnapshot;
use crate::month::owed::{Owed, owed};
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use desk::{Act, Desk};
use jiff::civil::Date;
use ledger::Books;
use ledger::facts::Firm;
use serde::Serialize;
use trade::{Money, Month, Qty, StepKind, shown};

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
    /// Contracts signed in the month, at their price.
    pub signed: Money,
    /// What changes added to contracts in the month.
    pub changed: Money,
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
    /// Crew-days of the month, unrounded.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: rust_decimal::Decimal,
}

/// A job in the month-end report.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobMonth {
    /// How it stands at the end of the month.
    #[serde(flatten)]
    pub result: JobResult,
    /// Its backlog at the end of the month before.
    pub backlog_before: Money,
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
    /// Contracts less earned: what is still to be earned of signed work.
    pub backlog: Money,
    /// The gross profit that the backlog will bring.
    pub backlog_profit: Money,
    /// Backlog at the end of the month before.
    pub backlog_before: Money,
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
    /// What the firm cost in the month beside its jobs.
    pub overhead_cost: Money,
    /// Of that, what no job bore; below zero where jobs bore more.
    pub under_absorbed: Money,
    /// Gross profit less overhead cost.
    pub net_profit: Money,
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

/// A job that loses, or that makes less than it was sold to make.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobToTalkAbout {
    /// Its number.
    pub number: String,
    /// For whom.
    pub customer: String,
    /// Whether it loses.
    pub loses: bool,
    /// Margin less the margin sold.
    pub change: Money,
    /// The step of the walk that took the most.
    pub step: Option<StepKind>,
    /// In plain words.
    pub step_title: Option<String>,
    /// How much it took, below zero.
    pub step_amount: Option<Money>,
}

/// The month-end report.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MonthEnd {
    /// The month, `yyyy-mm`.
    pub month: Month,
    /// Whether it is closed.
    pub closed: bool,
    /// Why it cannot be closed yet, and when it can: a sentence.
    pub waits: Option<String>,
    /// The firm.
    pub firm: FirmMonth,
    /// Its jobs, by number.
    pub jobs: Vec<JobMonth>,
    /// The jobs that need a word, the worst first.
    pub to_talk_about: Vec<JobToTalkAbout>,
    /// What customers owe.
    pub owed: Owed,
}

/// Works out a month end.
///
/// # Errors
/// When the facts cannot be read.
pub fn month_end(desk: &Desk, month: Month) -> Result<MonthEnd, OfficeError> {
    let found = desk.books().in_one_read(|books| month_end_of(books, month))?;
    // Without the day on which it is asked: what a month says is the same on every day on which it is so.
    let waits = (!found.closed && !is_over(month, desk.clock.today())).then(|| {
        let (month, last) = (shown::month(month), shown::day(month.last_day()));
        format!("{month} is not over yet. Close it after {last}.")
    });
    let whole = MonthEnd { waits, ..found };
    Ok(if desk.may(Act::SeeMargin)? { whole } else { owed_only(whole) })
}

/// Whether a month is over on a day, so that it may be closed.
pub(crate) fn is_over(month: Month, date: Date) -> bool {
    date > month.last_day()
}

/// A month end without cost and margin: what is owed, and whether the month is closed.
fn owed_only(whole: MonthEnd) -> MonthEnd {
    let firm = FirmMonth { name: whole.firm.name, ..FirmMonth::default() };
    MonthEnd { firm, jobs: Vec::new(), to_talk_about: Vec::new(), ..whole }
}

pub(crate) fn month_end_of(books: Books<'_>, month: Month) -> Result<MonthEnd, OfficeError> {
    let calendar = books.calendar()?;
    let live = books.jobs_at_work(&calendar, month)?;
    let touched = books.touched_jobs(month)?;
    let names = Names::of_jobs(books, live.iter().copied())?;
    let settings = Settings::read(books, &calendar)?;
    let mut jobs = Vec::with_capacity(live.len());
    some_at_once(live, |some| {
        let recorded = Recorded::read(books, &calendar, some)?;
        let moved = some.intersection(&touched).copied().collect();
        let mut before = recorded.at(&moved, month.prev())?.into_iter().peekable();
        for standing in recorded.at(some, month)? {
            let before = before.next_if(|before| before.job == standing.job);
            jobs.push(job_month(&standing, before, &names, &settings)?);
        }
        Ok(())
    })?;
    jobs.retain(has_something_to_say);
    jobs.sort_by(|left, right| left.result.number.cmp(&right.result.number));
    Ok(MonthEnd {
        month,
        closed: calendar.closed_through().is_some_and(|closed| month <= closed),
        waits: None,
        firm: firm_month(
            &settings.firm(month.last_day()).fact,
            &jobs,
            books.overhead(month, month)?.into_values().sum(),
        ),
        owed: owed(books, &calendar, month)?,
        to_talk_about: to_talk_about(&jobs),
        jobs,
    })
}

/// The jobs that lose, or make less than they were sold to make; the worst first.
fn to_talk_about(jobs: &[JobMonth]) -> Vec<JobToTalkAbout> {
    let worse = jobs
        .iter()
        .map(|job| &job.result)
        .filter(|result| result.margin.is_negative() || result.margin < result.margin_sold);
    let mut found: Vec<JobToTalkAbout> = worse
        .map(|result| {
            let took = result.walk.steps.iter().filter(|step| step.amount.is_negative());
            let most = took.min_by_key(|step| step.amount);
            JobToTalkAbout {
                number: result.number.clone(),
                customer: result.customer.clone(),
                loses: result.margin.is_negative(),
                change: result.margin - result.margin_sold,
                step: most.map(|step| step.step),
                step_title: most.map(|step| step.title.clone()),
                step_amount: most.map(|step| step.amount),
            }
        })
        .collect();
    found.sort_by(|left, right| (left.change, &left.number).cmp(&(right.change, &right.number)));
    found
}

/// A job that was never contracted is left out while nothing was spent on it, billed or moved: its movement would
/// otherwise be missing from the firm's.
fn has_something_to_say(job: &JobMonth) -> bool {
    let result = &job.result;
    result.stage != crate::job::result::Stage::Uncontracted
        || !(result.cost.is_zero() && result.billed.is_zero())
        || job.month != Movement::default()
}

/// What a month made of a job, from how it stood at its end and before; without the latter nothing moved.
pub(crate) fn job_month(
    standing: &JobSnapshot,
    before: Option<JobSnapshot>,
    names: &Names,
    settings: &Settings,
) -> Result<JobMonth, OfficeError> {
    let result = job_result(standing, names, settings)?;
    let Some(before) = before else {
        let backlog_before = result.backlog;
        return Ok(JobMonth { result, backlog_before, month: Movement::default() });
    };
    let before = job_result(&before, names, settings)?;
    let month = moved(&result, &before);
    Ok(JobMonth { result, backlog_before: before.backlog, month })
}

/// What was added to a job between two month ends.
pub(crate) fn moved(result: &JobResult, before: &JobResult) -> Movement {
    let earned = result.earned - before.earned;
    let cost = result.cost - before.cost;
    let loss_provision = result.loss_provision - before.loss_provision;
    Movement {
        earned,
        cost,
        billed: result.billed - before.billed,
        signed: result.price - before.price,
        changed: (result.contract - before.contract) - (result.price - before.price),
        profit: earned - cost - loss_provision,
        over_billed: result.over_billed - before.over_billed,
        under_billed: result.under_billed - before.under_billed,
        loss_provision,
        overhead: result.overhead - before.overhead,
        crew_days: result.crew_days - before.crew_days,
    }
}

fn firm_month(firm: &Firm, jobs: &[JobMonth], overhead_cost: Money) -> FirmMonth {
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
        sum.backlog += result.backlog;
        sum.backlog_profit += result.backlog_profit;
        sum.backlog_before += job.backlog_before;
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
    sum.overhead_cost = overhead_cost;
    sum.under_absorbed = trade::under_absorbed(overhead_cost, sum.month.overhead);
    sum.net_profit = trade::net_profit(sum.month.profit, overhead_cost);
    sum
}

pub(crate) fn add_movement(sum: &mut Movement, job: &Movement) {
    sum.earned += job.earned;
    sum.cost += job.cost;
    sum.billed += job.billed;
    sum.signed += job.signed;
    sum.changed += job.changed;
    sum.profit += job.profit;
    sum.over_billed += job.over_billed;
    sum.under_billed += job.under_billed;
    sum.loss_provision += job.loss_provision;
    sum.overhead += job.overhead;
    sum.crew_days += job.crew_days;
}

/// The first and last months in which anything is booked.
///
/// # Errors
/// When they cannot be read.
pub fn booked_months(desk: &Desk) -> Result<Option<(Month, Month)>, OfficeError> {
    Ok(desk.books().months()?)
}

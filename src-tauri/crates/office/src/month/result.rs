//! What the whole firm made: month by month through a year, beside the year before, and the overhead rate that the year
//! would have asked for.

use crate::job::own_day::overhead_base;
use crate::job::recorded::{Recorded, some_at_once};
use crate::job::result::{JobResult, job_result};
use crate::job::snapshot::JobSnapshot;
use crate::month::end::{Movement, add_movement, moved};
use desk::names::Names;
use desk::settings::Settings;
use desk::{Desk, OfficeError};
use ledger::closed_lists::OverheadBy;
use ledger::{Books, Calendar, Id};
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month, Rate};

/// What the firm made in some time.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Made {
    /// Earned.
    pub earned: Money,
    /// Cost of jobs.
    pub cost: Money,
    /// By how much the losses foreseen grew.
    pub losses: Money,
    /// Earned less cost, less the change in losses foreseen.
    pub gross_profit: Money,
    /// What the firm cost beside its jobs.
    pub overhead_cost: Money,
    /// Gross profit less that.
    pub net_profit: Money,
    /// Billed, before sales tax.
    pub billed: Money,
    /// Overhead that jobs bore.
    pub absorbed: Money,
    /// Overhead cost that no job bore; below zero where jobs bore more.
    pub under_absorbed: Money,
    /// Crew-days, unrounded.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: Decimal,
}

/// What the firm made in a month.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MonthMade {
    /// The month.
    pub month: Month,
    /// What it made.
    #[serde(flatten)]
    pub made: Made,
}

/// The firm's year through a month.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FirmYear {
    /// The firm's name.
    pub name: String,
    /// Through this month.
    pub month: Month,
    /// Its months from January on.
    pub months: Vec<MonthMade>,
    /// The year so far.
    pub so_far: Made,
    /// The same months of the year before; absent where nothing is booked in them.
    pub year_before: Option<Made>,
    /// What overhead is spread by at the month's end.
    pub overhead_by: OverheadBy,
    /// How much of that the year's jobs took: hours, dollars of labor or crew-days.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub base: Decimal,
    /// The rate at the month's end.
    pub rate: Rate,
    /// The rate at which jobs would have borne the year's overhead cost exactly; absent while there was no work.
    pub rate_needed: Option<Rate>,
}

/// The firm's year through a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn firm_year(desk: &Desk, month: Month) -> Result<FirmYear, OfficeError> {
    desk.books().in_one_read(|books| firm_year_of(books, month))
}

/// January of a month's year.
pub(crate) fn january(month: Month) -> Month {
    Month::of(jiff::civil::date(month.year(), 1, 1))
}

/// The same month of the year before.
fn year_earlier(month: Month) -> Month {
    (0..12).fold(month, |month, _| month.prev())
}

/// How a job of the year stood before it and stands now.
pub(crate) struct JobYear {
    pub(crate) before: JobResult,
    pub(crate) now: JobResult,
}

pub(crate) fn firm_year_of(books: Books<'_>, month: Month) -> Result<FirmYear, OfficeError> {
    let calendar = books.calendar()?;
    let settings = Settings::read(books, &calendar)?;
    let gather = |first: Month, last: Month| gather(books, &calendar, &settings, first, last);
    let (months, jobs) = gather(january(month), month)?;
    let (earlier, _) = gather(january(year_earlier(month)), year_earlier(month))?;
    let so_far = sum_of(&months);
    let year_before = Some(sum_of(&earlier)).filter(|made| *made != Made::default());
    let firm = &settings.firm(month.last_day()).fact;
    let base = base_of(firm.overhead_by, &jobs);
    Ok(FirmYear {
        name: firm.name.clone(),
        month,
        rate_needed: trade::overhead_rate(so_far.overhead_cost, base),
        months,
        so_far,
        year_before,
        overhead_by: firm.overhead_by,
        base,
        rate: firm.overhead_rate,
    })
}

/// The jobs of the year through a month, as they stood before it and stand now.
pub(crate) fn jobs_of_year(books: Books<'_>, month: Month) -> Result<Vec<JobYear>, OfficeError> {
    let calendar = books.calendar()?;
    let settings = Settings::read(books, &calendar)?;
    Ok(gather(books, &calendar, &settings, january(month), month)?.1)
}

/// How much of the base for overhead the jobs of a year took.
fn base_of(by: OverheadBy, jobs: &[JobYear]) -> Decimal {
    let sum = |of: fn(&JobResult) -> Decimal| -> Decimal {
        jobs.iter().map(|job| of(&job.now) - of(&job.before)).sum()
    };
    let hours = jobs.iter().map(|job| job.now.hours - job.before.hours).sum();
    let (labor, crew_days) = (sum(|result| result.labor.decimal()), sum(|result| result.crew_days));
    trade::measure_of(overhead_base(by), hours, labor, crew_days)
}

fn sum_of(months: &[MonthMade]) -> Made {
    months.iter().fold(Made::default(), |sum, month| {
        let made = &month.made;
        Made {
            earned: sum.earned + made.earned,
            cost: sum.cost + made.cost,
            losses: sum.losses + made.losses,
            gross_profit: sum.gross_profit + made.gross_profit,
            overhead_cost: sum.overhead_cost + made.overhead_cost,
            net_profit: sum.net_profit + made.net_profit,
            billed: sum.billed + made.billed,
            absorbed: sum.absorbed + made.absorbed,
            under_absorbed: sum.under_absorbed + made.under_absorbed,
            crew_days: sum.crew_days + made.crew_days,
        }
    })
}

/// What each month made, and the jobs that had anything booked in any of them.
fn gather(
    books: Books<'_>,
    calendar: &Calendar,
    settings: &Settings,
    first: Month,
    last: Month,
) -> Result<(Vec<MonthMade>, Vec<JobYear>), OfficeError> {
    let touched = books.touched_jobs_between(first, last)?;
    let names = Names::of_jobs(books, touched.iter().copied())?;
    let mut movements: BTreeMap<Month, Movement> = BTreeMap::new();
    let mut at_work = Vec::new();
    let mut month = first;
    while month <= last {
        movements.insert(month, Movement::default());
        at_work.push((month, books.touched_jobs(month)?));
        month = month.next();
    }
    let mut jobs = Vec::new();
    some_at_once(touched, |some| {
        let recorded = Recorded::read(books, calendar, some)?;
        let stood = |jobs: &BTreeSet<Id>, month: Month| -> Result<Vec<(Id, JobResult)>, OfficeError> {
            let result = |standing: JobSnapshot| Ok((standing.job, job_result(&standing, &names, settings)?));
            recorded.at(jobs, month)?.into_iter().map(result).collect()
        };
        let mut of_some: BTreeMap<Id, JobYear> = BTreeMap::new();
        for (job, before) in stood(some, first.prev())? {
            of_some.insert(job, JobYear { now: before.clone(), before });
        }
        for (month, touched) in &at_work {
            for (job, then) in stood(&some.intersection(touched).copied().collect(), *month)? {
                let Some(year) = of_some.get_mut(&job) else { continue };
                add_movement(movements.entry(*month).or_default(), &moved(&then, &year.now));
                year.now = then;
            }
        }
        jobs.extend(of_some.into_values());
        Ok(())
    })?;
    let months = movements.into_iter().map(|(month, movement)| {
        let overhead_cost = books.overhead(month, month)?.into_values().sum();
        Ok(MonthMade { month, made: made(&movement, overhead_cost) })
    });
    Ok((months.collect::<Result<_, OfficeError>>()?, jobs))
}

fn made(movement: &Movement, overhead_cost: Money) -> Made {
    Made {
        earned: movement.earned,
        cost: movement.cost,
        losses: movement.loss_provision,
        gross_profit: movement.profit,
        overhead_cost,
        net_profit: trade::net_profit(movement.profit, overhead_cost),
        billed: movement.billed,
        absorbed: movement.overhead,
        under_absorbed: trade::under_absorbed(overhead_cost, movement.overhead),
        crew_days: movement.crew_days,
    }
}

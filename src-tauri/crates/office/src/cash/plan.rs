//! What each job at work or to come still asks of crews and money, and when.

use super::view::AsIf;
use crate::billing::bank::Stands;
use crate::job::result::{JobResult, Stage};
use crate::month::end::MonthEnd;
use crate::rates::loaded_on;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use jiff::ToSpan;
use jiff::civil::Date;
use ledger::closed_lists::JobStatusWord;
use ledger::facts::{Contract, JobStatus, Schedule};
use ledger::kind::FactRow;
use ledger::{Books, Entered, Entry, Id};
use rust_decimal::Decimal;
use trade::{Money, Qty, Rate, crew_days_left, weeks_later, work_days};

/// A job that is signed and not ended, with what is planned of it on a day.
pub(crate) struct JobPlan {
    pub(crate) number: String,
    pub(crate) title: String,
    pub(crate) customer: Id,
    /// The newest plan.
    pub(crate) plan: Option<Entered<Schedule>>,
    /// When it began.
    pub(crate) begun: Option<Date>,
    /// When it was finished.
    pub(crate) finished: Option<Date>,
    /// The crew that is planned, else the job's own.
    pub(crate) crew: Option<Id>,
    /// Its people, the hours of its day, and what an hour of them costs.
    pub(crate) people: i64,
    pub(crate) hours_a_day: Qty,
    pub(crate) loaded: Option<Rate>,
    /// Days that the crew has left, whoever planned them.
    pub(crate) days_left: Qty,
    pub(crate) contract: Entry,
    pub(crate) signed: Date,
    pub(crate) payments: Vec<(String, Money)>,
    pub(crate) retainage: Rate,
    pub(crate) contracted: Money,
    pub(crate) billed: Money,
    pub(crate) forecast: Money,
    pub(crate) cost: Money,
    /// The days on which it is worked on from here, with the part of each; empty where nothing is planned or left.
    pub(crate) days: Vec<(Date, Qty)>,
    /// The day on which work begins or goes on, and its last, as it is planned or as if it slipped.
    pub(crate) work: Option<(Date, Date)>,
}

impl JobPlan {
    /// Whether it is known when work on it is done.
    pub(crate) fn is_planned(&self) -> bool {
        self.work.is_some() && self.finished.is_none()
    }

    /// Whether work was to have begun by a day, and did not.
    pub(crate) fn is_overdue(&self, on: Date) -> bool {
        self.begun.is_none()
            && self.finished.is_none()
            && self.plan.as_ref().is_some_and(|plan| plan.fact.begins <= on)
    }
}

/// What is planned of a job or became of it, by what stood.
fn standing<T: FactRow>(held: Vec<Entered<T>>, stands: Stands<'_>) -> Result<Vec<Entered<T>>, OfficeError> {
    let mut found = Vec::new();
    for held in held {
        if stands(&held.entry, held.reversed_by)? {
            found.push(held);
        }
    }
    Ok(found)
}

/// The plan that counts on a day: the newest by then.
fn newest(plans: Vec<Entered<Schedule>>, on: Date) -> Option<Entered<Schedule>> {
    plans.into_iter().filter(|held| held.fact.date <= on).max_by_key(|held| held.fact.date)
}

/// The signed jobs of a month end, as they are planned on a day.
pub(crate) fn plans(
    books: Books<'_>,
    names: &Names,
    settings: &Settings,
    report: &MonthEnd,
    (on, stands): (Date, Stands<'_>),
    as_if: &AsIf,
) -> Result<Vec<JobPlan>, OfficeError> {
    let loaded = loaded_on(books, on)?;
    let mut plans = Vec::new();
    for job in &report.jobs {
        let result = &job.result;
        if matches!(result.stage, Stage::Canceled | Stage::Uncontracted) {
            continue;
        }
        let id = Id::parse(&result.id).map_err(|problem| OfficeError::refused("job", &problem, ""))?;
        let Some(contract) = books.by(Contract::job, id)?.into_iter().next() else { continue };
        let plan = newest(standing(books.by_with_reversed(Schedule::job, id)?, stands)?, on);
        let steps = standing(books.by_with_reversed(JobStatus::job, id)?, stands)?;
        let on_day = |word: JobStatusWord| {
            let steps = steps.iter().map(|held| &held.fact).filter(|step| step.stage == word);
            steps.map(|step| step.date).filter(|date| *date <= on).max()
        };
        let own = names.jobs.get(&id);
        let crew = plan.as_ref().and_then(|plan| plan.fact.crew).or(own.and_then(|job| job.crew));
        let of_crew = crew.and_then(|crew| settings.crew(crew, on)).map(|held| &held.fact);
        let rate = loaded.iter().find(|row| row.crew.is_some() && row.crew == crew);
        let mut planned = JobPlan {
            number: result.number.clone(),
            title: result.title.clone(),
            customer: own.map_or(id, |job| job.customer),
            begun: on_day(JobStatusWord::Begun),
            finished: on_day(JobStatusWord::Finished),
            crew,
            people: of_crew.map_or(0, |crew| crew.size),
            hours_a_day: of_crew.map_or(Qty::ZERO, |crew| crew.hours_a_day),
            loaded: rate.map(|row| row.loaded),
            days_left: Qty::ZERO,
            contract: contract.entry,
            signed: contract.fact.date,
            payments: contract.fact.payments.into_iter().map(|each| (each.title, each.amount)).collect(),
            retainage: contract.fact.retainage,
            contracted: result.contract,
            billed: result.billed,
            forecast: result.forecast,
            cost: result.cost,
            plan,
            days: Vec::new(),
            work: None,
        };
        planned.put_to_days(on, result, as_if);
        plans.push(planned);
    }
    Ok(plans)
}

impl JobPlan {
    /// Which days are left of it, from the day after.
    fn put_to_days(&mut self, on: Date, result: &JobResult, as_if: &AsIf) {
        if let Some(finished) = self.finished {
            self.work = Some((self.begun.unwrap_or(finished), finished));
            return;
        }
        let planned = self.plan.as_ref().map(|plan| &plan.fact);
        let Some(begins) = planned.map(|plan| plan.begins).or(self.begun) else { return };
        let hours = result.codes.iter().map(|code| code.hours_contracted).sum();
        let worked: Decimal = result.crew_days;
        let crew = (self.people, self.hours_a_day);
        self.days_left = crew_days_left(planned.and_then(|plan| plan.crew_days), hours, crew, worked);
        let weeks = as_if.slips(&self.number);
        let next = on.saturating_add(1.day());
        let begins = weeks_later(begins.max(next), weeks).max(next);
        self.days = work_days(begins, self.days_left);
        let ends = planned.and_then(|plan| plan.ends).map(|ends| weeks_later(ends, weeks));
        let last = self.days.last().map(|(day, _)| *day);
        self.work = Some((begins, ends.into_iter().chain(last).max().unwrap_or(begins).max(begins)));
    }
}

//! What was recorded of some jobs, of all months: read once, for all of them together, before any of their months is
//! looked at.

use crate::job::snapshot::{
    ChangeAtMonth, ConditionAtMonth, JobSnapshot, WorkState, accrue, beyond, settle_condition, spent, uses,
};
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::{JobStatusWord, RepairStage, Verdict};
use ledger::facts::{
    ChangeCost, ChangeOrder, Condition, Contract, Decision, DeclinedRepair, Forecast, Invoice, Job,
    JobStatus, Repair, StoredMaterial,
};
use ledger::kind::{ColumnOf, FactRow, NamesFact};
use ledger::totals::{
    CodeTotals, ConditionTotals, CountedParts, JobTotals, LaborTotals, WorkedDay, approved_lines, with_cost,
};
use ledger::{Books, Calendar, Entered, Id, InForce};
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month};

impl JobSnapshot {
    /// Gathers a job.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub fn gather(
        books: Books<'_>,
        calendar: &Calendar,
        job: Id,
        month: Month,
    ) -> Result<JobSnapshot, OfficeError> {
        Recorded::read(books, calendar, &BTreeSet::from([job]))?.one(job, month)
    }

    /// Gathers many jobs and gives one after the other.
    ///
    /// # Errors
    /// When the facts cannot be read, or what `take` says.
    pub(crate) fn gather_each(
        books: Books<'_>,
        calendar: &Calendar,
        jobs: impl IntoIterator<Item = Id>,
        month: Month,
        mut take: impl FnMut(JobSnapshot) -> Result<(), OfficeError>,
    ) -> Result<(), OfficeError> {
        some_at_once(jobs, |some| {
            let recorded = Recorded::read(books, calendar, some)?;
            recorded.at(some, month)?.into_iter().try_for_each(&mut take)
        })
    }
}

/// How many jobs are read together, so that a firm of many years does not fill memory.
const AT_ONCE: usize = 100;

/// Goes through jobs, some of them at a time.
pub(crate) fn some_at_once(
    jobs: impl IntoIterator<Item = Id>,
    mut take: impl FnMut(&BTreeSet<Id>) -> Result<(), OfficeError>,
) -> Result<(), OfficeError> {
    let mut jobs = jobs.into_iter();
    loop {
        let some: BTreeSet<Id> = jobs.by_ref().take(AT_ONCE).collect();
        if some.is_empty() {
            return Ok(());
        }
        take(&some)?;
    }
}

/// Facts of a kind by the one that each of them names.
struct By<T>(BTreeMap<Id, Vec<Entered<T>>>);

impl<T: FactRow> By<T> {
    fn read<V: NamesFact>(
        books: Books<'_>,
        column: ColumnOf<T, V>,
        ids: &BTreeSet<Id>,
        named: impl Fn(&T) -> Id,
    ) -> Result<By<T>, OfficeError> {
        let mut by: BTreeMap<Id, Vec<Entered<T>>> = BTreeMap::new();
        for held in books.by_any_with_reversed(column, ids)? {
            by.entry(named(&held.fact)).or_default().push(held);
        }
        Ok(By(by))
    }

    fn ids(&self) -> BTreeSet<Id> {
        self.0.values().flatten().map(|held| held.entry.id).collect()
    }
}

/// What was recorded of some jobs.
pub(crate) struct Recorded<'b> {
    books: Books<'b>,
    calendar: &'b Calendar,
    versions: BTreeMap<Id, InForce<Job>>,
    contracts: By<Contract>,
    steps: By<JobStatus>,
    forecasts: By<Forecast>,
    stored: By<StoredMaterial>,
    orders: By<ChangeOrder>,
    decisions: By<Decision>,
    costs: By<ChangeCost>,
    invoices: By<Invoice>,
    conditions: By<Condition>,
    repairs: By<Repair>,
    declined: By<DeclinedRepair>,
}

/// The sums of some jobs through a month, each to be taken out once.
struct Sums {
    money: BTreeMap<Id, JobTotals>,
    codes: BTreeMap<Id, BTreeMap<Id, CodeTotals>>,
    parts: BTreeMap<Id, CountedParts>,
    labor: BTreeMap<Id, BTreeMap<Month, LaborTotals>>,
    worked: BTreeMap<Id, Vec<WorkedDay>>,
    conditions: BTreeMap<Id, BTreeMap<Id, ConditionTotals>>,
}

impl<'b> Recorded<'b> {
    /// Reads it.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub(crate) fn read(
        books: Books<'b>,
        calendar: &'b Calendar,
        jobs: &BTreeSet<Id>,
    ) -> Result<Recorded<'b>, OfficeError> {
        let orders = By::read(books, ChangeOrder::job, jobs, |fact| fact.job)?;
        let conditions = By::read(books, Condition::job, jobs, |fact| fact.job)?;
        let (changed, found) = (orders.ids(), conditions.ids());
        let with_orders = orders.0.keys().copied().collect();
        Ok(Recorded {
            books,
            calendar,
            versions: books.job_versions(calendar, jobs)?,
            contracts: By::read(books, Contract::job, jobs, |fact| fact.job)?,
            steps: By::read(books, JobStatus::job, jobs, |fact| fact.job)?,
            forecasts: By::read(books, Forecast::job, jobs, |fact| fact.job)?,
            stored: By::read(books, StoredMaterial::job, jobs, |fact| fact.job)?,
            decisions: By::read(books, Decision::change_order, &changed, |fact| fact.change_order)?,
            costs: By::read(books, ChangeCost::change_order, &changed, |fact| fact.change_order)?,
            invoices: By::read(books, Invoice::job, &with_orders, |fact| fact.job)?,
            repairs: By::read(books, Repair::condition, &found, |fact| fact.condition)?,
            declined: By::read(books, DeclinedRepair::condition, &found, |fact| fact.condition)?,
            orders,
            conditions,
        })
    }

    /// How one of these jobs stood at the end of a month.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub(crate) fn one(&self, job: Id, month: Month) -> Result<JobSnapshot, OfficeError> {
        self.snapshot(job, month, &mut self.sums(&BTreeSet::from([job]), month)?)
    }

    /// How some of these jobs stood at the end of a month, in their order.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub(crate) fn at(&self, jobs: &BTreeSet<Id>, month: Month) -> Result<Vec<JobSnapshot>, OfficeError> {
        let mut sums = self.sums(jobs, month)?;
        jobs.iter().map(|job| self.snapshot(*job, month, &mut sums)).collect()
    }

    /// The sums of some of these jobs through a month.
    fn sums(&self, jobs: &BTreeSet<Id>, month: Month) -> Result<Sums, OfficeError> {
        let books = self.books;
        Ok(Sums {
            money: books.job_totals(jobs, month)?,
            codes: books.code_totals(jobs, month)?,
            parts: books.part_totals(jobs, month)?,
            labor: books.job_labor(jobs, month)?,
            worked: books.worked_days(jobs, month)?,
            conditions: books.condition_totals(&self.conditions.ids(), month)?,
        })
    }

    /// A job by its sums.
    fn snapshot(&self, job: Id, month: Month, sums: &mut Sums) -> Result<JobSnapshot, OfficeError> {
        let mut forecasts = BTreeMap::new();
        for held in self.live(&self.forecasts, job, month, |fact| fact.date)? {
            forecasts.insert(held.fact.code, held.fact.amount);
        }
        let mut codes = sums.codes.remove(&job).unwrap_or_default();
        // A code that the owner foresees cost on counts before anything was contracted or spent on it.
        for code in forecasts.keys() {
            codes.entry(*code).or_default();
        }
        let mut stored = BTreeMap::new();
        for held in self.live(&self.stored, job, month, |fact| fact.date)? {
            stored.insert(held.fact.code, held.fact.amount);
        }
        let (mut begun, mut ended) = (None, None);
        for held in self.live(&self.steps, job, month, |fact| fact.date)? {
            match held.fact.stage {
                JobStatusWord::Begun => begun = Some(held.fact.date),
                stage => ended = Some((stage, held.fact.date)),
            }
        }
        let mut standing = JobSnapshot {
            job,
            month,
            contract: self.live(&self.contracts, job, month, |fact| fact.date)?.pop().cloned(),
            money: sums.money.remove(&job).unwrap_or_default(),
            codes,
            parts: sums.parts.remove(&job).unwrap_or_default(),
            labor: sums.labor.remove(&job).unwrap_or_default(),
            worked: sums.worked.remove(&job).unwrap_or_default(),
            versions: self.versions.get(&job).cloned().unwrap_or_default(),
            begun,
            ended,
            forecasts,
            stored,
            changes: self.changes(job, month)?,
            conditions: Vec::new(),
        };
        let mut found = self.conditions(&standing, &mut sums.conditions)?;
        accrue(&mut standing, &found);
        for (condition, stages) in &mut found {
            settle_condition(condition, stages, &standing);
        }
        standing.conditions = found.into_iter().map(|(condition, _)| condition).collect();
        Ok(standing)
    }

    /// Of the facts that name one, those that are live at the end of a month, oldest first.
    fn live<'a, T>(
        &self,
        by: &'a By<T>,
        of: Id,
        month: Month,
        date: impl Fn(&T) -> Date,
    ) -> Result<Vec<&'a Entered<T>>, OfficeError> {
        let held = by.0.get(&of).map(Vec::as_slice).unwrap_or_default();
        Ok(self.books.live_of(self.calendar, held, month, date)?)
    }

    fn changes(&self, job: Id, month: Month) -> Result<Vec<ChangeAtMonth>, OfficeError> {
        let mut invoiced: BTreeMap<Id, Money> = BTreeMap::new();
        for bill in self.live(&self.invoices, job, month, |fact| fact.date)? {
            for line in &bill.fact.lines {
                if let Some(order) = line.change_order {
                    *invoiced.entry(order).or_default() += line.amount;
                }
            }
        }
        let mut changes = Vec::new();
        for order in self.live(&self.orders, job, month, |fact| fact.date)? {
            let id = order.entry.id;
            let decisions = self.live(&self.decisions, id, month, |fact| fact.date)?;
            let verdicts: Vec<(&str, Verdict)> =
                decisions.iter().map(|held| (held.entry.device.as_str(), held.fact.verdict)).collect();
            let contradicted = verdicts.iter().any(|(device, verdict)| {
                verdicts.iter().any(|(other, said)| other != device && said != verdict)
            });
            let decision = decisions.last().map(|held| held.fact.clone());
            let filled_in = self.live(&self.costs, id, month, |fact| fact.date)?.pop().cloned();
            changes.push(ChangeAtMonth {
                id,
                approved: approved_lines(order.fact.lines.len(), decision.as_ref()),
                decision,
                contradicted,
                invoiced: invoiced.get(&id).copied().unwrap_or_default(),
                accrued: None,
                order: with_cost(order.fact.clone(), filled_in.as_ref().map(|held| &held.fact)),
                filled_in,
            });
        }
        Ok(changes)
    }

    /// The conditions with their cost and the stages of the work on them; what they brought is settled afterwards.
    fn conditions(
        &self,
        standing: &JobSnapshot,
        sums: &mut BTreeMap<Id, BTreeMap<Id, ConditionTotals>>,
    ) -> Result<Vec<(ConditionAtMonth, Vec<RepairStage>)>, OfficeError> {
        let month = standing.month;
        let held = self.live(&self.conditions, standing.job, month, |fact| fact.date)?;
        let contract = standing.contract.as_ref().map(|held| &held.fact);
        let used = uses(contract, held.iter().map(|held| &held.fact));
        let mut conditions = Vec::with_capacity(held.len());
        for (held, used) in held.into_iter().zip(used) {
            let id = held.entry.id;
            let totals = sums.remove(&id).unwrap_or_default();
            let beyond: BTreeMap<Id, ConditionTotals> =
                totals.iter().map(|(code, totals)| (*code, beyond(totals, used))).collect();
            let steps = self.live(&self.repairs, id, month, |fact| fact.date)?;
            // What the firm's owner decided, where its repair was declined.
            let decided = self.live(&self.declined, id, month, |fact| fact.date)?;
            let condition = ConditionAtMonth {
                id,
                condition: held.fact.clone(),
                used,
                spent: beyond.values().map(spent).sum(),
                totals,
                beyond,
                approved: Money::ZERO,
                billed: Money::ZERO,
                unrecovered: Money::ZERO,
                still_to_bill: false,
                waiting: false,
                asked: false,
                declined: false,
                course: decided.last().map(|held| held.fact.course),
                stops: false,
                work: WorkState::NotBegun,
            };
            conditions.push((condition, steps.iter().map(|step| step.fact.stage).collect()));
        }
        Ok(conditions)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_jobs_are_gone_through_some_at_a_time_and_each_once() {
        let jobs: Vec<Id> = (0..250).map(|at| Id::made_of(0, at)).collect();
        let mut seen: Vec<Vec<Id>> = Vec::new();
        some_at_once(jobs.iter().copied(), |some| {
            seen.push(some.iter().copied().collect());
            Ok(())
        })
        .unwrap();
        assert_eq!(seen.iter().map(Vec::len).collect::<Vec<_>>(), [100, 100, 50]);
        let of_all: BTreeSet<Id> = seen.into_iter().flatten().collect();
        assert_eq!(of_all, jobs.into_iter().collect());
    }
}

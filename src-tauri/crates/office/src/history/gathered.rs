//! Hidden conditions gathered from every job, with their money, and put into groups.

use crate::job::snapshot::{ChangeState, ConditionAtMonth, JobSnapshot};
use desk::OfficeError;
use desk::names::Names;
use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Damaged, JobStatusWord};
use ledger::{Books, Id};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month, Qty};

/// Conditions alike in some way, with their money.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ConditionGroup {
    /// What they have in common, as a word of the ledger, a name or a month.
    pub key: String,
    /// How many conditions.
    pub conditions: usize,
    /// On how many jobs.
    pub jobs: usize,
    /// Deck sheets among them.
    pub sheets: Qty,
    /// Spent beyond the included sheets.
    pub spent: Money,
    /// Billed.
    pub billed: Money,
    /// Billed ÷ spent.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub recovery: Option<Decimal>,
    /// Unrecovered cost.
    pub unrecovered: Money,
}

/// Why a cost was not recovered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum UnrecoveredReason {
    /// The homeowner was never asked.
    NeverAsked,
    /// The homeowner declined and the work was done.
    Declined,
    /// Less was billed than it cost.
    BilledTooLittle,
}
trade::closed_list!(UnrecoveredReason, "reason why a cost was not recovered", {
    NeverAsked => "never-asked": "The homeowner was never asked",
    Declined => "declined": "Declined, and done all the same",
    BilledTooLittle => "billed-too-little": "Less was billed than it cost",
});

/// Cost that was not recovered on one condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct UnrecoveredCost {
    /// The condition's id.
    pub condition: String,
    /// The job's number.
    pub job: String,
    /// The condition's number.
    pub number: String,
    /// Where.
    pub place: String,
    /// When it was found.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Why.
    pub reason: UnrecoveredReason,
    /// How much.
    pub amount: Money,
}

/// Fewer roofs with conditions than this say little (company rule).
pub(super) const THIN_BELOW: usize = 5;

/// A condition with what the record asks of its job.
pub(super) struct JobCondition {
    pub(super) job: Id,
    pub(super) number: String,
    pub(super) age: Option<i64>,
    pub(super) crew: Option<String>,
    pub(super) condition: ConditionAtMonth,
    pub(super) reason: UnrecoveredReason,
}

/// A job on which work began.
pub(super) struct Opened {
    pub(super) job: Id,
    pub(super) begun: Date,
}

/// All that the record is made of.
pub(super) struct Gathered {
    pub(super) names: Names,
    pub(super) years: BTreeSet<i16>,
    pub(super) roofs: Vec<Opened>,
    pub(super) all: Vec<JobCondition>,
}

pub(super) fn gather(books: Books<'_>, year: Option<i16>, through: Month) -> Result<Gathered, OfficeError> {
    let names = Names::read(books)?;
    let calendar = books.calendar()?;
    let (mut years, mut roofs, mut all) = (BTreeSet::new(), Vec::new(), Vec::new());
    JobSnapshot::gather_each(books, &calendar, names.jobs.keys().copied(), through, |standing| {
        let id = standing.job;
        let Some(job) = names.jobs.get(&id) else { return Ok(()) };
        let begun = standing.begun.filter(|date| year.is_none_or(|year| date.year() == year));
        let canceled = matches!(standing.ended, Some((JobStatusWord::Canceled, _)));
        roofs.extend(begun.filter(|_| !canceled).map(|begun| Opened { job: id, begun }));
        let versions = standing.versions;
        for condition in standing.conditions {
            years.insert(condition.condition.date.year());
            if year.is_some_and(|year| condition.condition.date.year() != year) {
                continue;
            }
            let declined = standing.changes.iter().any(|change| {
                change.state() == ChangeState::Declined
                    && change.order.lines.iter().any(|line| line.condition == Some(condition.id))
            });
            let reason = match (condition.asked, declined) {
                (false, _) => UnrecoveredReason::NeverAsked,
                (true, true) => UnrecoveredReason::Declined,
                (true, false) => UnrecoveredReason::BilledTooLittle,
            };
            // Found by the crew that the job had that day.
            let then = versions.on(condition.condition.date).and_then(|job| job.fact.crew);
            let crew = then.map(|crew| names.crew(crew));
            let number = job.number.clone();
            all.push(JobCondition { job: id, number, age: job.roof_age_years, crew, condition, reason });
        }
        Ok(())
    })?;
    Ok(Gathered { names, years, roofs, all })
}

/// What conditions are gathered by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum By {
    /// Not at all: every condition.
    All,
    /// By place on the roof.
    Place,
    /// By cause.
    Cause,
    /// By age of the old roof.
    Age,
    /// By crew.
    Crew,
    /// By the month in which it was found.
    Month,
    /// Each by itself.
    Condition,
}

impl By {
    /// The group in which a condition stands.
    pub(super) fn key(self, found: &JobCondition) -> String {
        let condition = &found.condition.condition;
        match self {
            By::All => String::new(),
            By::Place => condition.place.as_str().to_owned(),
            By::Cause => condition.cause.as_str().to_owned(),
            By::Age => found.age.map(|age| trade::age_band(age).to_string()).unwrap_or_default(),
            By::Crew => found.crew.clone().unwrap_or_default(),
            By::Month => Month::of(condition.date).to_string(),
            By::Condition => found.condition.id.to_string(),
        }
    }
}

pub(super) fn group<'a>(key: String, all_found: impl Iterator<Item = &'a JobCondition>) -> ConditionGroup {
    let mut of = ConditionGroup { key, ..ConditionGroup::default() };
    let mut jobs = BTreeSet::new();
    for found in all_found {
        of.conditions += 1;
        jobs.insert(found.job);
        let condition = &found.condition;
        if condition.condition.damaged == Damaged::DeckSheet
            && condition.condition.counted_in == CountedIn::Sheet
        {
            of.sheets += condition.condition.count;
        }
        of.spent += condition.spent;
        of.billed += condition.billed;
        of.unrecovered += condition.unrecovered;
    }
    of.jobs = jobs.len();
    of.recovery = trade::recovery(of.billed, of.spent);
    of
}

/// The groups, the most conditions first.
pub(super) fn grouped(all: &[JobCondition], by: By) -> Vec<ConditionGroup> {
    let mut by_key: BTreeMap<String, Vec<&JobCondition>> = BTreeMap::new();
    for found in all {
        by_key.entry(by.key(found)).or_default().push(found);
    }
    let mut groups: Vec<ConditionGroup> =
        by_key.into_iter().map(|(key, all_found)| group(key, all_found.into_iter())).collect();
    groups
        .sort_by(|left, right| right.conditions.cmp(&left.conditions).then_with(|| left.key.cmp(&right.key)));
    groups
}

pub(super) fn in_order(mut groups: Vec<ConditionGroup>) -> Vec<ConditionGroup> {
    groups.sort_by(|left, right| left.key.cmp(&right.key));
    groups
}

pub(super) fn unrecovered(all: &[JobCondition]) -> Vec<UnrecoveredCost> {
    let mut unrecovered: Vec<UnrecoveredCost> = all
        .iter()
        .filter(|found| found.condition.unrecovered > Money::ZERO)
        .map(|found| UnrecoveredCost {
            condition: found.condition.id.to_string(),
            job: found.number.clone(),
            number: found.condition.condition.number.clone(),
            place: found.condition.condition.place.as_str().to_owned(),
            date: found.condition.condition.date,
            reason: found.reason,
            amount: found.condition.unrecovered,
        })
        .collect();
    unrecovered.sort_by(|left, right| {
        right.amount.cmp(&left.amount).then_with(|| left.condition.cmp(&right.condition))
    });
    unrecovered
}

//! What somebody recorded today and may take back, in words: it stays in reach all day.

use crate::phrase::damage;
use desk::names::Names;
use desk::people::recorded_on;
use desk::{Act, Desk, OfficeError};
use jiff::Span;
use jiff::civil::Date;
use ledger::facts::{
    ChangeOrder, Condition, Decision, Inspection, Installed, JobStatus, Repair, TimeEntry, UnitsDone,
    WorkCheck,
};
use ledger::kind::FactRow;
use ledger::{Books, Entered, Entry, Fact, Id};
use serde::Serialize;
use trade::shown::in_sentence;

/// One entry of today.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OwnEntry {
    /// The fact's id.
    pub id: String,
    /// What it says.
    pub says: String,
    /// When it was recorded: UTC.
    pub recorded_at: String,
}

/// What a person on site records: how far its own day may lie from the day on which it is typed.
const TYPED_WITHIN_DAYS: i32 = 31;

/// What whoever sits here recorded today, the newest first. While nobody does, nothing is anybody's own.
///
/// # Errors
/// When the facts cannot be read.
pub(crate) fn own_of_today(
    desk: &Desk,
    books: Books<'_>,
    names: &Names,
    today: Date,
) -> Result<Vec<OwnEntry>, OfficeError> {
    let Ok(person) = desk.person() else { return Ok(Vec::new()) };
    let own = Own { desk, books, names, today, person };
    let conditions = own.of(|fact: &Condition| {
        let side = fact.side.as_ref().map(|side| format!(", {side}")).unwrap_or_default();
        let what = damage(fact.count, fact.damaged, fact.counted_in);
        let place = in_sentence(fact.place.label());
        Ok(format!("Condition {} on {}: {what}, {place}{side}", fact.number, names.job_number(fact.job)))
    })?;
    let hours = own.of(|fact: &TimeEntry| {
        let (who, code) = (names.person(fact.person), names.code(fact.code));
        Ok(format!("{} h for {who} on {}: {code}", fact.hours, names.job_number(fact.job)))
    })?;
    let repairs = own.of(|fact: &Repair| {
        Ok(format!("{}: {}", own.condition(fact.condition)?, in_sentence(fact.stage.label())))
    })?;
    let decisions = own.of(|fact: &Decision| {
        Ok(format!(
            "{}: {} by {}",
            own.change(fact.change_order)?,
            in_sentence(fact.verdict.label()),
            fact.decided_by
        ))
    })?;
    let units = own.of(|fact: &UnitsDone| {
        Ok(format!("{} done on {}: {}", fact.quantity, names.job_number(fact.job), names.code(fact.code)))
    })?;
    let statuses = own.of(|fact: &JobStatus| {
        Ok(format!("{}: {}", names.job_number(fact.job), in_sentence(fact.stage.label())))
    })?;
    let checks = own.of(|fact: &WorkCheck| {
        let Some(Fact::CheckPoint(point)) = books.fact(fact.point)?.map(|held| held.fact) else {
            return Ok(format!("A check on {}", names.job_number(fact.job)));
        };
        Ok(format!("{} on {}: {}", point.words, names.job_number(fact.job), in_sentence(fact.state.label())))
    })?;
    let inspections = own.of(|fact: &Inspection| {
        Ok(format!("{} on {}, seen by {}", fact.title, names.job_number(fact.job), fact.inspector))
    })?;
    let built_in = own.of(|fact: &Installed| {
        Ok(format!("Built in on {}: {}", names.job_number(fact.job), fact.description))
    })?;
    let mut all: Vec<OwnEntry> =
        [conditions, hours, repairs, decisions, units, statuses, checks, inspections, built_in]
            .into_iter()
            .flatten()
            .collect();
    all.sort_by(|left, right| (&right.recorded_at, &right.id).cmp(&(&left.recorded_at, &left.id)));
    Ok(all)
}

/// Who asks, and where it is read.
struct Own<'a> {
    desk: &'a Desk,
    books: Books<'a>,
    names: &'a Names,
    today: Date,
    person: Id,
}

impl Own<'_> {
    /// Their live facts of a kind that were recorded today, where the policy lets them take such a one back.
    fn of<T: FactRow>(
        &self,
        says: impl Fn(&T) -> Result<String, OfficeError>,
    ) -> Result<Vec<OwnEntry>, OfficeError> {
        if !self.desk.may(Act::TakeBack { kind: T::KIND, own_of_today: true })? {
            return Ok(Vec::new());
        }
        let around = Span::new().days(TYPED_WITHIN_DAYS);
        let (first, last) = (self.today.saturating_sub(around), self.today.saturating_add(around));
        let near = self.books.dated_between::<T>(first, last)?;
        let own = near.iter().filter(|held| self.is_own(&held.entry));
        own.map(|held: &Entered<T>| {
            Ok(OwnEntry {
                id: held.entry.id.to_string(),
                says: says(&held.fact)?,
                recorded_at: held.entry.recorded_at.clone(),
            })
        })
        .collect()
    }

    fn is_own(&self, entry: &Entry) -> bool {
        entry.person == self.person && recorded_on(&entry.recorded_at, &self.desk.clock) == self.today
    }

    fn condition(&self, id: Id) -> Result<String, OfficeError> {
        Ok(match self.books.fact(id)?.map(|held| held.fact) {
            Some(Fact::Condition(Condition { number, job, .. })) => {
                format!("Condition {number} on {}", self.names.job_number(job))
            }
            _ => "A condition".to_owned(),
        })
    }

    fn change(&self, id: Id) -> Result<String, OfficeError> {
        Ok(match self.books.fact(id)?.map(|held| held.fact) {
            Some(Fact::ChangeOrder(ChangeOrder { number, job, .. })) => {
                format!("Change order {number} on {}", self.names.job_number(job))
            }
            _ => "A change order".to_owned(),
        })
    }
}

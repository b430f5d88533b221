//! Which version of a dated setting holds on a day.
//!
//! A setting counts from its own day on. One that comes in after a month was closed, and is dated in it, counts from
//! the first day of the open month: what is closed was worked out without it. A reversal takes a setting back from the
//! day on which it began; where a month that it counted in is closed, from the first day of the open month. So no
//! setting, whenever it is recorded, moves a figure of a day before it or of a closed month.
//!
//! A month that was handed off stands in the bookkeeper's books, closed or not: a setting that was not there yet counts
//! from the month after it, and so does the taking back of one that was. What was there, the hand-off's marks say.

use crate::calendar::Calendar;
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::{Crew, Fact, Firm, Job, Person};
use crate::id::Id;
use crate::kind::FactRow;
use crate::live::live;
use crate::read::{Books, Entered, Entry, VERSIONS_OF, Which, among};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use trade::{Month, WorkWeeks};

/// The versions of one setting.
#[derive(Clone, Debug)]
pub struct InForce<T> {
    /// The version that holds where no other does: the first.
    first: Option<Entered<T>>,
    /// By their own day, of one day by when they were recorded.
    versions: Vec<Version<T>>,
}

#[derive(Clone, Debug)]
struct Version<T> {
    held: Entered<T>,
    from: Date,
    until: Option<Date>,
}

impl<T> Default for InForce<T> {
    fn default() -> InForce<T> {
        InForce { first: None, versions: Vec::new() }
    }
}

impl<T> InForce<T> {
    /// The version that holds on a day: of those that count, the one with the latest day of its own; of one day, the
    /// one recorded last. On days before all of them, the first version ever recorded.
    #[must_use]
    pub fn on(&self, day: Date) -> Option<&Entered<T>> {
        let counts =
            |version: &&Version<T>| version.from <= day && version.until.is_none_or(|until| day < until);
        self.versions.iter().rev().find(counts).map(|version| &version.held).or(self.first.as_ref())
    }

    /// The days on which another version may begin to hold, in order.
    #[must_use]
    pub fn turns(&self) -> Vec<Date> {
        let mut days: Vec<Date> = self
            .versions
            .iter()
            .flat_map(|version| std::iter::once(version.from).chain(version.until))
            .collect();
        days.sort_unstable();
        days.dedup();
        days
    }

    /// Adds a version with the day it is dated on. One that was reversed before it ever counted is left out.
    fn add(
        &mut self,
        books: Books<'_>,
        calendar: &Calendar,
        handed: &Handed,
        held: Entered<T>,
        date: Date,
    ) -> Result<(), LedgerError> {
        let span = books.span(calendar, &held, date)?;
        let first = |month: Month| month.first_day();
        let from = handed.counts_from(calendar, &held.entry, date);
        let mut until = span.until.map(first);
        if let (Some(day), Some(by)) = (until, held.reversed_by)
            && let Some(reversal) = books.fact(by)?
            && let Some(month) = handed.floor(calendar, &reversal.entry)
        {
            until = Some(day.max(first(month)));
        }
        if until.is_none_or(|until| from < until) {
            self.versions.push(Version { held, from, until });
        }
        Ok(())
    }

    fn sort(&mut self, date: impl Fn(&T) -> Date) {
        self.versions.sort_by_cached_key(|version| {
            let entry = &version.held.entry;
            (date(&version.held.fact), entry.recorded_at.clone(), entry.id)
        });
    }
}

/// The months that were handed off, each with who said so and how far every device's facts were in.
#[derive(Debug, Default)]
struct Handed(Vec<HandedMonth>);

#[derive(Debug)]
struct HandedMonth {
    month: Month,
    device: String,
    device_seq: i64,
    marks: BTreeMap<String, i64>,
}

impl Handed {
    /// Read without what was handed: that may be long, and settings are asked for often.
    fn read(books: Books<'_>) -> Result<Handed, LedgerError> {
        let mut made = books.conn.prepare_cached(&format!(
            "SELECT f.id, f.month, e.device, e.device_seq FROM hand_off f CROSS JOIN entry e ON e.id = f.id WHERE {}",
            live("f.id")
        ))?;
        let mut marks =
            books.conn.prepare_cached("SELECT device, through_seq FROM hand_off_device WHERE fact = ?1")?;
        let mut handed = Handed::default();
        let mut rows = made.query([])?;
        while let Some(row) = rows.next()? {
            let id = Id::load(row.get_ref(0)?).map_err(damaged("hand_off.id"))?;
            let marks = marks.query_map([id.bytes()], |row| Ok((row.get(0)?, row.get(1)?)))?;
            handed.0.push(HandedMonth {
                month: Month::load(row.get_ref(1)?).map_err(damaged("hand_off.month"))?,
                device: row.get(2)?,
                device_seq: row.get(3)?,
                marks: marks.collect::<Result<_, _>>()?,
            });
        }
        Ok(handed)
    }

    /// The day from which a setting with this day of its own counts: neither in a month that was closed before it came
    /// in nor in one that was handed off without it.
    fn counts_from(&self, calendar: &Calendar, entry: &Entry, date: Date) -> Date {
        let open = calendar.booked(date, &entry.device, entry.device_seq);
        let floor = self.floor(calendar, entry).map_or(open, |floor| floor.max(open));
        date.max(floor.first_day())
    }

    /// The first month that no hand-off was made of without this entry; none where none was. Where the month was closed
    /// with the entry and without knowing of the hand-off, as two devices may do, the close holds.
    fn floor(&self, calendar: &Calendar, entry: &Entry) -> Option<Month> {
        let without = self.0.iter().filter(|made| {
            made.marks.get(&entry.device).is_none_or(|mark| *mark < entry.device_seq)
                && (!calendar.closed_with(made.month, &entry.device, entry.device_seq)
                    || calendar.closed_with(made.month, &made.device, made.device_seq))
        });
        without.map(|made| made.month.next()).max()
    }
}

/// The versions of each record of a kind, by the id of its first.
fn by_first<T: FactRow + Clone>(
    books: Books<'_>,
    calendar: &Calendar,
    held: Vec<Entered<T>>,
    revises: impl Fn(&T) -> Option<Id>,
    date: impl Fn(&T) -> Date,
) -> Result<BTreeMap<Id, InForce<T>>, LedgerError> {
    let handed = Handed::read(books)?;
    let mut all: BTreeMap<Id, InForce<T>> = BTreeMap::new();
    for held in held {
        let Some(first) = revises(&held.fact) else {
            // The first version holds from the beginning, whatever day it bears.
            let first = held.entry.id;
            all.entry(first).or_default().first = Some(held);
            continue;
        };
        let day = date(&held.fact);
        all.entry(first).or_default().add(books, calendar, &handed, held, day)?;
    }
    all.values_mut().for_each(|versions| versions.sort(&date));
    Ok(all)
}

impl Books<'_> {
    /// The firm's settings.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn firms(&self, calendar: &Calendar) -> Result<InForce<Firm>, LedgerError> {
        let mut firms = InForce::default();
        let handed = Handed::read(*self)?;
        let held = self.select::<Firm>(Which::All, "1", &[])?;
        firms.first = held.iter().min_by_key(|held| begun(held)).cloned();
        for held in held {
            let date = held.fact.date;
            firms.add(*self, calendar, &handed, held, date)?;
        }
        firms.sort(|firm| firm.date);
        Ok(firms)
    }

    /// The settings with which the books were begun: every day before the next ones rests on them.
    ///
    /// # Errors
    /// When they cannot be read.
    pub(crate) fn first_firm(&self) -> Result<Option<Id>, LedgerError> {
        let held = self.select::<Firm>(Which::All, "1", &[])?;
        Ok(held.iter().min_by_key(|held| begun(held)).map(|held| held.entry.id))
    }

    /// The day from which a later version of a setting counts; none where this is no such version, or where its own
    /// day is that day.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub fn counts_later(&self, fact: Id) -> Result<Option<Date>, LedgerError> {
        let Some(held) = self.fact(fact)? else { return Ok(None) };
        let own = match &held.fact {
            Fact::Firm(firm) if self.first_firm()? != Some(fact) => Some(firm.date),
            Fact::Crew(crew) if crew.revises.is_some() => crew.date,
            Fact::Person(person) if person.revises.is_some() => person.date,
            Fact::Job(job) if job.revises.is_some() => Some(job.date),
            _ => None,
        };
        let Some(own) = own else { return Ok(None) };
        let from = Handed::read(*self)?.counts_from(&self.calendar()?, &held.entry, own);
        Ok(Some(from).filter(|from| *from > own))
    }

    /// The firm's work weeks, as its settings of each day have them.
    ///
    /// # Errors
    /// When the settings cannot be read.
    pub fn work_weeks(&self, calendar: &Calendar) -> Result<WorkWeeks, LedgerError> {
        Ok(work_weeks(&self.firms(calendar)?))
    }

    /// Every crew's versions, by the id of the first.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn crews(&self, calendar: &Calendar) -> Result<BTreeMap<Id, InForce<Crew>>, LedgerError> {
        let held = self.select::<Crew>(Which::All, "1", &[])?;
        by_first(*self, calendar, held, |crew| crew.revises, |crew| crew.date.unwrap_or(Date::MIN))
    }

    /// Every person's versions, by the id of the first.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn people(&self, calendar: &Calendar) -> Result<BTreeMap<Id, InForce<Person>>, LedgerError> {
        let held = self.select::<Person>(Which::All, "1", &[])?;
        by_first(*self, calendar, held, |person| person.revises, |person| person.date.unwrap_or(Date::MIN))
    }

    /// The versions of each of some jobs, by the id of the first.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn job_versions(
        &self,
        calendar: &Calendar,
        jobs: &BTreeSet<Id>,
    ) -> Result<BTreeMap<Id, InForce<Job>>, LedgerError> {
        let held = self.select::<Job>(Which::All, VERSIONS_OF, &[&among(jobs)])?;
        by_first(*self, calendar, held, |job| job.revises, |job| job.date)
    }
}

/// The order on the first device, on which the books were begun: no clock has a say in it.
fn begun<T>(held: &Entered<T>) -> (usize, String, i64) {
    let entry = &held.entry;
    (entry.device.len(), entry.device.clone(), entry.device_seq)
}

/// The work weeks that settings make.
pub(crate) fn work_weeks(firms: &InForce<Firm>) -> WorkWeeks {
    let begins =
        |day: Date| firms.on(day).map_or(jiff::civil::Weekday::Monday, |firm| firm.fact.week_begins.civil());
    let changes: Vec<(Date, jiff::civil::Weekday)> =
        firms.turns().into_iter().map(|day| (day, begins(day))).collect();
    WorkWeeks::new(begins(Date::MIN), &changes)
}

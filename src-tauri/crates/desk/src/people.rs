//! Who may sit at the desk, and what a face must know of them: people, the firm's name, who recorded a fact.

use crate::clock::Clock;
use crate::desk::Desk;
use crate::device;
use crate::error::OfficeError;
use crate::names::Names;
use crate::policy::at_device;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use ledger::Id;
use ledger::closed_lists::{Language, Role};
use ledger::facts::Firm;
use serde::Serialize;

/// Somebody who may sit at the desk.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct DeskPerson {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// What they do at the firm, and no more than this device may hold.
    pub role: Role,
    /// The crew they usually work with.
    pub crew: Option<String>,
    /// In what they read the site view.
    pub language: Language,
}

/// A job's name, without a figure: enough to choose it by.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobName {
    /// Number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// For whom.
    pub customer: String,
}

/// Where a fact comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recording {
    /// Its kind.
    pub kind: String,
    /// Who recorded it.
    pub person: Id,
    /// The day, on the clock of this desk.
    pub on: Date,
}

/// Everybody who has not left, the owners first.
///
/// # Errors
/// When they cannot be read.
pub fn people(desk: &Desk) -> Result<Vec<DeskPerson>, OfficeError> {
    desk.books().in_one_read(|books| {
        let people = books.current(|person: &ledger::facts::Person| person.revises)?;
        let crews = books.current(|crew: &ledger::facts::Crew| crew.revises)?;
        let device = device::role(books)?;
        let here = people.into_iter().filter(|(_, person)| person.left_on.is_none());
        let mut people: Vec<DeskPerson> = here
            .map(|(id, person)| DeskPerson {
                id: id.to_string(),
                name: person.name,
                role: at_device(person.role, device),
                crew: person.crew.and_then(|crew| crews.get(&crew)).map(|crew| crew.name.clone()),
                language: person.language.unwrap_or(Language::English),
            })
            .collect();
        people.sort_by(|left, right| {
            (left.role != Role::Owner, &left.name).cmp(&(right.role != Role::Owner, &right.name))
        });
        Ok(people)
    })
}

/// The firm's name; absent while there is no firm in the file.
///
/// # Errors
/// When it cannot be read.
pub fn firm_name(desk: &Desk) -> Result<Option<String>, OfficeError> {
    let mut firms: Vec<Firm> = desk.books().all::<Firm>()?.into_iter().map(|held| held.fact).collect();
    firms.sort_by_key(|firm| firm.date);
    Ok(firms.pop().map(|firm| firm.name))
}

/// Every job's number and name, the newest first.
///
/// # Errors
/// When they cannot be read.
pub fn job_names(desk: &Desk) -> Result<Vec<JobName>, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let mut jobs: Vec<JobName> = names
            .jobs
            .values()
            .map(|job| JobName {
                number: job.number.clone(),
                title: job.title.clone(),
                customer: names.customer(job.customer),
            })
            .collect();
        jobs.sort_by(|left, right| right.number.cmp(&left.number));
        Ok(jobs)
    })
}

/// Where a fact comes from.
///
/// # Errors
/// `not-found` when there is no such fact.
pub fn recording(desk: &Desk, id: Id) -> Result<Recording, OfficeError> {
    let held = desk.books().fact(id)?.ok_or_else(|| {
        OfficeError::not_found("There is no such fact.", "Open the page again: it shows what is there now.")
    })?;
    Ok(Recording {
        kind: held.entry.kind,
        person: held.entry.person,
        on: recorded_on(&held.entry.recorded_at, &desk.clock),
    })
}

/// The day of a moment where this desk stands; a moment that cannot be read is no day of anyone's.
#[must_use]
pub fn recorded_on(recorded_at: &str, clock: &Clock) -> Date {
    let zone = match clock {
        Clock::System => ZonedDateTime::now().time_zone().clone(),
        Clock::Fixed { .. } => TimeZone::UTC,
    };
    recorded_at.parse::<Timestamp>().map_or(Date::default(), |moment| moment.to_zoned_datetime(zone).date())
}

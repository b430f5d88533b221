//! Work on the roof that two devices wrote down without knowing of each other.

use super::asked::Question;
use super::side::{Writers, alike, devices};
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::{JobStatusWord, QuestionKind};
use ledger::facts::{Condition, JobStatus, Repair, TimeEntry, WorkCheck};
use ledger::{Books, Entered, Entry, Id};
use std::collections::{BTreeMap, BTreeSet};
use trade::shown::day;
use trade::{Month, Qty};

pub(super) fn questions(
    books: Books<'_>,
    writers: &Writers<'_>,
    month: Month,
) -> Result<Vec<Question>, OfficeError> {
    let mut found = repairs(books, writers)?;
    found.extend(hours(books, writers, month)?);
    found.extend(endings(books, writers, month)?);
    found.extend(checks(books, writers)?);
    Ok(found)
}

fn repairs(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    for ((condition, stage), held) in
        alike(books.all::<Repair>()?, |held| Some((held.fact.condition, held.fact.stage)))
    {
        let Some(ledger::Fact::Condition(about)) = books.fact(condition)?.map(|held| held.fact) else {
            continue;
        };
        let job = writers.names.job_number(about.job);
        let text = format!(
            "The repair of condition {} of job {job} was recorded as {stage} {} times.",
            about.number,
            held.len()
        );
        let sides = held.into_iter().map(|held| {
            let says = format!("{} on {}", held.fact.stage, day(held.fact.date));
            (held.entry, says)
        });
        let remedy = "Reverse the one that was entered twice, or answer that both stand.";
        found.push(writers.question(QuestionKind::Repair, Some(about.job), text, remedy, sides));
    }
    Ok(found)
}

/// Hours of one person and day from several devices: a day on two roofs, or one day written down twice.
fn hours(books: Books<'_>, writers: &Writers<'_>, month: Month) -> Result<Vec<Question>, OfficeError> {
    let booked = books.booked_in::<TimeEntry>(month)?;
    let mut days: BTreeMap<Id, BTreeSet<Date>> = BTreeMap::new();
    for booked in &booked {
        days.entry(booked.fact.person).or_default().insert(booked.fact.date);
    }
    let mut found = Vec::new();
    for (person, days) in days {
        let (Some(first), Some(last)) = (days.first(), days.last()) else { continue };
        let of_days = |held: &Entered<TimeEntry>| {
            let day = held.fact.date;
            days.contains(&day).then_some(day)
        };
        for (day, held) in alike(books.by_between(TimeEntry::person, person, (*first, *last))?, of_days) {
            let all: Qty = held.iter().map(|held| held.fact.hours).fold(Qty::ZERO, |sum, hours| sum + hours);
            let text = format!(
                "{} has {all} hours on {day} from {} devices.",
                writers.names.person(person),
                devices(&held).len()
            );
            let sides = held.into_iter().map(|held| {
                let (job, code) =
                    (writers.names.job_number(held.fact.job), writers.names.code(held.fact.code));
                let says = format!("{} hours on job {job}, {code}", held.fact.hours);
                (held.entry, says)
            });
            let remedy = "Reverse the hours that were written down twice, or answer that all stand.";
            found.push(writers.question(QuestionKind::Hours, None, text, remedy, sides));
        }
    }
    Ok(found)
}

/// A job that two devices began or ended, and one that ended here while something was found or worked there.
fn endings(books: Books<'_>, writers: &Writers<'_>, month: Month) -> Result<Vec<Question>, OfficeError> {
    let remedy = "Reverse the step that is wrong, or answer that all stand.";
    let mut found = Vec::new();
    let is_end = |stage: JobStatusWord| stage != JobStatusWord::Begun;
    let all = books.all::<JobStatus>()?;
    for ((job, end), held) in alike(all.clone(), |held| Some((held.fact.job, is_end(held.fact.stage)))) {
        let number = writers.names.job_number(job);
        let what = if end { "ended" } else { "begun" };
        let text = format!("Job {number} was {what} on {} devices.", devices(&held).len());
        let sides = held.into_iter().map(|held| {
            let says = format!("{} on {}", held.fact.stage, day(held.fact.date));
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Finished, Some(job), text, remedy, sides));
    }
    let mut later = after(books, month)?;
    for end in all.into_iter().filter(|held| is_end(held.fact.stage)) {
        let Some(work) = later.remove(&end.fact.job) else { continue };
        let is_elsewhere =
            |(on, entry, _): &(Date, Entry, String)| *on > end.fact.date && entry.device != end.entry.device;
        let work: Vec<_> = work.into_iter().filter(is_elsewhere).collect();
        if work.is_empty() {
            continue;
        }
        let number = writers.names.job_number(end.fact.job);
        let text = format!(
            "Job {number} was {} on {}, and another device goes on with it.",
            end.fact.stage,
            day(end.fact.date)
        );
        let ended = (end.entry, format!("{} on {}", end.fact.stage, day(end.fact.date)));
        let sides = std::iter::once(ended).chain(work.into_iter().map(|(_, entry, says)| (entry, says)));
        found.push(writers.question(QuestionKind::Finished, Some(end.fact.job), text, remedy, sides));
    }
    Ok(found)
}

/// What was found, and in this month worked, by job.
type Later = BTreeMap<Id, Vec<(Date, Entry, String)>>;

fn after(books: Books<'_>, month: Month) -> Result<Later, OfficeError> {
    let mut later = Later::new();
    for held in books.all::<Condition>()? {
        let says = format!("condition {} found on {}", held.fact.number, day(held.fact.date));
        later.entry(held.fact.job).or_default().push((held.fact.date, held.entry, says));
    }
    for booked in books.booked_in::<TimeEntry>(month)? {
        if booked.sign > 0 {
            let says = format!("{} hours on {}", booked.fact.hours, day(booked.fact.date));
            later.entry(booked.fact.job).or_default().push((booked.fact.date, booked.entry, says));
        }
    }
    Ok(later)
}

/// Two devices looked at one point on one day and say otherwise. Of different days, the later look counts.
fn checks(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    let same = |held: &Entered<WorkCheck>| Some((held.fact.job, held.fact.point, held.fact.date));
    for ((job, point, on), held) in alike(books.all::<WorkCheck>()?, same) {
        let first = held.first().map(|held| held.fact.state);
        if held.iter().all(|held| Some(held.fact.state) == first) {
            continue;
        }
        let words =
            books.newest::<ledger::facts::CheckPoint>(point)?.map(|point| point.words).unwrap_or_default();
        let text = format!(
            "“{words}” on job {} was seen differently on {}.",
            writers.names.job_number(job),
            day(on)
        );
        let sides = held.into_iter().map(|held| {
            let says = format!(
                "{}, by {}",
                trade::shown::in_sentence(held.fact.state.label()),
                writers.names.person(held.fact.person)
            );
            (held.entry, says)
        });
        let remedy = "Look again and record how it stands, and reverse the one that was wrong.";
        found.push(writers.question(QuestionKind::Checks, Some(job), text, remedy, sides));
    }
    Ok(found)
}

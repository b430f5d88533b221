//! Planning hours: known by person, day, job and code. The same hours are there already; other hours are asked about.

use crate::choices::OtherHours;
use crate::known::Thing;
use crate::planner::{Duplicate, Planner};
use crate::problem::{About, Answer, Question, on_lines};
use crate::rows::{DAY, HoursRow};
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Id;
use ledger::facts::TimeEntry;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use trade::Qty;
use trade::shown::day;

/// A row with its names found.
#[derive(Clone, Copy)]
struct Named {
    person: Id,
    job: Id,
    code: Id,
    crew: Option<Id>,
}

/// Where hours stand already.
#[derive(Clone, Copy)]
enum Stands {
    OnLine(u64),
    Recorded(Id),
}

/// The hours of one person that stand so far, recorded or on earlier lines.
#[derive(Default)]
struct HoursSoFar {
    by_work: HashMap<(Date, Id, Id), Vec<(Qty, Stands)>>,
    by_day: HashMap<Date, Qty>,
}

impl HoursSoFar {
    fn add(&mut self, date: Date, job: Id, code: Id, hours: Qty, stands: Stands) {
        self.by_work.entry((date, job, code)).or_default().push((hours, stands));
        *self.by_day.entry(date).or_default() += hours;
    }

    /// What the ledger holds of a person on some days.
    fn read(planner: &Planner<'_>, person: Id, days: &BTreeSet<Date>) -> Result<HoursSoFar, OfficeError> {
        let mut so_far = HoursSoFar::default();
        let recorded = planner.books.by(TimeEntry::person, person)?;
        for held in recorded.iter().filter(|held| days.contains(&held.fact.date)) {
            let time = &held.fact;
            so_far.add(time.date, time.job, time.code, time.hours, Stands::Recorded(held.entry.id));
        }
        Ok(so_far)
    }
}

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[HoursRow]) -> Result<(), OfficeError> {
    let mut named: Vec<Option<Named>> = Vec::with_capacity(rows.len());
    let mut by_person: BTreeMap<Id, Vec<usize>> = BTreeMap::new();
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        let found = names(planner, place, row);
        if let Some(found) = found {
            by_person.entry(found.person).or_default().push(place);
        }
        named.push(found);
    }
    let mut is_new = vec![false; rows.len()];
    let mut asked = Vec::new();
    for (person, places) in &by_person {
        let days: BTreeSet<Date> =
            places.iter().filter_map(|place| rows.get(*place)).map(|row| row.date).collect();
        let mut so_far = HoursSoFar::read(planner, *person, &days)?;
        for place in places {
            if let (Some(row), Some(Some(found))) = (rows.get(*place), named.get(*place)) {
                is_new[*place] = weigh(planner, &mut so_far, *place, row, *found, &mut asked);
            }
        }
    }
    for ((row, found), _) in rows.iter().zip(&named).zip(&is_new).filter(|(_, is_new)| **is_new) {
        let Some(found) = found else { continue };
        planner.record(TimeEntry {
            date: row.date,
            person: found.person,
            job: found.job,
            code: found.code,
            hours: row.hours,
            crew: found.crew,
            caused_overtime: false,
            condition: None,
        });
    }
    asked.sort_unstable();
    planner.ask(question(asked));
    Ok(())
}

fn names(planner: &mut Planner<'_>, place: usize, row: &HoursRow) -> Option<Named> {
    let person = planner.look(Thing::Person, place, row.line, "person", &row.person);
    let job = planner.look(Thing::Job, place, row.line, "job", &row.job);
    let code = planner.look(Thing::Code, place, row.line, "code", &row.code);
    let crew = planner.look_if(Thing::Crew, place, row.line, "crew", row.crew.as_deref());
    if row.crew.is_some() && crew.is_none() {
        return None;
    }
    Some(Named { person: person?, job: job?, code: code?, crew })
}

/// Whether a row is new; says what it is otherwise.
fn weigh(
    planner: &mut Planner<'_>,
    so_far: &mut HoursSoFar,
    place: usize,
    row: &HoursRow,
    found: Named,
    asked: &mut Vec<u64>,
) -> bool {
    let key = (row.date, found.job, found.code);
    let there: &[(Qty, Stands)] = so_far.by_work.get(&key).map(Vec::as_slice).unwrap_or_default();
    if let Some((_, stands)) = there.iter().find(|(hours, _)| *hours == row.hours) {
        let what =
            format!("{} h of {} on {}, {} {}", row.hours, row.person, day(row.date), row.job, row.code);
        planner.pass_over(&[place], same(row.line, &what, *stands));
        return false;
    }
    if let Some((other, stands)) = there.first() {
        match planner.parsed.choices.other_hours {
            None => {
                planner.hold(place);
                asked.push(row.line);
                return false;
            }
            Some(OtherHours::LeaveOut) => {
                let message = format!(
                    "{} h of {} on {}, {} {} are left out: {other} h stand there already.",
                    row.hours,
                    row.person,
                    day(row.date),
                    row.job,
                    row.code
                );
                let duplicate = Duplicate { message, ..same(row.line, "", *stands) };
                planner.pass_over(&[place], duplicate);
                return false;
            }
            Some(OtherHours::Add) => {}
        }
    }
    let hours = so_far.by_day.get(&row.date).copied().unwrap_or_default() + row.hours;
    if hours > DAY {
        let message =
            format!("With these hours, {} would have {hours} hours on {}.", row.person, day(row.date));
        planner.refuse(place, row.line, "hours", message, "Check the day, the person and the hours.");
        return false;
    }
    so_far.add(row.date, found.job, found.code, row.hours, Stands::OnLine(row.line));
    true
}

fn same(line: u64, what: &str, stands: Stands) -> Duplicate {
    let (same_as_line, same_as, message) = match stands {
        Stands::OnLine(other) => (Some(other), None, format!("{what} is on line {other} already.")),
        Stands::Recorded(id) => (None, Some(id), format!("{what} is recorded already.")),
    };
    Duplicate { lines: vec![line], same_as_line, same_as, message }
}

fn question(lines: Vec<u64>) -> Question {
    Question {
        about: About::OtherHours,
        field: None,
        column: None,
        message: format!(
            "The same person, day, job and code already have other hours than on {}. Were these worked as well?",
            on_lines(&lines)
        ),
        answers: vec![
            Answer::new("add", "They were worked as well, and are recorded beside the others."),
            Answer::new("leave-out", "They are not recorded. To replace hours, reverse the others first."),
        ],
        lines,
    }
}

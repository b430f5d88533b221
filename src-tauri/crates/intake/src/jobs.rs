//! Planning jobs: known by their number.

use crate::known::{Found, Thing, fold};
use crate::planner::{Duplicate, Planner};
use crate::rows::JobRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Id;
use ledger::facts::{Job, Schedule};
use std::collections::HashMap;

/// What tells two jobs of one number apart.
struct Details<'a> {
    customer: Id,
    title: &'a str,
    site: &'a str,
    date: Date,
    crew: Option<Id>,
}

/// The first thing in which they differ, in words.
fn difference(one: &Details<'_>, other: &Details<'_>) -> Option<&'static str> {
    if one.customer != other.customer {
        return Some("customer");
    }
    if fold(one.title) != fold(other.title) {
        return Some("title");
    }
    if fold(one.site) != fold(other.site) {
        return Some("site");
    }
    if one.date != other.date {
        return Some("date");
    }
    (one.crew != other.crew).then_some("crew")
}

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[JobRow]) -> Result<(), OfficeError> {
    let mut seen: HashMap<String, (usize, Id, Option<Id>)> = HashMap::new();
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        let customer = planner.look(Thing::Customer, place, row.line, "customer", &row.customer);
        let crew = planner.look_if(Thing::Crew, place, row.line, "crew", row.crew.as_deref());
        let Some(customer) = customer else { continue };
        if row.crew.is_some() && crew.is_none() {
            continue;
        }
        let details = Details { customer, title: &row.title, site: &row.site, date: row.date, crew };
        let number = fold(&row.number);
        if let Some((first, customer, crew)) = seen.get(&number)
            && let Some(first) = rows.get(*first)
        {
            let other = Details {
                customer: *customer,
                title: &first.title,
                site: &first.site,
                date: first.date,
                crew: *crew,
            };
            repeated(planner, place, row, first.line, difference(&details, &other));
            continue;
        }
        match planner.known.find(Thing::Job, &row.number) {
            Found::One(id) => recorded(planner, place, row, id, &details),
            Found::Several => {
                let message = format!("More than one job has the number “{}”.", row.number);
                planner.refuse(
                    place,
                    row.line,
                    "number",
                    message,
                    "Give each job a number of its own first.",
                );
            }
            Found::None => {
                let job = planner.record(Job {
                    revises: None,
                    date: row.date,
                    number: row.number.clone(),
                    title: row.title.clone(),
                    customer,
                    site: row.site.clone(),
                    state: None,
                    crew,
                    roof_age_years: None,
                    roof_state: None,
                });
                if let Some(begins) = row.begins {
                    let crew_days = row.crew_days;
                    let plan =
                        Schedule { date: row.date, job, begins, ends: None, note: None, crew, crew_days };
                    planner.record(plan);
                }
            }
        }
        seen.insert(number, (place, customer, crew));
    }
    Ok(())
}

fn repeated(planner: &mut Planner<'_>, place: usize, row: &JobRow, first: u64, differs: Option<&str>) {
    if let Some(what) = differs {
        let message = format!("Job {} is on line {first} too, with another {what}.", row.number);
        return planner.refuse(
            place,
            row.line,
            "number",
            message,
            "Leave one of them out, or correct the number.",
        );
    }
    let duplicate = Duplicate {
        lines: vec![row.line],
        same_as_line: Some(first),
        same_as: None,
        message: format!("Job {} is on line {first} already.", row.number),
    };
    planner.pass_over(&[place], duplicate);
}

fn recorded(planner: &mut Planner<'_>, place: usize, row: &JobRow, id: Id, details: &Details<'_>) {
    let differs = planner.known.names.jobs.get(&id).and_then(|job| {
        let known = Details {
            customer: job.customer,
            title: &job.title,
            site: &job.site,
            date: job.date,
            crew: job.crew,
        };
        difference(details, &known)
    });
    // Another customer under the same number is another job, and its costs would go to the wrong one.
    if differs == Some("customer") {
        let message = format!("Job {} is recorded already, for another customer.", row.number);
        return planner.refuse(place, row.line, "number", message, "Give this job another number.");
    }
    let left = differs
        .map(|what| format!(" Its {what} is another one, which is left as it was."))
        .unwrap_or_default();
    let duplicate = Duplicate {
        lines: vec![row.line],
        same_as_line: None,
        same_as: Some(id),
        message: format!("Job {} is recorded already.{left}", row.number),
    };
    planner.pass_over(&[place], duplicate);
}

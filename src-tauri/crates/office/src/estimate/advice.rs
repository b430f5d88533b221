//! How many deck sheets to include in a price: what the firm's own finished jobs say of a roof like this one.

use super::view::{AdviceJob, SheetAdvice};
use desk::OfficeError;
use desk::names::Names;
use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Damaged, JobStatusWord};
use ledger::facts::{Condition, Contract, Job, JobStatus, Roof as RoofFact};
use ledger::{Books, Id};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};
use trade::expected::{PastJob, Record, age_band, next_job, prior_from, update};
use trade::roof::{Measured, WorkStep, measure};
use trade::shown::{count_of, in_sentence, unit_behind, with_unit};
use trade::{Qty, Rate};

/// The level at which included sheets are advised: 8 jobs in 10.
const LEVEL: Rate = Rate::from_e6(800_000);

struct Finished {
    job: Id,
    age: Option<i64>,
    state: Option<String>,
    past: PastJob,
}

/// The advice for a job's roof.
pub(super) fn advice(
    books: Books<'_>,
    job: Id,
    measured: Option<&Measured>,
    day: Date,
) -> Result<SheetAdvice, OfficeError> {
    let names = Names::read(books)?;
    let record = finished(books, &names, job, day)?;
    let of_job = names.jobs.get(&job);
    let (age, state) = of_job.map_or((None, None), |job| (job.roof_age_years, job.roof_state.clone()));
    let like: Vec<&Finished> = record.iter().filter(|past| is_like(past, age, state.as_deref())).collect();
    let past = |of: &[&Finished]| of.iter().map(|one| one.past).collect::<Vec<_>>();
    let all: Vec<&Finished> = record.iter().collect();
    let mut advice = SheetAdvice {
        jobs: like.len(),
        all_jobs: record.len(),
        record: Record::of(&past(&like)).strength(),
        like: likeness(age, state.as_deref()),
        mean: None,
        covers_eight_in_ten: None,
        chances: Vec::new(),
        steps: Vec::new(),
        basis: like
            .iter()
            .map(|one| AdviceJob {
                job: names.job_number(one.job),
                squares: one.past.squares,
                sheets: one.past.sheets,
            })
            .collect(),
    };
    let Some(measured) = measured else { return Ok(advice) };
    // The firm's other jobs say what any roof is like; those of like age and state then count in full.
    let others: Vec<&Finished> =
        all.iter().copied().filter(|one| !like.iter().any(|known| known.job == one.job)).collect();
    let base = if others.is_empty() { &all } else { &others };
    let Ok(prior) = prior_from(&past(base)) else { return Ok(advice) };
    let from_others = if others.is_empty() { Ok(prior) } else { update(prior, &past(&like)) };
    let Ok(posterior) = from_others else { return Ok(advice) };
    let Ok(next) = next_job(posterior, measured.squares) else { return Ok(advice) };
    let shown = |value: Decimal| trade::shown::three_places(value).to_string();
    advice.steps = vec![
        WorkStep {
            words: format!(
                "from {} other finished {}: shape and rate a square",
                base.len(),
                unit_behind(Decimal::from(base.len()), "jobs")
            ),
            figure: format!("{} and {}", shown(prior.shape), shown(prior.rate)),
        },
        WorkStep {
            words: format!("with {} of like age and state", count_of(like.len(), "jobs")),
            figure: format!("{} and {}", shown(posterior.shape), shown(posterior.rate)),
        },
        WorkStep {
            words: format!("× {}", with_unit(measured.squares, "squares")),
            figure: format!("{} sheets to expect", shown(next.mean)),
        },
    ];
    advice.mean = Some(next.mean);
    advice.covers_eight_in_ten = next.covers(LEVEL).ok();
    advice.chances = next.chances.iter().take(13).copied().collect();
    Ok(advice)
}

fn is_like(past: &Finished, age: Option<i64>, state: Option<&str>) -> bool {
    let same_age = match (past.age, age) {
        (Some(past), Some(age)) => age_band(past) == age_band(age),
        _ => false,
    };
    same_age && (state.is_none() || past.state.as_deref() == state)
}

fn likeness(age: Option<i64>, state: Option<&str>) -> String {
    let years = age.map(|age| in_sentence(age_band(age).label()));
    years.into_iter().chain(state.map(str::to_owned)).collect::<Vec<_>>().join(", ")
}

/// The finished jobs with their squares and deck sheets; jobs whose squares nobody wrote down say nothing.
fn finished(books: Books<'_>, names: &Names, not: Id, day: Date) -> Result<Vec<Finished>, OfficeError> {
    let mut done = BTreeSet::new();
    for step in books.all::<JobStatus>()? {
        let counts = step.fact.date <= day;
        if counts && step.fact.stage == JobStatusWord::Finished && step.fact.job != not {
            done.insert(step.fact.job);
        }
    }
    let mut sheets: BTreeMap<Id, Qty> = BTreeMap::new();
    for condition in books.all::<Condition>()? {
        let is_sheet =
            condition.fact.damaged == Damaged::DeckSheet && condition.fact.counted_in == CountedIn::Sheet;
        if is_sheet && condition.fact.date <= day {
            *sheets.entry(condition.fact.job).or_default() += condition.fact.count;
        }
    }
    let mut jobs = Vec::new();
    for job in done {
        let Some(squares) = squares(books, names, job)? else { continue };
        let of_job: Option<&Job> = names.jobs.get(&job);
        jobs.push(Finished {
            job,
            age: of_job.and_then(|job| job.roof_age_years),
            state: of_job.and_then(|job| job.roof_state.clone()),
            past: PastJob { sheets: sheets.get(&job).copied().unwrap_or_default(), squares },
        });
    }
    Ok(jobs)
}

/// A job's squares: measured, or else the most that its contract holds of a code measured in squares.
fn squares(books: Books<'_>, names: &Names, job: Id) -> Result<Option<Qty>, OfficeError> {
    let mut roofs: Vec<RoofFact> = books.by(RoofFact::job, job)?.into_iter().map(|held| held.fact).collect();
    roofs.sort_by_key(|roof| roof.date);
    if let Some(roof) = roofs.last()
        && let Ok(measured) = measure(&crate::job::roof::of_fact(roof).0)
    {
        return Ok(Some(measured.squares));
    }
    let contracts = books.by(Contract::job, job)?.into_iter();
    let is_square = |code: Id| {
        names
            .codes
            .get(&code)
            .and_then(|code| code.unit.as_deref())
            .is_some_and(|unit| unit.starts_with("square"))
    };
    let most = contracts
        .flat_map(|held| held.fact.units)
        .filter(|units| is_square(units.code) && units.quantity.is_positive())
        .map(|units| units.quantity)
        .max();
    Ok(most)
}

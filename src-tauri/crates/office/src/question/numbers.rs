//! One number, or one name, for several things: each was free where it was given.

use super::asked::Question;
use super::side::{Writers, alike};
use desk::OfficeError;
use ledger::closed_lists::QuestionKind;
use ledger::facts::{ChangeOrder, Condition, Contract, CostCode, Invoice, Job, Part, PurchaseOrder};
use ledger::{Books, Id};
use trade::Money;
use trade::shown::day;

const RENUMBER: &str = "Reverse one and record it with another number, or answer that both stand.";
const RENAME: &str = "Record a later version of one with another name, or answer that both stand.";

pub(super) fn questions(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = named(books, writers)?;
    found.extend(of_jobs(books, writers)?);
    for (number, held) in alike(books.all::<Invoice>()?, |held| Some(held.fact.number.clone())) {
        let text = format!("Invoice {number} was issued {} times.", held.len());
        let sides = held.into_iter().map(|held| {
            let net: Money = held.fact.lines.iter().map(|line| line.amount).sum();
            let says = format!(
                "{} of {} for job {}",
                net.grouped(),
                day(held.fact.date),
                writers.names.job_number(held.fact.job)
            );
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Number, None, text, RENUMBER, sides));
    }
    for (number, held) in alike(books.all::<PurchaseOrder>()?, |held| Some(held.fact.number.clone())) {
        let text = format!("Order {number} was placed {} times.", held.len());
        let sides = held.into_iter().map(|held| {
            let vendor = writers.names.vendor(held.fact.vendor);
            let says = format!("from {vendor} for job {}", writers.names.job_number(held.fact.job));
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Number, None, text, RENUMBER, sides));
    }
    Ok(found)
}

/// Records that have versions: the newest version's number or name counts.
fn named(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let names = writers.names;
    let mut found = Vec::new();
    let first = |revises: Option<Id>| revises.is_none();
    let jobs = books.all::<Job>()?.into_iter().filter(|held| first(held.fact.revises));
    let number = |id: Id| names.jobs.get(&id).map(|job| job.number.clone());
    for (number, held) in alike(jobs, |held| number(held.entry.id)) {
        let text = format!("Job {number} was opened {} times.", held.len());
        let sides = held.into_iter().map(|held| {
            let title = names.jobs.get(&held.entry.id).map_or(&held.fact.title, |job| &job.title);
            let says = format!("{title}, {}", held.fact.site);
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Number, None, text, RENAME, sides));
    }
    let codes = books.all::<CostCode>()?.into_iter().filter(|held| first(held.fact.revises));
    for (code, held) in alike(codes, |held| Some(names.code(held.entry.id))) {
        let text = format!("The cost code “{code}” was made {} times.", held.len());
        let sides = held.into_iter().map(|held| (held.entry, held.fact.title));
        found.push(writers.question(QuestionKind::Number, None, text, RENAME, sides));
    }
    let parts = books.current(|part: &Part| part.revises)?;
    let first_parts = books.all::<Part>()?.into_iter().filter(|held| first(held.fact.revises));
    for (name, held) in alike(first_parts, |held| parts.get(&held.entry.id).map(|part| part.name.clone())) {
        let text = format!("The part “{name}” was made {} times.", held.len());
        let sides = held.into_iter().map(|held| (held.entry, held.fact.item.to_string()));
        found.push(writers.question(QuestionKind::Number, None, text, RENAME, sides));
    }
    Ok(found)
}

/// What is numbered within a job, and the job's one contract.
fn of_jobs(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let names = writers.names;
    let mut found = Vec::new();
    for (job, held) in alike(books.all::<Contract>()?, |held| Some(held.fact.job)) {
        let text = format!("Job {} has {} contracts.", names.job_number(job), held.len());
        let sides = held.into_iter().map(|held| {
            let says = format!("{} of {}", held.fact.price.grouped(), day(held.fact.date));
            (held.entry, says)
        });
        let remedy = "Reverse the one that was not signed. Until then both count.";
        found.push(writers.question(QuestionKind::Contract, Some(job), text, remedy, sides));
    }
    let conditions = books.all::<Condition>()?;
    for ((job, number), held) in alike(conditions, |held| Some((held.fact.job, held.fact.number.clone()))) {
        let text = format!("Job {} has {} hidden conditions {number}.", names.job_number(job), held.len());
        let sides = held.into_iter().map(|held| {
            let what = crate::phrase::damage(held.fact.count, held.fact.damaged, held.fact.counted_in);
            let says = format!("{what} at the {}", trade::shown::in_sentence(held.fact.place.label()));
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Number, Some(job), text, RENUMBER, sides));
    }
    let orders = books.all::<ChangeOrder>()?;
    for ((job, number), held) in alike(orders, |held| Some((held.fact.job, held.fact.number.clone()))) {
        let text = format!("Job {} has {} change orders {number}.", names.job_number(job), held.len());
        let sides = held.into_iter().map(|held| {
            let price: Money = held.fact.lines.iter().map(|line| line.price).sum();
            let says = format!("{}, {}", held.fact.title, price.grouped());
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Number, Some(job), text, RENUMBER, sides));
    }
    Ok(found)
}

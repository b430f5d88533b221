//! What a copy for the site holds: the open part of what the policy names, for jobs at work and planned.

use crate::error::OfficeError;
use crate::policy::{OF_A_JOB_ON_SITE, OF_THE_FIRM_ON_SITE};
use ledger::closed_lists::JobStatusWord;
use ledger::facts::{Contract, JobStatus};
use ledger::{Books, Entered, Id, Selection};
use std::collections::{BTreeSet, HashSet};

/// The jobs that are under contract and have not ended.
///
/// # Errors
/// When the facts cannot be read.
pub fn jobs_on_site(books: Books<'_>) -> Result<BTreeSet<Id>, OfficeError> {
    let ended: BTreeSet<Id> = ends_of_jobs(books)?.into_iter().map(|held| held.fact.job).collect();
    let contracts = books.all::<Contract>()?.into_iter().map(|held| held.fact.job);
    Ok(contracts.filter(|job| !ended.contains(job)).collect())
}

/// How jobs ended: nothing else of such a job is for the site, and a copy that still takes it to be at work is told
/// that much, or it would never leave there.
///
/// # Errors
/// When the facts cannot be read.
pub fn ends_of_jobs(books: Books<'_>) -> Result<Vec<Entered<JobStatus>>, OfficeError> {
    let steps = books.all::<JobStatus>()?.into_iter();
    Ok(steps.filter(|held| held.fact.stage != JobStatusWord::Begun).collect())
}

/// The facts whose open part a copy for the site holds. Of every other fact it holds that it is there.
///
/// # Errors
/// When the facts cannot be read.
pub fn facts_on_site(books: Books<'_>) -> Result<HashSet<Id>, OfficeError> {
    let selection = Selection { always: OF_THE_FIRM_ON_SITE, following: OF_A_JOB_ON_SITE };
    Ok(books.gather(jobs_on_site(books)?, &selection)?)
}

//! A job that is finished leaves the copies for the site, once an office has all that was written on them.

use crate::error::ExchangeError;
use crate::secrets::DeviceSecrets;
use desk::OfficeError;
use desk::site_facts::{facts_on_site, jobs_on_site};
use ledger::closed_lists::Role;
use ledger::facts::Job;
use ledger::{Books, Reader};
use std::path::Path;

/// Whether this is a copy for the site that holds a job which is no longer at work or planned.
///
/// # Errors
/// When it cannot be read.
pub fn some_job_has_left(books: Books<'_>) -> Result<bool, OfficeError> {
    if desk::device::role(books)? != Some(Role::Crew) {
        return Ok(false);
    }
    let jobs = books.current(|job: &Job| job.revises)?;
    let on_site = jobs_on_site(books)?;
    Ok(jobs.keys().any(|job| !on_site.contains(job)))
}

/// Makes a copy for the site anew without what has left it. Nobody may have it open, and an office must have all that
/// was written here ([`crate::Exchanged::is_all_known`]).
///
/// # Errors
/// When somebody has it open, or the disk refuses. The file is then as it was.
pub fn leave_finished_jobs(path: &Path) -> Result<(), ExchangeError> {
    let keys = DeviceSecrets::kept(path)?.ok_or(ExchangeError::NoKeys)?;
    let reader = Reader::open(path)?;
    let keep = facts_on_site(reader.books())?;
    drop(reader);
    Ok(ledger::renew_site_copy(path, keys.signing(), &keep)?)
}

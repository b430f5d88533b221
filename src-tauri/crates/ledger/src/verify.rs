//! Verify: whether the file still says what was written. The chain of every device is read and hashed again from the
//! rows as they stand; rows without an entry, tables or triggers that were altered, stored totals that differ from the
//! facts, and attachments that are lost or changed are found and named.
//!
//! The file is never written: the totals are worked out in scratch tables in memory that stand before the kept ones.

mod chain;
mod file;
mod files_beside;
mod finding;
mod totals;

pub use finding::{BadEntry, Problem};

use crate::draft::DEVICE;
use crate::error::LedgerError;
use crate::kept_ends::KeptEnds;
use crate::open;
use crate::progress::{Progress, Stage, Tell};
use crate::read::Books;
use crate::roster::Member;
use crate::site_copy;
use finding::Findings;
use rusqlite::Connection;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// What verify found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Entries read.
    pub entries: u64,
    /// Entries of which only the digest of the sealed part is here, as in a copy for the site.
    pub withheld: u64,
    /// How far each device's entries go.
    pub devices: Vec<(String, i64)>,
    /// Attachments read.
    pub attachments: u64,
    /// Files that another device attached and that are not here: between devices, facts travel without them.
    pub elsewhere: u64,
    /// How many of the problems are about attachments alone: files that are lost, changed or that nobody attached.
    pub of_files: u64,
    /// How long reading the chain took.
    pub chain_took: Duration,
    /// How long all of it took.
    pub took: Duration,
    /// What is wrong: the file itself first, then entries by device and number, then totals and attachments.
    pub problems: Vec<Problem>,
    /// How many more problems there are than are listed.
    pub more: u64,
}

impl Verdict {
    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_good(&self) -> bool {
        self.problems.is_empty() && self.more == 0
    }

    /// Whether whatever is wrong is wrong with attachments: every fact and figure is as it was written.
    #[must_use]
    pub fn is_good_but_for_files(&self) -> bool {
        u64::try_from(self.problems.len()).unwrap_or(u64::MAX).saturating_add(self.more) == self.of_files
    }

    /// The first problem that is about an entry.
    #[must_use]
    pub fn first_bad_entry(&self) -> Option<&Problem> {
        self.problems.iter().find(|problem| problem.entry.is_some())
    }

    /// Holds the file against the ends that are kept outside it.
    pub(crate) fn hold_against(&mut self, kept: &KeptEnds, conn: &Connection) -> Result<(), LedgerError> {
        let mut findings = Findings::default();
        let problem = kept.problem(conn).map(|found| found.map(|(problem, _)| problem));
        if let Some(Some(problem)) = findings.take("The end of the chain", problem)? {
            findings.add(None, "The end of the chain", problem);
        }
        self.problems.splice(0..0, findings.problems);
        Ok(())
    }

    /// Entries read a second, all checks included.
    #[must_use]
    pub fn entries_a_second(&self) -> u64 {
        let micros = self.took.as_micros().max(1);
        u64::try_from(u128::from(self.entries) * 1_000_000 / micros).unwrap_or(u64::MAX)
    }
}

/// Verifies a ledger, also while it is open for writing.
///
/// # Errors
/// When the file cannot be opened at all, or `progress` answers no. What is wrong inside the file is not an error but
/// stands in the verdict.
pub fn verify(path: &Path, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    let path = open::real(path);
    verify_with(&path, Some(&open::attachment_folder(&path)), progress)
}

/// The same without the photos and papers, which may be many and on which no figure rests.
///
/// # Errors
/// As [`verify`].
pub fn verify_facts(path: &Path, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    verify_with(&open::real(path), None, progress)
}

fn verify_with(path: &Path, folder: Option<&Path>, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    let (chain, totals, file) = (open::read(path)?, open::scratch(path)?, open::read(path)?);
    let kept = KeptEnds::of(path, &chain)?;
    let mut verdict = examine(&chain, totals, file, folder, progress)?;
    if let Some(kept) = kept {
        verdict.hold_against(&kept, &chain)?;
    }
    Ok(verdict)
}

/// Verifies a back-up of this program's version, wherever it lies.
pub(crate) fn verify_at_rest(path: &Path, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    let at_rest = || open::at_rest(path).map(|(conn, _)| conn);
    examine(&at_rest()?, at_rest()?, at_rest()?, Some(&open::attachment_folder(path)), progress)
}

/// How often whoever waits is told how far the other parts are.
const TELL_EVERY: Duration = Duration::from_millis(2);

/// The totals and SQLite's own check of the file each have a thread and a connection of their own beside the reading
/// of the chain.
fn examine(
    chain: &Connection,
    totals: Connection,
    file: Connection,
    folder: Option<&Path>,
    progress: Tell<'_>,
) -> Result<Verdict, LedgerError> {
    let started = Instant::now();
    let (stop, done) = (AtomicBool::new(false), AtomicU64::new(0));
    let interrupt = file.get_interrupt_handle();
    let (file, totals, chain) = std::thread::scope(|scope| {
        let (stop, done) = (&stop, &done);
        let file = scope.spawn(move || file::check(&file, stop));
        let totals = scope.spawn(move || {
            let mut findings = Findings::default();
            totals::check(&totals, &mut findings, &mut |entries| {
                done.store(entries, Ordering::Relaxed);
                !stop.load(Ordering::Relaxed)
            })?;
            Ok(findings)
        });
        let mut chain = read_all(chain, folder, progress);
        while !file.is_finished() || !totals.is_finished() {
            let (stage, total) = match &chain {
                Ok((verdict, _)) if !totals.is_finished() => (Stage::Totals, verdict.entries),
                _ => (Stage::File, 0),
            };
            let done = if stage == Stage::Totals { done.load(Ordering::Relaxed) } else { 0 };
            if chain.is_ok() && !progress(Progress { stage, done, total }) {
                chain = Err(LedgerError::Stopped);
            }
            if chain.is_err() {
                stop.store(true, Ordering::Relaxed);
                interrupt.interrupt();
            }
            std::thread::sleep(TELL_EVERY);
        }
        (file.join(), totals.join(), chain)
    });
    let (mut verdict, entries) = chain?;
    verdict.of_files =
        u64::try_from(entries.1.problems.len()).unwrap_or(u64::MAX).saturating_add(entries.1.more);
    for part in [file, Ok(Ok(entries.0)), totals, Ok(Ok(entries.1))] {
        let Ok(part) = part else {
            return Err(LedgerError::Damaged {
                place: "The file".to_owned(),
                problem: "its check did not finish".to_owned(),
            });
        };
        let part = part?;
        verdict.problems.extend(part.problems);
        verdict.more += part.more;
    }
    verdict.took = started.elapsed();
    Ok(verdict)
}

/// What is wrong with entries, and with attachments.
type OfFacts = (Findings, Findings);

/// The chain and the attachments, over one state of the file.
fn read_all(
    conn: &Connection,
    folder: Option<&Path>,
    progress: Tell<'_>,
) -> Result<(Verdict, OfFacts), LedgerError> {
    let tx = conn.unchecked_transaction()?;
    let started = Instant::now();
    let (mut entries, mut attachments) = OfFacts::default();
    let read = chain::check(&tx, &mut entries, progress)?;
    let kind_of_copy = copy_is_what_the_roster_says(&tx, &mut entries);
    entries.take("setting", kind_of_copy)?;
    let chain_took = started.elapsed();
    let (count, elsewhere) = match folder {
        Some(folder) => files_beside::check(&tx, folder, &mut attachments, progress)?,
        None => (0, 0),
    };
    let verdict = Verdict {
        entries: read.entries,
        withheld: read.withheld,
        devices: read.ends,
        attachments: count,
        elsewhere,
        chain_took,
        ..Verdict::default()
    };
    Ok((verdict, (entries, attachments)))
}

/// A file that says it is a copy for the site must be that of a crew's device: else what is lost from it would pass for
/// withheld.
fn copy_is_what_the_roster_says(conn: &Connection, findings: &mut Findings) -> Result<(), LedgerError> {
    if !site_copy::is_site_copy(conn)? {
        return Ok(());
    }
    let books = Books::over(conn);
    let (roster, own) = (books.roster()?, books.setting(DEVICE)?.unwrap_or_default());
    let is_empty = roster.members().next().is_none();
    if !is_empty && !roster.member(&own).is_some_and(Member::is_site_copy) {
        let problem =
            format!("it says that it is a copy for the site, but device {own} is no crew's on the roster");
        findings.add(None, "setting", problem);
    }
    Ok(())
}

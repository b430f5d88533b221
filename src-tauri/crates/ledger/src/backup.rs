//! Back-ups: a copy through SQLite's backup interface, never by copying the file (which would lose what still stands
//! in its log), with its attachments beside it, read through and verified before it gets its name.
//!
//! A back-up is a ledger at rest in one file: it may lie on a network or in a synced folder.

use crate::attachment;
use crate::column::Column;
use crate::draft::OWN_SETTING;
use crate::error::{LedgerError, damaged, io};
use crate::id::Digest;
use crate::kept_ends::{self, KeptEnds};
use crate::open::{self, taken};
use crate::place;
use crate::progress::{Progress, Stage, Tell};
use crate::verify::{Verdict, verify_at_rest};
use rusqlite::Connection;
use rusqlite::backup::{Backup, StepResult};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::TempDir;

/// Pages copied between two words to whoever is waiting.
const PAGES_A_STEP: std::ffi::c_int = 128;

/// How long to wait for another program that has the file for itself.
const BUSY_WAIT: Duration = Duration::from_millis(50);

/// Copies a ledger, also while it is open for writing, and verifies the copy.
///
/// The copy is made even of a ledger in which something is wrong, since it may be the best there is: only when the
/// verdict is good is it a good back-up. Nothing is ever overwritten, and what is half-made never has the name.
///
/// # Errors
/// When something already is at `to`, the ledger cannot be opened, the disk refuses, or `progress` answers no.
pub fn back_up(from: &Path, to: &Path, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    let from = open::real(from);
    let source = open::read(&from)?;
    let copy = Copy::begin(&from, to)?;
    copy.pages(&source, progress)?;
    copy.wipe_own_settings()?;
    copy.attachments(&open::attachment_folder(&from), progress)?;
    let mut verdict = verify_at_rest(&copy.part, progress)?;
    if let Some(kept) = KeptEnds::of(&from, &source)? {
        verdict.hold_against(&kept, &source)?;
    }
    drop(source);
    copy.finish()?;
    keep_ends(to)?;
    Ok(verdict)
}

/// Makes a ledger again from a back-up. The back-up is verified first, and the restored ledger too; one of an earlier
/// version is brought up to this program's. Where only attachments are wrong, it goes on, and the verdict says so: a
/// lost photo does not keep the books away.
///
/// # Errors
/// When something already is at `to`, the back-up is damaged, the place is on a network, the disk refuses, or
/// `progress` answers no. Nothing is left at `to` then.
pub fn restore(from: &Path, to: &Path, progress: Tell<'_>) -> Result<Verdict, LedgerError> {
    open::refuse_network(to)?;
    let from = open::real(from);
    let (source, version) = open::at_rest(&from)?;
    let copy = Copy::begin(&from, to)?;
    if version == open::known_version() {
        good(verify_at_rest(&from, progress)?, "The back-up")?;
    }
    copy.pages(&source, progress)?;
    if version < open::known_version() {
        open::renew(&copy.part)?;
    }
    let part = open::copy_target(&copy.part)?;
    kept_ends::set_apart(&part)?;
    open::rest(part)?;
    copy.attachments(&open::attachment_folder(&from), progress)?;
    let verdict = good(verify_at_rest(&copy.part, progress)?, "The restored ledger")?;
    copy.finish()?;
    keep_ends(to)?;
    Ok(verdict)
}

/// Keeps the ends of a copy that was just made, whatever lay under its name before.
fn keep_ends(copy: &Path) -> Result<(), LedgerError> {
    let (conn, _) = open::at_rest(copy)?;
    KeptEnds::of(copy, &conn)?.map_or(Ok(()), |mut kept| kept.begin_anew(&conn))
}

fn good(verdict: Verdict, what: &str) -> Result<Verdict, LedgerError> {
    match verdict.problems.first() {
        _ if verdict.is_good_but_for_files() => Ok(verdict),
        None => Ok(verdict),
        Some(first) => {
            let count =
                u64::try_from(verdict.problems.len()).unwrap_or(u64::MAX).saturating_add(verdict.more);
            let first = first.to_string();
            let first = first.trim_end_matches('.');
            let problem =
                if count == 1 { first.to_owned() } else { format!("{count} problems, the first: {first}") };
            Err(LedgerError::Damaged { place: what.to_owned(), problem })
        }
    }
}

/// A copy being made, in a folder of its own with a name that nobody else can have, beside the place where it will
/// lie. Dropped before it is whole, it takes that folder along and nothing else.
struct Copy {
    to: PathBuf,
    part: PathBuf,
    _work: TempDir,
}

impl Copy {
    fn begin(from: &Path, to: &Path) -> Result<Copy, LedgerError> {
        place::refuse_taken(to)?;
        if open::lock_path(to) == from {
            return Err(LedgerError::Companion { path: from.to_owned(), ledger: to.to_owned() });
        }
        let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let made = || format!("The folder {} could not be made", folder.display());
        std::fs::create_dir_all(folder).map_err(io(made()))?;
        let work = tempfile::Builder::new().prefix(".tearoff-copy-").tempdir_in(folder);
        let work = work.map_err(io(format!("Nothing can be written to {}", folder.display())))?;
        Ok(Copy { to: to.to_owned(), part: work.path().join("ledger"), _work: work })
    }

    fn pages(&self, source: &Connection, progress: Tell<'_>) -> Result<(), LedgerError> {
        let mut target = open::copy_target(&self.part)?;
        // One state of the ledger is held, so that a busy writer does not make the copying start again and again.
        let held = source.unchecked_transaction()?;
        held.query_row("SELECT count(*) FROM entry", [], |_| Ok(()))?;
        let backup = Backup::new(&held, &mut target)?;
        loop {
            let step = backup.step(PAGES_A_STEP)?;
            if matches!(step, StepResult::Busy | StepResult::Locked) {
                std::thread::sleep(BUSY_WAIT);
            }
            let so_far = backup.progress();
            let (total, left) =
                (u64::try_from(so_far.pagecount).unwrap_or(0), u64::try_from(so_far.remaining).unwrap_or(0));
            if !progress(Progress { stage: Stage::Copy, done: total.saturating_sub(left), total }) {
                return Err(LedgerError::Stopped);
            }
            if step == StepResult::Done {
                break;
            }
        }
        drop(backup);
        open::rest(target)
    }

    /// Takes out the settings that stay in the file they were made in, and wipes the place where they stood.
    fn wipe_own_settings(&self) -> Result<(), LedgerError> {
        let part = open::copy_target(&self.part)?;
        part.execute_batch("PRAGMA secure_delete = ON")?;
        part.execute("DELETE FROM setting WHERE name GLOB ?1 || '*'", [OWN_SETTING])?;
        open::rest(part)
    }

    /// The attachments that the copy names. One that is missing or damaged is left for verify to tell.
    fn attachments(&self, from: &Path, progress: Tell<'_>) -> Result<(), LedgerError> {
        let hashes = {
            let (copy, _) = open::at_rest(&self.part)?;
            let mut statement = copy.prepare("SELECT hash FROM attachment ORDER BY hash")?;
            let mut rows = statement.query([])?;
            let mut hashes = Vec::new();
            while let Some(row) = rows.next()? {
                hashes.push(Digest::load(row.get_ref(0)?).map_err(damaged("attachment.hash"))?);
            }
            hashes
        };
        let (mut done, total) = (0, u64::try_from(hashes.len()).unwrap_or(u64::MAX));
        let folder = open::attachment_folder(&self.part);
        for hash in hashes {
            if !progress(Progress { stage: Stage::Attachments, done, total }) {
                return Err(LedgerError::Stopped);
            }
            match attachment::read_from(from, hash) {
                Ok(bytes) => attachment::write(&folder, hash, &bytes)?,
                Err(LedgerError::Damaged { .. }) => {}
                Err(other) => return Err(other),
            }
            done += 1;
        }
        Ok(())
    }

    /// Gives the copy its name: the ledger last, since a ledger without its attachments would be the worse half. Both
    /// names are taken in one step that fails where somebody else was quicker.
    fn finish(self) -> Result<(), LedgerError> {
        let (made, named) = (open::attachment_folder(&self.part), open::attachment_folder(&self.to));
        let with_attachments = made.exists();
        if with_attachments {
            let at = || format!("{} could not be given its name", named.display());
            std::fs::create_dir(&named).map_err(|error| taken(error, &named, at()))?;
            if cfg!(windows) {
                // Elsewhere a folder takes the place of an empty one.
                std::fs::remove_dir(&named).map_err(io(at()))?;
            }
            std::fs::rename(&made, &named).map_err(io(at()))?;
        }
        let settled = open::settle_on_disk(&self.part, &self.to);
        if settled.is_err() && with_attachments {
            // Back to where it goes when this ends; the first trouble is the one to tell.
            let _ = std::fs::rename(&named, &made);
        }
        settled
    }
}

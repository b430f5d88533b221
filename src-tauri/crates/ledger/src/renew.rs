//! A copy for the site made anew without what has left it. Facts are never deleted from a file: another file is made
//! beside it, of the same entries and fewer facts, and takes its place when it is whole.

use crate::append::Ledger;
use crate::attachment;
use crate::chain_part::HowMuch;
use crate::error::{LedgerError, io, refuse};
use crate::facts::Attachment;
use crate::id::Id;
use crate::kept_ends::COPY_ID;
use crate::open;
use crate::signing::{DeviceKey, SignedHead};
use crate::site_copy;
use jiff::Timestamp;
use std::collections::{BTreeSet, HashSet};
use std::fs::File;
use std::path::Path;

/// Makes a copy for the site anew with the facts that are to be kept; of the others it keeps the entries. What the
/// device itself wrote must have been sent before, since its sealed part is not kept either.
///
/// # Errors
/// When it is no copy for the site, somebody else has it open, or the disk refuses. The file is then as it was.
pub fn renew_site_copy(path: &Path, key: &DeviceKey, keep: &HashSet<Id>) -> Result<(), LedgerError> {
    let path = &open::real(path);
    let old = Ledger::open(path)?;
    if !site_copy::is_site_copy(&old.conn)? {
        return refuse("file", "it is no copy for the site", "An office keeps all of its facts");
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // A folder of its own, which goes away with whatever is left in it.
    let work = tempfile::Builder::new().prefix(".tearoff-renewed-").tempdir_in(folder);
    let work = work.map_err(io(format!("Nothing can be written to {}", folder.display())))?;
    let part = work.path().join("ledger");
    let mut new = Ledger::create(&part)?;
    // It is a copy of its own until it takes the old one's place.
    for (name, value) in old.reading().settings()?.into_iter().filter(|(name, _)| name != COPY_ID) {
        new.set_setting(&name, &value)?;
    }
    drop(new);
    // Opened again, so that it is the same device.
    let mut new = Ledger::open(&part)?;
    fill(&old, &mut new, key, keep)?;
    let names: BTreeSet<_> =
        new.reading().all::<Attachment>()?.into_iter().map(|held| held.fact.hash).collect();
    drop((new, old));
    // The last to close a file takes its log away; a log that stays belongs to somebody who still has it open.
    if open::beside(path, "-wal").exists() || open::beside(&part, "-wal").exists() {
        return refuse("file", "another window has it open", "Close the other window first");
    }
    replace(&part, path)?;
    remove_other_files(path, &names)
}

/// Gives the new file the old one's name, with its bytes and its name both on the disk before this returns.
fn replace(part: &Path, path: &Path) -> Result<(), LedgerError> {
    let at = || format!("{} could not be written", path.display());
    File::options().write(true).open(part).and_then(|file| file.sync_all()).map_err(io(at()))?;
    std::fs::rename(part, path).map_err(io(at()))?;
    open::sync_folder(path.parent())
}

fn fill(old: &Ledger, new: &mut Ledger, key: &DeviceKey, keep: &HashSet<Id>) -> Result<(), LedgerError> {
    let books = old.reading();
    let mut parts = Vec::new();
    for (device, end) in books.device_ends()? {
        let (own, hash) = old.own_end();
        let head = match books.signed_head(&device)? {
            Some(head) if head.device_seq == end => head,
            _ if device == old.device() && own == end => SignedHead::of(key, &device, own, hash),
            _ => return refuse("file", format!("the end of device {device} is not signed"), "Join again"),
        };
        let kept = |id: &Id| if keep.contains(id) { HowMuch::Open } else { HowMuch::Nothing };
        parts.push(books.chain_part(&head, 1, &mut |_, _, id| Ok(kept(&id)))?);
    }
    let taken = new.take_in(&parts, Timestamp::UNIX_EPOCH, &|_, _| true)?;
    if !taken.refused.is_empty() || !taken.waiting.is_empty() || !taken.forks.is_empty() {
        return Err(LedgerError::Damaged {
            place: "The copy for the site".to_owned(),
            problem: format!("it cannot be made anew ({taken:?})"),
        });
    }
    for draft in books.drafts(None)? {
        let at = draft.changed_at.parse().unwrap_or(Timestamp::UNIX_EPOCH);
        new.save_draft(draft.id, &draft.kind, draft.job, draft.person, &draft.body, at)?;
    }
    Ok(())
}

/// Photos of what has left go too.
fn remove_other_files(path: &Path, names: &BTreeSet<crate::id::Digest>) -> Result<(), LedgerError> {
    let folder = open::attachment_folder(path);
    let kept: BTreeSet<_> = names.iter().map(|hash| attachment::file_of(&folder, *hash)).collect();
    let shelves = match std::fs::read_dir(&folder) {
        Ok(shelves) => shelves,
        Err(none) if none.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(other) => return Err(io(format!("{} could not be read", folder.display()))(other)),
    };
    for shelf in shelves.filter_map(Result::ok).map(|shelf| shelf.path()).filter(|shelf| shelf.is_dir()) {
        let files =
            std::fs::read_dir(&shelf).map_err(io(format!("{} could not be read", shelf.display())))?;
        for file in files.filter_map(Result::ok).map(|file| file.path()) {
            if !kept.contains(&file) {
                std::fs::remove_file(&file)
                    .map_err(io(format!("{} could not be removed", file.display())))?;
            }
        }
    }
    Ok(())
}

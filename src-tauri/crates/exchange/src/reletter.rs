//! New letters for a file under whose letters another one was written too. The owner adds a device on another one;
//! its joining file is used here in the place of a new machine: a new file fetches all that the firm has, and what the
//! old one alone wrote goes on in it, each fact as it was. The old file is set aside, and nothing of it is lost.

use crate::error::ExchangeError;
use crate::exchanged::{Exchanged, exchange};
use crate::join::join;
use crate::round::Step;
use crate::secrets::DeviceSecrets;
use crate::settings::choose_store;
use desk::{Clock, Desk, OfficeError};
use jiff::Timestamp;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::open::attachment_folder;
use ledger::roster::FOUNDER;
use ledger::{Books, Ledger, LedgerError, Parted};
use serde::Serialize;
use std::path::{Path, PathBuf};

/// A file that has new letters.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Relettered {
    /// The letters that it had.
    pub was: String,
    /// The letters that it has.
    pub letter: String,
    /// What people call the device.
    pub name: String,
    /// The file.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub file: PathBuf,
    /// Where it lies as it was.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub aside: PathBuf,
    /// How many entries no other file had: they go on under the new letters.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub entries: u64,
    /// The exchange that brought what the firm has.
    pub first: Exchanged,
}

/// Gives a file the letters of a joining file.
///
/// # Errors
/// When nothing shows yet that another file was written under its letters, the joining file is for another kind of
/// device or another firm, the store cannot be reached or lacks what is here, or somebody has the file open. The file
/// is then as it was, and the joining file can be used again.
pub fn reletter(
    path: &Path,
    joining: &Path,
    passphrase: &str,
    store: Option<&str>,
    tell: &mut dyn FnMut(Step) -> bool,
) -> Result<Relettered, ExchangeError> {
    let old = Parted::open(path)?;
    let path = old.path().to_owned();
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let failed = |error: std::io::Error| {
        ExchangeError::Desk(OfficeError::io(format!("Nothing can be written to {}", folder.display()), &error))
    };
    // A folder of its own, which goes away with whatever is left in it.
    let work = tempfile::Builder::new().prefix(".tearoff-letters-").tempdir_in(folder).map_err(failed)?;
    let part = work.path().join("ledger");
    let joined = join(joining, passphrase, &part)?;
    let was = letters(old.books())?;
    if desk::device::role(old.books())? == Some(Role::Crew) && joined.role != Role::Crew
        || desk::device::role(old.books())? != Some(Role::Crew) && joined.role == Role::Crew
    {
        let problem = "it is for a device that holds something else than this file does";
        return Err(refused("joining", problem, "Let the owner add a device for the same person"));
    }
    let mut desk = Desk::open(&part, Clock::System)?;
    if let Some(address) = store {
        choose_store(&mut desk, address, None)?;
    }
    let first = exchange(&mut desk, tell)?;
    if let Some(why) = first.why.filter(|_| !first.is_reached) {
        return Err(ExchangeError::Store(why));
    }
    let first = Exchanged { why: None, ..first };
    let keys = DeviceSecrets::kept(&part)?.ok_or(ExchangeError::NoKeys)?;
    let entries = go_on(&old, &mut desk, &keys, &was)?;
    drop(desk);
    let aside = aside(&path, &was);
    give_way(old, &part, &aside, &keys).map_err(|error| match error {
        Swap::Files(error) => failed(error),
        Swap::Other(error) => error,
    })?;
    let (letter, name) = (joined.letter, joined.name);
    Ok(Relettered { was, letter, name, file: path, aside, entries, first })
}

fn refused(field: &str, problem: &str, remedy: &str) -> ExchangeError {
    OfficeError::refused(field, problem, remedy).into()
}

fn letters(books: Books<'_>) -> Result<String, LedgerError> {
    Ok(books.setting(DEVICE)?.unwrap_or_else(|| FOUNDER.to_owned()))
}

/// Goes on in a new file, which has fetched what the firm has, with what the old one alone wrote. Answers how many
/// entries that were.
///
/// # Errors
/// As [`reletter`].
pub fn go_on(
    old: &Parted,
    desk: &mut Desk,
    keys: &DeviceSecrets,
    was: &str,
) -> Result<u64, ExchangeError> {
    let (mut is_parted, mut own_from) = (false, None);
    let ends = old.books().device_ends()?;
    if old.books().entry_hash(FOUNDER, 1)? != desk.books().entry_hash(FOUNDER, 1)? {
        let problem = "it is another firm's, or the store has not got the firm's first entries";
        return Err(refused("joining", problem, "Use one that this firm's owner has made"));
    }
    for (device, end) in &ends {
        let parts = old.books().parts_at(&desk.books(), device)?;
        let there = desk.books().device_ends()?.iter().find(|(letter, _)| letter == device).map_or(0, |at| at.1);
        is_parted |= parts.is_some();
        if device == was {
            own_from = parts.or((there < *end).then_some(there + 1));
            continue;
        }
        // What another device wrote comes from itself, under whatever letters it has now.
        let lacking = old.books().lacking_in(&desk.books(), device, parts.unwrap_or(there + 1))?;
        if lacking > 0 {
            let entries = if lacking == 1 { "1 entry".to_owned() } else { format!("{lacking} entries") };
            let problem = format!("{entries} of device {device} are here and not in the store yet");
            return Err(refused("store", &problem, &format!("Let device {device} exchange first")));
        }
    }
    let roster = desk.books().roster()?;
    let own_keys = DeviceSecrets::kept(old.path())?;
    let is_anothers = |keys: &DeviceSecrets| {
        roster.member(was).is_some_and(|member| member.signs_with != keys.signs_with())
    };
    // Two devices that were given one letter: nothing that this one wrote was ever believed under it.
    if own_keys.as_ref().is_some_and(is_anothers) {
        is_parted = true;
        own_from = own_from.or(Some(1));
    }
    if !is_parted {
        let problem = format!("nothing in the store shows that another file was written as {was}");
        return Err(refused("file", &problem, "Exchange on the other one first, if there is one"));
    }
    let (at, _) = desk.clock.tick();
    let ledger = desk.ledger()?;
    let entries = match own_from {
        Some(first) => ledger.carry_over(&old.books(), was, first, keys.signing(), at)?,
        None => 0,
    };
    keep_unrecorded(&old.books(), ledger)?;
    Ok(entries)
}

/// Drafts are no facts, and somebody's work all the same.
fn keep_unrecorded(old: &Books<'_>, new: &mut Ledger) -> Result<(), LedgerError> {
    for draft in old.drafts(None)? {
        let at = draft.changed_at.parse().unwrap_or(Timestamp::UNIX_EPOCH);
        new.save_draft(draft.id, &draft.kind, draft.job, draft.person, &draft.body, at)?;
    }
    Ok(())
}

/// “firm, as B.tearoff” beside “firm.tearoff”, and a number where that is taken.
fn aside(path: &Path, was: &str) -> PathBuf {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let ending = path.extension().map(|ending| format!(".{}", ending.to_string_lossy())).unwrap_or_default();
    let named = |more: String| path.with_file_name(format!("{stem}, as {was}{more}{ending}"));
    let mut tried = named(String::new());
    for number in 2.. {
        if !tried.exists() && !DeviceSecrets::file(&tried).exists() {
            break;
        }
        tried = named(format!(" {number}"));
    }
    tried
}

enum Swap {
    Files(std::io::Error),
    Other(ExchangeError),
}

/// Puts the new file in the old one's place, with its keys; the old one's go aside with it. Photos stay where they are,
/// and those that came join them.
fn give_way(old: Parted, part: &Path, aside: &Path, keys: &DeviceSecrets) -> Result<(), Swap> {
    let path = old.path().to_owned();
    let old_keys = DeviceSecrets::kept(&path).map_err(Swap::Other)?;
    if let Some(old_keys) = &old_keys {
        old_keys.keep(aside).map_err(Swap::Other)?;
    }
    merge(&attachment_folder(part), &attachment_folder(&path)).map_err(Swap::Files)?;
    old.give_way(part, aside).map_err(|error| Swap::Other(error.into()))?;
    if old_keys.is_some() {
        std::fs::remove_file(DeviceSecrets::file(&path)).map_err(Swap::Files)?;
    }
    keys.keep(&path).map_err(Swap::Other)
}

fn merge(from: &Path, to: &Path) -> std::io::Result<()> {
    let shelves = match std::fs::read_dir(from) {
        Ok(shelves) => shelves,
        Err(none) if none.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(other) => return Err(other),
    };
    for shelf in shelves {
        let shelf = shelf?;
        let named = to.join(shelf.file_name());
        if shelf.file_type()?.is_dir() {
            std::fs::create_dir_all(&named)?;
            for file in std::fs::read_dir(shelf.path())? {
                let file = file?;
                let there = named.join(file.file_name());
                if !there.exists() {
                    std::fs::rename(file.path(), there)?;
                }
            }
        }
    }
    Ok(())
}

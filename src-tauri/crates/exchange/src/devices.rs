//! The firm's devices: who has which, adding one, dropping one. What is said of them is a fact, so that every device
//! comes to the same list.

use crate::exchanged::{Exchanged, last, waiting};
use crate::joining::{Joining, new_passphrase};
use crate::own::{device_fact, founder_key, own_keys};
use crate::secrets::DeviceSecrets;
use crate::settings::STORE;
use desk::people::firm_name;
use desk::{Act, Desk, OfficeError, pin};
use ledger::Id;
use ledger::closed_lists::Role;
use ledger::facts::{Device, DeviceLeft, Person};
use ledger::roster::FOUNDER;
use serde::Serialize;
use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The firm's devices, and how this one stands with them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Devices {
    /// The letters of this one.
    pub here: String,
    /// Whether this one holds open parts only.
    pub is_site_copy: bool,
    /// Every device that was added, in the order of their letters.
    pub devices: Vec<DeviceLine>,
    /// Where parcels lie, as it was typed.
    pub store: Option<String>,
    /// Entries of this device that no store has yet.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub waiting: u64,
    /// The last exchange.
    pub last: Option<Exchanged>,
}

/// A device of the firm.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct DeviceLine {
    /// Its letters.
    pub letter: String,
    /// What people call it.
    pub name: String,
    /// What it may hold.
    pub role: Role,
    /// Whose it is.
    pub person: Option<String>,
    /// Whether it is the one that asks.
    pub is_here: bool,
    /// Whether it was dropped.
    pub has_left: bool,
    /// How many entries of it are here.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub entries: i64,
}

/// A device that was added.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Added {
    /// Its letters.
    pub letter: String,
    /// What people call it.
    pub name: String,
    /// What it may hold.
    pub role: Role,
    /// Whose it is.
    pub person: String,
    /// The joining file that was written.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub file: PathBuf,
    /// What opens it. It is kept nowhere: told once, and apart from the file.
    pub passphrase: String,
    /// Whether the file says where parcels lie; else the new device is told by hand.
    pub has_store: bool,
}

/// A device that was dropped.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Dropped {
    /// Its letters.
    pub letter: String,
    /// What people call it.
    pub name: String,
    /// Its entries that are here and stay.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub entries: i64,
    /// Whether it knows a secret that opens the store.
    pub knows_store: bool,
}

/// Lists the firm's devices.
///
/// # Errors
/// When they are not for whoever asks, or cannot be read.
pub fn devices(desk: &Desk) -> Result<Devices, OfficeError> {
    desk.check(Act::SeeDevices)?;
    let books = desk.books();
    let here = books.setting(ledger::draft::DEVICE)?.unwrap_or_else(|| FOUNDER.to_owned());
    let ends = books.device_ends()?;
    let people = books.current(|person: &Person| person.revises)?;
    let line = |member: &ledger::Member| DeviceLine {
        letter: member.letter.clone(),
        name: member.name.clone(),
        role: member.role,
        person: member.person.and_then(|person| people.get(&person)).map(|person| person.name.clone()),
        is_here: member.letter == here,
        has_left: member.last_seq.is_some(),
        entries: ends.iter().find(|(letter, _)| *letter == member.letter).map_or(0, |(_, end)| *end),
    };
    Ok(Devices {
        is_site_copy: desk::device::role(books)? == Some(Role::Crew),
        devices: books.roster()?.members().map(line).collect(),
        store: books.setting(STORE)?,
        waiting: waiting(books)?,
        last: last(books)?,
        here,
    })
}

/// Adds a device and writes its joining file.
///
/// # Errors
/// When it is not for whoever asks, the person may not have such a device, or the file cannot be written. Nothing was
/// added then.
pub fn add_device(
    desk: &mut Desk,
    name: &str,
    person: Id,
    role: Option<Role>,
    to: &Path,
) -> Result<Added, OfficeError> {
    desk.check(Act::KeepDevices)?;
    let name = name.trim();
    if name.is_empty() {
        return Err(OfficeError::refused("name", "it is empty", "Say what people call the device"));
    }
    let known = desk.books().newest::<Person>(person)?.filter(|person| person.left_on.is_none());
    let Some(known) = known else {
        return Err(OfficeError::refused(
            "person",
            "nobody of this name works here now",
            "Choose who it is for",
        ));
    };
    let role = role.unwrap_or(known.role);
    if role != Role::Crew && known.role != Role::Owner && role != known.role {
        let problem = format!("{} may not see what such a device holds", known.name);
        return Err(OfficeError::refused("role", &problem, "Leave it out, or choose crew"));
    }
    ledger::place::refuse_ledger(to, &desk.path())?;
    let refused =
        |error: &std::io::Error| OfficeError::io(format!("{} could not be written", to.display()), error);
    if to.exists() {
        return Err(OfficeError {
            code: desk::Code::Exists,
            field: Some("file".to_owned()),
            message: format!("{} is already there.", to.display()),
            remedy: "Choose another name.".to_owned(),
        });
    }
    let own = own_keys(desk)?;
    let letter = free_letter(desk)?;
    let keys = DeviceSecrets::new()?.with_store(own.store().map(str::to_owned));
    let passphrase = new_passphrase()?;
    let joining = joining(desk, (&letter, name, role, &known.name), &own, &keys)?;
    let has_store = joining.store.is_some();
    let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(|error| refused(&error))?;
    let bytes = joining.locked(&passphrase)?;
    file.write_all(&bytes).and_then(|()| file.as_file().sync_all()).map_err(|error| refused(&error))?;
    let fact = device_fact(desk.clock.today(), &letter, name, role, person, &keys);
    desk.record(vec![fact.into()])?;
    file.persist_noclobber(to).map_err(|error| refused(&error.error))?;
    let (name, person) = (name.to_owned(), known.name);
    Ok(Added { letter, name, role, person, file: to.to_owned(), passphrase, has_store })
}

fn joining(
    desk: &Desk,
    (letter, name, role, person): (&str, &str, Role, &str),
    own: &DeviceSecrets,
    keys: &DeviceSecrets,
) -> Result<Joining, OfficeError> {
    let here = desk.books().setting(ledger::draft::DEVICE)?.unwrap_or_default();
    let mut pins = Vec::new();
    for guarded in pin::ROLES.into_iter().filter(|_| role != Role::Crew) {
        pins.extend(pin::stored(desk, guarded)?.map(|hash| (guarded, hash)));
    }
    Ok(Joining {
        firm: firm_name(desk)?.unwrap_or_default(),
        letter: letter.to_owned(),
        name: name.to_owned(),
        role,
        person: person.to_owned(),
        keys: keys.written(),
        founder: founder_key(desk)?.unwrap_or_else(|| own.signs_with()),
        inviter: (here, own.signs_with()),
        store: desk.books().setting(STORE)?,
        pins,
    })
}

/// The letters after the last that this device gave. The device on which the books were made gives B to Z, then AA to
/// AZ; any other owner's gives those that begin with its own. So two owners who cannot reach each other never give the
/// same.
fn free_letter(desk: &Desk) -> Result<String, OfficeError> {
    let books = desk.books();
    let here = books.setting(ledger::draft::DEVICE)?.unwrap_or_else(|| FOUNDER.to_owned());
    let said = books.all_with_reversed::<Device>()?.into_iter().map(|held| held.fact.letter);
    let wrote = books.device_ends()?.into_iter().map(|(letter, _)| letter);
    let used: BTreeSet<String> = said.chain(wrote).collect();
    free_of(&here, &used).ok_or_else(|| {
        let problem = "every letter that this device can give is given";
        OfficeError::refused("letter", problem, "Add the device on another device of the owner's")
    })
}

fn free_of(here: &str, used: &BTreeSet<String>) -> Option<String> {
    let alphabet = || (b'A'..=b'Z').map(char::from);
    let alone = alphabet().skip(1).filter(|_| here == FOUNDER).map(String::from);
    let given: Vec<String> = alone.chain(alphabet().map(|sign| format!("{here}{sign}"))).collect();
    let last = given.iter().rposition(|letter| used.contains(letter));
    given.into_iter().nth(last.map_or(0, |last| last + 1))
}

/// Drops a device: nothing is sent to it any more, and what it writes from now on is believed by nobody. What it sent
/// stays.
///
/// # Errors
/// When it is not for whoever asks, or there is no such device.
pub fn drop_device(desk: &mut Desk, letter: &str, reason: Option<&str>) -> Result<Dropped, OfficeError> {
    desk.check(Act::KeepDevices)?;
    let letter = letter.trim().to_uppercase();
    if desk.ledger()?.device() == letter {
        return Err(OfficeError::refused("device", "this is the one you sit at", "Drop it from another one"));
    }
    let roster = desk.books().roster()?;
    let member = roster.member(&letter).ok_or_else(|| {
        OfficeError::not_found(format!("The firm has no device {letter}."), "Look at the list of devices.")
    })?;
    if member.last_seq.is_some() {
        let problem = format!("{} was dropped already", member.name);
        return Err(OfficeError::refused("device", &problem, "Choose another one"));
    }
    let ends = desk.books().device_ends()?;
    let entries = ends.iter().find(|(device, _)| *device == letter).map_or(0, |(_, end)| *end);
    let fact = DeviceLeft {
        date: desk.clock.today(),
        device: member.id,
        last_seq: entries,
        reason: reason.map(str::trim).filter(|reason| !reason.is_empty()).map(str::to_owned),
    };
    desk.record(vec![fact.into()])?;
    let knows_store = DeviceSecrets::kept(&desk.path())?.is_some_and(|keys| keys.store().is_some());
    Ok(Dropped { name: member.name.clone(), letter, entries, knows_store })
}

#[cfg(test)]
mod tests {
    use super::free_of;

    #[test]
    fn no_two_owners_can_give_one_letter() {
        let free =
            |here: &str, used: &[&str]| free_of(here, &used.iter().map(|&letter| letter.into()).collect());
        for (here, used, next) in [
            ("A", &["A"][..], "B"),
            ("A", &["A", "B", "D"], "E"),
            ("A", &["A", "Z"], "AA"),
            ("A", &["A", "Z", "AB", "BA"], "AC"),
            ("B", &["A", "B", "C"], "BA"),
            ("B", &["A", "B", "BA", "BC"], "BD"),
            ("AA", &["A", "AA", "AB"], "AAA"),
        ] {
            assert_eq!(free(here, used).as_deref(), Some(next), "{here}, {used:?}");
        }
        assert_eq!(free("B", &["BZ"]), None);
        // All that each of several devices can give, and nothing twice.
        let mut all = Vec::new();
        for here in ["A", "B", "C", "AA", "BA"] {
            let mut used = std::collections::BTreeSet::new();
            while let Some(letter) = free_of(here, &used) {
                used.insert(letter);
            }
            all.extend(used);
        }
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!((count, all.len()), (25 + 5 * 26, count));
    }
}

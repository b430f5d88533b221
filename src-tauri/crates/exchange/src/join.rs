//! Joining: from one joining file and its passphrase comes the new device's own file, with its letters and its keys.

use crate::error::ExchangeError;
use crate::joining::Joining;
use crate::round::INVITER;
use crate::secrets::DeviceSecrets;
use crate::settings::STORE;
use desk::device::ROLE;
use desk::pin;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{Ledger, LedgerError};
use serde::Serialize;
use std::path::{Path, PathBuf};

/// A device that has joined.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Joined {
    /// The firm.
    pub firm: String,
    /// The device's letters.
    pub letter: String,
    /// What people call it.
    pub name: String,
    /// What it may hold.
    pub role: Role,
    /// Whose it is.
    pub person: String,
    /// Its file.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub file: PathBuf,
    /// Where parcels lie, if the joining file says so.
    pub store: Option<String>,
}

/// Joins the firm: makes the device's file and keeps its keys beside it. Cut short, it can be done again.
///
/// # Errors
/// When the file is no joining file, the passphrase is another's, or something lies where the file should go.
pub fn join(joining: &Path, passphrase: &str, to: &Path) -> Result<Joined, ExchangeError> {
    let bytes = std::fs::read(joining)
        .map_err(|error| ExchangeError::NoSuchFile(format!("{}: {error}", joining.display())))?;
    let said = Joining::open(&bytes, passphrase)?;
    if to.exists() || to.is_symlink() {
        return Err(LedgerError::Exists(to.to_owned()).into());
    }
    let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let failed = |error: std::io::Error| ExchangeError::Keys(format!("{}: {error}", folder.display()));
    std::fs::create_dir_all(folder).map_err(failed)?;
    // A folder of its own, which goes away with whatever is left in it.
    let work = tempfile::Builder::new().prefix(".tearoff-joining-").tempdir_in(folder).map_err(failed)?;
    let part = work.path().join("ledger");
    fill(&part, &said)?;
    // The keys first: a file without them would be no device of the firm.
    DeviceSecrets::read(&said.keys)?.keep(to)?;
    std::fs::rename(&part, to).map_err(failed)?;
    Ok(Joined {
        firm: said.firm,
        letter: said.letter,
        name: said.name,
        role: said.role,
        person: said.person,
        file: to.to_owned(),
        store: said.store,
    })
}

fn fill(part: &Path, said: &Joining) -> Result<(), ExchangeError> {
    let mut ledger = Ledger::create(part)?;
    let (inviter, key) = &said.inviter;
    let mut settings = vec![
        (DEVICE, said.letter.clone()),
        (ROLE, said.role.as_str().to_owned()),
        (FOUNDER_KEY, said.founder.to_string()),
        (INVITER, format!("{inviter} {key}")),
    ];
    if said.role == Role::Crew {
        settings.push((COPY, SITE.to_owned()));
    }
    settings.extend(said.store.clone().map(|store| (STORE, store)));
    for (name, value) in settings {
        ledger.set_setting(name, &value)?;
    }
    for (role, hash) in &said.pins {
        ledger.set_setting(&pin::setting_of(*role), hash)?;
    }
    Ok(())
}

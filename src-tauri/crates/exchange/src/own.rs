//! What this device has of its own: its keys, and the key by which its firm is told from another.

use crate::error::ExchangeError;
use crate::letters::finish;
use crate::secrets::DeviceSecrets;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::closed_lists::Role;
use ledger::facts::{Device, Person};
use ledger::roster::FOUNDER;
use ledger::take_in::FOUNDER_KEY;
use ledger::{Id, PublicKey};

/// This device's keys, which it must have.
///
/// # Errors
/// When it has none, or another device's.
pub fn keys_of(desk: &Desk) -> Result<DeviceSecrets, ExchangeError> {
    let here = desk.books().setting(ledger::draft::DEVICE)?.unwrap_or_default();
    if desk.writes() {
        finish(&desk.path(), &here)?;
    }
    let keys = DeviceSecrets::kept(&desk.path())?.ok_or(ExchangeError::NoKeys)?;
    match desk.books().roster()?.member(&here) {
        Some(me) if me.signs_with != keys.signs_with() => Err(ExchangeError::AnothersLetter(here)),
        _ => Ok(keys),
    }
}

/// This device's keys; the device on which the books were made gives itself some, and its line in the roster.
pub(crate) fn own_keys(desk: &mut Desk) -> Result<DeviceSecrets, ExchangeError> {
    let here = desk.ledger()?.device().to_owned();
    finish(&desk.path(), &here)?;
    if here != FOUNDER || desk.books().roster()?.member(FOUNDER).is_some() {
        return keys_of(desk);
    }
    let keys = match DeviceSecrets::kept(&desk.path())? {
        Some(kept) => kept,
        None => DeviceSecrets::new()?,
    };
    // On the disk before anybody is told of them.
    keys.keep(&desk.path())?;
    let owner = first_owner(desk)?;
    let fact = device_fact(desk.clock.today(), FOUNDER, "The office", Role::Owner, owner, &keys);
    desk.record(vec![fact.into()])?;
    Ok(keys)
}

fn first_owner(desk: &Desk) -> Result<Id, OfficeError> {
    let people = desk.books().all::<Person>()?;
    let owner = people.into_iter().find(|held| held.fact.role == Role::Owner && held.fact.revises.is_none());
    owner
        .map(|held| held.entry.id)
        .ok_or_else(|| OfficeError::not_found("This ledger has no owner yet.", "Make the firm first."))
}

pub(crate) fn device_fact(
    date: Date,
    letter: &str,
    name: &str,
    role: Role,
    person: Id,
    keys: &DeviceSecrets,
) -> Device {
    Device {
        date,
        letter: letter.to_owned(),
        name: name.to_owned(),
        role: Some(role),
        person: Some(person),
        signs_with: Some(keys.signs_with()),
        locks_with: Some(keys.locks_with()),
    }
}

/// The key of the device on which the firm's books were made: by it a firm is told from another.
pub(crate) fn founder_key(desk: &Desk) -> Result<Option<PublicKey>, OfficeError> {
    if let Some(member) = desk.books().roster()?.member(FOUNDER) {
        return Ok(Some(member.signs_with));
    }
    Ok(desk.books().setting(FOUNDER_KEY)?.and_then(|text| PublicKey::parse(&text).ok()))
}

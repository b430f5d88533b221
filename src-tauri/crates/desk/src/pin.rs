//! PINs: asked before somebody sits down in a role that sees cost. The file keeps only what it takes to check one,
//! and a back-up not even that.
//!
//! They keep cost and margin out of sight of whoever borrows the desk. They encrypt nothing: somebody with the file and
//! another program can read it.

use crate::code::Code;
use crate::desk::Desk;
use crate::error::OfficeError;
use crate::state_folder;
use crate::wrong_pins::WrongPins;
use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};
use base64::Engine;
use base64::engine::general_purpose::STANDARD_NO_PAD;
use jiff::Timestamp;
use ledger::Id;
use ledger::closed_lists::Role;
use ledger::draft::OWN_SETTING;
use std::path::Path;
use std::time::Duration;
use trade::shown::count_of;

/// The roles that can have a PIN: those that see what things cost.
pub const ROLES: [Role; 2] = [Role::Owner, Role::Books];

const LEAST: usize = 6;
const MOST: usize = 64;

/// The setting that holds a role's hash; empty when there is no PIN.
#[must_use]
pub fn setting_of(role: Role) -> String {
    format!("{OWN_SETTING}pin-{role}")
}

/// The hash of a role's PIN in the file, if there is one.
///
/// # Errors
/// When it cannot be read.
pub fn stored(desk: &Desk, role: Role) -> Result<Option<String>, OfficeError> {
    Ok(desk.books().setting(&setting_of(role))?.filter(|hash| !hash.is_empty()))
}

/// The roles that have a PIN.
///
/// # Errors
/// When it cannot be read.
pub fn roles_with(desk: &Desk) -> Result<Vec<Role>, OfficeError> {
    let mut with = Vec::new();
    for role in ROLES {
        if stored(desk, role)?.is_some() {
            with.push(role);
        }
    }
    Ok(with)
}

/// Keeps the hash of a role's new PIN, or takes the PIN away.
///
/// # Errors
/// When the role sees nothing that a PIN could guard, or the file cannot be written to.
pub fn store(desk: &mut Desk, role: Role, hash: Option<&str>) -> Result<(), OfficeError> {
    if !ROLES.contains(&role) {
        let problem = format!("the role {role} sees no cost and has no PIN");
        return Err(OfficeError::refused("role", &problem, "Choose the owner or the books."));
    }
    Ok(desk.ledger()?.set_setting(&setting_of(role), hash.unwrap_or_default())?)
}

/// Tries a PIN, as soon as the wait for the wrong ones before it is over. It may take minutes: never on a thread that
/// others wait for.
///
/// # Errors
/// `pin`, at the field it was typed in, with how long the next try waits.
pub fn try_pin(
    ledger: &Path,
    role: Role,
    hash: &str,
    pin: Option<&str>,
    field: &str,
) -> Result<(), OfficeError> {
    if pin.is_none_or(str::is_empty) {
        return check(hash, pin, field);
    }
    let mut wrong = WrongPins::of(&state_folder::of_pins(), ledger, role);
    std::thread::sleep(wrong.left(Timestamp::now()));
    let wait = wrong.count(Timestamp::now());
    let outcome = check(hash, pin, field);
    if outcome.is_ok() {
        wrong.forget();
    }
    outcome.map_err(|refused| OfficeError {
        remedy: format!("Type it again; the next try waits {}.", seconds(wait)),
        ..refused
    })
}

fn seconds(wait: Duration) -> String {
    count_of(usize::try_from(wait.as_secs()).unwrap_or(usize::MAX), "second")
}

/// Refuses what is not the PIN. It takes a while by design.
fn check(hash: &str, pin: Option<&str>, field: &str) -> Result<(), OfficeError> {
    let refused = |message: &str, remedy: &str| OfficeError {
        code: Code::Pin,
        field: Some(field.to_owned()),
        message: message.to_owned(),
        remedy: remedy.to_owned(),
    };
    let Some(pin) = pin.filter(|pin| !pin.is_empty()) else {
        return Err(refused("A PIN is asked for.", "Type the PIN."));
    };
    let parsed = PasswordHash::new(hash).map_err(|_| unreadable())?;
    hasher()?
        .verify_password(pin.as_bytes(), &parsed)
        .map_err(|_| refused("That is not the PIN.", "Type it again."))
}

/// The hash of a new PIN. It takes a while, as [`check`] does.
///
/// # Errors
/// When the PIN is too short or too long.
pub fn hash_of(pin: &str) -> Result<String, OfficeError> {
    let length = pin.chars().count();
    if !(LEAST..=MOST).contains(&length) {
        return Err(OfficeError {
            code: Code::Refused,
            field: Some("pin".to_owned()),
            message: format!("The PIN has {length} signs; {LEAST} to {MOST} are taken."),
            remedy: "Type a longer one, such as some words.".to_owned(),
        });
    }
    // A fresh id is random enough for a salt, which need only differ from one PIN to the next.
    let salt = STANDARD_NO_PAD.encode(Id::now().bytes());
    let salt = SaltString::from_b64(&salt).map_err(|_| unreadable())?;
    let hash = hasher()?.hash_password(pin.as_bytes(), &salt).map_err(|_| unreadable())?;
    Ok(hash.to_string())
}

/// Argon2id with 19 MiB and two passes: the least that is advised for passwords, some tens of milliseconds here.
fn hasher() -> Result<Argon2<'static>, OfficeError> {
    let params = Params::new(19 * 1024, 2, 1, None).map_err(|_| unreadable())?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

fn unreadable() -> OfficeError {
    OfficeError {
        code: Code::Pin,
        field: None,
        message: "The PIN in the file could not be read.".to_owned(),
        remedy: "Restore a back-up in which it still works.".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_pin_that_was_set_opens() {
        let hash = hash_of("4711 deck").unwrap();
        assert!(hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{hash}");
        assert!(!hash.contains("4711"));
        assert_eq!(check(&hash, Some("4711 deck"), "pin"), Ok(()));
        for wrong in [None, Some(""), Some("4711"), Some("4711 Deck")] {
            assert_eq!(check(&hash, wrong, "pin").unwrap_err().code, Code::Pin, "{wrong:?}");
        }
        assert_ne!(hash_of("4711 deck").unwrap(), hash, "two hashes of one PIN tell that they are the same");
    }

    #[test]
    fn a_pin_of_five_signs_is_refused_at_its_field() {
        assert_eq!(hash_of("12345").unwrap_err().field.as_deref(), Some("pin"));
        assert!(hash_of("123456").is_ok());
    }
}

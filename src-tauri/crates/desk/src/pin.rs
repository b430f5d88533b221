//! The owner's PIN: asked before somebody sits down as the owner. The file keeps only what it takes to check one.
//!
//! It keeps cost and margin out of sight of whoever borrows the desk. It encrypts nothing: somebody with the file and
//! another program can read it.

use crate::code::Code;
use crate::desk::Desk;
use crate::error::OfficeError;
use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};
use base64::Engine;
use base64::engine::general_purpose::STANDARD_NO_PAD;
use ledger::Id;

/// The setting that holds the hash; empty when there is no PIN.
pub const SETTING: &str = "owner-pin";

const LEAST: usize = 4;
const MOST: usize = 64;

/// The hash in the file, if there is a PIN.
///
/// # Errors
/// When it cannot be read.
pub fn stored(desk: &Desk) -> Result<Option<String>, OfficeError> {
    Ok(desk.books().setting(SETTING)?.filter(|hash| !hash.is_empty()))
}

/// Keeps the hash of a new PIN, or takes the PIN away.
///
/// # Errors
/// When the file cannot be written to.
pub fn store(desk: &mut Desk, hash: Option<&str>) -> Result<(), OfficeError> {
    Ok(desk.ledger()?.set_setting(SETTING, hash.unwrap_or_default())?)
}

/// Refuses what is not the PIN. It takes a while by design: never on a thread that others wait for.
///
/// # Errors
/// `pin`, at the field it was typed in.
pub fn check(hash: &str, pin: Option<&str>, field: &str) -> Result<(), OfficeError> {
    let refused = |message: &str, remedy: &str| OfficeError {
        code: Code::Pin,
        field: Some(field.to_owned()),
        message: message.to_owned(),
        remedy: remedy.to_owned(),
    };
    let Some(pin) = pin.filter(|pin| !pin.is_empty()) else {
        return Err(refused("The owner's PIN is asked for.", "Type the PIN."));
    };
    let parsed = PasswordHash::new(hash).map_err(|_| unreadable())?;
    hasher()?
        .verify_password(pin.as_bytes(), &parsed)
        .map_err(|_| refused("That is not the owner's PIN.", "Type it again."))
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
            remedy: "Type a longer one, such as six digits.".to_owned(),
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
    fn only_the_pin_that_was_set_opens_what_is_the_owners() {
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
    fn a_pin_of_three_signs_is_refused_at_its_field() {
        assert_eq!(hash_of("123").unwrap_err().field.as_deref(), Some("pin"));
    }
}

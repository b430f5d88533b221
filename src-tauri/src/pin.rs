//! The owner's PIN: asked before somebody sits down as the owner. The file keeps only what it takes to check one.
//!
//! It keeps cost and margin out of sight of whoever borrows the desk. It encrypts nothing: somebody with the file and
//! another program can read it.

use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};
use base64::Engine;
use base64::engine::general_purpose::STANDARD_NO_PAD;
use office::{Desk, Id};

use crate::refusal::Refusal;

/// The setting that holds the hash; empty when there is no PIN.
const SETTING: &str = "owner-pin";

const LEAST: usize = 4;
const MOST: usize = 64;

/// The hash in the file, if there is a PIN.
pub(crate) fn kept(desk: &Desk) -> Result<Option<String>, Refusal> {
    let setting =
        desk.books().setting(SETTING).map_err(|error| Refusal::from(office::OfficeError::from(error)))?;
    Ok(setting.filter(|hash| !hash.is_empty()))
}

/// Sets the PIN, or takes it away. The old one is asked for where there is one.
pub(crate) fn set(desk: &mut Desk, old: Option<&str>, pin: Option<&str>) -> Result<(), Refusal> {
    if let Some(hash) = kept(desk)? {
        check(&hash, old, "old")?;
    }
    let hash = pin.map(hash_of).transpose()?.unwrap_or_default();
    let ledger = desk.ledger().map_err(Refusal::from)?;
    ledger.set_setting(SETTING, &hash).map_err(|error| Refusal::from(office::OfficeError::from(error)))
}

/// Whether this is the PIN.
pub(crate) fn check(hash: &str, pin: Option<&str>, field: &str) -> Result<(), Refusal> {
    let Some(pin) = pin.filter(|pin| !pin.is_empty()) else {
        let refusal = Refusal::of_field(field, "The owner's PIN is asked for.", "Type the PIN.");
        return Err(Refusal { code: "pin".to_owned(), ..refusal });
    };
    let parsed = PasswordHash::new(hash).map_err(|_| unreadable())?;
    match hasher()?.verify_password(pin.as_bytes(), &parsed) {
        Ok(()) => Ok(()),
        Err(_) => {
            let refusal = Refusal::of_field(field, "That is not the owner's PIN.", "Type it again.");
            Err(Refusal { code: "pin".to_owned(), ..refusal })
        }
    }
}

fn hash_of(pin: &str) -> Result<String, Refusal> {
    let length = pin.chars().count();
    if !(LEAST..=MOST).contains(&length) {
        let message = format!("The PIN has {length} signs; {LEAST} to {MOST} are taken.");
        return Err(Refusal::of_field("pin", message, "Type a longer one, such as six digits."));
    }
    // A fresh id is random enough for a salt, which need only differ from one PIN to the next.
    let salt = STANDARD_NO_PAD.encode(Id::now().bytes());
    let salt = SaltString::from_b64(&salt).map_err(|_| unreadable())?;
    let hash = hasher()?.hash_password(pin.as_bytes(), &salt).map_err(|_| unreadable())?;
    Ok(hash.to_string())
}

/// Argon2id with 19 MiB and two passes: the least that is advised for passwords, some tens of milliseconds here.
fn hasher() -> Result<Argon2<'static>, Refusal> {
    let params = Params::new(19 * 1024, 2, 1, None).map_err(|_| unreadable())?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

fn unreadable() -> Refusal {
    Refusal::new(
        "pin",
        "The PIN in the file could not be read.",
        "Restore a back-up in which it still works.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_pin_that_was_set_opens_the_owners_seat() {
        let hash = hash_of("4711 deck").unwrap();
        assert!(hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{hash}");
        assert!(!hash.contains("4711"));
        assert_eq!(check(&hash, Some("4711 deck"), "pin"), Ok(()));
        for wrong in [None, Some(""), Some("4711"), Some("4711 Deck")] {
            assert_eq!(check(&hash, wrong, "pin").unwrap_err().code, "pin", "{wrong:?}");
        }
        assert_ne!(hash_of("4711 deck").unwrap(), hash, "two hashes of one PIN tell that they are the same");
    }

    #[test]
    fn a_pin_of_three_signs_is_refused_at_its_field() {
        assert_eq!(hash_of("123").unwrap_err().field.as_deref(), Some("pin"));
    }
}

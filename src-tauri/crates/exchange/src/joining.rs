//! A joining file: what a new device needs to be one of the firm's, locked by a passphrase that is told apart from it.

use crate::error::ExchangeError;
use crate::secrets::Written;
use age::secrecy::SecretString;
use ledger::PublicKey;
use ledger::closed_lists::Role;
use serde::{Deserialize, Serialize};
use std::io::{Read, Write};

/// What a new device needs.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Joining {
    /// The firm's name.
    pub(crate) firm: String,
    /// The device's letters.
    pub(crate) letter: String,
    /// What people call it.
    pub(crate) name: String,
    /// What it may hold.
    pub(crate) role: Role,
    /// Whose it is.
    pub(crate) person: String,
    /// Its keys, and what opens the store.
    pub(crate) keys: Written,
    /// The key of the device on which the firm's books were made.
    pub(crate) founder: PublicKey,
    /// The device that wrote this, and its key: the first to be believed where the founder is gone.
    pub(crate) inviter: (String, PublicKey),
    /// Where parcels lie.
    pub(crate) store: Option<String>,
    /// What it takes to check the PINs, where the device holds what they guard: on a crew's there is nothing.
    pub(crate) pins: Vec<(Role, String)>,
}

/// Signs that are not taken for one another when they are read aloud or from paper.
const SIGNS: &[u8; 31] = b"abcdefghjkmnpqrstuvwxyz23456789";
const GROUPS: usize = 4;
const IN_A_GROUP: usize = 4;

/// A new passphrase: sixteen signs of 31, which is 79 bits, in groups of four.
pub(crate) fn new_passphrase() -> Result<String, ExchangeError> {
    let mut signs = Vec::new();
    while signs.len() < GROUPS * IN_A_GROUP {
        let mut byte = [0];
        getrandom::fill(&mut byte)
            .map_err(|error| ExchangeError::Keys(format!("the system gave no random numbers: {error}")))?;
        // Only as many values as can be dealt evenly.
        if let Some(sign) = SIGNS.get(usize::from(byte[0] & 31)) {
            signs.push(*sign);
        }
    }
    let groups: Vec<String> =
        signs.chunks(IN_A_GROUP).map(|group| String::from_utf8_lossy(group).into_owned()).collect();
    Ok(groups.join("-"))
}

/// However it is typed: capitals, spaces and hyphens do not matter.
fn secret(passphrase: &str) -> SecretString {
    let signs = passphrase.chars().filter(char::is_ascii_alphanumeric);
    SecretString::from(signs.map(|sign| sign.to_ascii_lowercase()).collect::<String>())
}

/// How much work a try at the passphrase takes: 2^16 rounds, 64 MiB, a quarter of a second. It is the same wherever a
/// file is locked, so that a slow tablet opens what a fast desk has locked; of 79 random bits nobody tries out many.
const WORK: u8 = 16;

/// What takes more is not ours, up to which it is tried all the same (2^22 rounds, 4 GiB).
const MOST_WORK: u8 = 22;

/// No joining file is longer.
const MOST_BYTES: usize = 64 * 1024;

impl Joining {
    /// Locks it by a passphrase.
    pub(crate) fn locked(&self, passphrase: &str) -> Result<Vec<u8>, ExchangeError> {
        let failed = |problem: String| ExchangeError::Keys(problem);
        let text = serde_json::to_vec(self).map_err(|error| failed(error.to_string()))?;
        let mut bytes = Vec::new();
        let mut key = age::scrypt::Recipient::new(secret(passphrase));
        key.set_work_factor(WORK);
        let lock = age::Encryptor::with_recipients(std::iter::once(&key as &dyn age::Recipient));
        let lock = lock.map_err(|error| failed(error.to_string()))?;
        let mut writer = lock.wrap_output(&mut bytes).map_err(|error| failed(error.to_string()))?;
        writer.write_all(&text).map_err(|error| failed(error.to_string()))?;
        writer.finish().map_err(|error| failed(error.to_string()))?;
        Ok(bytes)
    }

    /// Opens it. It takes a while by design.
    pub(crate) fn open(bytes: &[u8], passphrase: &str) -> Result<Joining, ExchangeError> {
        let no_joining = |why: &str| ExchangeError::NoSuchFile(format!("This is no joining file: {why}"));
        if bytes.len() > MOST_BYTES {
            return Err(no_joining("it is too long"));
        }
        let lock = age::Decryptor::new(bytes).map_err(|_| no_joining("it is not locked as one is"))?;
        if !lock.is_scrypt() {
            return Err(no_joining("it is not locked by a passphrase"));
        }
        let mut key = age::scrypt::Identity::new(secret(passphrase));
        key.set_max_work_factor(MOST_WORK);
        let opened = lock.decrypt(std::iter::once(&key as &dyn age::Identity));
        let mut text = Vec::new();
        opened
            .map_err(|error| match error {
                age::DecryptError::ExcessiveWork { .. } => no_joining("this machine is too slow to open it"),
                _ => ExchangeError::Passphrase,
            })?
            .read_to_end(&mut text)
            .map_err(|_| no_joining("it was cut short or altered"))?;
        serde_json::from_slice(&text).map_err(|_| no_joining("another version of the program wrote it"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::secrets::DeviceSecrets;

    fn joining() -> (Joining, DeviceSecrets) {
        let keys = DeviceSecrets::new().unwrap().with_store(Some("opens the store".to_owned()));
        let joining = Joining {
            firm: "Gable and Eave".to_owned(),
            letter: "B".to_owned(),
            name: "Tablet of the North crew".to_owned(),
            role: Role::Crew,
            person: "Bo Finch".to_owned(),
            keys: keys.written(),
            founder: keys.signs_with(),
            inviter: ("A".to_owned(), keys.signs_with()),
            store: Some("/media/stick".to_owned()),
            pins: Vec::new(),
        };
        (joining, keys)
    }

    #[test]
    fn only_the_passphrase_opens_it_and_nothing_of_it_can_be_read() {
        let (joining, keys) = joining();
        let passphrase = new_passphrase().unwrap();
        let bytes = joining.locked(&passphrase).unwrap();
        for text in ["Gable", "opens the store", "/media/stick"] {
            assert!(!bytes.windows(text.len()).any(|window| window == text.as_bytes()), "{text}");
        }
        let typed = passphrase.to_uppercase().replace('-', " ");
        let opened = Joining::open(&bytes, &typed).unwrap();
        let read = DeviceSecrets::read(&opened.keys).unwrap();
        assert_eq!((read.signs_with(), read.store()), (keys.signs_with(), Some("opens the store")));
        assert_eq!((opened.letter.as_str(), opened.role), ("B", Role::Crew));
        assert!(matches!(Joining::open(&bytes, "abcd-abcd-abcd-abcd"), Err(ExchangeError::Passphrase)));
        let cut = &bytes[..bytes.len() - 9];
        assert!(matches!(Joining::open(cut, &passphrase), Err(ExchangeError::NoSuchFile(_))));
        assert!(matches!(Joining::open(b"a letter", &passphrase), Err(ExchangeError::NoSuchFile(_))));
    }

    #[test]
    fn passphrases_are_long_and_never_the_same() {
        let (one, two) = (new_passphrase().unwrap(), new_passphrase().unwrap());
        assert_ne!(one, two);
        let groups: Vec<&str> = one.split('-').collect();
        assert_eq!((groups.len(), groups[0].len()), (GROUPS, IN_A_GROUP), "{one}");
        assert!(one.bytes().all(|sign| sign == b'-' || SIGNS.contains(&sign)), "{one}");
    }
}

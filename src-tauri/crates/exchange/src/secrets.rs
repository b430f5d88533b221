//! The secret keys of a device: the one that it signs with, and the one that opens what is locked to it. They lie in a
//! file of the user's own beside the ledger, and in no back-up of it: a copy of the ledger restored elsewhere is no
//! device of the firm until it joins. What opens the store lies there too.

use crate::error::ExchangeError;
use age::secrecy::ExposeSecret;
use ledger::{DeviceKey, PublicKey};
use serde::{Deserialize, Serialize};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The secret keys of this device.
pub struct DeviceSecrets {
    signing: DeviceKey,
    identity: age::x25519::Identity,
    store: Option<String>,
}

impl std::fmt::Debug for DeviceSecrets {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "DeviceSecrets({})", self.signs_with())
    }
}

/// The keys as they are kept.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Written {
    signing: String,
    opening: String,
    /// What opens the store, if it asks for anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    store: Option<String>,
}

impl DeviceSecrets {
    /// New keys.
    ///
    /// # Errors
    /// When the system gives no random numbers.
    pub fn new() -> Result<DeviceSecrets, ExchangeError> {
        let identity = age::x25519::Identity::generate();
        Ok(DeviceSecrets { signing: DeviceKey::new()?, identity, store: None })
    }

    pub(crate) fn signing(&self) -> &DeviceKey {
        &self.signing
    }

    pub(crate) fn identity(&self) -> &age::x25519::Identity {
        &self.identity
    }

    /// The same keys with what opens the store.
    #[must_use]
    pub fn with_store(self, store: Option<String>) -> DeviceSecrets {
        DeviceSecrets { store, ..self }
    }

    /// What opens the store.
    #[must_use]
    pub fn store(&self) -> Option<&str> {
        self.store.as_deref()
    }

    /// What others know its signature by.
    #[must_use]
    pub fn signs_with(&self) -> PublicKey {
        self.signing.public()
    }

    /// What others lock parcels to it with.
    #[must_use]
    pub fn locks_with(&self) -> String {
        self.identity.to_public().to_string()
    }

    /// The keys to be kept, or handed to the device that they are for.
    #[must_use]
    pub fn written(&self) -> Written {
        let signing = blake3::Hash::from_bytes(self.signing.secret()).to_hex().to_string();
        Written {
            signing,
            opening: self.identity.to_string().expose_secret().to_owned(),
            store: self.store.clone(),
        }
    }

    /// Keys that were kept.
    ///
    /// # Errors
    /// When they are no keys.
    pub fn read(written: &Written) -> Result<DeviceSecrets, ExchangeError> {
        let signing = blake3::Hash::from_hex(&written.signing)
            .map_err(|_| ExchangeError::Keys("what is kept is no signing key".to_owned()))?;
        let identity = written
            .opening
            .parse()
            .map_err(|problem: &str| ExchangeError::Keys(format!("what is kept opens nothing: {problem}")))?;
        let (signing, store) = (DeviceKey::from_secret(*signing.as_bytes()), written.store.clone());
        Ok(DeviceSecrets { signing, identity, store })
    }

    /// Where the keys of a ledger's device lie.
    #[must_use]
    pub fn file(ledger: &Path) -> PathBuf {
        let mut name = ledger.as_os_str().to_owned();
        name.push(ledger::place::KEYS);
        PathBuf::from(name)
    }

    /// Keeps the keys beside the ledger, readable by nobody else. Never over those of another device.
    ///
    /// # Errors
    /// When another device's keys are there, or the disk refuses. What was there is then as it was.
    pub fn keep(&self, ledger: &Path) -> Result<(), ExchangeError> {
        let path = DeviceSecrets::file(ledger);
        if let Some(there) = DeviceSecrets::kept(ledger)?
            && there.signs_with() != self.signs_with()
        {
            return Err(ExchangeError::Keys(format!("{} holds another device's", path.display())));
        }
        self.take_the_place_of(ledger)
    }

    /// Keeps the keys beside the ledger in place of whatever lies there.
    pub(crate) fn take_the_place_of(&self, ledger: &Path) -> Result<(), ExchangeError> {
        let path = DeviceSecrets::file(ledger);
        let failed = |error: std::io::Error| ExchangeError::Keys(format!("{}: {error}", path.display()));
        let text =
            serde_json::to_string(&self.written()).map_err(|error| ExchangeError::Keys(error.to_string()))?;
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        // Such a file is its maker's alone from the first moment on, and takes the name when it is whole.
        let mut file = tempfile::NamedTempFile::new_in(folder).map_err(failed)?;
        file.write_all(text.as_bytes()).and_then(|()| file.as_file().sync_all()).map_err(failed)?;
        file.persist(&path).map(|_| ()).map_err(|refused| failed(refused.error))
    }

    /// The keys of a ledger's device; nothing where it has none.
    ///
    /// # Errors
    /// When they are there and cannot be read.
    pub fn kept(ledger: &Path) -> Result<Option<DeviceSecrets>, ExchangeError> {
        let path = DeviceSecrets::file(ledger);
        let text = match std::fs::read_to_string(&path) {
            Ok(text) => text,
            Err(none) if none.kind() == std::io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(ExchangeError::Keys(format!("{}: {error}", path.display()))),
        };
        let written = serde_json::from_str(&text)
            .map_err(|error| ExchangeError::Keys(format!("{}: {error}", path.display())))?;
        DeviceSecrets::read(&written).map(Some)
    }
}

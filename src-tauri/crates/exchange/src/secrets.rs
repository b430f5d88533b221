//! The secret keys of a device: the one that it signs with, and the one that opens what is locked to it. They lie in a
//! file of the user's own beside the ledger, and in no back-up of it: a copy of the ledger restored elsewhere is no
//! device of the firm until it joins.

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
}

impl DeviceSecrets {
    /// New keys.
    ///
    /// # Errors
    /// When the system gives no random numbers.
    pub fn new() -> Result<DeviceSecrets, ExchangeError> {
        Ok(DeviceSecrets { signing: DeviceKey::new()?, identity: age::x25519::Identity::generate() })
    }

    pub(crate) fn signing(&self) -> &DeviceKey {
        &self.signing
    }

    pub(crate) fn identity(&self) -> &age::x25519::Identity {
        &self.identity
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
        Written { signing, opening: self.identity.to_string().expose_secret().to_owned() }
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
        Ok(DeviceSecrets { signing: DeviceKey::from_secret(*signing.as_bytes()), identity })
    }

    /// Where the keys of a ledger's device lie.
    #[must_use]
    pub fn file(ledger: &Path) -> PathBuf {
        let mut name = ledger.as_os_str().to_owned();
        name.push(".key");
        PathBuf::from(name)
    }

    /// Keeps the keys beside the ledger, readable by nobody else. Never over others.
    ///
    /// # Errors
    /// When there are keys already, or the disk refuses.
    pub fn keep(&self, ledger: &Path) -> Result<(), ExchangeError> {
        let path = DeviceSecrets::file(ledger);
        let failed = |error: std::io::Error| ExchangeError::Keys(format!("{}: {error}", path.display()));
        let text =
            serde_json::to_string(&self.written()).map_err(|error| ExchangeError::Keys(error.to_string()))?;
        let mut options = std::fs::File::options();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut file = options.open(&path).map_err(failed)?;
        file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(failed)
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

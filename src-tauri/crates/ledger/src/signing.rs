//! Signed heads: what a device says of its own chain, and how anybody who knows its key can tell that it did.

use crate::error::{LedgerError, io};
use crate::id::{Digest, PublicKey};
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use serde::{Deserialize, Serialize};

/// The key with which a device signs: its secret half never leaves the device.
pub struct DeviceKey(SigningKey);

impl std::fmt::Debug for DeviceKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "DeviceKey({})", self.public())
    }
}

impl DeviceKey {
    /// A new key from the system's random numbers.
    ///
    /// # Errors
    /// When the system gives none.
    pub fn new() -> Result<DeviceKey, LedgerError> {
        let mut secret = [0; 32];
        getrandom::fill(&mut secret)
            .map_err(std::io::Error::other)
            .map_err(io("The system gave no random numbers"))?;
        Ok(DeviceKey::from_secret(secret))
    }

    /// The key of a secret that was kept.
    #[must_use]
    pub fn from_secret(secret: [u8; 32]) -> DeviceKey {
        DeviceKey(SigningKey::from_bytes(&secret))
    }

    /// The secret, to be kept where only its owner can read it.
    #[must_use]
    pub fn secret(&self) -> [u8; 32] {
        self.0.to_bytes()
    }

    /// What others know it by.
    #[must_use]
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.verifying_key().to_bytes())
    }

    /// Signs some bytes.
    #[must_use]
    pub fn sign(&self, bytes: &[u8]) -> Vec<u8> {
        self.0.sign(bytes).to_bytes().to_vec()
    }
}

impl PublicKey {
    /// Whether this key's secret half signed these bytes. Strict: a key or signature with more than one form is none.
    #[must_use]
    pub fn signed(&self, bytes: &[u8], signature: &[u8]) -> bool {
        let Ok(key) = VerifyingKey::from_bytes(&self.0) else { return false };
        let Ok(signature) = Signature::from_slice(signature) else { return false };
        key.verify_strict(bytes, &signature).is_ok()
    }
}

/// How far a device had written, signed by it: whoever has the entries up to there can tell that they are its own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignedHead {
    /// The device's letters.
    pub device: String,
    /// Its last entry.
    pub device_seq: i64,
    /// That entry's hash.
    pub hash: [u8; 32],
    /// The device's signature.
    pub signature: Vec<u8>,
}

/// What stands before everything that a head's signature is over, so that it is good for nothing else.
const HEAD: &[u8] = b"the head of a device's chain, 1\0";

fn message(device: &str, device_seq: i64, hash: &[u8; 32]) -> Vec<u8> {
    let mut message = HEAD.to_vec();
    message.extend_from_slice(device.as_bytes());
    message.push(0);
    message.extend_from_slice(&device_seq.to_be_bytes());
    message.extend_from_slice(hash);
    message
}

impl SignedHead {
    /// Signs the head of a device's chain.
    #[must_use]
    pub fn of(key: &DeviceKey, device: &str, device_seq: i64, hash: Digest) -> SignedHead {
        let signature = key.sign(&message(device, device_seq, &hash.0));
        SignedHead { device: device.to_owned(), device_seq, hash: hash.0, signature }
    }

    /// Whether the device with this key signed it.
    #[must_use]
    pub fn is_of(&self, key: &PublicKey) -> bool {
        key.signed(&message(&self.device, self.device_seq, &self.hash), &self.signature)
    }
}

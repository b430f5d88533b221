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

#[cfg(test)]
mod tests {
    use super::*;

    fn bytes(hex: &str) -> Vec<u8> {
        (0..hex.len()).step_by(2).map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap()).collect()
    }

    /// RFC 8032, section 7.1, tests 1 and 2: secret, public key, message, signature.
    const PUBLISHED: [[&str; 4]; 2] = [
        [
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46b\
             d25bf5f0595bbe24655141438e7a100b",
        ],
        [
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c\
             387b2eaeb4302aeeb00d291612bb0c00",
        ],
    ];

    #[test]
    fn a_device_signs_as_rfc_8032_publishes() {
        for [secret, public, message, signature] in PUBLISHED {
            let key = DeviceKey::from_secret(bytes(secret).try_into().unwrap());
            assert_eq!(key.public().to_string(), public);
            assert_eq!(key.sign(&bytes(message)), bytes(signature));
            assert!(key.public().signed(&bytes(message), &bytes(signature)));
        }
    }

    /// The order of the group (RFC 8032, section 5.1), the least byte first.
    const ORDER: [u8; 32] = [
        0xed, 0xd3, 0xf5, 0x5c, 0x1a, 0x63, 0x12, 0x58, 0xd6, 0x9c, 0xf7, 0xa2, 0xde, 0xf9, 0xde, 0x14, 0, 0,
        0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x10,
    ];

    fn plus_order(half: &[u8]) -> Vec<u8> {
        let mut carry = 0_u16;
        let sum = half.iter().zip(ORDER).map(|(left, right)| {
            let sum = u16::from(*left) + u16::from(right) + carry;
            carry = sum >> 8;
            sum.to_le_bytes()[0]
        });
        sum.collect()
    }

    /// What collections of hostile signatures try: another form of a good one, cut ones, keys of small order.
    #[test]
    fn no_other_form_of_a_signature_is_one() {
        let [_, public, message, signature] = PUBLISHED[1];
        let (key, message) = (PublicKey::parse(public).unwrap(), bytes(message));
        let good = bytes(signature);
        let malleable = [&good[..32], &plus_order(&good[32..])].concat();
        assert_ne!(malleable, good);
        let mut bad =
            vec![malleable, Vec::new(), good[..63].to_vec(), [&good[..], &[0]].concat(), vec![0; 64]];
        for at in 0..good.len() {
            let mut flipped = good.clone();
            flipped[at] ^= 1;
            bad.push(flipped);
        }
        for wrong in bad {
            assert!(!key.signed(&message, &wrong), "{wrong:?}");
        }
        // The neutral element signs everything with everything, where it is let in.
        let mut small = [0; 32];
        small[0] = 1;
        let forged = [&small[..], &[0; 32]].concat();
        assert!(!PublicKey(small).signed(&message, &forged));
    }
}

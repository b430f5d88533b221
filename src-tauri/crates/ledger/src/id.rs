//! Names of facts: a UUIDv7 made by whoever records the fact, so that a retried append is recognized.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// The id of one fact. Sixteen bytes, ordered by the time it was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Id(pub Uuid);

impl Id {
    /// A new id from the clock of this machine.
    #[must_use]
    pub fn now() -> Id {
        Id(Uuid::now_v7())
    }

    /// An id made from a given moment and counter, so that a sample or a test is the same every time.
    #[must_use]
    pub fn made_of(unix_ms: u64, counter: u64) -> Id {
        let mut random = [0_u8; 10];
        random[2..].copy_from_slice(&counter.to_be_bytes());
        Id(uuid::Builder::from_unix_timestamp_millis(unix_ms, &random).into_uuid())
    }

    /// Reads the usual text form with hyphens.
    ///
    /// # Errors
    /// Says so when the text is not a UUID.
    pub fn parse(text: &str) -> Result<Id, String> {
        Uuid::parse_str(text.trim())
            .map(Id)
            .map_err(|_| format!("“{text}” is not an id: 32 hexadecimal digits with hyphens are expected"))
    }

    /// The sixteen bytes as stored.
    #[must_use]
    pub fn bytes(&self) -> &[u8; 16] {
        self.0.as_bytes()
    }
}

impl std::fmt::Display for Id {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

/// A BLAKE3 hash: of a fact in the chain, or of an attachment's bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Digest(pub [u8; 32]);

impl Digest {
    /// What the chain of a device starts from.
    pub const ZERO: Digest = Digest([0; 32]);

    /// The hash of some bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Digest {
        Digest(*blake3::hash(bytes).as_bytes())
    }

    /// Reads 64 hexadecimal digits.
    ///
    /// # Errors
    /// Says so when the text is anything else.
    pub fn parse(text: &str) -> Result<Digest, String> {
        blake3::Hash::from_hex(text)
            .map(|hash| Digest(*hash.as_bytes()))
            .map_err(|_| format!("“{text}” is not a hash: 64 hexadecimal digits are expected"))
    }
}

impl std::fmt::Display for Digest {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&blake3::Hash::from_bytes(self.0).to_hex())
    }
}

impl Serialize for Digest {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Digest {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Digest, D::Error> {
        let text = String::deserialize(deserializer)?;
        Digest::parse(&text).map_err(serde::de::Error::custom)
    }
}

/// The public half of the key with which a device signs the head of its chain (Ed25519, RFC 8032).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct PublicKey(pub [u8; 32]);

impl PublicKey {
    /// Reads 64 hexadecimal digits.
    ///
    /// # Errors
    /// Says so when the text is anything else.
    pub fn parse(text: &str) -> Result<PublicKey, String> {
        blake3::Hash::from_hex(text)
            .map(|bytes| PublicKey(*bytes.as_bytes()))
            .map_err(|_| format!("“{text}” is not a device's key: 64 hexadecimal digits are expected"))
    }
}

impl std::fmt::Display for PublicKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&blake3::Hash::from_bytes(self.0).to_hex())
    }
}

impl Serialize for PublicKey {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PublicKey {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<PublicKey, D::Error> {
        let text = String::deserialize(deserializer)?;
        PublicKey::parse(&text).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The hashes of nothing and of “abc”, and two of the function's published vectors: their input counts 0, 1, … 250,
    /// over and over.
    #[test]
    fn a_digest_is_blake3_as_it_is_published() {
        let counted = |length: usize| -> Vec<u8> { (0..251).cycle().take(length).collect() };
        for (bytes, hash) in [
            (Vec::new(), "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262"),
            (b"abc".to_vec(), "6437b3ac38465133ffb63b75273a8db548c558465d79db03fd359c6cd5bd9d85"),
            (counted(1), "2d3adedff11b61f14c886e35afa036736dcd87a74d27b5c1510225d0f592e213"),
            (counted(1024), "42214739f095a406f3fc83deb889744ac00df831c10daa55189b5d121c855af7"),
        ] {
            assert_eq!(Digest::of(&bytes).to_string(), hash, "{} bytes", bytes.len());
        }
    }
}

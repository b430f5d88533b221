//! A parcel: immutable, named by the hash of its bytes, signed by its sender, compressed, and locked to the devices
//! that may read it.

use crate::error::ExchangeError;
use crate::index::Index;
use crate::secrets::DeviceSecrets;
use ledger::{ChainPart, Digest, PublicKey};
use serde::{Deserialize, Serialize};
use std::io::{Read, Write};

/// What is in a parcel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Content {
    /// A part of a chain.
    Chain(ChainPart),
    /// What the sender has put into the store.
    Index(Index),
    /// A piece of a photo or paper.
    Piece(Piece),
}

/// A piece of a file. What all of them come to proves itself by its hash.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Piece {
    /// The hash of the whole.
    pub hash: Digest,
    /// Its place among the pieces, from 0.
    pub place: u64,
    /// The piece.
    pub bytes: Vec<u8>,
}

/// A parcel as it lies in the store.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parcel {
    /// The hash of its bytes.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

#[derive(Serialize, Deserialize)]
struct Signed {
    from: String,
    body: Vec<u8>,
    signature: Vec<u8>,
}

/// What stands before everything that a parcel's signature is over, so that it is good for nothing else.
const PARCEL: &[u8] = b"a parcel between devices, 1\0";

/// No parcel unfolds to more, so that a small one cannot fill the memory of who opens it.
const MOST_BYTES: u64 = 256 * 1024 * 1024;

fn message(from: &str, body: &[u8]) -> Vec<u8> {
    [PARCEL, from.as_bytes(), &[0], body].concat()
}

/// The name of some bytes.
#[must_use]
pub(crate) fn name_of(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

/// Packs a parcel: signs, compresses, locks.
///
/// # Errors
/// When there is nobody to lock it to, or the system gives no random numbers.
pub fn pack(
    from: &str,
    secrets: &DeviceSecrets,
    content: &Content,
    to: &[&str],
) -> Result<Parcel, ExchangeError> {
    let failed = |problem: String| ExchangeError::Parcel { name: "(new)".to_owned(), problem };
    let body = postcard::to_stdvec(content).map_err(|error| failed(error.to_string()))?;
    let signature = secrets.signing().sign(&message(from, &body));
    let signed = postcard::to_stdvec(&Signed { from: from.to_owned(), body, signature })
        .map_err(|error| failed(error.to_string()))?;
    let folded = zstd::encode_all(&signed[..], 0).map_err(|error| failed(error.to_string()))?;
    let recipients: Vec<age::x25519::Recipient> = to
        .iter()
        .map(|text| text.parse().map_err(|problem: &str| failed(format!("“{text}”: {problem}"))))
        .collect::<Result<_, _>>()?;
    let locked = age::Encryptor::with_recipients(recipients.iter().map(|to| to as &dyn age::Recipient))
        .map_err(|error| failed(error.to_string()))?;
    let mut bytes = Vec::new();
    let mut writer = locked.wrap_output(&mut bytes).map_err(|error| failed(error.to_string()))?;
    writer.write_all(&folded).map_err(|error| failed(error.to_string()))?;
    writer.finish().map_err(|error| failed(error.to_string()))?;
    Ok(Parcel { name: name_of(&bytes), bytes })
}

/// Opens a parcel of this name. `key_of` knows by which key a device signs. What proves itself, as a chain does by its
/// own device's signature, is taken from whoever carries it.
///
/// # Errors
/// When the bytes are not those of the name, it is not for this device, or not signed by whom it says.
pub fn unpack(
    name: &str,
    bytes: &[u8],
    secrets: &DeviceSecrets,
    key_of: &dyn Fn(&str) -> Option<PublicKey>,
) -> Result<(String, Content), ExchangeError> {
    let failed = |problem: String| ExchangeError::Parcel { name: name.to_owned(), problem };
    if name_of(bytes) != name {
        return Err(failed("its bytes are not those that were put there".to_owned()));
    }
    let lock = age::Decryptor::new(bytes).map_err(|error| failed(error.to_string()))?;
    let identity = std::iter::once(secrets.identity() as &dyn age::Identity);
    let folded = lock.decrypt(identity).map_err(|error| failed(error.to_string()))?;
    let mut unfolded = Vec::new();
    let mut reader =
        zstd::Decoder::new(folded).map_err(|error| failed(error.to_string()))?.take(MOST_BYTES + 1);
    reader.read_to_end(&mut unfolded).map_err(|error| failed(error.to_string()))?;
    if u64::try_from(unfolded.len()).unwrap_or(u64::MAX) > MOST_BYTES {
        return Err(failed("it unfolds to more than a parcel may hold".to_owned()));
    }
    let signed: Signed = postcard::from_bytes(&unfolded).map_err(|error| failed(error.to_string()))?;
    let content = postcard::from_bytes(&signed.body).map_err(|error| failed(error.to_string()))?;
    let is_signed = |key: PublicKey| key.signed(&message(&signed.from, &signed.body), &signed.signature);
    match (key_of(&signed.from), &content) {
        (Some(key), _) if is_signed(key) => Ok((signed.from, content)),
        // A chain is signed by its own device, and a file is what its hash says, whoever carries it.
        (_, Content::Chain(_) | Content::Piece(_)) => Ok((signed.from, content)),
        _ => Err(failed(format!("it is not signed by device {}", signed.from))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::sync::OnceLock;

    fn keys() -> &'static (DeviceSecrets, DeviceSecrets) {
        static KEYS: OnceLock<(DeviceSecrets, DeviceSecrets)> = OnceLock::new();
        KEYS.get_or_init(|| (DeviceSecrets::new().unwrap(), DeviceSecrets::new().unwrap()))
    }

    fn parcel() -> &'static Parcel {
        static PARCEL: OnceLock<Parcel> = OnceLock::new();
        PARCEL.get_or_init(|| {
            let (from, to) = keys();
            let index = Index { counter: 7, ..Index::default() };
            pack("A", from, &Content::Index(index), &[&to.locks_with()]).unwrap()
        })
    }

    fn opened(bytes: &[u8]) -> Result<(String, Content), ExchangeError> {
        let (from, to) = keys();
        // Named by whatever the bytes are, as a store would do that writes along.
        unpack(&name_of(bytes), bytes, to, &|letter| (letter == "A").then(|| from.signs_with()))
    }

    #[test]
    fn a_parcel_opens_for_whom_it_is_and_says_who_signed_it() {
        let parcel = parcel();
        let (from, content) = opened(&parcel.bytes).unwrap();
        assert!(from == "A" && matches!(content, Content::Index(index) if index.counter == 7));
        let (sender, _) = keys();
        let strange = DeviceSecrets::new().unwrap();
        assert!(unpack(&parcel.name, &parcel.bytes, &strange, &|_| Some(sender.signs_with())).is_err());
        let reader = &keys().1;
        assert!(unpack(&parcel.name, &parcel.bytes, reader, &|_| Some(strange.signs_with())).is_err());
        assert!(unpack(&"0".repeat(64), &parcel.bytes, reader, &|_| Some(sender.signs_with())).is_err());
    }

    proptest! {
        #[test]
        fn bytes_of_any_kind_are_refused_and_break_nothing(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
            prop_assert!(opened(&bytes).is_err());
        }

        #[test]
        fn a_parcel_altered_anywhere_or_cut_is_refused(at in any::<prop::sample::Index>(), flip in 1..=255_u8) {
            let whole = &parcel().bytes;
            let at = at.index(whole.len());
            let mut altered = whole.clone();
            altered[at] ^= flip;
            prop_assert!(opened(&altered).is_err());
            prop_assert!(opened(&whole[..at]).is_err());
        }

        /// What stands inside, once it is unlocked: whoever is of the firm may write anything there.
        #[test]
        fn what_a_device_of_the_firm_packs_breaks_nothing(body in prop::collection::vec(any::<u8>(), 0..300)) {
            let (from, to) = keys();
            let signature = from.signing().sign(&message("A", &body));
            let signed = postcard::to_stdvec(&Signed { from: "A".to_owned(), body: body.clone(), signature }).unwrap();
            for inside in [signed, body] {
                let folded = zstd::encode_all(&inside[..], 0).unwrap();
                let recipient: age::x25519::Recipient = to.locks_with().parse().unwrap();
                let bytes = age::encrypt(&recipient, &folded).unwrap();
                // Whatever it is, it is an answer and no end of the program.
                let _ = opened(&bytes);
            }
        }
    }
}

//! How the hostile parcels were made. They differ in every run, since a lock draws lots; so they are kept.

use crate::keys::keys;
use exchange::{Content, DeviceSecrets, Index, Parcel, pack};
use ledger::{ChainPart, Digest, Sent, SignedHead};
use std::io::Write;
use std::path::Path;

/// An index that the device of these keys says of itself.
pub(crate) fn good() -> Parcel {
    let keys = keys();
    pack("A", &keys, &Content::Index(Index { counter: 7, ..Index::default() }), &[&keys.locks_with()])
        .expect("a parcel")
}

/// Locks bytes to the device of these keys, whatever they are.
fn locked(bytes: &[u8]) -> Vec<u8> {
    let to: age::x25519::Recipient = keys().locks_with().parse().expect("a key");
    age::encrypt(&to, bytes).expect("a lock")
}

fn folded(bytes: &[u8]) -> Vec<u8> {
    zstd::encode_all(bytes, 19).expect("it is folded")
}

/// What is in a parcel before it is folded: from whom, the body, and a signature.
fn said(body: &[u8]) -> Vec<u8> {
    postcard::to_stdvec(&("A", body, &[0_u8; 64][..])).expect("bytes")
}

/// One entry, which its head places before the beginning of time.
fn chain_without_a_beginning() -> Content {
    let head =
        SignedHead { device: "A".to_owned(), device_seq: i64::MIN, hash: [0; 32], signature: vec![0; 64] };
    let entry = Sent {
        recorded_at: "2026-03-02T13:00:00.000Z".to_owned(),
        person: [1; 16],
        kind: "crew".to_owned(),
        id: [2; 16],
        open_digest: [3; 32],
        sealed_digest: None,
        open: None,
        sealed: None,
    };
    Content::Chain(ChainPart { head, prev_hash: Digest::ZERO.0, entries: vec![entry] })
}

/// A chain whose list of entries says that there are more than anybody could hold.
fn entries_without_end() -> Vec<u8> {
    let Content::Chain(mut part) = chain_without_a_beginning() else { panic!("a chain") };
    part.entries.clear();
    let mut body = postcard::to_stdvec(&Content::Chain(part)).expect("bytes");
    assert_eq!(body.pop(), Some(0), "the number of entries stands last");
    body.extend([0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x7f]);
    body
}

/// A few kilobytes that unfold to one byte more than a parcel may hold.
fn bomb() -> Vec<u8> {
    let mut folding = zstd::Encoder::new(Vec::new(), 19).expect("a folder");
    for _ in 0..=256 {
        folding.write_all(&[0; 1 << 20]).expect("it is folded");
    }
    folding.finish().expect("it is folded")
}

/// Writes those that are not there.
pub(crate) fn write(folder: &Path) {
    std::fs::create_dir_all(folder).expect("a folder");
    let good = good().bytes;
    let index = Content::Index(Index { counter: 7, ..Index::default() });
    let (stranger, body) = (DeviceSecrets::new().expect("keys"), postcard::to_stdvec(&index).expect("bytes"));
    let elsewhere = pack("A", &keys(), &index, &[&stranger.locks_with()]).expect("a parcel").bytes;
    let nobodys = pack("A", &stranger, &index, &[&keys().locks_with()]).expect("a parcel").bytes;
    let mut changed = good.clone();
    let last = changed.len() - 20;
    changed[last] ^= 1;
    let whole = folded(&said(&body));
    let mut too_long = postcard::to_stdvec("A").expect("bytes");
    too_long.extend([0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x7f]);
    let parcels: [(&str, Vec<u8>); 13] = [
        ("empty", Vec::new()),
        ("a-letter", b"Dear Nell, the parcel is in the mail.".to_vec()),
        ("cut-in-its-head", good[..60].to_vec()),
        ("cut-in-its-body", good[..good.len() - 9].to_vec()),
        ("one-byte-changed", changed),
        ("for-somebody-else", elsewhere),
        ("not-folded", locked(&said(&body))),
        ("folded-and-cut", locked(&whole[..whole.len() - 5])),
        ("a-bomb", locked(&bomb())),
        ("a-body-of-more-than-there-is", locked(&folded(&too_long))),
        ("entries-of-more-than-there-are", locked(&folded(&said(&entries_without_end())))),
        ("an-index-that-nobody-signed", nobodys),
        (
            "a-chain-that-ends-before-it-begins",
            locked(&folded(&said(&postcard::to_stdvec(&chain_without_a_beginning()).expect("bytes")))),
        ),
    ];
    for (name, bytes) in parcels {
        let path = folder.join(name);
        if !path.exists() {
            std::fs::write(path, bytes).expect("it is kept");
        }
    }
}

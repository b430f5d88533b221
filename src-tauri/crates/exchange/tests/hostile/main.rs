//! Parcels as somebody would make them who wants whoever opens them to fall over: cut, not locked, locked to nobody
//! here, unfolding to more than any memory, with sizes that are not so, signed by nobody, and with numbers at the
//! end of what a number can be. Each lies in `parcels/` as its bytes, and has its answer here.
//!
//! `TEAROFF_WRITE_HOSTILE=1` writes those that are not there yet.

#![cfg(test)]

mod keys;
mod made;

use exchange::{Content, unpack};
use keys::keys;
use ledger::{Digest, Ledger};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What is answered to each file.
const ANSWERS: [(&str, &str); 13] = [
    ("empty", "failed to fill whole buffer"),
    ("a-letter", "Header is invalid"),
    ("cut-in-its-head", "failed to fill whole buffer"),
    ("cut-in-its-body", "decryption error"),
    ("one-byte-changed", "decryption error"),
    ("for-somebody-else", "No matching keys found"),
    ("not-folded", "Unknown frame descriptor"),
    ("folded-and-cut", "incomplete frame"),
    ("a-bomb", "it unfolds to more than a parcel may hold"),
    ("a-body-of-more-than-there-is", "Hit the end of buffer"),
    ("entries-of-more-than-there-are", "Hit the end of buffer"),
    ("an-index-that-nobody-signed", "it is not signed by device A"),
    ("a-chain-that-ends-before-it-begins", "it holds no entry that its head could be of"),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/hostile/parcels")
}

/// What is made of the bytes: why they are no parcel, or what becomes of what they hold.
fn answer(bytes: &[u8]) -> String {
    let keys = keys();
    let own = |letter: &str| (letter == "A").then(|| keys.signs_with());
    match unpack(&Digest::of(bytes).to_string(), bytes, &keys, &own) {
        Err(refused) => refused.to_string(),
        Ok((_, Content::Chain(part))) => {
            let home = tempfile::tempdir().expect("a folder");
            let mut ledger = Ledger::create(&home.path().join("firm.tearoff")).expect("a ledger");
            let taken =
                ledger.take_in(&[part], jiff::Timestamp::UNIX_EPOCH, &|_, _| true).expect("the disk is well");
            assert!(taken.taken.is_empty(), "{taken:?}");
            format!("{taken:?}")
        }
        Ok((from, content)) => panic!("{content:?} was taken from {from}"),
    }
}

#[test]
fn each_is_answered_and_nothing_falls_over() {
    if std::env::var_os("TEAROFF_WRITE_HOSTILE").is_some() {
        made::write(&folder());
    }
    let there: BTreeSet<String> = std::fs::read_dir(folder())
        .expect("the parcels")
        .map(|file| file.expect("a file").file_name().into_string().expect("a name"))
        .collect();
    assert_eq!(there, ANSWERS.iter().map(|(name, _)| (*name).to_owned()).collect());
    for (name, expected) in ANSWERS {
        let bytes = std::fs::read(folder().join(name)).expect("its bytes");
        let answer = answer(&bytes);
        assert!(answer.contains(expected), "{name} ({} bytes): {answer}", bytes.len());
    }
}

/// The same keys open what is right: nothing above was refused for want of them.
#[test]
fn what_is_right_opens_with_these_keys() {
    let good = made::good();
    let keys = keys();
    let own = |letter: &str| (letter == "A").then(|| keys.signs_with());
    let (from, content) = unpack(&good.name, &good.bytes, &keys, &own).expect("it opens");
    assert!(from == "A" && matches!(content, Content::Index(_)));
}

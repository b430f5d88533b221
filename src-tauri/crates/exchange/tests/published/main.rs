//! The ciphers that parcels rest on, held against the published cases of Wycheproof (C2SP): what is to be signed is
//! checked by the ledger's own key, and what locks a parcel is what age takes for it (X25519 and ChaCha20-Poly1305).
//! Facts alone are carried over, one case a line; each file says from where. RFC 8032 and BLAKE3 stand beside the code
//! that uses them (`ledger::signing`, `ledger::id`).

#![cfg(test)]

use chacha20poly1305::aead::AeadInPlace;
use chacha20poly1305::{ChaCha20Poly1305, KeyInit};
use ledger::PublicKey;
use x25519_dalek::x25519;

const SIGNATURES: &str = include_str!("ed25519.txt");
const SECRETS: &str = include_str!("x25519.txt");
const LOCKS: &str = include_str!("chacha20_poly1305.txt");

/// The cases of a file, each in its words.
fn cases(file: &'static str) -> Vec<Vec<&'static str>> {
    let lines = file.lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split(' ').collect()).collect()
}

fn bytes(hex: &str) -> Vec<u8> {
    if hex == "-" {
        return Vec::new();
    }
    assert!(hex.len().is_multiple_of(2), "{hex}");
    (0..hex.len()).step_by(2).map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap()).collect()
}

fn array<const LENGTH: usize>(hex: &str) -> [u8; LENGTH] {
    bytes(hex).try_into().unwrap_or_else(|wrong| panic!("{hex}: {wrong:?}"))
}

#[test]
fn a_signature_is_one_exactly_where_it_is_published_as_one() {
    let (mut good, mut bad) = (0, 0);
    for case in cases(SIGNATURES) {
        let [id, key, message, signature, result] = case[..] else { panic!("{case:?}") };
        let is_one = PublicKey::parse(key).unwrap().signed(&bytes(message), &bytes(signature));
        match result {
            "valid" => good += 1,
            "invalid" => bad += 1,
            other => panic!("case {id}: {other}"),
        }
        assert_eq!(is_one, result == "valid", "case {id}");
    }
    assert_eq!((good, bad), (GOOD_SIGNATURES, BAD_SIGNATURES));
}

/// What two keys come to is what is published. Where the public one is of low order that is nothing but zeros, whatever
/// the private one is, and by that it is known: age opens and locks nothing with it.
#[test]
fn two_keys_come_to_what_is_published_and_a_key_of_low_order_to_nothing() {
    let (mut something, mut nothing) = (0, 0);
    for case in cases(SECRETS) {
        let [id, public, private, shared, result, sorts] = case[..] else { panic!("{case:?}") };
        assert!(["valid", "acceptable"].contains(&result), "case {id}: {result}");
        let found = x25519(array(private), array(public));
        assert_eq!(found, array(shared), "case {id}");
        let is_of_low_order = sorts.split(',').any(|sort| sort == "ZeroSharedSecret");
        assert_eq!(found == [0; 32], is_of_low_order, "case {id}");
        if is_of_low_order {
            nothing += 1;
        } else {
            something += 1;
        }
    }
    assert_eq!((something, nothing), (SHARED_SECRETS, KEYS_OF_LOW_ORDER));
}

#[test]
fn what_is_locked_opens_exactly_where_it_is_published_to() {
    let (mut opened, mut refused) = (0, 0);
    for case in cases(LOCKS) {
        let [id, key, nonce, beside, message, locked, tag, result] = case[..] else { panic!("{case:?}") };
        let lock = ChaCha20Poly1305::new(&array::<32>(key).into());
        let (nonce, tag) = (array::<12>(nonce).into(), array::<16>(tag).into());
        let mut text = bytes(locked);
        let outcome = lock.decrypt_in_place_detached(&nonce, &bytes(beside), &mut text, &tag);
        if result == "invalid" {
            assert!(outcome.is_err(), "case {id} opens");
            refused += 1;
            continue;
        }
        assert_eq!((outcome, &text), (Ok(()), &bytes(message)), "case {id}");
        let again = lock.encrypt_in_place_detached(&nonce, &bytes(beside), &mut text).expect("a tag");
        assert_eq!((text, again), (bytes(locked), tag), "case {id}");
        opened += 1;
    }
    assert_eq!((opened, refused), (LOCKS_THAT_OPEN, LOCKS_THAT_DO_NOT));
}

// How many there are of each: a file that was cut short, or that is read past, is seen.
const GOOD_SIGNATURES: usize = 88;
const BAD_SIGNATURES: usize = 63;
const SHARED_SECRETS: usize = 117;
const KEYS_OF_LOW_ORDER: usize = 26;
const LOCKS_THAT_OPEN: usize = 41;
const LOCKS_THAT_DO_NOT: usize = 60;

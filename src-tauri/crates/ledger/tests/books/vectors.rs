//! Golden vectors of the canonical encoding, version 1.
//!
//! The hashes were made once, from the specification at the head of `src/encoding.rs` and the columns of
//! `migrations/0001_facts.sql`, by forty lines of Python with the `blake3` package that share nothing with this
//! crate. They never change: a ledger of today must still verify in any later version.

use crate::sample::moment;
use ledger::append::stamp;
use ledger::encoding::{Header, content, entry_hash};
use ledger::facts::Fact;
use ledger::kinds::kind_spec;
use ledger::{Digest, Id};
use serde_json::{Value, json};

fn id(n: u64) -> Id {
    Id::parse(&format!("00000000-0000-7000-8000-{n:012}")).expect("an id")
}

/// The bytes 1 to 32, and the same backwards.
const UP: &str = "0102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f20";
const DOWN: &str = "201f1e1d1c1b1a191817161514131211100f0e0d0c0b0a090807060504030201";

/// Kind, the number in its id, its JSON, and the hash that its entry must have after the one above it.
fn vectors() -> Vec<(&'static str, u64, Value, &'static str)> {
    vec![
        (
            "person",
            1,
            json!({"name": "Mae Alder", "role": "owner"}),
            "7171dfde899001b3f471941772293fb4e60e7e0483ad512c669b7963497761a0",
        ),
        (
            "cost-code",
            2,
            json!({"code": "deck", "title": "Deck", "unit": "sheet", "position": 1}),
            "9b1adc698083347cf31bf45d617654c2ed33ccd42f91487a090eb595748950e2",
        ),
        (
            "contract",
            3,
            json!({"date": "2026-03-02", "job": id(9), "price": "12000.00", "included_sheets": "3",
                "retainage": "0.05",
                "lines": [
                    {"code": id(2), "cost_kind": "material", "description": "sheets", "amount": "180.00",
                        "quantity": "6", "unit": "sheet"},
                    {"code": id(2), "cost_kind": "labor", "amount": "1500.00", "hours": "50"},
                ],
                "unit_prices": [{"damaged": "deck-sheet", "counted_in": "sheet", "price": "95.00"}]}),
            "4de3cbfaabfab8312031fa3ad17ceb7b3db525ef4e61eab2c2903500110aa844",
        ),
        (
            "bill",
            4,
            json!({"date": "2026-03-03", "vendor": id(8), "reference": "C-17", "credit": true,
                "lines": [{"job": id(9), "code": id(2), "cost_kind": "material", "quantity": "-2",
                    "unit": "sheet", "unit_price": "30.10", "amount": "-60.20", "tax": "-3.61"}]}),
            "210d8cf19de30bb540e436e7f752216dcd301a14d3396232c5c144c838b290e8",
        ),
        (
            "condition",
            5,
            json!({"date": "2026-03-04", "job": id(9), "number": "A-1", "place": "valley", "cause": "ice-dam",
                "damaged": "deck-sheet", "counted_in": "sheet", "count": "4",
                "photos": [{"photo": UP}, {"photo": DOWN}]}),
            "76a0cc79a57d5e9362705c036a5fd0f1c38086d91cfa46b6cf703e128835752d",
        ),
        (
            "time-entry",
            6,
            json!({"date": "2026-03-04", "person": id(7), "job": id(9), "code": id(2), "hours": "9.5",
                "caused_overtime": true, "condition": id(5)}),
            "571c0c6e398118cecd4bee81d8996adac5bae1f22e7048a480cdd684ded4ba4a",
        ),
        (
            "month-closed",
            10,
            json!({"date": "2026-04-02", "month": "2026-03", "devices": [{"device": "A", "through_seq": 6}],
                "labor": [{"job": id(9), "code": id(2), "straight": "261.25", "premium": "0.00",
                    "burden": "-0.01"}]}),
            "4e8c12ab426553e6225162b9699f2e79454ab3d872bb925cf680c787fefa2770",
        ),
        (
            "reversal",
            11,
            json!({"date": "2026-04-03", "reverses": id(6), "reason": "the other crew’s day – café"}),
            "897b3d0e0d13ed67041675417dc31a3d629ccbc2b89fe6747f968601168f7010",
        ),
    ]
}

#[test]
fn a_chain_of_eight_entries_has_the_hashes_that_the_specification_gives() {
    assert_eq!(stamp(moment()), "2026-05-04T07:30:00.250Z");
    let mut prev_hash = Digest::ZERO;
    for (device_seq, (kind, n, body, expected)) in (1..).zip(vectors()) {
        let spec = kind_spec(kind).expect("a kind");
        let fact = Fact::from_json(kind, body).unwrap_or_else(|problem| panic!("{kind}: {problem}"));
        let header = Header {
            device: "A".to_owned(),
            device_seq,
            recorded_at: stamp(moment()),
            person: id(1),
            prev_hash,
        };
        let hash = entry_hash(&header, &content(spec, id(n), &fact.record()));
        assert_eq!(hash.to_string(), expected, "{kind}");
        prev_hash = hash;
    }
}

#[test]
fn the_first_entry_byte_by_byte() {
    let fact = Fact::from_json("person", json!({"name": "Mo", "role": "owner"})).expect("a person");
    let bytes = content(kind_spec("person").expect("a kind"), id(1), &fact.record());
    let mut expected: Vec<u8> = b"\x00\x00\x00\x06person".to_vec();
    expected.extend(b"\x00\x00\x00\x10");
    expected.extend(id(1).bytes());
    // A lead byte, the column, then 02 for text. `revises`, `crew`, `class` and `left_on` are NULL and left out.
    expected.extend(b"\x01\x00\x00\x00\x04name\x02\x00\x00\x00\x02Mo");
    expected.extend(b"\x01\x00\x00\x00\x04role\x02\x00\x00\x00\x05owner");
    expected.extend(b"\x00\x00");
    assert_eq!(bytes, expected);
}

#[test]
fn neither_a_moved_boundary_nor_an_empty_list_gives_the_same_bytes() {
    let bytes = |body: Value| {
        let fact = Fact::from_json("customer", body).expect("a customer");
        content(kind_spec("customer").expect("a kind"), id(1), &fact.record())
    };
    let address = bytes(json!({"name": "Pat", "address": "555"}));
    assert_ne!(address, bytes(json!({"name": "Pat", "phone": "555"})), "another column");
    assert_ne!(address, bytes(json!({"name": "Pat5", "address": "55"})), "another boundary");
    assert_ne!(address, bytes(json!({"name": "Pat"})), "a column less");
}

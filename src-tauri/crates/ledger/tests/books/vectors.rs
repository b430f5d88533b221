//! Golden vectors of the canonical encoding, version 1.
//!
//! The hashes were made once, from the specification at the head of `src/encoding.rs` and the columns of
//! `migrations/0001_facts.sql`, by sixty lines of Python with the `blake3` package that share nothing with this
//! crate. They never change: a ledger of today must still verify in any later version.

use crate::sample::moment;
use ledger::append::stamp;
use ledger::encoding::{Content, Header, entry_hash};
use ledger::facts::Fact;
use ledger::kinds::kind_spec;
use ledger::salt::Salt;
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
            json!({"name": "Mae Alder", "role": "owner", "class": "office"}),
            "3f89f584ad2361ec57c833c4ec37c5afe4ea4a633e45133b5ce5c87b140de585",
        ),
        (
            "cost-code",
            2,
            json!({"code": "deck", "title": "Deck", "unit": "sheet", "position": 1}),
            "8af0d8bcf43b007e2847c9e93295af5a44790181303464e26cc42d3e78798681",
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
            "f102757985fbaf289dd526743278993c7475662ede21c36b4ca010e78704e670",
        ),
        (
            "bill",
            4,
            json!({"date": "2026-03-03", "vendor": id(8), "reference": "C-17", "credit": true,
                "lines": [{"job": id(9), "code": id(2), "cost_kind": "material", "quantity": "-2",
                    "unit": "sheet", "unit_price": "30.10", "amount": "-60.20", "tax": "-3.61"}]}),
            "96ecaedca0efe360d3d3174dab91d814dde4c26c9e330db2b252eb96228afbe0",
        ),
        (
            "condition",
            5,
            json!({"date": "2026-03-04", "job": id(9), "number": "A-1", "place": "valley", "cause": "ice-dam",
                "damaged": "deck-sheet", "counted_in": "sheet", "count": "4",
                "photos": [{"photo": UP}, {"photo": DOWN}]}),
            "ea339a2d84703dea91fa2b59e192e9b191066c047bc02466aa086e2b1a89e2cb",
        ),
        (
            "time-entry",
            6,
            json!({"date": "2026-03-04", "person": id(7), "job": id(9), "code": id(2), "hours": "9.5",
                "caused_overtime": true, "condition": id(5)}),
            "b1be94e3829a8c44036ebc0f0372e46c2185cb6b244a1bbc9cd51b76b1d94d34",
        ),
        (
            "month-closed",
            10,
            json!({"date": "2026-04-02", "month": "2026-03", "devices": [{"device": "A", "through_seq": 6}],
                "labor": [{"job": id(9), "code": id(2), "straight": "261.25", "premium": "0.00",
                    "burden": "-0.01"}]}),
            "75507a617e91f4175b010e79eab7aa5bebf74d7e75feeea0dfef165cfc01ab9f",
        ),
        (
            "reversal",
            11,
            json!({"date": "2026-04-03", "reverses": id(6), "reason": "the other crew’s day – café"}),
            "af5810b4597c63d01ab27fc0f8dd320a6b3be102dc62a85af0683610c0bb2ecc",
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
            id: id(n),
            prev_hash,
        };
        let content = Content::of(spec, &fact.record());
        let salt = Salt([u8::try_from(device_seq).expect("a small number"); 32]);
        let sealed = spec.has_sealed().then(|| content.sealed_digest(salt));
        let hash = entry_hash(&header, kind, content.open_digest(), sealed);
        assert_eq!(hash.to_string(), expected, "{kind}");
        prev_hash = hash;
    }
}

fn content(kind: &str, body: Value) -> Content {
    let fact = Fact::from_json(kind, body).unwrap_or_else(|problem| panic!("{kind}: {problem}"));
    Content::of(kind_spec(kind).expect("a kind"), &fact.record())
}

#[test]
fn the_two_parts_of_a_fact_byte_by_byte() {
    let person = content("person", json!({"name": "Mo", "role": "owner", "class": "7"}));
    // A lead byte, the column, then 02 for text. `revises`, `crew` and `left_on` are NULL and left out.
    let mut open: Vec<u8> = b"\x01\x00\x00\x00\x04name\x02\x00\x00\x00\x02Mo".to_vec();
    open.extend(b"\x01\x00\x00\x00\x04role\x02\x00\x00\x00\x05owner");
    open.extend(b"\x00\x00");
    assert_eq!(person.open, open);
    assert_eq!(person.sealed, b"\x01\x00\x00\x00\x05class\x02\x00\x00\x00\x017\x00\x00");
}

#[test]
fn a_list_stands_in_a_part_only_with_the_columns_of_that_part() {
    let order = content(
        "change-order",
        json!({"date": "2026-03-04", "job": id(9), "number": "1", "title": "deck", "pricing": "lump-sum",
            "lines": [{"code": id(2), "cost_kind": "material", "description": "sheet", "price": "9.00",
                "cost": "5.00"}]}),
    );
    let has = |part: &[u8], text: &str| part.windows(text.len()).any(|bytes| bytes == text.as_bytes());
    assert!(has(&order.open, "price_cents") && !has(&order.open, "cost_cents"));
    assert!(has(&order.sealed, "cost_cents") && !has(&order.sealed, "price_cents"));
    assert!(has(&order.open, "change_order_line") && has(&order.sealed, "change_order_line"));
    let payments = content(
        "contract",
        json!({"date": "2026-03-02", "job": id(9), "price": "9.00", "payments": [{"title": "all", "amount": "9.00"}]}),
    );
    assert!(!has(&payments.open, "contract_payment") && has(&payments.sealed, "contract_payment"));
}

#[test]
fn neither_a_moved_boundary_nor_an_empty_list_gives_the_same_bytes() {
    let bytes = |body: Value| content("customer", body).open;
    let address = bytes(json!({"name": "Pat", "address": "555"}));
    assert_ne!(address, bytes(json!({"name": "Pat", "phone": "555"})), "another column");
    assert_ne!(address, bytes(json!({"name": "Pat5", "address": "55"})), "another boundary");
    assert_ne!(address, bytes(json!({"name": "Pat"})), "a column less");
}

#[test]
fn another_salt_gives_another_digest_and_the_part_itself_has_none_of_it() {
    let price = content("part-price", json!({"date": "2026-03-02", "part": id(3), "price": "31.5"}));
    assert_ne!(price.sealed_digest(Salt([1; 32])), price.sealed_digest(Salt([2; 32])));
    assert_ne!(price.open_digest(), content("person", json!({"name": "Mo", "role": "owner"})).open_digest());
}

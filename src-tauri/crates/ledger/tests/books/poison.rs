//! What would stand in the books for good and spoil them: refused before it is written.

use crate::sample::{
    JOB, PHOTO, VENDOR, add, books, close, day, direct_cost, fact, full_books, id, moment, month, photo,
    place, problems, refusal, reversal,
};
use jiff::Timestamp;
use ledger::Digest;
use ledger::attachment::store;
use serde_json::{Value, json};

fn condition(photos: &Value) -> Value {
    json!({"date": "2026-03-04", "job": id(JOB), "number": "A-1", "place": "eave", "cause": "ice-dam",
        "damaged": "deck-sheet", "counted_in": "sheet", "count": "1", "photos": photos})
}

#[test]
fn an_attachment_is_recorded_only_with_its_file() {
    let at = place();
    let mut ledger = books(&at.path);
    let body = |bytes: usize| {
        let of = json!({"date": "2026-03-04", "hash": photo(), "media_type": "image/jpeg", "bytes": bytes});
        fact(300, "attachment", of)
    };
    let words = refusal(&mut ledger, body(PHOTO.len()));
    assert!(words.starts_with("hash: the file ") && words.contains("is missing. Attach the file"), "{words}");
    store(&at.path, PHOTO, "image/jpeg", None, day("2026-03-04")).expect("a photo");
    let words = refusal(&mut ledger, body(5));
    assert!(words.contains("has 18 bytes and was stored with 5"), "{words}");
    add(&mut ledger, body(PHOTO.len()));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_photo_or_picture_that_nobody_attached_is_refused_with_its_field() {
    let at = place();
    let mut ledger = books(&at.path);
    let lost = Digest::of(b"lost");
    let words = refusal(&mut ledger, fact(300, "condition", condition(&json!([{"photo": lost}]))));
    assert!(words.starts_with("photos[0].photo: nobody attached a file with this hash."), "{words}");
    let kept = store(&at.path, PHOTO, "image/jpeg", None, day("2026-03-04")).expect("a photo");
    add(&mut ledger, ledger::NewFact { id: id(301), person: id(1), fact: kept.into() });
    let photos = json!([{"photo": photo()}, {"photo": photo(), "original": lost}]);
    let words = refusal(&mut ledger, fact(300, "condition", condition(&photos)));
    assert!(words.starts_with("photos[1].original: nobody attached"), "{words}");
    let bill = json!({"date": "2026-03-04", "vendor": id(VENDOR), "reference": "7", "picture": lost, "lines": [
        {"job": id(JOB), "code": id(crate::sample::DECK), "cost_kind": "material", "description": "sheets",
            "amount": "30.00"}]});
    let words = refusal(&mut ledger, fact(302, "bill", bill));
    assert!(words.starts_with("picture: nobody attached"), "{words}");
    add(&mut ledger, fact(300, "condition", condition(&json!([{"photo": photo()}]))));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_signature_that_nobody_attached_is_refused_with_its_field() {
    let at = place();
    let mut ledger = full_books(&at.path);
    let lost = Digest::of(b"lost");
    let order = json!({"date": "2026-03-04", "job": id(JOB), "number": "A-9", "title": "Deck", "pricing": "lump-sum",
        "days": 0, "lines": [{"code": id(crate::sample::DECK), "cost_kind": "material",
            "description": "1 sheet", "price": "95.00", "cost": "30.00"}]});
    add(&mut ledger, fact(303, "change-order", order));
    let decision = json!({"date": "2026-03-05", "change_order": id(303), "verdict": "approved",
        "decided_by": "Pat Lind", "method": "signed", "signature": lost, "caution_given": true});
    let words = refusal(&mut ledger, fact(304, "decision", decision));
    assert!(words.starts_with("signature: nobody attached"), "{words}");
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_clock_that_cannot_be_right_stamps_nothing() {
    let at = place();
    let mut ledger = books(&at.path);
    for clock in
        ["1969-12-31T23:59:59Z", "2019-12-31T23:59:59Z", "2100-01-01T00:00:00Z", "9999-12-30T00:00:00Z"]
    {
        let at: Timestamp = clock.parse().expect("a moment");
        let refused =
            ledger.append(&[direct_cost(100, "2026-03-05", JOB, "1.00")], at).expect_err(clock).to_string();
        assert!(refused.starts_with("clock: this computer's clock stands in the year"), "{refused}");
    }
    assert_eq!(ledger.last_seq(), 11);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "1.00"));
}

#[test]
fn a_slip_of_the_year_that_was_taken_back_makes_no_month() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "10.00"));
    let first_and_last = |ledger: &ledger::Ledger| ledger.reading().months().expect("months").expect("some");
    let before = first_and_last(&ledger);
    for (n, date) in [(101, "1926-03-05"), (103, "2999-03-05")] {
        add(&mut ledger, direct_cost(n, date, JOB, "99.00"));
        assert_ne!(first_and_last(&ledger), before);
        add(&mut ledger, reversal(n + 1, "2026-03-06", n));
        assert_eq!(first_and_last(&ledger), before, "{date}");
    }
    let touched = ledger.reading().touched_jobs(month("1926-03")).expect("jobs");
    assert!(touched.is_empty(), "{touched:?}");
    let march = close(&ledger, 110, "2026-04-02", month("2026-03"));
    let first = first_and_last(&ledger).0;
    if first == month("2026-03") {
        add(&mut ledger, march);
    }
    ledger.rebuild(&mut |_| true).expect("a rebuild");
    assert_eq!(first_and_last(&ledger), before);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn several_batches_are_written_as_one_or_not_at_all() {
    let at = place();
    let mut ledger = books(&at.path);
    let before = ledger.begin_transaction().expect("a beginning");
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "10.00"));
    let refused = refusal(&mut ledger, direct_cost(101, "2026-03-05", 999, "10.00"));
    assert!(refused.starts_with("job: there is no job"), "{refused}");
    assert_eq!(ledger.last_seq(), 12, "the first of them stands until all are in");
    ledger.roll_back(before).expect("an end");
    assert_eq!(ledger.last_seq(), 11);
    assert!(ledger.reading().fact(id(100)).expect("a reading").is_none());

    let before = ledger.begin_transaction().expect("a beginning");
    ledger.append(&[direct_cost(100, "2026-03-05", JOB, "10.00")], moment()).expect("one");
    ledger.append(&[direct_cost(101, "2026-03-05", JOB, "10.00")], moment()).expect("another");
    ledger.commit_transaction(before).expect("an end");
    assert_eq!(ledger.last_seq(), 13);
    drop(ledger);
    assert!(problems(&at.path).is_empty());
}

//! What may change: drafts, mappings and settings survive the file being closed.

use crate::sample::{JOB, MEMBER, books, id, moment, place, problems};
use ledger::draft::{DEVICE, LAST_GOOD_BACK_UP};
use ledger::{Ledger, LedgerError, Reader};
use serde_json::json;

#[test]
fn a_draft_is_saved_over_its_earlier_state_and_read_after_reopening() {
    let at = place();
    let mut ledger = books(&at.path);
    let later = moment() + std::time::Duration::from_secs(60);
    ledger.save_draft(id(300), "bill", None, id(MEMBER), &json!({"lines": []}), moment()).expect("a draft");
    ledger.save_draft(id(301), "time", None, id(MEMBER), &json!({"hours": "8"}), moment()).expect("a draft");
    let body = json!({"lines": [{"amount": "12.10"}]});
    ledger.save_draft(id(300), "bill", Some(id(JOB)), id(MEMBER), &body, later).expect("the draft again");
    drop(ledger);
    let reader = Reader::open(&at.path).expect("a reader");
    let drafts = reader.books().drafts(None).expect("drafts");
    assert_eq!(drafts.iter().map(|draft| draft.id).collect::<Vec<_>>(), [id(300), id(301)]);
    let draft = reader.books().draft(id(300)).expect("a reading").expect("the draft");
    assert_eq!((draft.kind.as_str(), draft.job, draft.person), ("bill", Some(id(JOB)), id(MEMBER)));
    assert_eq!((draft.body, draft.changed_at.as_str()), (body, "2026-05-04T07:31:00.250Z"));
    assert_eq!(reader.books().drafts(Some("time")).expect("drafts").len(), 1);
    assert!(reader.books().draft(id(302)).expect("a reading").is_none());
}

#[test]
fn a_draft_is_thrown_away_once() {
    let at = place();
    let mut ledger = books(&at.path);
    ledger.save_draft(id(300), "condition", None, id(MEMBER), &json!({}), moment()).expect("a draft");
    assert!(ledger.delete_draft(id(300)).expect("a deletion"));
    assert!(!ledger.delete_draft(id(300)).expect("a deletion"));
    assert!(ledger.reading().drafts(None).expect("drafts").is_empty());
    let empty = ledger.save_draft(id(300), "", None, id(MEMBER), &json!({}), moment());
    assert_eq!(
        empty.expect_err("no kind").to_string(),
        "kind: it is empty. Say what the draft is to become."
    );
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_mapping_is_remembered_by_what_is_imported_and_its_header() {
    let at = place();
    let mut ledger = books(&at.path);
    let mapping = json!({"Datum": "date", "Amt": "amount"});
    ledger.set_import_mapping("bill", "Datum,Amt", &json!({}), moment()).expect("a mapping");
    ledger.set_import_mapping("bill", "Datum,Amt", &mapping, moment()).expect("a better one");
    let read = |kind: &str, header: &str| ledger.reading().import_mapping(kind, header).expect("a reading");
    let found = read("bill", "Datum,Amt").expect("the mapping");
    assert_eq!((found.mapping, found.used_at.as_str()), (mapping, "2026-05-04T07:30:00.250Z"));
    assert!(read("time", "Datum,Amt").is_none() && read("bill", "Datum").is_none());
}

#[test]
fn settings_belong_to_this_copy_and_the_devices_letters_are_capitals() {
    let at = place();
    let mut ledger = books(&at.path);
    assert_eq!(ledger.reading().setting(DEVICE).expect("a reading").as_deref(), Some("A"));
    assert_eq!(ledger.reading().setting(LAST_GOOD_BACK_UP).expect("a reading"), None);
    ledger.set_setting(LAST_GOOD_BACK_UP, "2026-05-04").expect("a setting");
    ledger.set_setting(LAST_GOOD_BACK_UP, "2026-05-05").expect("a setting");
    assert_eq!(
        ledger.reading().setting(LAST_GOOD_BACK_UP).expect("a reading").as_deref(),
        Some("2026-05-05")
    );
    for wrong in ["", "b", "A1", "1"] {
        let refused = ledger.set_setting(DEVICE, wrong);
        assert!(matches!(refused, Err(LedgerError::Refused { .. })), "{wrong}: {refused:?}");
    }
    drop(ledger);
    assert_eq!(Ledger::open(&at.path).expect("the ledger").device(), "A");
}

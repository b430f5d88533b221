//! Files beside the ledger: stored once by their hash, read back only when whole.

use crate::sample::{PHOTO, books, day, full_books, id, photo, place, problems, unguarded};
use ledger::attachment::{MOST_BYTES, file_of, read, store};
use ledger::open::attachment_folder;
use ledger::{Digest, LedgerError, NewFact};

#[test]
fn a_stored_file_lies_under_its_hash_and_comes_back() {
    let at = place();
    let mut ledger = books(&at.path);
    let attachment =
        store(&at.path, PHOTO, "image/jpeg", Some(" valley.jpg "), day("2026-03-04")).expect("a photo");
    assert_eq!((attachment.hash, attachment.bytes), (photo(), 18));
    assert_eq!(attachment.name.as_deref(), Some("valley.jpg"));
    let hash = photo().to_string();
    let file = attachment_folder(&at.path).join(&hash[..2]).join(&hash);
    assert_eq!(std::fs::read(&file).expect("the file"), PHOTO);
    assert_eq!(read(&at.path, photo()).expect("the photo"), PHOTO);
    ledger
        .append(&[NewFact { id: id(300), person: id(1), fact: attachment.into() }], crate::sample::moment())
        .expect("the fact");
    assert!(problems(&at.path).is_empty());
    assert_eq!(
        ledger.reading().attachment(photo()).expect("a reading").map(|held| held.entry.id),
        Some(id(300))
    );
}

#[test]
fn storing_the_same_bytes_again_changes_nothing_and_repairs_a_damaged_file() {
    let at = place();
    drop(books(&at.path));
    let again = || store(&at.path, PHOTO, "image/jpeg", None, day("2026-03-04")).expect("a photo");
    assert_eq!(again(), again());
    let folder = attachment_folder(&at.path);
    let file = file_of(&folder, photo());
    std::fs::write(&file, b"not really a fhoto").expect("damage");
    let damaged = read(&at.path, photo()).expect_err("damage").to_string();
    assert!(damaged.contains("its file was changed since it was stored"), "{damaged}");
    again();
    assert_eq!(read(&at.path, photo()).expect("the photo"), PHOTO);
    let shelf = file.parent().expect("a folder");
    assert_eq!(std::fs::read_dir(shelf).expect("the folder").count(), 1, "no half file is left");
}

#[test]
fn what_cannot_be_an_attachment_is_refused_in_words() {
    let at = place();
    drop(books(&at.path));
    let refused = |bytes: &[u8], media_type: &str| {
        let outcome = store(&at.path, bytes, media_type, None, day("2026-03-04"));
        outcome.expect_err("a refusal").to_string()
    };
    assert_eq!(
        refused(b"", "image/jpeg"),
        "bytes: the file is empty. Choose another file, or take the picture again."
    );
    let large = vec![0; MOST_BYTES + 1];
    assert_eq!(
        refused(&large, "image/jpeg"),
        "bytes: the file has 65 MiB, and 64 MiB is the most. Make it smaller first."
    );
    for wrong in ["", "jpeg", "image/", "/jpeg", "image/jp eg", "a/b/c", "image/../x"] {
        assert!(refused(PHOTO, wrong).contains("is not a media type"), "{wrong}");
    }
    assert!(!attachment_folder(&at.path).exists(), "nothing was written");
    store(&at.path, &large[1..], "application/pdf", None, day("2026-03-04")).expect("just small enough");
}

#[test]
fn verify_names_the_entry_whose_file_is_lost_changed_or_cut_short() {
    let at = place();
    drop(full_books(&at.path));
    let file = file_of(&attachment_folder(&at.path), photo());
    let entry = "(attachment, recorded 2026-05-04T07:30:00.250Z): its file ";
    for (what, bytes) in [
        ("was changed since it was stored", Some(b"not really a fhoto".as_slice())),
        ("has 3 bytes and was stored with 18", Some(b"not".as_slice())),
        ("is missing", None),
    ] {
        match bytes {
            Some(bytes) => std::fs::write(&file, bytes).expect("damage"),
            None => std::fs::remove_file(&file).expect("a loss"),
        }
        let found = problems(&at.path);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].contains(entry) && found[0].contains(what), "{found:?}");
    }
    assert!(matches!(read(&at.path, photo()), Err(LedgerError::Damaged { .. })));
}

#[test]
fn a_photo_that_no_fact_attached_is_named_with_its_condition() {
    let at = place();
    drop(full_books(&at.path));
    let conn = unguarded(&at.path);
    conn.execute("UPDATE condition_photo SET photo = ?1", [Digest::of(b"lost").0]).expect("a swindle");
    drop(conn);
    let found = problems(&at.path);
    let told = found.iter().find(|problem| problem.contains("which no fact attached")).expect("it is told");
    assert!(told.starts_with("Entry A ") && told.contains(" (condition,"), "{found:?}");
}

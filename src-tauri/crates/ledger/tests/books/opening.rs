//! Opening: what is refused, in which words, and who may write.

use crate::sample::{JOB, add, books, direct_cost, id, moment, month, place, problems, raw, the_one};
use ledger::open::{APPLICATION_ID, known_version, lock_path, network_kind};
use ledger::{Ledger, LedgerError, Reader};
use std::path::Path;

/// What opening for writing and for reading say; both must refuse in the same words.
fn refused(path: &Path) -> String {
    let write = Ledger::open(path).expect_err("no writing").to_string();
    let read = Reader::open(path).expect_err("no reading").to_string();
    assert_eq!(write, read);
    write
}

#[test]
fn what_is_not_a_ledger_is_refused_in_words_and_left_alone() {
    let at = place();
    let file = |name: &str, bytes: &[u8]| {
        let path = at.folder.path().join(name);
        std::fs::write(&path, bytes).expect("a file");
        path
    };
    let missing = at.folder.path().join("nothing.tearoff");
    assert!(refused(&missing).ends_with("Check the path, or make a new firm there."));
    assert!(!missing.exists() && !lock_path(&missing).exists(), "asking made nothing");
    assert!(
        refused(at.folder.path()).contains("is not a Tearoff ledger: it is a folder. Nothing was changed.")
    );
    assert!(refused(&file("empty", b"")).contains("it is too short"));
    assert!(refused(&file("short", &[b'x'; 511])).contains("it is too short"));
    let text = file("text", "date,amount\r\n".repeat(100).as_bytes());
    assert!(refused(&text).contains("it is not an SQLite file"));
    assert_eq!(std::fs::read(&text).expect("the file").len(), 1300);
    let other = at.folder.path().join("other");
    raw(&other).execute_batch("CREATE TABLE note (text TEXT)").expect("another program's file");
    assert!(refused(&other).contains("another program made it"));
}

#[test]
fn a_file_of_a_later_version_is_refused_with_both_numbers() {
    let at = place();
    drop(books(&at.path));
    raw(&at.path).execute_batch("PRAGMA user_version = 99").expect("a later version");
    let words = refused(&at.path);
    let numbers = format!("(file version 99, this program knows {})", known_version());
    assert!(words.contains(&numbers) && words.contains("install the later program"), "{words}");
    assert!(matches!(Ledger::open(&at.path), Err(LedgerError::Newer { found: 99, .. })));
}

#[test]
fn a_new_ledger_is_never_made_over_something() {
    let at = place();
    drop(books(&at.path));
    let before = std::fs::read(&at.path).expect("the file");
    let words = Ledger::create(&at.path).expect_err("it exists").to_string();
    assert!(words.ends_with("already exists. Nothing was overwritten: choose another name."), "{words}");
    assert_eq!(std::fs::read(&at.path).expect("the file"), before);
}

#[test]
fn the_mount_table_tells_a_network_folder_by_the_longest_mount_point() {
    let mounts = "/dev/sda1 / ext4 rw 0 0\n\
                  server:/share /mnt/firm nfs4 rw 0 0\n\
                  //nas/books /mnt/my\\040books cifs rw 0 0\n\
                  /dev/sdb1 /mnt/firm/local ext4 rw 0 0\n\
                  remote: /mnt/cloud fuse.rclone rw 0 0\n\
                  half a line\n";
    let kind = |path: &str| network_kind(mounts, Path::new(path));
    assert_eq!(kind("/srv/books"), None);
    assert_eq!(kind("/mnt/firm/books").as_deref(), Some("nfs4"));
    assert_eq!(kind("/mnt/firm/local/books"), None, "a local disk under a share");
    assert_eq!(kind("/mnt/firmament"), None, "a name that only begins alike");
    assert_eq!(kind("/mnt/my books/2026").as_deref(), Some("cifs"));
    assert_eq!(kind("/mnt/cloud").as_deref(), Some("fuse.rclone"));
    assert_eq!(network_kind("", Path::new("/")), None);
    let refused = LedgerError::NetworkPlace { path: "/mnt/firm/a.tearoff".into(), kind: "nfs4".to_owned() };
    let words = refused.to_string();
    assert!(
        words.contains("network file system (nfs4)") && words.contains("back it up to the network"),
        "{words}"
    );
}

/// A file of the first version: only its first migration was run.
fn first_version(path: &Path) {
    let conn = raw(path);
    conn.execute_batch(include_str!("../../../../../migrations/0001_facts.sql")).expect("the first tables");
    conn.execute_batch(&format!("PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = 1"))
        .expect("the first version");
}

#[test]
fn a_copy_is_made_before_an_earlier_file_is_brought_up_to_date() {
    let at = place();
    first_version(&at.path);
    let reading = Reader::open(&at.path).expect_err("not before it is brought up to date").to_string();
    assert!(reading.contains("of an earlier version (1) and must first be opened for writing"), "{reading}");
    let copy = at.folder.path().join(format!("firm.tearoff.before-version-{}", known_version()));
    let other = at.folder.path().join(format!("{}.part", copy.display()));
    std::fs::write(&other, b"somebody else's").expect("a file");
    let ledger = Ledger::open(&at.path).expect("the ledger");
    drop(ledger);
    let version = |path: &Path| -> i64 {
        raw(path).query_row("PRAGMA user_version", [], |row| row.get(0)).expect("a version")
    };
    assert_eq!((version(&copy), version(&at.path)), (1, known_version()));
    let tables = |path: &Path| -> i64 {
        let sql = "SELECT count(*) FROM sqlite_master WHERE name IN ('entry', 'total_code', 'draft')";
        raw(path).query_row(sql, [], |row| row.get(0)).expect("a count")
    };
    assert_eq!((tables(&copy), tables(&at.path)), (1, 3));
    assert_eq!(std::fs::read(&other).expect("a file"), b"somebody else's");
    let mut ledger = Ledger::open(&at.path).expect("the ledger once more");
    ledger.append(&crate::sample::beginnings(), moment()).expect("facts");
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_ledger_whose_making_was_cut_short_can_still_be_opened() {
    let at = place();
    drop(Ledger::create(&at.path).expect("a ledger"));
    raw(&at.path).execute("DELETE FROM setting", []).expect("the last step undone");
    assert_eq!(Ledger::open(&at.path).expect("the ledger").device(), "A");
}

#[test]
fn the_second_writer_is_told_who_writes_and_may_read() {
    let at = place();
    let mut first = books(&at.path);
    let busy = Ledger::open(&at.path).expect_err("one writes already");
    let words = busy.to_string();
    assert!(matches!(busy, LedgerError::Busy { .. }));
    assert!(words.contains(&format!("(process {})", std::process::id())), "{words}");
    assert!(words.contains("It can be read here"), "{words}");
    let reader = Reader::open(&at.path).expect("a reader");
    let spent = || the_one(reader.books().job_totals(&[id(JOB)].into(), month("2026-03")));
    assert_eq!(reader.books().device_ends().expect("the ends"), [("A".to_owned(), 11)]);
    add(&mut first, direct_cost(100, "2026-03-05", JOB, "5.00"));
    assert_eq!(reader.books().device_ends().expect("the ends"), [("A".to_owned(), 12)]);
    assert_eq!(spent().billed, trade::Money::ZERO);
    drop(first);
    let second = Ledger::open(&at.path).expect("now it is free");
    assert_eq!(second.last_seq(), 12);
}

/// A restored ledger has no log yet: whoever reads it keeps its first writer out. What holds the writer's own lock
/// keeps out every append. Either is somebody else's program, and is said to be one.
#[test]
fn a_program_that_holds_on_to_the_file_is_what_is_named() {
    let at = place();
    let mut ledger = books(&at.path);
    let safe = at.folder.path().join("safe.tearoff");
    ledger::back_up(&at.path, &safe, &mut |_| true).expect("a back-up");
    let reads = raw(&safe);
    reads.execute_batch("BEGIN").expect("a beginning");
    let count =
        || -> i64 { reads.query_row("SELECT count(*) FROM entry", [], |row| row.get(0)).expect("a count") };
    assert_eq!(count(), 11);
    let writes = raw(&at.path);
    writes.execute_batch("BEGIN IMMEDIATE").expect("a beginning");
    let refused = std::thread::scope(|scope| {
        let opened = scope.spawn(|| Ledger::open(&safe).map(|ledger| ledger.last_seq()));
        let appended = ledger.append(&[direct_cost(100, "2026-03-05", JOB, "5.00")], moment()).map(|_| 0);
        [opened.join().expect("an answer"), appended]
    });
    for error in refused.map(|outcome| outcome.expect_err("it is held")) {
        assert!(matches!(error, LedgerError::Held), "{error:?}");
        let words = error.to_string();
        assert!(words.starts_with("Another program has the ledger open and did not let go"), "{words}");
    }
    reads.execute_batch("COMMIT").expect("an end");
    writes.execute_batch("ROLLBACK").expect("an end");
    assert_eq!(Ledger::open(&safe).expect("free again").last_seq(), 11);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "5.00"));
    drop(ledger);
    assert!(problems(&at.path).is_empty());
}

#[cfg(unix)]
#[test]
fn a_ledger_opened_through_a_link_is_the_same_ledger() {
    let at = place();
    let first = books(&at.path);
    let link = at.folder.path().join("shortcut");
    std::os::unix::fs::symlink(&at.path, &link).expect("a link");
    assert!(matches!(Ledger::open(&link), Err(LedgerError::Busy { .. })), "one writer, by whichever name");
    drop(first);
    assert_eq!(Ledger::open(&link).expect("the ledger").path(), at.path.canonicalize().expect("a path"));
}

/// One state is held while several questions are asked.
#[test]
fn questions_asked_together_see_one_state() {
    let at = place();
    let mut ledger = books(&at.path);
    let reader = Reader::open(&at.path).expect("a reader");
    let (before, after) = reader
        .books()
        .in_one_read(|books| {
            let before = books.device_ends()?;
            add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "5.00"));
            Ok::<_, LedgerError>((before, books.device_ends()?))
        })
        .expect("answers");
    assert_eq!(before, after);
    assert_ne!(reader.books().device_ends().expect("the ends"), after);
}

//! What the writing and the reading connection refuse and how they are set. These tests live inside the crate, since
//! no caller can reach a connection.

use crate::append::Ledger;
use crate::facts::Fact;
use crate::id::Id;
use crate::kind::TableSpec;
use crate::kinds::KINDS;
use crate::new_fact::NewFact;
use crate::open;
use crate::read::Reader;
use rusqlite::Connection;
use serde_json::json;
use std::path::PathBuf;

struct Place {
    _folder: tempfile::TempDir,
    path: PathBuf,
}

/// A ledger with one person in it.
fn ledger() -> (Place, Ledger) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("firm.tearoff");
    let mut ledger = Ledger::create(&path).expect("a ledger");
    let id = Id::made_of(1_777_000_000_000, 1);
    let owner = Fact::from_json("person", json!({"name": "Mae Alder", "role": "owner"})).expect("a person");
    let at = "2026-05-04T07:30:00Z".parse().expect("a moment");
    ledger.append(&[NewFact { id, person: id, fact: owner }], at).expect("the owner");
    (Place { _folder: folder, path }, ledger)
}

fn tables() -> impl Iterator<Item = &'static TableSpec> {
    KINDS.iter().flat_map(|kind| std::iter::once(&kind.own).chain(&kind.lists))
}

fn denied(conn: &Connection, sql: &str) {
    let words = conn.execute_batch(sql).expect_err(sql).to_string();
    assert!(words.contains("not authorized"), "{sql}: {words}");
}

#[test]
fn the_writer_cannot_change_or_delete_a_fact_nor_loosen_the_file() {
    let (_place, ledger) = ledger();
    for table in tables().map(|spec| spec.table).chain(["entry"]) {
        denied(&ledger.conn, &format!("DELETE FROM {table}"));
        denied(&ledger.conn, &format!("DROP TABLE {table}"));
        denied(&ledger.conn, &format!("DROP TRIGGER {table}_refuses_update"));
        denied(&ledger.conn, &format!("ALTER TABLE {table} ADD COLUMN more TEXT"));
    }
    for spec in tables() {
        let column = &spec.columns[0];
        denied(&ledger.conn, &format!("UPDATE {} SET {column} = {column}", spec.table));
    }
    for sql in [
        "UPDATE entry SET hash = hash",
        "CREATE TABLE note (text TEXT)",
        "CREATE INDEX by_name ON person (name)",
        "CREATE VIEW people AS SELECT name FROM person",
        "CREATE TRIGGER quiet BEFORE UPDATE ON person BEGIN SELECT RAISE(IGNORE); END",
        "ATTACH DATABASE ':memory:' AS other",
        "PRAGMA writable_schema = ON",
        "PRAGMA recursive_triggers = OFF",
        "PRAGMA foreign_keys = OFF",
        "PRAGMA ignore_check_constraints = ON",
        "PRAGMA synchronous = OFF",
        "PRAGMA journal_mode = MEMORY",
    ] {
        denied(&ledger.conn, sql);
    }
}

#[test]
fn the_writer_cannot_replace_a_fact_by_inserting_it_again() {
    let (_place, ledger) = ledger();
    for table in ["person", "entry"] {
        let sql = format!("INSERT OR REPLACE INTO {table} SELECT * FROM {table}");
        let words = ledger.conn.execute_batch(&sql).expect_err(&sql).to_string();
        assert!(words.contains("facts are never changed"), "{words}");
    }
}

#[test]
fn the_reader_cannot_write_at_all() {
    let (place, _ledger) = ledger();
    let reader = Reader::open(&place.path).expect("a reader");
    let conn = reader.books().conn;
    for sql in [
        "DELETE FROM person",
        "INSERT INTO setting VALUES ('a', 'b')",
        "UPDATE total_job SET facts = 0",
        "DELETE FROM draft",
        "CREATE TABLE note (text TEXT)",
        "ATTACH DATABASE ':memory:' AS other",
    ] {
        denied(conn, sql);
    }
    // Even what the authorizer would let pass is refused, since the connection only queries.
    let words = conn.execute_batch("CREATE TEMP TABLE note (text TEXT)").expect_err("no writing").to_string();
    assert!(words.contains("readonly"), "{words}");
}

#[test]
fn every_setting_reads_back_as_it_was_made() {
    let (place, ledger) = ledger();
    let read = |conn: &Connection, name: &str| {
        conn.query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, rusqlite::types::Value>(0))
            .map(|value| match value {
                rusqlite::types::Value::Integer(number) => number.to_string(),
                rusqlite::types::Value::Text(text) => text,
                other => format!("{other:?}"),
            })
            .expect("a setting")
    };
    let reader = Reader::open(&place.path).expect("a reader");
    for conn in [&ledger.conn, reader.books().conn] {
        for (name, expected) in [
            ("journal_mode", "wal"),
            ("synchronous", "2"),
            ("foreign_keys", "1"),
            ("recursive_triggers", "1"),
            ("trusted_schema", "0"),
            ("cell_size_check", "1"),
            ("busy_timeout", "5000"),
            ("application_id", "1414678086"),
            ("user_version", &open::known_version().to_string()),
        ] {
            assert_eq!(read(conn, name), expected, "{name}");
        }
    }
    assert_eq!(read(reader.books().conn, "query_only"), "1");
}

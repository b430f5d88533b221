//! The file against the kinds: what Rust declares and what SQLite holds are the same tables.

use crate::sample::{full_books, one_of_each, place, raw, unguarded};
use ledger::kind::TableSpec;
use ledger::kinds::KINDS;
use rusqlite::Connection;

fn columns(conn: &Connection, table: &str) -> Vec<(String, String)> {
    let mut statement = conn.prepare(&format!("PRAGMA table_info({table})")).expect("a table");
    let rows = statement.query_map([], |row| Ok((row.get(1)?, row.get(2)?))).expect("its columns");
    rows.collect::<Result<_, _>>().expect("its columns")
}

fn tables() -> impl Iterator<Item = (&'static TableSpec, bool)> {
    KINDS.iter().flat_map(|kind| {
        std::iter::once((&kind.own, false)).chain(kind.lists.iter().map(|list| (list, true)))
    })
}

#[test]
fn every_kind_has_its_table_with_just_its_columns_in_their_order() {
    let at = place();
    drop(ledger::Ledger::create(&at.path).expect("a ledger"));
    let conn = raw(&at.path);
    for (spec, is_list) in tables() {
        let keys: &[&str] = if is_list { &["fact", "line"] } else { &["id"] };
        let expected: Vec<&str> =
            keys.iter().copied().chain(spec.columns.iter().map(String::as_str)).collect();
        let found = columns(&conn, spec.table);
        assert_eq!(
            found.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(),
            expected,
            "{}",
            spec.table
        );
        for (name, kind) in &found {
            let is_number = ["_cents", "_e4", "_e6"].iter().any(|unit| name.ends_with(unit));
            assert!(!is_number || kind == "INTEGER", "{}.{name} is {kind}", spec.table);
            assert!(["INTEGER", "TEXT", "BLOB"].contains(&kind.as_str()), "{}.{name} is {kind}", spec.table);
        }
    }
}

/// A copy for the site holds a row without its sealed values, so these may be NULL where something in the row is open;
/// an open value that a fact must have is always there.
#[test]
fn a_sealed_column_may_be_absent_from_a_row_that_also_has_open_ones() {
    let at = place();
    drop(ledger::Ledger::create(&at.path).expect("a ledger"));
    let conn = raw(&at.path);
    let must_be_there = |table: &str, column: &str| -> bool {
        let sql = "SELECT \"notnull\" FROM pragma_table_info(?1) WHERE name = ?2";
        conn.query_row(sql, [table, column], |row| row.get(0)).expect("a column")
    };
    let (mut open, mut sealed) = (0, 0);
    for (spec, _) in tables() {
        for (column, is_open) in spec.columns.iter().zip(&spec.open) {
            let must = must_be_there(spec.table, column);
            if *is_open {
                open += i32::from(must);
            } else if spec.has_open() {
                assert!(!must, "{}.{column} could not be withheld", spec.table);
                sealed += 1;
            }
        }
    }
    assert!(open > 100 && sealed > 10, "{open} open, {sealed} sealed");
}

#[test]
fn every_table_is_strict_and_there_is_no_other() {
    let at = place();
    drop(ledger::Ledger::create(&at.path).expect("a ledger"));
    let conn = raw(&at.path);
    let sql = "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'
               AND name NOT LIKE 'sqlite%'";
    let mut statement = conn.prepare(sql).expect("the tables");
    let found: Vec<(String, bool)> = statement
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .expect("the tables")
        .collect::<Result<_, _>>()
        .expect("the tables");
    let known: Vec<&str> = tables().map(|(spec, _)| spec.table).collect();
    for (name, strict) in &found {
        assert!(*strict, "{name} is not STRICT");
        let ours = known.contains(&name.as_str())
            || name.starts_with("total_")
            || ["entry", "draft", "import_mapping", "setting", "signed_head"].contains(&name.as_str());
        assert!(ours, "{name} is nobody's");
    }
    assert_eq!(found.iter().filter(|(name, _)| known.contains(&name.as_str())).count(), known.len());
}

#[test]
fn the_sample_has_every_kind_and_a_line_in_every_list() {
    let at = place();
    drop(full_books(&at.path));
    let conn = raw(&at.path);
    for (spec, _) in tables() {
        let rows: i64 = conn
            .query_row(&format!("SELECT count(*) FROM {}", spec.table), [], |row| row.get(0))
            .expect("a count");
        assert!(rows > 0, "{} is empty, so no other test covers it", spec.table);
    }
    assert!(one_of_each().len() > KINDS.len());
}

#[test]
fn any_other_tool_is_refused_when_it_changes_or_deletes_a_fact() {
    let at = place();
    drop(full_books(&at.path));
    let conn = raw(&at.path);
    let tables = tables().map(|(spec, _)| spec.table).chain(["entry"]);
    for table in tables {
        let (first, _) = columns(&conn, table).swap_remove(0);
        for sql in [format!("UPDATE {table} SET {first} = {first}"), format!("DELETE FROM {table}")] {
            let refused = conn.execute(&sql, []).expect_err(&sql).to_string();
            assert_eq!(refused, "facts are never changed: record a reversal instead", "{sql}");
        }
    }
}

#[test]
fn the_file_itself_refuses_a_reversal_of_a_reversal() {
    let at = place();
    drop(full_books(&at.path));
    let conn = raw(&at.path);
    for kind in ["reversal", "month-closed", "hand-off", "device", "device-left"] {
        let sql = "INSERT INTO reversal (id, date, reverses, reason)
                   SELECT x'00112233445566778899aabbccddeeff', '2026-05-01', id, 'no' FROM entry WHERE kind = ?1";
        let refused = conn.execute(sql, [kind]).expect_err(kind).to_string();
        assert_eq!(refused, "this kind of fact cannot be reversed", "{kind}");
    }
}

#[test]
fn the_file_itself_refuses_a_word_a_date_or_an_amount_that_cannot_be() {
    let at = place();
    drop(full_books(&at.path));
    // Without triggers, so that it is the column's own rule that speaks.
    let conn = unguarded(&at.path);
    conn.execute_batch("PRAGMA ignore_check_constraints = OFF").expect("the rules again");
    for sql in [
        "UPDATE direct_cost SET cost_kind = 'bribe'",
        "UPDATE direct_cost SET date = '4 March'",
        "UPDATE payment SET amount_cents = 0",
        "UPDATE time_entry SET hours_e4 = 240001",
        "UPDATE direct_cost SET amount_cents = 'fifty'",
        "UPDATE direct_cost SET amount_cents = 0.5",
        "UPDATE direct_cost SET job = x'00'",
        "UPDATE month_closed SET month = 202613",
        "UPDATE entry SET hash = x'00'",
    ] {
        let refused = conn.execute(sql, []).expect_err(sql).to_string();
        assert!(refused.contains("CHECK constraint") || refused.contains("cannot store"), "{sql}: {refused}");
    }
}

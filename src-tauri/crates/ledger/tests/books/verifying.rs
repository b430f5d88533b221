//! Verify: a changed byte in any column of any table of facts is found, and its entry is named.

use crate::sample::{
    JOB, TEAR, add, books, close, direct_cost, full_books, id, month, place, problems, raw, unguarded,
};
use ledger::kinds::KINDS;
use ledger::{LedgerError, Stage, verify};
use rusqlite::Connection;
use rusqlite::types::Value;
use std::path::Path;

/// A value of the same kind that differs in one byte, and, where the column may be NULL, its absence or presence.
fn altered(value: &Value, kind: &str, may_be_null: bool) -> Vec<Value> {
    let mut others = match value {
        Value::Integer(number) => vec![Value::Integer(number ^ 1), Value::Integer(number ^ (1 << 40))],
        Value::Text(text) => {
            let last = text.char_indices().next_back().map_or(0, |(at, _)| at);
            vec![Value::Text(format!("{}~", &text[..last])), Value::Text(format!("{text} "))]
        }
        Value::Blob(bytes) => {
            let mut first = bytes.clone();
            first[0] ^= 0x80;
            let mut last = bytes.clone();
            if let Some(byte) = last.last_mut() {
                *byte ^= 1;
            }
            vec![Value::Blob(first), Value::Blob(last)]
        }
        Value::Null if kind == "INTEGER" => vec![Value::Integer(0)],
        Value::Null if kind == "TEXT" => vec![Value::Text("x".to_owned())],
        Value::Null => vec![Value::Blob(vec![7; 32])],
        Value::Real(_) => panic!("no column of ours holds a REAL"),
    };
    if may_be_null && *value != Value::Null {
        others.push(Value::Null);
    }
    others
}

/// Name, type and whether it may be NULL.
fn columns(conn: &Connection, table: &str) -> Vec<(String, String, bool)> {
    let mut statement = conn.prepare(&format!("PRAGMA table_info({table})")).expect("a table");
    let rows = statement
        .query_map([], |row| Ok((row.get(1)?, row.get(2)?, row.get::<_, i64>(3)? == 0)))
        .expect("its columns");
    rows.collect::<Result<_, _>>().expect("its columns")
}

/// The key of a row in a table, and the entry that it belongs to.
struct RowOf {
    key: String,
    entry: String,
}

/// The first two rows of a table, so that a later one than the first is altered too.
fn rows_of(conn: &Connection, table: &str, is_list: bool) -> Vec<RowOf> {
    let (key, line) = if is_list { ("fact", "line") } else { ("id", "0") };
    let sql = format!(
        "SELECT hex(t.{key}), {line}, e.device, e.device_seq, e.kind FROM {table} t JOIN entry e ON e.id = t.{key}
         ORDER BY e.device_seq, 2 LIMIT 2"
    );
    let mut statement = conn.prepare(&sql).expect("rows");
    let rows = statement
        .query_map([], |row| {
            let (hex, line): (String, i64) = (row.get(0)?, row.get(1)?);
            let (device, seq, kind): (String, i64, String) = (row.get(2)?, row.get(3)?, row.get(4)?);
            let line = if is_list { format!(" AND line = {line}") } else { String::new() };
            Ok(RowOf {
                key: format!("{key} = x'{hex}'{line}"),
                entry: format!("Entry {device} {seq} ({kind},"),
            })
        })
        .expect("rows");
    rows.collect::<Result<_, _>>().expect("rows")
}

fn first_bad(path: &Path) -> Option<String> {
    let verdict = verify(path, &mut |_| true).expect("a verdict");
    assert!(!verdict.is_good());
    verdict.first_bad_entry().map(ToString::to_string)
}

#[test]
fn a_changed_value_in_any_column_of_any_table_of_facts_is_found_and_its_entry_named() {
    let at = place();
    drop(full_books(&at.path));
    assert_eq!(problems(&at.path), Vec::<String>::new());
    let conn = unguarded(&at.path);
    let lists = KINDS.iter().flat_map(|kind| kind.lists.iter().map(|list| (list.table, true)));
    let tables: Vec<(&str, bool)> = KINDS.iter().map(|kind| (kind.own.table, false)).chain(lists).collect();
    let mut tried = 0;
    for (table, is_list) in tables {
        let rows = rows_of(&conn, table, is_list);
        assert!(!rows.is_empty(), "{table} is empty");
        for (name, kind, may_be_null) in columns(&conn, table) {
            for row in &rows {
                let read = format!("SELECT {name} FROM {table} WHERE {}", row.key);
                let before: Value = conn.query_row(&read, [], |found| found.get(0)).expect("a value");
                for other in altered(&before, &kind, may_be_null) {
                    // A key that is altered is put back by its altered value.
                    let change = format!("UPDATE {table} SET {name} = ?1 WHERE {}", row.key);
                    if conn.execute(&change, [&other]).is_err() {
                        // Another row already has this key: the file itself refused.
                        continue;
                    }
                    let found = first_bad(&at.path);
                    let named = found.as_deref().is_some_and(|found| found.starts_with(&row.entry));
                    // A row that is given to an earlier fact makes that one bad first.
                    let moved = name == "fact" && found.is_some();
                    assert!(named || moved, "{table}.{name}: {found:?} and not {}", row.entry);
                    let back = if name == "id" || name == "fact" || name == "line" {
                        format!("UPDATE {table} SET {name} = ?1 WHERE {name} IS ?2")
                    } else {
                        format!("UPDATE {table} SET {name} = ?1 WHERE {} AND ?2 IS ?2", row.key)
                    };
                    assert_eq!(
                        conn.execute(&back, [&before, &other]).expect("put back"),
                        1,
                        "{table}.{name}"
                    );
                    tried += 1;
                }
            }
        }
    }
    assert!(tried > 800, "only {tried} alterations were tried");
}

#[test]
fn a_changed_value_in_any_column_of_an_entry_is_found() {
    let at = place();
    drop(full_books(&at.path));
    let conn = unguarded(&at.path);
    for (name, kind, _) in columns(&conn, "entry") {
        // The row's own number in this file is no part of what was recorded.
        if name == "n" {
            continue;
        }
        let read = format!("SELECT {name} FROM entry WHERE device_seq = 20");
        let before: Value = conn.query_row(&read, [], |row| row.get(0)).expect("a value");
        let number: i64 =
            conn.query_row("SELECT n FROM entry WHERE device_seq = 20", [], |row| row.get(0)).expect("a row");
        for other in altered(&before, &kind, false) {
            let change = format!("UPDATE entry SET {name} = ?1 WHERE n = {number}");
            if conn.execute(&change, [&other]).is_err() {
                continue;
            }
            let found = first_bad(&at.path).expect("a bad entry");
            // An entry that leaves its place is missed by the one after it.
            let expected = if name.starts_with("device") { "Entry A 21 (" } else { "Entry A 20 (" };
            let expected = if name == "kind" { "Entry A 20" } else { expected };
            assert!(found.starts_with(expected), "entry.{name}: {found}");
            conn.execute(&change, [&before]).expect("put back");
        }
    }
    // Once the triggers are made again the file is as it was.
    let left = problems(&at.path);
    assert!(left.len() == 1 && left[0].contains("trigger account_refuses_delete"), "{left:?}");
}

#[test]
fn a_lost_entry_a_lost_row_and_a_lost_line_are_found() {
    for (sql, expected) in [
        ("DELETE FROM entry WHERE device_seq = 20", "Entry A 21 (burden-rate, recorded"),
        ("DELETE FROM direct_cost WHERE description = 'lift'", "its row in direct_cost is missing"),
        ("DELETE FROM bill_line WHERE line = 1", "what stands there now is not what was recorded"),
        ("DELETE FROM bill_line WHERE line = 2", "what stands there now is not what was recorded"),
        (
            "INSERT INTO condition_photo (fact, line, photo) SELECT fact, 2, photo FROM condition_photo",
            "what stands there now is not what was recorded",
        ),
    ] {
        let at = place();
        drop(full_books(&at.path));
        if sql.contains("device_seq = 20") {
            let kind: String = raw(&at.path)
                .query_row("SELECT kind FROM entry WHERE device_seq = 21", [], |row| row.get(0))
                .expect("a kind");
            assert!(!kind.is_empty());
        }
        unguarded(&at.path).execute(sql, []).expect("a loss");
        let found = first_bad(&at.path).expect("a bad entry");
        let expected =
            if expected.starts_with("Entry") { "the entry before it, A 20, is missing" } else { expected };
        assert!(found.contains(expected), "{sql}: {found}");
    }
}

#[test]
fn a_row_without_an_entry_is_found() {
    let at = place();
    drop(full_books(&at.path));
    let conn = unguarded(&at.path);
    conn.execute_batch(
        "INSERT INTO direct_cost SELECT x'00112233445566778899aabbccddeeff', date, job, code, cost_kind, description,
             amount_cents, NULL, NULL FROM direct_cost LIMIT 1;
         INSERT INTO condition_photo (fact, line, photo)
             SELECT x'ff112233445566778899aabbccddeeff', 1, photo FROM condition_photo LIMIT 1;",
    )
    .expect("rows out of nowhere");
    let found = problems(&at.path);
    let has = |words: &str| found.iter().any(|problem| problem.contains(words));
    assert!(has("direct_cost: the row 00112233-4455-6677-8899-aabbccddeeff has no entry"), "{found:?}");
    assert!(has("condition_photo: 1 line(s) belong to ff112233-4455-6677-8899-aabbccddeeff"), "{found:?}");
    assert!(has("1 row(s) name a row of entry that is not there"), "{found:?}");
}

#[test]
fn entries_lost_from_the_end_are_missed_by_the_close_that_named_them() {
    let at = place();
    let mut ledger = books(&at.path);
    for n in 100..110 {
        add(&mut ledger, direct_cost(n, "2026-03-05", JOB, "1.00"));
    }
    ledger.set_setting(ledger::draft::DEVICE, "B").expect("another letter");
    drop(ledger);
    let mut ledger = ledger::Ledger::open(&at.path).expect("the ledger");
    let march = close(&ledger, 110, "2026-04-02", month("2026-03"));
    add(&mut ledger, march);
    drop(ledger);
    unguarded(&at.path)
        .execute_batch(
            "DELETE FROM direct_cost WHERE id IN (SELECT id FROM entry WHERE device = 'A' AND device_seq > 18);
             DELETE FROM entry WHERE device = 'A' AND device_seq > 18",
        )
        .expect("the end of A's chain lost");
    let found = first_bad(&at.path).expect("a bad entry");
    let expected = "it names entries through A 21, but they now end at A 18: the rest is lost";
    assert!(found.starts_with("Entry B 1 (month-closed,") && found.contains(expected), "{found}");
}

#[test]
fn a_stored_total_that_is_not_what_the_facts_come_to_is_found_and_rebuilt() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "5.00"));
    raw(&at.path)
        .execute_batch(
            "UPDATE total_code SET equipment_cents = 501; DELETE FROM total_job;
             INSERT INTO total_invoice VALUES (x'00112233445566778899aabbccddeeff', 202603, 100, 0);
             INSERT INTO total_invoice VALUES (x'ff112233445566778899aabbccddeeff', 202603, 0, 0);",
        )
        .expect("wrong totals");
    let found = problems(&at.path);
    assert_eq!(found.len(), 3, "{found:?}");
    let expected = format!(
        "total_code: 1 row(s) are not what the facts come to: job {}, code {}, month 202603: equipment_cents stands at \
         501 and comes to 500. Rebuild the totals; the facts are not touched by this.",
        id(JOB),
        id(TEAR)
    );
    assert_eq!(found[0], expected);
    assert!(
        found[1].starts_with("total_invoice: 1 row(s)") && found[2].starts_with("total_job: 1 row(s)"),
        "{found:?}"
    );
    ledger.rebuild(&mut |_| true).expect("totals anew");
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_guard_that_was_taken_away_or_loosened_is_found() {
    let at = place();
    drop(full_books(&at.path));
    raw(&at.path)
        .execute_batch(
            "DROP TRIGGER direct_cost_refuses_update; CREATE TABLE note (text TEXT); DROP INDEX time_entry_by_job",
        )
        .expect("a loosened file");
    assert_eq!(
        problems(&at.path),
        [
            "The file: guards or tables of the file are missing: index time_entry_by_job, trigger \
             direct_cost_refuses_update.",
            "The file: guards or tables of the file were not made by this program: table note.",
        ]
    );
}

#[test]
fn verify_tells_how_far_it_is_and_stops_when_asked() {
    let at = place();
    drop(full_books(&at.path));
    let mut stages = Vec::new();
    let verdict = verify(&at.path, &mut |progress| {
        stages.push(progress.stage);
        true
    })
    .expect("a verdict");
    assert!(verdict.is_good() && verdict.entries > 40 && verdict.attachments == 1);
    assert_eq!(verdict.devices, [("A".to_owned(), i64::try_from(verdict.entries).expect("a number"))]);
    assert!(stages.contains(&Stage::Chain) && stages.contains(&Stage::Attachments), "{stages:?}");
    for wanted in [Stage::Chain, Stage::Attachments] {
        let stopped = verify(&at.path, &mut |progress| progress.stage != wanted);
        assert!(matches!(stopped, Err(LedgerError::Stopped)), "{wanted:?}: {stopped:?}");
    }
}

#[test]
fn verify_never_writes_to_the_file() {
    let at = place();
    drop(full_books(&at.path));
    let before = std::fs::read(&at.path).expect("the file");
    assert!(problems(&at.path).is_empty());
    assert_eq!(std::fs::read(&at.path).expect("the file"), before);
}

#[test]
fn many_problems_are_listed_up_to_a_hundred_and_counted_beyond() {
    let at = place();
    let mut ledger = books(&at.path);
    let batch: Vec<_> = (0..150).map(|n| direct_cost(1000 + n, "2026-03-05", JOB, "1.00")).collect();
    ledger.append(&batch, crate::sample::moment()).expect("direct costs");
    drop(ledger);
    unguarded(&at.path).execute("UPDATE direct_cost SET amount_cents = 99", []).expect("a swindle");
    let verdict = verify(&at.path, &mut |_| true).expect("a verdict");
    let entries = verdict.problems.iter().filter(|problem| problem.entry.is_some()).count();
    assert_eq!(entries, 100);
    assert!(verdict.more >= 50, "{}", verdict.more);
    assert_eq!(
        verdict.first_bad_entry().and_then(|bad| bad.entry.as_ref()).map(|entry| entry.device_seq),
        Some(12)
    );
}

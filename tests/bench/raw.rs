//! The reference: the same rows written and summed by SQLite alone, with the same tables, keys, indexes and disk
//! settings, and without hashes, checks, triggers or stored totals.

use ledger::NewFact;
use ledger::kind::KindSpec;
use ledger::kinds::{KINDS, kind_spec};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, params};
use std::path::Path;

pub(crate) struct Raw {
    conn: Connection,
    seq: i64,
}

impl Raw {
    pub(crate) fn of(path: &Path) -> Raw {
        let conn = Connection::open(path).unwrap();
        let tables = include_str!("../../migrations/0001_facts.sql");
        // Without the triggers, which stand at the end.
        let tables = tables.split("-- Facts are never changed.").next().unwrap();
        conn.execute_batch(tables).unwrap();
        conn.execute_batch(
            "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = OFF;",
        )
        .unwrap();
        conn.execute_batch("PRAGMA cache_size = -65536").unwrap();
        conn.set_prepared_statement_cache_capacity(256);
        Raw { conn, seq: 0 }
    }

    pub(crate) fn insert(&mut self, batch: &[NewFact]) {
        let tx = self.conn.transaction().unwrap();
        for new in batch {
            let spec: &KindSpec = kind_spec(new.fact.kind()).unwrap();
            let record = new.fact.record();
            self.seq += 1;
            tx.prepare_cached(
                "INSERT INTO entry
                     (id, device, device_seq, recorded_at, person, kind, prev_hash, open, sealed, salt, hash)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            )
            .unwrap()
            .execute(params![
                new.id.bytes(),
                "A",
                self.seq,
                "2026-10-01T13:00:00.000Z",
                new.person.bytes(),
                spec.kind,
                [0_u8; 32],
                [0_u8; 32],
                [0_u8; 32],
                [0_u8; 32],
                [0_u8; 32]
            ])
            .unwrap();
            let mut statement = tx.prepare_cached(&spec.own.insert).unwrap();
            statement.raw_bind_parameter(1, new.id.bytes()).unwrap();
            for (index, value) in record.own.iter().enumerate() {
                statement.raw_bind_parameter(index + 2, value).unwrap();
            }
            statement.raw_execute().unwrap();
        }
        tx.commit().unwrap();
    }
}

/// What a month end would have to do without stored totals: add the facts up by job and code.
pub(crate) fn group_by(path: &Path) {
    let conn = Connection::open(path).unwrap();
    conn.execute_batch("PRAGMA cache_size = -65536").unwrap();
    for sql in [
        "SELECT job, code, sum(hours_e4) FROM time_entry GROUP BY job, code",
        "SELECT job, code, sum(amount_cents), sum(tax_cents) FROM bill_line GROUP BY job, code",
        "SELECT i.job, sum(l.amount_cents) FROM invoice i JOIN invoice_line l ON l.fact = i.id GROUP BY i.job",
    ] {
        let mut statement = conn.prepare(sql).unwrap();
        let mut rows = statement.query([]).unwrap();
        let mut count = 0_u64;
        while rows.next().unwrap().is_some() {
            count += 1;
        }
        assert!(count > 0);
    }
}

/// Every value of every row of every table of facts, read once.
pub(crate) fn read_all(path: &Path) -> u64 {
    let conn = Connection::open(path).unwrap();
    conn.execute_batch("PRAGMA cache_size = -65536").unwrap();
    let lists = |spec: &'static KindSpec| spec.lists.iter().map(|list| list.table);
    let tables = KINDS.iter().flat_map(|spec| std::iter::once(spec.own.table).chain(lists(spec)));
    let (mut count, mut bytes) = (0_u64, 0_usize);
    for table in std::iter::once("entry").chain(tables) {
        let mut statement = conn.prepare(&format!("SELECT * FROM {table}")).unwrap();
        let columns = statement.column_count();
        let mut rows = statement.query([]).unwrap();
        while let Some(row) = rows.next().unwrap() {
            count += 1;
            for place in 0..columns {
                if let ValueRef::Text(held) | ValueRef::Blob(held) = row.get_ref(place).unwrap() {
                    bytes += held.len();
                }
            }
        }
    }
    assert!(bytes > 0);
    count
}

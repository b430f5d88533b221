//! The canonical encoding of an entry, version 1, and its BLAKE3 hash.
//!
//! ```text
//! entry   = version(1 byte, 01) text(device) int(device_seq) text(recorded_at) blob(person) blob(prev_hash)
//!           text(kind) blob(id) fields lists
//! fields  = for each column in declared order whose value is not NULL: text(column) value ; then 00
//! lists   = for each list in declared order that has lines: text(table) int(number of lines) fields of each ; then 00
//! value   = 01 int | 02 text | 03 blob
//! int     = 8 bytes, big-endian, two's complement
//! text    = u32 big-endian length, then UTF-8 ; blob = u32 big-endian length, then the bytes
//! ```
//! A text that begins a field or list can never be empty, so its first length byte is told from the closing `00`
//! by a lead byte `01`. NULLs and empty lists are left out: a later migration may add a nullable column or a list
//! without changing the hash of any earlier fact.

use crate::id::{Digest, Id};
use crate::kind::{KindSpec, Record};
use rusqlite::types::{Value, ValueRef};

/// The first byte of every encoding.
pub const VERSION: u8 = 1;

/// What surrounds a fact in the chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// The device's letter.
    pub device: String,
    /// Gapless from 1 on each device.
    pub device_seq: i64,
    /// UTC, RFC 3339 with milliseconds.
    pub recorded_at: String,
    /// Who recorded it.
    pub person: Id,
    /// The hash of the entry before it on this device.
    pub prev_hash: Digest,
}

pub(crate) fn put_bytes(out: &mut Vec<u8>, bytes: &[u8]) {
    let length = u32::try_from(bytes.len()).unwrap_or(u32::MAX);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(bytes);
}

/// One column of a row. Writing takes it from a struct and verifying straight from the file, through this one door.
pub(crate) fn put_field(out: &mut Vec<u8>, column: &str, value: ValueRef<'_>) {
    let tag = match value {
        ValueRef::Null => return,
        ValueRef::Integer(_) => 1,
        ValueRef::Text(_) => 2,
        // A REAL cannot stand in any of our columns: STRICT tables and `Column` both refuse it. Were one
        // found, it is hashed as what it is, so that the entry fails instead of passing.
        ValueRef::Blob(_) | ValueRef::Real(_) => 3,
    };
    out.push(1);
    put_bytes(out, column.as_bytes());
    out.push(tag);
    match value {
        ValueRef::Integer(number) => out.extend_from_slice(&number.to_be_bytes()),
        ValueRef::Text(bytes) | ValueRef::Blob(bytes) => put_bytes(out, bytes),
        ValueRef::Real(number) => put_bytes(out, &number.to_be_bytes()),
        ValueRef::Null => {}
    }
}

/// The head of a list that has lines.
pub(crate) fn put_list_head(out: &mut Vec<u8>, table: &str, lines: usize) {
    out.push(1);
    put_bytes(out, table.as_bytes());
    out.extend_from_slice(&i64::try_from(lines).unwrap_or(i64::MAX).to_be_bytes());
}

/// What closes the fields of a row, or the lists of a fact.
pub(crate) fn put_end(out: &mut Vec<u8>) {
    out.push(0);
}

fn put_fields(out: &mut Vec<u8>, columns: &[String], values: &[Value]) {
    for (column, value) in columns.iter().zip(values) {
        put_field(out, column, value.into());
    }
    put_end(out);
}

/// The part of the encoding that does not depend on the chain: two facts with the same bytes are the same fact.
#[must_use]
pub fn content(spec: &KindSpec, id: Id, record: &Record) -> Vec<u8> {
    let mut out = Vec::with_capacity(384);
    put_bytes(&mut out, spec.kind.as_bytes());
    put_bytes(&mut out, id.bytes());
    put_fields(&mut out, &spec.own.columns, &record.own);
    for (list, lines) in spec.lists.iter().zip(&record.lists) {
        if lines.is_empty() {
            continue;
        }
        put_list_head(&mut out, list.table, lines.len());
        for line in lines {
            put_fields(&mut out, &list.columns, line);
        }
    }
    put_end(&mut out);
    out
}

/// The part that depends on the chain, from the version byte on.
pub(crate) fn put_lead(
    out: &mut Vec<u8>,
    device: &str,
    device_seq: i64,
    recorded_at: &str,
    person: &[u8],
    prev_hash: &[u8],
) {
    out.push(VERSION);
    put_bytes(out, device.as_bytes());
    out.extend_from_slice(&device_seq.to_be_bytes());
    put_bytes(out, recorded_at.as_bytes());
    put_bytes(out, person);
    put_bytes(out, prev_hash);
}

/// The hash that stands in `entry.hash`.
#[must_use]
pub fn entry_hash(header: &Header, content: &[u8]) -> Digest {
    let mut lead = Vec::with_capacity(128);
    put_lead(
        &mut lead,
        &header.device,
        header.device_seq,
        &header.recorded_at,
        header.person.bytes(),
        &header.prev_hash.0,
    );
    let mut hasher = blake3::Hasher::new();
    hasher.update(&lead);
    hasher.update(content);
    Digest(*hasher.finalize().as_bytes())
}

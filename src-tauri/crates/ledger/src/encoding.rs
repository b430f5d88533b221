//! The canonical encoding of an entry, version 1, and its BLAKE3 hash.
//!
//! A fact has two parts: what a crew may see of it (*open*), and the rest (*sealed*: costs, pay, margin, the contract's
//! price). Each has a digest of its own, and the entry's hash is made of the two digests. So a copy for the site can
//! hold a fact without its sealed part, or an entry without its fact, and the whole chain can still be verified.
//! Which column is open, each fact's own struct says; a column that says nothing is sealed.
//!
//! ```text
//! hash    = BLAKE3( 01 text(device) int(device_seq) text(recorded_at) blob(person) text(kind) blob(id)
//!                   blob(prev_hash) blob(open) blob(sealed) )
//! open    = BLAKE3( 01 4F fields lists )                      of the open columns and lists
//! sealed  = BLAKE3( 01 53 salt(32 bytes) fields lists )       of the sealed columns and lists
//! fields  = for each column of the part in declared order whose value is not NULL: 01 text(column) value ; then 00
//! lists   = for each list in declared order that has lines, and a column in the part:
//!           01 text(table) int(number of lines) fields of each ; then 00
//! value   = 01 int | 02 text | 03 blob
//! int     = 8 bytes, big-endian, two's complement
//! text    = u32 big-endian length, then UTF-8 ; blob = u32 big-endian length, then the bytes
//! ```
//! `01` at the very beginning is [`VERSION`], `4F` and `53` are the letters O and S. A text that begins a field or
//! list can never be empty, so its first length byte is told from the closing `00` by a lead byte `01`. NULLs and empty
//! lists are left out: a later migration may add a nullable column or a list without changing the hash of any earlier
//! fact.
//!
//! The salt is random and stands in the entry, so that nobody who has the digest alone can try out likely prices. A
//! kind with no sealed column has no sealed part: no salt, and in the hash a blob of no bytes. A kind that has one
//! always has a sealed part, also when all its sealed columns are NULL, since that too is nobody's business.

use crate::id::{Digest, Id};
use crate::kind::{KindSpec, Record, TableSpec};
use crate::salt::Salt;
use rusqlite::types::ValueRef;

/// The first byte of everything that is hashed.
pub const VERSION: u8 = 1;

/// What surrounds a fact in the chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// The device's letters.
    pub device: String,
    /// Gapless from 1 on each device.
    pub device_seq: i64,
    /// UTC, RFC 3339 with milliseconds.
    pub recorded_at: String,
    /// Who recorded it.
    pub person: Id,
    /// The fact.
    pub id: Id,
    /// The hash of the entry before it on this device.
    pub prev_hash: Digest,
}

/// An entry's columns as they are hashed.
pub(crate) struct Hashed<'a> {
    pub(crate) device: &'a str,
    pub(crate) device_seq: i64,
    pub(crate) recorded_at: &'a str,
    pub(crate) person: &'a [u8],
    pub(crate) kind: &'a str,
    pub(crate) id: &'a [u8],
    pub(crate) prev_hash: &'a [u8],
    pub(crate) open: &'a [u8],
    pub(crate) sealed: &'a [u8],
}

fn put_bytes(out: &mut Vec<u8>, bytes: &[u8]) {
    let length = u32::try_from(bytes.len()).unwrap_or(u32::MAX);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(bytes);
}

fn put_field(out: &mut Vec<u8>, column: &str, value: ValueRef<'_>) {
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

/// The two parts of a fact, encoded. Writing fills them from a struct and verifying straight from the file, through
/// this one door. Two facts of one kind with the same parts are the same fact.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Content {
    /// What a crew may see.
    pub open: Vec<u8>,
    /// The rest.
    pub sealed: Vec<u8>,
    /// How many sealed values there are: where they are withheld, the lines of a list may still be there.
    secrets: usize,
}

/// Where a list began in each part, for a part that has a column of it.
pub(crate) struct ListStart {
    open: Option<usize>,
    sealed: Option<usize>,
}

impl Content {
    /// A fact's two parts.
    #[must_use]
    pub fn of(spec: &KindSpec, record: &Record) -> Content {
        let mut content =
            Content { open: Vec::with_capacity(384), sealed: Vec::with_capacity(128), secrets: 0 };
        content.put_row(&spec.own, record.own.iter().map(ValueRef::from));
        for (list, lines) in spec.lists.iter().zip(&record.lists) {
            let start = content.begin_list(list);
            for line in lines {
                content.put_line(list, line.iter().map(ValueRef::from));
            }
            content.end_list(list, &start, i64::try_from(lines.len()).unwrap_or(i64::MAX));
        }
        content.end();
        content
    }

    /// Whether no value stands in the sealed part.
    pub(crate) fn seals_nothing(&self) -> bool {
        self.secrets == 0
    }

    pub(crate) fn clear(&mut self) {
        self.open.clear();
        self.sealed.clear();
        self.secrets = 0;
    }

    /// The fact's own row, which has fields in both parts, be there any or none.
    pub(crate) fn put_row<'v>(&mut self, spec: &TableSpec, values: impl Iterator<Item = ValueRef<'v>>) {
        self.put_fields(spec, values);
        self.open.push(0);
        self.sealed.push(0);
    }

    fn put_fields<'v>(&mut self, spec: &TableSpec, values: impl Iterator<Item = ValueRef<'v>>) {
        for ((column, is_open), value) in spec.columns.iter().zip(&spec.open).zip(values) {
            if *is_open {
                put_field(&mut self.open, column, value);
            } else {
                self.secrets += usize::from(value != ValueRef::Null);
                put_field(&mut self.sealed, column, value);
            }
        }
    }

    pub(crate) fn begin_list(&mut self, list: &TableSpec) -> ListStart {
        fn begin(out: &mut Vec<u8>, has: bool, table: &str) -> Option<usize> {
            let start = out.len();
            if has {
                out.push(1);
                put_bytes(out, table.as_bytes());
                out.extend_from_slice(&0_i64.to_be_bytes());
            }
            has.then_some(start)
        }
        ListStart {
            open: begin(&mut self.open, list.has_open(), list.table),
            sealed: begin(&mut self.sealed, list.has_sealed(), list.table),
        }
    }

    pub(crate) fn put_line<'v>(&mut self, list: &TableSpec, values: impl Iterator<Item = ValueRef<'v>>) {
        self.put_fields(list, values);
        for (out, has) in [(&mut self.open, list.has_open()), (&mut self.sealed, list.has_sealed())] {
            if has {
                out.push(0);
            }
        }
    }

    /// The head of a list ends in the number of its lines, which is known only now; a list without lines is none.
    pub(crate) fn end_list(&mut self, list: &TableSpec, start: &ListStart, lines: i64) {
        for (out, start) in [(&mut self.open, start.open), (&mut self.sealed, start.sealed)] {
            let Some(start) = start else { continue };
            if lines == 0 {
                out.truncate(start);
            } else {
                let count = start + 1 + 4 + list.table.len();
                out[count..count + 8].copy_from_slice(&lines.to_be_bytes());
            }
        }
    }

    /// After the last list.
    pub(crate) fn end(&mut self) {
        self.open.push(0);
        self.sealed.push(0);
    }

    /// The digest that stands in `entry.open`.
    #[must_use]
    pub fn open_digest(&self) -> Digest {
        digest(&[&[VERSION, b'O'], &self.open])
    }

    /// The digest that stands in `entry.sealed`.
    #[must_use]
    pub fn sealed_digest(&self, salt: Salt) -> Digest {
        digest(&[&[VERSION, b'S'], &salt.0, &self.sealed])
    }
}

/// The most bytes that are hashed in one piece: almost every fact is smaller, and a hasher made for each would take
/// longer than the hashing.
const ONE_PIECE: usize = 1024;

fn digest(parts: &[&[u8]]) -> Digest {
    let mut whole = [0; ONE_PIECE];
    let mut length = 0;
    for part in parts {
        let Some(room) = whole.get_mut(length..length + part.len()) else { return digest_of_long(parts) };
        room.copy_from_slice(part);
        length += part.len();
    }
    Digest::of(&whole[..length])
}

fn digest_of_long(parts: &[&[u8]]) -> Digest {
    let mut hasher = blake3::Hasher::new();
    for part in parts {
        hasher.update(part);
    }
    Digest(*hasher.finalize().as_bytes())
}

/// The hash of an entry from its columns; `lead` is room to work in.
pub(crate) fn hash_of(entry: &Hashed<'_>, lead: &mut Vec<u8>) -> Digest {
    lead.clear();
    lead.push(VERSION);
    put_bytes(lead, entry.device.as_bytes());
    lead.extend_from_slice(&entry.device_seq.to_be_bytes());
    put_bytes(lead, entry.recorded_at.as_bytes());
    put_bytes(lead, entry.person);
    put_bytes(lead, entry.kind.as_bytes());
    for bytes in [entry.id, entry.prev_hash, entry.open, entry.sealed] {
        put_bytes(lead, bytes);
    }
    digest(&[lead])
}

/// The hash that stands in `entry.hash`.
#[must_use]
pub fn entry_hash(header: &Header, kind: &str, open: Digest, sealed: Option<Digest>) -> Digest {
    let hashed = Hashed {
        device: &header.device,
        device_seq: header.device_seq,
        recorded_at: &header.recorded_at,
        person: header.person.bytes(),
        kind,
        id: header.id.bytes(),
        prev_hash: &header.prev_hash.0,
        open: &open.0,
        sealed: sealed.as_ref().map_or(&[], |sealed| &sealed.0),
    };
    hash_of(&hashed, &mut Vec::with_capacity(256))
}

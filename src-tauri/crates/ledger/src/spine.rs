//! The spine: how an entry is written beside its rows, and where a device's chain ends.

use crate::encoding::Header;
use crate::error::{LedgerError, damaged};
use crate::id::{Digest, Id};
use crate::kind::{KindSpec, Record};
use crate::salt::Salt;
use rusqlite::{Connection, params};

/// The end of a device's chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ChainEnd {
    pub(crate) seq: i64,
    pub(crate) hash: Digest,
}

/// What an entry holds of its fact: the digests of its parts, the salt of the sealed one, and the hash over all. Where
/// the sealed part is withheld, its salt is too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Digests {
    pub(crate) open: Digest,
    pub(crate) sealed: Option<Digest>,
    pub(crate) salt: Option<Salt>,
    pub(crate) hash: Digest,
}

/// Where a device's chain ends in this file.
pub(crate) fn end_of(conn: &Connection, device: &str) -> Result<ChainEnd, LedgerError> {
    let mut last = conn.prepare_cached(
        "SELECT device_seq, hash FROM entry WHERE device = ?1 ORDER BY device_seq DESC LIMIT 1",
    )?;
    let mut rows = last.query([device])?;
    let Some(row) = rows.next()? else { return Ok(ChainEnd { seq: 0, hash: Digest::ZERO }) };
    let hash = <Digest as crate::column::Column>::load(row.get_ref(1)?).map_err(damaged("entry.hash"))?;
    Ok(ChainEnd { seq: row.get(0)?, hash })
}

/// The hash of one entry of a device, if it is here.
pub(crate) fn hash_at(conn: &Connection, device: &str, seq: i64) -> Result<Option<Digest>, LedgerError> {
    let mut statement =
        conn.prepare_cached("SELECT hash FROM entry WHERE device = ?1 AND device_seq = ?2")?;
    let mut rows = statement.query(params![device, seq])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    Ok(Some(<Digest as crate::column::Column>::load(row.get_ref(0)?).map_err(damaged("entry.hash"))?))
}

/// Writes an entry and the rows of its fact; without a record, the entry alone.
pub(crate) fn insert(
    conn: &Connection,
    spec: &KindSpec,
    header: &Header,
    digests: &Digests,
    record: Option<&Record>,
) -> Result<(), LedgerError> {
    conn.prepare_cached(
        "INSERT INTO entry (id, device, device_seq, recorded_at, person, kind, prev_hash, open, sealed, salt, hash)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )?
    .execute(params![
        header.id.bytes(),
        header.device,
        header.device_seq,
        header.recorded_at,
        header.person.bytes(),
        spec.kind,
        header.prev_hash.0,
        digests.open.0,
        digests.sealed.map(|sealed| sealed.0),
        digests.salt.map(|salt| salt.0),
        digests.hash.0,
    ])?;
    record.map_or(Ok(()), |record| insert_rows(conn, spec, header.id, record))
}

/// Writes the rows of a fact whose entry is there.
pub(crate) fn insert_rows(
    conn: &Connection,
    spec: &KindSpec,
    id: Id,
    record: &Record,
) -> Result<(), LedgerError> {
    let mut own = conn.prepare_cached(&spec.own.insert)?;
    own.raw_bind_parameter(1, id.bytes())?;
    for (index, value) in record.own.iter().enumerate() {
        own.raw_bind_parameter(index + 2, value)?;
    }
    own.raw_execute()?;
    for (list, lines) in spec.lists.iter().zip(&record.lists) {
        if lines.is_empty() {
            continue;
        }
        let mut statement = conn.prepare_cached(&list.insert)?;
        for (line, values) in lines.iter().enumerate() {
            statement.raw_bind_parameter(1, id.bytes())?;
            statement.raw_bind_parameter(2, i64::try_from(line + 1).unwrap_or(i64::MAX))?;
            for (index, value) in values.iter().enumerate() {
                statement.raw_bind_parameter(index + 3, value)?;
            }
            statement.raw_execute()?;
        }
    }
    Ok(())
}

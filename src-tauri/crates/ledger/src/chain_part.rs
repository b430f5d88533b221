//! A part of a device's chain on its way to another: its entries as they are hashed, and a head that the device
//! signed. What is sent is the very encoding that the hashes are over, so that it is checked before anything reads it.

use crate::column::Column;
use crate::decoding;
use crate::encoding::{self, Content, Hashed, Header, VERSION};
use crate::error::{LedgerError, damaged};
use crate::id::{Digest, Id};
use crate::kind::{KindSpec, Record};
use crate::kinds::kind_spec;
use crate::read::{self, Books};
use crate::salt::Salt;
use crate::signing::{DeviceKey, SignedHead};
use crate::spine::{self, Digests};
use rusqlite::params;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// An entry with as much of its fact as whoever it goes to may see.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sent {
    /// When it was recorded, UTC.
    pub recorded_at: String,
    /// Who recorded it.
    pub person: [u8; 16],
    /// The kind of fact.
    pub kind: String,
    /// The fact.
    pub id: [u8; 16],
    /// The digest of the open part.
    pub open_digest: [u8; 32],
    /// The digest of the sealed part, where the kind has one.
    pub sealed_digest: Option<[u8; 32]>,
    /// The open part; absent where even that is withheld.
    pub open: Option<Vec<u8>>,
    /// The sealed part with its salt in front; absent where it is withheld.
    pub sealed: Option<Vec<u8>>,
}

/// Consecutive entries of one device, up to a head that it signed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChainPart {
    /// The head; the last entry is its own.
    pub head: SignedHead,
    /// The hash before the first entry.
    pub prev_hash: [u8; 32],
    /// The entries.
    pub entries: Vec<Sent>,
}

/// An entry that was checked: its hash is the one its bytes give.
#[derive(Clone, Debug)]
pub(crate) struct Checked {
    pub(crate) header: Header,
    pub(crate) spec: &'static KindSpec,
    pub(crate) digests: Digests,
    /// Nothing where the whole fact is withheld.
    pub(crate) record: Option<Record>,
    /// Whether the sealed part is withheld, or the whole.
    pub(crate) is_withheld: bool,
}

impl ChainPart {
    /// The number of its first entry. Nobody has checked the head yet: whatever it says, this is a number, and one
    /// below 1 is refused.
    #[must_use]
    pub fn first_seq(&self) -> i64 {
        let entries = i64::try_from(self.entries.len()).unwrap_or(i64::MAX);
        self.head.device_seq.saturating_sub(entries).saturating_add(1)
    }

    /// Entries that go on after another device's end, under its letters and signed by it.
    pub(crate) fn signed_anew(
        key: &DeviceKey,
        device: &str,
        (after, hash): (i64, Digest),
        entries: Vec<Sent>,
    ) -> Result<ChainPart, String> {
        let (mut end, mut seq, mut lead) = (hash, after, Vec::new());
        for sent in &entries {
            seq += 1;
            end = sent.check(device, seq, end, &mut lead)?.digests.hash;
        }
        Ok(ChainPart { head: SignedHead::of(key, device, seq, end), prev_hash: hash.0, entries })
    }

    /// Checks every entry against its digests, and the whole against the head that it ends in.
    pub(crate) fn check(&self) -> Result<Vec<Checked>, String> {
        let (mut prev_hash, mut seq) = (Digest(self.prev_hash), self.first_seq());
        if self.entries.is_empty() || seq < 1 {
            return Err("it holds no entry that its head could be of".to_owned());
        }
        let mut lead = Vec::new();
        let mut checked = Vec::with_capacity(self.entries.len());
        for sent in &self.entries {
            let place = |problem: String| format!("entry {} {seq}: {problem}", self.head.device);
            let next = sent.check(&self.head.device, seq, prev_hash, &mut lead).map_err(place)?;
            prev_hash = next.digests.hash;
            checked.push(next);
            seq += 1;
        }
        if prev_hash.0 != self.head.hash {
            return Err("its last entry is not the one that was signed".to_owned());
        }
        Ok(checked)
    }
}

impl Sent {
    fn check(
        &self,
        device: &str,
        device_seq: i64,
        prev_hash: Digest,
        lead: &mut Vec<u8>,
    ) -> Result<Checked, String> {
        let spec = kind_spec(&self.kind).ok_or_else(|| {
            format!("“{}” is not a kind of fact that this program knows; a later one wrote it", self.kind)
        })?;
        let is_time = self.recorded_at.len() == 24 && self.recorded_at.ends_with('Z');
        if !is_time || self.recorded_at.parse::<jiff::Timestamp>().is_err() {
            return Err(format!("“{}” is no moment", self.recorded_at));
        }
        if self.sealed_digest.is_some() != spec.has_sealed() {
            return Err("its kind has a sealed part, or has none, and it is the other way".to_owned());
        }
        let (record, salt) = self.record(spec)?;
        let hash = encoding::hash_of(
            &Hashed {
                device,
                device_seq,
                recorded_at: &self.recorded_at,
                person: &self.person,
                kind: &self.kind,
                id: &self.id,
                prev_hash: &prev_hash.0,
                open: &self.open_digest,
                sealed: self.sealed_digest.as_ref().map_or(&[], |sealed| sealed),
            },
            lead,
        );
        let header = Header {
            device: device.to_owned(),
            device_seq,
            recorded_at: self.recorded_at.clone(),
            person: Id(uuid::Uuid::from_bytes(self.person)),
            id: Id(uuid::Uuid::from_bytes(self.id)),
            prev_hash,
        };
        let digests =
            Digests { open: Digest(self.open_digest), sealed: self.sealed_digest.map(Digest), salt, hash };
        let is_withheld = self.open.is_none() || self.sealed_digest.is_some() && self.sealed.is_none();
        Ok(Checked { header, spec, digests, record, is_withheld })
    }

    /// The same entry with a change to its fact, whose salt stays what it was.
    pub(crate) fn changed(&self, change: &dyn Fn(&KindSpec, &mut Record)) -> Result<Sent, String> {
        let spec = kind_spec(&self.kind).ok_or_else(|| format!("“{}” is not known", self.kind))?;
        let (record, salt) = self.record(spec)?;
        let Some(before) = record else { return Ok(self.clone()) };
        let mut record = before.clone();
        change(spec, &mut record);
        if record == before {
            return Ok(self.clone());
        }
        let content = Content::of(spec, &record);
        Ok(Sent {
            open_digest: content.open_digest().0,
            sealed_digest: salt.map(|salt| content.sealed_digest(salt).0),
            sealed: salt.map(|salt| [&salt.0[..], &content.sealed[..]].concat()),
            open: Some(content.open),
            ..self.clone()
        })
    }

    /// The fact, read from bytes that have the digests they should have.
    fn record(&self, spec: &KindSpec) -> Result<(Option<Record>, Option<Salt>), String> {
        let Some(open) = &self.open else {
            return if self.sealed.is_some() {
                Err("it has its sealed part without the open one".to_owned())
            } else {
                Ok((None, None))
            };
        };
        if Digest::of(&[&[VERSION, b'O'], &open[..]].concat()).0 != self.open_digest {
            return Err("its open part is not the one that was hashed".to_owned());
        }
        let Some(sealed) = &self.sealed else { return Ok((decoding::record(spec, open, None)?, None)) };
        let salted = [&[VERSION, b'S'], &sealed[..]].concat();
        if Some(Digest::of(&salted).0) != self.sealed_digest {
            return Err("its sealed part is not the one that was hashed".to_owned());
        }
        let (salt, sealed) = sealed.split_first_chunk::<32>().ok_or("its sealed part has no salt")?;
        Ok((decoding::record(spec, open, Some(sealed))?, Some(Salt(*salt))))
    }
}

/// How much of a fact is sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HowMuch {
    /// All of it.
    All,
    /// What a crew may see.
    Open,
    /// That it is there, and nothing of it.
    Nothing,
}

impl Books<'_> {
    /// The head of a device's chain as it signed it last, as far as is known here.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn signed_head(&self, device: &str) -> Result<Option<SignedHead>, LedgerError> {
        let mut statement = self
            .conn
            .prepare_cached("SELECT device_seq, hash, signature FROM signed_head WHERE device = ?1")?;
        let mut rows = statement.query([device])?;
        let Some(row) = rows.next()? else { return Ok(None) };
        let hash = Digest::load(row.get_ref(1)?).map_err(damaged("signed_head.hash"))?;
        Ok(Some(SignedHead {
            device: device.to_owned(),
            device_seq: row.get(0)?,
            hash: hash.0,
            signature: row.get(2)?,
        }))
    }

    /// The hash of an entry of a device, if it is here.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn entry_hash(&self, device: &str, device_seq: i64) -> Result<Option<Digest>, LedgerError> {
        spine::hash_at(self.conn, device, device_seq)
    }

    /// The last of a device's entries after a number of which a copy for the site does not hold the fact; that number
    /// where it holds them all.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn last_without_its_fact(&self, device: &str, after: i64) -> Result<i64, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT id, device_seq FROM entry WHERE device = ?1 AND device_seq > ?2 ORDER BY device_seq DESC",
        )?;
        let mut rows = statement.query(params![device, after])?;
        while let Some(row) = rows.next()? {
            let id = Id::load(row.get_ref(0)?).map_err(damaged("entry.id"))?;
            if let Some(entry) = read::entry_of(self.conn, id)?
                && !read::has_fact(self.conn, &entry)?
            {
                return Ok(row.get(1)?);
            }
        }
        Ok(after)
    }

    /// How many entries of each kind a device wrote after a number.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn kinds_after(&self, device: &str, device_seq: i64) -> Result<BTreeMap<String, u64>, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT kind, count(*) FROM entry WHERE device = ?1 AND device_seq > ?2 GROUP BY kind",
        )?;
        let rows = statement.query_map(params![device, device_seq], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let counted: Vec<(String, i64)> = rows.collect::<Result<_, _>>()?;
        Ok(counted.into_iter().map(|(kind, count)| (kind, u64::try_from(count).unwrap_or(0))).collect())
    }

    /// The entries of a head's device from a number on, up to the head, each with as much of its fact as is asked for.
    ///
    /// # Errors
    /// When they cannot be read, or are not all here.
    pub fn chain_part(
        &self,
        head: &SignedHead,
        first_seq: i64,
        how_much: &mut dyn FnMut(&KindSpec, &Record, Id) -> Result<HowMuch, LedgerError>,
    ) -> Result<ChainPart, LedgerError> {
        let prev_hash = match spine::hash_at(self.conn, &head.device, first_seq - 1)? {
            Some(hash) => hash,
            None => Digest::ZERO,
        };
        let mut statement = self.conn.prepare_cached(
            "SELECT id, recorded_at, person, kind, open, sealed, salt FROM entry
             WHERE device = ?1 AND device_seq BETWEEN ?2 AND ?3 ORDER BY device_seq",
        )?;
        let mut rows = statement.query(params![head.device, first_seq, head.device_seq])?;
        let mut entries = Vec::new();
        while let Some(row) = rows.next()? {
            entries.push(self.sent(row, how_much)?);
        }
        let part = ChainPart { head: head.clone(), prev_hash: prev_hash.0, entries };
        if part.first_seq() != first_seq {
            return Err(LedgerError::Damaged {
                place: format!("The chain of {}", head.device),
                problem: format!("its entries {first_seq} to {} are not all here", head.device_seq),
            });
        }
        Ok(part)
    }

    fn sent(
        &self,
        row: &rusqlite::Row<'_>,
        how_much: &mut dyn FnMut(&KindSpec, &Record, Id) -> Result<HowMuch, LedgerError>,
    ) -> Result<Sent, LedgerError> {
        fn cell<T: Column>(row: &rusqlite::Row<'_>, at: usize) -> Result<T, LedgerError> {
            T::load(row.get_ref(at)?).map_err(damaged("entry"))
        }
        let (id, kind): (Id, String) = (cell(row, 0)?, cell(row, 3)?);
        let spec = kind_spec(&kind).ok_or_else(|| LedgerError::Damaged {
            place: "entry.kind".to_owned(),
            problem: format!("“{kind}” is not known"),
        })?;
        let salt: Option<Digest> = cell(row, 6)?;
        let sealed_digest: Option<Digest> = cell(row, 5)?;
        let (mut open, mut sealed) = (None, None);
        if let Some(record) = read::record_of(self.conn, spec, id)? {
            let content = Content::of(spec, &record);
            let amount = how_much(spec, &record, id)?;
            if amount != HowMuch::Nothing {
                open = Some(content.open);
            }
            if let (HowMuch::All, Some(salt)) = (amount, salt) {
                sealed = Some([&salt.0[..], &content.sealed[..]].concat());
            }
        }
        Ok(Sent {
            recorded_at: cell(row, 1)?,
            person: *cell::<Id>(row, 2)?.bytes(),
            kind,
            id: *id.bytes(),
            open_digest: cell::<Digest>(row, 4)?.0,
            sealed_digest: sealed_digest.map(|digest| digest.0),
            open,
            sealed,
        })
    }
}

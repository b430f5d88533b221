//! Two files that wrote under one letter. Their chains are the same up to some entry and differ from there on; one of
//! them gets letters of its own: a new file takes its place, and what it alone wrote goes on in that one's chain. Every
//! fact keeps its id, its moment, its person and its salt, so that whatever names it still does.

use crate::append::Ledger;
use crate::chain_part::{ChainPart, HowMuch, Sent};
use crate::error::{LedgerError, io, refuse};
use crate::kept_ends::KeptEnds;
use crate::kind::{KindSpec, Record};
use crate::open::{self, WriterLock};
use crate::read::Books;
use crate::signing::{DeviceKey, SignedHead};
use jiff::Timestamp;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::fs::File;
use std::path::{Path, PathBuf};

/// A file that is to get letters of its own. It is held for nobody else to write, whatever this computer last saw in
/// its place: that another one was written under its letters may be just what was seen.
pub struct Parted {
    conn: Connection,
    path: PathBuf,
    _lock: WriterLock,
}

impl std::fmt::Debug for Parted {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Parted({})", self.path.display())
    }
}

impl Parted {
    /// Opens it.
    ///
    /// # Errors
    /// When it is no ledger, or somebody has it open.
    pub fn open(path: &Path) -> Result<Parted, LedgerError> {
        let path = open::real(path);
        let (conn, lock) = open::write(&path)?;
        Ok(Parted { conn, path, _lock: lock })
    }

    /// Its facts.
    #[must_use]
    pub fn books(&self) -> Books<'_> {
        Books::over(&self.conn)
    }

    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Gives its place to a file that nobody has open, and keeps itself as it is under another name. Whenever it is
    /// cut, its place holds the one or the other, whole, and either opens.
    ///
    /// # Errors
    /// When somebody has one of the files open, the other name is taken, or the disk refuses. Nothing has moved then.
    pub fn give_way(
        self,
        part: &Path,
        kept_as: &Path,
        at: &mut dyn FnMut(Moment) -> Result<(), LedgerError>,
    ) -> Result<(), LedgerError> {
        // The lock is held to the end, so that nobody writes to what is about to go.
        let Parted { conn, path, _lock } = self;
        if let Some(mut kept) = KeptEnds::of(&path, &conn)? {
            let (other, _lock) = open::write(part)?;
            kept.await_other(&other)?;
        }
        drop(conn);
        // The last to close a file takes its log away; a log that stays belongs to somebody who still has it open.
        if [&*path, part].iter().any(|file| open::beside(file, "-wal").exists()) {
            return refuse("file", "another window has it open", "Close the other window first");
        }
        copy(&path, kept_as)?;
        at(Moment::IsKept)?;
        let failed = |file: &Path| io(format!("{} could not be written", file.display()));
        File::options().write(true).open(part).and_then(|file| file.sync_all()).map_err(failed(part))?;
        std::fs::rename(part, &path).map_err(failed(&path))?;
        open::sync_folder(path.parent())?;
        at(Moment::HasMoved)?;
        let conn = open::read(&path)?;
        match KeptEnds::of(&path, &conn)? {
            Some(mut kept) => kept.begin_anew(&conn),
            None => Ok(()),
        }
    }
}

/// How far a file has given way to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// It lies under its other name too.
    IsKept,
    /// The other lies in its place.
    HasMoved,
}

/// A copy, and no second name: a file with two names is written through neither.
fn copy(from: &Path, to: &Path) -> Result<(), LedgerError> {
    let failed = || io(format!("{} could not be written", to.display()));
    let mut source = File::open(from).map_err(failed())?;
    let mut copy = File::create_new(to).map_err(failed())?;
    std::io::copy(&mut source, &mut copy).and_then(|_| copy.sync_all()).map_err(failed())
}

impl Books<'_> {
    /// The first entry of a device that is another one in another file; nothing where one goes on as the other does.
    ///
    /// # Errors
    /// When either cannot be read.
    pub fn parts_at(&self, other: &Books<'_>, device: &str) -> Result<Option<i64>, LedgerError> {
        let end = |books: &Books<'_>| -> Result<i64, LedgerError> {
            let ends = books.device_ends()?;
            Ok(ends.iter().find(|(letter, _)| letter == device).map_or(0, |(_, end)| *end))
        };
        let differs = |seq: i64| -> Result<bool, LedgerError> {
            Ok(self.entry_hash(device, seq)? != other.entry_hash(device, seq)?)
        };
        let (mut same, mut other_seq) = (0, end(self)?.min(end(other)?));
        if other_seq == 0 || !differs(other_seq)? {
            return Ok(None);
        }
        // An entry's hash is over all that came before it.
        while other_seq - same > 1 {
            let middle = same + (other_seq - same) / 2;
            if differs(middle)? { other_seq = middle } else { same = middle }
        }
        Ok(Some(other_seq))
    }

    /// The entries of a device, from a number on, that another file does not hold under any letter: how many.
    ///
    /// # Errors
    /// When either cannot be read.
    pub fn lacking_in(&self, other: &Books<'_>, device: &str, first: i64) -> Result<u64, LedgerError> {
        let mut statement =
            self.conn.prepare_cached("SELECT id FROM entry WHERE device = ?1 AND device_seq >= ?2")?;
        let mut rows = statement.query(rusqlite::params![device, first])?;
        let mut held = other.conn.prepare_cached("SELECT 1 FROM entry WHERE id = ?1")?;
        let mut lacking = 0;
        while let Some(row) = rows.next()? {
            let id: Vec<u8> = row.get(0)?;
            lacking += u64::from(!held.exists([id])?);
        }
        Ok(lacking)
    }
}

impl Ledger {
    /// Goes on with what another file wrote under its letters from an entry on. Answers how many entries that were.
    ///
    /// # Errors
    /// When some of it cannot be taken in, or the disk refuses. Nothing of it is here then.
    pub fn carry_over(
        &mut self,
        old: &Books<'_>,
        was: &str,
        first: i64,
        key: &DeviceKey,
        at: Timestamp,
    ) -> Result<u64, LedgerError> {
        let ends = old.device_ends()?;
        let last = ends.iter().find(|(letter, _)| letter == was).map_or(0, |(_, end)| *end);
        if last < first {
            return Ok(0);
        }
        let head =
            SignedHead { device: was.to_owned(), device_seq: last, hash: [0; 32], signature: Vec::new() };
        let written = old.chain_part(&head, first, &mut |_, _, _| Ok(HowMuch::All))?.entries;
        let (end, hash) = self.own_end();
        let renamed = Renamed { was, first, now: self.device().to_owned(), after: end };
        let damaged =
            |problem: String| LedgerError::Damaged { place: format!("The chain of {was}"), problem };
        let entries = written
            .iter()
            .map(|sent| sent.changed(&|spec, record| renamed.marks(spec, record)))
            .collect::<Result<Vec<Sent>, String>>()
            .map_err(damaged)?;
        let part = ChainPart::signed_anew(key, self.device(), (end, hash), entries).map_err(damaged)?;
        let taken = self.take_in(&[part], at, &|_, _| true)?;
        if let Some(part) = taken.refused.first() {
            return Err(damaged(part.problem.clone()));
        }
        if let Some(why) = taken.waiting.values().next() {
            return refuse("file", format!("{why} yet"), "Exchange with the other devices first");
        }
        Ok(taken.taken.values().sum())
    }
}

/// What was called by one letter up to a number, and by another from there on.
struct Renamed<'a> {
    was: &'a str,
    first: i64,
    now: String,
    after: i64,
}

impl Renamed<'_> {
    /// Where a fact writes down how far each device's facts were in, its own later ones go by the new letter.
    fn marks(&self, spec: &KindSpec, record: &mut Record) {
        let Some(place) =
            spec.marks().and_then(|marks| spec.lists.iter().position(|list| list.table == marks.table))
        else {
            return;
        };
        let mut lines = Vec::new();
        for line in std::mem::take(&mut record.lists[place]) {
            match &line[..] {
                [Value::Text(device), Value::Integer(through)]
                    if device == self.was && *through >= self.first =>
                {
                    if self.first > 1 {
                        lines.push(vec![Value::Text(device.clone()), Value::Integer(self.first - 1)]);
                    }
                    let through = self.after + through - self.first + 1;
                    lines.push(vec![Value::Text(self.now.clone()), Value::Integer(through)]);
                }
                _ => lines.push(line),
            }
        }
        record.lists[place] = lines;
    }
}

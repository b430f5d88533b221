//! The chain: every device's entries without a gap, each naming the hash before it, each with the hash that its rows
//! give when they are encoded again. And the other way round: every row has its entry.

use super::finding::{BadEntry, Findings, bad_entry};
use crate::device;
use crate::encoding::{self, Content, Hashed};
use crate::error::LedgerError;
use crate::id::{Digest, Id};
use crate::kind::{KindSpec, TableSpec};
use crate::kinds::KINDS;
use crate::progress::{Progress, Stage, Tell};
use crate::salt::Salt;
use crate::site_copy;
use rusqlite::types::{Value, ValueRef};
use rusqlite::{Connection, Row, Statement, params};
use std::collections::{HashMap, VecDeque};

/// Entries between two words to whoever is waiting.
const TELL_EVERY: u64 = 2000;

/// What was read.
pub(super) struct ReadThrough {
    pub(super) entries: u64,
    pub(super) withheld: u64,
    pub(super) ends: Vec<(String, i64)>,
}

pub(super) fn check(
    conn: &Connection,
    findings: &mut Findings,
    progress: Tell<'_>,
) -> Result<ReadThrough, LedgerError> {
    let mut kinds: Vec<KindReader<'_>> =
        KINDS.iter().map(|spec| KindReader::new(conn, spec)).collect::<Result<_, _>>()?;
    let is_site_copy = site_copy::is_site_copy(conn)?;
    let mut walk = Walk { at: None, entries: 0, withheld: 0, ends: Vec::new(), unread: false, is_site_copy };
    let read = walk.all(conn, &mut kinds, findings, progress);
    if findings.take("entry", read)?.is_none() {
        walk.unread = true;
    }
    for kind in kinds {
        let place = kind.spec.own.table;
        let rows = kind.rows_without_entry(conn, walk.unread, findings);
        findings.take(place, rows)?;
    }
    let marks = beyond_the_end(conn, &walk.ends, findings);
    findings.take("month_closed_device", marks)?;
    Ok(ReadThrough { entries: walk.entries, withheld: walk.withheld, ends: walk.ends })
}

/// An entry's columns as they stand, borrowed from its row.
struct Raw<'r> {
    id: [u8; 16],
    device: &'r str,
    device_seq: i64,
    recorded_at: &'r str,
    person: &'r [u8],
    kind: &'r str,
    prev_hash: [u8; 32],
    open: [u8; 32],
    /// Nothing for a fact that has no sealed part.
    sealed: Option<[u8; 32]>,
    /// Nothing where the sealed part is withheld.
    salt: Option<Salt>,
    hash: [u8; 32],
}

impl<'r> Raw<'r> {
    /// Nothing when a column holds what no entry can hold.
    fn read(row: &'r Row<'_>) -> rusqlite::Result<Option<Raw<'r>>> {
        fn text(value: ValueRef<'_>) -> Option<&str> {
            if let ValueRef::Text(bytes) = value { std::str::from_utf8(bytes).ok() } else { None }
        }
        fn blob(value: ValueRef<'_>) -> Option<&[u8]> {
            if let ValueRef::Blob(bytes) = value { Some(bytes) } else { None }
        }
        fn fixed<const N: usize>(value: ValueRef<'_>) -> Option<[u8; N]> {
            blob(value)?.try_into().ok()
        }
        let seq = if let ValueRef::Integer(seq) = row.get_ref(2)? { Some(seq) } else { None };
        let (id, device, recorded_at) = (row.get_ref(0)?, row.get_ref(1)?, row.get_ref(3)?);
        let (person, kind) = (row.get_ref(4)?, row.get_ref(5)?);
        let (prev_hash, open, sealed) = (row.get_ref(6)?, row.get_ref(7)?, row.get_ref(8)?);
        let (salt, hash) = (row.get_ref(9)?, row.get_ref(10)?);
        Ok((|| {
            Some(Raw {
                id: fixed(id)?,
                device: text(device)?,
                device_seq: seq?,
                recorded_at: text(recorded_at)?,
                person: blob(person)?,
                kind: text(kind)?,
                prev_hash: fixed(prev_hash)?,
                open: fixed(open)?,
                sealed: if sealed == ValueRef::Null { None } else { Some(fixed(sealed)?) },
                salt: if salt == ValueRef::Null { None } else { Some(Salt(fixed(salt)?)) },
                hash: fixed(hash)?,
            })
        })())
    }

    /// Whether the entry has the hash that its own columns give.
    fn is_chained(&self, lead: &mut Vec<u8>) -> bool {
        let hashed = Hashed {
            device: self.device,
            device_seq: self.device_seq,
            recorded_at: self.recorded_at,
            person: self.person,
            kind: self.kind,
            id: &self.id,
            prev_hash: &self.prev_hash,
            open: &self.open,
            sealed: self.sealed.as_ref().map_or(&[], |sealed| sealed),
        };
        encoding::hash_of(&hashed, lead).0 == self.hash
    }

    /// Whether the digest of the sealed part is there and the part itself is not.
    fn is_withheld(&self) -> bool {
        self.sealed.is_some() && self.salt.is_none()
    }

    fn bad(&self) -> BadEntry {
        BadEntry {
            device: self.device.to_owned(),
            device_seq: self.device_seq,
            kind: self.kind.to_owned(),
            recorded_at: self.recorded_at.to_owned(),
        }
    }
}

/// The last entry read: its device, its number, and its hash as it stands.
struct At {
    device: String,
    seq: i64,
    hash: [u8; 32],
}

struct Walk {
    at: Option<At>,
    entries: u64,
    withheld: u64,
    ends: Vec<(String, i64)>,
    is_site_copy: bool,
    /// Whether some entries could not be read, so that rows without an entry are not news.
    unread: bool,
}

impl Walk {
    fn all(
        &mut self,
        conn: &Connection,
        kinds: &mut [KindReader<'_>],
        findings: &mut Findings,
        progress: Tell<'_>,
    ) -> Result<(), LedgerError> {
        let by_word: HashMap<&str, usize> =
            kinds.iter().enumerate().map(|(place, kind)| (kind.spec.kind, place)).collect();
        let total: i64 = conn.query_row("SELECT count(*) FROM entry", [], |row| row.get(0))?;
        let total = u64::try_from(total).unwrap_or(0);
        let mut lead = Vec::new();
        let mut devices =
            conn.prepare("SELECT DISTINCT device FROM entry ORDER BY length(device), device")?;
        let devices = devices.query_map([], |row| row.get(0))?.collect::<Result<Vec<Value>, _>>()?;
        let mut statement = conn.prepare(
            "SELECT id, device, device_seq, recorded_at, person, kind, prev_hash, open, sealed, salt, hash
             FROM entry WHERE device = ?1 ORDER BY device_seq",
        )?;
        for device in devices {
            let mut rows = statement.query([device])?;
            while let Some(row) = rows.next()? {
                if self.entries.is_multiple_of(TELL_EVERY)
                    && !progress(Progress { stage: Stage::Chain, done: self.entries, total })
                {
                    return Err(LedgerError::Stopped);
                }
                self.entries += 1;
                let Some(raw) = Raw::read(row)? else {
                    self.unread = true;
                    findings.add(None, "entry", self.after("an entry has a column that cannot be read"));
                    continue;
                };
                self.follows(&raw, findings);
                self.withheld += u64::from(raw.is_withheld());
                let kind = by_word.get(raw.kind).and_then(|place| kinds.get_mut(*place));
                if let Some(problem) = self.problem_of(&raw, kind, &mut lead)? {
                    findings.add(Some(raw.bad()), "entry", problem);
                }
                self.step(&raw);
            }
        }
        Ok(())
    }

    fn after(&self, problem: &str) -> String {
        self.at.as_ref().map_or_else(
            || format!("{problem}, at the very start"),
            |at| format!("{problem}, after {} {}", at.device, at.seq),
        )
    }

    /// Whether an entry takes up where the one before it left off.
    fn follows(&self, raw: &Raw<'_>, findings: &mut Findings) {
        let before = self.at.as_ref().filter(|at| at.device == raw.device);
        let (last, hash) = before.map_or((0, Digest::ZERO.0), |at| (at.seq, at.hash));
        if raw.device_seq != last + 1 {
            let problem = if raw.device_seq == last + 2 {
                format!("the entry before it, {} {}, is missing", raw.device, last + 1)
            } else {
                format!(
                    "the entries {} {} to {} before it are missing",
                    raw.device,
                    last + 1,
                    raw.device_seq - 1
                )
            };
            findings.add(Some(raw.bad()), "entry", problem);
        } else if raw.prev_hash != hash {
            let problem = "it does not carry the hash of the entry before it; one of the two was altered";
            findings.add(Some(raw.bad()), "entry", problem);
        }
    }

    fn step(&mut self, raw: &Raw<'_>) {
        match &mut self.at {
            Some(at) if at.device == raw.device => {
                at.seq = raw.device_seq;
                at.hash = raw.hash;
            }
            at => *at = Some(At { device: raw.device.to_owned(), seq: raw.device_seq, hash: raw.hash }),
        }
        match self.ends.last_mut() {
            Some((device, end)) if device == raw.device => *end = raw.device_seq,
            _ => self.ends.push((raw.device.to_owned(), raw.device_seq)),
        }
    }

    /// What is wrong with one entry by itself, if anything.
    fn problem_of(
        &self,
        raw: &Raw<'_>,
        kind: Option<&mut KindReader<'_>>,
        lead: &mut Vec<u8>,
    ) -> Result<Option<String>, LedgerError> {
        let Some(kind) = kind else {
            return Ok(Some(format!("“{}” is not a kind of fact that this program knows", raw.kind)));
        };
        let table = kind.spec.own.table;
        let fact = match kind.read(&raw.id) {
            Ok(found) => found,
            Err(LedgerError::Damaged { problem, .. }) => {
                return Ok(Some(format!("its row in {table} cannot be read ({problem})")));
            }
            Err(other) => return Err(other),
        };
        let Some(ReadFact { content, in_order, .. }) = fact else {
            // A copy for the site may hold an entry without its fact, of whatever kind.
            let may_lack = self.is_site_copy && raw.salt.is_none() && raw.is_chained(lead);
            return Ok((!may_lack).then(|| format!("its row in {table} is missing")));
        };
        let sealed_is_right = match (raw.sealed, raw.salt) {
            (None, None) => content.seals_nothing(),
            (Some(sealed), Some(salt)) => content.sealed_digest(salt).0 == sealed,
            // What is withheld is not there at all.
            (Some(_), None) => content.seals_nothing(),
            (None, Some(_)) => false,
        };
        let is_right = sealed_is_right && content.open_digest().0 == raw.open;
        if !is_right || !raw.is_chained(lead) {
            let problem = "what stands there now is not what was recorded: its hash does not match";
            return Ok(Some(problem.to_owned()));
        }
        if raw.is_withheld() && !self.is_site_copy {
            let problem = "its sealed part is missing, and this is not a copy for the site";
            return Ok(Some(problem.to_owned()));
        }
        Ok((!in_order).then(|| "its lines are not numbered 1, 2, 3 and so on".to_owned()))
    }
}

/// The most facts of one kind that are read ahead.
const MOST_AHEAD: usize = 256;

/// A fact as its rows stand.
#[derive(Default)]
struct ReadFact {
    id: [u8; 16],
    content: Content,
    /// How many lines each of its lists has, and whether they are numbered from 1.
    lines: Vec<i64>,
    in_order: bool,
}

/// The statements that read one kind, and what was read through them.
///
/// Entries mostly follow each other as their ids do, so facts are read some ahead, in one go through each table: a look
/// for each by itself takes three times as long. Where they do not, or a row cannot be read, one is read at a time.
struct KindReader<'c> {
    spec: &'static KindSpec,
    own: Statement<'c>,
    lists: Vec<(&'static TableSpec, Statement<'c>)>,
    /// Every fact of the table from this id to the last one here, in order.
    from: [u8; 16],
    ahead: VecDeque<ReadFact>,
    spare: Vec<ReadFact>,
    at_once: usize,
    /// Facts that entries led to, and lines of each list.
    facts: i64,
    lines: Vec<i64>,
}

impl<'c> KindReader<'c> {
    fn new(conn: &'c Connection, spec: &'static KindSpec) -> Result<KindReader<'c>, LedgerError> {
        let mut lists = Vec::new();
        for table in &spec.lists {
            let sql = format!(
                "SELECT fact, line, {} FROM main.{} WHERE fact BETWEEN ?1 AND ?2 ORDER BY fact, line",
                table.columns.join(", "),
                table.table
            );
            lists.push((table, conn.prepare(&sql)?));
        }
        let sql = format!(
            "SELECT id, {} FROM main.{} WHERE id >= ?1 ORDER BY id LIMIT ?2",
            spec.own.columns.join(", "),
            spec.own.table
        );
        Ok(KindReader {
            spec,
            own: conn.prepare(&sql)?,
            from: [0; 16],
            ahead: VecDeque::new(),
            spare: Vec::new(),
            at_once: 1,
            facts: 0,
            lines: vec![0; lists.len()],
            lists,
        })
    }

    /// A fact from its rows. Nothing when its row is missing.
    fn read(&mut self, id: &[u8; 16]) -> Result<Option<&ReadFact>, LedgerError> {
        if !self.is_next(id)? {
            return Ok(None);
        }
        self.facts += 1;
        let Some(fact) = self.ahead.front() else { return Ok(None) };
        self.lines.iter_mut().zip(&fact.lines).for_each(|(sum, lines)| *sum += lines);
        Ok(Some(fact))
    }

    /// Whether the first fact that was read ahead is this one, after whatever had to be read.
    fn is_next(&mut self, id: &[u8; 16]) -> Result<bool, LedgerError> {
        while self.ahead.front().is_some_and(|fact| fact.id < *id) {
            let passed = self.ahead.pop_front();
            self.from = passed.as_ref().map_or(self.from, |fact| fact.id);
            self.spare.extend(passed);
        }
        if !self.ahead.is_empty() && self.from < *id {
            return Ok(self.ahead.front().is_some_and(|fact| fact.id == *id));
        }
        let goes_on = self.ahead.is_empty() && self.from < *id;
        self.at_once = if goes_on { (self.at_once * 2).min(MOST_AHEAD) } else { 1 };
        if self.read_ahead(id).is_err() {
            // The trouble may be with another fact than the one that is asked for.
            self.at_once = 1;
            self.read_ahead(id)?;
        }
        Ok(self.ahead.front().is_some_and(|fact| fact.id == *id))
    }

    /// Reads facts from an id on, and encodes them.
    fn read_ahead(&mut self, id: &[u8; 16]) -> Result<(), LedgerError> {
        self.spare.extend(self.ahead.drain(..));
        self.from = *id;
        let at_most = i64::try_from(self.at_once).unwrap_or(1);
        let mut rows = self.own.query(params![id, at_most])?;
        let mut read = Vec::with_capacity(self.at_once);
        while let Some(row) = rows.next()? {
            let mut fact = self.spare.pop().unwrap_or_default();
            fact.id = row.get(0)?;
            fact.content.clear();
            fact.content.put_row(&self.spec.own, values(row, 1, &self.spec.own));
            fact.lines.clear();
            fact.in_order = true;
            read.push(fact);
        }
        drop(rows);
        let (Some(first), Some(last)) = (read.first(), read.last()) else { return Ok(()) };
        let (first, last) = (first.id, last.id);
        for (table, statement) in &mut self.lists {
            let mut rows = statement.query([&first, &last])?;
            let mut row = rows.next()?;
            for fact in &mut read {
                let start = fact.content.begin_list(table);
                let mut lines = 0_i64;
                while let Some(here) = row {
                    let of: [u8; 16] = here.get(0)?;
                    if of > fact.id {
                        break;
                    }
                    // Lines of no fact are told by their number, at the end.
                    if of == fact.id {
                        lines += 1;
                        fact.in_order &= here.get_ref(1)? == ValueRef::Integer(lines);
                        fact.content.put_line(table, values(here, 2, table));
                    }
                    row = rows.next()?;
                }
                fact.content.end_list(table, &start, lines);
                fact.lines.push(lines);
            }
        }
        read.iter_mut().for_each(|fact| fact.content.end());
        self.ahead.extend(read);
        Ok(())
    }

    /// Rows that no entry leads to. They are looked for only when there are more rows than were read.
    fn rows_without_entry(
        self,
        conn: &Connection,
        unread: bool,
        findings: &mut Findings,
    ) -> Result<(), LedgerError> {
        if unread {
            return Ok(());
        }
        let own = self.spec.own.table;
        if count(conn, own)? != self.facts {
            let sql = format!(
                "SELECT t.id FROM main.{own} t LEFT JOIN entry e ON e.id = t.id WHERE e.kind IS NOT ?1 ORDER BY t.id"
            );
            let mut statement = conn.prepare(&sql)?;
            let mut rows = statement.query([self.spec.kind])?;
            while let Some(row) = rows.next()? {
                findings.add(None, own, format!("the row {} has no entry", show_id(row.get_ref(0)?)));
            }
        }
        for ((table, _), read) in self.lists.iter().zip(self.lines) {
            let list = table.table;
            if count(conn, list)? != read {
                let sql = format!(
                    "SELECT l.fact, count(*) FROM main.{list} l LEFT JOIN main.{own} t ON t.id = l.fact
                     WHERE t.id IS NULL GROUP BY l.fact ORDER BY l.fact"
                );
                let mut statement = conn.prepare(&sql)?;
                let mut rows = statement.query([])?;
                while let Some(row) = rows.next()? {
                    let lines: i64 = row.get(1)?;
                    let fact = show_id(row.get_ref(0)?);
                    findings.add(
                        None,
                        list,
                        format!("{lines} line(s) belong to {fact}, which is not in {own}"),
                    );
                }
            }
        }
        Ok(())
    }
}

/// The values of a row from a place on, borrowed from it. A column that the row lacks reads as NULL, and its digest
/// fails.
fn values<'r>(row: &'r Row<'_>, first: usize, spec: &TableSpec) -> impl Iterator<Item = ValueRef<'r>> {
    (first..first + spec.columns.len()).map(|place| row.get_ref(place).unwrap_or(ValueRef::Null))
}

fn count(conn: &Connection, table: &str) -> Result<i64, LedgerError> {
    Ok(conn.query_row(&format!("SELECT count(*) FROM main.{table}"), [], |row| row.get(0))?)
}

fn show_id(value: ValueRef<'_>) -> String {
    <Id as crate::column::Column>::load(value)
        .map_or_else(|problem| format!("({problem})"), |id| id.to_string())
}

/// Closes and hand-offs say how far each device went: entries that were there then and are not now were lost from
/// the end of the chain, which the chain itself cannot tell.
fn beyond_the_end(
    conn: &Connection,
    ends: &[(String, i64)],
    findings: &mut Findings,
) -> Result<(), LedgerError> {
    for table in KINDS.iter().filter_map(|spec| spec.marks()).map(|list| list.table) {
        let sql = format!(
            "SELECT e.device, e.device_seq, e.kind, e.recorded_at, d.device, d.through_seq
             FROM {table} d CROSS JOIN entry e ON e.id = d.fact ORDER BY {}, d.line",
            device::IN_ORDER
        );
        let mut statement = conn.prepare(&sql)?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let (device, through): (String, i64) = (row.get(4)?, row.get(5)?);
            let end = ends.iter().find(|(other, _)| *other == device).map_or(0, |(_, end)| *end);
            if through > end {
                let problem = format!(
                    "it names entries through {device} {through}, but they now end at {device} {end}: \
                     the rest is lost"
                );
                findings.add(Some(bad_entry(row)?), table, problem);
            }
        }
    }
    Ok(())
}

//! Writing facts: a batch is one transaction, checked before it is written and chained by hash.

use crate::calendar::Calendar;
use crate::encoding::{self, Content, Header};
use crate::error::{LedgerError, refuse};
use crate::facts::{Fact, MonthClosed};
use crate::id::Id;
use crate::kept_ends::{COPY_ID, KeptEnds};
use crate::kind::KindSpec;
use crate::kinds::kind_spec;
use crate::new_fact::NewFact;
use crate::open::{self, WriterLock};
use crate::place::Identity;
use crate::salt::Salts;
use crate::spine::{self, ChainEnd, Digests};
use crate::totals::{self, Unwritten};
use crate::{attachment, links, read, rules};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use rusqlite::hooks::{AuthAction, AuthContext, Authorization};
use rusqlite::{Connection, TransactionBehavior};
use std::path::{Path, PathBuf};

/// What became of a fact that was offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Appended {
    /// Written now, with this number on its device.
    Written(i64),
    /// Already there with the same content; nothing was written.
    AlreadyThere(i64),
}

/// The ledger, open for writing. There is one in the world for each file: a lock beside the file sees to it.
#[derive(Debug)]
pub struct Ledger {
    pub(crate) conn: Connection,
    pub(crate) path: PathBuf,
    pub(crate) identity: Identity,
    pub(crate) device: String,
    pub(crate) end: ChainEnd,
    pub(crate) calendar: Calendar,
    pub(crate) totals: Unwritten,
    refused_at: Option<usize>,
    salts: Salts,
    kept: Option<KeptEnds>,
    _lock: WriterLock,
}

/// What a device is called until it is told otherwise.
const FIRST_DEVICE: &str = "A";

impl Ledger {
    /// Makes a new ledger. Its first facts, recorded by the caller in one batch, are the owner and the firm.
    ///
    /// # Errors
    /// When something is already there, the place is on a network, or the disk refuses.
    pub fn create(path: &Path) -> Result<Ledger, LedgerError> {
        let (conn, lock) = open::create(path)?;
        let mut ledger = Ledger::around(conn, path, lock)?;
        if let Some(kept) = &mut ledger.kept {
            kept.begin_anew(&ledger.conn)?;
        }
        Ok(ledger)
    }

    /// Opens a ledger for writing.
    ///
    /// # Errors
    /// When it is missing, foreign, newer, on a network, damaged, not what this computer last saw there, or another
    /// process writes.
    pub fn open(path: &Path) -> Result<Ledger, LedgerError> {
        let path = &open::real(path);
        let (conn, lock) = open::write(path)?;
        let mut ledger = Ledger::around(conn, path, lock)?;
        if let Some(kept) = &mut ledger.kept {
            kept.settle(&ledger.conn)?;
            kept.check(path, &ledger.conn)?;
            kept.keep(&ledger.device, &ledger.end);
        }
        Ok(ledger)
    }

    fn around(conn: Connection, path: &Path, lock: WriterLock) -> Result<Ledger, LedgerError> {
        // Here and not where the file is made, so that a file whose making was cut short can still be opened.
        conn.execute("INSERT OR IGNORE INTO setting (name, value) VALUES ('device', ?1)", [FIRST_DEVICE])?;
        let device: String =
            conn.query_row("SELECT value FROM setting WHERE name = 'device'", [], |row| row.get(0))?;
        let id = Id::now().to_string();
        conn.execute("INSERT OR IGNORE INTO setting (name, value) VALUES (?1, ?2)", [COPY_ID, id.as_str()])?;
        let kept = KeptEnds::of(path, &conn)?;
        conn.authorizer(Some(authorize))?;
        let end = spine::end_of(&conn, &device)?;
        let calendar = Calendar::read(&conn)?;
        let totals = Unwritten::default();
        Ok(Ledger {
            conn,
            path: path.to_owned(),
            identity: Identity::of(path)?,
            device,
            end,
            calendar,
            totals,
            refused_at: None,
            salts: Salts::default(),
            kept,
            _lock: lock,
        })
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The letter of this device.
    #[must_use]
    pub fn device(&self) -> &str {
        &self.device
    }

    /// Which fact of the last batch was refused, from 0; none when the last batch went in.
    #[must_use]
    pub fn refused_at(&self) -> Option<usize> {
        self.refused_at
    }

    /// Says where the salts of what is written from now on come from: without this, from the system.
    pub fn salt_from(&mut self, salts: Salts) {
        self.salts = salts;
    }

    /// The connection, for reading.
    #[must_use]
    pub fn reading(&self) -> crate::read::Books<'_> {
        crate::read::Books::over(&self.conn)
    }

    /// The last number this device has written.
    #[must_use]
    pub fn last_seq(&self) -> i64 {
        self.end.seq
    }

    /// Records a batch: all of it or none.
    ///
    /// # Errors
    /// The first fact that cannot be taken, with its field, what was wrong and what to do; or what the disk said.
    pub fn append(&mut self, batch: &[NewFact], at: Timestamp) -> Result<Vec<Appended>, LedgerError> {
        self.append_with(batch, at, &mut |_| true)
    }

    /// Records a long batch and tells how many facts are in; when `go_on` answers no, nothing is written.
    ///
    /// # Errors
    /// As [`Ledger::append`], and [`LedgerError::Stopped`].
    pub fn append_with(
        &mut self,
        batch: &[NewFact],
        at: Timestamp,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Vec<Appended>, LedgerError> {
        let before = (self.end.clone(), self.calendar.clone());
        let outcome = self.write_batch(batch, at, go_on);
        if outcome.is_err() {
            (self.end, self.calendar) = before;
            self.totals.forget();
        }
        outcome
    }

    fn write_batch(
        &mut self,
        batch: &[NewFact],
        at: Timestamp,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Vec<Appended>, LedgerError> {
        check_clock(at)?;
        let recorded_at = stamp(at);
        self.refused_at = None;
        self.identity.still_at(&self.path)?;
        let tx = Batch::begin(&self.conn)?;
        let mut outcome = Vec::with_capacity(batch.len());
        let mut found = links::Found::default();
        for (position, new) in batch.iter().enumerate() {
            if position % 1000 == 999 && !go_on(position) {
                return Err(LedgerError::Stopped);
            }
            let Some(spec) = kind_spec(new.fact.kind()) else {
                return refuse("kind", format!("there is no kind “{}”", new.fact.kind()), "Use a known kind");
            };
            let record = new.fact.record();
            let content = Content::of(spec, &record);
            if let Some(seq) = already_there(&tx, new, spec, &content)? {
                outcome.push(Appended::AlreadyThere(seq));
                continue;
            }
            if matches!(new.fact, Fact::MonthClosed(_)) {
                // What is still owed to the stored totals belongs to the month that is about to close.
                self.totals.settle(&tx, &self.calendar)?;
                self.totals.flush(&tx)?;
            }
            if matches!(new.fact, Fact::Reversal(_)) {
                found.forget();
            }
            self.refused_at = Some(position);
            links::check(&tx, new.id, links::Written::Here, spec, &record, &mut found)?;
            rules::check(&tx, &new.fact, spec, &record)?;
            rules::state::check(&tx, &self.calendar, &new.fact)?;
            attachment::check_files(&tx, &self.path, &new.fact, spec, &record)?;
            self.refused_at = None;
            let header = Header {
                device: self.device.clone(),
                device_seq: self.end.seq + 1,
                recorded_at: recorded_at.clone(),
                person: new.person,
                id: new.id,
                prev_hash: self.end.hash,
            };
            let digests = self.digests(&header, spec, &content)?;
            // Groups whose sums depend on several facts are looked at before and after.
            self.totals.before(&tx, &self.calendar, new)?;
            spine::insert(&tx, spec, &header, &digests, Some(&record))?;
            self.end = ChainEnd { seq: header.device_seq, hash: digests.hash };
            if let Fact::MonthClosed(close) = &new.fact {
                self.calendar.close(close.month, marks(close));
            }
            let booked_floor = self.calendar.floor(&header.device, header.device_seq);
            self.totals.after(&tx, &self.calendar, new, booked_floor)?;
            outcome.push(Appended::Written(header.device_seq));
        }
        self.totals.settle(&tx, &self.calendar)?;
        self.totals.flush(&tx)?;
        let is_step = tx.is_step;
        tx.commit()?;
        // What went into a file that nobody will find again is not recorded.
        self.identity.still_at(&self.path)?;
        if !is_step {
            self.keep_own_end();
        }
        Ok(outcome)
    }

    /// Begins to write several batches as one. What was so before is kept for [`Ledger::roll_back`].
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn begin_transaction(&mut self) -> Result<Before, LedgerError> {
        self.identity.still_at(&self.path)?;
        self.conn.execute_batch("BEGIN IMMEDIATE")?;
        Ok(Before { end: self.end.clone(), calendar: self.calendar.clone() })
    }

    /// Writes all that was recorded since [`Ledger::begin_transaction`].
    ///
    /// # Errors
    /// When the disk refuses, or the file was moved meanwhile; nothing of it is written then.
    pub fn commit_transaction(&mut self, before: Before) -> Result<(), LedgerError> {
        if let Err(error) = self.conn.execute_batch("COMMIT") {
            self.roll_back(before)?;
            return Err(nobody_known(error));
        }
        self.identity.still_at(&self.path)?;
        self.keep_own_end();
        Ok(())
    }

    fn keep_own_end(&mut self) {
        if let Some(kept) = &mut self.kept {
            kept.keep(&self.device, &self.end);
        }
    }

    /// Keeps the ends of other devices, of which something was taken in.
    pub(crate) fn keep_ends_of<'d>(
        &mut self,
        devices: impl Iterator<Item = &'d str>,
    ) -> Result<(), LedgerError> {
        let Some(kept) = &mut self.kept else { return Ok(()) };
        for device in devices {
            kept.keep(device, &spine::end_of(&self.conn, device)?);
        }
        Ok(())
    }

    /// Drops all that was recorded since [`Ledger::begin_transaction`].
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn roll_back(&mut self, before: Before) -> Result<(), LedgerError> {
        (self.end, self.calendar) = (before.end, before.calendar);
        self.totals.forget();
        if !self.conn.is_autocommit() {
            self.conn.execute_batch("ROLLBACK")?;
        }
        Ok(())
    }

    fn digests(&self, header: &Header, spec: &KindSpec, content: &Content) -> Result<Digests, LedgerError> {
        let open = content.open_digest();
        let salt = if spec.has_sealed() { Some(self.salts.of(header.id)?) } else { None };
        let sealed = salt.map(|salt| content.sealed_digest(salt));
        let hash = encoding::entry_hash(header, spec.kind, open, sealed);
        Ok(Digests { open, sealed, salt, hash })
    }

    /// Throws the stored totals away and works them out again from the facts.
    ///
    /// # Errors
    /// When the facts cannot be read, or `go_on` answers no.
    pub fn rebuild(&mut self, go_on: &mut dyn FnMut(u64) -> bool) -> Result<(), LedgerError> {
        let tx = rusqlite::Transaction::new_unchecked(&self.conn, TransactionBehavior::Immediate)?;
        totals::rebuild(&tx, go_on)?;
        tx.commit()?;
        Ok(())
    }
}

/// Where a ledger stood before several batches were begun as one.
#[derive(Debug)]
pub struct Before {
    end: ChainEnd,
    calendar: Calendar,
}

/// A batch being written: a transaction of its own, or one step of those that are written together.
struct Batch<'c> {
    conn: &'c Connection,
    is_step: bool,
    is_done: bool,
}

impl<'c> Batch<'c> {
    fn begin(conn: &'c Connection) -> Result<Batch<'c>, LedgerError> {
        let is_step = !conn.is_autocommit();
        conn.execute_batch(if is_step { "SAVEPOINT step" } else { "BEGIN IMMEDIATE" })?;
        Ok(Batch { conn, is_step, is_done: false })
    }

    fn commit(mut self) -> Result<(), LedgerError> {
        self.conn
            .execute_batch(if self.is_step { "RELEASE step" } else { "COMMIT" })
            .map_err(nobody_known)?;
        self.is_done = true;
        Ok(())
    }
}

impl std::ops::Deref for Batch<'_> {
    type Target = Connection;

    fn deref(&self) -> &Connection {
        self.conn
    }
}

impl Drop for Batch<'_> {
    fn drop(&mut self) {
        // After some failures SQLite has rolled back by itself.
        if !self.is_done && !self.conn.is_autocommit() {
            let undo = if self.is_step { "ROLLBACK TO step; RELEASE step" } else { "ROLLBACK" };
            let _ = self.conn.execute_batch(undo);
        }
    }
}

/// References to people are checked here and not before, since a batch may begin with the owner's own record.
pub(crate) fn commit(tx: rusqlite::Transaction<'_>) -> Result<(), LedgerError> {
    tx.commit().map_err(nobody_known)
}

fn nobody_known(error: rusqlite::Error) -> LedgerError {
    match &error {
        rusqlite::Error::SqliteFailure(cause, _)
            if cause.extended_code == rusqlite::ffi::SQLITE_CONSTRAINT_FOREIGNKEY =>
        {
            LedgerError::Refused {
                field: "person".to_owned(),
                problem: "a fact names somebody who is not in the books".to_owned(),
                remedy: "Record the person first, or in the same batch".to_owned(),
            }
        }
        _ => error.into(),
    }
}

fn marks(close: &MonthClosed) -> Vec<(String, i64)> {
    close.devices.iter().map(|mark| (mark.device.clone(), mark.through_seq)).collect()
}

/// Years that a computer's clock can be in while this program is in use. One that lost its battery wakes up in 1970.
const CLOCK_YEARS: std::ops::Range<i16> = 2020..2100;

fn check_clock(at: Timestamp) -> Result<(), LedgerError> {
    let year = TimeZone::UTC.to_datetime(at).year();
    if CLOCK_YEARS.contains(&year) {
        return Ok(());
    }
    refuse(
        "clock",
        format!("this computer's clock stands in the year {year}, and every fact is stamped by it"),
        "Set the clock, then record again",
    )
}

/// UTC with milliseconds: always 24 characters, so that text order is time order.
#[must_use]
pub fn stamp(at: Timestamp) -> String {
    at.strftime("%Y-%m-%dT%H:%M:%S.%3fZ").to_string()
}

/// The number under which an id already stands, when its content is the same; an alarm when it is not. The salt is no
/// part of the content: the same fact offered twice is the same.
fn already_there(
    conn: &Connection,
    new: &NewFact,
    spec: &KindSpec,
    content: &Content,
) -> Result<Option<i64>, LedgerError> {
    let id = new.id;
    let Some((entry, record)) = read::record(conn, id)? else { return Ok(None) };
    let same_kind = entry.kind == spec.kind;
    if entry.person == new.person && same_kind && Content::of(spec, &record) == *content {
        Ok(Some(entry.device_seq))
    } else {
        Err(LedgerError::Alarm { id })
    }
}

/// Refuses, at the level of SQLite itself, whatever would change a fact or loosen the file's own guards. Facts can be
/// inserted; stored totals, drafts, mappings and settings can also be changed and deleted; tables can be neither made
/// nor dropped.
fn authorize(context: AuthContext<'_>) -> Authorization {
    let changes = |table: &str| {
        if table.starts_with("total_")
            || ["draft", "import_mapping", "setting", "signed_head"].contains(&table)
        {
            Authorization::Allow
        } else {
            Authorization::Deny
        }
    };
    match context.action {
        AuthAction::Update { table_name, .. } | AuthAction::Delete { table_name } => changes(table_name),
        AuthAction::CreateTable { .. }
        | AuthAction::DropTable { .. }
        | AuthAction::DropTrigger { .. }
        | AuthAction::DropIndex { .. }
        | AuthAction::DropView { .. }
        | AuthAction::CreateIndex { .. }
        | AuthAction::CreateView { .. }
        | AuthAction::CreateVtable { .. }
        | AuthAction::Attach { .. }
        | AuthAction::AlterTable { .. }
        | AuthAction::CreateTrigger { .. } => Authorization::Deny,
        AuthAction::Pragma { pragma_value: Some(_), pragma_name } => match pragma_name {
            "wal_checkpoint" | "table_info" | "foreign_key_list" | "integrity_check" | "quick_check"
            | "foreign_key_check" | "defer_foreign_keys" => Authorization::Allow,
            _ => Authorization::Deny,
        },
        _ => Authorization::Allow,
    }
}

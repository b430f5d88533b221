//! What may still change: forms being filled in, how an import's columns were matched, and the settings of this copy.
//! None of it is a fact and none of it is hashed. Each is on the disk when its function returns, so that a power cut
//! loses nothing that was typed and saved.

use crate::append::{Ledger, stamp};
use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, damaged, refuse};
use crate::id::Id;
use crate::read::Books;
use jiff::Timestamp;
use rusqlite::{OptionalExtension, Row, params};

/// The setting that says when the last good back-up was made.
pub const LAST_GOOD_BACK_UP: &str = "last-good-back-up";

/// The setting that says which device this copy is.
pub const DEVICE: &str = "device";

/// How the names of settings begin that stay in this very file: no back-up holds them, nor what stood in them before.
pub const OWN_SETTING: &str = "own-";

/// A form being filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Its own id, which may become the id of the fact.
    pub id: Id,
    /// What it is to become: a kind of fact, or another word of the caller's.
    pub kind: String,
    /// The job it is about.
    pub job: Option<Id>,
    /// Who is filling it in.
    pub person: Id,
    /// When it was last saved, UTC.
    pub changed_at: String,
    /// The form.
    pub body: serde_json::Value,
}

/// How an import's columns were matched the last time.
#[derive(Clone, Debug, PartialEq)]
pub struct ImportMapping {
    /// What was imported.
    pub kind: String,
    /// The header line it came with.
    pub header: String,
    /// Which column is what.
    pub mapping: serde_json::Value,
    /// When it was last used, UTC.
    pub used_at: String,
}

impl Ledger {
    /// Saves a draft, over its earlier state if there is one.
    ///
    /// # Errors
    /// When its kind is empty, or the disk refuses.
    pub fn save_draft(
        &mut self,
        id: Id,
        kind: &str,
        job: Option<Id>,
        person: Id,
        body: &serde_json::Value,
        at: Timestamp,
    ) -> Result<(), LedgerError> {
        not_empty("kind", kind, "Say what the draft is to become")?;
        self.conn
            .prepare_cached(
                "INSERT INTO draft (id, kind, job, person, changed_at, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
                 ON CONFLICT (id) DO UPDATE SET kind = excluded.kind, job = excluded.job, person = excluded.person,
                 changed_at = excluded.changed_at, body = excluded.body",
            )?
            .execute(params![
                id.bytes(),
                kind,
                job.as_ref().map(Id::bytes),
                person.bytes(),
                stamp(at),
                body.to_string()
            ])?;
        Ok(())
    }

    /// Throws a draft away. Answers whether there was one.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn delete_draft(&mut self, id: Id) -> Result<bool, LedgerError> {
        Ok(self.conn.prepare_cached("DELETE FROM draft WHERE id = ?1")?.execute([id.bytes()])? > 0)
    }

    /// Remembers how the columns of an import with this header were matched.
    ///
    /// # Errors
    /// When the kind or the header is empty, or the disk refuses.
    pub fn set_import_mapping(
        &mut self,
        kind: &str,
        header: &str,
        mapping: &serde_json::Value,
        at: Timestamp,
    ) -> Result<(), LedgerError> {
        not_empty("kind", kind, "Say what is imported")?;
        not_empty("header", header, "Give the header line of the file")?;
        self.conn
            .prepare_cached(
                "INSERT INTO import_mapping (kind, header, mapping, used_at) VALUES (?1, ?2, ?3, ?4)
                 ON CONFLICT (kind, header) DO UPDATE SET mapping = excluded.mapping, used_at = excluded.used_at",
            )?
            .execute(params![kind, header, mapping.to_string(), stamp(at)])?;
        Ok(())
    }

    /// Changes a setting of this copy of the file. The device's letters take effect when the file is next opened.
    ///
    /// # Errors
    /// When the name is empty, the device's letters are not capitals, or the disk refuses.
    pub fn set_setting(&mut self, name: &str, value: &str) -> Result<(), LedgerError> {
        not_empty("name", name, "Name the setting")?;
        if name == DEVICE && !device::are_letters(value) {
            return refuse(
                "value",
                format!("“{value}” is not a device's letters"),
                "Use A to Z, then AA and on",
            );
        }
        self.conn
            .prepare_cached(
                "INSERT INTO setting (name, value) VALUES (?1, ?2)
                 ON CONFLICT (name) DO UPDATE SET value = excluded.value",
            )?
            .execute(params![name, value])?;
        Ok(())
    }
}

fn not_empty(field: &str, text: &str, remedy: &str) -> Result<(), LedgerError> {
    if text.is_empty() { refuse(field, "it is empty", remedy) } else { Ok(()) }
}

const DRAFT_COLUMNS: &str = "id, kind, job, person, changed_at, body";

impl Books<'_> {
    /// One draft.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn draft(&self, id: Id) -> Result<Option<Draft>, LedgerError> {
        let mut statement =
            self.conn.prepare_cached(&format!("SELECT {DRAFT_COLUMNS} FROM draft WHERE id = ?1"))?;
        let mut rows = statement.query([id.bytes()])?;
        rows.next()?.map(draft).transpose()
    }

    /// The drafts, the one changed last first; of one kind, or of every kind.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn drafts(&self, kind: Option<&str>) -> Result<Vec<Draft>, LedgerError> {
        let mut statement = self.conn.prepare_cached(&format!(
            "SELECT {DRAFT_COLUMNS} FROM draft WHERE ?1 IS NULL OR kind = ?1 ORDER BY changed_at DESC, id DESC"
        ))?;
        let mut rows = statement.query([kind])?;
        let mut drafts = Vec::new();
        while let Some(row) = rows.next()? {
            drafts.push(draft(row)?);
        }
        Ok(drafts)
    }

    /// How the columns of an import with this header were matched the last time.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn import_mapping(&self, kind: &str, header: &str) -> Result<Option<ImportMapping>, LedgerError> {
        let mut statement = self
            .conn
            .prepare_cached("SELECT mapping, used_at FROM import_mapping WHERE kind = ?1 AND header = ?2")?;
        let mut rows = statement.query([kind, header])?;
        let Some(row) = rows.next()? else { return Ok(None) };
        Ok(Some(ImportMapping {
            kind: kind.to_owned(),
            header: header.to_owned(),
            mapping: json(row, 0, "import_mapping.mapping")?,
            used_at: row.get(1)?,
        }))
    }

    /// Every setting of this copy of the file.
    pub(crate) fn settings(&self) -> Result<Vec<(String, String)>, LedgerError> {
        let mut statement = self.conn.prepare_cached("SELECT name, value FROM setting ORDER BY name")?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// A setting of this copy of the file.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn setting(&self, name: &str) -> Result<Option<String>, LedgerError> {
        let mut statement = self.conn.prepare_cached("SELECT value FROM setting WHERE name = ?1")?;
        Ok(statement.query_row([name], |row| row.get(0)).optional()?)
    }
}

fn draft(row: &Row<'_>) -> Result<Draft, LedgerError> {
    Ok(Draft {
        id: Id::load(row.get_ref(0)?).map_err(damaged("draft.id"))?,
        kind: row.get(1)?,
        job: Option::<Id>::load(row.get_ref(2)?).map_err(damaged("draft.job"))?,
        person: Id::load(row.get_ref(3)?).map_err(damaged("draft.person"))?,
        changed_at: row.get(4)?,
        body: json(row, 5, "draft.body")?,
    })
}

fn json(row: &Row<'_>, at: usize, place: &str) -> Result<serde_json::Value, LedgerError> {
    let text: String = row.get(at)?;
    serde_json::from_str(&text).map_err(|error| damaged(place)(error.to_string()))
}

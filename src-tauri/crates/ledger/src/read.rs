//! Reading facts back: one at a time by id, or all of a kind.

use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, damaged};
use crate::facts::{Bill, Fact};
use crate::id::{Digest, Id};
use crate::kept_ends::KeptEnds;
use crate::kind::{ColumnOf, FactRow, KindSpec, NamesFact, Record, TableSpec};
use crate::kinds::kind_spec;
use crate::live;
use crate::open;
use crate::{site_copy, spine};
use rusqlite::types::Value;
use rusqlite::vtab::array::Array;
use rusqlite::{Connection, Row};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// A row of the spine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The fact.
    pub id: Id,
    /// The device's letters.
    pub device: String,
    /// Its number there.
    pub device_seq: i64,
    /// UTC.
    pub recorded_at: String,
    /// Who recorded it.
    pub person: Id,
    /// What kind it is.
    pub kind: String,
    /// The hash before it.
    pub prev_hash: Digest,
    /// Its own hash.
    pub hash: Digest,
}

impl Entry {
    /// What entries are ordered by: their device, then their number on it.
    #[must_use]
    pub fn order(&self) -> (usize, &str, i64) {
        device::order(&self.device, self.device_seq)
    }
}

/// A fact with its entry, and whether it was reversed.
#[derive(Clone, Debug, PartialEq)]
pub struct Entered<T> {
    /// Its entry.
    pub entry: Entry,
    /// The reversal, if it was reversed.
    pub reversed_by: Option<Id>,
    /// The fact.
    pub fact: T,
}

/// Which facts a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Which {
    /// Those that were not reversed.
    Live,
    /// All, with what became of each in [`Entered::reversed_by`].
    All,
}

/// Ids as one parameter of a question about all of them: `WHERE f.job IN rarray(?1)`.
pub(crate) fn among<'i>(ids: impl IntoIterator<Item = &'i Id>) -> Array {
    Rc::new(ids.into_iter().map(|id| Value::Blob(id.bytes().to_vec())).collect())
}

/// Every version of some records, by the ids of their first ones, as SQL over `f`.
pub(crate) const VERSIONS_OF: &str = "f.id IN rarray(?1) OR f.revises IN rarray(?1)";

pub(crate) const ENTRY_COLUMNS: &str =
    "e.id, e.device, e.device_seq, e.recorded_at, e.person, e.kind, e.prev_hash, e.hash";

pub(crate) fn entry(row: &Row<'_>, first: usize) -> Result<Entry, LedgerError> {
    fn cell<T: Column>(row: &Row<'_>, index: usize) -> Result<T, LedgerError> {
        T::load(row.get_ref(index)?).map_err(damaged("entry"))
    }
    Ok(Entry {
        id: cell(row, first)?,
        device: cell(row, first + 1)?,
        device_seq: cell(row, first + 2)?,
        recorded_at: cell(row, first + 3)?,
        person: cell(row, first + 4)?,
        kind: cell(row, first + 5)?,
        prev_hash: cell(row, first + 6)?,
        hash: cell(row, first + 7)?,
    })
}

/// The kind of a fact's struct.
fn spec_of<T: FactRow>() -> Result<&'static KindSpec, LedgerError> {
    kind_spec(T::KIND).ok_or_else(|| LedgerError::Damaged {
        place: T::KIND.to_owned(),
        problem: "the kind is not known".to_owned(),
    })
}

pub(crate) fn values(row: &Row<'_>, first: usize, count: usize) -> Result<Vec<Value>, LedgerError> {
    (first..first + count).map(|index| Ok(row.get::<_, Value>(index)?)).collect()
}

fn list(conn: &Connection, spec: &TableSpec, id: Id) -> Result<Vec<Vec<Value>>, LedgerError> {
    let mut statement = conn.prepare_cached(&spec.select)?;
    let mut rows = statement.query([id.bytes()])?;
    let mut lines = Vec::new();
    while let Some(row) = rows.next()? {
        lines.push(values(row, 0, spec.columns.len())?);
    }
    Ok(lines)
}

/// The stored values of one fact of a known kind.
pub(crate) fn record_of(conn: &Connection, spec: &KindSpec, id: Id) -> Result<Option<Record>, LedgerError> {
    let mut statement = conn.prepare_cached(&spec.own.select)?;
    let mut rows = statement.query([id.bytes()])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    let own = values(row, 0, spec.own.columns.len())?;
    let lists = spec.lists.iter().map(|table| list(conn, table, id)).collect::<Result<_, _>>()?;
    Ok(Some(Record { own, lists }))
}

/// Is given a fact, its device and number there, and its stored values.
type TakeRecord<'t> = &'t mut dyn FnMut(Id, (&str, i64), &Record) -> Result<(), LedgerError>;

/// Gives every fact of a kind in the order of their ids.
pub(crate) fn each_record(
    conn: &Connection,
    spec: &KindSpec,
    take: TakeRecord<'_>,
) -> Result<(), LedgerError> {
    let columns = |first: &str, table: &TableSpec| {
        table.columns.iter().fold(first.to_owned(), |columns, column| format!("{columns}, f.{column}"))
    };
    let own = format!(
        "SELECT {} FROM {} f CROSS JOIN entry e ON e.id = f.id ORDER BY f.id",
        columns("f.id, e.device, e.device_seq", &spec.own),
        spec.own.table
    );
    let mut own = conn.prepare(&own)?;
    let of_list = |table: &TableSpec| {
        conn.prepare(&format!(
            "SELECT {} FROM {} f ORDER BY f.fact, f.line",
            columns("f.fact", table),
            table.table
        ))
    };
    let mut lists = spec.lists.iter().map(of_list).collect::<Result<Vec<_>, _>>()?;
    let mut lines = lists.iter_mut().map(Lines::of).collect::<Result<Vec<_>, _>>()?;
    let mut rows = own.query([])?;
    while let Some(row) = rows.next()? {
        let id = Id::load(row.get_ref(0)?).map_err(damaged("entry"))?;
        let device = String::load(row.get_ref(1)?).map_err(damaged("entry"))?;
        let seq = row.get(2)?;
        let lists = spec.lists.iter().zip(&mut lines);
        let record = Record {
            own: values(row, 3, spec.own.columns.len())?,
            lists: lists.map(|(table, lines)| lines.of_fact(id, table)).collect::<Result<_, _>>()?,
        };
        take(id, (&device, seq), &record)?;
    }
    Ok(())
}

/// The lines of a list, read once through in the order of their facts.
struct Lines<'s> {
    rows: rusqlite::Rows<'s>,
    next: Option<(Id, Vec<Value>)>,
}

impl<'s> Lines<'s> {
    fn of(statement: &'s mut rusqlite::Statement<'_>) -> Result<Lines<'s>, LedgerError> {
        Ok(Lines { rows: statement.query([])?, next: None })
    }

    /// Those of a fact, which comes after all that were asked for before.
    fn of_fact(&mut self, fact: Id, table: &TableSpec) -> Result<Vec<Vec<Value>>, LedgerError> {
        let mut lines = Vec::new();
        loop {
            match self.next.take() {
                Some((of, line)) if of == fact => lines.push(line),
                Some(later) if later.0 > fact => {
                    self.next = Some(later);
                    return Ok(lines);
                }
                _ => {}
            }
            let Some(row) = self.rows.next()? else { return Ok(lines) };
            let of = Id::load(row.get_ref(0)?).map_err(damaged(table.table))?;
            self.next = Some((of, values(row, 1, table.columns.len())?));
        }
    }
}

/// The entry with this id.
pub(crate) fn entry_of(conn: &Connection, id: Id) -> Result<Option<Entry>, LedgerError> {
    let mut statement =
        conn.prepare_cached(&format!("SELECT {ENTRY_COLUMNS} FROM entry e WHERE e.id = ?1"))?;
    let mut rows = statement.query([id.bytes()])?;
    rows.next()?.map(|row| entry(row, 0)).transpose()
}

/// Whether the fact of an entry is here.
pub(crate) fn has_fact(conn: &Connection, entry: &Entry) -> Result<bool, LedgerError> {
    let Some(spec) = kind_spec(&entry.kind) else { return Ok(true) };
    let sql = format!("SELECT 1 FROM {} WHERE id = ?1", spec.own.table);
    Ok(conn.prepare_cached(&sql)?.exists([entry.id.bytes()])?)
}

/// The entry with this id and its stored values; nothing where a copy for the site holds the entry alone.
pub(crate) fn record(conn: &Connection, id: Id) -> Result<Option<(Entry, Record)>, LedgerError> {
    let Some(entry) = entry_of(conn, id)? else { return Ok(None) };
    if site_copy::is_site_copy(conn)? && !has_fact(conn, &entry)? {
        return Ok(None);
    }
    let lost = |problem: &str| LedgerError::Damaged {
        place: format!("Entry {} {}", entry.device, entry.device_seq),
        problem: problem.to_owned(),
    };
    let spec = kind_spec(&entry.kind).ok_or_else(|| lost("its kind is not known"))?;
    let record = record_of(conn, spec, id)?.ok_or_else(|| lost("its row is missing"))?;
    Ok(Some((entry, record)))
}

/// The reversal of a fact, if there is one; of several, made on several devices, the first by id.
pub(crate) fn reversal_of(conn: &Connection, id: Id) -> Result<Option<Id>, LedgerError> {
    let mut statement = conn.prepare_cached("SELECT min(id) FROM reversal WHERE reverses = ?1")?;
    let mut rows = statement.query([id.bytes()])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    Option::<Id>::load(row.get_ref(0)?).map_err(damaged("reversal.id"))
}

/// The facts, for reading. Reading never waits for the writer.
#[derive(Debug, Clone, Copy)]
pub struct Books<'a> {
    pub(crate) conn: &'a Connection,
}

/// A ledger opened for reading only.
#[derive(Debug)]
pub struct Reader {
    conn: Connection,
    path: PathBuf,
}

impl Reader {
    /// Opens a ledger for reading.
    ///
    /// # Errors
    /// When it is missing, foreign, of another version, on a network, damaged or not what this computer last saw there.
    pub fn open(path: &Path) -> Result<Reader, LedgerError> {
        let path = open::real(path);
        let conn = open::read(&path)?;
        if let Some(kept) = KeptEnds::of(&path, &conn)? {
            kept.check(&path, &conn)?;
        }
        Ok(Reader { conn, path })
    }

    /// The facts.
    #[must_use]
    pub fn books(&self) -> Books<'_> {
        Books::over(&self.conn)
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl<'a> Books<'a> {
    pub(crate) fn over(conn: &'a Connection) -> Books<'a> {
        Books { conn }
    }

    /// Holds one state of the file while several questions are asked, so that their answers belong together.
    ///
    /// # Errors
    /// What the questions answer, or what SQLite says.
    pub fn in_one_read<T, E: From<LedgerError>>(
        &self,
        ask: impl FnOnce(Books<'a>) -> Result<T, E>,
    ) -> Result<T, E> {
        if !self.conn.is_autocommit() {
            return ask(*self);
        }
        let tx = self.conn.unchecked_transaction().map_err(LedgerError::from)?;
        let answer = ask(*self)?;
        tx.commit().map_err(LedgerError::from)?;
        Ok(answer)
    }

    /// The hash of an entry by its place, if it is here.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn hash_of(&self, device: &str, number: i64) -> Result<Option<Digest>, LedgerError> {
        spine::hash_at(self.conn, device, number)
    }

    /// One fact, whatever its kind.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn fact(&self, id: Id) -> Result<Option<Entered<Fact>>, LedgerError> {
        let Some((entry, record)) = record(self.conn, id)? else { return Ok(None) };
        let place = format!("Entry {} {}", entry.device, entry.device_seq);
        let fact = Fact::from_record(&entry.kind, &record).map_err(damaged(place))?;
        Ok(Some(Entered { reversed_by: reversal_of(self.conn, id)?, entry, fact }))
    }

    /// The live facts of a kind, in the order in which they were recorded on each device.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn all<T: FactRow>(&self) -> Result<Vec<Entered<T>>, LedgerError> {
        self.select(Which::Live, "1", &[])
    }

    /// Every fact of a kind, also those that were reversed.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn all_with_reversed<T: FactRow>(&self) -> Result<Vec<Entered<T>>, LedgerError> {
        self.select(Which::All, "1", &[])
    }

    /// The live facts of a kind that are dated between two days, both included.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn dated_between<T: FactRow>(
        &self,
        first: jiff::civil::Date,
        last: jiff::civil::Date,
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        self.select(Which::Live, "f.date BETWEEN ?1 AND ?2", &[&first.to_string(), &last.to_string()])
    }

    /// The live facts that name this one in a column: `books.by(Contract::job, job)`.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn by<T: FactRow, V: NamesFact>(
        &self,
        column: ColumnOf<T, V>,
        id: Id,
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        self.select(Which::Live, &format!("f.{} = ?1", column.name()), &[&id.bytes().as_slice()])
    }

    /// The same of those dated between two days, both included.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn by_between<T: FactRow, V: NamesFact>(
        &self,
        column: ColumnOf<T, V>,
        id: Id,
        (first, last): (jiff::civil::Date, jiff::civil::Date),
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        let wanted = format!("f.{} = ?1 AND f.date BETWEEN ?2 AND ?3", column.name());
        self.select(Which::Live, &wanted, &[&id.bytes().as_slice(), &first.to_string(), &last.to_string()])
    }

    /// Every fact that names this one in a column, also those that were reversed.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn by_with_reversed<T: FactRow, V: NamesFact>(
        &self,
        column: ColumnOf<T, V>,
        id: Id,
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        self.select(Which::All, &format!("f.{} = ?1", column.name()), &[&id.bytes().as_slice()])
    }

    /// Every fact that names one of these in a column, also those that were reversed.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn by_any_with_reversed<T: FactRow, V: NamesFact>(
        &self,
        column: ColumnOf<T, V>,
        ids: &BTreeSet<Id>,
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        self.select(Which::All, &format!("f.{} IN rarray(?1)", column.name()), &[&among(ids)])
    }

    /// Every bill with a line for this job, also those that were reversed.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn bills_on_with_reversed(&self, job: Id) -> Result<Vec<Entered<Bill>>, LedgerError> {
        let wanted = "f.id IN (SELECT fact FROM bill_line WHERE job = ?1)";
        self.select(Which::All, wanted, &[&job.bytes().as_slice()])
    }

    /// The live bills of a vendor with a number on them.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn bills_numbered(&self, vendor: Id, reference: &str) -> Result<Vec<Entered<Bill>>, LedgerError> {
        let wanted = "f.vendor = ?1 AND f.reference = ?2";
        self.select(Which::Live, wanted, &[&vendor.bytes().as_slice(), &reference])
    }

    /// The live facts of a kind without their entries, which take most of the time where there are many.
    pub(crate) fn live_alone<T: FactRow>(&self) -> Result<Vec<(Id, T)>, LedgerError> {
        let spec = spec_of::<T>()?;
        let columns = spec.own.columns.iter().map(|column| format!(", f.{column}")).collect::<String>();
        let sql = format!("SELECT f.id{columns} FROM {} f WHERE {}", spec.own.table, live::live("f.id"));
        let mut statement = self.conn.prepare_cached(&sql)?;
        let mut rows = statement.query([])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            let id = Id::load(row.get_ref(0)?).map_err(damaged(spec.own.table))?;
            let place = || format!("{} {id}", spec.own.table);
            found.push((id, self.load(spec, id, row, 1, place)?));
        }
        Ok(found)
    }

    /// A fact from a row that has its columns from a place on, and its lists from their tables.
    fn load<T: FactRow>(
        &self,
        spec: &KindSpec,
        id: Id,
        row: &Row<'_>,
        first: usize,
        place: impl Fn() -> String,
    ) -> Result<T, LedgerError> {
        let own = values(row, first, spec.own.columns.len())?;
        let lists =
            spec.lists.iter().map(|table| list(self.conn, table, id)).collect::<Result<Vec<_>, _>>()?;
        let mut fact = T::load(&own).map_err(damaged(place()))?;
        fact.load_lists(&lists).map_err(damaged(place()))?;
        Ok(fact)
    }

    /// The facts of a kind that are wanted; what is wanted is SQL over `f` (the fact) and `e` (its entry).
    pub(crate) fn select<T: FactRow>(
        &self,
        which: Which,
        wanted: &str,
        parameters: &[&dyn rusqlite::ToSql],
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        let spec = spec_of::<T>()?;
        let columns =
            spec.own.columns.iter().map(|column| format!("f.{column}")).collect::<Vec<_>>().join(", ");
        let live = match which {
            Which::Live => " AND r.id IS NULL",
            Which::All => "",
        };
        // CROSS JOIN makes SQLite begin with the facts: left to itself it walks the whole spine in the order asked for.
        let sql = format!(
            "SELECT {ENTRY_COLUMNS}, r.id, {columns} FROM {} f CROSS JOIN entry e ON e.id = f.id
             LEFT JOIN reversal r ON r.reverses = f.id AND {}
             WHERE ({wanted}){live} ORDER BY {}",
            spec.own.table,
            live::FIRST_REVERSAL,
            device::IN_ORDER
        );
        let mut statement = self.conn.prepare_cached(&sql)?;
        let mut rows = statement.query(parameters)?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            let entry = entry(row, 0)?;
            let reversed_by = Option::<Id>::load(row.get_ref(8)?).map_err(damaged("reversal.id"))?;
            let place = || format!("Entry {} {}", entry.device, entry.device_seq);
            let fact = self.load(spec, entry.id, row, 9, place)?;
            found.push(Entered { entry, reversed_by, fact });
        }
        Ok(found)
    }
}

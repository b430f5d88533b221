//! How facts name other facts. The file's own foreign keys are the one list of these links: what they say is read
//! once and used to check references, to find what rests on a fact, and to turn names into ids.
//!
//! A kind that only writes down figures as they stood (a close, a hand-off) may name what was reversed since, and
//! nothing rests on what it names: a reversal of that is booked like any other.

use crate::column::Column;
use crate::error::{LedgerError, refuse};
use crate::id::Id;
use crate::kind::{KindSpec, Record, TableSpec};
use crate::kinds::{KINDS, kind_spec};
use crate::live::live;
use crate::schema::schema;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

/// Which table a column points at.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Link {
    column: String,
    points_at: String,
    /// Asks of an id: is it there, is it a first version, was it reversed.
    probe: String,
}

/// Every link, and for each table the places of its linking columns, so that a check is a few look-ups.
#[derive(Debug, Default)]
struct Links {
    by_table: HashMap<&'static str, Vec<(usize, Link)>>,
}

fn links() -> Result<&'static Links, LedgerError> {
    static LINKS: LazyLock<Result<Links, String>> =
        LazyLock::new(|| read_links().map_err(|error| error.to_string()));
    LINKS.as_ref().map_err(|problem| LedgerError::Damaged {
        place: "The ledger's tables".to_owned(),
        problem: problem.clone(),
    })
}

fn read_links() -> Result<Links, LedgerError> {
    let keys = &schema()?.foreign_keys;
    let has_versions =
        |table: &str| keys.get(table).is_some_and(|keys| keys.iter().any(|key| key.column == "revises"));
    let mut links = Links::default();
    for spec in KINDS.iter().flat_map(|kind| std::iter::once(&kind.own).chain(&kind.lists)) {
        let mut places = Vec::new();
        for key in keys.get(spec.table).into_iter().flatten() {
            let place = spec.columns.iter().position(|column| *column == key.column);
            let place = place.ok_or_else(|| LedgerError::Damaged {
                place: spec.table.to_owned(),
                problem: format!("no fact knows its column {}", key.column),
            })?;
            let is_first = if has_versions(&key.points_at) { "t.revises IS NULL" } else { "1" };
            let probe =
                format!("SELECT {is_first}, NOT {} FROM {} t WHERE t.id = ?1", live("t.id"), key.points_at);
            let (column, points_at) = (key.column.clone(), key.points_at.clone());
            places.push((place, Link { column, points_at, probe }));
        }
        links.by_table.insert(spec.table, places);
    }
    Ok(links)
}

/// The links of one table.
fn links_of(table: &str) -> Result<&'static [(usize, Link)], LedgerError> {
    Ok(links()?.by_table.get(table).map(Vec::as_slice).unwrap_or_default())
}

/// The columns of a table that name other facts, and the tables they name. `reverses` names any fact and is left out.
///
/// # Errors
/// When the tables of an empty ledger cannot be made and read.
pub fn named_by(
    table: &str,
) -> Result<impl Iterator<Item = (&'static str, &'static str)> + use<>, LedgerError> {
    let links = links_of(table)?.iter().map(|(_, link)| (link.column.as_str(), link.points_at.as_str()));
    Ok(links.filter(|(_, points_at)| *points_at != "entry"))
}

/// What a batch has already found to be there and live, by table. Forgotten at a reversal.
#[derive(Debug, Default)]
pub(crate) struct Found {
    ids: HashSet<(&'static str, Id)>,
}

impl Found {
    pub(crate) fn forget(&mut self) {
        self.ids.clear();
    }
}

/// Where a fact was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    /// Here, where the books are known as they stand.
    Here,
    /// On another device, which could not know what had just been reversed here.
    Elsewhere,
}

/// Checks that whatever a fact names is there and is a first version; and where it is written here, that it was not
/// reversed.
pub(crate) fn check(
    conn: &Connection,
    id: Id,
    written: Written,
    spec: &KindSpec,
    record: &Record,
    found: &mut Found,
) -> Result<(), LedgerError> {
    let may_name_reversed = spec.marks().is_some() || written == Written::Elsewhere;
    check_row(conn, id, may_name_reversed, &spec.own, &record.own, "", found)?;
    for ((list, name), lines) in spec.lists.iter().zip(spec.list_names).zip(&record.lists) {
        for (index, line) in lines.iter().enumerate() {
            check_row(conn, id, may_name_reversed, list, line, &format!("{name}[{index}]."), found)?;
        }
    }
    Ok(())
}

/// Every fact that a fact names, whatever its kind.
pub(crate) fn named(spec: &KindSpec, record: &Record) -> Result<Vec<Id>, LedgerError> {
    named_in(spec, record, |_| true)
}

/// Every fact that the open part of a fact names.
pub(crate) fn named_openly(spec: &KindSpec, record: &Record) -> Result<Vec<Id>, LedgerError> {
    named_in(spec, record, |is_open| is_open)
}

fn named_in(spec: &KindSpec, record: &Record, wanted: fn(bool) -> bool) -> Result<Vec<Id>, LedgerError> {
    let lists = spec.lists.iter().zip(&record.lists);
    let rows = lists.flat_map(|(list, lines)| lines.iter().map(move |line| (list, line)));
    let mut out = Vec::new();
    for (table, values) in std::iter::once((&spec.own, &record.own)).chain(rows) {
        for (place, _) in links_of(table.table)? {
            let is_wanted = table.open.get(*place).is_some_and(|open| wanted(*open));
            if let Some(value @ Value::Blob(_)) = values.get(*place).filter(|_| is_wanted)
                && let Ok(id) = Id::load(value.into())
            {
                out.push(id);
            }
        }
    }
    Ok(out)
}

/// Which table a column names a fact of.
pub(crate) fn points_at(table: &str, column: &str) -> Result<&'static str, LedgerError> {
    let link = links_of(table)?.iter().find(|(_, link)| link.column == column);
    link.map(|(_, link)| link.points_at.as_str()).ok_or_else(|| LedgerError::Damaged {
        place: format!("{table}.{column}"),
        problem: "it names no other fact".to_owned(),
    })
}

fn check_row(
    conn: &Connection,
    own: Id,
    may_name_reversed: bool,
    spec: &TableSpec,
    values: &[Value],
    prefix: &str,
    found: &mut Found,
) -> Result<(), LedgerError> {
    for (place, link) in links_of(spec.table)? {
        let Some(value @ Value::Blob(_)) = values.get(*place) else { continue };
        let Ok(id) = Id::load(value.into()) else { continue };
        // The owner's own record names nobody before them; a fact may point at itself only there.
        if id == own || link.points_at == "entry" {
            continue;
        }
        let field = || format!("{prefix}{}", link.column);
        let thing = || link.points_at.replace('_', " ");
        if found.ids.contains(&(link.points_at.as_str(), id)) {
            continue;
        }
        let mut probe = conn.prepare_cached(&link.probe)?;
        let mut rows = probe.query([id.bytes()])?;
        let known =
            rows.next()?.map(|row| Ok::<_, rusqlite::Error>((row.get(0)?, row.get(1)?))).transpose()?;
        match known {
            None => {
                return refuse(
                    field(),
                    format!("there is no {} {id}", thing()),
                    "Record it first, or check the name",
                );
            }
            Some((false, _)) => {
                return refuse(
                    field(),
                    format!("{id} is a later version of a {}", thing()),
                    "Name its first version",
                );
            }
            Some((true, true)) if !may_name_reversed => {
                return refuse(field(), format!("that {} was reversed", thing()), "Choose one that stands");
            }
            Some((true, reversed)) => {
                if !reversed {
                    found.ids.insert((link.points_at.as_str(), id));
                }
            }
        }
    }
    Ok(())
}

/// The first kind of fact that rests on this one and is live, and how many of that kind.
pub(crate) fn dependents(
    conn: &Connection,
    kind: &str,
    id: Id,
) -> Result<Option<(&'static str, i64)>, LedgerError> {
    let Some(target) = kind_spec(kind) else { return Ok(None) };
    for spec in KINDS.iter().filter(|spec| spec.kind != "reversal" && spec.marks().is_none()) {
        for table in std::iter::once(&spec.own).chain(&spec.lists) {
            let key = if table.table == spec.own.table { "id" } else { "fact" };
            for (_, link) in
                links_of(table.table)?.iter().filter(|(_, link)| link.points_at == target.own.table)
            {
                let count: i64 = conn.query_row(
                    &format!(
                        "SELECT count(DISTINCT t.{key}) FROM {} t WHERE t.{} = ?1 AND {}",
                        table.table,
                        link.column,
                        live(&format!("t.{key}")),
                    ),
                    [id.bytes()],
                    |row| row.get(0),
                )?;
                if count > 0 {
                    return Ok(Some((spec.kind, count)));
                }
            }
        }
    }
    Ok(None)
}

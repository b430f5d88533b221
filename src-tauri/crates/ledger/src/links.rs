//! How facts name other facts. The file's own foreign keys are the one list of these links: what they say is read
//! once and used to check references, to find what rests on a fact, and to turn names into ids.

use crate::append::NewFact;
use crate::column::Column;
use crate::error::{LedgerError, refuse};
use crate::facts::KINDS;
use crate::id::Id;
use crate::kind::{KindSpec, Record, TableSpec};
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

/// Which table a column points at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Link {
    pub(crate) table: &'static str,
    pub(crate) column: String,
    pub(crate) points_at: String,
    /// Asks of an id: is it there, is it a first version, was it reversed.
    probe: String,
}

/// Every link, read from the tables of an empty ledger in memory.
static LINKS: LazyLock<Vec<Link>> = LazyLock::new(|| read_links().unwrap_or_default());

fn read_links() -> rusqlite::Result<Vec<Link>> {
    let conn = Connection::open_in_memory()?;
    conn.execute_batch(include_str!("../../../../migrations/0001_facts.sql"))?;
    let mut links = Vec::new();
    let tables = KINDS.iter().flat_map(|kind| std::iter::once(&kind.own).chain(&kind.lists));
    for table in tables.map(|spec| spec.table) {
        let mut statement = conn.prepare(&format!("PRAGMA foreign_key_list({table})"))?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let (points_at, column): (String, String) = (row.get(2)?, row.get(3)?);
            if column != "id" && column != "fact" {
                links.push(Link { table, column, points_at, probe: String::new() });
            }
        }
    }
    let versioned: Vec<String> =
        links.iter().filter(|link| link.column == "revises").map(|link| link.points_at.clone()).collect();
    for link in &mut links {
        let is_first = if versioned.contains(&link.points_at) { "t.revises IS NULL" } else { "1" };
        link.probe = format!(
            "SELECT {is_first}, EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id) FROM {} t WHERE t.id = ?1",
            link.points_at
        );
    }
    Ok(links)
}

/// The links of one table.
pub(crate) fn of(table: &str) -> impl Iterator<Item = &'static Link> + '_ {
    LINKS.iter().filter(move |link| link.table == table)
}

fn position(spec: &TableSpec, column: &str) -> Option<usize> {
    spec.columns.iter().position(|name| name == column)
}

/// For each table, the places of its linking columns and what they point at, so that a check is a few look-ups.
type Places = HashMap<&'static str, Vec<(usize, &'static Link)>>;

static PLACES: LazyLock<Places> = LazyLock::new(|| {
    let tables = KINDS.iter().flat_map(|kind| std::iter::once(&kind.own).chain(&kind.lists));
    tables
        .map(|spec| {
            let places =
                of(spec.table).filter_map(|link| Some((position(spec, &link.column)?, link))).collect();
            (spec.table, places)
        })
        .collect()
});

/// What a batch has already found to be there and standing, by table. Forgotten at a reversal.
#[derive(Debug, Default)]
pub(crate) struct Found {
    ids: HashSet<(&'static str, Id)>,
}

impl Found {
    pub(crate) fn forget(&mut self) {
        self.ids.clear();
    }
}

/// Checks that whatever a fact names is there, is a first version, and was not reversed.
pub(crate) fn check(
    conn: &Connection,
    new: &NewFact,
    spec: &KindSpec,
    record: &Record,
    found: &mut Found,
) -> Result<(), LedgerError> {
    check_row(conn, new, &spec.own, &record.own, "", found)?;
    for ((list, name), lines) in spec.lists.iter().zip(spec.list_names).zip(&record.lists) {
        for (index, line) in lines.iter().enumerate() {
            check_row(conn, new, list, line, &format!("{name}[{index}]."), found)?;
        }
    }
    Ok(())
}

fn check_row(
    conn: &Connection,
    new: &NewFact,
    spec: &TableSpec,
    values: &[Value],
    prefix: &str,
    found: &mut Found,
) -> Result<(), LedgerError> {
    let Some(places) = PLACES.get(spec.table) else { return Ok(()) };
    for (place, link) in places {
        let Some(value @ Value::Blob(_)) = values.get(*place) else { continue };
        let Ok(id) = Id::load(value.into()) else { continue };
        // The owner's own record names nobody before them; a fact may point at itself only there.
        if id == new.id || link.points_at == "entry" {
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
            Some((true, true)) if !freezes(new.fact.kind()) => {
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

/// Whether a kind only writes down figures as they stood. It may name what was reversed since, and nothing rests on
/// what it names: a reversal of that is booked like any other.
fn freezes(kind: &str) -> bool {
    kind == "month-closed" || kind == "hand-off"
}

/// The first kind of fact that rests on this one and stands, and how many of that kind.
pub(crate) fn dependents(
    conn: &Connection,
    kind: &str,
    id: Id,
) -> Result<Option<(&'static str, i64)>, LedgerError> {
    let Some(target) = crate::kind::kind_spec(kind) else { return Ok(None) };
    for spec in KINDS.iter().filter(|spec| spec.kind != "reversal" && !freezes(spec.kind)) {
        for table in std::iter::once(&spec.own).chain(&spec.lists) {
            let key = if table.table == spec.own.table { "id" } else { "fact" };
            for link in of(table.table).filter(|link| link.points_at == target.own.table) {
                let count: i64 = conn.query_row(
                    &format!(
                        "SELECT count(DISTINCT t.{key}) FROM {} t WHERE t.{} = ?1
                         AND NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.{key})",
                        table.table, link.column
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

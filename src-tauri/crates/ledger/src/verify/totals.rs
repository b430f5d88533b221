//! The stored totals against the facts. They are worked out anew in scratch tables of the same names, which SQLite
//! finds before those of the file; then the two are compared row by row.

use super::finding::Findings;
use crate::error::LedgerError;
use crate::totals as stored;
use rusqlite::types::{Value, ValueRef};
use rusqlite::{Connection, Row};
use std::cmp::Ordering;

/// Differing rows told in full for each table.
const MOST_TOLD: usize = 3;

/// A kept table as the file declares it.
struct TotalTable {
    name: String,
    declaration: String,
    keys: Vec<String>,
    sums: Vec<String>,
}

pub(super) fn check(
    conn: &Connection,
    findings: &mut Findings,
    go_on: &mut dyn FnMut(u64) -> bool,
) -> Result<(), LedgerError> {
    match compare(conn, findings, go_on) {
        // What the trade's arithmetic cannot take stands in the facts: say so instead of giving up.
        Err(LedgerError::Refused { field, problem, .. }) => {
            let says = format!("they cannot be worked out from the facts ({field}: {problem})");
            findings.add(None, "The stored totals", says);
            Ok(())
        }
        outcome => findings.take("The stored totals", outcome).map(|_| ()),
    }
}

fn compare(
    conn: &Connection,
    findings: &mut Findings,
    go_on: &mut dyn FnMut(u64) -> bool,
) -> Result<(), LedgerError> {
    let tx = conn.unchecked_transaction()?;
    let tables = tables(&tx)?;
    for table in &tables {
        let scratch = table.declaration.replacen("CREATE TABLE ", "CREATE TEMP TABLE ", 1);
        tx.execute(&scratch, [])?;
    }
    stored::rebuild(&tx, go_on)?;
    for table in &tables {
        differences(&tx, table, findings)?;
    }
    Ok(())
}

fn tables(conn: &Connection) -> Result<Vec<TotalTable>, LedgerError> {
    let mut statement = conn.prepare(
        "SELECT name, sql FROM main.sqlite_master WHERE type = 'table' AND substr(name, 1, 6) = 'total_' ORDER BY name",
    )?;
    let declared = statement
        .query_map([], |row| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?)))?
        .collect::<Result<Vec<_>, _>>()?;
    let mut tables = Vec::new();
    for (name, declaration) in declared {
        let mut columns = conn.prepare("SELECT name, pk FROM pragma_table_info(?1, 'main') ORDER BY cid")?;
        let columns = columns
            .query_map([&name], |row| Ok((row.get::<_, String>(0)?, row.get::<_, i64>(1)?)))?
            .collect::<Result<Vec<_>, _>>()?;
        let (keys, sums) = columns.into_iter().partition::<Vec<_>, _>(|(_, place)| *place > 0);
        let names = |columns: Vec<(String, i64)>| columns.into_iter().map(|(name, _)| name).collect();
        tables.push(TotalTable { name, declaration, keys: names(keys), sums: names(sums) });
    }
    Ok(tables)
}

/// Rows that are all zero say nothing and are passed over on both sides.
///
/// Both tables lie in the order of their keys, so that one walk along the two finds every difference.
fn differences(conn: &Connection, table: &TotalTable, findings: &mut Findings) -> Result<(), LedgerError> {
    let (name, keys) = (&table.name, table.keys.join(", "));
    let columns = format!("{keys}, {}", table.sums.join(", "));
    let some = table.sums.iter().map(|sum| format!("{sum} != 0")).collect::<Vec<_>>().join(" OR ");
    let of = |schema: &str| {
        conn.prepare(&format!("SELECT {columns} FROM {schema}.{name} WHERE {some} ORDER BY {keys}"))
    };
    let (mut kept, mut anew) = (of("main")?, of("temp")?);
    let (mut kept, mut anew) = (kept.query([])?, anew.query([])?);
    let (keys, all) = (table.keys.len(), table.keys.len() + table.sums.len());
    let (mut here, mut there) = (kept.next()?, anew.next()?);
    let mut told = Vec::new();
    let mut count = 0_u64;
    loop {
        let order = match (here, there) {
            (None, None) => break,
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (Some(here), Some(there)) => by_key(here, there, keys)?,
        };
        let is_same = match (here, there) {
            (Some(here), Some(there)) if order == Ordering::Equal => are_equal(here, there, all)?,
            _ => false,
        };
        if !is_same {
            let differs = if order == Ordering::Greater { there } else { here };
            if let Some(row) = differs.filter(|_| told.len() < MOST_TOLD) {
                let key = (0..keys).map(|place| row.get(place)).collect::<Result<Vec<Value>, _>>()?;
                told.push(tell(conn, table, &key)?);
            }
            count += 1;
        }
        if order != Ordering::Greater {
            here = kept.next()?;
        }
        if order != Ordering::Less {
            there = anew.next()?;
        }
    }
    if count > 0 {
        let says = format!(
            "{count} row(s) are not what the facts come to: {}. Rebuild the totals; the facts are not touched by this",
            told.join("; ")
        );
        findings.add(None, name.as_str(), says);
    }
    Ok(())
}

/// Which of two rows comes first by its key. A table is strict, so that a column holds one type on both sides.
fn by_key(left: &Row<'_>, right: &Row<'_>, keys: usize) -> Result<Ordering, LedgerError> {
    for place in 0..keys {
        let order = match (left.get_ref(place)?, right.get_ref(place)?) {
            (ValueRef::Integer(left), ValueRef::Integer(right)) => left.cmp(&right),
            (ValueRef::Text(left) | ValueRef::Blob(left), ValueRef::Text(right) | ValueRef::Blob(right)) => {
                left.cmp(right)
            }
            _ => Ordering::Less,
        };
        if order != Ordering::Equal {
            return Ok(order);
        }
    }
    Ok(Ordering::Equal)
}

fn are_equal(left: &Row<'_>, right: &Row<'_>, columns: usize) -> Result<bool, LedgerError> {
    for place in 0..columns {
        if left.get_ref(place)? != right.get_ref(place)? {
            return Ok(false);
        }
    }
    Ok(true)
}

fn tell(conn: &Connection, table: &TotalTable, key: &[Value]) -> Result<String, LedgerError> {
    let wanted = table.keys.iter().map(|name| format!("{name} = ?")).collect::<Vec<_>>().join(" AND ");
    let read = |schema: &str| -> Result<Vec<i64>, LedgerError> {
        let sql = format!("SELECT {} FROM {schema}.{} WHERE {wanted}", table.sums.join(", "), table.name);
        let mut statement = conn.prepare(&sql)?;
        let mut rows = statement.query(rusqlite::params_from_iter(key))?;
        let Some(row) = rows.next()? else { return Ok(vec![0; table.sums.len()]) };
        Ok((0..table.sums.len()).map(|place| row.get(place)).collect::<Result<_, _>>()?)
    };
    let (kept, anew) = (read("main")?, read("temp")?);
    let at: Vec<String> =
        table.keys.iter().zip(key).map(|(name, value)| format!("{name} {}", show(value))).collect();
    let sums: Vec<String> = table
        .sums
        .iter()
        .zip(kept.iter().zip(&anew))
        .filter(|(_, (kept, anew))| kept != anew)
        .map(|(name, (kept, anew))| format!("{name} stands at {kept} and comes to {anew}"))
        .collect();
    Ok(format!("{}: {}", at.join(", "), sums.join(", ")))
}

fn show(value: &Value) -> String {
    match value {
        Value::Integer(number) => number.to_string(),
        Value::Text(text) => text.clone(),
        Value::Blob(bytes) if bytes.is_empty() => "none".to_owned(),
        Value::Blob(bytes) => match <[u8; 16]>::try_from(bytes.as_slice()) {
            Ok(id) => uuid::Uuid::from_bytes(id).to_string(),
            Err(_) => format!("{} bytes", bytes.len()),
        },
        Value::Null | Value::Real(_) => "unreadable".to_owned(),
    }
}

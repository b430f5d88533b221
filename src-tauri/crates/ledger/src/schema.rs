//! What the file's own tables say of facts: which column names which table, and which kinds stand for good. Both are
//! read from the tables that all migrations make together, so that no list of them is kept by hand beside the tables.

use crate::error::LedgerError;
use crate::open;
use rusqlite::Connection;
use std::collections::HashMap;
use std::sync::LazyLock;

/// A column that names a row of another table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ForeignKey {
    pub(crate) column: String,
    pub(crate) points_at: String,
}

/// What was read.
#[derive(Debug, Default)]
pub(crate) struct Schema {
    /// By table, in the order of their columns; the keys that tie a row to its own entry or fact are left out.
    pub(crate) foreign_keys: HashMap<String, Vec<ForeignKey>>,
    /// The kinds that are never reversed.
    pub(crate) for_good: Vec<String>,
}

/// The trigger that refuses the reversal of some kinds.
const GUARD: &str = "reversal_of_reversal";

/// The tables as this program makes them.
///
/// # Errors
/// When a table or the guard of reversals does not say what is asked of it: the program itself is then damaged.
pub(crate) fn schema() -> Result<&'static Schema, LedgerError> {
    static SCHEMA: LazyLock<Result<Schema, String>> =
        LazyLock::new(|| open::in_memory().and_then(|conn| read(&conn)).map_err(|error| error.to_string()));
    SCHEMA.as_ref().map_err(|problem| LedgerError::Damaged {
        place: "The ledger's tables".to_owned(),
        problem: problem.clone(),
    })
}

/// Whether facts of a kind are never reversed.
///
/// # Errors
/// When the program itself is damaged.
pub fn is_for_good(kind: &str) -> Result<bool, LedgerError> {
    Ok(schema()?.for_good.iter().any(|known| known == kind))
}

fn read(conn: &Connection) -> Result<Schema, LedgerError> {
    let mut schema = Schema::default();
    let mut statement = conn.prepare(
        "SELECT t.name, f.\"from\", f.\"table\" FROM sqlite_schema t JOIN pragma_foreign_key_list(t.name) f
         JOIN pragma_table_info(t.name) c ON c.name = f.\"from\"
         WHERE t.type = 'table' AND f.\"from\" NOT IN ('id', 'fact') ORDER BY t.name, c.cid",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let key = ForeignKey { column: row.get(1)?, points_at: row.get(2)? };
        schema.foreign_keys.entry(row.get(0)?).or_default().push(key);
    }
    let guard: String = conn.query_row(
        "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = ?1",
        [GUARD],
        |row| row.get(0),
    )?;
    schema.for_good = guarded_kinds(&guard);
    if schema.foreign_keys.is_empty() || schema.for_good.is_empty() {
        return Err(LedgerError::Damaged {
            place: "The ledger's tables".to_owned(),
            problem: "they name no other tables, or guard no kind against reversal".to_owned(),
        });
    }
    Ok(schema)
}

/// The words of the guard's `IN (…)`.
fn guarded_kinds(trigger: &str) -> Vec<String> {
    let list = trigger.split_once("IN (").and_then(|(_, rest)| rest.split_once(')'));
    let words = list.map(|(list, _)| list.split(',')).into_iter().flatten();
    words.map(|word| word.trim().trim_matches('\'').to_owned()).filter(|word| !word.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_link_of_every_migration_is_read() {
        let schema = schema().expect("the tables");
        let of = |table: &str| -> Vec<(&str, &str)> {
            let keys = schema.foreign_keys.get(table).map(Vec::as_slice).unwrap_or_default();
            keys.iter().map(|key| (key.column.as_str(), key.points_at.as_str())).collect()
        };
        assert_eq!(of("reversal"), [("reverses", "entry")]);
        assert_eq!(of("part_price"), [("part", "part"), ("vendor", "vendor")]);
        let of_a_line = [("job", "job"), ("code", "cost_code"), ("condition", "condition"), ("part", "part")];
        assert_eq!(of("bill_line"), of_a_line);
        assert_eq!(of("entry"), [("person", "person")]);
        assert!(of("total_code").is_empty() && of("condition_mark").is_empty());
    }

    #[test]
    fn the_kinds_that_stand_for_good_are_those_of_the_files_own_guard() {
        let schema = schema().expect("the tables");
        assert_eq!(schema.for_good, ["reversal", "month-closed", "hand-off", "device", "device-left"]);
        assert!(guarded_kinds("WHEN kind = 'reversal'").is_empty(), "another form of guard is no list");
    }

    #[test]
    fn tables_without_links_or_without_the_guard_are_an_error() {
        let conn = Connection::open_in_memory().expect("a file in memory");
        conn.execute_batch("CREATE TABLE a (id INTEGER PRIMARY KEY)").expect("a table");
        assert!(read(&conn).is_err());
    }
}

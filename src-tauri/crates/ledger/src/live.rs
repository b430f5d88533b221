//! Live facts: those that were not reversed. The one place in which a question says so.

use crate::error::LedgerError;
use rusqlite::{Connection, ToSql};

/// True of a fact that was not reversed, as SQL; `id` is how the question calls the fact's id.
pub(crate) fn live(id: &str) -> String {
    format!("NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = {id})")
}

/// Of a fact's reversals `r` the first by id: two devices may have taken back the same fact, and it is canceled once.
pub(crate) const FIRST_REVERSAL: &str =
    "NOT EXISTS (SELECT 1 FROM reversal o WHERE o.reverses = r.reverses AND o.id < r.id)";

/// Whether a table has a live fact that is wanted; what is wanted is SQL over `f`.
pub(crate) fn any_live(
    conn: &Connection,
    table: &str,
    wanted: &str,
    with: &[&dyn ToSql],
) -> Result<bool, LedgerError> {
    let sql = format!("SELECT 1 FROM {table} f WHERE {wanted} AND {}", live("f.id"));
    Ok(conn.prepare_cached(&sql)?.exists(with)?)
}

/// The sum of a column over the live facts that are wanted; zero when there are none.
pub(crate) fn live_sum(
    conn: &Connection,
    table: &str,
    column: &str,
    wanted: &str,
    with: &[&dyn ToSql],
) -> Result<i64, LedgerError> {
    let sql = format!("SELECT coalesce(sum({column}), 0) FROM {table} f WHERE {wanted} AND {}", live("f.id"));
    Ok(conn.prepare_cached(&sql)?.query_row(with, |row| row.get(0))?)
}

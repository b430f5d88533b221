//! What rules ask of the books before a fact is written.

use crate::error::{LedgerError, refuse};
use crate::id::Id;
use rusqlite::{Connection, ToSql};
use trade::Money;

/// What a rule says of a fact.
pub(super) type Check = Result<(), LedgerError>;

/// The one value that a question has.
pub(super) fn value<T: rusqlite::types::FromSql>(
    conn: &Connection,
    sql: &str,
    with: &[&dyn ToSql],
) -> Result<T, LedgerError> {
    Ok(conn.prepare_cached(sql)?.query_row(with, |row| row.get(0))?)
}

/// Whether a question has any answer.
pub(super) fn exists(conn: &Connection, sql: &str, with: &[&dyn ToSql]) -> Result<bool, LedgerError> {
    Ok(conn.prepare_cached(sql)?.exists(with)?)
}

/// An amount that is asked for by the id of a fact.
pub(super) fn cents(conn: &Connection, sql: &str, id: Id) -> Result<Money, LedgerError> {
    value::<i64>(conn, sql, &[id.bytes()]).map(Money::from_minor)
}

/// Refuses an amount below zero.
pub(super) fn not_negative(field: &str, amount: Money) -> Check {
    if amount.is_negative() {
        return refuse(field, format!("{amount} is below zero"), "Type an amount of zero or more");
    }
    Ok(())
}

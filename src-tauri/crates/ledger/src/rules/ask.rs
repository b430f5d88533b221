//! What rules ask of the books before a fact is written.

use crate::error::{LedgerError, refuse};
use crate::id::Id;
use rusqlite::{Connection, ToSql};
use trade::Money;
use trade::shown::day;

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

/// A day as it is kept in a row, as people write it.
pub(super) fn day_as_kept(date: &str) -> String {
    date.parse().map_or_else(|_| date.to_owned(), day)
}

/// An amount that is asked for by the id of a fact.
pub(super) fn cents(conn: &Connection, sql: &str, id: Id) -> Result<Money, LedgerError> {
    value::<i64>(conn, sql, &[id.bytes()]).map(Money::from_minor)
}

/// Refuses an amount below zero.
pub(super) fn not_negative(field: &str, amount: Money) -> Check {
    if amount.is_negative() {
        return refuse(
            field,
            format!("{} is below zero", amount.grouped()),
            "Type an amount of zero or more",
        );
    }
    Ok(())
}

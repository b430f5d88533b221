//! What rules ask of the books before a fact is written.

use crate::error::{LedgerError, refuse};
use crate::id::Id;
use rusqlite::{Connection, ToSql};
use trade::shown::day;
use trade::{CostKind, Money};

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

/// Refuses labor where no hours stand behind it.
pub(super) fn not_labor(field: impl Into<String>, kind: CostKind) -> Check {
    if kind == CostKind::Labor {
        return refuse(field, "labor cost comes from hours and pay", "Record the hours as time instead");
    }
    Ok(())
}

/// Refuses a hidden condition of another job.
pub(super) fn condition_of_job(
    conn: &Connection,
    field: impl Into<String>,
    condition: Option<Id>,
    job: Id,
) -> Check {
    let Some(condition) = condition else { return Ok(()) };
    if exists(conn, "SELECT 1 FROM condition WHERE id = ?1 AND job = ?2", &[condition.bytes(), job.bytes()])?
    {
        return Ok(());
    }
    refuse(field, "that hidden condition was found on another job", "Choose one of this job's, or none")
}

//! The attachments: every file that a fact of this device names is beside the ledger, whole and unchanged, and so is
//! every one of another device's that has come.

use super::finding::{Findings, bad_entry};
use crate::attachment;
use crate::column::Column;
use crate::device;
use crate::draft::DEVICE;
use crate::error::{LedgerError, damaged};
use crate::id::Digest;
use crate::kinds::KINDS;
use crate::progress::{Progress, Stage, Tell};
use crate::read::Books;
use rusqlite::Connection;
use std::path::Path;

/// The facts that name, in a column, a file that nobody attached.
fn unattached(table: &str, column: &str, is_list: bool) -> String {
    let (key, line) = if is_list { ("fact", ", n.line") } else { ("id", "") };
    format!(
        "SELECT e.device, e.device_seq, e.kind, e.recorded_at, n.{column}
         FROM main.{table} n CROSS JOIN entry e ON e.id = n.{key}
         WHERE n.{column} IS NOT NULL AND NOT EXISTS (SELECT 1 FROM attachment a WHERE a.hash = n.{column})
         ORDER BY {}{line}",
        device::IN_ORDER
    )
}

pub(super) fn check(
    conn: &Connection,
    folder: &Path,
    findings: &mut Findings,
    progress: Tell<'_>,
) -> Result<(u64, u64), LedgerError> {
    let read = files(conn, folder, findings, progress);
    let count = findings.take("attachment", read)?.unwrap_or((0, 0));
    for spec in KINDS.iter().filter(|spec| spec.names_files()) {
        for table in std::iter::once(&spec.own).chain(&spec.lists) {
            let (name, is_list) = (table.table, table.table != spec.own.table);
            for (column, _) in table.columns.iter().zip(&table.files).filter(|(_, is_file)| **is_file) {
                let named = named(conn, name, &unattached(name, column, is_list), findings);
                findings.take(name, named)?;
            }
        }
    }
    Ok(count)
}

fn files(
    conn: &Connection,
    folder: &Path,
    findings: &mut Findings,
    progress: Tell<'_>,
) -> Result<(u64, u64), LedgerError> {
    let own = Books::over(conn).setting(DEVICE)?.unwrap_or_default();
    let total: i64 = conn.query_row("SELECT count(*) FROM attachment", [], |row| row.get(0))?;
    let total = u64::try_from(total).unwrap_or(0);
    let mut statement = conn.prepare(
        "SELECT e.device, e.device_seq, e.kind, e.recorded_at, a.hash, a.bytes, a.name
         FROM attachment a CROSS JOIN entry e ON e.id = a.id ORDER BY length(e.device), e.device, e.device_seq",
    )?;
    let mut rows = statement.query([])?;
    let (mut done, mut elsewhere) = (0, 0);
    while let Some(row) = rows.next()? {
        if !progress(Progress { stage: Stage::Attachments, done, total }) {
            return Err(LedgerError::Stopped);
        }
        let entry = bad_entry(row)?;
        let hash = Digest::load(row.get_ref(4)?).map_err(damaged("attachment.hash"))?;
        let bytes: i64 = row.get(5)?;
        let name: Option<String> = row.get(6)?;
        let called = name.map(|name| format!(" (“{name}”)")).unwrap_or_default();
        if entry.device != own && !attachment::file_of(folder, hash).exists() {
            elsewhere += 1;
        } else if let Err(problem) = attachment::check_file(folder, hash, Some(bytes)) {
            findings.add(Some(entry), "attachment", format!("its file {hash}{called} {problem}"));
        }
        done += 1;
    }
    Ok((done - elsewhere, elsewhere))
}

fn named(conn: &Connection, table: &str, sql: &str, findings: &mut Findings) -> Result<(), LedgerError> {
    let mut statement = conn.prepare(sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let hash = Digest::load(row.get_ref(4)?).map_err(damaged(table))?;
        let problem = format!("it names the file {hash}, which no fact attached");
        findings.add(Some(bad_entry(row)?), table, problem);
    }
    Ok(())
}

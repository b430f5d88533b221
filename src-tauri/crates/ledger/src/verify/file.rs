//! The file as SQLite sees it, its references, and its own guards.

use super::finding::Findings;
use crate::error::LedgerError;
use crate::open;
use rusqlite::{Connection, ffi};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};

/// Checks the pages and indexes, the references between rows, and that no table or trigger was altered.
pub(super) fn check(conn: &Connection, stop: &AtomicBool) -> Result<Findings, LedgerError> {
    let mut findings = Findings::default();
    for part in [guards, pages, references] {
        if stop.load(Ordering::Relaxed) {
            return Err(LedgerError::Stopped);
        }
        let outcome = part(conn, &mut findings);
        findings.take("The file", outcome)?;
    }
    Ok(findings)
}

fn guards(conn: &Connection, findings: &mut Findings) -> Result<(), LedgerError> {
    let key = |(kind, name, text): (String, String, String)| ((kind, name), text);
    let expected: BTreeMap<_, _> = open::expected_schema()?.into_iter().map(key).collect();
    let mut found: BTreeMap<_, _> = open::schema(conn)?.into_iter().map(key).collect();
    let (mut missing, mut altered) = (Vec::new(), Vec::new());
    for ((kind, name), text) in expected {
        let called = format!("{kind} {name}");
        match found.remove(&(kind, name)) {
            None => missing.push(called),
            Some(other) if other != text => altered.push(called),
            Some(_) => {}
        }
    }
    let strange: Vec<String> = found.into_keys().map(|(kind, name)| format!("{kind} {name}")).collect();
    for (names, what) in [
        (missing, "guards or tables of the file are missing"),
        (altered, "guards or tables of the file are not as this program made them"),
        (strange, "guards or tables of the file were not made by this program"),
    ] {
        if !names.is_empty() {
            findings.add(None, "The file", format!("{what}: {}", listed(&names)));
        }
    }
    Ok(())
}

/// The first few of many names.
fn listed(names: &[String]) -> String {
    const TOLD: usize = 5;
    let told = names.iter().take(TOLD).map(String::as_str).collect::<Vec<_>>().join(", ");
    if names.len() > TOLD { format!("{told} and {} more", names.len() - TOLD) } else { told }
}

fn pages(conn: &Connection, findings: &mut Findings) -> Result<(), LedgerError> {
    let mut statement = conn.prepare("PRAGMA integrity_check")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let line: String = row.get(0)?;
        if line != "ok" {
            // One row may hold a whole list, a finding a line.
            for finding in line.lines().filter(|finding| !finding.starts_with("***")) {
                if let Some(error) = unread(finding) {
                    return Err(error.into());
                }
                findings.add(None, "The file", format!("SQLite finds: {finding}"));
            }
        }
    }
    Ok(())
}

/// The disk's error, where SQLite says no more than that it could not read a page: that tells nothing of what stands
/// there.
fn unread(finding: &str) -> Option<rusqlite::Error> {
    let code: i32 = finding.rsplit_once("error code=")?.1.parse().ok()?;
    let is_of_the_disk = code & 0xff == ffi::SQLITE_IOERR;
    is_of_the_disk.then(|| rusqlite::Error::SqliteFailure(ffi::Error::new(code), None))
}

fn references(conn: &Connection, findings: &mut Findings) -> Result<(), LedgerError> {
    let mut statement = conn.prepare("PRAGMA foreign_key_check")?;
    let mut rows = statement.query([])?;
    let mut lost: BTreeMap<(String, String), u64> = BTreeMap::new();
    while let Some(row) = rows.next()? {
        *lost.entry((row.get(0)?, row.get(2)?)).or_insert(0) += 1;
    }
    for ((table, names), count) in lost {
        findings.add(None, table, format!("{count} row(s) name a row of {names} that is not there"));
    }
    Ok(())
}

//! A byte of the file changes. Whatever that does, nothing falls over; and if any fact or total now reads otherwise
//! than it was written, verify says so.

use crate::books::place;
use ledger::verify;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::path::Path;

/// Every row of every table of facts and totals, as any SQLite tool reads them; nothing if it cannot.
fn dump(path: &Path) -> Option<Vec<Vec<Value>>> {
    let conn = Connection::open(path).ok()?;
    let mut tables = vec!["entry".to_owned()];
    for kind in ledger::kinds::KINDS.iter() {
        tables.push(kind.own.table.to_owned());
        tables.extend(kind.lists.iter().map(|list| list.table.to_owned()));
    }
    tables.extend(
        ["total_code", "total_job", "total_crew", "total_condition", "total_labor"].map(str::to_owned),
    );
    tables.extend(["total_booked_labor", "total_invoice"].map(str::to_owned));
    let mut rows = Vec::new();
    for table in tables {
        // The spine's own row numbers are no part of what was recorded, so it is read in the order of the chain.
        let (columns, order) = match table.as_str() {
            "entry" => (
                "id, device, device_seq, recorded_at, person, kind, prev_hash, open, sealed, salt, hash",
                "device, device_seq",
            ),
            _ => ("*", "1, 2"),
        };
        let mut statement = conn.prepare(&format!("SELECT {columns} FROM {table} ORDER BY {order}")).ok()?;
        let count = statement.column_count();
        let mut found = statement.query([]).ok()?;
        while let Some(row) = found.next().ok()? {
            rows.push((0..count).map(|place| row.get(place)).collect::<Result<Vec<Value>, _>>().ok()?);
        }
    }
    Some(rows)
}

#[test]
fn no_changed_byte_makes_verify_fall_over_or_pass_what_now_reads_otherwise() {
    let at = place(300);
    let whole = std::fs::read(&at.path).expect("the file");
    let before = dump(&at.path).expect("the facts");
    assert!(verify(&at.path, &mut |_| true).expect("a verdict").is_good());
    let flips = if std::env::var_os("TEAROFF_SOAK").is_some() { 4000 } else { 250 };
    let copy = at.folder.path().join("flipped.tearoff");
    let (mut refused, mut bad, mut unseen, mut otherwise) = (0, 0, 0, 0);
    for flip in 0..flips {
        // A prime step through the file meets every page, at another place on each.
        let place = (flip * 104_729 + flip * flip * 31) % whole.len();
        let mut bytes = whole.clone();
        bytes[place] ^= 1 << (flip % 8);
        for beside in ["-wal", "-shm"] {
            let _ = std::fs::remove_file(at.folder.path().join(format!("flipped.tearoff{beside}")));
        }
        std::fs::write(&copy, &bytes).expect("a copy with another byte");
        let reads_otherwise = dump(&copy).as_ref() != Some(&before);
        otherwise += i32::from(reads_otherwise);
        match verify(&copy, &mut |_| true) {
            Err(_) => refused += 1,
            Ok(verdict) if !verdict.is_good() => bad += 1,
            Ok(_) => {
                assert!(!reads_otherwise, "byte {place} was changed, reads otherwise, and was passed");
                unseen += 1;
            }
        }
    }
    assert!(
        otherwise > 20 && bad > 20,
        "{otherwise} read otherwise; {refused} refused, {bad} bad, {unseen} unseen"
    );
}

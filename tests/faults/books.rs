//! A ledger with just enough in it to be written to, and the program that writes.

use jiff::Timestamp;
use ledger::facts::Fact;
use ledger::{Id, Ledger, NewFact, verify};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

pub(crate) const APPENDER: &str = env!("CARGO_BIN_EXE_appender");

pub(crate) struct Place {
    pub(crate) folder: TempDir,
    pub(crate) path: PathBuf,
}

pub(crate) fn id(n: u64) -> Id {
    Id::made_of(1_777_000_000_000 + n, n)
}

pub(crate) fn fact(n: u64, kind: &str, body: Value) -> NewFact {
    let fact = Fact::from_json(kind, body).unwrap_or_else(|problem| panic!("{kind}: {problem}"));
    NewFact { id: id(n), person: id(1), fact }
}

pub(crate) fn now() -> Timestamp {
    "2026-05-04T07:30:00Z".parse().expect("a moment")
}

/// An owner, a firm, a customer, a code and a job.
pub(crate) fn beginnings() -> Vec<NewFact> {
    vec![
        fact(1, "person", json!({"name": "Mae Alder", "role": "owner"})),
        fact(
            2,
            "firm",
            json!({"date": "2026-01-02", "name": "Alder Roofing", "town": "Millbrook", "state": "VT",
                "currency": "USD", "week_begins": "monday", "overtime_over_week": "40", "premium_to": "hours",
                "sales_tax": "0.06", "sales_tax_rounding": "invoice", "material_tax_is_cost": true,
                "overhead_by": "labor-hours", "overhead_rate": "12.50"}),
        ),
        fact(3, "customer", json!({"name": "Pat Lind"})),
        fact(4, "cost-code", json!({"code": "haul", "title": "Haul away", "position": 1})),
        fact(
            5,
            "job",
            json!({"date": "2026-03-02", "number": "26-001", "title": "Whole roof", "customer": id(3),
                "site": "4 Mill Lane"}),
        ),
    ]
}

/// A ledger with its beginnings and as many direct costs as asked for.
pub(crate) fn place(direct_costs: u64) -> Place {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("firm.tearoff");
    let mut ledger = Ledger::create(&path).expect("a ledger");
    let mut batch = beginnings();
    batch.extend((0..direct_costs).map(|n| direct_cost(100 + n)));
    ledger.append(&batch, now()).expect("the beginnings");
    Place { folder, path }
}

pub(crate) fn direct_cost(n: u64) -> NewFact {
    let body = json!({"date": "2026-03-05", "job": id(5), "code": id(4), "cost_kind": "disposal",
        "description": "a load", "amount": "1.00"});
    fact(n, "direct-cost", body)
}

/// What the program acknowledged on its output: ids with their numbers. A last line that was cut short is no word.
pub(crate) fn acknowledged(output: &str) -> BTreeMap<i64, Id> {
    let whole = output.rfind('\n').map_or("", |end| &output[..end]);
    let read = |line: &str| {
        let (id, seq) = line.split_once(' ')?;
        Some((seq.parse().ok()?, Id::parse(id).ok()?))
    };
    whole.lines().filter_map(read).collect()
}

/// Opens the ledger again as its owner would: every acknowledged fact is there under its number, whatever else there
/// is was whole, the chain verifies, and the stored totals are what the facts come to. Answers how far it goes.
pub(crate) fn holds(path: &Path, acknowledged: &BTreeMap<i64, Id>) -> i64 {
    let ledger = Ledger::open(path).expect("the ledger opens");
    for (seq, id) in acknowledged {
        let held = ledger.reading().fact(*id).expect("a reading");
        let held = held.unwrap_or_else(|| panic!("{id} was acknowledged as number {seq} and is lost"));
        assert_eq!(held.entry.device_seq, *seq);
    }
    let verdict = verify(path, &mut |_| true).expect("a verdict");
    let problems: Vec<String> = verdict.problems.iter().map(ToString::to_string).collect();
    assert!(verdict.is_good(), "{problems:#?}");
    ledger.last_seq()
}

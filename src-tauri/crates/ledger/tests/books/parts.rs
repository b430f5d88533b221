//! The two parts of a fact: what a crew may see, and what is sealed. Either can be checked alone, and neither can be
//! altered unseen.

use crate::sample::{
    JOB, add, books, direct_cost, full_books, id, moment, one_of_each, place, problems, raw, unguarded,
};
use ledger::draft::DEVICE;
use ledger::encoding::Content;
use ledger::kind::{KindSpec, Record, TableSpec};
use ledger::kinds::{KINDS, kind_spec};
use ledger::salt::Salt;
use ledger::site_copy::{COPY, SITE};
use ledger::{Appended, Digest, Ledger, Reader, Salts, verify};
use proptest::prelude::*;
use rusqlite::types::Value;
use rusqlite::{Connection, params};
use std::collections::BTreeSet;
use std::path::Path;

fn tables(kind: &KindSpec) -> impl Iterator<Item = &TableSpec> {
    std::iter::once(&kind.own).chain(&kind.lists)
}

#[test]
fn no_amount_or_rate_is_open_but_what_the_homeowner_is_told() {
    let is_money = |column: &str| ["_cents", "_e6"].iter().any(|unit| column.ends_with(unit));
    let open: BTreeSet<String> = KINDS
        .iter()
        .flat_map(tables)
        .flat_map(|table| {
            table.columns.iter().zip(&table.open).map(move |(column, open)| (table, column, *open))
        })
        .filter(|(_, column, open)| *open && is_money(column))
        .map(|(table, column, _)| format!("{}.{column}", table.table))
        .collect();
    let told = [
        "change_order.not_to_exceed_cents",
        "change_order_line.price_cents",
        // How much is cut away, not what it costs.
        "contract_part.waste_e6",
        "contract_unit_price.price_cents",
        "firm.sales_tax_e6",
        // As in the contract's part.
        "recipe_waste.share_e6",
    ];
    assert_eq!(open, told.map(str::to_owned).into());
}

/// A record with other values in every sealed column, none of which could stand in an open one by chance, and those
/// values.
fn with_other_secrets(spec: &KindSpec, record: &Record, seed: u64) -> (Record, Vec<Value>) {
    let (mut count, mut secrets) = (0_u64, Vec::new());
    let mut secret = |old: &Value| {
        count += 1;
        let bytes = *blake3::hash(&[seed.to_be_bytes(), count.to_be_bytes()].concat()).as_bytes();
        let new = match old {
            Value::Text(_) => Value::Text(Digest(bytes).to_string()),
            Value::Blob(old) => Value::Blob(bytes[..old.len()].to_vec()),
            _ => Value::Integer(i64::from_be_bytes(bytes[..8].try_into().expect("eight bytes"))),
        };
        secrets.push(new.clone());
        new
    };
    let mut replace = |table: &TableSpec, values: &[Value]| -> Vec<Value> {
        let columns = table.open.iter().zip(values);
        columns.map(|(open, value)| if *open { value.clone() } else { secret(value) }).collect()
    };
    let own = replace(&spec.own, &record.own);
    let lists = spec.lists.iter().zip(&record.lists);
    let lists = lists.map(|(list, lines)| lines.iter().map(|line| replace(list, line)).collect()).collect();
    (Record { own, lists }, secrets)
}

fn holds(bytes: &[u8], secret: &Value) -> bool {
    let secret = match secret {
        Value::Integer(number) => number.to_be_bytes().to_vec(),
        Value::Text(text) => text.as_bytes().to_vec(),
        Value::Blob(bytes) => bytes.clone(),
        Value::Null | Value::Real(_) => panic!("no secret is like this"),
    };
    bytes.windows(secret.len()).any(|window| window == secret)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever is sealed, the open bytes hold none of it and do not even depend on it; the sealed bytes hold all.
    #[test]
    fn the_open_part_holds_no_sealed_value(seed in any::<u64>()) {
        let mut sealed_kinds = BTreeSet::new();
        for new in one_of_each() {
            let spec = kind_spec(new.fact.kind()).expect("a kind");
            let record = new.fact.record();
            let before = Content::of(spec, &record);
            let (other, secrets) = with_other_secrets(spec, &record, seed);
            let after = Content::of(spec, &other);
            prop_assert_eq!(&before.open, &after.open, "{}", spec.kind);
            for secret in &secrets {
                prop_assert!(!holds(&after.open, secret), "{} shows {secret:?}", spec.kind);
                prop_assert!(holds(&after.sealed, secret), "{} lost {secret:?}", spec.kind);
            }
            if spec.has_sealed() {
                sealed_kinds.insert(spec.kind);
            } else {
                prop_assert!(secrets.is_empty());
            }
        }
        prop_assert!(sealed_kinds.len() > 10, "only {sealed_kinds:?}");
    }
}

/// A line of a bill is altered and its part's digest made anew: the entry's hash still gives it away.
#[test]
fn a_part_that_is_altered_together_with_its_digest_is_found() {
    for (kind, change, column) in [
        ("direct-cost", "UPDATE direct_cost SET amount_cents = amount_cents + 1", "sealed"),
        ("time-entry", "UPDATE time_entry SET hours_e4 = hours_e4 + 1", "open"),
    ] {
        let at = place();
        drop(full_books(&at.path));
        let conn = unguarded(&at.path);
        conn.execute(&format!("{change} WHERE id = (SELECT min(id) FROM {})", kind.replace('-', "_")), [])
            .expect("a swindle");
        let (spec, table) = (kind_spec(kind).expect("a kind"), kind.replace('-', "_"));
        let sql = format!(
            "SELECT t.id, e.salt, {} FROM {table} t JOIN entry e ON e.id = t.id ORDER BY t.id LIMIT 1",
            spec.own.columns.iter().map(|name| format!("t.{name}")).collect::<Vec<_>>().join(", ")
        );
        let (fact, salt, own): (Vec<u8>, Option<[u8; 32]>, Vec<Value>) = conn
            .query_row(&sql, [], |row| {
                let own =
                    (2..spec.own.columns.len() + 2).map(|place| row.get(place)).collect::<Result<_, _>>()?;
                Ok((row.get(0)?, row.get(1)?, own))
            })
            .expect("the fact");
        let content = Content::of(spec, &Record { own, lists: Vec::new() });
        let digest = match salt {
            Some(salt) => content.sealed_digest(Salt(salt)),
            None => content.open_digest(),
        };
        let forged =
            conn.execute(&format!("UPDATE entry SET {column} = ?1 WHERE id = ?2"), params![digest.0, fact]);
        assert_eq!(forged.expect("a forged digest"), 1);
        let verdict = verify(&at.path, &mut |_| true).expect("a verdict");
        let found = verdict.first_bad_entry().expect("a bad entry").to_string();
        assert!(found.contains(kind) && found.contains("its hash does not match"), "{found}");
    }
}

/// Takes the sealed part of every fact away, as a copy for the site is without it: the salt, the values, and whole rows
/// where nothing in them is open.
fn withhold(path: &Path) -> u64 {
    let conn = unguarded(path);
    let mut withheld = 0;
    for kind in KINDS.iter().filter(|kind| kind.has_sealed()) {
        withheld +=
            conn.execute("UPDATE entry SET salt = NULL WHERE kind = ?1", [kind.kind]).expect("no salt");
        for table in tables(kind).filter(|table| table.has_sealed()) {
            let sealed: Vec<String> = table
                .columns
                .iter()
                .zip(&table.open)
                .filter(|(_, open)| !**open)
                .map(|(column, _)| format!("{column} = NULL"))
                .collect();
            let sql = if table.has_open() {
                format!("UPDATE {} SET {}", table.table, sealed.join(", "))
            } else {
                format!("DELETE FROM {}", table.table)
            };
            conn.execute(&sql, []).unwrap_or_else(|problem| panic!("{sql}: {problem}"));
        }
    }
    withheld.try_into().expect("a count")
}

fn triggers(conn: &Connection) -> Vec<String> {
    let mut statement =
        conn.prepare("SELECT sql FROM sqlite_schema WHERE type = 'trigger'").expect("triggers");
    let rows = statement.query_map([], |row| row.get(0)).expect("triggers");
    rows.collect::<Result<_, _>>().expect("triggers")
}

#[test]
fn a_chain_whose_sealed_parts_are_withheld_still_verifies_in_a_copy_for_the_site() {
    let at = place();
    let mut ledger = full_books(&at.path);
    assert_eq!(verify(&at.path, &mut |_| true).expect("a verdict").withheld, 0);
    ledger.set_setting(COPY, SITE).expect("a copy for the site");
    drop(ledger);
    let guards = triggers(&raw(&at.path));
    let withheld = withhold(&at.path);
    let conn = raw(&at.path);
    conn.execute_batch(&guards.join(";\n")).expect("the guards again");
    // What is withheld counts as nothing in the totals that are kept here.
    Ledger::open(&at.path).expect("the copy").rebuild(&mut |_| true).expect("totals anew");
    let verdict = verify(&at.path, &mut |_| true).expect("a verdict");
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    assert!(withheld > 20 && verdict.withheld == withheld && verdict.entries > withheld, "{verdict:?}");
    // Facts without a sealed part are read as ever.
    let reader = Reader::open(&at.path).expect("a reader");
    assert!(!reader.books().all::<ledger::facts::TimeEntry>().expect("hours").is_empty());
}

#[test]
fn a_withheld_part_is_refused_where_it_ought_to_be_and_nothing_else_may_be_missing() {
    let at = place();
    drop(full_books(&at.path));
    withhold(&at.path);
    let entries = |path: &Path| -> Vec<String> {
        let verdict = verify(path, &mut |_| true).expect("a verdict");
        verdict.problems.iter().filter(|problem| problem.entry.is_some()).map(ToString::to_string).collect()
    };
    let found = entries(&at.path);
    let missing = |text: &String| {
        text.contains("its sealed part is missing, and this is not a copy for the site")
            || text.contains(" is missing.")
    };
    assert!(found.len() > 20 && found.iter().all(missing), "{found:?}");
    let conn = unguarded(&at.path);
    conn.execute("INSERT INTO setting (name, value) VALUES (?1, ?2)", [COPY, SITE]).expect("a site copy");
    assert_eq!(entries(&at.path), Vec::<String>::new());
    for (harm, back) in [
        // A price that nothing vouches for.
        ("UPDATE contract SET price_cents = 1", "UPDATE contract SET price_cents = NULL"),
        (
            "UPDATE contract SET included_sheets_e4 = included_sheets_e4 + 1",
            "UPDATE contract SET included_sheets_e4 = included_sheets_e4 - 1",
        ),
        ("UPDATE entry SET sealed = zeroblob(32) WHERE kind = 'bill'", ""),
        ("UPDATE time_entry SET hours_e4 = hours_e4 + 1", ""),
    ] {
        conn.execute_batch(harm).expect("harm");
        assert!(!entries(&at.path).is_empty(), "{harm}");
        conn.execute_batch(back).expect("put back");
    }
}

#[test]
fn the_same_fact_offered_again_is_the_same_whatever_its_salt() {
    let at = place();
    let mut ledger = books(&at.path);
    let cost = direct_cost(100, "2026-03-05", JOB, "5.00");
    let first = ledger.append(std::slice::from_ref(&cost), moment()).expect("a cost");
    let again = ledger.append(std::slice::from_ref(&cost), moment()).expect("the same");
    let [Appended::Written(seq)] = first[..] else { panic!("{first:?}") };
    assert_eq!(again, [Appended::AlreadyThere(seq)]);
}

#[test]
fn salts_are_random_unless_they_are_to_be_the_same_every_time() {
    let hashes = |salts: Salts| -> Vec<Vec<u8>> {
        let at = place();
        let mut ledger = Ledger::create(&at.path).expect("a ledger");
        ledger.salt_from(salts);
        ledger.append(&crate::sample::beginnings(), moment()).expect("facts");
        add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "5.00"));
        drop(ledger);
        let conn = raw(&at.path);
        let mut statement = conn.prepare("SELECT hash FROM entry ORDER BY device_seq").expect("hashes");
        let rows = statement.query_map([], |row| row.get(0)).expect("hashes");
        rows.collect::<Result<_, _>>().expect("hashes")
    };
    assert_eq!(hashes(Salts::OfId), hashes(Salts::OfId));
    assert_ne!(hashes(Salts::Random), hashes(Salts::Random));
}

#[test]
fn a_device_beyond_z_comes_after_it() {
    let at = place();
    drop(books(&at.path));
    for (n, letters) in [(100, "AA"), (101, "Z"), (102, "B")] {
        let mut ledger = Ledger::open(&at.path).expect("the ledger");
        assert!(ledger.set_setting(DEVICE, "A1").is_err() && ledger.set_setting(DEVICE, "").is_err());
        ledger.set_setting(DEVICE, letters).expect("other letters");
        drop(ledger);
        let mut ledger = Ledger::open(&at.path).expect("the ledger");
        add(&mut ledger, direct_cost(n, "2026-03-05", JOB, "5.00"));
    }
    let reader = Reader::open(&at.path).expect("a reader");
    let ends = reader.books().device_ends().expect("the ends");
    assert_eq!(ends.iter().map(|(device, _)| device.as_str()).collect::<Vec<_>>(), ["A", "B", "Z", "AA"]);
    let costs = reader.books().all::<ledger::facts::DirectCost>().expect("costs");
    assert_eq!(costs.iter().map(|cost| cost.entry.id).collect::<Vec<_>>(), [id(102), id(101), id(100)]);
    assert_eq!(problems(&at.path), Vec::<String>::new());
}

//! What is right is made wrong by a seed and given to whatever reads it: facts, CSV and statements, parcels, roofs.
//! Whatever comes is taken or refused in words; nothing falls over, and what was taken spoils no report and no verdict.
//!
//! An input over which anything fell is kept in `found/`, where it is tried again in every run: `KIND-HASH`, as bytes.
//! A soak takes other seeds and a hundred times as many.

#![cfg(test)]
#![expect(clippy::print_stdout, reason = "which seeds were tried is told")]

mod mutate;
mod readers;

// A firm on three devices, from the devices' own simulation.
#[path = "../../src-tauri/crates/exchange/tests/simulation/firm.rs"]
#[allow(dead_code)]
mod firm;
#[path = "../../src-tauri/crates/exchange/tests/simulation/liar.rs"]
#[allow(dead_code)]
mod liar;

use acceptance::dice::Dice;
use acceptance::is_soak;
use ledger::Digest;
use readers::Reader;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

fn found() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/found")
}

/// Gives an input to a reader. One over which it falls is kept, and told with its place.
fn try_it(reader: &mut dyn Reader, input: &[u8]) -> bool {
    match catch_unwind(AssertUnwindSafe(|| reader.read(input))) {
        Ok(was_taken) => was_taken,
        Err(fall) => {
            let name = format!("{}-{}", reader.kind(), &Digest::of(input).to_string()[..16]);
            std::fs::create_dir_all(found()).expect("a folder");
            std::fs::write(found().join(&name), input).expect("it is kept");
            let words = fall.downcast_ref::<String>().map_or("", String::as_str);
            panic!("{} fell over what is now kept as fuzz/found/{name}: {words}", reader.kind());
        }
    }
}

/// Many inputs for one reader.
fn pelt(mut reader: impl Reader, rounds: u64) {
    let first = if is_soak() { u64::from(std::process::id()) } else { 1 };
    let rounds = if is_soak() { rounds * 100 } else { rounds };
    let mut dice = Dice::new(first);
    let mut taken = 0;
    for _ in 0..rounds {
        let input = reader.input(&mut dice);
        taken += u64::from(try_it(&mut reader, &input));
    }
    reader.is_sound();
    // Were nothing ever taken, only the outermost check would have been tried.
    assert!(taken > 0 && taken < rounds, "{}: {taken} of {rounds} inputs were taken", reader.kind());
    println!("{}: {taken} of {rounds} taken, first seed {first}", reader.kind());
}

#[test]
fn facts_of_any_kind_are_taken_or_refused_and_spoil_nothing() {
    pelt(readers::facts(), 250);
}

#[test]
fn tables_and_statements_of_any_kind_are_read_or_refused() {
    pelt(readers::tables(), 200);
}

#[test]
fn parcels_of_any_kind_are_taken_or_refused() {
    pelt(readers::parcels(), 200);
}

#[test]
fn roofs_of_any_shape_are_measured_or_refused() {
    pelt(readers::roofs(), 250);
}

#[test]
fn what_was_found_once_breaks_nothing() {
    for file in std::fs::read_dir(found()).into_iter().flatten() {
        let path = file.expect("a file").path();
        let name = path.file_name().and_then(|name| name.to_str()).expect("a name").to_owned();
        let input = std::fs::read(&path).expect("its bytes");
        let mut reader: Box<dyn Reader> = match name.split('-').next() {
            Some("facts") => Box::new(readers::facts()),
            Some("tables") => Box::new(readers::tables()),
            Some("parcels") => Box::new(readers::parcels()),
            Some("roofs") => Box::new(readers::roofs()),
            // Read by the window's own tests.
            Some("photos") => continue,
            _ => panic!("{name}: no reader has this name"),
        };
        reader.read(&input);
        reader.is_sound();
    }
}

//! What is right is made wrong by a seed and given to whatever reads it: facts, CSV and statements, parcels, roofs.
//! Whatever comes is taken or refused in words; nothing falls over, and what was taken spoils no report and no verdict.
//!
//! An input over which anything fell is kept in `found/`, where its reader is given it before anything else in every
//! run: `KIND-HASH`, as bytes. A soak takes other seeds and a hundred times as many. Hostile parcels that were thought
//! out rather than drawn by lot lie with their answers in the crate `exchange` (`tests/hostile`).

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

/// What is kept of a kind, in the order of its names.
fn found_of(kind: &str) -> Vec<PathBuf> {
    let kept = std::fs::read_dir(found()).into_iter().flatten().map(|file| file.expect("a file").path());
    let mut kept: Vec<PathBuf> = kept.filter(|path| kind_of(path) == kind).collect();
    kept.sort();
    kept
}

fn kind_of(path: &Path) -> &str {
    let name = path.file_name().and_then(|name| name.to_str()).expect("a name");
    name.split_once('-').map_or(name, |(kind, _)| kind)
}

/// Many inputs for one reader, after those over which it fell once.
fn pelt(mut reader: impl Reader, rounds: u64) {
    let first = if is_soak() { u64::from(std::process::id()) } else { 1 };
    let rounds = if is_soak() { rounds * 100 } else { rounds };
    for path in found_of(reader.kind()) {
        try_it(&mut reader, &std::fs::read(path).expect("its bytes"));
    }
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

/// A file of no reader would be tried by nobody. Photos are read by the window's own tests.
#[test]
fn whatever_is_kept_has_its_reader() {
    const READERS: [&str; 5] = ["facts", "tables", "parcels", "roofs", "photos"];
    for file in std::fs::read_dir(found()).into_iter().flatten() {
        let path = file.expect("a file").path();
        assert!(READERS.contains(&kind_of(&path)), "{}: no reader has this name", path.display());
    }
}

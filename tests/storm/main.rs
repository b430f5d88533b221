//! The machine at its worst: a disk that forgets and tears what was not synced, calls that fail, a store that lies, a
//! clock that jumps; alone first, then all at once with three devices and the people at them.
//!
//! `TEAROFF_SEED` replays one seed of the last; in a soak it goes on with new seeds for ten minutes.

#![cfg(test)]
#![cfg(unix)]
#![expect(clippy::print_stdout, reason = "which seeds were tried is told")]

mod calls;
mod cuts;
mod disk;
mod nth;
mod week;

#[path = "../faults/books.rs"]
#[allow(dead_code)]
mod books;
// A firm on three devices and a store that lies: those of the devices' own simulation.
#[path = "../../src-tauri/crates/exchange/tests/simulation/firm.rs"]
#[allow(dead_code)]
mod firm;
#[path = "../../src-tauri/crates/exchange/tests/simulation/liar.rs"]
#[allow(dead_code)]
mod liar;

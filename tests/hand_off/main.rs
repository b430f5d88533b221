//! The hand-off from outside: what stands in the files, held against the facts by other ways than the program's own.

#![cfg(test)]

mod bank;
mod files;
mod firm;
mod harmless;
mod journal;
mod labor;
mod parts;
mod python;
mod refused;
mod sample;
mod sums;
mod years;

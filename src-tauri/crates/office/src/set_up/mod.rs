//! A company's first hour: what is left before its first price, and the usual lists by which each line of that is done.
//!
//! **Invariant:** nothing is recorded here. A usual list is facts as they would be recorded; a person looks them over,
//! changes what is different at theirs, and records them together.

mod left;
mod usual;

pub use left::{NeededFor, SetUp, SetUpLine, SetUpStep, set_up};
pub use usual::{UsualFact, UsualLists, usual_lists};

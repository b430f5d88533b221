//! How the work was done: checks, inspections, material lots, warranty.

pub mod workmanship;

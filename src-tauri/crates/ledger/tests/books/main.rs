//! The ledger as its callers and any SQLite tool see it.

#![cfg(test)]
// A recipe has more fields than the macro for JSON takes in one go.
#![recursion_limit = "256"]

mod appending;
mod attachments;
mod backups;
mod closes;
mod drafts;
mod elsewhere;
mod opening;
mod parted;
mod parts;
mod places;
mod poison;
mod randomly;
mod refusals;
mod sample;
mod schema;
mod settings;
mod vectors;
mod verifying;
mod worked_totals;

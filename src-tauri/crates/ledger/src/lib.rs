//! Facts in SQLite: open, append, read, verify, back up, attachments.
//!
//! This crate is the only one that sees SQL. A fact is written once, in one typed row of one table (with its lines),
//! beside its entry in the spine, and is never changed; a mistake is put right by a reversal. Totals kept for speed
//! are worked out from the facts and can be thrown away at any time.
//!
//! **It must never** change or delete a fact, hold a rule of the trade (those are in `trade`), make a document, or
//! open the file anywhere but in [`mod@open`].

pub mod append;
pub mod attachment;
pub mod backup;
pub mod booked;
pub mod calendar;
pub mod column;
mod device;
pub mod draft;
pub mod encoding;
pub mod error;
pub mod facts;
#[cfg(test)]
mod guards;
pub mod id;
pub mod kind;
pub mod kinds;
pub mod links;
mod live;
mod new_fact;
pub mod open;
pub mod progress;
pub mod read;
mod rules;
pub mod salt;
mod schema;
mod shape;
pub mod totals;
pub mod verify;
pub mod words;

pub use append::{Appended, Ledger};
pub use backup::{back_up, restore};
pub use calendar::Calendar;
pub use error::LedgerError;
pub use facts::Fact;
pub use id::{Digest, Id};
pub use new_fact::NewFact;
pub use progress::{Progress, Stage};
pub use read::{Books, Entered, Entry, Reader};
pub use salt::Salts;
pub use verify::{Verdict, verify};

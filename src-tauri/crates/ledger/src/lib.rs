//! Facts in SQLite: open, append, read, verify, back up, attachments.
//!
//! This crate is the only one that sees SQL. A fact is written once, in one typed row of one table (with its lines),
//! beside its entry in the spine, and is never changed; a mistake is put right by a reversal. Totals stored for speed
//! are worked out from the facts and can be thrown away at any time.
//!
//! **It must never** change or delete a fact, hold a rule of the trade (those are in `trade`), make a document, or
//! open the file anywhere but in [`mod@open`].

pub mod append;
pub mod attachment;
pub mod backup;
pub mod booked;
mod burden;
pub mod calendar;
mod chain_part;
pub mod closed_lists;
pub mod column;
pub mod coming;
mod decoding;
mod device;
pub mod draft;
pub mod encoding;
pub mod error;
pub mod facts;
#[cfg(test)]
mod guards;
pub mod id;
mod in_force;
pub mod kept_ends;
pub mod kind;
pub mod kinds;
pub mod links;
mod live;
mod new_fact;
pub mod open;
mod parted;
pub mod place;
pub mod progress;
pub mod read;
mod renew;
pub mod roster;
mod rules;
pub mod salt;
mod schema;
mod selection;
mod shape;
pub mod signing;
pub mod site_copy;
mod spine;
pub mod take_in;
pub mod totals;
pub mod verify;

pub use append::{Appended, Ledger};
pub use backup::{back_up, restore};
pub use burden::no_burden;
pub use calendar::Calendar;
pub use chain_part::{ChainPart, HowMuch, Sent};
pub use error::LedgerError;
pub use facts::Fact;
pub use id::{Digest, Id, PublicKey};
pub use in_force::InForce;
pub use new_fact::NewFact;
pub use parted::{Moment, Parted};
pub use progress::{Progress, Stage};
pub use read::{Books, Entered, Entry, Reader};
pub use renew::renew_site_copy;
pub use roster::{Member, Roster};
pub use salt::Salts;
pub use schema::is_for_good;
pub use selection::Selection;
pub use shape::is_hidden;
pub use signing::{DeviceKey, SignedHead};
pub use take_in::TakenIn;
pub use verify::{Verdict, verify};

//! Who sits here and what they may do: the file on the desk, the clock on the wall, names, numbers, drafts, the
//! settings of a day, and the recording of facts.
//!
//! **It must never** know a figure of a job or a month: that is `office`'s. It holds no SQL, which is `ledger`'s.

pub mod attachments;
mod clock;
mod code;
mod dates;
mod desk;
pub mod device;
pub mod drafts;
mod error;
pub mod names;
pub mod numbering;
pub mod people;
pub mod pin;
pub mod policy;
pub mod rates;
pub mod record;
pub mod settings;
pub mod site_facts;
pub mod state_folder;
pub mod working_month;
mod wrong_pins;

pub use clock::Clock;
pub use code::Code;
pub use desk::{Desk, NewFirm};
pub use error::OfficeError;
pub use policy::Act;
pub use state_folder::keep_ends;

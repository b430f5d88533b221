//! Parcels between a firm's devices, through anything that keeps files.
//!
//! A store is trusted with nothing: it may lose, repeat, delay, cut, show old states and read along. What lies there
//! is locked to the devices that may read it and signed by the one that sent it; what comes from there is checked
//! before the ledger takes it in. Every device goes on offering what the others may see until they have it.
//!
//! **It must never** need more of a store than put whole, get, list and delete, resolve anything by a clock, or hold a
//! rule of the trade: what may go where is the policy's.

mod address;
mod by_hand;
mod ciphers;
mod devices;
mod error;
mod exchanged;
mod files;
mod index;
mod join;
mod joining;
mod leaving;
mod letters;
mod memory;
mod mirror;
mod news;
mod own;
mod parcel;
mod plan;
mod plan_files;
mod reletter;
mod round;
mod rows;
mod secrets;
mod settings;
mod store;
mod stored;

pub use address::Address;
pub use by_hand::{Saved, TakenByHand, save_parcel, take_parcel};
pub use devices::{Added, DeviceLine, Devices, Dropped, add_device, devices, drop_device};
pub use error::ExchangeError;
pub use exchanged::{Exchanged, Looked, bit_by_bit, exchange, through, unreached};
pub use files::FilesMoved;
pub use index::{Audience, FileNote, Index, Note, Span};
pub use join::{Joined, join};
pub use leaving::{leave_finished_jobs, some_job_has_left};
pub use mirror::Mirror;
pub use own::keys_of;
pub use parcel::{Content, Parcel, Piece, pack, unpack};
pub use plan::{Standing, Wish, plan_fetch, plan_send};
pub use reletter::{Relettered, reletter};
pub use round::{FILES_AT_ONCE, OtherFile, Round, Step, round};
pub use secrets::DeviceSecrets;
pub use settings::{Chosen, choose_store, chosen_store};
pub use store::{Kept, open_store};
pub use stored::Store;

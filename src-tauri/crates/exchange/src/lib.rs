//! Parcels between a firm's devices, through anything that keeps files.
//!
//! A store is trusted with nothing: it may lose, repeat, delay, cut, show old states and read along. What lies there
//! is locked to the devices that may read it and signed by the one that sent it; what comes from there is checked
//! before the ledger takes it in. Every device goes on offering what the others may see until they have it.
//!
//! **It must never** need more of a store than put whole, get, list and delete, resolve anything by a clock, or hold a
//! rule of the trade: what may go where is the policy's.

mod error;
mod index;
mod parcel;
mod plan;
mod round;
mod secrets;
mod store;

pub use error::ExchangeError;
pub use index::{Audience, Index, Note, Span};
pub use parcel::{Content, Parcel, pack, unpack};
pub use plan::{Standing, Wish, plan_fetch, plan_send};
pub use round::{Round, round};
pub use secrets::DeviceSecrets;
pub use store::{Kept, Store};

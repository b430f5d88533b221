//! Cash ahead: what the next thirteen weeks bring and take, by what is known today.

pub mod ahead;
mod habit;
mod looking;
pub(crate) mod plan;
mod receipts;
mod spending;
mod start;
pub mod view;

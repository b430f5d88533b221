//! The month end: what every job did, what is unfinished, and the close.

pub mod budget;
pub mod close;
pub mod end;
pub mod loose_ends;
pub mod overhead;
pub mod owed;
pub mod result;

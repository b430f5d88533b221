//! The firm's file: its lists, its back-ups, and the made-up firm.

pub mod keep;
pub mod lists;
mod look;
pub mod mark;
pub mod read_through;
pub mod sample;

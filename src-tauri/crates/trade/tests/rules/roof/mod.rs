//! The roof: what it measures, what it asks for, what that costs; and which roofs are refused, and why.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot read its own figures should stop")]

mod crickets;
mod known;
mod measures;
mod money;
mod nails;
mod plans;
mod properties;
mod refusals;
mod standards;
mod takeoffs;
mod valleys;
mod vents;
mod wording;
mod work;

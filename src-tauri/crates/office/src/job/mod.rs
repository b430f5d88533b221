//! A job: what was sold, what it cost so far, what it will make, and the page that shows it.

pub mod page;
pub mod result;
pub(crate) mod roof;
pub mod snapshot;
pub mod year;

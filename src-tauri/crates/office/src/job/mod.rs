//! A job: what was sold, what it cost so far, what it will make, and the page that shows it.

pub mod before_work;
pub(crate) mod colors;
pub mod order;
pub(crate) mod own_day;
pub mod page;
pub(crate) mod papers_owed;
pub(crate) mod recorded;
pub mod result;
pub(crate) mod roof;
pub mod snapshot;
pub mod year;

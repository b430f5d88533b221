//! What a crew sees on site, without cost or margin.

pub mod day;
pub mod own;
pub mod words;

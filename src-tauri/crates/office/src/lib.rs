//! office

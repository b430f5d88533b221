//! paperwork

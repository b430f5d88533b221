//! Acceptance tests of Tearoff: scenarios, faults, the hand-off and the window.

pub mod proof;
pub mod tongue;

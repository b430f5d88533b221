//! Acceptance tests of Tearoff: scenarios, faults, the hand-off and the window.

pub mod dice;
pub mod proof;
pub mod tongue;

//! Acceptance tests of Tearoff: scenarios, faults, the hand-off and the window.

pub mod dice;
pub mod proof;
pub mod seed;
pub mod tongue;

/// Whether this is a soak, which takes more seeds and longer ways.
#[must_use]
pub fn is_soak() -> bool {
    std::env::var_os("TEAROFF_SOAK").is_some()
}

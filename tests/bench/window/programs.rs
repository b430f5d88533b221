//! Where the programs lie that are held against each other.

use std::env;
use std::path::PathBuf;

/// The two programs.
pub(crate) struct Programs {
    pub(super) desktop: PathBuf,
    pub(super) empty: PathBuf,
}

impl Programs {
    /// Where `cargo xtask bench` says they are; nothing when it could not build them here.
    pub(crate) fn named() -> Option<Programs> {
        let named = |name: &str| env::var_os(name).map(PathBuf::from);
        Some(Programs { desktop: named("TEAROFF_DESKTOP")?, empty: named("TEAROFF_EMPTY_WINDOW")? })
    }
}

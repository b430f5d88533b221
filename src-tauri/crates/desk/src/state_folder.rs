//! Where this computer keeps what it must know of ledgers outside them.

use std::path::PathBuf;

/// The folder for it: the one that the person names in `TEAROFF_STATE_DIR`, else one in the user's state folder.
/// Without either, no ends are kept.
fn folder() -> Option<PathBuf> {
    let named = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    named("TEAROFF_STATE_DIR").or_else(|| {
        let base = named("XDG_STATE_HOME").or_else(|| named("LOCALAPPDATA"));
        base.or_else(|| named("HOME").map(|home| home.join(".local/state"))).map(|base| base.join("tearoff"))
    })
}

/// Keeps the ends of ledgers from now on. A face says so once, as it starts.
pub fn keep_ends() {
    if let Some(folder) = folder() {
        ledger::kept_ends::keep_in(folder.join("ends"));
    }
}

/// Where it is kept how ledgers lay there when they were found sound; nowhere where no folder is known.
#[must_use]
pub fn of_sound() -> Option<PathBuf> {
    folder().map(|folder| folder.join("sound"))
}

/// Where wrong PINs are counted: as good as anywhere in the folder for what lasts until the machine starts anew.
pub(crate) fn of_pins() -> PathBuf {
    folder().unwrap_or_else(|| std::env::temp_dir().join("tearoff")).join("pins")
}

//! The window, measured through the system's own driver on a screen of its own: start and memory against an empty
//! window of the same build, keys on the big file, and a year of thousands of jobs.

mod jobs;
mod keys;
mod start;
mod stroke;

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::driver::Outcome;

/// The two programs that are held against each other.
pub(crate) struct Programs {
    desktop: PathBuf,
    empty: PathBuf,
}

impl Programs {
    /// Where `cargo xtask bench` says they are; nothing when it could not build them here.
    pub(crate) fn named() -> Option<Programs> {
        let named = |name: &str| env::var_os(name).map(PathBuf::from);
        Some(Programs { desktop: named("TEAROFF_DESKTOP")?, empty: named("TEAROFF_EMPTY_WINDOW")? })
    }

    /// Prints all there is to say of the window.
    pub(crate) fn measure(&self, folder: &Path, big: &Path, jobs: u32) -> Outcome<()> {
        photos_in()?;
        start::measure(folder, self)?;
        keys::measure(big, self)?;
        jobs::measure(folder, jobs, self)
    }
}

/// Prints how long thirty large photos take to be taken in, where what measures it is built.
fn photos_in() -> Outcome<()> {
    let Some(program) = env::var_os("TEAROFF_PHOTOS_IN") else { return Ok(()) };
    let said = Command::new(program).output()?;
    print!("{}", String::from_utf8_lossy(&said.stdout));
    if said.status.success() { Ok(()) } else { Err(String::from_utf8_lossy(&said.stderr).into()) }
}

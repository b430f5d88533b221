//! The window, measured through the system's own driver on a screen of its own: start and memory against an empty
//! window of the same build, keys on the big file, and a year of thousands of jobs.

mod jobs;
mod keys;
mod programs;
mod start;
mod stroke;

use std::env;
use std::path::Path;
use std::process::Command;

pub(crate) use programs::Programs;

use crate::driver::Outcome;

/// Prints all there is to say of the window.
pub(crate) fn measure(programs: &Programs, folder: &Path, big: &Path, jobs: u32) -> Outcome<()> {
    photos_in()?;
    start::measure(folder, programs)?;
    keys::measure(big, programs)?;
    jobs::measure(folder, jobs, programs)
}

/// Prints how long thirty large photos take to be taken in, where what measures it is built.
fn photos_in() -> Outcome<()> {
    let Some(program) = env::var_os("TEAROFF_PHOTOS_IN") else { return Ok(()) };
    let said = Command::new(program).output()?;
    print!("{}", String::from_utf8_lossy(&said.stdout));
    if said.status.success() { Ok(()) } else { Err(String::from_utf8_lossy(&said.stderr).into()) }
}

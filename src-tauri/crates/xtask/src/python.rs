//! Python as a second opinion: the hand-off's files are read again by a reader that is not ours.

use std::fs;
use std::path::PathBuf;

use crate::call::Call;
use crate::checkout::{Checkout, done_for, read};
use crate::outcome::Outcome;
use crate::trouble::Trouble;

/// Makes the environment, or finds that it is made.
pub(crate) fn check(checkout: &Checkout) -> Result<Outcome, Trouble> {
    let python = ready(checkout)?;
    Call::new(&python)
        .args(["-c", "import csv, frictionless; print('  frictionless', frictionless.__version__)"])
        .run()?;
    Ok(Outcome::Passed)
}

/// The Python of an environment that holds what `tests/requirements.txt` lists and nothing of the machine's own.
pub(crate) fn ready(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    environment(checkout, "python", "tests/requirements.txt")
}

/// The same for the bench, with what the program is measured against.
pub(crate) fn ready_to_bench(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    environment(checkout, "bench-python", "tests/bench/requirements.txt")
}

/// Its stamp is a copy of the list, so that a changed list makes a new environment and an unchanged one costs nothing.
fn environment(checkout: &Checkout, name: &str, list: &str) -> Result<PathBuf, Trouble> {
    let list = checkout.top.join(list);
    let wanted = read(&list)?;
    let folder = checkout.target.join(name);
    let python = folder.join("bin/python");
    let stamp = folder.join("requirements.txt");
    if python.exists() && done_for(&stamp, &wanted) {
        return Ok(python);
    }
    Call::new("python3").args(["-m", "venv", "--clear"]).arg(&folder).run()?;
    let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--requirement"];
    Call::new(&python).args(install).arg(&list).run()?;
    fs::write(&stamp, &wanted).map_err(Trouble::file(&stamp, "written"))?;
    Ok(python)
}

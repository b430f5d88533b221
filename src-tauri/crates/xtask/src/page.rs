//! The page inside the window: its packages, its checks, its build.

use std::fs;

use crate::call::Call;
use crate::house::{House, done_for, read};
use crate::step::Outcome;
use crate::trouble::Trouble;

/// Types, components and the build, in this order.
pub(crate) fn check(house: &House) -> Result<Outcome, Trouble> {
    if !is_here(house) {
        return Ok(Outcome::skipped("there is no ui/package.json"));
    }
    packages(house)?;
    for script in ["check", "test", "build"] {
        npm(house).args(["run", script]).run()?;
    }
    Ok(Outcome::Passed)
}

/// Builds the page if the workspace has a window and the page is not built yet: the window cannot be compiled
/// without it.
pub(crate) fn ready(house: &House) -> Result<(), Trouble> {
    if house.top.join("ui/dist/index.html").is_file() || !house.has_desktop()? {
        return Ok(());
    }
    build(house)
}

/// Builds the page as it is now.
pub(crate) fn build(house: &House) -> Result<(), Trouble> {
    packages(house)?;
    npm(house).args(["run", "build"]).run()
}

fn is_here(house: &House) -> bool {
    house.top.join("ui/package.json").is_file()
}

/// Installs exactly what the lock file names, unless that was done for this very lock file.
fn packages(house: &House) -> Result<(), Trouble> {
    let lock = read(&house.top.join("ui/package-lock.json"))?;
    let stamp = house.top.join("ui/node_modules/.lock-installed");
    if done_for(&stamp, &lock) {
        return Ok(());
    }
    npm(house).args(["ci", "--no-audit", "--no-fund"]).run()?;
    fs::write(&stamp, lock).map_err(Trouble::file(&stamp, "written"))
}

fn npm(house: &House) -> Call {
    Call::new("npm").dir(&house.top.join("ui"))
}

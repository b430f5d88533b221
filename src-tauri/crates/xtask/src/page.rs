//! The page inside the window: its packages, its checks, its build.

use std::fs;

use crate::call::Call;
use crate::checkout::{Checkout, done_for, read};
use crate::step::Outcome;
use crate::trouble::Trouble;

/// Types, what a careful reader would say, components and the build, in this order.
pub(crate) fn check(checkout: &Checkout) -> Result<Outcome, Trouble> {
    if !is_here(checkout) {
        return Ok(Outcome::skipped("there is no ui/package.json"));
    }
    packages(checkout)?;
    for script in ["check", "lint", "test", "build"] {
        npm(checkout).args(["run", script]).run()?;
    }
    Ok(Outcome::Passed)
}

/// Builds the page if the workspace has a window and the page is not built yet: the window cannot be compiled
/// without it.
pub(crate) fn ready(checkout: &Checkout) -> Result<(), Trouble> {
    if checkout.top.join("ui/dist/index.html").is_file() || !checkout.has_desktop()? {
        return Ok(());
    }
    build(checkout)
}

/// Builds the page as it is now.
pub(crate) fn build(checkout: &Checkout) -> Result<(), Trouble> {
    packages(checkout)?;
    npm(checkout).args(["run", "build"]).run()
}

fn is_here(checkout: &Checkout) -> bool {
    checkout.top.join("ui/package.json").is_file()
}

/// Installs exactly what the lock file names, unless that was done for this very lock file.
fn packages(checkout: &Checkout) -> Result<(), Trouble> {
    let lock = read(&checkout.top.join("ui/package-lock.json"))?;
    let stamp = checkout.top.join("ui/node_modules/.lock-installed");
    if done_for(&stamp, &lock) {
        return Ok(());
    }
    npm(checkout).args(["ci", "--no-audit", "--no-fund"]).run()?;
    fs::write(&stamp, lock).map_err(Trouble::file(&stamp, "written"))
}

fn npm(checkout: &Checkout) -> Call {
    Call::new("npm").dir(&checkout.top.join("ui"))
}

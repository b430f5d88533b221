//! `cargo xtask run`: the main job with the made-up firm, from nothing to the month end.

use std::fs;

use crate::call::Call;
use crate::checkout::Checkout;
use crate::trouble::Trouble;
use crate::{machine, window};

/// The firm's newest month: the one that an owner would sit down to.
pub(crate) const MONTH: &str = "2026-10";

/// Shows the firm: in the window where there is a display, else as its month end.
pub(crate) fn run(checkout: &Checkout) -> Result<(), Trouble> {
    machine::prepare(checkout)?;
    let why_not = if !checkout.has_desktop()? {
        "The window is not part of this build"
    } else if !window::has_display() {
        "There is no display here"
    } else {
        return window::open_sample(checkout);
    };
    println!("\n{why_not}, so this is the month end on the command line.\n");
    month_end(checkout)
}

/// Writes the firm anew and prints its month end.
fn month_end(checkout: &Checkout) -> Result<(), Trouble> {
    checkout.cargo().args(["build", "--release", "--package", "tearoff"]).run()?;
    let program = checkout.built("release", "tearoff");

    let folder = checkout.target.join("sample");
    // Whatever was tried out in an earlier run must not color this one.
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(Trouble::file(&folder, "removed"))?;
    }
    fs::create_dir_all(&folder).map_err(Trouble::file(&folder, "made"))?;
    let firm = folder.join("firm.tearoff");
    Call::new(&program).arg("sample").arg(&firm).run()?;
    Call::new(&program).arg("month-end").arg(&firm).args(["--month", MONTH]).run()
}

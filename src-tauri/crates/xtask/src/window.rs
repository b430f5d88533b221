//! The window: built as it ships, opened for a person, or driven by the tests.
//!
//! Everything that the chores do with the window is here and nowhere else.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use crate::built::CASES;
use crate::call::Call;
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use crate::trouble::Trouble;
use crate::{checks, page};

/// What stands between a test and the system's own driver of web views. Its words change between versions.
const DRIVER: &str = "tauri-driver";
const DRIVER_VERSION: &str = "2.1.0";

/// Which build of the window the cases drive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Build<'a> {
    /// The one that the other tests have built already: the same program and page, not optimized.
    Tests,
    /// The one that ships, but that a test can answer its dialogs.
    Ships,
    /// The one that lies here, as it was unpacked.
    Installed(&'a Path),
}

/// Drives the window through the cases of `tests/window`, on the build that the other tests have made already: the
/// same program with the same page inside, only not optimized. What ships takes as long to build as all the rest of the
/// tests; [`check_as_shipped`] drives that.
///
/// The tests find the program in `TEAROFF_DESKTOP` and the driver in `TEAROFF_DRIVER`; they start a display of their
/// own, so that no variable of this machine's screen changes what they see.
pub(crate) fn check(checkout: &Checkout) -> Result<Outcome, Trouble> {
    drive(checkout, Build::Tests, &[], None)?;
    Ok(Outcome::Passed)
}

/// Drives the window as it ships: before a release.
pub(crate) fn check_as_shipped(checkout: &Checkout) -> Result<Outcome, Trouble> {
    drive(checkout, Build::Ships, &[], None)?;
    Ok(Outcome::Passed)
}

/// Drives a window that was unpacked from its package.
pub(crate) fn drive_installed(checkout: &Checkout, program: &Path) -> Result<(), Trouble> {
    drive(checkout, Build::Installed(program), &[], None)
}

/// Takes the pictures of every screen anew. They are taken by the cases themselves, so that a picture always shows
/// what the tests have seen.
pub(crate) fn pictures(checkout: &Checkout) -> Result<(), Trouble> {
    let folder = checkout.top.join("ui/pictures");
    fs::create_dir_all(&folder).map_err(Trouble::file(&folder, "made"))?;
    drive(checkout, Build::Ships, &["every_screen"], Some(&folder))
}

/// The cases in which a dialog of the system is answered: what is installed takes no answer but a person's.
const ANSWERED: [&str; 5] = [
    "the_bookkeeper_names_an_account_and_gets_the_months_folder",
    "a_month_of_the_bookkeeper_from_twenty_bills_to_the_hand_off_without_a_margin",
    "the_bookkeeper_takes_a_statement_in_and_matches_it_by_the_keyboard",
    "a_company_comes_from_an_empty_file_to_a_first_price_and_its_first_closed_month",
    "the_crew_checks_points_with_a_photo_the_owner_sees_who_and_when_and_the_packet_prints",
];

/// Builds the program and its driver, and runs the cases whose names hold one of the words; all of them if none is
/// given.
fn drive(
    checkout: &Checkout,
    which: Build<'_>,
    words: &[&str],
    pictures: Option<&Path>,
) -> Result<(), Trouble> {
    // The page as it is now: the program has it inside.
    page::build(checkout)?;
    let tests = checks::build_all(checkout)?;
    let Some(cases) = tests.into_iter().find(|test| test.name == CASES) else {
        return Err(Trouble::said("Cargo does not say where it put the window's cases."));
    };
    let desktop = match which {
        Build::Tests => checkout.built("debug", "tearoff-desktop"),
        Build::Ships => build_with(checkout, &["--features", "answered-dialogs"])?,
        Build::Installed(program) => program.to_owned(),
    };
    let driver = driver(checkout)?;
    let mut cases = cases.call().args(words);
    cases = cases.env("TEAROFF_DESKTOP", desktop).env("TEAROFF_DRIVER", driver);
    if matches!(which, Build::Installed(_)) {
        cases = cases.args(ANSWERED.iter().flat_map(|name| ["--skip", *name]));
        println!("  Left out, since nobody can answer a dialog of what ships: {}", ANSWERED.join(", "));
    }
    if let Some(folder) = pictures {
        cases = cases.env("TEAROFF_PICTURES", folder);
    }
    cases.run()
}

/// Programs that drive a window where nobody sits: the display, and the web view's own driver.
const DRIVING: [&str; 2] = ["Xvfb", "WebKitWebDriver"];

/// What the bench measures of the window, an empty window of the same build among it, as words for cargo.
pub(crate) const MEASURED: [&str; 10] = [
    "--package",
    "tearoff-desktop",
    "--features",
    "tearoff-desktop/empty-window",
    "--bin",
    "tearoff-desktop",
    "--bin",
    "empty-window",
    "--bin",
    "photos-in",
];

/// Whether the window can be measured here; if not, the reason is said, and the bench does without.
pub(crate) fn can_be_measured(checkout: &Checkout) -> Result<bool, Trouble> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let missing = DRIVING.iter().find(|name| !is_on(&path, name));
    if let Some(name) = missing {
        println!("  The window will not be measured: there is no {name} here to drive it with.");
        return Ok(false);
    }
    if !checkout.has_desktop()? {
        println!("  The window will not be measured: it is not a member of the workspace.");
        return Ok(false);
    }
    page::build(checkout)?;
    Ok(true)
}

/// Tells the bench where [`MEASURED`] is.
pub(crate) fn to_measure(checkout: &Checkout, bench: Call) -> Result<Call, Trouble> {
    let bench = bench.env("TEAROFF_DESKTOP", checkout.built("release", "tearoff-desktop"));
    let bench = bench.env("TEAROFF_EMPTY_WINDOW", checkout.built("release", "empty-window"));
    let bench = bench.env("TEAROFF_PHOTOS_IN", checkout.built("release", "photos-in"));
    Ok(bench.env("TEAROFF_DRIVER", driver(checkout)?))
}

/// Whether a program lies in one of the folders.
fn is_on(folders: &OsStr, program: &str) -> bool {
    std::env::split_paths(folders).any(|folder| folder.join(program).is_file())
}

/// Writes the page's types from the program's. A test holds the two together; it writes instead when it is told to.
pub(crate) fn bindings(checkout: &Checkout) -> Result<(), Trouble> {
    page::ready(checkout)?;
    let writing = checkout.cargo().args(["test", "--quiet", "--package", "tearoff-desktop", "bindings"]);
    writing.env("TEAROFF_WRITE_BINDINGS", "1").run()
}

/// Whether a person could see a window here.
pub(crate) fn has_display() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    cfg!(not(target_os = "linux")) || set("DISPLAY") || set("WAYLAND_DISPLAY")
}

/// Opens the window on the made-up firm and waits until it is closed.
pub(crate) fn open_sample(checkout: &Checkout) -> Result<(), Trouble> {
    Call::new(build(checkout)?).arg("--sample").run()
}

/// The program as it ships.
pub(crate) fn build(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    build_with(checkout, &[])
}

/// The program as it ships, and the command line beside it, in one go: one after the other, most of what both stand on
/// would be built twice, since each asks other people's code for other features.
pub(crate) fn build_with_command_line(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    build_with(checkout, &["--package", "tearoff"])
}

fn build_with(checkout: &Checkout, more: &[&str]) -> Result<PathBuf, Trouble> {
    page::build(checkout)?;
    checkout.cargo().args(["build", "--release", "--package", "tearoff-desktop"]).args(more).run()?;
    Ok(checkout.built("release", "tearoff-desktop"))
}

/// The driver, installed for this checkout alone. Cargo leaves it as it is when the version is already there.
fn driver(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    let install = ["install", DRIVER, "--version", DRIVER_VERSION, "--locked", "--root"];
    checkout.cargo().args(install).arg(checkout.tools()).run()?;
    Ok(checkout.tools().join("bin").join(DRIVER))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The cases in whose text a dialog is answered.
    fn answered(text: &str) -> Vec<String> {
        let mut name = "";
        let mut found = Vec::new();
        for line in text.lines() {
            if let Some(rest) = line.trim_start().strip_prefix("fn ") {
                name = rest.split(['(', '<']).next().unwrap_or_default();
            } else if line.contains("answer: Some(") {
                found.push(name.to_owned());
            }
        }
        found
    }

    #[test]
    fn the_cases_left_out_with_what_ships_are_those_that_answer_a_dialog() {
        let cases = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../tests/window");
        let files = fs::read_dir(cases).unwrap().map(|entry| entry.unwrap().path());
        let mut found: Vec<String> =
            files.flat_map(|path| answered(&fs::read_to_string(path).unwrap())).collect();
        found.sort();
        let mut known = ANSWERED.to_vec();
        known.sort_unstable();
        assert_eq!(found, known);
    }

    #[test]
    fn a_program_is_found_in_any_of_the_folders_and_a_folder_is_no_program() {
        let [empty, full] = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
        fs::write(full.path().join("saw"), "").unwrap();
        fs::create_dir(full.path().join("ladder")).unwrap();
        let folders = std::env::join_paths([empty.path(), full.path()]).unwrap();
        assert!(is_on(&folders, "saw"));
        assert!(!is_on(&folders, "ladder"));
        assert!(!is_on(OsStr::new(""), "saw"));
    }
}

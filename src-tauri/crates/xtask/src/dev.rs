//! `cargo xtask dev`: the window on the made-up firm while page and shell are being written.
//!
//! The page is served by its own tool and changes in the window at once. When a file of the program changes, the
//! program is built again without optimizing and the window opened anew. It is a build of its own: what ships has its
//! page inside and shows no other address.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::call::{Call, Running};
use crate::checkout::Checkout;
use crate::trouble::Trouble;
use crate::{machine, page, window};

/// What the program is made of. The command line and the chores are not part of the window.
const SOURCES: &[&str] = &["Cargo.toml", "Cargo.lock", "migrations", "sample-data", "src-tauri"];

/// Folders among them that the window is not made of, or that are written by the build itself.
const NOT_OURS: &[&str] = &["gen", "cli", "xtask", "tests"];

const GLANCE: Duration = Duration::from_millis(500);

/// Works until the window is closed by a person.
pub(crate) fn dev(checkout: &Checkout) -> Result<(), Trouble> {
    machine::prepare(checkout)?;
    if !window::has_display() {
        return Err(Trouble::said(
            "There is no display here to open the window on. `cargo xtask run` prints the month end instead.",
        ));
    }
    page::ready(checkout)?;
    let _page = page::serve(checkout)?;
    let mut seen = files(&checkout.top)?;
    loop {
        let opened = build(checkout).and_then(|program| Call::new(program).arg("--sample").start());
        let mut open = match opened {
            Ok(window) => Some(window),
            Err(trouble) => {
                println!("\n{trouble}\n  waiting for the next change");
                None
            }
        };
        match watch(checkout, &mut open, &seen)? {
            Next::Closed => return Ok(()),
            Next::Changed(now, path) => {
                println!("\n  changed: {}", path.display());
                seen = now;
            }
        }
    }
}

/// Why a round ends.
enum Next {
    /// A person closed the window.
    Closed,
    /// A file changed: all files as they are now, and the first that differs.
    Changed(Files, PathBuf),
}

/// Waits until the window is closed or a file changes. A window that failed is told, and waits for a change.
fn watch(checkout: &Checkout, open: &mut Option<Running>, seen: &Files) -> Result<Next, Trouble> {
    loop {
        std::thread::sleep(GLANCE);
        match open.as_mut().and_then(Running::ended) {
            Some(Ok(())) => return Ok(Next::Closed),
            Some(Err(trouble)) => {
                println!("\n{trouble}\n  waiting for the next change");
                *open = None;
            }
            None => {}
        }
        let now = files(&checkout.top)?;
        if let Some(path) = first_change(seen, &now) {
            return Ok(Next::Changed(now, path));
        }
    }
}

/// Builds the program so that it shows the page being served. It has a name of its own on this machine, so that it
/// neither touches the settings of a Tearoff that is in use nor is taken for it.
fn build(checkout: &Checkout) -> Result<PathBuf, Trouble> {
    let settings = serde_json::json!({
        "identifier": "local.tearoff.dev",
        "build": { "devUrl": format!("http://{}", page::SERVED_AT) },
    });
    let words = ["build", "--workspace", "--bin", "tearoff-desktop", "--no-default-features"];
    checkout.cargo().args(words).env("TAURI_CONFIG", settings.to_string()).run()?;
    Ok(checkout.built("debug", "tearoff-desktop"))
}

/// Each file and when it was last written.
type Files = BTreeMap<PathBuf, SystemTime>;

fn files(top: &Path) -> Result<Files, Trouble> {
    let mut found = Files::new();
    for source in SOURCES {
        gather(&top.join(source), &mut found)?;
    }
    Ok(found)
}

fn gather(path: &Path, found: &mut Files) -> Result<(), Trouble> {
    // A file may be gone between the list and the look: an editor replaces files by renaming.
    let Ok(about) = fs::metadata(path) else { return Ok(()) };
    if !about.is_dir() {
        found.insert(path.to_owned(), about.modified().map_err(Trouble::file(path, "read"))?);
        return Ok(());
    }
    for entry in fs::read_dir(path).map_err(Trouble::file(path, "read"))?.flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if !NOT_OURS.contains(&name.as_ref()) && !name.starts_with('.') {
            gather(&entry.path(), found)?;
        }
    }
    Ok(())
}

/// The first file that was written, came or went.
fn first_change(before: &Files, now: &Files) -> Option<PathBuf> {
    let written = now.iter().find(|(path, when)| before.get(*path) != Some(*when));
    let gone = || before.iter().find(|(path, _)| !now.contains_key(*path));
    written.or_else(gone).map(|(path, _)| path.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_is_written_comes_or_goes_is_a_change_and_one_of_the_chores_is_none() {
        let top = tempfile::tempdir().unwrap();
        let at = |name: &str| top.path().join(name);
        for folder in ["src-tauri/src", "src-tauri/crates/cli", "migrations"] {
            fs::create_dir_all(at(folder)).unwrap();
        }
        fs::write(at("src-tauri/src/main.rs"), "").unwrap();
        let first = files(top.path()).unwrap();
        fs::write(at("src-tauri/crates/cli/main.rs"), "").unwrap();
        assert_eq!(first_change(&first, &files(top.path()).unwrap()), None);
        fs::write(at("migrations/0001.sql"), "").unwrap();
        let second = files(top.path()).unwrap();
        assert_eq!(first_change(&first, &second), Some(at("migrations/0001.sql")));
        fs::File::open(at("migrations/0001.sql")).unwrap().set_modified(SystemTime::UNIX_EPOCH).unwrap();
        assert_eq!(first_change(&second, &files(top.path()).unwrap()), Some(at("migrations/0001.sql")));
        fs::remove_file(at("src-tauri/src/main.rs")).unwrap();
        let last = files(top.path()).unwrap();
        assert_eq!(first_change(&last, &last), None);
        assert_eq!(first_change(&first, &first), None);
        fs::remove_file(at("migrations/0001.sql")).unwrap();
        assert_eq!(first_change(&first, &files(top.path()).unwrap()), Some(at("src-tauri/src/main.rs")));
    }

    #[test]
    fn the_window_that_ships_names_no_address() {
        let ships: serde_json::Value =
            serde_json::from_str(include_str!("../../../tauri.conf.json")).unwrap();
        assert!(ships["build"]["devUrl"].is_null());
        let manifest: toml::Table = include_str!("../../../Cargo.toml").parse().unwrap();
        let default = manifest["features"]["default"].as_array().unwrap();
        assert!(default.iter().any(|feature| feature.as_str() == Some("page-inside")));
    }
}

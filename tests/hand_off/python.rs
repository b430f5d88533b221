//! A second opinion on files: frictionless reads the data package, Python's csv and decimal read the rows.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What Python read in one folder.
#[derive(Debug)]
pub(crate) struct Opinion {
    /// File by file, the records with their cells.
    pub(crate) files: serde_json::Map<String, Value>,
}

/// Has Python read some folders; it finds nothing wrong with them, or the test fails with what it found.
pub(crate) fn read(folders: &[PathBuf]) -> Vec<Opinion> {
    let Some(python) = std::env::var_os("TEAROFF_PYTHON") else {
        panic!(
            "TEAROFF_PYTHON is not set. Run `cargo xtask test`, which sets it; or make an environment with \
             `python3 -m venv DIR && DIR/bin/pip install -r tests/requirements.txt` and set TEAROFF_PYTHON to \
             DIR/bin/python."
        );
    };
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("hand_off/second_reader.py");
    let out = Command::new(python).arg(script).args(folders).output().unwrap();
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "Python says:\n{said}");
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    let opinions = answer.as_array().unwrap().iter();
    opinions.map(|files| Opinion { files: files.as_object().unwrap().clone() }).collect()
}

/// Holds a folder as Python read it against our own reading of it.
pub(crate) fn agrees(folder: &Path, opinion: &Opinion) {
    let mut files = 0;
    for (name, bytes) in crate::files::Set::bytes(folder) {
        if !name.ends_with(".csv") {
            continue;
        }
        let ours = paperwork::csv::read(&bytes).unwrap();
        assert_eq!(serde_json::json!(ours), opinion.files[&name], "{name} reads the same");
        files += 1;
    }
    assert_eq!(files, opinion.files.len());
}

#[test]
fn python_finds_what_was_changed() {
    let mut shop = crate::firm::Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "50.00");
    let folder = shop.hand("2026-03", "books").unwrap().folder;
    let opinions = read(std::slice::from_ref(&folder));
    agrees(&folder, &opinions[0]);
    // The opinion is worth something only if it can be a bad one.
    let python = std::env::var_os("TEAROFF_PYTHON").unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("hand_off/second_reader.py");
    for (file, from, to) in [
        ("journal.csv", "1050.00", "1050.01"),
        ("cost_detail.csv", "26-001", "26-009"),
        ("invoices.csv", "source,", "origin,"),
    ] {
        let path = folder.join(file);
        let whole = std::fs::read_to_string(&path).unwrap();
        std::fs::write(&path, whole.replacen(from, to, 1)).unwrap();
        let out = Command::new(&python).arg(&script).arg(&folder).output().unwrap();
        assert!(!out.status.success(), "a changed {file} passed");
        std::fs::write(&path, whole).unwrap();
    }
}

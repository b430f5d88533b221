//! Where the program under test lies, and how it is run.

use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use tempfile::TempDir;

pub(crate) fn program() -> PathBuf {
    let named = std::env::var_os("TEAROFF_PROGRAM").map(PathBuf::from);
    named.unwrap_or_else(|| panic!("TEAROFF_PROGRAM is not set: run `cargo xtask test --only tests`"))
}

/// The program, about to run in a folder, where it keeps its log and what it knows of ledgers too.
pub(crate) fn ready(folder: &Path) -> Command {
    let mut command = Command::new(program());
    let state = folder.join("state");
    command.current_dir(folder).env("TEAROFF_LOG_DIR", folder.join("log")).env("TEAROFF_STATE_DIR", state);
    command
}

pub(crate) fn run_in(folder: &Path, words: &[&str]) -> Output {
    ready(folder).args(words).output().unwrap()
}

/// Runs a command with this on its standard input.
pub(crate) fn piped_in(folder: &Path, words: &[&str], input: &str) -> String {
    let mut command = ready(folder);
    command.args(words);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{words:?}");
    text(&output)
}

/// Runs a command that must fail on what stands on its standard input, and gives its JSON error.
pub(crate) fn bad_input(folder: &Path, words: &[&str], input: impl AsRef<[u8]>, code: i32) -> Value {
    let mut command = ready(folder);
    command.arg("--json").args(words);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_ref()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(code), "{words:?}: {}", text(&output));
    serde_json::from_str::<Value>(&text(&output)).unwrap()["error"].clone()
}

pub(crate) fn text(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// Runs a command that must succeed.
pub(crate) fn good(folder: &Path, words: &[&str]) -> String {
    let output = run_in(folder, words);
    assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    text(&output)
}

/// Runs a command that must fail with this exit code and gives its JSON error.
pub(crate) fn bad(folder: &Path, words: &[&str], code: i32) -> Value {
    let mut with_json = vec!["--json"];
    with_json.extend(words);
    let output = run_in(folder, &with_json);
    assert_eq!(output.status.code(), Some(code), "{words:?}: {}{:?}", text(&output), output.stderr);
    let answer: Value = serde_json::from_str(&text(&output)).unwrap();
    let error = answer["error"].clone();
    assert!(error["message"].as_str().is_some_and(|message| message.len() > 10), "{error}");
    error
}

pub(crate) fn json(folder: &Path, words: &[&str]) -> Value {
    let mut with_json = vec!["--json"];
    with_json.extend(words);
    serde_json::from_str(&good(folder, &with_json)).unwrap()
}

/// The made-up firm, written once; each test works on a copy of its own.
pub(crate) fn firm() -> TempDir {
    static MADE: OnceLock<TempDir> = OnceLock::new();
    let made = MADE.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        good(folder.path(), &["sample", "firm.tearoff"]);
        // One whole file without a log beside it, so that it can be copied as it is.
        good(folder.path(), &["back-up", "firm.tearoff", "whole.tearoff"]);
        folder
    });
    let own = TempDir::new().unwrap();
    good(own.path(), &["restore", made.path().join("whole.tearoff").to_str().unwrap(), "firm.tearoff"]);
    own
}

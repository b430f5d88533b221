//! What others take for the same work: DuckDB, polars and LibreOffice, each in a Python of the bench's own. Where it is
//! not named, or one of them is not there, the row says so.

use serde_json::Value;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// The program as it ships, named by `TEAROFF_PROGRAM`.
pub(crate) fn program() -> Option<PathBuf> {
    std::env::var_os("TEAROFF_PROGRAM").map(PathBuf::from)
}

/// How long the program takes for a command, from its start to its end, and its end well.
pub(crate) fn as_process(words: &[&OsStr], folder: &Path) -> Option<Duration> {
    let began = Instant::now();
    let mut command = Command::new(program()?);
    let output =
        command.args(words).env("TEAROFF_STATE_DIR", folder.join("state")).output().expect("it starts");
    let took = began.elapsed();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(took)
}

/// What the others say of it, in seconds by name.
pub(crate) fn asked(what: &str, of: &Path) -> Option<Value> {
    let python = std::env::var_os("TEAROFF_BENCH_PYTHON")?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("bench/peers.py");
    let output = Command::new(python).arg(script).arg(what).arg(of).output().expect("Python starts");
    if !output.status.success() {
        println!("  the others did not answer: {}", String::from_utf8_lossy(&output.stderr));
        return None;
    }
    serde_json::from_slice(&output.stdout).ok()
}

/// One peer's time as it is shown, and how much of it ours takes.
pub(crate) fn beside(ours: Duration, answer: Option<&Value>, name: &str) -> String {
    match answer.and_then(|answer| answer[name].as_f64()) {
        Some(seconds) => {
            let took = Duration::from_secs_f64(seconds);
            format!("{name} {took:.1?} ({:.2} of it)", ours.as_secs_f64() / seconds)
        }
        None => format!("{name} not here"),
    }
}

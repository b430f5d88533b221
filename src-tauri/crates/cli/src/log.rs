//! A rolling file of what the program did, without personal data: commands, durations and codes, never names
//! or amounts.

use std::path::PathBuf;
use tracing_appender::non_blocking::NonBlockingBuilder;
use tracing_appender::rolling::{Builder, Rotation};

/// Where the log goes: the folder the person names in `TEAROFF_LOG_DIR`, else the user's state folder.
fn folder() -> Option<PathBuf> {
    let given = std::env::var_os("TEAROFF_LOG_DIR").map(PathBuf::from);
    given.or_else(|| {
        let state = std::env::var_os("XDG_STATE_HOME").map(PathBuf::from);
        let home = std::env::var_os("HOME").map(|home| PathBuf::from(home).join(".local/state"));
        state.or(home).map(|base| base.join("tearoff"))
    })
}

/// The most lines that wait to be written.
const LINES_WAITING: usize = 1000;

/// Begins the log; without a folder to write to there is none, and nothing else changes.
pub(crate) fn begin() -> Option<tracing_appender::non_blocking::WorkerGuard> {
    let folder = folder()?;
    std::fs::create_dir_all(&folder).ok()?;
    let file = Builder::new()
        .rotation(Rotation::DAILY)
        .filename_prefix("tearoff")
        .filename_suffix("log")
        .max_log_files(14)
        .build(folder)
        .ok()?;
    // A command says a few lines, and room for a hundred thousand takes longer to make than the month end.
    let (writer, guard) = NonBlockingBuilder::default().buffered_lines_limit(LINES_WAITING).finish(file);
    tracing_subscriber::fmt().with_writer(writer).with_ansi(false).with_target(false).try_init().ok()?;
    Some(guard)
}

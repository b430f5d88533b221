//! The manual and the shells' completions, made from the definitions of the commands themselves.

use super::asker::Asker;
use clap::{Args, Command};
use clap_complete::Shell;
use office::OfficeError;
use serde_json::json;
use std::path::{Path, PathBuf};

/// What `tearoff manual` is told.
#[derive(Debug, Args)]
#[command(after_help = "With --json: {\"files\"}.")]
pub(super) struct Manual {
    /// The folder to write into; it is made when it is not there.
    folder: PathBuf,
}

/// The shells that complete by a file of their own.
const SHELLS: [Shell; 3] = [Shell::Bash, Shell::Zsh, Shell::Fish];

/// Writes a page of the manual for the program and for each command, and a completion for each shell.
pub(super) fn run(manual: &Manual, line: &Command, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let files = write(line, &manual.folder).map_err(|error| {
        OfficeError::io(format!("{} could not be written", manual.folder.display()), &error)
    })?;
    asker.answer(&json!({ "files": files }), |_| {
        vec![format!("{} files are in {}.", files.len(), manual.folder.display())]
    })
}

fn write(line: &Command, folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    std::fs::create_dir_all(folder)?;
    clap_mangen::generate_to(line.clone(), folder)?;
    for shell in SHELLS {
        clap_complete::generate_to(shell, &mut line.clone(), "tearoff", folder)?;
    }
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        files.push(entry?.path());
    }
    files.sort();
    Ok(files)
}

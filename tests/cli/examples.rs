//! Every example command of the documents runs as it stands: what is written in a block marked `sh` is done line by
//! line, in one folder for each document, as a person would who types it. Chores of the checkout (`cargo …`) are left
//! out: they are run where the whole is built. A comment `# code 3` says with which code a command is to end.

use crate::program::program;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A command and the code it should end with.
#[derive(Debug, PartialEq, Eq)]
struct Example {
    line: usize,
    command: String,
    code: i32,
}

/// The commands in the blocks marked `sh`. A line with an open quotation goes on in the next.
fn examples(document: &str) -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    let (mut inside, mut goes_on) = (false, false);
    for (index, line) in document.lines().enumerate() {
        if let Some(fence) = line.strip_prefix("```") {
            inside = fence == "sh";
            continue;
        }
        let command = line.trim();
        if !inside || command.is_empty() || command.starts_with("cargo ") {
            continue;
        }
        match found.last_mut().filter(|_| goes_on) {
            Some(before) => before.command = format!("{}\n{command}", before.command),
            None => {
                let code = command.rsplit_once("# code ").and_then(|(_, code)| code.get(..1)?.parse().ok());
                let example =
                    Example { line: index + 1, command: command.to_owned(), code: code.unwrap_or(0) };
                found.push(example);
            }
        }
        let quotes = found.last().map_or(0, |example| example.command.matches('\'').count());
        goes_on = quotes % 2 == 1;
    }
    found
}

/// The folders in which a shell looks for programs, with that of the built program before all others.
fn path_with(program: &Path) -> std::ffi::OsString {
    let folder = program.parent().map(Path::to_owned).unwrap_or_default();
    let others = std::env::var_os("PATH").unwrap_or_default();
    let folders = std::iter::once(folder).chain(std::env::split_paths(&others));
    std::env::join_paths(folders).unwrap()
}

/// Runs every example of a document and gives the commands that were run.
fn run_all(document: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(document);
    let folder = TempDir::new().unwrap();
    let program: PathBuf = program();
    let found = examples(&std::fs::read_to_string(path).unwrap());
    for Example { line, command, code } in &found {
        let mut shell = Command::new("sh");
        shell.args(["-e", "-c", command]).current_dir(folder.path());
        shell.env("PATH", path_with(&program)).env("TEAROFF_LOG_DIR", folder.path().join("log"));
        shell.env("TEAROFF_STATE_DIR", folder.path().join("state"));
        let output = shell.output().unwrap();
        let said =
            String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(*code), "{document}:{line}: {command}\n{said}");
    }
    found.into_iter().map(|example| example.command).collect()
}

#[test]
fn every_example_command_of_the_readme_runs_as_it_stands() {
    assert!(!run_all("README.md").is_empty());
}

#[test]
fn every_example_command_for_developers_runs_as_it_stands_and_no_command_is_left_out() {
    let ran = run_all("DEVELOPERS.md");
    let help = Command::new(program()).arg("--help").output().unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    let commands =
        help.lines().skip_while(|line| *line != "Commands:").skip(1).map(|line| line.split(' ').nth(2));
    let commands: Vec<&str> = commands.map_while(|word| word.filter(|word| !word.is_empty())).collect();
    assert!(commands.len() > 10, "{help}");
    for command in commands.into_iter().filter(|command| *command != "help") {
        let shown = ran.iter().any(|line| line.contains(&format!("tearoff {command} ")));
        assert!(shown, "DEVELOPERS.md shows no example of `tearoff {command}`");
    }
}

#[test]
fn examples_are_what_stands_in_a_block_of_the_shell() {
    let document = "`tearoff a`\n```sh\ncargo xtask run  # not here\ntearoff b x  # code 3: refused\n\
        tearoff c '{\n  d}'\n```\n\n```\ntearoff e\n```\n";
    let found = examples(document);
    let example = |line, command: &str, code| Example { line, command: command.to_owned(), code };
    assert_eq!(found, [example(4, "tearoff b x  # code 3: refused", 3), example(5, "tearoff c '{\nd}'", 0)]);
}

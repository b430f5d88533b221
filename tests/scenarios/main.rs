//! The scenario runner: text files with facts in and expected figures out, each played on a ledger of its own. The
//! little language is in `README.md` beside this file; a new case is a new file.

#![cfg(test)]

mod conditions;
mod lookup;
mod play;
mod refusals;
mod script;
mod stage;

use script::folder;
use stage::Played;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::LazyLock;

/// Every scenario, played once for all tests of this file.
static PLAYED: LazyLock<Vec<Played>> =
    LazyLock::new(|| files().iter().map(|file| play::play(file)).collect());

fn files() -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![folder()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "scenario") {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

#[test]
fn every_scenario_plays_as_it_says() {
    let failures: Vec<&str> = PLAYED.iter().flat_map(|played| &played.failures).map(String::as_str).collect();
    assert!(failures.is_empty(), "{} not as said:\n{}", failures.len(), failures.join("\n"));
    assert!(PLAYED.len() >= 40, "only {} scenarios were found", PLAYED.len());
    for played in PLAYED.iter() {
        assert!(played.checks > 0, "{} expects nothing", played.name);
    }
}

#[test]
fn every_kind_of_fact_is_recorded_in_a_scenario() {
    let seen: BTreeSet<&str> = PLAYED.iter().flat_map(|played| &played.kinds).map(String::as_str).collect();
    let missing: Vec<&str> =
        ledger::kinds::KINDS.iter().map(|spec| spec.kind).filter(|kind| !seen.contains(kind)).collect();
    assert!(missing.is_empty(), "no scenario records: {}", missing.join(", "));
}

#[test]
fn every_refusal_of_the_books_is_met_in_a_scenario() {
    let met: Vec<&office::OfficeError> = PLAYED.iter().flat_map(|played| &played.refusals).collect();
    let never = refusals::never_met(&met);
    assert!(never.is_empty(), "no scenario meets these refusals:\n{}", never.join("\n"));
}

#[test]
fn a_scenario_that_is_wrong_is_told_with_file_and_line() {
    let folder = tempfile::tempdir().unwrap();
    let told = |text: &str| {
        let file = folder.path().join("wrong.scenario");
        std::fs::write(&file, text).unwrap();
        play::play(&file).failures
    };
    let firm = std::fs::read_to_string(script::folder().join("firm.part")).unwrap();
    let lines = firm.lines().count();
    let at = |line: usize| format!("wrong.scenario:{}: ", lines + line);

    let failures = told(&format!("{firm}\nmonth 2026-03 firm.jobs = 1\n"));
    assert_eq!(failures, [format!("{}month 2026-03 firm.jobs is 0, not 1", at(2))]);

    let failures = told(&format!("{firm}\nmonth 2026-03 firm.nothing = 1\n"));
    assert!(failures[0].starts_with(&format!("{}month 2026-03 firm.nothing: ", at(2))), "{failures:?}");

    let failures = told(&format!("{firm}\n{{\"kind\": \"vendor\"}}\nverify ok\n"));
    assert_eq!(failures.len(), 1, "{failures:?}");
    assert!(failures[0].starts_with(&format!("{}it was refused: ", at(2))), "{failures:?}");

    let failures =
        told(&format!("{firm}\n{{\"kind\": \"vendor\", \"name\": \"A\"}}\nexpect refused name: taken\n"));
    assert_eq!(failures, [format!("{}it was taken, though `name` should be refused", at(2))]);

    assert_eq!(told("include nowhere.part\n").len(), 1);
    assert_eq!(told("dance\n"), ["wrong.scenario:1: `dance` is no line of a scenario; README.md lists them"]);
    assert_eq!(told("{\"kind\": \n"), ["wrong.scenario:1: the JSON that begins here does not end"]);
}

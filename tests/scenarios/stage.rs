//! What a scenario is played on, and what becomes of it.

use crate::lookup;
use crate::script::Expect;
use acceptance::tongue::machine_words;
use ledger::Id;
use office::{Desk, OfficeError, Recorder};
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// What became of a scenario.
#[derive(Debug, Default)]
pub(crate) struct Played {
    pub(crate) name: String,
    /// What was not as the scenario says, each with file and line.
    pub(crate) failures: Vec<String>,
    /// The kinds of fact that were taken.
    pub(crate) kinds: Vec<String>,
    /// The refusals that were expected and met.
    pub(crate) refusals: Vec<OfficeError>,
    /// How many expectations were held against the ledger.
    pub(crate) checks: usize,
}

/// The ledger that a scenario is played on.
pub(crate) struct Stage {
    pub(crate) path: PathBuf,
    pub(crate) desk: Option<Desk>,
    pub(crate) firm: Option<(Map<String, Value>, Option<String>)>,
    pub(crate) recorder: Recorder,
    pub(crate) labels: BTreeMap<String, Id>,
    /// The job and the estimate that were calculated last.
    pub(crate) estimate: Option<(String, office::Estimate)>,
    /// The damage that was calculated last.
    pub(crate) counted: Option<Value>,
    /// What cash ahead is asked with.
    pub(crate) as_if: office::AsIf,
}

pub(crate) type Outcome = Result<(), String>;

impl Stage {
    pub(crate) fn new(path: PathBuf) -> Stage {
        Stage {
            path,
            desk: None,
            firm: None,
            recorder: Recorder::default(),
            labels: BTreeMap::new(),
            estimate: None,
            counted: None,
            as_if: office::AsIf::default(),
        }
    }

    pub(crate) fn desk(&mut self) -> Result<&mut Desk, String> {
        self.desk.as_mut().ok_or_else(|| "there is no firm yet: `include firm.part`".to_owned())
    }

    /// What a label of the scenario stands for.
    pub(crate) fn label(&self, label: &str) -> Option<Id> {
        self.labels.get(label).copied()
    }

    pub(crate) fn recorder_and_desk(&mut self) -> Result<(&mut Recorder, &Desk), String> {
        let desk = self.desk.as_ref().ok_or("there is no firm yet: `include firm.part`")?;
        Ok((&mut self.recorder, desk))
    }
}

/// Holds what became of a record against what was expected of it.
pub(crate) fn met(outcome: Result<bool, OfficeError>, expect: &Expect, played: &mut Played) -> Outcome {
    if *expect != Expect::Taken {
        played.checks += 1;
    }
    match (outcome, expect) {
        (Ok(false), Expect::Taken) | (Ok(true), Expect::Repeated) => Ok(()),
        (Ok(true), Expect::Taken) => Err("it was there already".to_owned()),
        (Ok(false), Expect::Repeated) => {
            Err("it was written anew, though it should be there already".to_owned())
        }
        (Ok(_), Expect::Refused { what, .. }) => {
            Err(format!("it was taken, though `{what}` should be refused"))
        }
        (Err(error), Expect::Taken | Expect::Repeated) => Err(format!("it was refused: {error}")),
        (Err(error), Expect::Refused { what, text }) => {
            let field = error.field.as_deref().unwrap_or(error.code.as_str());
            let told = error.to_string();
            if field != what {
                return Err(format!("`{field}` was refused, not `{what}`: {told}"));
            }
            if let Some(word) = machine_words(&told) {
                return Err(format!("“{word}” is not how people write it: {told}"));
            }
            if !told.contains(text.as_str()) {
                return Err(format!("`{field}` was refused in other words: {told}"));
            }
            played.refusals.push(error);
            Ok(())
        }
    }
}

/// Whether a figure of a decision is what it should be.
pub(crate) fn holds(decision: serde_json::Result<Value>, what: &str, path: &str, said: &str) -> Outcome {
    let decision = decision.map_err(|error| error.to_string())?;
    let found = lookup::find(&decision, path).map_err(|problem| format!("{what} {path}: {problem}"))?;
    if lookup::agrees(&found, said) { Ok(()) } else { Err(format!("{what} {path} is {found}, not {said}")) }
}

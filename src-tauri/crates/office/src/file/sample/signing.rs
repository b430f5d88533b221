//! A roof of the made-up firm drawn, priced and signed as a person would do it: the line tells only what the estimator
//! changed in the estimate that the program began with.

use crate::estimate::{Acceptance, Estimate, accept, accept_signed_on_paper, begin};
use desk::{Desk, OfficeError};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// The line, without its `do`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Signing {
    job: String,
    /// The company's recipe that it begins from, where that is not the usual one.
    recipe: Option<String>,
    /// What differs from the estimate as it begins, as in RFC 7386 (JSON merge patch).
    #[serde(default)]
    draft: Value,
    /// What differs in a choice, by its letter.
    #[serde(default)]
    choices: Map<String, Value>,
    /// What differs in the part for an item, in every choice: another one, or the color that the homeowner took.
    #[serde(default)]
    parts: BTreeMap<String, Value>,
    accept: Acceptance,
    /// Whether the proposal is kept as a file; else it was signed on paper.
    #[serde(default)]
    keep: bool,
}

/// Calculates the estimate of a line and accepts the choice that was signed.
pub(super) fn sign(desk: &mut Desk, line: &Value) -> Result<(), OfficeError> {
    let mut line = line.clone();
    if let Value::Object(fields) = &mut line {
        fields.remove("do");
    }
    let signing: Signing = read("line", line)?;
    let begun = begin(desk, &signing.job, signing.recipe.as_deref())?;
    let mut draft = serde_json::to_value(begun)
        .map_err(|error| OfficeError::refused("draft", &error.to_string(), "Correct the line"))?;
    json_patch::merge(&mut draft, &signing.draft);
    let choices = draft.get_mut("choices").and_then(Value::as_array_mut).into_iter().flatten();
    for choice in choices {
        let letter = choice.get("letter").and_then(Value::as_str).unwrap_or_default().to_owned();
        if let Some(changes) = signing.choices.get(&letter) {
            json_patch::merge(choice, changes);
        }
        for part in choice.get_mut("parts").and_then(Value::as_array_mut).into_iter().flatten() {
            let item = part.get("item").and_then(Value::as_str).unwrap_or_default().to_owned();
            if let Some(changes) = signing.parts.get(&item) {
                json_patch::merge(part, changes);
            }
        }
    }
    let estimate: Estimate = read("draft", draft)?;
    let signed = if signing.keep { accept } else { accept_signed_on_paper };
    signed(desk, &signing.job, &estimate, &signing.accept).map(|_| ())
}

fn read<T: DeserializeOwned>(field: &str, json: Value) -> Result<T, OfficeError> {
    serde_path_to_error::deserialize(json)
        .map_err(|error| OfficeError::refused(field, &error.to_string(), "Correct the line"))
}

//! The estimate of a job: begun, calculated on each change, and accepted. It holds cost and margin, so that only the
//! owner may ask for it.

use intake::{Choices, RoofFile};
use office::{Acceptance, Accepted, Calculated, Estimate};

use super::call::InRoom;
use crate::refusal::Refusal;
use office::Act;

/// Begins one, by the company's recipe of a name or by its usual one.
#[tauri::command]
pub(crate) async fn begin_estimate(
    room: InRoom<'_>,
    job: String,
    recipe: Option<String>,
) -> Result<Estimate, Refusal> {
    room.read(Act::Estimate, move |desk| Ok(office::begin(desk, &job, recipe.as_deref())?)).await
}

#[tauri::command]
pub(crate) async fn calculate_estimate(
    room: InRoom<'_>,
    job: String,
    estimate: Estimate,
) -> Result<Calculated, Refusal> {
    room.read(Act::Estimate, move |desk| Ok(office::calculate(desk, &job, &estimate)?)).await
}

#[tauri::command]
pub(crate) async fn accept_estimate(
    room: InRoom<'_>,
    job: String,
    estimate: Estimate,
    acceptance: Acceptance,
) -> Result<Accepted, Refusal> {
    room.write(Act::Estimate, move |writing| {
        let accepted = office::accept(&mut writing.desk, &job, &estimate, &acceptance)?;
        // The job has a contract and a roof now, by which later facts may name it.
        writing.recorder = office::Recorder::default();
        Ok(accepted)
    })
    .await
}

/// Reads a roof's measures out of the text of a CSV. Nothing is recorded.
#[tauri::command]
pub(crate) async fn read_roof_csv(
    room: InRoom<'_>,
    text: String,
    choices: Choices,
) -> Result<RoofFile, Refusal> {
    room.admit(Act::Estimate)?;
    Ok(intake::roof(text.as_bytes(), &choices))
}

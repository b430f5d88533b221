//! What the firm builds with and calculates with: parts and prices, production, what code and house ask, the checklist.

use office::rates::TypedRate;
use office::{Rates, SetUp, UsualLists};

use super::call::InRoom;
use crate::refusal::Refusal;
use office::Act;

#[tauri::command]
pub(crate) async fn rates(room: InRoom<'_>) -> Result<Rates, Refusal> {
    room.read(Act::SeeRates, |desk| Ok(office::rates(desk, desk.clock.today())?)).await
}

#[tauri::command]
pub(crate) async fn far_from_usual(room: InRoom<'_>, typed: TypedRate) -> Result<Vec<String>, Refusal> {
    room.admit(Act::SeeRates)?;
    Ok(office::rates::far_from_usual(&typed))
}

#[tauri::command]
pub(crate) async fn begin_standards(room: InRoom<'_>) -> Result<usize, Refusal> {
    room.write(Act::BeginRates, |writing| {
        let today = writing.desk.clock.today();
        Ok(office::rates::begin_standards(&mut writing.desk, today)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn begin_checklist(room: InRoom<'_>) -> Result<usize, Refusal> {
    room.write(Act::BeginRates, |writing| {
        let count = office::rates::begin_checklist(&mut writing.desk)?;
        // Points can be named by their words: what the recorder knew of them is out of date.
        writing.recorder = office::Recorder::default();
        Ok(count)
    })
    .await
}

#[tauri::command]
pub(crate) async fn what_is_set_up(room: InRoom<'_>) -> Result<SetUp, Refusal> {
    room.read(Act::BeginRates, |desk| Ok(office::what_is_set_up(desk)?)).await
}

#[tauri::command]
pub(crate) async fn usual_lists(room: InRoom<'_>) -> Result<UsualLists, Refusal> {
    room.read(Act::BeginRates, |desk| Ok(office::usual_lists(desk)?)).await
}

//! What the firm builds with and calculates with: parts and prices, production, what code and house ask, the checklist.

use office::{Rates, Role};

use super::InRoom;
use crate::refusal::Refusal;
use crate::room::For;

#[tauri::command]
pub(crate) async fn rates(room: InRoom<'_>) -> Result<Rates, Refusal> {
    let seat = room.admit(For::OwnerAndBooks, "The firm's rates")?;
    room.read(move |desk| {
        let whole = office::rates(desk, desk.clock.today())?;
        Ok(if seat.role == Role::Owner { whole } else { without_pay(whole) })
    })
    .await
}

/// The rates without what an hour of a crew costs: it tells what its people earn.
fn without_pay(mut rates: Rates) -> Rates {
    rates.loaded.clear();
    rates
}

#[tauri::command]
pub(crate) async fn begin_standards(room: InRoom<'_>) -> Result<usize, Refusal> {
    room.admit(For::Owner, "The firm's standards")?;
    room.write(|writing| {
        let today = writing.desk.clock.today();
        Ok(office::rates::begin_standards(&mut writing.desk, today)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn begin_checklist(room: InRoom<'_>) -> Result<usize, Refusal> {
    room.admit(For::Owner, "The firm's checklist")?;
    room.write(|writing| {
        let count = office::rates::begin_checklist(&mut writing.desk)?;
        // Points can be named by their words: what the recorder knew of them is out of date.
        writing.recorder = office::Recorder::default();
        Ok(count)
    })
    .await
}

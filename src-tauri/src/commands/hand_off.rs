//! The hand-off: seen before, then written into a folder that a person chooses.

use office::hand_off::{HandOffDone, HandOffPreview};
use tauri::AppHandle;
use tauri::ipc::Channel;

use super::call::{InRoom, Teller};
use super::keep;
use crate::dialog::{self, Ask};
use crate::refusal::Refusal;
use crate::views::Step;
use office::Act;

#[tauri::command]
pub(crate) async fn hand_off_preview(room: InRoom<'_>, month: String) -> Result<HandOffPreview, Refusal> {
    room.read(Act::HandOff, move |desk| {
        Ok(office::hand_off::preview(desk, crate::page_value::month(&month)?)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn hand_off(
    app: AppHandle,
    room: InRoom<'_>,
    month: String,
    steps: Channel<Step>,
) -> Result<HandOffDone, Refusal> {
    room.admit(Act::HandOff)?;
    let month = crate::page_value::month(&month)?;
    let folder =
        dialog::ask(&app, Ask::Folder { title: "Where the hand-off's folder shall be made" }).await?;
    let teller = Teller::new(steps, room.begin("hand_off"));
    room.write(Act::HandOff, move |writing| {
        let mut tell = |now: office::hand_off::Progress| teller.tell(now.stage.as_str(), now.done, now.total);
        Ok(office::hand_off::hand_off(&mut writing.desk, month, &folder, &mut tell)?)
    })
    .await
    .map_err(keep::in_words)
}

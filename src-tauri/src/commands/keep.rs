//! Keeping the file safe: back-ups and verifying, with progress, and stopped when a person says so.

use office::Code;
use std::sync::Arc;

use office::keep::Checked;
use tauri::AppHandle;
use tauri::async_runtime::spawn_blocking;
use tauri::ipc::Channel;

use super::call::{InRoom, Teller};
use crate::back_up;
use crate::dialog::{self, Ask};
use crate::refusal::Refusal;
use crate::room::held;
use crate::views::{DeskState, Step};
use office::Act;

#[tauri::command]
pub(crate) async fn back_up(room: InRoom<'_>, steps: Channel<Step>) -> Result<Checked, Refusal> {
    room.admit(Act::BackUp)?;
    let (file, teller) = (room.file()?, Teller::new(steps, room.begin("back_up")));
    let room = Arc::clone(&room);
    spawn_blocking(move || {
        back_up::make(&room, &file.path, &mut |now| teller.tell(now.stage.as_str(), now.done, now.total))
    })
    .await
    .unwrap_or_else(|_| Err(Refusal::broken()))
    .map_err(in_words)
}

#[tauri::command]
pub(crate) async fn verify(room: InRoom<'_>, steps: Channel<Step>) -> Result<Checked, Refusal> {
    room.admit(Act::Verify)?;
    let (file, teller) = (room.file()?, Teller::new(steps, room.begin("verify")));
    spawn_blocking(move || {
        let mut tell = |now: office::keep::Progress| teller.tell(now.stage.as_str(), now.done, now.total);
        office::keep::verify(&file.path, &[], &mut tell).map_err(Refusal::from)
    })
    .await
    .unwrap_or_else(|_| Err(Refusal::broken()))
    .map_err(in_words)
}

/// Chooses the folder for this file's back-ups with the system's dialog; `beside` goes back to the one beside the file.
#[tauri::command]
pub(crate) async fn set_back_up_folder(
    app: AppHandle,
    room: InRoom<'_>,
    beside: bool,
) -> Result<DeskState, Refusal> {
    room.admit(Act::BackUp)?;
    let file = room.file()?;
    let chosen = if beside { None } else { Some(dialog::ask(&app, Ask::BACK_UPS).await?) };
    if let Some(folder) = chosen.as_ref().filter(|folder| !folder.is_dir()) {
        let message = format!("{} is not a folder.", folder.display());
        return Err(Refusal::new(Code::Refused, message, "Choose a folder that is there."));
    }
    held(&room.settings).keep_back_ups_in(&file.path, chosen);
    super::desk::state(&room).await
}

/// Whoever stopped the work knows that they did.
pub(super) fn in_words(refusal: Refusal) -> Refusal {
    if refusal.code == Code::Stopped { Refusal::stopped() } else { refusal }
}

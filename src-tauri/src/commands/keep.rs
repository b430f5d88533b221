//! Keeping the file safe: back-ups and verifying, with progress, and stopped when a person says so.

use std::sync::Arc;

use office::keep::Checked;
use tauri::async_runtime::spawn_blocking;
use tauri::ipc::Channel;

use super::{InRoom, Teller};
use crate::back_up;
use crate::refusal::Refusal;
use crate::room::For;
use crate::views::Step;

#[tauri::command]
pub(crate) async fn back_up(room: InRoom<'_>, steps: Channel<Step>) -> Result<Checked, Refusal> {
    room.admit(For::OwnerAndBooks, "Backing up")?;
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
    room.admit(For::OwnerAndBooks, "Verifying the file")?;
    let (file, teller) = (room.file()?, Teller::new(steps, room.begin("verify")));
    spawn_blocking(move || {
        let mut tell = |now: office::keep::Progress| teller.tell(now.stage.as_str(), now.done, now.total);
        office::keep::verify(&file.path, &mut tell).map_err(Refusal::from)
    })
    .await
    .unwrap_or_else(|_| Err(Refusal::broken()))
    .map_err(in_words)
}

/// Whoever stopped the work knows that they did.
pub(super) fn in_words(refusal: Refusal) -> Refusal {
    if refusal.code == "stopped" { Refusal::stopped() } else { refusal }
}

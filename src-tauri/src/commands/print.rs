//! Papers: printed by the office, saved where a person chooses.

use office::{Desk, Document, Wanted};
use tauri::AppHandle;

use super::call::InRoom;
use crate::dialog::{self, Ask};
use crate::refusal::Refusal;
use crate::views::SavedPaper;

#[tauri::command]
pub(crate) async fn print_paper(
    app: AppHandle,
    room: InRoom<'_>,
    wanted: Wanted,
) -> Result<SavedPaper, Refusal> {
    // Printed before a place is asked for: what cannot be printed needs none.
    let document: Document =
        room.read(wanted.act(), move |desk: &Desk| Ok(office::print(desk, &wanted)?)).await?;
    let place = dialog::ask(&app, Ask::Paper { name: document.name.clone() }).await?;
    let (written, ledger) = (place.clone(), room.file()?.path);
    // The dialog has asked before it names a file that is there.
    tauri::async_runtime::spawn_blocking(move || document.save(&ledger, &written, true))
        .await
        .map_err(|_| Refusal::broken())??;
    Ok(SavedPaper { path: place.to_string_lossy().into_owned() })
}

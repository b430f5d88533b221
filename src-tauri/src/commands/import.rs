//! Importing a table: read, shown, asked about, and only then recorded.

use office::Code;
use std::sync::Arc;

use intake::{Applied, Choices, Kind, Preview};
use tauri::AppHandle;
use tauri::ipc::Channel;

use super::call::{InRoom, Teller};
use super::keep;
use crate::dialog::{self, Ask};
use crate::imported::{Imported, MOST_BYTES};
use crate::refusal::Refusal;
use crate::room::held;
use crate::views::Step;
use office::Act;

#[tauri::command]
pub(crate) async fn import_read(
    app: AppHandle,
    room: InRoom<'_>,
    kind: Kind,
    choices: Option<Choices>,
    dropped: Option<String>,
) -> Result<Preview, Refusal> {
    room.admit(Act::Import)?;
    let bytes = match (&choices, dropped) {
        (None, Some(dropped)) => Arc::new(crate::imported::dropped(&dropped)?),
        (Some(_), _) => {
            held(&room.imported).as_ref().map(|file| Arc::clone(&file.bytes)).ok_or_else(no_table)?
        }
        (None, None) => {
            let ask = if kind == Kind::Bank { Ask::STATEMENT } else { Ask::TABLE };
            let path = dialog::ask(&app, ask).await?;
            Arc::new(crate::imported::read(&path)?)
        }
    };
    let (given, beside) = (Arc::clone(&bytes), Arc::clone(&room));
    room.read(Act::Import, move |desk| {
        let choices = match choices {
            Some(choices) => choices,
            None => intake::recall(desk, kind, &bytes)?.unwrap_or_default(),
        };
        let parsed = intake::read(kind, &bytes, &choices);
        let preview = intake::preview(desk, &parsed)?;
        *held(&beside.imported) = Some(Imported { bytes: given, kind, choices });
        Ok(preview)
    })
    .await
}

#[tauri::command]
pub(crate) async fn import_apply(room: InRoom<'_>, steps: Channel<Step>) -> Result<Applied, Refusal> {
    room.admit(Act::Import)?;
    let file = held(&room.imported).clone().ok_or_else(no_table)?;
    let teller = Teller::new(steps, room.begin("import"));
    let applied = room.write(Act::Import, move |writing| {
        let parsed = intake::read(file.kind, &file.bytes, &file.choices);
        let mut tell = |now: intake::Progress| teller.tell(now.stage.as_str(), now.done, now.total);
        let applied = intake::apply(&mut writing.desk, &parsed, &mut tell)?;
        writing.recorder = office::Recorder::default();
        Ok(applied)
    });
    let applied = applied.await.map_err(keep::in_words)?;
    *held(&room.imported) = None;
    Ok(applied)
}

fn no_table() -> Refusal {
    let message = format!("No file is being imported. A file has {} MiB at most.", MOST_BYTES / 1024 / 1024);
    Refusal::new(Code::NoTable, message, "Choose the file to import.")
}

//! Which file lies on the desk, and who sits there.

use office::Code;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;
use office::{Act, Clock, Desk, DeskPerson, NewFirm, Role};
use serde_json::Value;
use tauri::async_runtime::spawn_blocking;
use tauri::{AppHandle, Manager};

use super::call::InRoom;
use crate::back_up;
use crate::dialog::{self, Ask};
use crate::page_value::id;
use crate::quiet;
use crate::read_through;
use crate::refusal::Refusal;
use crate::room::{Room, held};
use crate::views::{DeskState, FirmForm};

/// The made-up firm's file in the folder of the program's own data.
const SAMPLE: &str = "The made-up firm.tearoff";

#[tauri::command]
pub(crate) async fn desk_state(room: InRoom<'_>) -> Result<DeskState, Refusal> {
    state(&room).await
}

/// What lies on the desk. It waits for whatever was asked before, such as opening the file named at the start.
pub(super) async fn state(room: &Arc<Room>) -> Result<DeskState, Refusal> {
    let beside = Arc::clone(room);
    room.at_the_desk(move |writing| {
        let recent = held(&beside.settings).recent();
        let today = Clock::System.today().to_string();
        let (Some(writing), Ok(file)) = (writing.as_ref(), beside.file()) else {
            let said = held(&beside.said).take();
            return Ok(DeskState { recent, today, said, ..DeskState::default() });
        };
        let desk = &writing.desk;
        let months = office::booked_months(desk)?;
        // Whoever is not told of cost is told of no month end either.
        let folder = back_up::folder_for(&beside, &file.path);
        let back_up = held(&beside.settings).back_up(&file.path).map(|made| made.last.clone());
        Ok(DeskState {
            file: Some(file.path.to_string_lossy().into_owned()),
            firm: office::firm_name(desk)?,
            sees_margin: sees_margin(desk, file.person.as_ref())?,
            person: file.person,
            writes: file.writes,
            reading_because: file.reading_because,
            month: months.map(|(_, last)| last),
            months,
            today,
            recent,
            pins: office::pin::roles_with(desk)?,
            back_up,
            back_up_folder: Some(folder.to_string_lossy().into_owned()),
            back_up_folder_chosen: held(&beside.settings).back_up_folder(&file.path).is_some(),
            sample: file.sample,
            said: held(&beside.said).take(),
        })
    })
    .await
}

/// Whether whoever sits here is told of margin. The writing desk may have somebody else at it, or nobody.
fn sees_margin(desk: &Desk, person: Option<&DeskPerson>) -> Result<bool, Refusal> {
    let Some(person) = person else { return Ok(false) };
    Ok(desk.may_as(Act::SeeMargin, person.role)?)
}

#[tauri::command]
pub(crate) async fn open_file(app: AppHandle, room: InRoom<'_>) -> Result<DeskState, Refusal> {
    let path = dialog::ask(&app, Ask::FIRM).await?;
    open(&room, &path).await?;
    state(&room).await
}

#[tauri::command]
pub(crate) async fn open_recent(room: InRoom<'_>, path: String) -> Result<DeskState, Refusal> {
    // The page may ask only for what was chosen in a dialog once.
    if !held(&room.settings).recent().iter().any(|recent| recent.path == path) {
        let message = "This file is not among those opened before.";
        return Err(Refusal::new(Code::NotAllowed, message, "Open it with “Open a file”."));
    }
    if let Err(refusal) = open(&room, Path::new(&path)).await {
        if refusal.code == Code::Missing {
            held(&room.settings).forget(&path);
        }
        return Err(refusal);
    }
    state(&room).await
}

/// Opens a file in place of the one that is open.
pub(crate) async fn open(room: &Arc<Room>, path: &Path) -> Result<(), Refusal> {
    leave(room).await?;
    room.put(path, false).await?;
    read_through::begin(room);
    back_up::make_daily(room, path);
    Ok(())
}

/// Takes the file off the desk and backs it up in the background.
async fn leave(room: &Arc<Room>) -> Result<(), Refusal> {
    if let Some(before) = room.take_away().await?.filter(|file| file.writes && !file.sample) {
        let room = Arc::clone(room);
        quiet::aside(move || back_up::make_if_changed(&room, &before.path));
    }
    Ok(())
}

#[tauri::command]
pub(crate) async fn close_file(room: InRoom<'_>) -> Result<DeskState, Refusal> {
    leave(&room).await?;
    state(&room).await
}

#[tauri::command]
pub(crate) async fn make_firm(
    app: AppHandle,
    room: InRoom<'_>,
    firm: FirmForm,
) -> Result<DeskState, Refusal> {
    // Asked for a place only once the form can be taken.
    let name = file_name(&firm.name);
    let firm = new_firm(firm, Clock::System.today())?;
    let path = dialog::ask(&app, Ask::Save { title: "Where the firm's file shall lie", name }).await?;
    let path = if path.extension().is_none() { path.with_extension("tearoff") } else { path };
    leave(&room).await?;
    let beside = Arc::clone(&room);
    room.at_the_desk(move |writing| {
        beside.clear(writing);
        let desk = Desk::make(&path, &firm, Clock::System)?;
        beside.lay(writing, desk, None, false)
    })
    .await?;
    state(&room).await
}

fn file_name(firm: &str) -> String {
    let plain: String =
        firm.chars().filter(|sign| sign.is_alphanumeric() || " -_&".contains(*sign)).collect();
    let plain = plain.trim();
    format!("{}.tearoff", if plain.is_empty() { "Firm" } else { plain })
}

/// The form as the office takes it.
fn new_firm(form: FirmForm, today: Date) -> Result<NewFirm, Refusal> {
    let mut said = form.settings;
    for (name, value) in [("name", form.name), ("town", form.town), ("state", form.state)] {
        said.insert(name.to_owned(), Value::String(value));
    }
    Ok(NewFirm::usual(&form.owner, said, today)?)
}

#[tauri::command]
pub(crate) async fn open_sample(app: AppHandle, room: InRoom<'_>) -> Result<DeskState, Refusal> {
    let folder = app.path().app_data_dir().map_err(|error| Refusal::of_window(&error))?;
    sample(&room, folder).await?;
    state(&room).await
}

/// Writes the made-up firm anew and opens it.
pub(crate) async fn sample(room: &Arc<Room>, folder: PathBuf) -> Result<(), Refusal> {
    leave(room).await?;
    let beside = Arc::clone(room);
    room.at_the_desk(move |writing| {
        beside.clear(writing);
        let path = folder.join(SAMPLE);
        fresh_place(&folder, &path)?;
        // The sample's own clock stands still; whoever works on it from now on lives today.
        drop(office::sample::write(&path, &mut |_, _| true)?);
        let (desk, busy) = Desk::open_or_read(&path, Clock::System)?;
        beside.lay(writing, desk, busy.map(Refusal::from), true)
    })
    .await
}

/// Removes the made-up firm of an earlier day, unless another window is at work on it.
fn fresh_place(folder: &Path, path: &Path) -> Result<(), Refusal> {
    let trouble = |error: std::io::Error| {
        Refusal::from(office::OfficeError::io(format!("{} could not be written", folder.display()), &error))
    };
    std::fs::create_dir_all(folder).map_err(trouble)?;
    if path.exists() {
        // To open it for writing is to know that nobody else does; a damaged one is replaced like any other.
        if let Err(busy) = Desk::open(path, Clock::System)
            && busy.code == Code::Busy
        {
            return Err(busy.into());
        }
    }
    for suffix in ["", "-wal", "-shm", ".lock"] {
        match std::fs::remove_file(folder.join(format!("{SAMPLE}{suffix}"))) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(trouble(error)),
            _ => {}
        }
    }
    match std::fs::remove_dir_all(folder.join(format!("{SAMPLE}.attachments"))) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(trouble(error)),
        _ => Ok(()),
    }
}

#[tauri::command]
pub(crate) async fn people(room: InRoom<'_>) -> Result<Vec<DeskPerson>, Refusal> {
    room.read(Act::SeePeople, |desk| Ok(office::people(desk)?)).await
}

#[tauri::command]
pub(crate) async fn sit(room: InRoom<'_>, person: String, pin: Option<String>) -> Result<DeskState, Refusal> {
    let wanted = room
        .at_the_desk(move |writing| {
            let writing = writing.as_ref().ok_or_else(Refusal::no_file)?;
            let people = office::people(&writing.desk)?;
            let person = people.into_iter().find(|each| each.id == person).ok_or_else(|| {
                let message = "There is nobody of this name here.";
                Refusal::of_field("person", message, "Choose one of the people.")
            })?;
            let hash = office::pin::stored(&writing.desk, person.role)?;
            Ok((person, hash))
        })
        .await?;
    let (person, hash) = wanted;
    if let Some(hash) = hash {
        try_pin(&room, person.role, hash, pin, "pin").await?;
    }
    let beside = Arc::clone(&room);
    room.at_the_desk(move |writing| {
        let writing = writing.as_mut().ok_or_else(Refusal::no_file)?;
        writing.desk.sit(id(&person.id)?);
        beside.sits(person);
        Ok(())
    })
    .await?;
    state(&room).await
}

/// Tries a PIN where nobody waits for it but whoever typed it.
async fn try_pin(
    room: &Arc<Room>,
    role: Role,
    hash: String,
    pin: Option<String>,
    field: &'static str,
) -> Result<(), Refusal> {
    let path = room.file()?.path;
    let tried = spawn_blocking(move || office::pin::try_pin(&path, role, &hash, pin.as_deref(), field));
    Ok(tried.await.map_err(|_| Refusal::broken())??)
}

#[tauri::command]
pub(crate) async fn set_pin(
    room: InRoom<'_>,
    role: Role,
    old: Option<String>,
    pin: Option<String>,
) -> Result<DeskState, Refusal> {
    // Whoever sets a PIN is the owner, and shows it by the owner's.
    if let Some(hash) = room.read(Act::SetPin, |desk| Ok(office::pin::stored(desk, Role::Owner)?)).await? {
        try_pin(&room, Role::Owner, hash, old, "old").await?;
    }
    let hash = spawn_blocking(move || pin.as_deref().map(office::pin::hash_of).transpose());
    let hash = hash.await.map_err(|_| Refusal::broken())??;
    room.write(Act::SetPin, move |writing| Ok(office::pin::store(&mut writing.desk, role, hash.as_deref())?))
        .await?;
    state(&room).await
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use serde_json::Map;

    fn form() -> FirmForm {
        FirmForm {
            name: " Quill / Roofing ".to_owned(),
            town: "Ashby".to_owned(),
            state: "MN".to_owned(),
            owner: "Ruth Quill".to_owned(),
            settings: Map::new(),
        }
    }

    #[test]
    fn a_form_with_four_fields_makes_a_firm() {
        let home = tempfile::tempdir().unwrap();
        let firm = new_firm(form(), date(2026, 11, 25)).unwrap();
        let desk = Desk::make(&home.path().join("firm.tearoff"), &firm, Clock::System).unwrap();
        assert_eq!(office::firm_name(&desk).unwrap().as_deref(), Some("Quill / Roofing"));
        assert_eq!(file_name(&firm.firm.name), "Quill  Roofing.tearoff");
        assert_eq!(firm.firm.date, date(2026, 1, 1));
    }

    #[test]
    fn the_day_that_the_form_asks_for_is_the_day_of_the_settings() {
        let mut form = form();
        form.settings.insert("date".into(), "2026-03-01".into());
        assert_eq!(new_firm(form, date(2026, 11, 25)).unwrap().firm.date, date(2026, 3, 1));
    }

    #[test]
    fn a_setting_that_is_no_setting_is_refused_in_words() {
        let today = date(2026, 11, 25);
        let mut form = form();
        form.settings.insert("week_begins".into(), "noday".into());
        let refusal = new_firm(form, today).unwrap_err();
        assert!(refusal.message.contains("noday"), "{}", refusal.message);
        let nobody = FirmForm { owner: " ".into(), ..self::form() };
        assert_eq!(new_firm(nobody, today).unwrap_err().field.as_deref(), Some("owner"));
    }
}

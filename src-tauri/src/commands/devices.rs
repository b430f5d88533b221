//! The firm's devices, and how this one stands with them.

use std::sync::Arc;

use exchange::{Added, Devices, Dropped, Relettered, Saved, TakenByHand};
use office::{Act, OfficeError, Role};
use tauri::AppHandle;
use tauri::async_runtime::spawn_blocking;

use super::call::InRoom;
use crate::dialog::{self, Ask};
use crate::exchanging;
use crate::page_value::id;
use crate::refusal::Refusal;
use crate::room::held;
use crate::views::{DeskState, InTouchView};

#[tauri::command]
pub(crate) async fn devices(room: InRoom<'_>) -> Result<Devices, Refusal> {
    room.read(Act::SeeDevices, |desk| Ok(exchange::devices(desk)?)).await
}

#[tauri::command]
pub(crate) async fn add_device(
    app: AppHandle,
    room: InRoom<'_>,
    name: String,
    person: String,
    role: Option<Role>,
) -> Result<Added, Refusal> {
    room.admit(Act::KeepDevices)?;
    let person = id(&person)?;
    let to = dialog::ask(&app, Ask::joining(&name)).await?;
    let room = Arc::clone(&room);
    let added = room
        .write(Act::KeepDevices, move |writing| {
            Ok(exchange::add_device(&mut writing.desk, &name, person, role, &to)?)
        })
        .await?;
    room.in_touch.wake();
    Ok(added)
}

#[tauri::command]
pub(crate) async fn drop_device(
    room: InRoom<'_>,
    letter: String,
    reason: Option<String>,
) -> Result<Dropped, Refusal> {
    room.admit(Act::KeepDevices)?;
    let dropped = room
        .write(Act::KeepDevices, move |writing| {
            Ok(exchange::drop_device(&mut writing.desk, &letter, reason.as_deref())?)
        })
        .await?;
    room.in_touch.wake();
    Ok(dropped)
}

#[tauri::command]
pub(crate) async fn choose_store(
    room: InRoom<'_>,
    address: String,
    secret: Option<String>,
) -> Result<Devices, Refusal> {
    room.write(Act::KeepDevices, move |writing| {
        exchange::choose_store(&mut writing.desk, &address, secret.as_deref()).map_err(OfficeError::from)?;
        Ok(exchange::devices(&writing.desk)?)
    })
    .await
}

/// How this device stands with the others: what waits, what came, and when. Asked often, so that it answers at once.
#[tauri::command]
pub(crate) async fn in_touch(room: InRoom<'_>) -> Result<InTouchView, Refusal> {
    room.admit(Act::Exchange)?;
    let told = room.in_touch.told();
    let unsound = held(&room.unsound).clone();
    Ok(InTouchView { came: told.came, last: told.last, refused: told.refused, unsound })
}

/// Exchanges now.
#[tauri::command]
pub(crate) async fn exchange_now(room: InRoom<'_>) -> Result<InTouchView, Refusal> {
    room.admit(Act::Exchange)?;
    let beside = Arc::clone(&room);
    spawn_blocking(move || exchanging::now(&beside)).await.map_err(|_| Refusal::broken())??;
    in_touch(room).await
}

#[tauri::command]
pub(crate) async fn save_parcel(app: AppHandle, room: InRoom<'_>) -> Result<Saved, Refusal> {
    room.admit(Act::Exchange)?;
    let to = dialog::ask(&app, Ask::PARCEL_TO).await?;
    room.write(Act::Exchange, move |writing| {
        Ok(exchange::save_parcel(&mut writing.desk, &to).map_err(OfficeError::from)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn take_parcel(app: AppHandle, room: InRoom<'_>) -> Result<TakenByHand, Refusal> {
    room.admit(Act::Exchange)?;
    let from = dialog::ask(&app, Ask::PARCEL).await?;
    room.write(Act::Exchange, move |writing| {
        let taken = exchange::take_parcel(&mut writing.desk, &from).map_err(OfficeError::from)?;
        writing.recorder = office::Recorder::default();
        Ok(taken)
    })
    .await
}

/// Joins a firm: the joining file and the place of this machine's own file are chosen in the system's dialogs.
#[tauri::command]
pub(crate) async fn join_firm(
    app: AppHandle,
    room: InRoom<'_>,
    passphrase: String,
) -> Result<DeskState, Refusal> {
    let joining = dialog::ask(&app, Ask::JOINING).await?;
    let to =
        dialog::ask(&app, Ask::Save { title: "Where this machine's file shall lie", name: NEW.to_owned() })
            .await?;
    let made = to.clone();
    let joined = spawn_blocking(move || exchange::join(&joining, &passphrase, &made));
    joined.await.map_err(|_| Refusal::broken())?.map_err(OfficeError::from)?;
    super::desk::open(&room, &to).await?;
    // The firm's people come with the first exchange: without a line they come with the next.
    let beside = Arc::clone(&room);
    let _ = spawn_blocking(move || exchanging::now(&beside)).await;
    super::desk::state(&room).await
}

/// Gives a file new letters where another one was written under its own: the file on the desk, or one chosen in the
/// system's dialog; the joining file is chosen there too.
#[tauri::command]
pub(crate) async fn reletter(
    app: AppHandle,
    room: InRoom<'_>,
    passphrase: String,
) -> Result<Relettered, Refusal> {
    let file = match room.file() {
        Ok(_) => room.admit(Act::Exchange)?.path,
        // Two copies on one computer are opened by nothing until one has new letters.
        Err(_) => dialog::ask(&app, Ask::FIRM).await?,
    };
    let joining = dialog::ask(&app, Ask::JOINING).await?;
    let beside = Arc::clone(&room);
    let done = spawn_blocking(move || exchanging::reletter(&beside, file, joining, passphrase));
    done.await.map_err(|_| Refusal::broken())?
}

/// The name proposed for a joined machine's file.
const NEW: &str = "firm.tearoff";

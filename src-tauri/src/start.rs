//! Coming and going: what is on the desk when the window opens, and what is done before it closes.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use office::{Clock, Desk};
use tauri::{App, AppHandle, Manager, Window};

use crate::back_up;
use crate::commands;
use crate::exchanging;
use crate::refusal::Refusal;
use crate::room::{Room, held};
use crate::settings::Settings;

/// What the command line asks to have on the desk.
#[derive(Debug, Default, PartialEq, Eq)]
enum Wanted {
    #[default]
    Nothing,
    Sample,
    File(PathBuf),
}

impl Wanted {
    /// The first word that says anything; the system adds words of its own, which begin with a hyphen.
    fn read(words: impl Iterator<Item = OsString>) -> Self {
        for word in words {
            if word == "--sample" {
                return Wanted::Sample;
            }
            if !word.to_string_lossy().starts_with('-') {
                return Wanted::File(PathBuf::from(word));
            }
        }
        Wanted::Nothing
    }
}

/// Makes the room, and opens what the command line names. The window does not wait for it.
pub(crate) fn furnish(app: &App) -> tauri::Result<()> {
    let room = Room::new(Settings::read(&app.path().app_config_dir()?));
    app.manage(Arc::clone(&room));
    exchanging::stay(&room);
    let data = app.path().app_data_dir()?;
    let wanted = Wanted::read(std::env::args_os().skip(1));
    // The window opens meanwhile. What goes wrong leaves the desk empty, and the page then shows where to begin.
    tauri::async_runtime::spawn(async move {
        match wanted {
            Wanted::Nothing => {}
            Wanted::Sample => tell(&room, commands::desk::sample(&room, data).await),
            Wanted::File(path) => {
                let path = std::path::absolute(&path).unwrap_or(path);
                tell(&room, commands::desk::open(&room, &path).await);
            }
        }
    });
    Ok(())
}

/// Says what went wrong on the terminal, and keeps it for the page to say.
fn tell(room: &Room, outcome: Result<(), Refusal>) {
    if let Err(refusal) = outcome {
        crate::window::say(&format!("{} {}", refusal.message, refusal.remedy));
        *held(&room.said) = Some(refusal);
    }
}

/// A second start of the program: its window comes forward, and a file that it was given is opened in it. What is
/// half-typed there is kept as drafts; a file that can't be opened leaves the one on the desk where it is.
pub(crate) fn another(app: &AppHandle, words: Vec<String>, folder: &Path) {
    crate::window::bring_to_front(app);
    let Some(path) = named(words, folder) else { return };
    let (app, room) = (app.clone(), Arc::clone(&app.state::<Arc<Room>>()));
    tauri::async_runtime::spawn(async move {
        if room.file().is_ok_and(|open| open.path == path) {
            return;
        }
        tell(&room, instead(&room, &path).await);
        crate::window::read_again(&app);
    });
}

/// The file that a second start names, seen from the folder in which it was started.
fn named(words: Vec<String>, folder: &Path) -> Option<PathBuf> {
    match Wanted::read(words.into_iter().skip(1).map(OsString::from)) {
        Wanted::File(path) => Some(folder.join(path)),
        Wanted::Nothing | Wanted::Sample => None,
    }
}

/// Opens a file in place of the one on the desk, once it is known that it can be read.
async fn instead(room: &Arc<Room>, path: &Path) -> Result<(), Refusal> {
    let tried = path.to_owned();
    tauri::async_runtime::spawn_blocking(move || Desk::read(&tried, Clock::System).map(drop))
        .await
        .map_err(|_| Refusal::broken())??;
    commands::desk::open(room, path).await
}

/// Closes the file, backs it up, and ends the program. The window is gone at once; the rest takes as long as it takes.
pub(crate) fn leave(window: &Window) {
    // A window that will not hide is closed a moment later all the same.
    let _ = window.hide();
    let app = window.app_handle().clone();
    let room = Arc::clone(&app.state::<Arc<Room>>());
    std::thread::spawn(move || {
        let before = tauri::async_runtime::block_on(room.take_away());
        if let Ok(Some(file)) = before
            && file.writes
            && !file.sample
        {
            back_up::make_if_changed(&room, &file.path);
        }
        app.exit(0);
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::Settings;

    #[test]
    fn the_command_line_names_a_file_or_the_made_up_firm_or_nothing() {
        let read = |words: &[&str]| Wanted::read(words.iter().map(OsString::from));
        assert_eq!(read(&[]), Wanted::Nothing);
        assert_eq!(read(&["--automation", "--sample"]), Wanted::Sample);
        assert_eq!(read(&["my firm.tearoff", "--sample"]), Wanted::File("my firm.tearoff".into()));
    }

    #[test]
    fn a_second_start_names_a_file_from_its_own_folder() {
        let words = |words: &[&str]| words.iter().map(ToString::to_string).collect();
        let folder = Path::new("desk");
        assert_eq!(named(words(&["tearoff"]), folder), None);
        assert_eq!(named(words(&["tearoff", "--sample"]), folder), None);
        assert_eq!(named(words(&["tearoff", "my.tearoff"]), folder), Some(folder.join("my.tearoff")));
    }

    #[test]
    fn a_file_that_cannot_be_opened_leaves_the_one_on_the_desk_and_says_why() {
        let home = tempfile::tempdir().unwrap();
        let firm = |name: &str| {
            let path = home.path().join(name);
            drop(office::sample::write(&path, &mut |_, _| true).unwrap());
            path
        };
        let (first, second) = (firm("first.tearoff"), firm("second.tearoff"));
        let wrong = home.path().join("wrong.tearoff");
        std::fs::write(&wrong, "no ledger").unwrap();
        let room = Room::new(Settings::default());
        let give = |path: &Path| tell(&room, tauri::async_runtime::block_on(instead(&room, path)));
        give(&first);
        give(&wrong);
        assert_eq!(room.file().unwrap().path, first);
        assert!(held(&room.said).take().is_some_and(|why| !why.message.is_empty()));
        give(&second);
        assert_eq!(room.file().unwrap().path, second);
        assert_eq!(*held(&room.said), None);
    }
}

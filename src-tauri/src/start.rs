//! Coming and going: what is on the desk when the window opens, and what is done before it closes.

use std::ffi::OsString;
use std::path::PathBuf;
use std::sync::Arc;

use tauri::{App, Manager, Window};

use crate::back_up;
use crate::commands;
use crate::room::Room;
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
    let data = app.path().app_data_dir()?;
    let wanted = Wanted::read(std::env::args_os().skip(1));
    // The window opens meanwhile. What goes wrong leaves the desk empty, and the page then shows where to begin.
    tauri::async_runtime::spawn(async move {
        match wanted {
            Wanted::Nothing => {}
            Wanted::Sample => tell(commands::desk::sample(&room, data).await),
            Wanted::File(path) => {
                let path = std::path::absolute(&path).unwrap_or(path);
                tell(commands::desk::open(&room, &path).await);
            }
        }
    });
    Ok(())
}

fn tell(outcome: Result<(), crate::refusal::Refusal>) {
    if let Err(refusal) = outcome {
        crate::window::say(&format!("{} {}", refusal.message, refusal.remedy));
    }
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

    #[test]
    fn the_command_line_names_a_file_or_the_made_up_firm_or_nothing() {
        let read = |words: &[&str]| Wanted::read(words.iter().map(OsString::from));
        assert_eq!(read(&[]), Wanted::Nothing);
        assert_eq!(read(&["--automation", "--sample"]), Wanted::Sample);
        assert_eq!(read(&["my firm.tearoff", "--sample"]), Wanted::File("my firm.tearoff".into()));
    }
}

//! The commands that the page may call. Each is a few lines: see who asks, ask the office, hand back its view.

pub(crate) mod billing;
pub(crate) mod books;
mod call;
pub(crate) mod condition;
pub(crate) mod desk;
pub(crate) mod devices;
pub(crate) mod estimate;
pub(crate) mod hand_off;
pub(crate) mod import;
pub(crate) mod keep;
pub(crate) mod papers;
pub(crate) mod print;
pub(crate) mod rates;
pub(crate) mod record;

use call::InRoom;

use crate::refusal::Refusal;
use crate::views::About;
use crate::window;

/// Says which program answers, so that the page and a person reporting a fault can name it.
#[tauri::command]
pub(crate) fn about() -> About {
    About { name: "Tearoff".to_owned(), version: env!("CARGO_PKG_VERSION").to_owned() }
}

/// The page has drawn itself: show the window. Called once, after the first paint.
///
/// # Errors
/// If the system will not show the window.
#[tauri::command]
#[expect(clippy::needless_pass_by_value, reason = "a command is handed its window by value")]
pub(crate) fn painted(desk: tauri::WebviewWindow) -> Result<(), Refusal> {
    window::show(&desk).map_err(|error| Refusal::of_window(&error))
}

/// Stops long work by its name.
///
/// # Errors
/// None: work that is done, or never began, is left as it is.
#[tauri::command]
#[expect(clippy::needless_pass_by_value, reason = "a command is handed its words by value")]
#[expect(clippy::unnecessary_wraps, reason = "every command answers in the same shape")]
pub(crate) fn stop(room: InRoom<'_>, work: String) -> Result<(), Refusal> {
    room.stop(&work);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn about_names_the_program_and_a_version_in_three_parts() {
        let about = about();
        assert_eq!(about.name, "Tearoff");
        assert_eq!(about.version.split('.').count(), 3);
    }

    /// What is asked before anybody sits at the desk, or of the program itself.
    const BEFORE_ANYBODY_SITS: &[&str] = &[
        "about",
        "painted",
        "stop",
        "desk_state",
        "open_file",
        "open_recent",
        "make_firm",
        "open_sample",
        "close_file",
        "sit",
        "join_firm",
    ];

    #[test]
    fn every_command_asks_the_policy_or_is_asked_before_anybody_sits_down() {
        let sources = [
            include_str!("billing.rs"),
            include_str!("books.rs"),
            include_str!("condition.rs"),
            include_str!("desk.rs"),
            include_str!("devices.rs"),
            include_str!("estimate.rs"),
            include_str!("hand_off.rs"),
            include_str!("import.rs"),
            include_str!("keep.rs"),
            include_str!("papers.rs"),
            include_str!("print.rs"),
            include_str!("rates.rs"),
            include_str!("record.rs"),
        ];
        let commands = sources.iter().flat_map(|source| source.split("#[tauri::command]").skip(1));
        let mut asked = 0;
        for command in commands {
            let name =
                command.split("fn ").nth(1).and_then(|rest| rest.split('(').next()).unwrap_or_default();
            let asks = ["room.read(", "room.write(", "room.admit(", ".read(\n", ".write(\n", ".read(Act"];
            if BEFORE_ANYBODY_SITS.contains(&name) {
                continue;
            }
            assert!(asks.iter().any(|ask| command.contains(ask)), "`{name}` asks nobody's leave");
            asked += 1;
        }
        assert!(asked > 40, "only {asked} commands were read");
    }
}

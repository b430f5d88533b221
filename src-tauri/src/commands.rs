//! The commands that the page may call. Each is a few lines: take the words, ask, hand back a view.

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn about_names_the_program_and_a_version_in_three_parts() {
        let about = about();
        assert_eq!(about.name, "Tearoff");
        assert_eq!(about.version.split('.').count(), 3);
    }
}

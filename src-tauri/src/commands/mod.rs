//! The commands that the page may call. Each is a few lines: see who asks, ask the office, hand back its view.

pub(crate) mod billing;
pub(crate) mod books;
pub(crate) mod condition;
pub(crate) mod desk;
pub(crate) mod estimate;
pub(crate) mod hand_off;
pub(crate) mod import;
pub(crate) mod keep;
pub(crate) mod papers;
pub(crate) mod print;
pub(crate) mod rates;
pub(crate) mod record;

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use office::{Desk, Id, Month};
use tauri::State;
use tauri::ipc::Channel;

use crate::refusal::Refusal;
use crate::room::Room;
use crate::views::{About, Step};
use crate::window;

/// The room, as a command is handed it.
pub(crate) type InRoom<'a> = State<'a, Arc<Room>>;

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

/// An id out of the page.
pub(crate) fn id(text: &str) -> Result<Id, Refusal> {
    Id::parse(text).map_err(|problem| {
        Refusal::of_field("id", format!("{problem}."), "Open the page again: it shows what is there now.")
    })
}

/// A month out of the page.
pub(crate) fn month(text: &str) -> Result<Month, Refusal> {
    Month::parse(text)
        .map_err(|error| Refusal::of_field("month", error.to_string(), "Choose a month from the list."))
}

/// The month asked for, or the last one in which anything is booked.
pub(crate) fn month_or_last(desk: &Desk, asked: Option<&str>) -> Result<Month, Refusal> {
    match asked {
        Some(text) => month(text),
        None => {
            let booked = office::booked_months(desk)?;
            Ok(booked.map_or_else(|| Month::of(desk.clock.today()), |(_, last)| last))
        }
    }
}

/// Tells the page how far long work is, and hears whether it is to go on.
pub(crate) struct Teller {
    steps: Channel<Step>,
    stop: Arc<AtomicBool>,
}

impl Teller {
    pub(crate) fn new(steps: Channel<Step>, stop: Arc<AtomicBool>) -> Self {
        Self { steps, stop }
    }

    /// Says how far it is. Answers whether to go on.
    pub(crate) fn tell(&self, what: &str, done: u64, total: u64) -> bool {
        let total = Some(total).filter(|total| *total > 0);
        // If the page has gone away meanwhile, the work still is worth finishing.
        let _ = self.steps.send(Step { done, total, what: what.to_owned() });
        !self.stop.load(Ordering::Relaxed)
    }
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

    #[test]
    fn words_that_are_no_id_or_month_are_refused_at_their_field() {
        assert_eq!(id("7").unwrap_err().field.as_deref(), Some("id"));
        assert_eq!(month("October").unwrap_err().field.as_deref(), Some("month"));
        assert_eq!(month("2026-10").map(|month| month.to_string()).ok().as_deref(), Some("2026-10"));
    }
}

//! The one window: when it is shown, brought to the front, or cannot be opened.

use std::io::Write;
use std::time::Duration;

use tauri::{AppHandle, Manager, WebviewWindow};

use crate::graphics;

/// The window's label in `tauri.conf.json`.
pub(crate) const DESK: &str = "desk";

/// A page that never says it has painted must not leave a program running unseen.
const LONGEST_WAIT_FOR_PAINT: Duration = Duration::from_secs(4);

/// Lets the page be drawn by what there is to draw with.
pub(crate) fn draw_as_suits(app: &AppHandle) -> tauri::Result<()> {
    app.get_webview_window(DESK).as_ref().map_or(Ok(()), graphics::suit)
}

/// Shows the window and gives it the keyboard.
pub(crate) fn show(desk: &WebviewWindow) -> tauri::Result<()> {
    desk.show()?;
    desk.set_focus()
}

/// Brings the window of a program that already runs to the front, when a person starts it a second time.
pub(crate) fn bring_to_front(app: &AppHandle) {
    let Some(desk) = app.get_webview_window(DESK) else { return };
    // A window that will not come forward is still open and whole: there is nothing better to do than to leave it.
    let _ = desk.unminimize();
    let _ = show(&desk);
}

/// Lets the page begin again: what lies on the desk has changed under it.
pub(crate) fn read_again(app: &AppHandle) {
    let Some(desk) = app.get_webview_window(DESK) else { return };
    // A page that can't be read again is shown what is there with whatever is pressed next.
    let _ = desk.reload();
}

/// Shows the window after a while even if the page has not asked for it.
pub(crate) fn show_in_any_case(app: &AppHandle) {
    let app = app.clone();
    std::thread::spawn(move || {
        std::thread::sleep(LONGEST_WAIT_FOR_PAINT);
        let Some(desk) = app.get_webview_window(DESK) else { return };
        if !desk.is_visible().unwrap_or(true) {
            let _ = show(&desk);
        }
    });
}

/// Says on the terminal why there is no window: there is nowhere else to say it.
pub(crate) fn say_why_it_did_not_open(why: &str) {
    say(&format!(
        "Tearoff could not open its window: {why}. Nothing was changed. Where there is no display, the command line \
         does the same work: `tearoff --help`."
    ));
}

/// Says something on the terminal.
pub(crate) fn say(words: &str) {
    // If the terminal is gone too, there is no one to tell.
    let _ = writeln!(std::io::stderr(), "{words}");
}

/// Until the window stands, a library's panic (as where there is no display) is said in a sentence, without a trace.
pub(crate) fn speak_plainly_until_open() {
    std::panic::set_hook(Box::new(|_| say_why_it_did_not_open("the display can't be reached")));
}

/// From here on a panic is a fault of ours, and its trace is wanted.
pub(crate) fn is_open() {
    drop(std::panic::take_hook());
}

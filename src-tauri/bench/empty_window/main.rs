//! A window with one line of text and one bare field: what the bench holds Tearoff's own window against.
//!
//! It is built by the same profile as Tearoff, with the same web view and the same settings of it, and does nothing
//! else. It is never shipped: only the feature `empty-window` builds it.

#[path = "../../src/graphics.rs"]
mod graphics;

use tauri::Manager;

fn main() -> tauri::Result<()> {
    tauri::Builder::default()
        .setup(|app| {
            for window in app.webview_windows().values() {
                graphics::suit(window)?;
            }
            Ok(())
        })
        .run(tauri::generate_context!("bench/empty_window/tauri.conf.json"))
}

//! The window. A face over the office: it turns what a person does into a call, and the answer into a view.
//!
//! **Invariant:** no rule of the trade, no SQL and no file format is known here.
//! **Invariant:** the page can reach nothing but the commands named in `build.rs` and allowed in
//! `capabilities/desk.json`: no file system, no shell, no network.

#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

#[cfg(test)]
mod bindings;
mod commands;
mod refusal;
mod views;
mod window;

use std::process::ExitCode;

fn main() -> ExitCode {
    window::speak_plainly_until_open();
    let run = tauri::Builder::default()
        // First of all the plugins, so that a second start ends before it has done anything.
        .plugin(tauri_plugin_single_instance::init(|app, _arguments, _folder| window::bring_to_front(app)))
        .invoke_handler(tauri::generate_handler![commands::about, commands::painted])
        .setup(|app| {
            window::is_open();
            window::show_in_any_case(app.handle());
            Ok(())
        })
        .run(tauri::generate_context!());
    match run {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            window::say_why_it_did_not_open(&error.to_string());
            ExitCode::FAILURE
        }
    }
}

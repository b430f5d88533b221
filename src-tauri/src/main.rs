//! The window. A face over the office: it turns what a person does into a call, and the answer into a view.
//!
//! **Invariant:** no rule of the trade, no SQL and no file format is known here.
//! **Invariant:** the page can reach nothing but the commands named in `build.rs` and allowed in
//! `capabilities/desk.json`: no file system, no shell, no network.
//! **Invariant:** who may see cost and margin is decided here, by who sits at the desk, and not by the page.

#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

#[cfg(not(any(debug_assertions, feature = "page-inside")))]
compile_error!(
    "What is built to be used has its page inside and shows no other address: leave `page-inside` on."
);

mod back_up;
#[cfg(test)]
mod bindings;
mod commands;
mod dialog;
mod exchanging;
#[cfg(test)]
mod fixtures;
mod graphics;
mod imported;
mod in_touch;
mod page_value;
mod photo;
mod quiet;
mod read_through;
mod refusal;
mod room;
mod settings;
mod start;
mod views;
mod window;

use std::process::ExitCode;

use tauri::WindowEvent;

fn main() -> ExitCode {
    window::speak_plainly_until_open();
    office::keep_ends();
    let run = tauri::Builder::default()
        // First of all the plugins, so that a second start ends before it has done anything.
        .plugin(tauri_plugin_single_instance::init(|app, words, folder| {
            start::another(app, words, std::path::Path::new(&folder));
        }))
        .invoke_handler(commands_of_the_page())
        .setup(|app| {
            window::draw_as_suits(app.handle())?;
            start::furnish(app)?;
            window::is_open();
            window::show_in_any_case(app.handle());
            Ok(())
        })
        .on_window_event(|window, event| {
            if let WindowEvent::CloseRequested { api, .. } = event {
                api.prevent_close();
                start::leave(window);
            }
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

/// What the page may ask: the same names as in `build.rs`.
fn commands_of_the_page() -> impl Fn(tauri::ipc::Invoke) -> bool {
    tauri::generate_handler![
        commands::about,
        commands::painted,
        commands::stop,
        commands::desk::desk_state,
        commands::desk::open_file,
        commands::desk::open_recent,
        commands::desk::make_firm,
        commands::desk::open_sample,
        commands::desk::close_file,
        commands::desk::people,
        commands::desk::sit,
        commands::desk::set_pin,
        commands::books::year,
        commands::books::month_end,
        commands::books::firm_budget,
        commands::books::cash_ahead,
        commands::books::explain_cash,
        commands::books::firm_year,
        commands::books::overhead,
        commands::billing::customer_statement,
        commands::billing::payables,
        commands::billing::vendor_statement,
        commands::billing::bank,
        commands::billing::match_bank,
        commands::billing::subcontractors,
        commands::billing::bill_desk,
        commands::billing::check_bill,
        commands::billing::job_billing,
        commands::books::condition_history,
        commands::books::open_history,
        commands::books::loose_ends,
        commands::books::questions,
        commands::books::close_month,
        commands::books::job_page,
        commands::books::explain,
        commands::books::job_names,
        commands::books::lists,
        commands::books::site_day,
        commands::books::workmanship,
        commands::rates::rates,
        commands::rates::begin_standards,
        commands::rates::begin_checklist,
        commands::billing::further,
        commands::billing::to_bill,
        commands::billing::calculate_invoice,
        commands::rates::far_from_usual,
        commands::rates::what_is_set_up,
        commands::rates::usual_lists,
        commands::billing::line_amounts,
        commands::billing::spread_payment,
        commands::keep::set_back_up_folder,
        commands::estimate::begin_estimate,
        commands::estimate::calculate_estimate,
        commands::estimate::accept_estimate,
        commands::record::place_orders,
        commands::estimate::read_roof_csv,
        commands::record::record,
        commands::record::reverse,
        commands::record::ask_and_record,
        commands::condition::calculate_damage,
        commands::condition::site_roof,
        commands::condition::asking,
        commands::condition::draw_up,
        commands::condition::change_sheet,
        commands::condition::settle_decisions,
        commands::condition::settle_change,
        commands::record::drafts,
        commands::record::save_draft,
        commands::record::delete_draft,
        commands::papers::attach,
        commands::papers::attachment,
        commands::print::print_paper,
        commands::keep::back_up,
        commands::keep::verify,
        commands::hand_off::hand_off_preview,
        commands::hand_off::hand_off,
        commands::import::import_read,
        commands::import::import_apply,
        commands::devices::devices,
        commands::devices::add_device,
        commands::devices::drop_device,
        commands::devices::choose_store,
        commands::devices::in_touch,
        commands::devices::exchange_now,
        commands::devices::save_parcel,
        commands::devices::take_parcel,
        commands::devices::join_firm,
        commands::devices::reletter,
    ]
}

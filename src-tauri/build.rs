//! Checks that the page has been built, then hands over to Tauri's own build step.

use std::path::Path;

/// Only the commands named here exist for the page; each one is allowed, or not, in `capabilities/desk.json`.
const COMMANDS: &[&str] = &[
    "about",
    "painted",
    "stop",
    "desk_state",
    "open_file",
    "open_recent",
    "make_firm",
    "open_sample",
    "close_file",
    "people",
    "sit",
    "set_pin",
    "year",
    "month_end",
    "firm_budget",
    "cash_ahead",
    "explain_cash",
    "firm_year",
    "overhead",
    "customer_statement",
    "payables",
    "vendor_statement",
    "bank",
    "match_bank",
    "subcontractors",
    "bill_desk",
    "check_bill",
    "job_billing",
    "condition_history",
    "open_history",
    "loose_ends",
    "questions",
    "close_month",
    "job_page",
    "explain",
    "job_names",
    "lists",
    "site_day",
    "workmanship",
    "rates",
    "begin_standards",
    "begin_checklist",
    "further",
    "to_bill",
    "calculate_invoice",
    "far_from_usual",
    "what_is_set_up",
    "usual_lists",
    "line_amounts",
    "spread_payment",
    "set_back_up_folder",
    "begin_estimate",
    "calculate_estimate",
    "accept_estimate",
    "place_orders",
    "read_roof_csv",
    "record",
    "reverse",
    "ask_and_record",
    "calculate_damage",
    "site_roof",
    "asking",
    "draw_up",
    "change_sheet",
    "settle_decisions",
    "settle_change",
    "drafts",
    "save_draft",
    "delete_draft",
    "attach",
    "attachment",
    "print_paper",
    "back_up",
    "verify",
    "hand_off_preview",
    "hand_off",
    "import_read",
    "import_apply",
    "devices",
    "add_device",
    "drop_device",
    "choose_store",
    "in_touch",
    "exchange_now",
    "save_parcel",
    "take_parcel",
    "join_firm",
    "reletter",
];

fn main() {
    let page = Path::new("../ui/dist/index.html");
    println!("cargo:rerun-if-changed=../ui/dist");
    if !page.is_file() {
        println!(
            "cargo:error=The window's page is not built. Run `npm ci` and `npm run build` in the folder `ui`, \
             then build again."
        );
        std::process::exit(1);
    }
    let manifest = tauri_build::AppManifest::new().commands(COMMANDS);
    if let Err(error) = tauri_build::try_build(tauri_build::Attributes::new().app_manifest(manifest)) {
        println!("cargo:error=The window's settings could not be read: {error:#}");
        std::process::exit(1);
    }
}

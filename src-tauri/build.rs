//! Checks that the page has been built, then hands over to Tauri's own build step.

use std::path::Path;

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
    // Only the commands named here exist for the page; each one is allowed, or not, in `capabilities/desk.json`.
    let manifest = tauri_build::AppManifest::new().commands(&["about", "painted"]);
    if let Err(error) = tauri_build::try_build(tauri_build::Attributes::new().app_manifest(manifest)) {
        println!("cargo:error=The window's settings could not be read: {error:#}");
        std::process::exit(1);
    }
}

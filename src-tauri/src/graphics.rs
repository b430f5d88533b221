//! Who draws the page: a graphics card, or where there is none the processors, and these without pretending to be a
//! card.
//!
//! On Linux the web view puts a page together by OpenGL as soon as anything on it scrolls or moves by itself. Without a
//! card a library plays one in software: its making took half of a start on two cores, and it keeps some hundred
//! megabytes. The web view can draw the same page directly.

use tauri::WebviewWindow;

/// Lets the web view draw directly where no card could help it. Called before the page is there.
#[cfg(target_os = "linux")]
pub(crate) fn suit(desk: &WebviewWindow) -> tauri::Result<()> {
    use webkit2gtk::{HardwareAccelerationPolicy, SettingsExt, WebViewExt};

    if has_card(std::path::Path::new(CARDS)) {
        return Ok(());
    }
    desk.with_webview(|view| {
        if let Some(settings) = view.inner().settings() {
            settings.set_hardware_acceleration_policy(HardwareAccelerationPolicy::Never);
        }
    })
}

/// Other systems draw by what they have.
#[cfg(not(target_os = "linux"))]
pub(crate) fn suit(_: &WebviewWindow) -> tauri::Result<()> {
    Ok(())
}

/// Where Linux shows what draws.
#[cfg(target_os = "linux")]
const CARDS: &str = "/dev/dri";

/// Whether anything there draws for programs, which is what a render node is (the kernel's page “Userland interfaces”,
/// section “Render nodes”).
#[cfg(target_os = "linux")]
fn has_card(folder: &std::path::Path) -> bool {
    let Ok(entries) = std::fs::read_dir(folder) else { return false };
    entries.flatten().any(|entry| entry.file_name().to_string_lossy().starts_with("renderD"))
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn a_card_is_a_render_node_and_a_screen_alone_is_none() {
        let folder = tempfile::tempdir().unwrap();
        assert!(!has_card(&folder.path().join("none")));
        std::fs::write(folder.path().join("card0"), "").unwrap();
        assert!(!has_card(folder.path()));
        std::fs::write(folder.path().join("renderD128"), "").unwrap();
        assert!(has_card(folder.path()));
    }
}

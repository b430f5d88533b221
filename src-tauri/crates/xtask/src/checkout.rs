//! Where things lie in the checkout, and which rooms it has.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

use crate::call::Call;
use crate::trouble::Trouble;

/// The checkout that a chore works in.
pub(crate) struct Checkout {
    /// The top of the checkout.
    pub(crate) top: PathBuf,
    /// Where everything that is built goes.
    pub(crate) target: PathBuf,
    cargo: OsString,
}

impl Checkout {
    /// Finds the checkout from what cargo says of this crate's own place.
    pub(crate) fn find() -> Result<Self, Trouble> {
        // Read when run, not when built: a checkout that was moved must not send the chores to its old place.
        let own = std::env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from);
        let top =
            own.as_deref().and_then(|own| own.ancestors().nth(3)).map(Path::to_owned).ok_or_else(|| {
                Trouble::said("The top of the checkout was not found. Start the chores with `cargo xtask`.")
            })?;
        let target =
            std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| top.join("target"), |dir| top.join(dir));
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        Ok(Self { top, target, cargo })
    }

    /// A call of this cargo at the top of the checkout.
    pub(crate) fn cargo(&self) -> Call {
        Call::new(&self.cargo).dir(&self.top)
    }

    /// A program that cargo built, in the profile's folder ("debug" or "release").
    pub(crate) fn built(&self, profile: &str, program: &str) -> PathBuf {
        self.target.join(profile).join(format!("{program}{}", std::env::consts::EXE_SUFFIX))
    }

    /// The folder of helper programs that cargo installs for the checkout alone.
    pub(crate) fn tools(&self) -> PathBuf {
        self.target.join("tools")
    }

    /// Whether the window is one of the workspace's members, so that building the workspace builds it too.
    pub(crate) fn has_desktop(&self) -> Result<bool, Trouble> {
        names_desktop(&read(&self.top.join("Cargo.toml"))?)
    }
}

/// Reads a text file.
pub(crate) fn read(path: &Path) -> Result<String, Trouble> {
    fs::read_to_string(path).map_err(Trouble::file(path, "read"))
}

/// Whether `stamp` says that a piece of work was done for just this text. An unreadable stamp means it was not.
pub(crate) fn done_for(stamp: &Path, text: &str) -> bool {
    fs::read_to_string(stamp).is_ok_and(|kept| kept == text)
}

fn names_desktop(manifest: &str) -> Result<bool, Trouble> {
    let table: toml::Table =
        manifest.parse().map_err(|error| Trouble::said(format!("Cargo.toml could not be read: {error}")))?;
    let members = table.get("workspace").and_then(|workspace| workspace.get("members"));
    let members = members.and_then(toml::Value::as_array);
    Ok(members.is_some_and(|members| members.iter().any(|member| member.as_str() == Some("src-tauri"))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_counts_only_where_it_is_a_member() {
        assert!(names_desktop("[workspace]\nmembers = [\"tests\", \"src-tauri\"]").unwrap());
        assert!(!names_desktop("[workspace]\nmembers = [\"src-tauri/crates/trade\"]").unwrap());
        assert!(!names_desktop("[package]\nname = \"x\"").unwrap());
    }

    #[test]
    fn a_broken_manifest_is_trouble_and_not_a_no() {
        assert!(
            names_desktop("[workspace").unwrap_err().to_string().contains("Cargo.toml could not be read")
        );
    }

    #[test]
    fn a_stamp_holds_for_the_same_text_only() {
        let folder = tempfile::tempdir().unwrap();
        let stamp = folder.path().join("stamp");
        assert!(!done_for(&stamp, "a==1"));
        fs::write(&stamp, "a==1").unwrap();
        assert!(done_for(&stamp, "a==1"));
        assert!(!done_for(&stamp, "a==2"));
    }
}

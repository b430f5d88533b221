//! What this machine remembers beside the firms' files: which were open, and where their back-ups are.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::views::{LastBackUp, Recent};

/// As many files as are remembered.
const MOST_RECENT: usize = 8;

/// The settings, and the file they are kept in.
#[derive(Debug, Default)]
pub(crate) struct Settings {
    file: Option<PathBuf>,
    kept: Kept,
}

#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(default)]
struct Kept {
    recent: Vec<Recent>,
    back_ups: BTreeMap<String, BackedUp>,
    /// Where back-ups of a file go, where a person chose another folder than the one beside it.
    back_up_folders: BTreeMap<String, PathBuf>,
}

/// The last back-up of a file, and how far its facts were in by then.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct BackedUp {
    #[serde(flatten)]
    pub(crate) last: LastBackUp,
    /// How far each device's facts were in.
    pub(crate) through: String,
}

impl Settings {
    /// Reads the settings; what cannot be read is as if it had never been written, since none of it is the firm's.
    pub(crate) fn read(folder: &Path) -> Self {
        let file = folder.join("desk.json");
        let kept =
            fs::read(&file).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default();
        Self { file: Some(file), kept }
    }

    /// Files opened before, the latest first.
    pub(crate) fn recent(&self) -> Vec<Recent> {
        self.kept.recent.clone()
    }

    /// The last back-up of a file.
    pub(crate) fn back_up(&self, path: &Path) -> Option<&BackedUp> {
        self.kept.back_ups.get(&path.to_string_lossy().into_owned())
    }

    /// The folder that a person chose for a file's back-ups.
    pub(crate) fn back_up_folder(&self, path: &Path) -> Option<&PathBuf> {
        self.kept.back_up_folders.get(&path.to_string_lossy().into_owned())
    }

    /// Remembers the folder for a file's back-ups; none for the one beside the file.
    pub(crate) fn keep_back_ups_in(&mut self, path: &Path, folder: Option<PathBuf>) {
        let path = path.to_string_lossy().into_owned();
        match folder {
            Some(folder) => self.kept.back_up_folders.insert(path, folder),
            None => self.kept.back_up_folders.remove(&path),
        };
        self.keep();
    }

    /// Remembers that a file was opened.
    pub(crate) fn opened(&mut self, path: &Path, name: &str) {
        let path = path.to_string_lossy().into_owned();
        self.kept.recent.retain(|recent| recent.path != path);
        self.kept.recent.insert(0, Recent { path, name: name.to_owned() });
        self.kept.recent.truncate(MOST_RECENT);
        self.keep();
    }

    /// Forgets a file that is not there any more.
    pub(crate) fn forget(&mut self, path: &str) {
        self.kept.recent.retain(|recent| recent.path != path);
        self.keep();
    }

    /// Remembers a back-up.
    pub(crate) fn backed_up(&mut self, path: &Path, made: BackedUp) {
        self.kept.back_ups.insert(path.to_string_lossy().into_owned(), made);
        self.keep();
    }

    fn keep(&self) {
        let Some(file) = &self.file else { return };
        let written =
            serde_json::to_vec_pretty(&self.kept).map_err(std::io::Error::other).and_then(|bytes| {
                fs::create_dir_all(file.parent().unwrap_or(Path::new(".")))?;
                let part = file.with_extension("part");
                fs::write(&part, bytes)?;
                fs::rename(&part, file)
            });
        // The list of recent files is a convenience: that it could not be kept stops nobody's work.
        if let Err(error) = written {
            tracing::warn!(%error, "the desk's settings were not kept");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_file_comes_first_and_each_only_once() {
        let folder = tempfile::tempdir().unwrap();
        let mut settings = Settings::read(folder.path());
        for name in ["a", "b", "a"] {
            settings.opened(Path::new(name), "Firm");
        }
        for number in 0..10 {
            settings.opened(Path::new(&number.to_string()), "Firm");
        }
        settings.opened(Path::new("b"), "Firm");
        let paths: Vec<String> =
            Settings::read(folder.path()).recent().into_iter().map(|recent| recent.path).collect();
        assert_eq!(paths, ["b", "9", "8", "7", "6", "5", "4", "3"]);
    }

    #[test]
    fn the_folder_chosen_for_back_ups_is_remembered_for_its_file_alone() {
        let home = tempfile::tempdir().unwrap();
        let mut settings = Settings::read(home.path());
        settings.keep_back_ups_in(Path::new("a"), Some("elsewhere".into()));
        let again = Settings::read(home.path());
        assert_eq!(again.back_up_folder(Path::new("a")), Some(&PathBuf::from("elsewhere")));
        assert_eq!(again.back_up_folder(Path::new("b")), None);
        settings.keep_back_ups_in(Path::new("a"), None);
        assert_eq!(Settings::read(home.path()).back_up_folder(Path::new("a")), None);
    }

    #[test]
    fn a_damaged_settings_file_is_as_good_as_none() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("desk.json"), "{\"recent\": 7").unwrap();
        let mut settings = Settings::read(folder.path());
        assert_eq!(settings.recent(), []);
        let last = LastBackUp { path: "x".into(), at: "2026-11-25T09:00:00Z".into(), good: true };
        settings.backed_up(Path::new("f"), BackedUp { last, through: "A 3".into() });
        let again = Settings::read(folder.path());
        assert_eq!(again.back_up(Path::new("f")).map(|made| made.through.as_str()), Some("A 3"));
    }
}

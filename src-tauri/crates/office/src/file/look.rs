//! How a ledger lies there: what was read through and lies there as it did is not read again.

use desk::state_folder;
use ledger::Digest;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

/// How a ledger and its log lie there: how long each is, and when it was last written.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Look(Vec<(u64, u128)>);

impl Look {
    /// None where that cannot be said.
    pub(super) fn at(path: &Path) -> Option<Look> {
        let mut log = path.as_os_str().to_owned();
        log.push("-wal");
        let of = |path: &Path| {
            let known = std::fs::metadata(path).ok()?;
            let written = known.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
            (known.len() > 0).then_some((known.len(), written.as_nanos()))
        };
        let own = of(path)?;
        Some(Look([Some(own), of(Path::new(&log))].into_iter().flatten().collect()))
    }

    /// Keeps that what lay there like this was sound, where it still does. What cannot be kept is read again next time.
    pub(super) fn was_sound(self, path: &Path) {
        let Some(kept) = kept_at(path) else { return };
        if Look::at(path).as_ref() != Some(&self) {
            return;
        }
        let Ok(text) = serde_json::to_vec(&self) else { return };
        if let Some(folder) = kept.parent()
            && std::fs::create_dir_all(folder).is_ok()
        {
            let _ = std::fs::write(kept, text);
        }
    }

    /// Whether what lies there like this was found sound before.
    pub(super) fn is_known(&self, path: &Path) -> bool {
        let text = kept_at(path).and_then(|kept| std::fs::read(kept).ok());
        text.and_then(|text| serde_json::from_slice::<Look>(&text).ok()).as_ref() == Some(self)
    }
}

/// Where it is kept of the ledger at a path; nowhere on a computer that keeps nothing.
fn kept_at(path: &Path) -> Option<PathBuf> {
    let real = path.canonicalize().ok()?;
    let name = Digest::of(real.as_os_str().as_encoded_bytes()).to_string();
    Some(state_folder::of_sound()?.join(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_there_as_it_did_is_known_and_a_byte_more_is_not() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        assert_eq!(Look::at(&path), None);
        std::fs::write(&path, "one").unwrap();
        let before = Look::at(&path).unwrap();
        assert_eq!(Look::at(&path).as_ref(), Some(&before));
        std::fs::write(path.with_extension("tearoff-wal"), "").unwrap();
        assert_eq!(Look::at(&path).as_ref(), Some(&before), "an empty log holds nothing");
        std::fs::write(path.with_extension("tearoff-wal"), "more").unwrap();
        assert_ne!(Look::at(&path).as_ref(), Some(&before));
        std::fs::write(&path, "four").unwrap();
        assert_ne!(Look::at(&path), None);
        assert_ne!(Look::at(&path).as_ref(), Some(&before));
    }
}

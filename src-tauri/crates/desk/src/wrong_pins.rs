//! How many wrong PINs were tried in a row, kept outside the ledger: ending the program shortens no wait. Whoever may
//! delete this person's files may also read the ledger with another program, and no PIN keeps them from it.

use jiff::Timestamp;
use ledger::Digest;
use ledger::closed_lists::Role;
use serde::{Deserialize, Serialize};
use std::fs::File;
use std::io::{Read, Seek, Write};
use std::path::Path;
use std::time::Duration;

/// The longest wait, in seconds.
const LONGEST: u64 = 300;

/// How long the next answer waits after so many wrong PINs in a row: a second, then twice as long each time, up to five
/// minutes. A million PINs of six digits take years (company rule).
fn wait_after(wrong: u32) -> Duration {
    let seconds = 1_u64.checked_shl(wrong.saturating_sub(1)).unwrap_or(LONGEST);
    Duration::from_secs(if wrong == 0 { 0 } else { seconds.min(LONGEST) })
}

/// What is kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Kept {
    wrong: u32,
    last: Timestamp,
}

/// Where nothing can be kept, each try waits as after so many.
const UNKEPT: u32 = 4;

/// The wrong PINs of one role at one ledger. While one is held, another try waits for it: one at a time, whichever
/// program asks.
pub(crate) struct WrongPins {
    file: Option<File>,
    kept: Kept,
}

impl WrongPins {
    /// Those of a role, as kept in this folder.
    pub(crate) fn of(folder: &Path, ledger: &Path, role: Role) -> WrongPins {
        match open(folder, ledger, role) {
            Ok((file, kept)) => WrongPins { file: Some(file), kept },
            Err(_) => WrongPins { file: None, kept: Kept { wrong: UNKEPT, last: Timestamp::MAX } },
        }
    }

    /// How long the next try still waits. A clock that was set back makes no wait longer than it was.
    pub(crate) fn left(&self, now: Timestamp) -> Duration {
        let wait = wait_after(self.kept.wrong);
        wait.saturating_sub(Duration::try_from(now.duration_since(self.kept.last)).unwrap_or_default())
    }

    /// One more that may be wrong: counted before it is known, so that ending the program meanwhile gains nothing.
    pub(crate) fn count(&mut self, now: Timestamp) -> Duration {
        self.keep(Kept { wrong: self.kept.wrong.saturating_add(1), last: now });
        wait_after(self.kept.wrong)
    }

    /// It was the right one.
    pub(crate) fn forget(&mut self) {
        self.keep(Kept::default());
    }

    fn keep(&mut self, kept: Kept) {
        let Some(file) = &mut self.file else { return };
        let written = serde_json::to_vec(&kept).map_err(std::io::Error::from).and_then(|bytes| {
            file.rewind()?;
            file.write_all(&bytes)?;
            file.set_len(bytes.len() as u64)
        });
        // What a full disk did not take is held as long as this lives; the next try begins from what is there.
        let _ = written;
        self.kept = kept;
    }
}

fn open(folder: &Path, ledger: &Path, role: Role) -> std::io::Result<(File, Kept)> {
    std::fs::create_dir_all(folder)?;
    let ledger = ledger.canonicalize()?;
    let name = Digest::of(ledger.as_os_str().as_encoded_bytes()).to_string();
    let path = folder.join(format!("{}-{role}", &name[..32]));
    let mut file = File::options().create(true).truncate(false).read(true).write(true).open(path)?;
    file.lock()?;
    let mut text = String::new();
    file.read_to_string(&mut text)?;
    // What cannot be read was not written here, or was cut short by a full disk.
    Ok((file, serde_json::from_str(&text).unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    #[test]
    fn each_wrong_pin_waits_twice_as_long_up_to_five_minutes() {
        let waits: Vec<u64> =
            [0, 1, 2, 3, 8, 9, 10, 200].iter().map(|wrong| wait_after(*wrong).as_secs()).collect();
        assert_eq!(waits, [0, 1, 2, 4, 128, 256, 300, 300]);
    }

    #[test]
    fn wrong_pins_are_still_counted_when_the_program_starts_again() {
        let home = tempfile::tempdir().unwrap();
        let ledger = home.path().join("firm.tearoff");
        std::fs::write(&ledger, b"").unwrap();
        let tries = |role| WrongPins::of(&home.path().join("pins"), &ledger, role);
        let noon = at("2026-05-04T12:00:00Z");
        assert_eq!(tries(Role::Owner).left(noon), Duration::ZERO);
        for seconds in [1, 2, 4] {
            assert_eq!(tries(Role::Owner).count(noon), Duration::from_secs(seconds));
        }
        assert_eq!(tries(Role::Owner).left(noon), Duration::from_secs(4));
        assert_eq!(tries(Role::Owner).left(at("2026-05-04T12:00:03Z")), Duration::from_secs(1));
        assert_eq!(tries(Role::Owner).left(at("2026-05-04T12:01:00Z")), Duration::ZERO);
        // A clock set back a year waits no longer than four seconds, and one set back gains nothing either.
        assert_eq!(tries(Role::Owner).left(at("2025-05-04T12:00:00Z")), Duration::from_secs(4));
        assert_eq!(tries(Role::Books).left(noon), Duration::ZERO, "each role has its own");
        tries(Role::Owner).forget();
        assert_eq!(tries(Role::Owner).left(noon), Duration::ZERO);
    }

    #[test]
    fn where_nothing_can_be_kept_each_try_waits() {
        let home = tempfile::tempdir().unwrap();
        std::fs::write(home.path().join("pins"), b"a file, no folder").unwrap();
        let mut tries =
            WrongPins::of(&home.path().join("pins"), &home.path().join("firm.tearoff"), Role::Owner);
        let now = at("2026-05-04T12:00:00Z");
        assert_eq!((tries.left(now), tries.count(now)), (Duration::from_secs(8), Duration::from_secs(8)));
    }
}

//! Back-ups that nobody has to think of: one a day and one when the file is closed, each read through, the last few
//! kept in a folder beside the file.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use office::keep::{Checked, Progress};
use office::{Clock, Desk};

use crate::quiet;
use crate::refusal::Refusal;
use crate::room::{Room, held};
use crate::settings::BackedUp;
use crate::views::LastBackUp;

/// As many back-ups of a file as are kept.
const KEPT: usize = 14;

/// The ending of a firm's file.
const ENDING: &str = "tearoff";

/// Backs a file up into the folder beside it, and throws the oldest away when there are more than are kept.
pub(crate) fn make(
    room: &Room,
    path: &Path,
    tell: &mut dyn FnMut(Progress) -> bool,
) -> Result<Checked, Refusal> {
    let through = through(path)?;
    let folder = folder_for(room, path);
    let to = place(&folder, path, &ZonedDateTime::now());
    let checked = office::keep::back_up(path, &to, tell)?;
    let last = LastBackUp {
        path: to.to_string_lossy().into_owned(),
        at: Timestamp::now().to_string(),
        good: checked.good,
    };
    held(&room.settings).backed_up(path, BackedUp { last, through });
    // Only a good back-up is a reason to do without an old one.
    if checked.good {
        thin_out(&folder, path);
    }
    Ok(checked)
}

/// Backs a file up if anything was recorded since the last time. Nobody waits for it: what goes wrong is shown with
/// the date of the last back-up, which stays as it was.
pub(crate) fn make_if_changed(room: &Room, path: &Path) {
    let last = held(&room.settings).back_up(path).cloned();
    let unchanged = last.is_some_and(|last| {
        last.last.good
            && Path::new(&last.last.path).is_file()
            && through(path).is_ok_and(|now| now == last.through)
    });
    if unchanged {
        return;
    }
    if let Err(refusal) = make(room, path, &mut |_| true) {
        tracing::warn!(code = refusal.code.as_str(), message = refusal.message, "no back-up was made");
    }
}

/// Backs a file up in the background if the last back-up is a day old.
pub(crate) fn make_daily(room: &Arc<Room>, path: &Path) {
    let last = held(&room.settings).back_up(path).and_then(|made| made.last.at.parse::<Timestamp>().ok());
    let day = SignedDuration::from_hours(24);
    if last.is_some_and(|at| Timestamp::now().duration_since(at) < day) {
        return;
    }
    let (room, path) = (Arc::clone(room), path.to_owned());
    quiet::aside(move || make_if_changed(&room, &path));
}

/// How far each device's facts are in.
fn through(path: &Path) -> Result<String, Refusal> {
    let desk = Desk::read(path, Clock::System)?;
    let ends = desk.books().device_ends().map_err(|error| Refusal::from(office::OfficeError::from(error)))?;
    Ok(ends.into_iter().map(|(device, seq)| format!("{device} {seq}")).collect::<Vec<_>>().join(", "))
}

/// Where a file's back-ups go: the folder that was chosen, or the one beside the file.
pub(crate) fn folder_for(room: &Room, path: &Path) -> PathBuf {
    held(&room.settings).back_up_folder(path).cloned().unwrap_or_else(|| folder(path))
}

fn folder(path: &Path) -> PathBuf {
    path.with_file_name(format!("{} back-ups", stem(path)))
}

fn stem(path: &Path) -> String {
    path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
}

fn place(folder: &Path, path: &Path, now: &ZonedDateTime) -> PathBuf {
    folder.join(format!("{} {}.{ENDING}", stem(path), now.strftime("%Y-%m-%d %H%M%S")))
}

/// Removes the oldest back-ups. Only files named as [`place`] names them are touched.
fn thin_out(folder: &Path, path: &Path) {
    let start = format!("{} ", stem(path));
    let is_ours = |name: &str| {
        let date = name.strip_prefix(&start).and_then(|rest| rest.strip_suffix(&format!(".{ENDING}")));
        date.is_some_and(|date| {
            let shape: String =
                date.chars().map(|sign| if sign.is_ascii_digit() { '0' } else { sign }).collect();
            shape == "0000-00-00 000000"
        })
    };
    let Ok(items) = fs::read_dir(folder) else { return };
    let mut names: Vec<String> = items.filter_map(|item| item.ok()?.file_name().into_string().ok()).collect();
    names.retain(|name| is_ours(name));
    names.sort();
    for name in names.iter().rev().skip(KEPT) {
        let old = folder.join(name);
        // One that cannot be removed is one too many, which harms nobody.
        let _ = fs::remove_dir_all(old.with_file_name(format!("{name}.attachments")));
        let _ = fs::remove_file(old);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::Settings;

    #[test]
    fn a_changed_file_is_backed_up_once_and_the_oldest_copies_go() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("Quill.tearoff");
        let mut desk = office::sample::write(&path, &mut |_, _| true).unwrap();
        let copies = folder(&path);
        fs::create_dir_all(&copies).unwrap();
        for day in 1..=KEPT {
            fs::write(copies.join(format!("Quill 2020-01-{day:02} 120000.tearoff")), "old").unwrap();
        }
        for other in ["Quill 2020-01-01.tearoff", "notes.txt", "Quill 2020-01-01 120000.csv"] {
            fs::write(copies.join(other), "not ours").unwrap();
        }
        let room = Room::new(Settings::read(home.path()));
        let count =
            || fs::read_dir(&copies).unwrap().filter(|item| item.as_ref().unwrap().path().is_file()).count();
        make_if_changed(&room, &path);
        assert_eq!(count(), KEPT + 3);
        assert!(!copies.join("Quill 2020-01-01 120000.tearoff").exists(), "the oldest is still there");
        let made = held(&room.settings).back_up(&path).cloned().unwrap();
        assert!(made.last.good && Path::new(&made.last.path).is_file());
        make_if_changed(&room, &path);
        assert_eq!(held(&room.settings).back_up(&path), Some(&made), "backed up again without a change");
        office::attach(&mut desk, b"paper", "text/plain", None).unwrap();
        let at = ZonedDateTime::now();
        while place(&copies, &path, &at) == place(&copies, &path, &ZonedDateTime::now()) {
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        make_if_changed(&room, &path);
        assert_ne!(held(&room.settings).back_up(&path), Some(&made), "the change was not backed up");
    }
    #[test]
    fn back_ups_go_where_a_person_chose() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("Quill.tearoff");
        drop(office::sample::write(&path, &mut |_, _| true).unwrap());
        let chosen = home.path().join("put away");
        fs::create_dir(&chosen).unwrap();
        let room = Room::new(Settings::read(home.path()));
        held(&room.settings).keep_back_ups_in(&path, Some(chosen.clone()));
        assert!(make(&room, &path, &mut |_| true).unwrap().good);
        let made = held(&room.settings).back_up(&path).cloned().unwrap();
        assert_eq!(Path::new(&made.last.path).parent(), Some(chosen.as_path()));
        assert!(!folder(&path).exists(), "one was made beside the file, too");
    }
}

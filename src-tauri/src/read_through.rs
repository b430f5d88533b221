//! The whole file read through in the background, each time that it is opened: a byte that the disk changed would give
//! another figure than was recorded, and nothing that asks for that figure alone could tell.

use std::sync::Arc;
use std::time::Instant;

use office::Code;

use crate::quiet;
use crate::refusal::Refusal;
use crate::room::{OpenFile, Room, held};

/// Begins to read the open file through. It ends early when another file is opened, and what it finds stands in the
/// room as long as the file lies there.
pub(crate) fn begin(room: &Arc<Room>) {
    let Ok(file) = room.file() else { return };
    let room = Arc::clone(room);
    quiet::aside(move || {
        let found = look(&room, &file);
        // Whoever takes the file away clears this after it: so nothing of it stands beside the next one.
        let mut unsound = held(&room.unsound);
        if lies_there(&room, &file) {
            *unsound = found;
        }
    });
}

fn lies_there(room: &Room, file: &OpenFile) -> bool {
    room.file().is_ok_and(|now| now.turn == file.turn)
}

/// What is wrong with it, if anything is.
fn look(room: &Room, file: &OpenFile) -> Option<Refusal> {
    let begun = Instant::now();
    match office::keep::verify(&file.path, &[], &mut |_| lies_there(room, file)) {
        Ok(checked) => {
            let took = begun.elapsed().as_millis();
            tracing::info!(good = checked.good, entries = checked.entries, took, "read through");
            office::read_through::unsound(&checked).map(Refusal::from)
        }
        Err(stopped) if stopped.code == Code::Stopped => None,
        Err(error) => Some(error.into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::Settings;
    use std::path::Path;
    use tauri::async_runtime::block_on;

    fn firm(path: &Path) {
        drop(office::sample::write(path, &mut |_, _| true).unwrap());
    }

    /// Opens the file as a person would, and waits until it was read through.
    fn found(path: &Path) -> Option<Refusal> {
        let room = Room::new(Settings::default());
        block_on(room.put(path, false)).unwrap();
        look(&room, &room.file().unwrap())
    }

    #[test]
    fn an_amount_that_the_disk_changed_is_told_of_though_every_page_would_show_it() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        firm(&path);
        assert_eq!(found(&path), None);
        let bytes = std::fs::read(&path).unwrap();
        // A letter in the middle of a vendor's name: no page falls over it.
        let name = b"Millrace Haulage";
        let places = bytes.windows(name.len()).enumerate().filter(|(_, part)| part == name);
        let places: Vec<usize> = places.map(|(place, _)| place).collect();
        assert!(!places.is_empty());
        let mut changed = bytes;
        for place in places {
            changed[place + 3] = b'k';
        }
        std::fs::write(&path, changed).unwrap();
        let told = found(&path).unwrap();
        assert_eq!(told.code, Code::Damaged);
        assert!(told.message.contains("is not as it was written"), "{}", told.message);
        assert!(told.message.contains("entry A-"), "{}", told.message);
    }

    #[test]
    fn a_file_that_is_no_longer_on_the_desk_is_not_read_to_its_end() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        firm(&path);
        let room = Room::new(Settings::default());
        block_on(room.put(&path, false)).unwrap();
        let before = room.file().unwrap();
        block_on(room.take_away()).unwrap();
        assert_eq!(look(&room, &before), None);
        begin(&room);
        assert_eq!(*held(&room.unsound), None, "there is no file to read");
    }
}

//! How a file with new letters takes the place of the one it was made from. It is made in a folder beside it, with its
//! keys; then one file is renamed, and by the letters of what lies there it is known whether that was done. Whenever it
//! is cut, the old file is there with its keys or the new one with its own, never some of each.

use crate::error::ExchangeError;
use crate::secrets::DeviceSecrets;
use desk::OfficeError;
use ledger::open::attachment_folder;
use ledger::{Moment, Parted};
use serde::{Deserialize, Serialize};
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The folder in which it is made.
pub(crate) struct Work(PathBuf);

/// What is about to take a file's place.
#[derive(Serialize, Deserialize)]
struct Note {
    /// Its letters.
    letter: String,
    /// The name under which the old one is kept.
    aside: PathBuf,
}

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cut {
    /// It is written down what takes whose place.
    IsNoted,
    /// The old file lies in the folder too.
    IsKept,
    /// The new file lies in the old one's place.
    HasMoved,
    /// The old one lies under its other name.
    IsAside,
    /// The keys are the new file's.
    HasKeys,
}

/// Told how far it is. In a test an error is a cut: nothing is put in order after it.
pub(crate) type At<'a> = &'a mut dyn FnMut(Cut) -> Result<(), ExchangeError>;

fn failed(place: &Path) -> impl FnOnce(std::io::Error) -> ExchangeError + '_ {
    move |error| OfficeError::io(format!("{} could not be written", place.display()), &error).into()
}

fn folder_of(ledger: &Path) -> &Path {
    ledger.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// How the names of a ledger's folders begin.
fn beginning(ledger: &Path) -> OsString {
    let mut name = OsString::from(".");
    name.push(ledger.file_name().unwrap_or_default());
    name.push("-letters-");
    name
}

impl Work {
    /// A new folder beside a ledger.
    pub(crate) fn begin(ledger: &Path) -> Result<Work, ExchangeError> {
        let folder = folder_of(ledger);
        let made = tempfile::Builder::new().prefix(&beginning(ledger)).tempdir_in(folder);
        Ok(Work(made.map_err(failed(folder))?.keep()))
    }

    /// Where the new file is made.
    pub(crate) fn part(&self) -> PathBuf {
        self.0.join("ledger")
    }

    fn was(&self) -> PathBuf {
        self.0.join("was")
    }

    fn note(&self) -> PathBuf {
        self.0.join("note")
    }

    fn read(&self) -> Option<Note> {
        serde_json::from_slice(&std::fs::read(self.note()).ok()?).ok()
    }

    /// Puts the new file in the old one's place. Answers where the old one lies from now on.
    pub(crate) fn take_place(
        &self,
        old: Parted,
        was: &str,
        letter: &str,
        at: At<'_>,
    ) -> Result<PathBuf, ExchangeError> {
        let path = old.path().to_owned();
        let note = Note { letter: letter.to_owned(), aside: aside(&path, was) };
        merge(&attachment_folder(&self.part()), &attachment_folder(&path))?;
        let text = serde_json::to_vec(&note).map_err(std::io::Error::from).map_err(failed(&self.note()))?;
        std::fs::write(self.note(), text).map_err(failed(&self.note()))?;
        at(Cut::IsNoted)?;
        let mut stopped = None;
        let mut told = |moment: Moment| {
            let cut = match moment {
                Moment::IsKept => Cut::IsKept,
                Moment::HasMoved => Cut::HasMoved,
            };
            at(cut).map_err(|error| {
                stopped = Some(error);
                ledger::LedgerError::Stopped
            })
        };
        let given = old.give_way(&self.part(), &self.was(), &mut told);
        given.map_err(|error| stopped.take().unwrap_or_else(|| error.into()))?;
        self.settle(&path, &note, at)?;
        Ok(note.aside)
    }

    /// Does what is left once the new file lies there. Cut, it is done from its beginning.
    fn settle(&self, path: &Path, note: &Note, at: At<'_>) -> Result<(), ExchangeError> {
        merge(&attachment_folder(&self.part()), &attachment_folder(path))?;
        let keys = DeviceSecrets::kept(&self.part())?.ok_or(ExchangeError::NoKeys)?;
        if self.was().exists() {
            let old = DeviceSecrets::kept(path)?.filter(|old| old.signs_with() != keys.signs_with());
            if let Some(old) = old {
                old.keep(&note.aside)?;
            }
            std::fs::rename(self.was(), &note.aside).map_err(failed(&note.aside))?;
        }
        at(Cut::IsAside)?;
        keys.take_the_place_of(path)?;
        at(Cut::HasKeys)?;
        std::fs::remove_dir_all(&self.0).map_err(failed(&self.0))
    }
}

/// Ends what was cut: where the file that lies there has the letters that were to come, the rest is done; else what was
/// made is taken away. For whoever holds the ledger for writing.
pub(crate) fn finish(ledger: &Path, letter: &str) -> Result<(), ExchangeError> {
    let (folder, beginning) = (folder_of(ledger), beginning(ledger));
    let beginning = beginning.as_encoded_bytes();
    for found in std::fs::read_dir(folder).map_err(failed(folder))? {
        let found = found.map_err(failed(folder))?;
        if !found.file_name().as_encoded_bytes().starts_with(beginning) {
            continue;
        }
        let work = Work(found.path());
        match work.read().filter(|note| note.letter == letter) {
            Some(note) => work.settle(ledger, &note, &mut |_| Ok(()))?,
            None => std::fs::remove_dir_all(&work.0).map_err(failed(&work.0))?,
        }
    }
    Ok(())
}

/// “firm, as B.tearoff” beside “firm.tearoff”, and a number where that is taken.
fn aside(path: &Path, was: &str) -> PathBuf {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let ending = path.extension().map(|ending| format!(".{}", ending.to_string_lossy())).unwrap_or_default();
    let named = |more: String| path.with_file_name(format!("{stem}, as {was}{more}{ending}"));
    let mut tried = named(String::new());
    for number in 2.. {
        if !tried.exists() && !DeviceSecrets::file(&tried).exists() {
            break;
        }
        tried = named(format!(" {number}"));
    }
    tried
}

/// Photos stay where they are, and those that came join them.
fn merge(from: &Path, to: &Path) -> Result<(), ExchangeError> {
    let shelves = match std::fs::read_dir(from) {
        Err(none) if none.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        shelves => shelves.map_err(failed(from))?,
    };
    for shelf in shelves {
        let shelf = shelf.map_err(failed(from))?.path();
        let Some(name) = shelf.file_name().filter(|_| shelf.is_dir()) else { continue };
        let there = to.join(name);
        std::fs::create_dir_all(&there).map_err(failed(&there))?;
        for file in std::fs::read_dir(&shelf).map_err(failed(&shelf))? {
            let file = file.map_err(failed(&shelf))?;
            let named = there.join(file.file_name());
            if !named.exists() {
                std::fs::rename(file.path(), &named).map_err(failed(&named))?;
            }
        }
    }
    Ok(())
}

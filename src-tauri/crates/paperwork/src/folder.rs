//! A folder of files that appears whole or not at all, and never over anything else.

use crate::error::{PaperworkError, io};
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

/// The files of a set, in the order in which they are told of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Folder {
    /// The folder's name.
    pub name: String,
    /// Each file's name and bytes.
    pub files: Vec<(String, Vec<u8>)>,
}

impl Folder {
    /// A BLAKE3 hash over the files in the order of their names: of each, the length of its name, its name, the
    /// length of its bytes and its bytes, lengths as 8 bytes, big-endian. The folder's own name is left out.
    #[must_use]
    pub fn digest(&self) -> [u8; 32] {
        let mut files: Vec<&(String, Vec<u8>)> = self.files.iter().collect();
        files.sort();
        let mut hasher = blake3::Hasher::new();
        for (name, bytes) in files {
            for part in [name.as_bytes(), bytes] {
                hasher.update(&u64::try_from(part.len()).unwrap_or(u64::MAX).to_be_bytes());
                hasher.update(part);
            }
        }
        *hasher.finalize().as_bytes()
    }

    /// Writes the set beside its place, under a name of its own. It gets its place by [`Staged::settle`]; dropped
    /// before, it leaves nothing behind. `go_on` is told how many files are written, and nothing is kept when it
    /// answers no.
    ///
    /// # Errors
    /// [`PaperworkError::Occupied`] when the place holds anything but this very set, or what the disk said.
    pub fn stage(
        &self,
        parent: &Path,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Option<Staged>, PaperworkError> {
        let place = parent.join(&self.name);
        if self.is_at(&place)? {
            return Ok(Some(Staged { made: None, place }));
        }
        fs::create_dir_all(parent).map_err(io("Making the folder", parent))?;
        let made = self.room(parent)?;
        let staged = Staged { made: Some(made.clone()), place };
        for (index, (name, bytes)) in self.files.iter().enumerate() {
            if !go_on(index) {
                return Ok(None);
            }
            let path = made.join(name);
            let write = || -> std::io::Result<()> {
                let mut file = fs::File::create_new(&path)?;
                file.write_all(bytes)?;
                file.sync_all()
            };
            write().map_err(io("Writing", &path))?;
        }
        sync(&made);
        Ok(Some(staged))
    }

    /// An empty folder that nobody else uses.
    fn room(&self, parent: &Path) -> Result<PathBuf, PaperworkError> {
        let mut attempt = 0_u32;
        loop {
            let path = parent.join(format!(".{}.unfinished-{}-{attempt}", self.name, std::process::id()));
            match fs::create_dir(&path) {
                Ok(()) => return Ok(path),
                Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists && attempt < 1000 => {
                    attempt += 1;
                }
                Err(error) => return Err(io("Making the folder", &path)(error)),
            }
        }
    }

    /// Whether exactly these files are already there; an error when something else is.
    fn is_at(&self, place: &Path) -> Result<bool, PaperworkError> {
        let found = match fs::symlink_metadata(place) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(false),
            Err(error) => return Err(io("Looking at", place)(error)),
            Ok(found) => found,
        };
        let occupied = || PaperworkError::Occupied { path: place.to_owned() };
        if !found.is_dir() {
            return Err(occupied());
        }
        let mut names = Vec::new();
        for entry in fs::read_dir(place).map_err(io("Looking at", place))? {
            names.push(entry.map_err(io("Looking at", place))?.file_name());
        }
        let same = names.len() == self.files.len()
            && self
                .files
                .iter()
                .all(|(name, bytes)| fs::read(place.join(name)).is_ok_and(|found| found == *bytes));
        if same { Ok(true) } else { Err(occupied()) }
    }
}

/// A set that is written and does not have its place yet.
#[derive(Debug)]
pub struct Staged {
    made: Option<PathBuf>,
    place: PathBuf,
}

impl Staged {
    /// Whether the same set already is in its place.
    #[must_use]
    pub fn already_there(&self) -> bool {
        self.made.is_none()
    }

    /// Gives the set its place.
    ///
    /// # Errors
    /// When something else took the place meanwhile, or what the disk said.
    pub fn settle(mut self) -> Result<PathBuf, PaperworkError> {
        let place = std::mem::take(&mut self.place);
        if let Some(made) = &self.made {
            // A rename would silently take the place of an empty folder.
            if fs::symlink_metadata(&place).is_ok() {
                return Err(PaperworkError::Occupied { path: place });
            }
            fs::rename(made, &place).map_err(io("Naming", &place))?;
            self.made = None;
            if let Some(parent) = place.parent() {
                sync(parent);
            }
        }
        Ok(place)
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        if let Some(made) = &self.made {
            let _ = fs::remove_dir_all(made);
        }
    }
}

/// Makes a folder's list of names durable where the system can; where it cannot, the files themselves are.
fn sync(folder: &Path) {
    if let Ok(folder) = fs::File::open(folder) {
        let _ = folder.sync_all();
    }
}

#[cfg(test)]
mod tests {
    use super::Folder;
    use crate::error::PaperworkError;
    use std::fs;

    fn set() -> Folder {
        let files = vec![("a.csv".to_owned(), b"1\r\n".to_vec()), ("b.txt".to_owned(), b"two".to_vec())];
        Folder { name: "quill-2026-10-part-1".to_owned(), files }
    }

    #[test]
    fn a_set_appears_whole_and_once() {
        let dir = tempfile::tempdir().unwrap();
        let parent = dir.path().join("for the bookkeeper");
        let staged = set().stage(&parent, &mut |_| true).unwrap().unwrap();
        assert!(!parent.join("quill-2026-10-part-1").exists() && !staged.already_there());
        let place = staged.settle().unwrap();
        assert_eq!(fs::read(place.join("a.csv")).unwrap(), b"1\r\n");
        assert_eq!(fs::read_dir(&parent).unwrap().count(), 1, "nothing unfinished is left");
        let again = set().stage(&parent, &mut |_| true).unwrap().unwrap();
        assert!(again.already_there());
        assert_eq!(again.settle().unwrap(), place);
    }

    #[test]
    fn nothing_else_is_ever_overwritten() {
        let dir = tempfile::tempdir().unwrap();
        let place = dir.path().join("quill-2026-10-part-1");
        let occupied = |set: &Folder| {
            matches!(set.stage(dir.path(), &mut |_| true), Err(PaperworkError::Occupied { .. }))
        };
        fs::write(&place, "a file").unwrap();
        assert!(occupied(&set()));
        fs::remove_file(&place).unwrap();
        fs::create_dir(&place).unwrap();
        assert!(occupied(&set()), "an empty folder is somebody's too");
        fs::remove_dir(&place).unwrap();
        set().stage(dir.path(), &mut |_| true).unwrap().unwrap().settle().unwrap();
        let mut changed = set();
        changed.files[1].1 = b"three".to_vec();
        assert!(occupied(&changed));
        fs::write(place.join("notes.txt"), "the bookkeeper's own").unwrap();
        assert!(occupied(&set()));
        assert_eq!(fs::read(place.join("b.txt")).unwrap(), b"two");
    }

    #[test]
    fn a_stop_or_a_taken_place_leaves_nothing() {
        let dir = tempfile::tempdir().unwrap();
        assert!(set().stage(dir.path(), &mut |written| written < 1).unwrap().is_none());
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
        let staged = set().stage(dir.path(), &mut |_| true).unwrap().unwrap();
        fs::create_dir(dir.path().join("quill-2026-10-part-1")).unwrap();
        assert!(matches!(staged.settle(), Err(PaperworkError::Occupied { .. })));
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1, "only the folder that took the place");
    }

    #[test]
    fn the_hash_is_of_names_and_bytes_and_not_of_their_order() {
        let mut turned = set();
        turned.files.reverse();
        turned.name = "elsewhere".to_owned();
        assert_eq!(turned.digest(), set().digest());
        let mut renamed = set();
        renamed.files[0].0 = "c.csv".to_owned();
        assert_ne!(renamed.digest(), set().digest());
        let mut moved = set();
        moved.files[0] = ("a.cs".to_owned(), b"v1\r\n".to_vec());
        assert_ne!(moved.digest(), set().digest());
    }
}

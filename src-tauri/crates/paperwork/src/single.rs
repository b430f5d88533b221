//! One file that leaves the building, such as a PDF: written whole under its name, or not at all.

use crate::error::{PaperworkError, io};
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Writes a file: first beside its place, under a name that nobody else can have, then in one step into it. What was
/// there is replaced only where a person said so.
///
/// # Errors
/// [`PaperworkError::Occupied`] when something is there, or what the disk said; nothing is left half-written then.
pub fn write(place: &Path, bytes: &[u8], replace: bool) -> Result<(), PaperworkError> {
    let folder = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    // As any new file; a work file is its maker's alone otherwise.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut beside = builder.prefix(".unfinished-").tempfile_in(folder).map_err(io("Writing", place))?;
    beside.write_all(bytes).and_then(|()| beside.as_file().sync_all()).map_err(io("Writing", place))?;
    let settled = if replace { beside.persist(place) } else { beside.persist_noclobber(place) };
    settled.map(|_| ()).map_err(|failed| match failed.error.kind() {
        ErrorKind::AlreadyExists => PaperworkError::Occupied { path: place.to_owned() },
        _ => io("Writing", place)(failed.error),
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_file_is_written_whole_or_not_at_all() {
        let dir = tempfile::tempdir().unwrap();
        let place = dir.path().join("proposal.pdf");
        super::write(&place, b"one", false).unwrap();
        let words = super::write(&place, b"two", false).unwrap_err().to_string();
        assert!(words.contains("already holds something else. Nothing was written"), "{words}");
        assert_eq!(std::fs::read(&place).unwrap(), b"one");
        super::write(&place, b"two", true).unwrap();
        assert_eq!(std::fs::read(&place).unwrap(), b"two");
        assert!(super::write(&dir.path().join("none/proposal.pdf"), b"x", true).is_err());
        assert!(super::write(dir.path(), b"x", true).is_err(), "a folder is in its place");
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1, "nothing unfinished is left");
    }
}

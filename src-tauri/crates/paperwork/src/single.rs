//! One file that leaves the building, such as a PDF: written whole under its name, or not at all.

use crate::error::{PaperworkError, io};
use std::fs;
use std::io::Write;
use std::path::Path;

/// Writes a file: first beside its place, then in one step into it. What was there is replaced, because whoever chose
/// the name was asked about that.
///
/// # Errors
/// What the disk said; nothing is left half-written then.
pub fn write(place: &Path, bytes: &[u8]) -> Result<(), PaperworkError> {
    let folder = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let name = place.file_name().unwrap_or_default().to_string_lossy();
    let beside = folder.join(format!(".{name}.unfinished-{}", std::process::id()));
    let written = fs::File::create(&beside)
        .and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()))
        .and_then(|()| fs::rename(&beside, place));
    written.map_err(|error| {
        let _ = fs::remove_file(&beside);
        io("Writing", place)(error)
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_file_is_written_whole_or_not_at_all() {
        let dir = tempfile::tempdir().unwrap();
        let place = dir.path().join("proposal.pdf");
        super::write(&place, b"one").unwrap();
        super::write(&place, b"two").unwrap();
        assert_eq!(std::fs::read(&place).unwrap(), b"two");
        assert!(super::write(&dir.path().join("none/proposal.pdf"), b"x").is_err());
        assert!(super::write(dir.path(), b"x").is_err(), "a folder is in its place");
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1, "nothing unfinished is left");
    }
}

//! Files on their way in, piece by piece: what has come of each lies beside the attachments until it is whole. Then it
//! is what its hash says and gets its name, or it goes and is asked for again.

use crate::attachment;
use crate::error::{LedgerError, io};
use crate::id::Digest;
use crate::open;
use std::fs::File;
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// The bytes of each piece but the last: small enough for a slow line to carry before it breaks.
pub const PIECE_BYTES: u64 = 128 * 1024;

/// What lies in the folder of attachments under this name has not come whole.
const COMING: &str = "coming";

/// Of how many pieces a file of so many bytes is.
#[must_use]
pub fn pieces_of(bytes: u64) -> u64 {
    bytes.div_ceil(PIECE_BYTES)
}

/// Whether the file of an attachment is beside the ledger.
#[must_use]
pub fn is_here(ledger: &Path, hash: Digest) -> bool {
    attachment::file_of(&open::attachment_folder(&open::real(ledger)), hash).exists()
}

/// How many pieces of a file have come. Half a piece, as a cut leaves it, is none.
#[must_use]
pub fn pieces_here(ledger: &Path, hash: Digest) -> u64 {
    // A byte more would begin the next piece.
    std::fs::metadata(part(ledger, hash)).map_or(0, |found| pieces_of(found.len() + 1) - 1)
}

/// Adds a piece, the one after those that have come. Answers whether the file is whole now; one that came whole and is
/// not what its hash says is begun anew.
///
/// # Errors
/// When the disk refuses.
pub fn add_piece(ledger: &Path, hash: Digest, size: u64, piece: &[u8]) -> Result<bool, LedgerError> {
    let path = part(ledger, hash);
    let at = || format!("{} could not be written", path.display());
    let here = pieces_here(ledger, hash) * PIECE_BYTES;
    let folder = path.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder).map_err(io(at()))?;
    let mut file = File::options().create(true).truncate(false).write(true).open(&path).map_err(io(at()))?;
    let wrote = file.set_len(here).and_then(|()| file.seek(SeekFrom::End(0)));
    wrote.and_then(|_| file.write_all(piece)).map_err(io(at()))?;
    let is_last = here + u64::try_from(piece.len()).unwrap_or(u64::MAX) >= size;
    if !is_last {
        // On the disk before anybody is told that it came; the length alone says how far it is.
        file.sync_all().map_err(io(at()))?;
        return Ok(false);
    }
    drop(file);
    let bytes = std::fs::read(&path).map_err(io(at()))?;
    let is_whole = Digest::of(&bytes) == hash;
    if is_whole {
        attachment::write(&open::attachment_folder(&open::real(ledger)), hash, &bytes)?;
    }
    std::fs::remove_file(&path).map_err(io(at()))?;
    Ok(is_whole)
}

fn part(ledger: &Path, hash: Digest) -> PathBuf {
    open::attachment_folder(&open::real(ledger)).join(COMING).join(hash.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_comes_in_pieces_and_is_what_its_hash_says_or_comes_again() {
        let home = tempfile::tempdir().unwrap();
        let ledger = home.path().join("firm.tearoff");
        let piece = usize::try_from(PIECE_BYTES).unwrap();
        let bytes: Vec<u8> = (0..2 * piece + 5).map(|n| u8::try_from(n % 251).unwrap()).collect();
        let (hash, size) = (Digest::of(&bytes), u64::try_from(bytes.len()).unwrap());
        assert_eq!((pieces_of(size), pieces_of(PIECE_BYTES), pieces_of(1)), (3, 1, 1));
        assert!(!add_piece(&ledger, hash, size, &bytes[..piece]).unwrap());
        assert!(!is_here(&ledger, hash) && pieces_here(&ledger, hash) == 1);
        // A cut leaves half a piece: it is written over.
        let half = File::options().append(true).open(part(&ledger, hash)).unwrap().write(b"half");
        assert_eq!((half.unwrap(), pieces_here(&ledger, hash)), (4, 1));
        assert!(!add_piece(&ledger, hash, size, &bytes[piece..2 * piece]).unwrap());
        assert!(add_piece(&ledger, hash, size, &bytes[2 * piece..]).unwrap());
        assert!(is_here(&ledger, hash) && pieces_here(&ledger, hash) == 0);
        assert_eq!(attachment::read(&ledger, hash).unwrap(), bytes);
        // What is not what its hash says leaves nothing behind.
        let other = Digest::of(b"other");
        assert!(!add_piece(&ledger, other, 5, b"wrong").unwrap());
        assert!(!is_here(&ledger, other) && !part(&ledger, other).exists());
        assert!(add_piece(&ledger, other, 5, b"other").unwrap());
    }
}

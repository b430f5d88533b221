//! Attachments: photos, signatures and papers as files beside the ledger, each named by its BLAKE3 hash.
//!
//! The file is on the disk, under its name, before the fact that names it is recorded; a file without a fact is
//! harmless, a fact without its file would not be.

use crate::error::{LedgerError, io, refuse};
use crate::facts::{Attachment, Fact};
use crate::id::Digest;
use crate::kind::{KindSpec, Record, TableSpec, Value};
use crate::kinds::KINDS;
use crate::open;
use crate::read::{Books, Entered, Which};
use jiff::civil::Date;
use rusqlite::Connection;
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The largest attachment: 64 MiB.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

/// The file of an attachment in a folder of attachments: the first two digits of its hash are a folder of their own,
/// so that no folder grows too long to be listed.
#[must_use]
pub fn file_of(folder: &Path, hash: Digest) -> PathBuf {
    let name = hash.to_string();
    folder.join(name.get(..2).unwrap_or_default()).join(name)
}

/// Puts a file beside the ledger and answers with the fact to be recorded. Putting the same bytes there twice does
/// nothing the second time.
///
/// # Errors
/// When there is nothing in it, it is too large, its media type is not one, or the disk refuses.
pub fn store(
    ledger: &Path,
    bytes: &[u8],
    media_type: &str,
    name: Option<&str>,
    date: Date,
) -> Result<Attachment, LedgerError> {
    if bytes.is_empty() {
        return refuse("bytes", "the file is empty", "Choose another file, or take the picture again");
    }
    if bytes.len() > MOST_BYTES {
        let size = bytes.len().div_ceil(1024 * 1024);
        return refuse(
            "bytes",
            format!("the file has {size} MiB, and 64 MiB is the most"),
            "Make it smaller first",
        );
    }
    check_media_type(media_type)?;
    let hash = Digest::of(bytes);
    let folder = open::attachment_folder(&open::real(ledger));
    // A file that is there but damaged is written again: these bytes are what its name says.
    if check_file(&folder, hash, None).is_err() {
        write(&folder, hash, bytes)?;
    }
    let name = name.map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned);
    let bytes = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
    Ok(Attachment { date, hash, media_type: media_type.to_owned(), bytes, name })
}

/// Type and subtype as RFC 6838, section 4.2 writes them.
fn check_media_type(text: &str) -> Result<(), LedgerError> {
    let is_name = |name: &str| {
        name.starts_with(|letter: char| letter.is_ascii_alphanumeric())
            && name.len() <= 127
            && name.chars().all(|letter| letter.is_ascii_alphanumeric() || "!#$&-^_.+".contains(letter))
    };
    match text.split_once('/') {
        Some((kind, subtype)) if is_name(kind) && is_name(subtype) => Ok(()),
        _ => refuse("media_type", format!("“{text}” is not a media type"), "Use one such as image/jpeg"),
    }
}

/// Writes bytes under their hash: first under another name, so that no one ever finds half a file under its own.
pub(crate) fn write(folder: &Path, hash: Digest, bytes: &[u8]) -> Result<(), LedgerError> {
    let path = file_of(folder, hash);
    let shelf = path.parent().unwrap_or(folder).to_owned();
    let at = || format!("The attachment {} could not be written", path.display());
    std::fs::create_dir_all(&shelf).map_err(io(at()))?;
    // Under a name that nobody else can have; it goes with the file when this fails.
    let mut part = open::work_file(&shelf).map_err(io(at()))?;
    part.write_all(bytes).and_then(|()| part.as_file().sync_all()).map_err(io(at()))?;
    part.persist(&path).map_err(|error| io(at())(error.error))?;
    open::sync_folder(Some(&shelf))?;
    open::sync_folder(Some(folder))?;
    open::sync_folder(folder.parent())
}

/// The bytes of an attachment, checked against its hash.
///
/// # Errors
/// When the file is missing or changed, or cannot be read.
pub fn read(ledger: &Path, hash: Digest) -> Result<Vec<u8>, LedgerError> {
    let folder = open::attachment_folder(&open::real(ledger));
    read_from(&folder, hash)
}

pub(crate) fn read_from(folder: &Path, hash: Digest) -> Result<Vec<u8>, LedgerError> {
    let damaged = |problem: &str| LedgerError::Damaged {
        place: format!("The attachment {hash}"),
        problem: problem.to_owned(),
    };
    let path = file_of(folder, hash);
    let bytes = std::fs::read(&path).map_err(|source| match source.kind() {
        std::io::ErrorKind::NotFound => damaged("its file is missing"),
        _ => LedgerError::Io { what: format!("The attachment {} could not be read", path.display()), source },
    })?;
    if Digest::of(&bytes) == hash {
        Ok(bytes)
    } else {
        Err(damaged("its file was changed since it was stored"))
    }
}

/// What is wrong with an attachment's file, if anything, as the end of a sentence about it.
pub(crate) fn check_file(folder: &Path, hash: Digest, size: Option<i64>) -> Result<(), String> {
    let path = file_of(folder, hash);
    let found = std::fs::metadata(&path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => "is missing".to_owned(),
        _ => format!("cannot be read ({error})"),
    })?;
    if let Some(size) = size
        && i64::try_from(found.len()) != Ok(size)
    {
        return Err(format!("has {} bytes and was stored with {size}", found.len()));
    }
    let mut hasher = blake3::Hasher::new();
    let read = File::open(&path).and_then(|file| hasher.update_reader(file).map(|_| ()));
    read.map_err(|error| format!("cannot be read ({error})"))?;
    if hasher.finalize().as_bytes() == &hash.0 {
        Ok(())
    } else {
        Err("was changed since it was stored".to_owned())
    }
}

/// Refuses a fact whose files are not there: an attachment without its file, or a photo, picture or signature that
/// nobody attached. Written, it would be damage that stands for good.
pub(crate) fn check_files(
    conn: &Connection,
    ledger: &Path,
    fact: &Fact,
    spec: &KindSpec,
    record: &Record,
) -> Result<(), LedgerError> {
    if let Fact::Attachment(attachment) = fact {
        let folder = open::attachment_folder(ledger);
        return check_file(&folder, attachment.hash, Some(attachment.bytes)).or_else(|problem| {
            let hash = attachment.hash;
            let remedy = "Attach the file itself: the fact is recorded when that is done";
            refuse("hash", format!("the file {hash} {problem}"), remedy)
        });
    }
    if !spec.names_files() {
        return Ok(());
    }
    check_attached(conn, &spec.own, &record.own, "")?;
    for ((list, name), lines) in spec.lists.iter().zip(spec.list_names).zip(&record.lists) {
        for (index, line) in lines.iter().enumerate() {
            check_attached(conn, list, line, &format!("{name}[{index}]."))?;
        }
    }
    Ok(())
}

fn check_attached(
    conn: &Connection,
    table: &TableSpec,
    values: &[Value],
    prefix: &str,
) -> Result<(), LedgerError> {
    let files = table.columns.iter().zip(&table.files).zip(values).filter(|((_, is_file), _)| **is_file);
    for ((column, _), value) in files {
        let attached = "SELECT 1 FROM attachment WHERE hash = ?1";
        if *value != Value::Null && !conn.prepare_cached(attached)?.exists([value])? {
            let problem = "nobody attached a file with this hash";
            return refuse(format!("{prefix}{column}"), problem, "Attach the file first, then name it");
        }
    }
    Ok(())
}

impl Books<'_> {
    /// The fact that attached a file, by the file's hash.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn attachment(&self, hash: Digest) -> Result<Option<Entered<Attachment>>, LedgerError> {
        Ok(self.select::<Attachment>(Which::All, "f.hash = ?1", &[&hash.0.as_slice()])?.pop())
    }

    /// Whether a file is named in the sealed part of a fact and in the open part of none: then it is no more a crew's
    /// than that part. A file that no fact names yet is not.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn is_sealed_file(&self, hash: Digest) -> Result<bool, LedgerError> {
        let mut sealed = false;
        for spec in KINDS.iter().filter(|spec| spec.names_files()) {
            for table in std::iter::once(&spec.own).chain(&spec.lists) {
                let columns = table.columns.iter().zip(&table.open).zip(&table.files);
                for ((column, open), _) in columns.filter(|(_, is_file)| **is_file) {
                    let sql = format!("SELECT 1 FROM {} WHERE {column} = ?1", table.table);
                    let named = self.conn.prepare_cached(&sql)?.exists([hash.0.as_slice()])?;
                    if named && *open {
                        return Ok(false);
                    }
                    sealed |= named;
                }
            }
        }
        Ok(sealed)
    }

    /// Whether a bill names a file as its picture.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn is_of_bill(&self, hash: Digest) -> Result<bool, LedgerError> {
        let mut named = self.conn.prepare_cached("SELECT 1 FROM bill WHERE picture = ?1")?;
        Ok(named.exists([hash.0.as_slice()])?)
    }
}

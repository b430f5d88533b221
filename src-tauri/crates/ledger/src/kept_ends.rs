//! The ends of the chains, kept outside the file. A chain tells by itself what was changed within it, and never that
//! its tail was cut off, that the whole file was rolled back, or that another file lies in its place: each of these is
//! a good chain. So this computer keeps, for every ledger that it writes, how far each device's entries went and the
//! hash of the last, in a small file of the user's own; and holds the ledger against it whenever it is opened.
//!
//! It is written after an entry is on the disk, and not synced: after a power cut it may lag behind the ledger, which
//! is harmless, and never runs ahead of it.

use crate::error::LedgerError;
use crate::id::{Digest, Id};
use crate::spine::{self, ChainEnd};
use rusqlite::{Connection, OptionalExtension};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// The setting that tells one copy of a ledger from another, whatever its name. A restored one is a new copy.
pub(crate) const COPY_ID: &str = "copy-id";

/// What to do where an older state or another file lies.
const RESTORE: &str = "Restore the newest back-up to another name and go on there; if this file is the one to go on \
                       with, restore it itself to another name.";

/// What to do with a copy that fell behind.
const OPEN_THE_OTHER: &str = "Open that copy and go on there; if this file is the one to go on with, restore it itself \
                              to another name.";

/// What to do where two copies were each written on.
const RELETTER: &str = "Nothing is lost. Decide which one keeps the letter. Let the owner add a device there, then \
                        give the other one new letters with the joining file that makes: “Give a file new letters” on \
                        the first page, or `tearoff device FILE reletter JOINING`.";

/// Where this program keeps ends; nowhere until it is told.
static FOLDER: OnceLock<PathBuf> = OnceLock::new();

/// Says where ends are kept from now on. The first word counts.
pub fn keep_in(folder: PathBuf) {
    let _ = FOLDER.set(folder);
}

/// What is kept of one file.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
struct Known {
    /// Its path, for people.
    file: String,
    /// Which copy of a ledger it is.
    copy: String,
    /// Each device's last number and its hash.
    ends: Ends,
    /// The same of a file that is about to take this one's place: either may be found there.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    instead: Ends,
}

/// Each device's last number and its hash.
type Ends = BTreeMap<String, (i64, String)>;

/// What this computer knows of the ledger at one path.
#[derive(Debug)]
pub(crate) struct KeptEnds {
    folder: PathBuf,
    name: String,
    known: Known,
    file: String,
    copy: String,
}

impl KeptEnds {
    /// What is known of the ledger at a path; nothing where no ends are kept.
    pub(crate) fn of(path: &Path, conn: &Connection) -> Result<Option<KeptEnds>, LedgerError> {
        FOLDER.get().map_or(Ok(None), |folder| KeptEnds::at(folder, path, conn))
    }

    fn at(folder: &Path, path: &Path, conn: &Connection) -> Result<Option<KeptEnds>, LedgerError> {
        let Ok(file) = path.canonicalize() else { return Ok(None) };
        let sql = "SELECT value FROM setting WHERE name = ?1";
        let copy: Option<String> = conn.query_row(sql, [COPY_ID], |row| row.get(0)).optional()?;
        let name = blake3::hash(file.as_os_str().as_encoded_bytes()).to_hex().as_str()[..32].to_owned();
        let known = read(folder, &name).unwrap_or_default();
        let file = file.display().to_string();
        Ok(Some(KeptEnds { folder: folder.to_owned(), name, known, file, copy: copy.unwrap_or_default() }))
    }

    /// What is wrong with the file that lies there now: the end of a sentence about it, and what to do.
    pub(crate) fn problem(&self, conn: &Connection) -> Result<Option<(String, &'static str)>, LedgerError> {
        let has_come = self.is_the_other(conn)?;
        if let Some((device, seq, found)) = lacking(conn, &self.known.ends)?.filter(|_| !has_come) {
            let problem = match found {
                None => {
                    let end = spine::end_of(conn, &device)?.seq;
                    let lost = seq - end;
                    let entries = if lost == 1 { "entry is" } else { "entries are" };
                    format!(
                        "it ends at {device} {end}, and this computer saw it end at {device} {seq}: the last {lost} \
                         {entries} missing"
                    )
                }
                Some(_) => format!(
                    "its entry {device} {seq} is not the one that this computer saw there: an older state, a copy that \
                     was written elsewhere or another firm's file lies in its place"
                ),
            };
            return Ok(Some((problem, RESTORE)));
        }
        for other in self.others() {
            if let Some((device, seq, found)) = lacking(conn, &other.ends)? {
                let (file, end) = (&other.file, spine::end_of(conn, &device)?.seq);
                return Ok(Some(match found {
                    None => (
                        format!(
                            "a copy of it, {file}, was written on to {device} {seq}, and this one ends at {device} \
                             {end}"
                        ),
                        OPEN_THE_OTHER,
                    ),
                    Some(_) => (
                        format!(
                            "its copy {file} holds another entry {device} {seq}: both were written under one letter"
                        ),
                        RELETTER,
                    ),
                }));
            }
        }
        Ok(None)
    }

    /// Refuses a file that is not what this computer last saw there.
    pub(crate) fn check(&self, path: &Path, conn: &Connection) -> Result<(), LedgerError> {
        match self.problem(conn)? {
            None => Ok(()),
            Some((problem, remedy)) => {
                Err(LedgerError::OtherEnd { path: path.to_owned(), problem, remedy: remedy.to_owned() })
            }
        }
    }

    /// Whether the file that was about to take this one's place is the one that lies there.
    fn is_the_other(&self, conn: &Connection) -> Result<bool, LedgerError> {
        Ok(!self.known.instead.is_empty() && lacking(conn, &self.known.instead)?.is_none())
    }

    /// Says that another file is about to take this one's place. Cut before it does or after, what lies there is known.
    pub(crate) fn await_other(&mut self, other: &Connection) -> Result<(), LedgerError> {
        self.known.instead = ends_of(other)?;
        self.write();
        Ok(())
    }

    /// Settles which of the two lies there, where one was about to take the other's place.
    pub(crate) fn settle(&mut self, conn: &Connection) -> Result<(), LedgerError> {
        if self.is_the_other(conn)? { self.begin_anew(conn) } else { Ok(()) }
    }

    /// Keeps the end of one device.
    pub(crate) fn keep(&mut self, device: &str, end: &ChainEnd) {
        self.known.instead.clear();
        if end.seq > 0 {
            self.known.ends.insert(device.to_owned(), (end.seq, end.hash.to_string()));
        }
        self.write();
    }

    /// Forgets what lay there before: this is a new file, and these are its ends.
    pub(crate) fn begin_anew(&mut self, conn: &Connection) -> Result<(), LedgerError> {
        self.known.ends = ends_of(conn)?;
        self.known.instead.clear();
        self.write();
        Ok(())
    }

    /// A folder that cannot be written keeps no ends, and nothing else changes.
    fn write(&mut self) {
        (self.known.file, self.known.copy) = (self.file.clone(), self.copy.clone());
        let among = self.folder.join("copies").join(&self.copy);
        let marked = among.join(&self.name);
        let kept = serde_json::to_vec(&self.known).map_err(std::io::Error::from).and_then(|bytes| {
            if !self.copy.is_empty() && !marked.exists() {
                std::fs::create_dir_all(&among)?;
                std::fs::write(&marked, b"")?;
            }
            std::fs::create_dir_all(&self.folder)?;
            // Under a name of its own first: cut half-way, what was kept before stays whole.
            let mut part = tempfile::NamedTempFile::new_in(&self.folder)?;
            part.write_all(&bytes)?;
            part.persist(self.folder.join(format!("{}.json", self.name))).map_err(|error| error.error)?;
            Ok(())
        });
        if let Err(error) = kept {
            tracing::warn!(%error, "the end of the chain was not kept outside the file");
        }
    }

    /// What is known of other files that are the same copy.
    fn others(&self) -> Vec<Known> {
        if self.copy.is_empty() {
            return Vec::new();
        }
        let Ok(names) = std::fs::read_dir(self.folder.join("copies").join(&self.copy)) else {
            return Vec::new();
        };
        names
            .filter_map(Result::ok)
            .filter_map(|name| name.file_name().into_string().ok())
            .filter(|name| *name != self.name)
            .filter_map(|name| read(&self.folder, &name))
            .filter(|other| other.copy == self.copy)
            .collect()
    }
}

/// A file that cannot be read as what it should be tells nothing.
fn read(folder: &Path, name: &str) -> Option<Known> {
    serde_json::from_slice(&std::fs::read(folder.join(format!("{name}.json"))).ok()?).ok()
}

/// A kept end that a file does not hold: its device, its number, and what stands there instead.
type Lacking = (String, i64, Option<Digest>);

fn ends_of(conn: &Connection) -> Result<Ends, LedgerError> {
    let mut devices = conn.prepare("SELECT DISTINCT device FROM entry")?;
    let devices = devices.query_map([], |row| row.get(0))?.collect::<Result<Vec<String>, _>>()?;
    let mut ends = Ends::new();
    for device in devices {
        let end = spine::end_of(conn, &device)?;
        ends.insert(device, (end.seq, end.hash.to_string()));
    }
    Ok(ends)
}

/// The first kept end that a file does not hold.
fn lacking(conn: &Connection, ends: &Ends) -> Result<Option<Lacking>, LedgerError> {
    for (device, (seq, hash)) in ends {
        let found = spine::hash_at(conn, device, *seq)?;
        if found.is_none_or(|found| found.to_string() != *hash) {
            return Ok(Some((device.clone(), *seq, found)));
        }
    }
    Ok(None)
}

/// Says that a file is a copy of its own from now on, such as one that was restored.
pub(crate) fn set_apart(conn: &Connection) -> Result<(), LedgerError> {
    conn.execute(
        "INSERT INTO setting (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        [COPY_ID.to_owned(), Id::now().to_string()],
    )?;
    Ok(())
}

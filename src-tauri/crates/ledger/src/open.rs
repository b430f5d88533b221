//! Opening the file: the only place where a connection is made. Every setting is made here and read back.

use crate::error::{LedgerError, io};
pub(crate) use crate::place::beside;
use crate::place::{self, Identity, SHORTEST_BYTES};
use rusqlite::hooks::{AuthAction, AuthContext, Authorization};
use rusqlite::{Connection, OpenFlags};
use rusqlite_migration::{M, Migrations};
use std::fs::File;
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};
use tempfile::{NamedTempFile, TempPath};

/// Stands in the file's header so that it is told from any other SQLite file: the bytes of “TRFF”.
pub const APPLICATION_ID: i64 = 0x5452_4646;

/// The migrations, in order. A landed one is never edited.
static MIGRATIONS: &[M<'static>] = &[
    M::up(include_str!("../../../../migrations/0001_facts.sql")),
    M::up(include_str!("../../../../migrations/0002_totals.sql")),
    M::up(include_str!("../../../../migrations/0003_drafts.sql")),
];

/// The file version that this program writes.
#[must_use]
pub fn known_version() -> i64 {
    i64::try_from(MIGRATIONS.len()).unwrap_or(i64::MAX)
}

/// The lock that the one writer holds as long as it lives. The system drops it when the process ends, however it ends.
#[derive(Debug)]
pub(crate) struct WriterLock {
    file: File,
}

impl Drop for WriterLock {
    fn drop(&mut self) {
        // Closing the file is not enough: a process that was just being started from this one may hold a copy of its
        // handle for a moment, and the lock with it.
        let _ = self.file.unlock();
    }
}

/// The file itself where the path is a symbolic link to it, so that its lock and its attachments are the same by
/// whichever name it is opened.
pub(crate) fn real(path: &Path) -> PathBuf {
    if path.is_symlink() { path.canonicalize().unwrap_or_else(|_| path.to_owned()) } else { path.to_owned() }
}

/// The lock file of a ledger.
#[must_use]
pub fn lock_path(path: &Path) -> PathBuf {
    beside(path, ".lock")
}

/// The folder of a ledger's attachments.
#[must_use]
pub fn attachment_folder(path: &Path) -> PathBuf {
    beside(path, ".attachments")
}

/// No note in a lock file is longer.
const LONGEST_NOTE: u64 = 64;

pub(crate) fn take_lock(path: &Path) -> Result<WriterLock, LedgerError> {
    let lock = lock_path(path);
    let in_the_way = |why: &str| LedgerError::Lock { path: lock.clone(), why: why.to_owned() };
    // A link would be followed, and what it leads to be emptied.
    if lock.is_symlink() {
        return Err(in_the_way("it is a link to another file"));
    }
    let mut file = File::options()
        .create(true)
        .truncate(false)
        .read(true)
        .write(true)
        .open(&lock)
        .map_err(io(format!("The lock file {} could not be made", lock.display())))?;
    let told = file.metadata().and_then(|opened| Ok((opened, std::fs::symlink_metadata(&lock)?)));
    let (opened, there) =
        told.map_err(io(format!("The lock file {} could not be looked at", lock.display())))?;
    if !there.is_file() || Identity::told(&opened) != Identity::told(&there) {
        return Err(in_the_way("it was replaced just now"));
    }
    let mut holder = String::new();
    // What is no text is no note of ours either.
    let read = Read::by_ref(&mut file).take(LONGEST_NOTE).read_to_string(&mut holder);
    let note = read.map(|_| holder.trim().to_owned());
    match file.try_lock() {
        Ok(()) => {}
        Err(std::fs::TryLockError::WouldBlock) => {
            let holder = note.ok().filter(|note| !note.is_empty()).unwrap_or_else(|| "unknown".to_owned());
            return Err(LedgerError::Busy { path: path.to_owned(), holder });
        }
        Err(std::fs::TryLockError::Error(source)) => {
            return Err(LedgerError::Io {
                what: format!("The lock file {} could not be locked", lock.display()),
                source,
            });
        }
    }
    if !note.is_ok_and(|note| note.is_empty() || note.starts_with("process ")) {
        return Err(in_the_way("it holds something else"));
    }
    let note = format!("process {}", std::process::id());
    let written = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(note.as_bytes()));
    written.map_err(io(format!("The lock file {} could not be written", lock.display())))?;
    Ok(WriterLock { file })
}

/// File systems that other machines can reach at the same time. WAL needs memory shared between all who have the file
/// open, which these do not give (the WAL page of SQLite's documentation says so).
const NETWORK_KINDS: &[&str] = &[
    "nfs",
    "nfs4",
    "cifs",
    "smb3",
    "smbfs",
    "afs",
    "9p",
    "ncpfs",
    "sshfs",
    "fuse.sshfs",
    "fuse.rclone",
    "davfs",
    "fuse.davfs2",
    "ceph",
    "glusterfs",
    "fuse.glusterfs",
    "luster",
    "beegfs",
    "gpfs",
    "coda",
    "afpfs",
    "webdav",
];

/// The network file system under a path, if the mount table names one.
///
/// `mounts` is the text of the system's mount table: device, mount point, kind, … a line.
#[must_use]
pub fn network_kind(mounts: &str, path: &Path) -> Option<String> {
    let mut best: Option<(usize, &str)> = None;
    for line in mounts.lines() {
        let mut words = line.split_whitespace();
        let (Some(_), Some(point), Some(kind)) = (words.next(), words.next(), words.next()) else { continue };
        let point = point.replace("\\040", " ");
        if path.starts_with(&point) && best.is_none_or(|(length, _)| point.len() >= length) {
            best = Some((point.len(), kind));
        }
    }
    best.filter(|(_, kind)| NETWORK_KINDS.contains(kind)).map(|(_, kind)| kind.to_owned())
}

pub(crate) fn refuse_network(path: &Path) -> Result<(), LedgerError> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let Ok(folder) = folder.canonicalize() else { return Ok(()) };
    let text = folder.to_string_lossy();
    if text.starts_with(r"\\") && !text.starts_with(r"\\?\") {
        return Err(LedgerError::NetworkPlace { path: path.to_owned(), kind: "a network share".to_owned() });
    }
    let Ok(mounts) = std::fs::read_to_string("/proc/self/mounts") else { return Ok(()) };
    match network_kind(&mounts, &folder) {
        Some(kind) => Err(LedgerError::NetworkPlace { path: path.to_owned(), kind }),
        None => Ok(()),
    }
}

fn pragma_text(conn: &Connection, name: &str) -> Result<String, LedgerError> {
    Ok(conn.query_row(&format!("PRAGMA {name}"), [], |row| {
        let value: rusqlite::types::Value = row.get(0)?;
        Ok(match value {
            rusqlite::types::Value::Integer(number) => number.to_string(),
            rusqlite::types::Value::Text(text) => text,
            other => format!("{other:?}"),
        })
    })?)
}

/// Every setting of a connection: its name, what is asked for, and how it reads back.
const SETTINGS: &[(&str, &str, &str)] = &[
    ("busy_timeout", "5000", "5000"),
    ("foreign_keys", "ON", "1"),
    // So that INSERT OR REPLACE, which deletes quietly, meets the triggers that refuse a delete.
    ("recursive_triggers", "ON", "1"),
    ("synchronous", "FULL", "2"),
    ("trusted_schema", "OFF", "0"),
    ("cell_size_check", "ON", "1"),
    // A setting or draft that is replaced is wiped, and not only no longer listed, where that costs no other write.
    ("secure_delete", "FAST", "2"),
    ("temp_store", "MEMORY", "2"),
    // 4 MB. A window with its readers, a back-up and the check of either in three parts have ten of these; 64 MB each
    // took 230 MB more on a million facts, and made nothing measured faster: the system keeps the file in memory too.
    ("cache_size", "-4096", "-4096"),
];

fn settle(conn: &Connection) -> Result<(), LedgerError> {
    for &(pragma, wanted, reads) in SETTINGS {
        // `PRAGMA x = y` answers with a row for some settings and with none for others.
        conn.execute_batch(&format!("PRAGMA {pragma} = {wanted}"))?;
        let found = pragma_text(conn, pragma)?;
        if found != reads {
            return Err(LedgerError::Pragma { pragma, wanted: wanted.to_owned(), found });
        }
    }
    conn.set_prepared_statement_cache_capacity(256);
    // So that one question can be asked of many facts: see `among`.
    rusqlite::vtab::array::load_module(conn)?;
    Ok(())
}

/// What the one writer needs besides.
fn settle_writer(conn: &Connection) -> Result<(), LedgerError> {
    settle(conn)?;
    let found: String = conn.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
    if found != "wal" {
        return Err(LedgerError::Pragma { pragma: "journal_mode", wanted: "wal".to_owned(), found });
    }
    Ok(())
}

fn refuse_writes(conn: &Connection) -> Result<(), LedgerError> {
    conn.execute_batch("PRAGMA query_only = ON")?;
    let found = pragma_text(conn, "query_only")?;
    if found != "1" {
        return Err(LedgerError::Pragma { pragma: "query_only", wanted: "1".to_owned(), found });
    }
    Ok(())
}

/// What can be told of a file without opening it. It must not be opened here: when a process closes any handle to a
/// file, the system drops all of that process's locks on it, SQLite's own among them, and then another process may
/// take the log away from under a writer (SQLite's page “How To Corrupt An SQLite Database File”, section 2.2).
fn check_file(path: &Path) -> Result<(), LedgerError> {
    let foreign = |why: &str| LedgerError::Foreign { path: path.to_owned(), why: why.to_owned() };
    let meta = std::fs::metadata(path).map_err(|source| match source.kind() {
        std::io::ErrorKind::NotFound => LedgerError::Missing(path.to_owned()),
        _ => LedgerError::Io { what: format!("{} could not be opened", path.display()), source },
    })?;
    if meta.is_dir() {
        return Err(foreign("it is a folder"));
    }
    if meta.len() < SHORTEST_BYTES {
        // Too short for SQLite to have it open, so that it may be looked into.
        return Err(cut_short(path).unwrap_or_else(|| foreign("it is too short")));
    }
    Ok(())
}

/// What to say of a file that SQLite does not take and that begins as a ledger does.
fn cut_short(path: &Path) -> Option<LedgerError> {
    place::is_ledger(path).then(|| LedgerError::Damaged {
        place: path.display().to_string(),
        problem: "it begins as a ledger does and is cut short or overwritten after that".to_owned(),
    })
}

fn check_identity(conn: &Connection, path: &Path) -> Result<i64, LedgerError> {
    let allocation: i64 = conn.query_row("PRAGMA application_id", [], |row| row.get(0)).map_err(|error| {
        match error.sqlite_error_code() {
            // SQLite could make nothing of it, so that nobody has it open.
            Some(rusqlite::ErrorCode::NotADatabase) => cut_short(path).unwrap_or_else(|| {
                LedgerError::Foreign { path: path.to_owned(), why: "it is not an SQLite file".to_owned() }
            }),
            _ => error.into(),
        }
    })?;
    if allocation != APPLICATION_ID {
        return Err(LedgerError::Foreign {
            path: path.to_owned(),
            why: "another program made it".to_owned(),
        });
    }
    let found: i64 = conn.query_row("PRAGMA user_version", [], |row| row.get(0))?;
    if found > known_version() {
        return Err(LedgerError::Newer { path: path.to_owned(), found, known: known_version() });
    }
    Ok(found)
}

fn migrate(conn: &mut Connection) -> Result<(), LedgerError> {
    // The library sets user_version in the same transaction as the statements.
    Migrations::from_slice(MIGRATIONS).to_latest(conn).map_err(|error| match error {
        rusqlite_migration::Error::RusqliteError { err, .. } => LedgerError::from(err),
        other => LedgerError::Damaged { place: "The ledger's tables".to_owned(), problem: other.to_string() },
    })
}

fn flags(extra: OpenFlags) -> OpenFlags {
    OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_EXRESCODE | extra
}

/// A new, empty file for writing.
pub(crate) fn create(path: &Path) -> Result<(Connection, WriterLock), LedgerError> {
    refuse_network(path)?;
    place::refuse_taken(path)?;
    let lock = take_lock(path)?;
    let read_write = flags(OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE);
    let mut conn = Connection::open_with_flags(path, read_write)?;
    conn.execute_batch(&format!("PRAGMA application_id = {APPLICATION_ID}"))?;
    settle_writer(&conn)?;
    migrate(&mut conn)?;
    Ok((conn, lock))
}

/// An existing file for writing. Before it is brought up to this program's version, a copy is made beside it.
pub(crate) fn write(path: &Path) -> Result<(Connection, WriterLock), LedgerError> {
    check_file(path)?;
    refuse_network(path)?;
    place::refuse_linked(path)?;
    let lock = take_lock(path)?;
    let mut conn = Connection::open_with_flags(path, flags(OpenFlags::SQLITE_OPEN_READ_WRITE))?;
    let found = check_identity(&conn, path)?;
    settle_writer(&conn)?;
    if found < known_version() {
        keep_copy(&conn, path)?;
        migrate(&mut conn)?;
    }
    Ok((conn, lock))
}

/// The copy of a file that is about to be brought up to this program's version. It gets its name only when it is
/// whole, so that a copy cut short by a power failure is never taken for one.
fn keep_copy(conn: &Connection, path: &Path) -> Result<(), LedgerError> {
    let copy = beside(path, &format!(".before-version-{}", known_version()));
    if copy.exists() {
        return Ok(());
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let work = tempfile::Builder::new().prefix(".tearoff-copy-").tempdir_in(folder);
    let work = work.map_err(io(format!("Nothing can be written to {}", folder.display())))?;
    let part = work.path().join("ledger");
    conn.execute("VACUUM INTO ?1", [part.to_string_lossy()])?;
    settle_on_disk(&part, &copy)
}

/// Gives a finished file of ours its name, unless somebody else has taken it by now. Its bytes and its name are both
/// on the disk before this returns.
pub(crate) fn settle_on_disk(part: &Path, path: &Path) -> Result<(), LedgerError> {
    let at = || format!("{} could not be written", path.display());
    File::options().write(true).open(part).and_then(|file| file.sync_all()).map_err(io(at()))?;
    let part = TempPath::try_from_path(part).map_err(io(at()))?;
    part.persist_noclobber(path).map_err(|error| taken(error.error, path, at()))?;
    sync_folder(path.parent())
}

/// A new file of ours to write into before it gets its name, which may be read by whom any new file may.
pub(crate) fn work_file(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.prefix(".tearoff-").tempfile_in(folder)
}

/// What to say when a name could not be taken.
pub(crate) fn taken(error: std::io::Error, path: &Path, what: String) -> LedgerError {
    match error.kind() {
        std::io::ErrorKind::AlreadyExists => LedgerError::Exists(path.to_owned()),
        _ => io(what)(error),
    }
}

/// Makes the names in a folder durable. Only Unix lets a folder be opened for this; elsewhere the rename suffices.
pub(crate) fn sync_folder(folder: Option<&Path>) -> Result<(), LedgerError> {
    let folder = folder.filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if cfg!(unix) {
        let what = format!("The folder {} could not be written to the disk", folder.display());
        File::open(folder).and_then(|file| file.sync_all()).map_err(io(what))?;
    }
    Ok(())
}

fn known(conn: &Connection, path: &Path) -> Result<(), LedgerError> {
    let found = check_identity(conn, path)?;
    if found < known_version() {
        return Err(LedgerError::Foreign {
            path: path.to_owned(),
            why: format!("it is of an earlier version ({found}) and must first be opened for writing"),
        });
    }
    Ok(())
}

/// An existing file for reading only.
pub(crate) fn read(path: &Path) -> Result<Connection, LedgerError> {
    let conn = scratch(path)?;
    refuse_writes(&conn)?;
    Ok(conn)
}

/// An existing file for reading, with room for scratch tables of this connection's own. The file itself cannot be
/// written: the authorizer refuses whatever is not for a scratch table.
pub(crate) fn scratch(path: &Path) -> Result<Connection, LedgerError> {
    check_file(path)?;
    refuse_network(path)?;
    // Opened read-write at the level of the file, since a reader of a WAL must be able to make its index.
    let conn = Connection::open_with_flags(path, flags(OpenFlags::SQLITE_OPEN_READ_WRITE))?;
    known(&conn, path)?;
    settle(&conn)?;
    conn.authorizer(Some(scratch_only))?;
    Ok(conn)
}

/// A back-up, wherever it lies: it is at rest and nobody writes it, so a network folder does no harm. Of any version
/// that this program knows; the version is told.
pub(crate) fn at_rest(path: &Path) -> Result<(Connection, i64), LedgerError> {
    check_file(path)?;
    let conn = Connection::open_with_flags(path, flags(OpenFlags::SQLITE_OPEN_READ_ONLY))?;
    let version = check_identity(&conn, path)?;
    settle(&conn)?;
    conn.authorizer(Some(scratch_only))?;
    Ok((conn, version))
}

/// A new file for a copy to be put into. Whoever makes it gives it its name when it is whole.
pub(crate) fn copy_target(path: &Path) -> Result<Connection, LedgerError> {
    let create = flags(OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE);
    let conn = Connection::open_with_flags(path, create)?;
    // Nobody else has it, so it needs no memory shared with others, which a network folder could not give.
    conn.execute_batch("PRAGMA locking_mode = EXCLUSIVE")?;
    Ok(conn)
}

/// Closes a copy as one file that needs no log beside it.
pub(crate) fn rest(conn: Connection) -> Result<(), LedgerError> {
    let found: String = conn.query_row("PRAGMA journal_mode = DELETE", [], |row| row.get(0))?;
    if found != "delete" {
        return Err(LedgerError::Pragma { pragma: "journal_mode", wanted: "delete".to_owned(), found });
    }
    conn.close().map_err(|(_, error)| error.into())
}

/// Brings a copy of an earlier version up to this program's.
pub(crate) fn renew(path: &Path) -> Result<(), LedgerError> {
    let mut conn = copy_target(path)?;
    migrate(&mut conn)?;
    rest(conn)
}

/// An empty ledger in memory, made by every migration: what its tables say is what this program knows of tables.
pub(crate) fn in_memory() -> Result<Connection, LedgerError> {
    let mut conn = Connection::open_in_memory()?;
    migrate(&mut conn)?;
    Ok(conn)
}

/// The tables, indexes and triggers that a file of this version has: kind, name and text.
pub(crate) fn expected_schema() -> Result<Vec<(String, String, String)>, LedgerError> {
    schema(&in_memory()?)
}

/// The tables, indexes and triggers that a file has.
pub(crate) fn schema(conn: &Connection) -> Result<Vec<(String, String, String)>, LedgerError> {
    let sql = "SELECT type, name, sql FROM main.sqlite_master WHERE sql IS NOT NULL ORDER BY type, name";
    let mut statement = conn.prepare(sql)?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Reading, and writing only to tables that live in memory for this connection.
fn scratch_only(context: AuthContext<'_>) -> Authorization {
    match context.action {
        AuthAction::Select
        | AuthAction::Read { .. }
        | AuthAction::Function { .. }
        | AuthAction::Recursive
        | AuthAction::Transaction { .. }
        | AuthAction::Savepoint { .. }
        | AuthAction::Pragma { .. } => Authorization::Allow,
        AuthAction::CreateTempTable { .. }
        | AuthAction::CreateTempIndex { .. }
        | AuthAction::Insert { .. }
        | AuthAction::Update { .. }
        | AuthAction::Delete { .. }
            if context.database_name == Some("temp") =>
        {
            Authorization::Allow
        }
        _ => Authorization::Deny,
    }
}

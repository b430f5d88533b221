//! Photos and papers on their way between devices: after the facts that name them, the smallest first, in pieces, so
//! that a line that breaks has carried none of them for nothing. What has come is what its hash says.

use crate::error::ExchangeError;
use crate::index::{Audience, FileNote, Index, PARCELS};
use crate::memory::Memory;
use crate::parcel::{Content, Piece, pack, unpack};
use crate::plan_files::{
    File, MOST_LACKING, Shelves, count_unserved, is_delivered, plan_files_to_fetch, plan_files_to_send,
};
use crate::secrets::DeviceSecrets;
use crate::stored::Store;
use desk::site_facts::facts_on_site;
use ledger::coming::{PIECE_BYTES, add_piece, is_here, pieces_here, pieces_of};
use ledger::facts::Attachment;
use ledger::{Digest, Ledger, Roster};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet, HashSet};

/// What became of photos and papers in an exchange.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct FilesMoved {
    /// Files that came whole.
    pub came: u64,
    /// Files that were sent whole.
    pub sent: u64,
    /// Bytes that were carried, there or here.
    pub bytes: u64,
    /// Files that have not come yet, though facts here name them.
    pub to_come: u64,
    /// Of these, bytes that have not come yet.
    pub bytes_to_come: u64,
    /// Files that wait to be sent.
    pub to_send: u64,
    /// Whether there was something in the store to fetch, or something here to send.
    pub is_more: bool,
}

/// The files that the facts here name, the smallest first.
pub(crate) fn files_named(ledger: &Ledger, has_sites: bool) -> Result<Vec<File>, ExchangeError> {
    let books = ledger.reading();
    let attached = books.all::<Attachment>()?;
    let on_site = if has_sites && !attached.is_empty() { facts_on_site(books)? } else { HashSet::new() };
    let mut found: BTreeMap<Digest, File> = BTreeMap::new();
    for held in attached {
        let (hash, entry) = (held.fact.hash, held.entry);
        let is_on_site = on_site.contains(&entry.id);
        // Attached twice, it may go to a site as soon as one of the two facts may.
        if let Some(known) = found.get_mut(&hash) {
            known.is_on_site |= is_on_site;
            continue;
        }
        let bytes = u64::try_from(held.fact.bytes).unwrap_or(0);
        let is_here = is_here(ledger.path(), hash);
        found.insert(
            hash,
            File { hash, bytes, device: entry.device, seq: entry.device_seq, is_here, is_on_site },
        );
    }
    let mut files: Vec<File> = found.into_values().collect();
    files.sort_by_key(|file| (file.bytes, file.hash));
    Ok(files)
}

/// Says in its index what a device lacks.
pub(crate) fn say_lacking(files: &[File], mine: &mut Index) {
    let lacking = || files.iter().filter(|file| !file.is_here).map(|file| file.hash);
    mine.lacks = lacking().take(MOST_LACKING).collect();
    mine.lacks_more = lacking().nth(MOST_LACKING).is_some();
}

/// What carries files: the ledger that has or lacks them, the keys, and the store.
pub(crate) struct Carrier<'a> {
    pub(crate) ledger: &'a Ledger,
    pub(crate) secrets: &'a DeviceSecrets,
    pub(crate) store: &'a dyn Store,
    pub(crate) roster: &'a Roster,
    pub(crate) audience: Audience,
    pub(crate) others: &'a BTreeMap<String, Index>,
    pub(crate) present: &'a BTreeMap<Audience, BTreeSet<String>>,
}

/// Told how many of how many pieces were fetched (`true`) or sent; answers whether to go on.
pub(crate) type TellPieces<'a> = &'a mut dyn FnMut(bool, usize, usize) -> bool;

/// The files to send of which the store has not every piece, locked to all who may have it.
fn not_there<'a>(shelves: &Shelves<'a>, mine: &Index) -> Vec<&'a File> {
    let is_there = |file: &File| {
        let note = mine.files.iter().find(|note| note.hash == file.hash);
        note.is_some_and(|note| {
            let sound = u64::try_from(shelves.sound(note)).unwrap_or(0);
            sound >= pieces_of(file.bytes) && shelves.readers(file).is_subset(&note.to)
        })
    };
    plan_files_to_send(shelves).into_iter().filter(|file| !is_there(file)).collect()
}

impl Carrier<'_> {
    fn shelves<'a>(
        &'a self,
        files: &'a [File],
        memory: &'a Memory,
        listed: &'a BTreeSet<String>,
    ) -> Shelves<'a> {
        Shelves {
            me: self.ledger.device(),
            audience: self.audience,
            files,
            mine: &memory.index,
            others: self.others,
            listed,
            present: self.present,
            unserved: &memory.unserved,
        }
    }

    /// Counts what is to be carried, and for how long nobody has served what others ask for.
    pub(crate) fn count(
        &self,
        memory: &mut Memory,
        listed: &BTreeSet<String>,
    ) -> Result<FilesMoved, ExchangeError> {
        let files = files_named(self.ledger, self.present.contains_key(&Audience::Site))?;
        memory.unserved = count_unserved(&self.shelves(&files, memory, listed));
        Ok(self.left(&files, memory, listed))
    }

    fn left(&self, files: &[File], memory: &Memory, listed: &BTreeSet<String>) -> FilesMoved {
        let shelves = self.shelves(files, memory, listed);
        let lacking = || files.iter().filter(|file| !file.is_here);
        let come = |file: &File| pieces_here(self.ledger.path(), file.hash) * PIECE_BYTES;
        let to_send = u64::try_from(not_there(&shelves, &memory.index).len()).unwrap_or(0);
        let is_there = plan_files_to_fetch(&shelves).into_iter().any(|(file, pieces)| {
            u64::try_from(pieces.len()).is_ok_and(|there| there > pieces_here(self.ledger.path(), file.hash))
        });
        FilesMoved {
            to_come: u64::try_from(lacking().count()).unwrap_or(0),
            bytes_to_come: lacking().map(|file| file.bytes.saturating_sub(come(file))).sum(),
            to_send,
            is_more: is_there || to_send > 0,
            ..FilesMoved::default()
        }
    }

    /// Carries so many bytes at the most: first what others have put there for this device, then what they lack.
    pub(crate) fn carry(
        &self,
        memory: &mut Memory,
        listed: &mut BTreeSet<String>,
        most_bytes: u64,
        tell: TellPieces<'_>,
    ) -> Result<FilesMoved, ExchangeError> {
        let has_sites = self.present.contains_key(&Audience::Site);
        let mut files = files_named(self.ledger, has_sites)?;
        let mut moved = FilesMoved::default();
        self.fetch(&files, memory, listed, most_bytes, &mut moved, tell)?;
        if moved.came > 0 {
            files = files_named(self.ledger, has_sites)?;
        }
        self.send(&files, memory, listed, most_bytes, &mut moved, tell)?;
        self.take_away(&files, memory, listed)?;
        say_lacking(&files, &mut memory.index);
        let left = self.left(&files, memory, listed);
        Ok(FilesMoved { came: moved.came, sent: moved.sent, bytes: moved.bytes, ..left })
    }

    fn fetch(
        &self,
        files: &[File],
        memory: &mut Memory,
        listed: &BTreeSet<String>,
        most_bytes: u64,
        moved: &mut FilesMoved,
        tell: TellPieces<'_>,
    ) -> Result<(), ExchangeError> {
        let path = self.ledger.path();
        let mut wanted = Vec::new();
        for (file, pieces) in plan_files_to_fetch(&self.shelves(files, memory, listed)) {
            let here = pieces_here(path, file.hash);
            let rest = pieces.into_iter().zip(0..).filter(|(_, place)| *place >= here);
            wanted.extend(rest.map(|(name, place)| (file.clone(), name, place)));
        }
        // Each is asked for, even where one before it is late: what a mirror has not seen it fetches for the next look.
        let room = usize::try_from(pieces_of(most_bytes)).unwrap_or(usize::MAX);
        wanted.truncate(room);
        let count = wanted.len();
        for (done, (file, name, place)) in wanted.into_iter().enumerate() {
            if !tell(true, done, count) {
                return Err(ExchangeError::Stopped);
            }
            let Some(bytes) = self.store.get(&format!("{PARCELS}{name}"))? else { continue };
            if pieces_here(path, file.hash) != place {
                continue;
            }
            moved.bytes += u64::try_from(bytes.len()).unwrap_or(0);
            match unpack(&name, &bytes, self.secrets, &|_| None) {
                Ok((_, Content::Piece(piece))) if piece.hash == file.hash && piece.place == place => {
                    moved.came += u64::from(add_piece(path, file.hash, file.bytes, &piece.bytes)?);
                }
                _ => {
                    memory.index.damaged.insert(name);
                }
            }
        }
        Ok(())
    }

    fn send(
        &self,
        files: &[File],
        memory: &mut Memory,
        listed: &mut BTreeSet<String>,
        most_bytes: u64,
        moved: &mut FilesMoved,
        tell: TellPieces<'_>,
    ) -> Result<(), ExchangeError> {
        let shelves = self.shelves(files, memory, listed);
        let wished: Vec<File> = not_there(&shelves, &memory.index).into_iter().cloned().collect();
        let count = wished.len();
        for (done, file) in wished.into_iter().enumerate() {
            if moved.bytes >= most_bytes {
                break;
            }
            if !tell(false, done, count) {
                return Err(ExchangeError::Stopped);
            }
            let mut note = self.note_of(&file, files, memory, listed)?;
            let outcome = self.put_pieces(&file, &mut note, listed, most_bytes, moved);
            memory.unsaid |= !note.pieces.is_empty();
            // What was carried until the line broke need not be carried again.
            memory.index.files.push(note);
            outcome?;
        }
        Ok(())
    }

    fn put_pieces(
        &self,
        file: &File,
        note: &mut FileNote,
        listed: &mut BTreeSet<String>,
        most_bytes: u64,
        moved: &mut FilesMoved,
    ) -> Result<(), ExchangeError> {
        // One that was damaged here can come from another device; verify tells of it.
        let Ok(bytes) = ledger::attachment::read(self.ledger.path(), file.hash) else { return Ok(()) };
        let present = self.roster.present().filter(|member| note.to.contains(&member.letter));
        let to: Vec<&str> = present.map(|member| member.locks_with.as_str()).collect();
        let size = usize::try_from(PIECE_BYTES).unwrap_or(usize::MAX);
        let (there, all) = (note.pieces.len(), bytes.len().div_ceil(size));
        for (place, piece) in (0..).zip(bytes.chunks(size)).skip(there) {
            if moved.bytes >= most_bytes {
                return Ok(());
            }
            let content = Content::Piece(Piece { hash: file.hash, place, bytes: piece.to_vec() });
            let parcel = pack(self.ledger.device(), self.secrets, &content, &to)?;
            let length = u64::try_from(parcel.bytes.len()).unwrap_or(0);
            self.store.put(&format!("{PARCELS}{}", parcel.name), parcel.bytes)?;
            moved.bytes += length;
            listed.insert(parcel.name.clone());
            note.pieces.push(parcel.name);
        }
        moved.sent += u64::from(there < all);
        Ok(())
    }

    /// What lies there of a file, taken out of the index; begun anew where it is not locked to all who lack it.
    fn note_of(
        &self,
        file: &File,
        files: &[File],
        memory: &mut Memory,
        listed: &BTreeSet<String>,
    ) -> Result<FileNote, ExchangeError> {
        let shelves = self.shelves(files, memory, listed);
        let readers = shelves.readers(file);
        let sound =
            memory.index.files.iter().find(|note| note.hash == file.hash).map(|note| shelves.sound(note));
        let at = memory.index.files.iter().position(|note| note.hash == file.hash);
        let Some((at, sound)) = at.zip(sound) else { return Ok(self.begun(file, readers)) };
        let mut note = memory.index.files.swap_remove(at);
        if !readers.is_subset(&note.to) {
            self.delete(&note.pieces)?;
            return Ok(self.begun(file, readers));
        }
        self.delete(&note.pieces[sound..])?;
        note.pieces.truncate(sound);
        Ok(note)
    }

    fn begun(&self, file: &File, readers: BTreeSet<String>) -> FileNote {
        let mut to = readers;
        to.insert(self.ledger.device().to_owned());
        FileNote { hash: file.hash, to, pieces: Vec::new() }
    }

    fn delete(&self, names: &[String]) -> Result<(), ExchangeError> {
        names.iter().try_for_each(|name| self.store.delete(&format!("{PARCELS}{name}")))
    }

    /// Takes away what everybody has whom it was for.
    fn take_away(
        &self,
        files: &[File],
        memory: &mut Memory,
        listed: &BTreeSet<String>,
    ) -> Result<(), ExchangeError> {
        let shelves = self.shelves(files, memory, listed);
        let (gone, kept): (Vec<FileNote>, Vec<FileNote>) =
            memory.index.files.iter().cloned().partition(|note| is_delivered(&shelves, note));
        memory.index.files = kept;
        // In one order, so that an index that says the same is the same.
        memory.index.files.sort_by_key(|note| note.hash);
        gone.iter().try_for_each(|note| self.delete(&note.pieces))
    }
}

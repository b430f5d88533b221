//! One parcel file, carried by hand or mail where there is no store: everything that the other devices may still lack,
//! locked to them as in a store, in one file.

use crate::error::ExchangeError;
use crate::exchanged::{came, in_words, troubles};
use crate::files::{Carrier, FilesMoved, files_named, say_lacking};
use crate::index::{Audience, Index, Span};
use crate::memory::Memory;
use crate::own::keys_of;
use crate::parcel::{Content, Piece, name_of, pack, unpack};
use crate::plan::{PATIENCE, Wish};
use crate::round::{Keys, Round, audience, held, own_audience, present, send_span, take_from};
use crate::secrets::DeviceSecrets;
use crate::stored::Store;
use desk::site_facts::{ends_of_jobs, facts_on_site};
use desk::{Act, Desk};
use ledger::coming::{add_piece, is_here, pieces_here};
use ledger::draft::DEVICE;
use ledger::{Ledger, Roster};
use serde::Serialize;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// What such a file begins with.
const MAGIC: &[u8] = b"a parcel of tearoff, 1\n";

/// No parcel file is longer.
const MOST_BYTES: u64 = 1024 * 1024 * 1024;

/// So many bytes of photos and papers go into one file; the rest goes with the next.
const MOST_FILE_BYTES: u64 = 256 * 1024 * 1024;

/// The setting that holds what each device has, as far as parcels by hand have told.
const HOLDS: &str = "parcel-holds";

/// A parcel that was saved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Saved {
    /// The file.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub file: PathBuf,
    /// The devices that can open it, by their names.
    pub readers: Vec<String>,
    /// How many entries are in it, each counted once for each audience.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub entries: u64,
    /// How it stands with photos and papers.
    pub photos: Option<String>,
}

/// What a parcel brought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct TakenByHand {
    /// What came, a line for each device; empty where all of it was here already.
    pub came: Vec<String>,
    /// Devices whose entries wait for something that has not come, each with what.
    pub waiting: Vec<String>,
    /// How it stands with photos and papers.
    pub photos: Option<String>,
    /// What a person should know of.
    pub troubles: Vec<String>,
}

/// Parcels on their way into a file.
#[derive(Default)]
struct Bundle(RefCell<Vec<Vec<u8>>>);

impl Store for Bundle {
    fn put(&self, _: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.0.borrow_mut().push(bytes);
        Ok(())
    }

    fn get(&self, _: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        Ok(None)
    }

    fn list(&self, _: &str) -> Result<Vec<String>, ExchangeError> {
        Ok(Vec::new())
    }

    fn delete(&self, _: &str) -> Result<(), ExchangeError> {
        Ok(())
    }
}

/// Saves a parcel file for every other device of the firm.
///
/// # Errors
/// When this device is none of the firm's yet, there is no other, or the file is there already or cannot be written.
pub fn save_parcel(desk: &mut Desk, to: &Path) -> Result<Saved, ExchangeError> {
    desk.check(Act::Exchange)?;
    let keys = keys_of(desk)?;
    let opened = desk.path();
    let ledger = desk.ledger()?;
    let roster = ledger.reading().roster()?;
    let me =
        roster.member(ledger.device()).filter(|me| me.last_seq.is_none()).ok_or(ExchangeError::NoKeys)?;
    let readers: Vec<&ledger::Member> =
        roster.present().filter(|member| member.letter != me.letter).collect();
    if readers.is_empty() {
        return Err(ExchangeError::NoSuchFile(
            "The firm has no other device to save a parcel for".to_owned(),
        ));
    }
    ledger::place::refuse_ledger(to, &opened)?;
    let bundle = Bundle::default();
    let mut on_site = facts_on_site(ledger.reading())?;
    on_site.extend(ends_of_jobs(ledger.reading())?.into_iter().map(|held| held.entry.id));
    let mut entries = 0;
    for wish in wishes(ledger, &roster, &me.letter)? {
        send_span(ledger, &keys, &bundle, &roster, &wish, &on_site, &mut |note| {
            entries += u64::try_from(note.span.last - note.span.first + 1).unwrap_or(0);
        })?;
    }
    let went = photos(ledger, &keys, &bundle, &roster)?;
    let mut index = Index { holds: held(ledger)?, ..Index::default() };
    say_lacking(&files_named(ledger, false)?, &mut index);
    let locked_to: Vec<&str> = readers.iter().map(|member| member.locks_with.as_str()).collect();
    let said = pack(ledger.device(), &keys, &Content::Index(index), &locked_to)?;
    bundle.put("", said.bytes)?;
    write(to, &bundle.0.into_inner())?;
    let readers = readers.iter().map(|member| member.name.clone()).collect();
    Ok(Saved { file: to.to_owned(), readers, entries, photos: in_words(&went) })
}

/// The photos and papers that the others may lack, as far as parcels by hand have told.
fn photos(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    roster: &Roster,
) -> Result<FilesMoved, ExchangeError> {
    let (others, audience, present) = (told(ledger)?, own_audience(ledger)?, present(roster));
    let carrier = Carrier { ledger, secrets, store, roster, audience, others: &others, present: &present };
    // Who asks is waited for by nobody else.
    let unserved = files_named(ledger, false)?.into_iter().map(|file| (file.hash.to_string(), PATIENCE));
    let mut memory = Memory { unserved: unserved.collect(), ..Memory::default() };
    carrier.carry(&mut memory, &mut BTreeSet::new(), MOST_FILE_BYTES, &mut |_, _, _| true)
}

/// What the others may lack. A copy for the site is sent all that it may hold each time, since what is planned now may
/// have been written long ago.
fn wishes(ledger: &Ledger, roster: &Roster, me: &str) -> Result<Vec<Wish>, ExchangeError> {
    let known = told(ledger)?;
    let may_hand_on = own_audience(ledger)? == Audience::Office;
    let mut wishes = Vec::new();
    for for_whom in [Audience::Office, Audience::Site] {
        let readers: BTreeSet<&str> = roster
            .present()
            .filter(|member| member.letter != me && audience(member) == for_whom)
            .map(|member| member.letter.as_str())
            .collect();
        for (device, last) in held(ledger)? {
            let has = |reader: &&str| {
                known.get(*reader).and_then(|told| told.holds.get(&device)).copied().unwrap_or(0)
            };
            let Some(least) = readers.iter().map(has).min() else { continue };
            let first = match for_whom {
                Audience::Site => 1,
                Audience::Office if may_hand_on => least + 1,
                // What has left a copy for the site an office has, and hands on.
                Audience::Office => ledger.reading().last_without_its_fact(&device, least)? + 1,
            };
            if first <= last && (device == me || may_hand_on) {
                wishes.push(Wish { audience: for_whom, span: Span { device, first, last } });
            }
        }
    }
    Ok(wishes)
}

/// What each device has said by hand of what it has.
fn told(ledger: &Ledger) -> Result<BTreeMap<String, Index>, ExchangeError> {
    let text = ledger.reading().setting(HOLDS)?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
}

fn write(to: &Path, parcels: &[Vec<u8>]) -> Result<(), ExchangeError> {
    let failed = |error: std::io::Error| {
        ExchangeError::Desk(desk::OfficeError::io(format!("{} could not be written", to.display()), &error))
    };
    let body = postcard::to_stdvec(parcels).map_err(|error| ExchangeError::Keys(error.to_string()))?;
    let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(failed)?;
    file.write_all(MAGIC).and_then(|()| file.write_all(&body)).map_err(failed)?;
    file.as_file().sync_all().map_err(failed)?;
    match file.persist_noclobber(to) {
        Ok(_) => Ok(()),
        Err(refused) if refused.error.kind() == std::io::ErrorKind::AlreadyExists => {
            Err(ledger::LedgerError::Exists(to.to_owned()).into())
        }
        Err(refused) => Err(failed(refused.error)),
    }
}

/// The parcels in a parcel file.
pub(crate) fn parcels_of(bytes: &[u8]) -> Result<Vec<Vec<u8>>, ExchangeError> {
    let no_parcel = |why: &str| ExchangeError::NoSuchFile(format!("This is no parcel file: {why}"));
    let body = bytes.strip_prefix(MAGIC).ok_or_else(|| no_parcel("it does not begin as one does"))?;
    postcard::from_bytes(body).map_err(|_| no_parcel("it was cut short or altered"))
}

/// Takes in what a parcel file brings for this device.
///
/// # Errors
/// When the file is no parcel, nothing in it is for this device, or the disk refuses.
pub fn take_parcel(desk: &mut Desk, from: &Path) -> Result<TakenByHand, ExchangeError> {
    desk.check(Act::Exchange)?;
    let secrets = keys_of(desk)?;
    let unread = |error: std::io::Error| ExchangeError::NoSuchFile(format!("{}: {error}", from.display()));
    let mut bytes = Vec::new();
    let file = std::fs::File::open(from).map_err(unread)?;
    file.take(MOST_BYTES).read_to_end(&mut bytes).map_err(unread)?;
    let parcels = parcels_of(&bytes)?;
    let me = desk.books().setting(DEVICE)?.unwrap_or_default();
    let before = desk.books().device_ends()?;
    let keys = Keys::read(desk.books())?;
    let open = |bytes: &Vec<u8>, keys: &Keys| {
        unpack(&name_of(bytes), bytes, &secrets, &|letter| keys.of(letter)).ok()
    };
    let (mut parts, mut pieces, mut unread) = (Vec::new(), Vec::new(), Vec::new());
    for bytes in &parcels {
        match open(bytes, &keys) {
            Some((_, Content::Chain(part))) => parts.push(part),
            Some((_, Content::Piece(piece))) => pieces.push(piece),
            _ => unread.push(bytes),
        }
    }
    let (moment, _) = desk.clock.tick();
    let ledger = desk.ledger()?;
    let mut done = Round { taken: take_from(ledger, &parts, moment)?, ..Round::default() };
    done.files = take_pieces(ledger, &pieces)?;
    // What has just come may be what says by whom the rest is signed.
    let keys = Keys::read(ledger.reading())?;
    let mut known = told(ledger)?;
    let mut senders = HashSet::new();
    for bytes in unread {
        if let Some((from, Content::Index(index))) = open(bytes, &keys) {
            known.insert(from.clone(), index);
            senders.insert(from);
        }
    }
    if parts.is_empty() && pieces.is_empty() && senders.is_empty() {
        return Err(ExchangeError::NotForUs);
    }
    let text = serde_json::to_string(&known).map_err(|error| ExchangeError::Keys(error.to_string()))?;
    ledger.set_setting(HOLDS, &text)?;
    let books = desk.books();
    let waiting = std::mem::take(&mut done.taken.waiting);
    Ok(TakenByHand {
        came: came(books, &me, &before)?,
        photos: in_words(&done.files),
        waiting: waiting.into_iter().map(|(device, why)| format!("device {device}: {why}")).collect(),
        troubles: troubles(books, &done)?,
    })
}

/// Takes in the pieces of files that are lacking here, each file's in their order.
fn take_pieces(ledger: &Ledger, pieces: &[Piece]) -> Result<FilesMoved, ExchangeError> {
    let mut moved = FilesMoved::default();
    for file in files_named(ledger, false)?.into_iter().filter(|file| !file.is_here) {
        for piece in pieces.iter().filter(|piece| piece.hash == file.hash) {
            if piece.place == pieces_here(ledger.path(), file.hash) && !is_here(ledger.path(), file.hash) {
                moved.came += u64::from(add_piece(ledger.path(), file.hash, file.bytes, &piece.bytes)?);
            }
        }
    }
    let lacking = files_named(ledger, false)?.into_iter().filter(|file| !file.is_here);
    for file in lacking {
        moved.to_come += 1;
        moved.bytes_to_come += file.bytes;
    }
    Ok(moved)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_parcel_file_gives_back_what_was_written_and_anything_else_is_refused(
            parcels in prop::collection::vec(prop::collection::vec(any::<u8>(), 0..40), 0..5),
            noise in prop::collection::vec(any::<u8>(), 0..200),
        ) {
            let home = tempfile::tempdir().unwrap();
            let file = home.path().join("parcel");
            write(&file, &parcels).unwrap();
            let bytes = std::fs::read(&file).unwrap();
            prop_assert_eq!(parcels_of(&bytes).unwrap(), parcels);
            prop_assert!(parcels_of(&noise).is_err());
            // After the right beginning anything may stand: it is an answer and no end of the program.
            let _ = parcels_of(&[MAGIC, &noise].concat());
            prop_assert!(write(&file, &[]).is_err(), "it wrote over another file");
        }
    }
}

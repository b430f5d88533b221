//! An exchange as a person is told of it: what was sent, what came and from whom, what waits, and what is wrong.

use crate::error::ExchangeError;
use crate::files::FilesMoved;
use crate::index::Audience;
use crate::memory::remembered;
use crate::news::listed;
use crate::own::keys_of;
use crate::round::{FILES_AT_ONCE, OtherFile, Round, Step, round};
use crate::settings::{chosen_store, refuse_another_firms};
use crate::stored::Store;
use desk::policy::{OF_A_JOB_ON_SITE, OF_THE_FIRM_ON_SITE};
use desk::{Act, Clock, Desk, OfficeError};
use jiff::ZonedDateTime;
use ledger::Books;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::roster::Member;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What an exchange did, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Exchanged {
    /// When, UTC.
    pub at: String,
    /// The time of day where it was done, as people say it: 9:42.
    pub time: String,
    /// Whether the store was reached. Off line is the usual case, not a fault.
    pub is_reached: bool,
    /// Why it was not.
    pub why: Option<String>,
    /// What this device sent: “2 time entries”.
    pub sent: Option<String>,
    /// What came, a line for each device: “3 hidden conditions from North crew's tablet”.
    pub came: Vec<String>,
    /// Entries of this device that wait for the next exchange.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub waiting: u64,
    /// What a person should know of: an older state of the store, damaged parcels, what cannot be taken in.
    pub troubles: Vec<String>,
    /// Whether an office has all that this device wrote.
    pub is_all_known: bool,
    /// Where another file was written under this device's letters and this one is to get new ones: what is so, and what
    /// to do. It sends nothing until then.
    #[serde(default)]
    pub parted: Option<String>,
    /// How it stands with photos and papers: “3 photos or papers came; 1 photo or paper waits to be sent”.
    pub photos: Option<String>,
    /// The same, counted.
    #[cfg_attr(feature = "ts", ts(skip))]
    pub files: FilesMoved,
}

impl Exchanged {
    /// This and what a further look brought, told as one.
    #[must_use]
    pub fn and(self, later: Exchanged) -> Exchanged {
        let mut came = self.came;
        came.extend(later.came.iter().filter(|line| !came.contains(line)).cloned().collect::<Vec<_>>());
        let files = FilesMoved {
            came: self.files.came + later.files.came,
            sent: self.files.sent + later.files.sent,
            bytes: self.files.bytes + later.files.bytes,
            ..later.files
        };
        Exchanged { sent: later.sent.clone().or(self.sent), came, photos: in_words(&files), files, ..later }
    }
}

pub(crate) fn in_words(files: &FilesMoved) -> Option<String> {
    let counted = |count: u64| {
        if count == 1 { "1 photo or paper".to_owned() } else { format!("{count} photos or papers") }
    };
    let mut words = Vec::new();
    if files.came > 0 {
        words.push(format!("{} came", counted(files.came)));
    }
    if files.sent > 0 {
        words.push(format!("{} went", counted(files.sent)));
    }
    if files.to_come > 0 {
        let is = if files.to_come == 1 { "is" } else { "are" };
        let size = files.bytes_to_come.div_ceil(1_000_000);
        words.push(format!("{} {is} still to come, up to {size} MB", counted(files.to_come)));
    }
    if files.to_send > 0 {
        let waits = if files.to_send == 1 { "waits" } else { "wait" };
        words.push(format!("{} {waits} to be sent", counted(files.to_send)));
    }
    (!words.is_empty()).then(|| words.join("; "))
}

/// The setting that holds what the last exchange did.
const LAST: &str = "last-exchange";

/// What the last exchange of this device did, if there was one.
pub(crate) fn last(books: Books<'_>) -> Result<Option<Exchanged>, OfficeError> {
    Ok(books.setting(LAST)?.and_then(|text| serde_json::from_str(&text).ok()))
}

/// Entries of this device that no store has yet.
pub(crate) fn waiting(books: Books<'_>) -> Result<u64, OfficeError> {
    let me = books.setting(DEVICE)?.unwrap_or_default();
    let ends = books.device_ends()?;
    let end = ends.iter().find(|(device, _)| *device == me).map_or(0, |(_, end)| *end);
    Ok(u64::try_from(end - sent_until(books, &me)?).unwrap_or(0))
}

/// How far this device's own chain was sent: to the offices, or where there is no other office, to the site.
fn sent_until(books: Books<'_>, me: &str) -> Result<i64, OfficeError> {
    let (memory, roster) = (remembered(books)?, books.roster()?);
    let others: Vec<&Member> = roster.present().filter(|member| member.letter != me).collect();
    let only_site = !others.is_empty() && others.iter().all(|member| member.is_site_copy());
    let read_by = if only_site { Audience::Site } else { Audience::Office };
    let own = memory.parcels().filter(|note| note.audience == read_by && note.span.device == me);
    Ok(own.map(|note| note.span.last).max().unwrap_or(0))
}

fn now(clock: &Clock) -> (String, String) {
    let moment = match clock {
        Clock::System => ZonedDateTime::now(),
        Clock::Fixed { at, .. } => at.to_zoned_datetime(jiff::tz::TimeZone::UTC),
    };
    (moment.timestamp().to_string(), moment.strftime("%-H:%M").to_string())
}

/// One exchange through the store that was chosen. A store that cannot be reached is no failure: the answer says so.
///
/// # Errors
/// When no store is chosen, this device has no keys, the store does not let it in, or the disk refuses.
pub fn exchange(desk: &mut Desk, tell: &mut dyn FnMut(Step) -> bool) -> Result<Exchanged, ExchangeError> {
    desk.check(Act::Exchange)?;
    let store = match chosen_store(desk)?.ok_or(ExchangeError::NoStore)?.open() {
        Ok(store) => store,
        Err(ExchangeError::Store(why)) => return unreached(desk, why),
        Err(other) => return Err(other),
    };
    let look = |most_file_bytes: u64| match through(desk, &*store, most_file_bytes, tell) {
        Err(ExchangeError::Store(why)) => Ok(Looked::OffLine(why)),
        other => other.map(|done| Looked::Exchanged(Box::new(done))),
    };
    match bit_by_bit(look, &mut |_| {})? {
        Looked::Exchanged(done) => Ok(*done),
        Looked::OffLine(why) => unreached(desk, why),
    }
}

/// What came of a look at the store.
#[derive(Debug)]
pub enum Looked {
    /// What was exchanged.
    Exchanged(Box<Exchanged>),
    /// It was not reached: why.
    OffLine(String),
}

/// Facts first; photos come after the facts are there and here, a few megabytes at a time, so that new facts never wait
/// for them. `look` exchanges once, with so many bytes of photos and papers at the most; `tell` is told after each bit.
///
/// # Errors
/// Whatever `look` refuses.
pub fn bit_by_bit<E>(
    mut look: impl FnMut(u64) -> Result<Looked, E>,
    tell: &mut dyn FnMut(&Exchanged),
) -> Result<Looked, E> {
    let mut done = match look(0)? {
        Looked::Exchanged(done) => *done,
        off_line => return Ok(off_line),
    };
    while done.files.is_more {
        match look(FILES_AT_ONCE)? {
            Looked::Exchanged(next) if next.files.bytes > 0 => {
                done = done.and(*next);
                tell(&done);
            }
            Looked::Exchanged(next) => {
                done = done.and(*next);
                break;
            }
            // The facts are there and here: what was left of a photo goes on at the next exchange.
            Looked::OffLine(why) => {
                done.why = Some(why);
                break;
            }
        }
    }
    Ok(Looked::Exchanged(Box::new(done)))
}

/// What is said when the store was not reached. Nothing is written of it: a device that is off line for a day would
/// write every minute.
///
/// # Errors
/// When the ledger cannot be read.
pub fn unreached(desk: &Desk, why: String) -> Result<Exchanged, ExchangeError> {
    let (at, time) = now(&desk.clock);
    Ok(Exchanged { at, time, why: Some(why), waiting: waiting(desk.books())?, ..Exchanged::default() })
}

/// One exchange through a store that is open, of so many bytes of photos and papers at the most after the facts.
///
/// # Errors
/// As [`exchange`], and when the store cannot be reached.
pub fn through(
    desk: &mut Desk,
    store: &dyn Store,
    most_file_bytes: u64,
    tell: &mut dyn FnMut(Step) -> bool,
) -> Result<Exchanged, ExchangeError> {
    let keys = keys_of(desk)?;
    let me = desk.books().setting(DEVICE)?.unwrap_or_default();
    let (ends, sent) = (desk.books().device_ends()?, sent_until(desk.books(), &me)?);
    if !remembered(desk.books())?.has_been_here() {
        refuse_another_firms(desk, store)?;
    }
    let (moment, _) = desk.clock.tick();
    let done = round(desk.ledger()?, &keys, store, moment, most_file_bytes, tell)?;
    let (at, time) = now(&desk.clock);
    let books = desk.books();
    let own = books.kinds_after(&me, sent)?;
    let is_sent = done.sent > 0 && !own.is_empty();
    let exchanged = Exchanged {
        is_reached: true,
        why: None,
        sent: is_sent.then(|| listed(&own)),
        came: came(books, &me, &ends)?,
        waiting: waiting(books)?,
        troubles: troubles(books, &done)?,
        is_all_known: done.is_all_known,
        parted: if is_parted(&done) { own_trouble(books, &me, &done)? } else { None },
        photos: in_words(&done.files),
        files: done.files,
        at,
        time,
    };
    let before = last(books)?;
    // What came is on the page until more comes.
    let has_news = exchanged.sent.is_some() || !exchanged.came.is_empty() || !exchanged.troubles.is_empty();
    if has_news || before.is_none_or(|before| before.troubles != exchanged.troubles) {
        let text =
            serde_json::to_string(&exchanged).map_err(|error| ExchangeError::Keys(error.to_string()))?;
        desk.ledger()?.set_setting(LAST, &text)?;
    }
    Ok(exchanged)
}

/// What came, by the device that wrote it. A copy for the site tells of what it may hold.
pub(crate) fn came(books: Books<'_>, me: &str, before: &[(String, i64)]) -> Result<Vec<String>, OfficeError> {
    let is_site = desk::device::role(books)? == Some(Role::Crew);
    let is_told = |kind: &str| {
        !is_site
            || OF_THE_FIRM_ON_SITE.contains(&kind)
            || OF_A_JOB_ON_SITE.iter().any(|(on_site, _)| *on_site == kind)
    };
    let roster = books.roster()?;
    let mut lines = Vec::new();
    for (device, end) in books.device_ends()? {
        let had = before.iter().find(|(known, _)| *known == device).map_or(0, |(_, had)| *had);
        if device == me || end <= had {
            continue;
        }
        let mut kinds: BTreeMap<String, u64> = books.kinds_after(&device, had)?;
        kinds.retain(|kind, _| is_told(kind));
        if !kinds.is_empty() {
            let name = roster.member(&device).map_or(device.clone(), |member| member.name.clone());
            lines.push(format!("{} from {name}", listed(&kinds)));
        }
    }
    Ok(lines)
}

pub(crate) fn troubles(books: Books<'_>, done: &Round) -> Result<Vec<String>, OfficeError> {
    let roster = books.roster()?;
    let name = |device: &str| {
        roster.member(device).map_or_else(|| format!("device {device}"), |member| member.name.clone())
    };
    let mut troubles: Vec<String> = done
        .rolled_back
        .iter()
        .map(|device| {
            format!(
                "The store shows an older state of {} than it did before. Nothing is lost here.",
                name(device)
            )
        })
        .collect();
    if done.damaged > 0 {
        let parcels =
            if done.damaged == 1 { "1 parcel".to_owned() } else { format!("{} parcels", done.damaged) };
        troubles.push(format!("{parcels} came damaged: whoever sent them is asked for them again."));
    }
    let me = books.setting(DEVICE)?.unwrap_or_default();
    troubles.extend(own_trouble(books, &me, done)?);
    troubles.extend(done.taken.forks.iter().filter(|fork| fork.device != me).map(|fork| {
        format!(
            "Two files write as {}: from entry {} on they differ. What came second was not taken in; it stays where it \
             was written, and comes once that file has letters of its own.",
            name(&fork.device),
            fork.device_seq
        )
    }));
    troubles.extend(done.taken.refused.iter().map(|part| {
        format!(
            "What {} wrote up to its entry {} was not taken in: {}.",
            name(&part.device),
            part.device_seq,
            part.problem
        )
    }));
    Ok(troubles)
}

/// Whether this file is the one that is to get new letters.
fn is_parted(done: &Round) -> bool {
    matches!(done.other_file, Some(OtherFile::GoesOn(_) | OtherFile::Differs(_)))
}

/// What a person at a file should know under whose letters another one was written, and what to do.
fn own_trouble(books: Books<'_>, me: &str, done: &Round) -> Result<Option<String>, OfficeError> {
    let forked = done.taken.forks.iter().filter(|fork| fork.device == me).map(|fork| fork.device_seq).min();
    let Some(found) = done.other_file.or(forked.map(OtherFile::Differs)) else { return Ok(None) };
    let ends = books.device_ends()?;
    let end = ends.iter().find(|(device, _)| device == me).map_or(0, |(_, end)| *end);
    let counted =
        |count: i64| if count == 1 { "1 entry".to_owned() } else { format!("{} entries", count.max(0)) };
    Ok(Some(match found {
        OtherFile::GoesOn(last) => format!(
            "The store knows of {} of device {me} that this file does not hold and that cannot be fetched: it fell \
             back to an older state, or another file is written as {me} too. Nothing is sent from here until that has \
             come, or this file has new letters.",
            counted(last - end)
        ),
        OtherFile::Differs(seq) => format!(
            "Another file was written as device {me} too, and that one keeps the letter. Nothing is lost: what only \
             this file holds, {}, stays here until it has new letters. Let the owner add a device on another machine \
             than this one, and use its joining file here.",
            counted(end - seq + 1)
        ),
        OtherFile::Yields(_) => format!(
            "Another file was written as device {me} too. This one keeps the letter. What the other one holds stays \
             there until it has new letters: let the owner add a device here, and use its joining file there.",
        ),
    }))
}

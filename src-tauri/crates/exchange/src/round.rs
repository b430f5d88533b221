//! One exchange with a store: what is new there is fetched, checked and taken in; what the others may see and the
//! store lacks is sent.

use crate::error::ExchangeError;
use crate::files::{Carrier, FilesMoved, files_named, say_lacking};
use crate::index::{Audience, HEADS, HeadName, Index, Note, PARCELS, Span};
use crate::memory::{Memory, remember, remembered};
use crate::parcel::{Content, name_of, pack, unpack};
use crate::plan::{Standing, Wish, lacking, plan_fetch, plan_send};
use crate::secrets::DeviceSecrets;
use crate::stored::Store;
use desk::policy::may_come_from_site;
use desk::site_facts::{ends_of_jobs, facts_on_site, jobs_on_site};
use jiff::Timestamp;
use ledger::roster::FOUNDER;
use ledger::take_in::{FOUNDER_KEY, Fork, RefusedPart};
use ledger::{
    Books, ChainPart, Digest, HowMuch, Id, Ledger, LedgerError, Member, PublicKey, Roster, SignedHead,
    TakenIn,
};
use std::collections::{BTreeMap, BTreeSet, HashSet};

/// What an exchange did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Round {
    /// Entries sent, each counted once for everybody.
    pub sent: u64,
    /// What was taken in, waits or was refused.
    pub taken: TakenIn,
    /// Parcels that were not what their names say.
    pub damaged: u64,
    /// Devices of which the store shows an older state than it did before.
    pub rolled_back: Vec<String>,
    /// Whether an office says that it has all that this device wrote.
    pub is_all_known: bool,
    /// Photos and papers.
    pub files: FilesMoved,
    /// What was written under this device's letters and not in this file. Nothing is sent then, unless this is the file
    /// that keeps them.
    pub other_file: Option<OtherFile>,
}

/// What the store has under this device's letters that this file did not write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OtherFile {
    /// It goes on after what is here, up to this entry: this is an older state of the file, or the other is another.
    GoesOn(i64),
    /// From this entry on, at the latest, the two differ, and this is the one that gets new letters.
    Differs(i64),
    /// They differ, and the other one gets new letters.
    Yields(i64),
}

/// How far an exchange is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// So many of so many parcels were fetched.
    Fetched(usize, usize),
    /// So many parts of chains of so many were sent.
    Sent(usize, usize),
    /// So many pieces of photos and papers of so many were fetched.
    FilesFetched(usize, usize),
    /// So many photos and papers of so many were sent.
    FilesSent(usize, usize),
}

/// Told how far an exchange is; answers whether to go on.
pub(crate) type Tell<'a> = &'a mut dyn FnMut(Step) -> bool;

fn go_on(tell: Tell<'_>, step: Step) -> Result<(), ExchangeError> {
    if tell(step) { Ok(()) } else { Err(ExchangeError::Stopped) }
}

/// The setting that holds the letters and the key of the device that wrote the joining file.
pub(crate) const INVITER: &str = "inviter";

/// Entries in a parcel at the most, so that a slow line takes them piece by piece.
const ENTRIES_IN_A_PARCEL: i64 = 2000;

/// So many bytes of photos and papers are carried at once: then facts have their turn again.
pub const FILES_AT_ONCE: u64 = 4 * 1024 * 1024;

/// One exchange: of facts, and after them of so many bytes of photos and papers at the most.
///
/// # Errors
/// When the store cannot be reached, the disk refuses, or `tell` answers no. What was taken in and put there until then
/// stays, and is not done again.
pub fn round(
    ledger: &mut Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    at: Timestamp,
    most_file_bytes: u64,
    tell: &mut dyn FnMut(Step) -> bool,
) -> Result<Round, ExchangeError> {
    let mut memory = remembered(ledger.reading())?;
    let outcome = both_ways(ledger, secrets, store, at, most_file_bytes, tell, &mut memory);
    remember(ledger, &memory)?;
    outcome
}

fn both_ways(
    ledger: &mut Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    at: Timestamp,
    most_file_bytes: u64,
    tell: Tell<'_>,
    memory: &mut Memory,
) -> Result<Round, ExchangeError> {
    let mut report = Round::default();
    let listed: BTreeSet<String> = names(store, PARCELS)?;
    let mut heads: Vec<HeadName> =
        store.list(HEADS)?.iter().filter_map(|path| HeadName::read(path)).collect();
    let mut others = BTreeMap::new();
    let under_own_letters = own_index(ledger, secrets, store, &heads, memory)?;
    // A roster that comes first lets the next look read what its devices say.
    for _ in 0..3 {
        others = indexes(ledger, secrets, store, &heads, memory, &mut report)?;
        let mut seen = others.clone();
        if let Some(own) = &under_own_letters {
            seen.insert(ledger.device().to_owned(), own.clone());
        }
        if !fetch(ledger, (secrets, store), (&listed, &seen), memory, &mut report, at, tell)? {
            break;
        }
    }
    if is_anothers(ledger, secrets, store, &heads, others.is_empty())? {
        return Err(ExchangeError::AnothersLetter(ledger.device().to_owned()));
    }
    report.other_file = other_file(ledger, under_own_letters.as_ref(), &others, memory, &report)?;
    if matches!(report.other_file, Some(OtherFile::GoesOn(_) | OtherFile::Differs(_))) {
        return Ok(report);
    }
    send(ledger, secrets, store, (&listed, &others, &mut heads), memory, &mut report, tell)?;
    clear_behind(ledger, store, &others, memory)?;
    report.files =
        carry_files(ledger, secrets, store, (listed, &others, &mut heads), memory, most_file_bytes, tell)?;
    let (roster, (own, _)) = (ledger.reading().roster()?, ledger.own_end());
    report.is_all_known = others.iter().any(|(device, index)| {
        let is_office = roster.member(device).is_some_and(|member| !member.is_site_copy());
        is_office && index.holds.get(ledger.device()).copied().unwrap_or(0) >= own
    });
    Ok(report)
}

/// Whether another device has these letters: the roster knows them by another key; or nobody says anything to this one,
/// and a whole index lies there under its letters that its key does not open, though every device can open its own.
fn is_anothers(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    heads: &[HeadName],
    is_told_nothing: bool,
) -> Result<bool, ExchangeError> {
    let me = ledger.device();
    if ledger.reading().roster()?.member(me).is_some_and(|member| member.signs_with != secrets.signs_with()) {
        return Ok(true);
    }
    if !is_told_nothing {
        return Ok(false);
    }
    for head in heads.iter().filter(|head| head.device == me) {
        let Some(bytes) = store.get(&format!("{PARCELS}{}", head.parcel))? else { continue };
        let own = |_: &str| Some(secrets.signs_with());
        if name_of(&bytes) == head.parcel && unpack(&head.parcel, &bytes, secrets, &own).is_err() {
            return Ok(true);
        }
    }
    Ok(false)
}

/// What a head under this device's own letters says that this file did not put there: as it was before the file fell
/// back to an older state, or what another file says of itself.
fn own_index(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    heads: &[HeadName],
    memory: &Memory,
) -> Result<Option<Index>, ExchangeError> {
    let mut found: Option<Index> = None;
    for head in heads.iter().filter(|head| head.device == ledger.device()) {
        if memory.head.as_ref() == Some(&head.parcel) {
            continue;
        }
        let Some(bytes) = store.get(&format!("{PARCELS}{}", head.parcel))? else { continue };
        let own = |letter: &str| (letter == head.device).then(|| secrets.signs_with());
        let Ok((from, Content::Index(index))) = unpack(&head.parcel, &bytes, secrets, &own) else { continue };
        // An older state that was here too, such as one whose removal the store has not carried out, says nothing new.
        let is_known = match index.end(&from) {
            Some((seq, hash)) => ledger.reading().entry_hash(&from, seq)? == Some(hash),
            None => true,
        };
        if from == head.device
            && !is_known
            && found.as_ref().is_none_or(|other| other.end(&from) < index.end(&from))
        {
            found = Some(index);
        }
    }
    Ok(found)
}

/// What was written under this device's letters elsewhere, once all that could be fetched of it was.
fn other_file(
    ledger: &Ledger,
    under_own_letters: Option<&Index>,
    others: &BTreeMap<String, Index>,
    memory: &Memory,
    report: &Round,
) -> Result<Option<OtherFile>, ExchangeError> {
    let me = ledger.device();
    let forked = report.taken.forks.iter().filter(|fork| fork.device == me).map(|fork| fork.device_seq).min();
    let end = under_own_letters.and_then(|index| index.end(me));
    let differs = match (forked, end) {
        (Some(seq), _) => seq,
        (None, None) => return Ok(None),
        (None, Some((seq, hash))) => match ledger.reading().entry_hash(me, seq)? {
            Some(here) if here == hash => return Ok(None),
            Some(_) => seq,
            None => return Ok(Some(OtherFile::GoesOn(seq))),
        },
    };
    let keeps = keeps_letters(ledger, differs, end, (others, &memory.index))?;
    Ok(Some(if keeps { OtherFile::Yields(differs) } else { OtherFile::Differs(differs) }))
}

/// Which of two files that wrote under one letter keeps it: both come to the same answer. The one whose entries another
/// device has keeps it; where none has any yet, the one that has put more into the store.
fn keeps_letters(
    ledger: &Ledger,
    differs: i64,
    other_end: Option<(i64, Digest)>,
    (others, own): (&BTreeMap<String, Index>, &Index),
) -> Result<bool, LedgerError> {
    let me = ledger.device();
    // What both have written says nothing.
    let had = others.values().filter_map(|index| index.end(me)).find(|(seq, _)| *seq >= differs);
    match had {
        Some((seq, hash)) => Ok(ledger.reading().entry_hash(me, seq)? == Some(hash)),
        None => Ok(own.end(me).is_some() && own.end(me) > other_end),
    }
}

fn names(store: &dyn Store, folder: &str) -> Result<BTreeSet<String>, ExchangeError> {
    let listed = store.list(folder)?;
    Ok(listed.iter().filter_map(|path| path.strip_prefix(folder)).map(str::to_owned).collect())
}

/// The keys that are believed: the roster's, and before it has come those that the joining file named.
pub(crate) struct Keys {
    roster: Roster,
    named: BTreeMap<String, PublicKey>,
}

impl Keys {
    pub(crate) fn read(books: Books<'_>) -> Result<Keys, LedgerError> {
        let mut named = BTreeMap::new();
        let inviter = books.setting(INVITER)?;
        if let Some((letter, key)) = inviter.as_deref().and_then(|text| text.split_once(' ')) {
            named.extend(PublicKey::parse(key).ok().map(|key| (letter.to_owned(), key)));
        }
        if let Some(founder) = books.setting(FOUNDER_KEY)? {
            named.extend(PublicKey::parse(&founder).ok().map(|key| (FOUNDER.to_owned(), key)));
        }
        Ok(Keys { roster: books.roster()?, named })
    }

    pub(crate) fn of(&self, letter: &str) -> Option<PublicKey> {
        let member = self.roster.member(letter).map(|member| member.signs_with);
        member.or_else(|| self.named.get(letter).copied())
    }
}

/// The newest index of each other device that can be read.
fn indexes(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    heads: &[HeadName],
    memory: &mut Memory,
    report: &mut Round,
) -> Result<BTreeMap<String, Index>, ExchangeError> {
    let keys = Keys::read(ledger.reading())?;
    let mut newest_first: Vec<&HeadName> =
        heads.iter().filter(|head| head.device != ledger.device()).collect();
    newest_first.sort_by_key(|head| std::cmp::Reverse(head.counter));
    let mut found: BTreeMap<String, Index> = BTreeMap::new();
    for head in newest_first {
        if found.contains_key(&head.device) || keys.of(&head.device).is_none() {
            continue;
        }
        let Some(bytes) = store.get(&format!("{PARCELS}{}", head.parcel))? else { continue };
        let opened = unpack(&head.parcel, &bytes, secrets, &|letter| keys.of(letter));
        if let Ok((from, Content::Index(index))) = opened
            && from == head.device
            && index.counter == head.counter
        {
            found.insert(from, index);
        }
    }
    report.rolled_back.clear();
    for (device, seen) in &memory.seen {
        if found.get(device).is_none_or(|index| index.counter < *seen) {
            report.rolled_back.push(device.clone());
        }
    }
    for (device, index) in &found {
        let seen = memory.seen.entry(device.clone()).or_insert(0);
        *seen = index.counter.max(*seen);
    }
    Ok(found)
}

/// Who may read what, of the devices that have not left.
pub(crate) fn present(roster: &Roster) -> BTreeMap<Audience, BTreeSet<String>> {
    let mut present: BTreeMap<Audience, BTreeSet<String>> = BTreeMap::new();
    for member in roster.present() {
        present.entry(audience(member)).or_default().insert(member.letter.clone());
    }
    present
}

pub(crate) fn audience(member: &Member) -> Audience {
    if member.is_site_copy() { Audience::Site } else { Audience::Office }
}

/// How far each chain is here, up to a head that can be shown.
pub(crate) fn held(ledger: &Ledger) -> Result<BTreeMap<String, i64>, LedgerError> {
    let books = ledger.reading();
    let mut held = BTreeMap::new();
    for (device, end) in books.device_ends()? {
        let is_signed = books.signed_head(&device)?.is_some_and(|head| head.device_seq == end);
        if is_signed || device == ledger.device() {
            held.insert(device, end);
        }
    }
    Ok(held)
}

/// The hashes of the entries up to which each chain is here.
fn ends(ledger: &Ledger, holds: &BTreeMap<String, i64>) -> Result<BTreeMap<String, Digest>, LedgerError> {
    let mut ends = BTreeMap::new();
    for (device, seq) in holds {
        ends.extend(ledger.reading().entry_hash(device, *seq)?.map(|hash| (device.clone(), hash)));
    }
    Ok(ends)
}

/// What a copy that has joined and knows nobody yet may be sent: the file says of itself what it is.
pub(crate) fn own_audience(ledger: &Ledger) -> Result<Audience, LedgerError> {
    let kind = ledger.reading().setting(ledger::site_copy::COPY)?;
    Ok(if kind.as_deref() == Some(ledger::site_copy::SITE) { Audience::Site } else { Audience::Office })
}

type Seen<'a> = (&'a BTreeSet<String>, &'a BTreeMap<String, Index>);

/// Fetches and takes in. Answers whether anything was new.
fn fetch(
    ledger: &mut Ledger,
    (secrets, store): (&DeviceSecrets, &dyn Store),
    (listed, others): Seen<'_>,
    memory: &mut Memory,
    report: &mut Round,
    at: Timestamp,
    tell: Tell<'_>,
) -> Result<bool, ExchangeError> {
    let keys = Keys::read(ledger.reading())?;
    let (present, holds) = (present(&keys.roster), held(ledger)?);
    let standing = Standing {
        me: ledger.device(),
        audience: own_audience(ledger)?,
        holds: &holds,
        mine: &memory.index,
        others,
        listed,
        present: &present,
        lacking: &memory.lacking,
        left_through: 0,
    };
    let mut coming = Coming::default();
    // What is wrong is told of the last look.
    (report.taken.refused, report.taken.forks) = (Vec::new(), Vec::new());
    let wanted = plan_fetch(&standing, &memory.taken);
    let count = wanted.len();
    for (place, name) in wanted.into_iter().enumerate() {
        go_on(tell, Step::Fetched(place, count))?;
        let Some(bytes) = store.get(&format!("{PARCELS}{name}"))? else { continue };
        match unpack(&name, &bytes, secrets, &|letter| keys.of(letter)) {
            Ok((_, Content::Chain(part))) => coming.add(name, part),
            _ => {
                report.damaged += 1;
                // It is said even where there is nothing else to say: nobody else could know.
                memory.unsaid |= memory.index.damaged.insert(name);
            }
        }
        if coming.parts.len().is_multiple_of(PARCELS_AT_ONCE) {
            coming.take_in(ledger, memory, report, at)?;
        }
    }
    coming.take_in(ledger, memory, report, at)?;
    if coming.is_new {
        for name in std::mem::take(&mut memory.aside) {
            memory.taken.remove(&name);
        }
    }
    Ok(coming.is_new)
}

/// After so many parcels what has come is taken in, so that a line that breaks has not carried it for nothing.
const PARCELS_AT_ONCE: usize = 16;

/// Parts that have come. Those that wait for others are offered again with what comes next.
#[derive(Default)]
struct Coming {
    parts: Vec<ChainPart>,
    names: Vec<String>,
    is_new: bool,
}

impl Coming {
    fn add(&mut self, name: String, part: ChainPart) {
        self.parts.push(part);
        self.names.push(name);
    }

    fn take_in(
        &mut self,
        ledger: &mut Ledger,
        memory: &mut Memory,
        report: &mut Round,
        at: Timestamp,
    ) -> Result<(), ExchangeError> {
        if self.parts.is_empty() {
            return Ok(());
        }
        let taken = take_from(ledger, &self.parts, at)?;
        self.is_new |= !taken.taken.is_empty();
        if taken.waiting.is_empty() {
            let parcels = self.parts.drain(..).zip(self.names.drain(..));
            if own_audience(ledger)? == Audience::Site {
                let is_aside = |part: &ChainPart| {
                    let numbers = part.first_seq()..=part.head.device_seq;
                    taken
                        .aside
                        .iter()
                        .any(|(device, seq)| *device == part.head.device && numbers.contains(seq))
                };
                for (part, name) in parcels {
                    if is_aside(&part) {
                        memory.aside.insert(name.clone());
                    }
                    memory.taken.insert(name);
                }
            }
        }
        for (device, count) in taken.taken {
            *report.taken.taken.entry(device).or_default() += count;
        }
        report.taken.waiting = taken.waiting;
        let is_told = |part: &RefusedPart| report.taken.refused.contains(part);
        let refused: Vec<RefusedPart> = taken.refused.into_iter().filter(|part| !is_told(part)).collect();
        report.taken.refused.extend(refused);
        let forks: Vec<Fork> =
            taken.forks.into_iter().filter(|fork| !report.taken.forks.contains(fork)).collect();
        report.taken.forks.extend(forks);
        Ok(())
    }
}

/// Takes parts in, each device's as far as it may have recorded them.
pub(crate) fn take_from(
    ledger: &mut Ledger,
    parts: &[ChainPart],
    at: Timestamp,
) -> Result<TakenIn, LedgerError> {
    let may = |member: &Member, kind: &str| !member.is_site_copy() || may_come_from_site(kind);
    ledger.take_in(parts, at, &may)
}

/// Sends what the store lacks, then says so.
fn send(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    (listed, others, heads): (&BTreeSet<String>, &BTreeMap<String, Index>, &mut Vec<HeadName>),
    memory: &mut Memory,
    report: &mut Round,
    tell: Tell<'_>,
) -> Result<(), ExchangeError> {
    let books = ledger.reading();
    let roster = books.roster()?;
    let Some(me) = roster.member(ledger.device()).filter(|me| me.last_seq.is_none()) else { return Ok(()) };
    let before = memory.index.clone();
    let present = present(&roster);
    let mut on_site =
        if present.contains_key(&Audience::Site) { facts_on_site(books)? } else { HashSet::new() };
    let jobs: BTreeSet<String> = jobs_on_site(books)?.iter().map(ToString::to_string).collect();
    if !jobs.is_subset(&memory.index.jobs_on_site) {
        // A job that is planned now brings facts that were sent as entries only.
        memory.index.parcels.retain(|note| note.audience != Audience::Site);
    }
    memory.index.jobs_on_site = jobs;
    on_site.extend(ends_to_tell(books, &roster, others, memory)?);
    memory.taken.retain(|name| listed.contains(name));
    memory.aside.retain(|name| listed.contains(name));
    forget_lost(store, listed, others, &mut memory.index)?;
    let holds = held(ledger)?;
    let mut listed = listed.clone();
    let wishes = {
        let standing = |mine, left_through| Standing {
            me: ledger.device(),
            audience: audience(me),
            holds: &holds,
            mine,
            others,
            listed: &listed,
            present: &present,
            lacking: &memory.lacking,
            left_through,
        };
        let left_through = if me.is_site_copy() {
            let covered = standing(&memory.index, 0).covered(&me.letter, Audience::Office);
            books.last_without_its_fact(&me.letter, covered)?
        } else {
            0
        };
        let lacks = lacking(&standing(&memory.index, 0));
        let counted = |device: String| {
            let before = memory.lacking.get(&device).copied().unwrap_or(0);
            (device, before.saturating_add(1))
        };
        let now: BTreeMap<String, u32> = lacks.into_iter().map(counted).collect();
        let wishes = plan_send(&standing(&memory.index, left_through));
        memory.lacking = now;
        wishes
    };
    for (place, wish) in wishes.iter().enumerate() {
        go_on(tell, Step::Sent(place, wishes.len()))?;
        send_span(ledger, secrets, store, &roster, wish, &on_site, &mut |note| {
            report.sent += u64::try_from(note.span.last - note.span.first + 1).unwrap_or(0);
            listed.insert(note.name.clone());
            memory.index.parcels.push(note);
            memory.unsaid = true;
        })?;
    }
    memory.index.ends = ends(ledger, &holds)?;
    memory.index.holds = holds;
    memory.index.damaged.retain(|name| listed.contains(name));
    say_lacking(&files_named(ledger, false)?, &mut memory.index);
    let is_shown = heads.iter().any(|head| head.device == me.letter && head.counter == before.counter)
        && memory.head.as_ref().is_some_and(|name| listed.contains(name));
    if memory.index != before || memory.unsaid || !is_shown {
        publish(ledger, secrets, store, &roster, heads, memory)?;
    }
    Ok(())
}

/// How jobs ended that some copy for the site still takes to be at work. Where it was sent as an entry alone, because
/// nobody could tell that then, it is sent anew.
fn ends_to_tell(
    books: Books<'_>,
    roster: &Roster,
    others: &BTreeMap<String, Index>,
    memory: &mut Memory,
) -> Result<Vec<Id>, ExchangeError> {
    let is_site = |letter: &String| roster.member(letter).is_some_and(Member::is_site_copy);
    let sites = others.iter().filter(|(letter, _)| is_site(letter));
    let theirs: BTreeSet<&String> = sites.flat_map(|(_, index)| &index.jobs_on_site).collect();
    let mut ends = Vec::new();
    for held in ends_of_jobs(books)?.into_iter().filter(|held| theirs.contains(&held.fact.job.to_string())) {
        let entry = held.entry;
        if memory.ends_told.insert(entry.id.to_string()) {
            let is_of = |span: &Span| {
                span.device == entry.device && (span.first..=span.last).contains(&entry.device_seq)
            };
            memory.index.parcels.retain(|note| note.audience != Audience::Site || !is_of(&note.span));
        }
        ends.push(entry.id);
    }
    Ok(ends)
}

/// Carries photos and papers, once the facts that name them are said, and says what was carried.
fn carry_files(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    (mut listed, others, heads): (BTreeSet<String>, &BTreeMap<String, Index>, &mut Vec<HeadName>),
    memory: &mut Memory,
    most_bytes: u64,
    tell: Tell<'_>,
) -> Result<FilesMoved, ExchangeError> {
    let roster = ledger.reading().roster()?;
    let Some(me) = roster.member(ledger.device()).filter(|me| me.last_seq.is_none()) else {
        return Ok(FilesMoved::default());
    };
    let (present, audience) = (present(&roster), audience(me));
    let carrier = Carrier { ledger, secrets, store, roster: &roster, audience, others, present: &present };
    if most_bytes == 0 {
        return carrier.count(memory, &listed);
    }
    let before = memory.index.clone();
    let mut pieces = |fetched: bool, done: usize, all: usize| {
        tell(if fetched { Step::FilesFetched(done, all) } else { Step::FilesSent(done, all) })
    };
    let outcome = carrier.carry(memory, &mut listed, most_bytes, &mut pieces);
    // What was carried until it was stopped is said too.
    let was_stopped = matches!(outcome, Err(ExchangeError::Stopped));
    if (outcome.is_ok() || was_stopped) && (memory.unsaid || memory.index != before) {
        publish(ledger, secrets, store, &roster, heads, memory)?;
    }
    outcome
}

/// Takes away what this file put there under letters that another file keeps, once that one's own index lies there:
/// what both have put there, before the two parted, is that one's.
fn clear_behind(
    ledger: &Ledger,
    store: &dyn Store,
    others: &BTreeMap<String, Index>,
    memory: &mut Memory,
) -> Result<(), ExchangeError> {
    let Some(left) = &memory.left_behind else { return Ok(()) };
    let Some((seq, hash)) = others.get(&left.device).and_then(|index| index.end(&left.device)) else {
        return Ok(());
    };
    if ledger.reading().entry_hash(&left.device, seq)? != Some(hash) {
        return Ok(());
    }
    let is_used = |name: &String| {
        others.values().any(|index| {
            index.parcels.iter().any(|note| note.name == *name)
                || index.files.iter().any(|file| file.pieces.contains(name))
        })
    };
    for name in left.parcels.iter().filter(|name| !is_used(name)) {
        store.delete(&format!("{PARCELS}{name}"))?;
    }
    memory.left_behind = None;
    Ok(())
}

/// Its own parcels that the store no longer has, or that somebody found damaged, are sent anew.
fn forget_lost(
    store: &dyn Store,
    listed: &BTreeSet<String>,
    others: &BTreeMap<String, Index>,
    mine: &mut Index,
) -> Result<(), ExchangeError> {
    let is_damaged = |name: &String| others.values().any(|index| index.damaged.contains(name));
    for note in mine.parcels.iter().filter(|note| is_damaged(&note.name)) {
        store.delete(&format!("{PARCELS}{}", note.name))?;
    }
    mine.parcels.retain(|note| listed.contains(&note.name) && !is_damaged(&note.name));
    Ok(())
}

pub(crate) fn send_span(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    roster: &Roster,
    wish: &Wish,
    on_site: &HashSet<Id>,
    put: &mut dyn FnMut(Note),
) -> Result<(), ExchangeError> {
    let readers: Vec<&Member> = roster.present().filter(|member| audience(member) == wish.audience).collect();
    let to: Vec<&str> = readers.iter().map(|member| member.locks_with.as_str()).collect();
    let letters: BTreeSet<String> = readers.iter().map(|member| member.letter.clone()).collect();
    let mut first = wish.span.first;
    while first <= wish.span.last {
        let Some(head) = head_of(ledger, secrets, &wish.span, first)? else { break };
        let last = head.device_seq;
        let part = ledger.reading().chain_part(&head, first, &mut |_, _, id| {
            Ok(match wish.audience {
                Audience::Office => HowMuch::All,
                Audience::Site if on_site.contains(&id) => HowMuch::Open,
                Audience::Site => HowMuch::Nothing,
            })
        })?;
        let parcel = pack(ledger.device(), secrets, &Content::Chain(part), &to)?;
        store.put(&format!("{PARCELS}{}", parcel.name), parcel.bytes)?;
        let span = Span { device: wish.span.device.clone(), first, last };
        // Said at once, so that what a line that breaks has carried need not be carried again.
        put(Note { name: parcel.name, audience: wish.audience, to: letters.clone(), span });
        first = last + 1;
    }
    Ok(())
}

/// Its own chain it can sign anywhere; of another's it has the head that came with it.
fn head_of(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    span: &Span,
    first: i64,
) -> Result<Option<SignedHead>, LedgerError> {
    if span.device != ledger.device() {
        return ledger.reading().signed_head(&span.device);
    }
    let last = span.last.min(first + ENTRIES_IN_A_PARCEL - 1);
    let hash = ledger.reading().entry_hash(&span.device, last)?;
    Ok(hash.map(|hash| SignedHead::of(secrets.signing(), &span.device, last, hash)))
}

/// Puts the index there, then the head that points at it, and takes its older heads away.
fn publish(
    ledger: &Ledger,
    secrets: &DeviceSecrets,
    store: &dyn Store,
    roster: &Roster,
    heads: &mut Vec<HeadName>,
    memory: &mut Memory,
) -> Result<(), ExchangeError> {
    let me = ledger.device();
    let own: Vec<HeadName> = heads.iter().filter(|head| head.device == me).cloned().collect();
    let highest = own.iter().map(|head| head.counter).max().unwrap_or(0);
    memory.index.counter = memory.index.counter.max(highest) + 1;
    let to: Vec<&str> = roster.present().map(|member| member.locks_with.as_str()).collect();
    let parcel = pack(me, secrets, &Content::Index(memory.index.clone()), &to)?;
    let head = HeadName { device: me.to_owned(), counter: memory.index.counter, parcel: parcel.name.clone() };
    store.put(&format!("{PARCELS}{}", parcel.name), parcel.bytes)?;
    store.put(&head.path(), parcel.name.clone().into_bytes())?;
    memory.head = Some(parcel.name);
    heads.retain(|known| known.device != me);
    heads.push(head);
    for old in own {
        store.delete(&old.path())?;
        store.delete(&format!("{PARCELS}{}", old.parcel))?;
    }
    memory.unsaid = false;
    Ok(())
}

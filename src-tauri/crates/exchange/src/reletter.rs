//! New letters for a file under whose letters another one was written too. The owner adds a device on another one;
//! its joining file is used here in the place of a new machine: a new file fetches all that the firm has, and what the
//! old one alone wrote goes on in it, each fact as it was. The old file is set aside, and nothing of it is lost.

use crate::error::ExchangeError;
use crate::exchanged::{Exchanged, exchange, last};
use crate::join::join;
use crate::letters::{At, Work, finish};
use crate::memory::{Memory, remember, remembered};
use crate::round::{Step, take_from};
use crate::secrets::DeviceSecrets;
use crate::settings::choose_store;
use desk::{Clock, Desk, OfficeError};
use jiff::Timestamp;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::roster::FOUNDER;
use ledger::{Books, HowMuch, Ledger, LedgerError, Parted, SignedHead};
use serde::Serialize;
use std::path::{Path, PathBuf};

/// A file that has new letters.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Relettered {
    /// The letters that it had.
    pub was: String,
    /// The letters that it has.
    pub letter: String,
    /// What people call the device.
    pub name: String,
    /// The file.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub file: PathBuf,
    /// Where it lies as it was.
    #[cfg_attr(feature = "ts", ts(type = "string"))]
    pub aside: PathBuf,
    /// How many entries no other file had: they go on under the new letters.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub entries: u64,
    /// The exchange that brought what the firm has.
    pub first: Exchanged,
}

/// Gives a file the letters of a joining file.
///
/// # Errors
/// When nothing shows yet that another file was written under its letters, the joining file is for another kind of
/// device or another firm, the store cannot be reached or lacks what is here, or somebody has the file open. The file
/// is then as it was, and the joining file can be used again.
pub fn reletter(
    path: &Path,
    joining: &Path,
    passphrase: &str,
    store: Option<&str>,
    tell: &mut dyn FnMut(Step) -> bool,
) -> Result<Relettered, ExchangeError> {
    let mut bring = |desk: &mut Desk| {
        if let Some(address) = store {
            choose_store(desk, address, None)?;
        }
        exchange(desk, tell)
    };
    match with_letters_of(path, (joining, passphrase), &mut bring, &mut |_| Ok(())) {
        Ok(done) => Ok(done),
        Err(error) => {
            // Whatever it was: the old file is there as it was, or the new one whole.
            if let Ok(there) = Parted::open(path) {
                finish(there.path(), &letters(there.books())?)?;
            }
            Err(error)
        }
    }
}

/// The same, with whatever brings to a new file what the firm has.
fn with_letters_of(
    path: &Path,
    (joining, passphrase): (&Path, &str),
    bring: &mut dyn FnMut(&mut Desk) -> Result<Exchanged, ExchangeError>,
    at: At<'_>,
) -> Result<Relettered, ExchangeError> {
    let old = Parted::open(path)?;
    let (path, was) = (old.path().to_owned(), letters(old.books())?);
    finish(&path, &was)?;
    let work = Work::begin(&path)?;
    let joined = join(joining, passphrase, &work.part())?;
    let is_site = |role: Option<Role>| role == Some(Role::Crew);
    if is_site(desk::device::role(old.books())?) != is_site(Some(joined.role)) {
        let problem = "it is for a device that holds something else than this file does";
        return Err(refused("joining", problem, "Let the owner add a device for the same person"));
    }
    let mut desk = Desk::open(&work.part(), Clock::System)?;
    let first = bring(&mut desk)?;
    if let Some(why) = first.why.filter(|_| !first.is_reached) {
        return Err(ExchangeError::Store(why));
    }
    let first = Exchanged { why: None, ..first };
    let keys = DeviceSecrets::kept(&work.part())?.ok_or(ExchangeError::NoKeys)?;
    let entries = go_on(&old, &mut desk, &keys, &was)?;
    let memory = Memory {
        left_behind: Some(remembered(old.books())?.left_behind_as(&was)),
        ..remembered(desk.books())?
    };
    remember(desk.ledger()?, &memory)?;
    drop(desk);
    let aside = work.take_place(old, &was, &joined.letter, at)?;
    let (letter, name) = (joined.letter, joined.name);
    Ok(Relettered { was, letter, name, file: path, aside, entries, first })
}

fn refused(field: &str, problem: &str, remedy: &str) -> ExchangeError {
    OfficeError::refused(field, problem, remedy).into()
}

/// What a file is called by.
fn letters(books: Books<'_>) -> Result<String, LedgerError> {
    Ok(books.setting(DEVICE)?.unwrap_or_else(|| FOUNDER.to_owned()))
}

/// Goes on in a new file, which has fetched what the firm has, with what the old one alone wrote. Answers how many
/// entries that were.
///
/// # Errors
/// As [`reletter`].
pub(crate) fn go_on(
    old: &Parted,
    desk: &mut Desk,
    keys: &DeviceSecrets,
    was: &str,
) -> Result<u64, ExchangeError> {
    let (mut is_parted, mut own_from) = (false, None);
    let ends = old.books().device_ends()?;
    if old.books().entry_hash(FOUNDER, 1)? != desk.books().entry_hash(FOUNDER, 1)? {
        let problem = "it is another firm's, or the store has not got the firm's first entries";
        return Err(refused("joining", problem, "Use one that this firm's owner has made"));
    }
    for (device, end) in &ends {
        let parts = old.books().parts_at(&desk.books(), device)?;
        let there =
            desk.books().device_ends()?.iter().find(|(letter, _)| letter == device).map_or(0, |at| at.1);
        is_parted |= parts.is_some();
        if device == was {
            own_from = parts.or((there < *end).then_some(there + 1));
            continue;
        }
        // What another device wrote comes from itself, under whatever letters it has now.
        let lacking = old.books().lacking_in(&desk.books(), device, parts.unwrap_or(there + 1))?;
        if lacking > 0 {
            let entries = if lacking == 1 { "1 entry".to_owned() } else { format!("{lacking} entries") };
            let problem = format!("{entries} of device {device} are here and not in the store yet");
            let remedy = match parts {
                Some(_) => format!(
                    "Give the file that wrote them as {device} new letters first, then exchange there"
                ),
                None => format!("Let device {device} exchange first"),
            };
            return Err(refused("store", &problem, &remedy));
        }
    }
    let roster = desk.books().roster()?;
    let own_keys = DeviceSecrets::kept(old.path())?;
    let own_key = own_keys.as_ref().map(DeviceSecrets::signs_with);
    // A copy without keys can sign nothing under its letters; of two devices that were given one letter, nothing that
    // the second wrote is believed under it.
    let may_sign =
        own_key.is_some() && roster.member(was).is_none_or(|member| Some(member.signs_with) == own_key);
    let was_told = last(old.books())?.is_some_and(|last| last.parted.is_some());
    if !is_parted && may_sign && !was_told {
        let problem = format!("nothing in the store shows that another file was written as {was}");
        return Err(refused("file", &problem, "Exchange on the other one first, if there is one"));
    }
    let (at, _) = desk.clock.tick();
    let is_site = desk::device::role(old.books())? == Some(Role::Crew);
    let ledger = desk.ledger()?;
    let entries = match own_from {
        Some(first) => {
            if is_site {
                let shared = own_keys.as_ref().map(|keys| (keys, was, first - 1));
                hold_again(&old.books(), ledger, shared, at)?;
            }
            ledger.carry_over(&old.books(), was, first, keys.signing(), at)?
        }
        None => 0,
    };
    keep_unrecorded(&old.books(), ledger)?;
    Ok(entries)
}

/// A copy for the site lets go of jobs that are finished, and a new one never had them: what the old one holds of them
/// is held again, so that what it wrote about them finds them there. They leave once an office has it all.
fn hold_again(
    old: &Books<'_>,
    new: &mut Ledger,
    shared: Option<(&DeviceSecrets, &str, i64)>,
    at: Timestamp,
) -> Result<(), ExchangeError> {
    let mut heads = Vec::new();
    for (device, _) in old.device_ends()? {
        heads.extend(old.signed_head(&device)?);
    }
    // Of its own chain, what both files have; its last entry is signed here.
    if let Some((keys, was, last)) = shared
        && let Some(hash) = old.entry_hash(was, last)?
    {
        heads.retain(|head| head.device != was);
        heads.push(SignedHead::of(keys.signing(), was, last, hash));
    }
    let mut parts = Vec::new();
    for head in &heads {
        parts.push(old.chain_part(head, 1, &mut |_, _, _| Ok(HowMuch::Open))?);
    }
    take_from(new, &parts, at)?;
    Ok(())
}

/// Drafts are no facts, and somebody's work all the same.
fn keep_unrecorded(old: &Books<'_>, new: &mut Ledger) -> Result<(), LedgerError> {
    for draft in old.drafts(None)? {
        let at = draft.changed_at.parse().unwrap_or(Timestamp::UNIX_EPOCH);
        new.save_draft(draft.id, &draft.kind, draft.job, draft.person, &draft.body, at)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::devices::add_device;
    use crate::exchanged::through;
    use crate::letters::Cut;
    use crate::own::keys_of;
    use crate::store::Kept;
    use crate::stored::Store;
    use desk::NewFirm;
    use desk::record::Recorder;
    use ledger::facts::{Condition, DirectCost, Person};
    use serde_json::{Value, json};
    use std::collections::BTreeSet;

    const ALL_FILES: u64 = u64::MAX;

    fn record(desk: &mut Desk, fact: Value) {
        Recorder::default().record(desk, fact).unwrap();
    }

    fn cost(desk: &mut Desk, amount: &str) {
        record(
            desk,
            json!({"kind": "direct-cost", "date": "2026-03-05", "job": "26-001", "code": "tear",
                "cost_kind": "disposal", "description": "load", "amount": amount}),
        );
    }

    /// A photo that a condition names: its hash.
    fn find(desk: &mut Desk, number: &str, bytes: &[u8]) -> ledger::Digest {
        let kept = desk::attachments::attach(desk, bytes, "image/jpeg", None).unwrap();
        record(
            desk,
            json!({"kind": "condition", "date": "2026-03-05", "job": "26-001", "number": number, "place": "eave",
                "cause": "ice-dam", "damaged": "deck-sheet", "counted_in": "sheet", "count": "2",
                "photos": [{"photo": kept.hash}]}),
        );
        ledger::Digest::parse(&kept.hash).unwrap()
    }

    fn open(path: &Path) -> Desk {
        let mut desk = Desk::open(path, Clock::System).unwrap();
        desk.rise();
        desk
    }

    fn letter(desk: &Desk) -> String {
        letters(desk.books()).unwrap()
    }

    fn in_touch(desk: &mut Desk, store: &dyn Store) -> Exchanged {
        through(desk, store, ALL_FILES, &mut |_| true).unwrap()
    }

    fn costs(desk: &Desk) -> Vec<String> {
        let mut costs: Vec<String> = desk
            .books()
            .all::<DirectCost>()
            .unwrap()
            .iter()
            .map(|held| held.fact.amount.to_string())
            .collect();
        costs.sort();
        costs
    }

    /// A new device for the owner: its joining file and passphrase.
    fn add(desk: &mut Desk, name: &str, folder: &Path) -> (PathBuf, String) {
        let owner = desk.books().all::<Person>().unwrap()[0].entry.id;
        let added = add_device(desk, name, owner, None, &folder.join(format!("{name}.joining"))).unwrap();
        (added.file, added.passphrase)
    }

    /// The office's file, and all that lies beside it, copied to another machine.
    fn copied(from: &Path, to: &Path) -> PathBuf {
        std::fs::create_dir_all(to).unwrap();
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap();
            let named = to.join(file.file_name());
            if file.file_type().unwrap().is_dir() {
                copied(&file.path(), &named);
            } else {
                std::fs::copy(file.path(), named).unwrap();
            }
        }
        to.join("firm.tearoff")
    }

    /// A firm on one machine, with its owner's key and one more device on the roster, in touch with a store.
    fn office(home: &Path, store: &dyn Store) -> (Desk, (PathBuf, String)) {
        let folder = home.join("first");
        std::fs::create_dir(&folder).unwrap();
        let said = json!({"name": "Gable and Eave", "town": "Otter Bend", "state": "LK"});
        let firm =
            NewFirm::usual("Olive Marsh", said.as_object().unwrap().clone(), jiff::civil::date(2026, 1, 1));
        let mut desk = Desk::make(&folder.join("firm.tearoff"), &firm.unwrap(), Clock::System).unwrap();
        desk.rise();
        for fact in [
            json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
            json!({"kind": "customer", "name": "Ada Birch"}),
            json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof",
                "customer": "Ada Birch", "site": "1 Mill Lane"}),
        ] {
            record(&mut desk, fact);
        }
        let books = add(&mut desk, "The second desk", home);
        in_touch(&mut desk, store);
        (desk, books)
    }

    /// The office's file, and a copy of it on another machine.
    fn two_files(home: &Path, store: &dyn Store) -> (PathBuf, PathBuf) {
        let (first, _) = office(home, store);
        let path = first.path();
        drop(first);
        (path, copied(&home.join("first"), &home.join("second")))
    }

    fn names(folder: &Path) -> Vec<String> {
        let all = std::fs::read_dir(folder).unwrap();
        let mut names: Vec<String> =
            all.map(|file| file.unwrap().file_name().into_string().unwrap()).collect();
        names.retain(|name| !name.ends_with("-wal") && !name.ends_with("-shm") && !name.ends_with(".lock"));
        names.sort();
        names
    }

    /// Both written on, the first in touch with the store: the other one is told, sends nothing, and goes on under new
    /// letters with all that it wrote.
    #[test]
    fn of_two_files_written_apart_one_keeps_the_letter_and_the_other_gets_new_ones() {
        let home = tempfile::tempdir().unwrap();
        let store = Kept::memory().unwrap();
        let (path, second) = two_files(home.path(), &store);
        let mut first = open(&path);
        cost(&mut first, "5.00");
        assert_eq!(in_touch(&mut first, &store).parted, None);

        let mut desk = open(&second);
        cost(&mut desk, "6.00");
        let photo = find(&mut desk, "7", b"a picture of rot");
        let mut heads = store.list("heads/").unwrap();
        let told = in_touch(&mut desk, &store);
        let parted = told.parted.clone().unwrap();
        assert!(
            parted.contains("Another file was written as device A too, and that one keeps the letter"),
            "{parted}"
        );
        assert!(parted.contains("what only this file holds, 3 entries, stays here"), "{parted}");
        assert_eq!(told.troubles, [parted]);
        assert_eq!((told.sent, costs(&desk)), (None, vec!["6.00".to_owned()]));
        assert_eq!(
            store.list("heads/").unwrap(),
            heads,
            "it put something there under a letter that is not its own"
        );
        drop(desk);

        // The one that keeps it notices nothing, and adds a device.
        let told = in_touch(&mut first, &store);
        assert!(told.parted.is_none() && told.troubles.is_empty(), "{told:?}");
        let (joining, passphrase) = add(&mut first, "The spare laptop", home.path());
        let again = add(&mut first, "Another one", home.path());
        let mut bring = |desk: &mut Desk| through(desk, &store, ALL_FILES, &mut |_| true);
        let early = with_letters_of(&second, (&joining, &passphrase), &mut bring, &mut |_| Ok(()));
        assert!(early.is_err(), "the store does not know of the device yet");
        assert_eq!(letter(&open(&second)), "A");
        in_touch(&mut first, &store);
        let done = with_letters_of(&second, (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap();
        assert_eq!((done.was.as_str(), done.letter.as_str(), done.entries), ("A", "C", 3));

        let mut desk = open(&second);
        assert_eq!(
            (letter(&desk), costs(&desk)),
            ("C".to_owned(), vec!["5.00".to_owned(), "6.00".to_owned()])
        );
        assert!(ledger::attachment::read(&second, photo).is_ok());
        let told = in_touch(&mut desk, &store);
        assert!(told.parted.is_none() && told.sent.is_some() && told.waiting == 0, "{told:?}");
        let told = in_touch(&mut first, &store);
        assert!(told.came[0].ends_with("from The spare laptop") && told.troubles.is_empty(), "{told:?}");
        assert_eq!(costs(&first), costs(&desk));
        assert!(
            ledger::attachment::read(&path, photo).is_ok(),
            "the photo follows its fact under the new letter"
        );
        assert_eq!(first.books().all::<Condition>().unwrap()[0].fact.number, "7");
        for path in [&path, &second, &done.aside] {
            let verdict = ledger::verify(path, &mut |_| true).unwrap();
            assert!(verdict.is_good_but_for_files(), "{}: {:?}", path.display(), verdict.problems);
        }
        drop(desk);

        // The file as it was still sends nothing; and one that nobody else writes as gets no new letters.
        heads = store.list("heads/").unwrap();
        assert!(in_touch(&mut open(&done.aside), &store).parted.is_some());
        assert_eq!(store.list("heads/").unwrap(), heads);
        let kept = with_letters_of(&second, (&again.0, &again.1), &mut bring, &mut |_| Ok(())).unwrap_err();
        assert!(
            kept.to_string().contains("nothing in the store shows that another file was written as C"),
            "{kept}"
        );
        assert_eq!(letter(&open(&second)), "C");
    }

    /// Wherever it is cut, the old file is there with its keys or the new one with its own, and all that either held.
    #[test]
    fn cut_at_any_step_the_old_file_is_there_or_the_new_one() {
        let home = tempfile::tempdir().unwrap();
        let store = Kept::memory().unwrap();
        let (path, second) = two_files(home.path(), &store);
        let mut first = open(&path);
        cost(&mut first, "5.00");
        let there = find(&mut first, "1", b"a picture of the first one's");
        let (joining, passphrase) = add(&mut first, "The spare laptop", home.path());
        in_touch(&mut first, &store);
        let mut desk = open(&second);
        cost(&mut desk, "6.00");
        let here = find(&mut desk, "7", b"a picture of rot");
        let old_key = keys_of(&desk).unwrap().signs_with();
        drop(desk);
        let before = names(&home.path().join("second"));
        let cuts = [Cut::IsNoted, Cut::IsKept, Cut::HasMoved, Cut::IsAside, Cut::HasKeys];
        for (place, cut) in cuts.into_iter().enumerate() {
            let folder = home.path().join(format!("cut {place}"));
            let file = copied(&home.path().join("second"), &folder);
            let mut bring = |desk: &mut Desk| through(desk, &store, ALL_FILES, &mut |_| true);
            let stopped = with_letters_of(&file, (&joining, &passphrase), &mut bring, &mut |at| {
                if at == cut { Err(ExchangeError::Stopped) } else { Ok(()) }
            });
            assert!(matches!(stopped, Err(ExchangeError::Stopped)), "{cut:?}: {stopped:?}");
            let desk = open(&file);
            let keys = keys_of(&desk).unwrap();
            assert!(ledger::attachment::read(&file, here).is_ok(), "{cut:?}");
            let has_moved = place >= 2;
            if has_moved {
                assert_eq!(
                    (letter(&desk).as_str(), costs(&desk)),
                    ("C", vec!["5.00".to_owned(), "6.00".to_owned()])
                );
                assert!(
                    keys.signs_with() != old_key && ledger::attachment::read(&file, there).is_ok(),
                    "{cut:?}"
                );
                let mut expected = before.clone();
                expected.extend(["firm, as A.tearoff".to_owned(), "firm, as A.tearoff.key".to_owned()]);
                expected.sort();
                assert_eq!(names(&folder), expected, "{cut:?}");
                drop(desk);
            } else {
                assert_eq!((letter(&desk).as_str(), costs(&desk)), ("A", vec!["6.00".to_owned()]));
                assert_eq!(keys.signs_with(), old_key, "{cut:?}");
                assert_eq!(names(&folder), before, "{cut:?}");
                drop(desk);
                let done =
                    with_letters_of(&file, (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap();
                assert_eq!((done.letter.as_str(), done.entries), ("C", 3), "{cut:?}");
            }
            assert_eq!(costs(&open(&folder.join("firm, as A.tearoff"))), ["6.00"], "{cut:?}");
        }
    }

    /// Puts every file of a folder that another lacks there.
    fn throw_into(from: &Path, to: &Path) {
        for file in std::fs::read_dir(from).into_iter().flatten() {
            let file = file.unwrap();
            let there = to.join(file.file_name());
            if file.file_type().unwrap().is_dir() {
                std::fs::create_dir_all(&there).unwrap();
                throw_into(&file.path(), &there);
            } else if !there.exists() {
                std::fs::copy(file.path(), there).unwrap();
            }
        }
    }

    /// The parcels in a store that no device says it has put there.
    fn nobodys(store: &dyn Store, devices: &[&Desk]) -> BTreeSet<String> {
        let known: BTreeSet<String> = devices
            .iter()
            .flat_map(|desk| remembered(desk.books()).unwrap().left_behind_as("").parcels)
            .collect();
        let listed = store.list("parcels/").unwrap();
        let names = listed.iter().filter_map(|path| path.strip_prefix("parcels/")).map(str::to_owned);
        names.filter(|name| !known.contains(name)).collect()
    }

    /// Both have put what they wrote into folders that were kept the same later. Each sees the other's, and both come
    /// to the same answer: the one whose entries a third device has keeps the letter; else the one that put more there.
    #[test]
    fn where_both_have_sent_both_come_to_the_same_answer() {
        for second_is_known in [false, true] {
            let home = tempfile::tempdir().unwrap();
            let folders = ["one", "two"].map(|name| home.path().join(name));
            for folder in &folders {
                std::fs::create_dir(folder).unwrap();
            }
            let [one, two] = folders.each_ref().map(|folder| Kept::folder(folder).unwrap());
            let (first, (joining, passphrase)) = office(home.path(), &one);
            let path = first.path();
            drop(first);
            let third = home.path().join("third.tearoff");
            join(&joining, &passphrase, &third).unwrap();
            let mut third = open(&third);
            in_touch(&mut third, &one);
            let second = copied(&home.path().join("first"), &home.path().join("second"));
            throw_into(&folders[0], &folders[1]);
            let (mut first, mut desk) = (open(&path), open(&second));
            for amount in ["1.00", "2.00", "3.00"] {
                cost(&mut first, amount);
            }
            cost(&mut desk, "6.00");
            assert_eq!(in_touch(&mut first, &one).parted, None);
            assert_eq!(in_touch(&mut desk, &two).parted, None);
            if second_is_known {
                let told = in_touch(&mut third, &two);
                assert_eq!(costs(&third), ["6.00"], "{told:?}");
            }
            throw_into(&folders[1], &folders[0]);
            let (of_first, of_second) = (in_touch(&mut first, &one), in_touch(&mut desk, &one));
            assert_eq!(of_first.parted.is_some(), second_is_known, "{of_first:?}");
            assert_eq!(of_second.parted.is_some(), !second_is_known, "{of_second:?}");
            let (keeper, yields) =
                if second_is_known { (&mut desk, &mut first) } else { (&mut first, &mut desk) };
            let told = if second_is_known { of_second } else { of_first };
            assert!(told.troubles[0].contains("This one keeps the letter"), "{told:?}");
            // One of them goes on, the other is made anew from a device that it adds.
            let (joining, passphrase) = add(keeper, "The spare laptop", home.path());
            in_touch(keeper, &one);
            in_touch(&mut third, &one);
            assert!(in_touch(yields, &one).parted.is_some());
            let file = yields.path();
            let keeper_costs = costs(keeper);
            let mut bring = |desk: &mut Desk| through(desk, &one, ALL_FILES, &mut |_| true);
            let (yielded, kept_on) = (costs(yields).len(), keeper_costs.len());
            drop((first, desk));
            let done = with_letters_of(&file, (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap();
            assert_eq!(done.entries, u64::try_from(yielded).unwrap());
            let mut made = open(&file);
            in_touch(&mut made, &one);
            in_touch(&mut third, &one);
            // What it had put there under the letter that it lost is nobody's, and goes.
            let mut kept = open(if second_is_known { &second } else { &path });
            in_touch(&mut kept, &one);
            in_touch(&mut made, &one);
            assert_eq!(nobodys(&one, &[&kept, &third, &made]), BTreeSet::new());
            let verdict = in_touch(&mut kept, &one);
            assert!(verdict.troubles.is_empty() && verdict.sent.is_none(), "{verdict:?}");
            assert_eq!((costs(&made).len(), costs(&third)), (yielded + kept_on, costs(&made)));
        }
    }

    /// Two devices to which one letter was given, such as by two copies of the owner's file: the firm knows one of
    /// them, and the other is told what to do, and goes on under letters of its own.
    #[test]
    fn the_second_of_two_devices_with_one_letter_is_told_and_gets_its_own() {
        let home = tempfile::tempdir().unwrap();
        let store = Kept::memory().unwrap();
        let (path, second) = two_files(home.path(), &store);
        let (mut first, mut other) = (open(&path), open(&second));
        let known = add(&mut first, "A tablet", home.path());
        let unknown = add(&mut other, "A laptop", home.path());
        in_touch(&mut first, &store);
        let files = [("one", &known), ("other", &unknown)].map(|(name, (joining, passphrase))| {
            let file = home.path().join(name);
            let joined = join(joining, passphrase, &file).unwrap();
            assert_eq!(joined.letter, "C");
            file
        });
        let mut known = open(&files[0]);
        in_touch(&mut known, &store);
        // The second one knows its firm by the copy alone, through a stick, and writes; then it finds the firm's store.
        let stick = Kept::memory().unwrap();
        in_touch(&mut other, &stick);
        let mut desk = open(&files[1]);
        in_touch(&mut desk, &stick);
        cost(&mut desk, "9.00");
        let heads = store.list("heads/").unwrap();
        let refused = through(&mut desk, &store, ALL_FILES, &mut |_| true).unwrap_err();
        let refused = OfficeError::from(refused);
        assert_eq!(refused.field.as_deref(), Some("device"));
        assert_eq!(store.list("heads/").unwrap(), heads, "it took the other one's head away");
        assert!(refused.message.contains("The firm knows device C by another key"), "{refused}");
        assert!(refused.remedy.contains("give this file the letter of its joining file"), "{refused}");
        assert!(in_touch(&mut known, &store).troubles.is_empty());
        drop((desk, other));
        // What it has from the other copy is to be in the store first: that one gets letters of its own, too.
        let spare = add(&mut first, "The spare laptop", home.path());
        let (joining, passphrase) = add(&mut first, "The laptop again", home.path());
        in_touch(&mut first, &store);
        let mut bring = |desk: &mut Desk| through(desk, &store, ALL_FILES, &mut |_| true);
        let early =
            with_letters_of(&files[1], (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap_err();
        assert!(
            early.to_string().contains("Give the file that wrote them as A new letters first"),
            "{early}"
        );
        let done = with_letters_of(&second, (&spare.0, &spare.1), &mut bring, &mut |_| Ok(())).unwrap();
        assert_eq!((done.was.as_str(), done.letter.as_str(), done.entries), ("A", "D", 1));
        in_touch(&mut open(&second), &store);
        // The firm's list holds the letter as it was given first.
        in_touch(&mut first, &store);
        let key = |desk: &Desk| desk.books().roster().unwrap().member("C").unwrap().signs_with;
        assert_eq!(key(&first), keys_of(&known).unwrap().signs_with());
        assert_eq!(key(&open(&second)), key(&first));
        let done = with_letters_of(&files[1], (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap();
        assert_eq!((done.was.as_str(), done.letter.as_str(), done.entries), ("C", "E", 1));
        in_touch(&mut open(&files[1]), &store);
        in_touch(&mut first, &store);
        assert_eq!(costs(&first), ["9.00"]);
    }
    /// A crew's tablet that was copied: it holds open parts only, and what the second one logged is sent whole, also on
    /// a job that was finished meanwhile and stands on no new tablet.
    #[test]
    fn a_copy_for_the_site_gets_new_letters_too() {
        for is_finished in [false, true] {
            copied_tablet(is_finished);
        }
    }

    fn copied_tablet(is_finished: bool) {
        let home = tempfile::tempdir().unwrap();
        let store = Kept::memory().unwrap();
        let (mut office, _) = office(home.path(), &store);
        for fact in [
            json!({"kind": "crew", "name": "North", "size": 2, "hours_a_day": "8"}),
            json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "North"}),
            json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "900.00",
                "included_sheets": "0", "included_feet": "0", "retainage": "0",
                "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "500.00"}]}),
        ] {
            record(&mut office, fact);
        }
        let people = office.books().all::<Person>().unwrap();
        let bo = people.iter().find(|held| held.fact.name == "Bo Finch").unwrap().entry.id;
        let add_tablet = |office: &mut Desk, name: &str| {
            let to = home.path().join(format!("{name}.joining"));
            let added = add_device(office, name, bo, None, &to).unwrap();
            in_touch(office, &store);
            (added.file, added.passphrase)
        };
        let (joining, passphrase) = add_tablet(&mut office, "North crew's tablet");
        let folder = home.path().join("tablet");
        std::fs::create_dir(&folder).unwrap();
        join(&joining, &passphrase, &folder.join("firm.tearoff")).unwrap();
        in_touch(&mut open(&folder.join("firm.tearoff")), &store);
        let copy = copied(&folder, &home.path().join("copied"));
        let (mut one, mut other) = (open(&folder.join("firm.tearoff")), open(&copy));
        find(&mut one, "1", b"one picture");
        in_touch(&mut one, &store);
        let photo = find(&mut other, "2", b"another picture");
        let told = in_touch(&mut other, &store);
        assert!(told.parted.is_some() && told.sent.is_none(), "{told:?}");
        drop(other);
        if is_finished {
            let fact =
                json!({"kind": "job-status", "date": "2026-03-20", "job": "26-001", "stage": "finished"});
            record(&mut office, fact);
        }
        let (joining, passphrase) = add_tablet(&mut office, "The other tablet");
        let mut bring = |desk: &mut Desk| through(desk, &store, ALL_FILES, &mut |_| true);
        let done = with_letters_of(&copy, (&joining, &passphrase), &mut bring, &mut |_| Ok(())).unwrap();
        assert_eq!((done.was.as_str(), done.letter.as_str(), done.entries), ("C", "D", 2));
        let mut made = open(&copy);
        assert_eq!(desk::device::role(made.books()).unwrap(), Some(Role::Crew));
        for _ in 0..2 {
            for desk in [&mut made, &mut office, &mut one] {
                let told = in_touch(desk, &store);
                assert!(told.troubles.is_empty() && told.parted.is_none(), "{told:?}");
            }
        }
        let numbers = |desk: &Desk| -> Vec<String> {
            let found = desk.books().all::<Condition>().unwrap();
            found.into_iter().map(|held| held.fact.number).collect()
        };
        // A tablet that never held the finished job holds of it what was logged on itself alone.
        let on_new = if is_finished { 1 } else { 2 };
        assert_eq!(
            (numbers(&office), numbers(&one).len(), numbers(&made).len()),
            (vec!["1".into(), "2".into()], 2, on_new)
        );
        assert!(ledger::attachment::read(&office.path(), photo).is_ok());
        let verdict = ledger::verify(&copy, &mut |_| true).unwrap();
        assert!(verdict.is_good_but_for_files(), "{:?}", verdict.problems);
    }
}

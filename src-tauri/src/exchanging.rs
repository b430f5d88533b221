//! In touch with the firm's other devices, while the window is open: on opening, soon after something was recorded,
//! every minute, and when a person asks. Whoever types never waits for a line: a thread of its own looks at the store,
//! and only what is already here is done where the ledger is written.

use std::path::PathBuf;
use std::sync::Arc;

use exchange::{ExchangeError, Exchanged, Looked, Mirror, Relettered, Store};
use office::{Clock, Desk, OfficeError, Recorder};
use tauri::async_runtime::block_on;

use crate::refusal::Refusal;
use crate::room::{Room, held};

/// Looks at the store until nothing more is to be fetched; a store that always has more is looked at again later.
const MOST_LOOKS: usize = 8;

/// Stays in touch as long as the program runs.
pub(crate) fn stay(room: &Arc<Room>) {
    let room = Arc::clone(room);
    std::thread::spawn(move || {
        loop {
            room.in_touch.rest();
            // What went wrong stands where people look for it.
            let _ = now(&room);
        }
    });
}

/// Exchanges now, and remembers what came of it.
pub(crate) fn now(room: &Arc<Room>) -> Result<(), Refusal> {
    let _one_at_a_time = held(&room.in_touch.busy);
    match once(room) {
        Ok(None) => Ok(()),
        Ok(Some(done)) => {
            room.in_touch.remember(Ok(done));
            Ok(())
        }
        Err(refusal) => {
            room.in_touch.remember(Err(refusal.clone()));
            Err(refusal)
        }
    }
}

fn words(error: ExchangeError) -> Refusal {
    OfficeError::from(error).into()
}

/// One exchange; nothing where no store is chosen, or nothing can be written.
fn once(room: &Arc<Room>) -> Result<Option<Exchanged>, Refusal> {
    let Ok(file) = room.file() else { return Ok(None) };
    if !file.writes || file.sample {
        return Ok(None);
    }
    let chosen = block_on(room.at_the_desk(|writing| match writing {
        Some(writing) => exchange::chosen_store(&writing.desk).map_err(words),
        None => Ok(None),
    }))?;
    let Some(chosen) = chosen else { return Ok(None) };
    let store = match chosen.open() {
        Ok(store) => store,
        Err(ExchangeError::Store(why)) => return off_line(room, why),
        Err(other) => return Err(words(other)),
    };
    let look = |most_file_bytes: u64| match looks(room, &*store, file.turn, most_file_bytes) {
        Ok(done) => Ok(Looked::Exchanged(Box::new(done))),
        Err(Stopped::OffLine(why)) => Ok(Looked::OffLine(why)),
        Err(Stopped::Refused(refusal)) => Err(refusal),
    };
    let mut remember = |done: &Exchanged| room.in_touch.remember(Ok(done.clone()));
    let done = match exchange::bit_by_bit(look, &mut remember)? {
        Looked::Exchanged(done) => *done,
        Looked::OffLine(why) => return off_line(room, why),
    };
    if done.is_all_known {
        leave_finished_jobs(room)?;
    }
    Ok(Some(done))
}

/// Why looking ended early.
enum Stopped {
    OffLine(String),
    Refused(Refusal),
}

impl From<ExchangeError> for Stopped {
    fn from(error: ExchangeError) -> Stopped {
        match error {
            ExchangeError::Store(why) => Stopped::OffLine(why),
            other => Stopped::Refused(words(other)),
        }
    }
}

fn looks(room: &Arc<Room>, store: &dyn Store, turn: u64, most_file_bytes: u64) -> Result<Exchanged, Stopped> {
    let mut mirror = Mirror::look(store)?;
    let mut all: Option<Exchanged> = None;
    for _ in 0..MOST_LOOKS {
        let beside = Arc::clone(room);
        let (seen, done) = block_on(room.at_the_desk(move |writing| {
            let writing = writing.as_mut().ok_or_else(Refusal::no_file)?;
            if beside.file()?.turn != turn {
                return Err(Refusal::somebody_else());
            }
            let done = exchange::through(&mut writing.desk, &mirror, most_file_bytes, &mut |_| true);
            let done = done.map_err(words)?;
            // Names may have come that were looked up before.
            writing.recorder = Recorder::default();
            Ok((mirror, done))
        }))
        .map_err(Stopped::Refused)?;
        mirror = seen;
        all = Some(match all {
            Some(before) => before.and(done),
            None => done,
        });
        if !mirror.fetch(store)? {
            break;
        }
    }
    mirror.carry(store)?;
    all.ok_or_else(|| Stopped::Refused(Refusal::broken()))
}

fn off_line(room: &Arc<Room>, why: String) -> Result<Option<Exchanged>, Refusal> {
    block_on(room.at_the_desk(|writing| match writing {
        Some(writing) => exchange::unreached(&writing.desk, why).map(Some).map_err(words),
        None => Ok(None),
    }))
}

/// A copy for the site is made anew without its finished jobs: closed, renewed, and opened for whoever sat there.
fn leave_finished_jobs(room: &Arc<Room>) -> Result<(), Refusal> {
    let beside = Arc::clone(room);
    block_on(room.at_the_desk(move |writing| {
        let has_left = match writing.as_ref() {
            Some(open) => exchange::some_job_has_left(open.desk.books())?,
            None => false,
        };
        if !has_left {
            return Ok(());
        }
        let before = beside.file()?;
        beside.clear(writing);
        // Where a reader still is at work the file cannot be replaced: the next exchange does it.
        let renewed = exchange::leave_finished_jobs(&before.path);
        let (desk, busy) = Desk::open_or_read(&before.path, Clock::System)?;
        beside.lay(writing, desk, busy.map(Refusal::from), before.sample)?;
        if let (Some(person), Some(open)) = (before.person, writing.as_mut()) {
            open.desk.sit(crate::page_value::id(&person.id)?);
            beside.sits(person);
        }
        renewed.map_err(words)
    }))
}

/// Gives a file the letters of a joining file: closed where it lies on the desk, made anew, and opened. Who sits there
/// says so again, since a PIN may have come with the letters.
pub(crate) fn reletter(
    room: &Arc<Room>,
    path: PathBuf,
    joining: PathBuf,
    passphrase: String,
) -> Result<Relettered, Refusal> {
    let _one_at_a_time = held(&room.in_touch.busy);
    let beside = Arc::clone(room);
    block_on(room.at_the_desk(move |writing| {
        let before = beside.file().ok();
        beside.clear(writing);
        beside.in_touch.forget();
        let done = exchange::reletter(&path, &joining, &passphrase, None, &mut |_| true).map_err(words);
        let opens = match (&before, &done) {
            (Some(before), _) => Some((before.path.clone(), before.sample)),
            (None, Ok(done)) => Some((done.file.clone(), false)),
            (None, Err(_)) => None,
        };
        if let Some((path, sample)) = opens {
            let (desk, busy) = Desk::open_or_read(&path, Clock::System)?;
            beside.lay(writing, desk, busy.map(Refusal::from), sample)?;
            beside.in_touch.wake();
        }
        done
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::Settings;
    use office::{Act, Role};
    use serde_json::json;
    use std::path::Path;

    fn record(room: &Arc<Room>, fact: serde_json::Value) {
        block_on(room.write(Act::RecordFacts, move |writing| {
            Ok(writing.recorder.record(&mut writing.desk, fact).map(|_| ())?)
        }))
        .unwrap();
    }

    fn sit(room: &Arc<Room>, role: Role) {
        let people = block_on(room.read(Act::SeePeople, |desk| Ok(office::people(desk)?))).unwrap();
        let person = people.into_iter().find(|person| person.role == role).unwrap();
        let id = crate::page_value::id(&person.id).unwrap();
        block_on(room.at_the_desk(move |writing| {
            writing.as_mut().unwrap().desk.sit(id);
            Ok(())
        }))
        .unwrap();
        room.sits(person);
    }

    fn office_with_a_tablet(home: &Path) -> (Arc<Room>, Arc<Room>) {
        let store = home.join("store");
        std::fs::create_dir(&store).unwrap();
        let firm = json!({"name": "Quill Roofing", "town": "Ashby", "state": "LK"});
        let firm =
            office::NewFirm::usual("Ruth Quill", firm.as_object().unwrap().clone(), Clock::System.today());
        let file = home.join("office.tearoff");
        drop(Desk::make(&file, &firm.unwrap(), Clock::System).unwrap());
        let office = Room::new(Settings::default());
        block_on(office.put(&file, false)).unwrap();
        sit(&office, Role::Owner);
        for fact in [
            json!({"kind": "crew", "name": "North", "size": 2, "hours_a_day": "8"}),
            json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "North"}),
            json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
            json!({"kind": "customer", "name": "Ada Birch"}),
            json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof", "customer": "Ada Birch",
                "site": "1 Mill Lane"}),
            json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "900.00", "included_sheets": "0",
                "included_feet": "0", "retainage": "0",
                "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "500.00"}]}),
        ] {
            record(&office, fact);
        }
        let (to, at) = (home.join("tablet.joining"), store.to_string_lossy().into_owned());
        let added = block_on(office.write(Act::KeepDevices, move |writing| {
            exchange::choose_store(&mut writing.desk, &at, None).map_err(words)?;
            let person = office::person_named(&writing.desk, "Bo Finch")?;
            Ok(exchange::add_device(&mut writing.desk, "North crew's tablet", person, None, &to)?)
        }));
        let added = added.unwrap();
        let file = home.join("tablet.tearoff");
        exchange::join(&added.file, &added.passphrase, &file).unwrap();
        let tablet = Room::new(Settings::default());
        block_on(tablet.put(&file, false)).unwrap();
        (office, tablet)
    }

    /// A photo taken on the tablet is seen in the office: first that it is on its way, then itself.
    fn photos_follow(office: &Arc<Room>, tablet: &Arc<Room>) {
        let bytes: Vec<u8> =
            (0..900_000_u32).map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes()[0]).collect();
        let taken = bytes.clone();
        let kept = block_on(tablet.write(Act::RecordFacts, move |writing| {
            Ok(office::attach(&mut writing.desk, &taken, "image/jpeg", None)?)
        }));
        let hash = kept.unwrap().hash;
        record(
            tablet,
            json!({"kind": "condition", "date": "2026-03-10", "job": "26-001", "number": "B2", "place": "rake",
                "cause": "ice-dam", "damaged": "deck-sheet", "counted_in": "sheet", "count": "1",
                "photos": [{"photo": hash}]}),
        );
        let shown = |hash: String| {
            block_on(office.read(Act::SeeSitePhoto, move |desk| Ok(office::paper(desk, &hash)?)))
        };
        assert!(shown(hash.clone()).is_err());
        now(tablet).unwrap();
        let told = tablet.in_touch.told().last.unwrap();
        assert_eq!(told.photos.as_deref(), Some("1 photo or paper went"));
        let before = office.in_touch.told().came;
        now(office).unwrap();
        let told = office.in_touch.told();
        let last = told.last.unwrap();
        assert_eq!(last.photos.as_deref(), Some("1 photo or paper came"));
        assert!(told.came > before && shown(hash).unwrap().0 == bytes);
        // The tablet hears of it and takes its pieces away; nothing is left to tell.
        now(tablet).unwrap();
        assert_eq!(tablet.in_touch.told().last.unwrap().photos, None);
    }

    #[test]
    fn what_a_tablet_logs_is_in_the_office_after_one_look_of_each() {
        let home = tempfile::tempdir().unwrap();
        let (office, tablet) = office_with_a_tablet(home.path());
        now(&office).unwrap();
        // The only other device is on site: what it can fetch waits no more, and is not told as sent again.
        let first = office.in_touch.told().last.unwrap();
        assert!(first.waiting == 0 && first.sent.is_some_and(|sent| sent.contains("1 contract")));
        now(&office).unwrap();
        let second = office.in_touch.told().last.unwrap();
        assert_eq!((second.waiting, second.sent), (0, None));
        now(&tablet).unwrap();
        let told = tablet.in_touch.told();
        assert!(told.last.unwrap().came[0].ends_with("from The office") && told.came == 1);
        sit(&tablet, Role::Crew);
        record(
            &tablet,
            json!({"kind": "condition", "date": "2026-03-09", "job": "26-001", "number": "B1", "place": "eave",
                "cause": "ice-dam", "damaged": "deck-sheet", "counted_in": "sheet", "count": "3"}),
        );
        now(&tablet).unwrap();
        assert_eq!(tablet.in_touch.told().last.unwrap().sent.as_deref(), Some("1 hidden condition"));
        now(&office).unwrap();
        let last = office.in_touch.told().last.unwrap();
        assert_eq!(last.came, ["1 hidden condition from North crew's tablet"]);
        photos_follow(&office, &tablet);
        // Finished work leaves the tablet, and whoever sits there goes on sitting there.
        record(
            &tablet,
            json!({"kind": "job-status", "date": "2026-03-20", "job": "26-001", "stage": "finished"}),
        );
        for room in [&tablet, &office, &tablet] {
            now(room).unwrap();
        }
        let jobs = block_on(tablet.read(Act::SeeJobNames, |desk| Ok(office::job_names(desk)?))).unwrap();
        assert!(jobs.is_empty(), "{jobs:?}");
        assert_eq!(tablet.file().unwrap().person.map(|person| person.name).as_deref(), Some("Bo Finch"));
        // Off line is said and refuses nothing.
        std::fs::rename(home.path().join("store"), home.path().join("away")).unwrap();
        now(&office).unwrap();
        let last = office.in_touch.told().last.unwrap();
        assert!(!last.is_reached && last.why.is_some_and(|why| why.contains("there is no folder")));
    }
    /// The office's file was copied and both were written on: the copy says so, gets new letters, and lies open again.
    #[test]
    fn a_file_with_anothers_letter_is_closed_made_anew_and_opened() {
        let home = tempfile::tempdir().unwrap();
        let (office, _) = office_with_a_tablet(home.path());
        let path = office.file().unwrap().path;
        block_on(office.take_away()).unwrap();
        let other = home.path().join("laptop.tearoff");
        for (from, to) in [
            (path.clone(), other.clone()),
            (path.with_extension("tearoff.key"), other.with_extension("tearoff.key")),
        ] {
            std::fs::copy(from, to).unwrap();
        }
        let laptop = Room::new(Settings::default());
        block_on(office.put(&path, false)).unwrap();
        block_on(laptop.put(&other, false)).unwrap();
        for room in [&office, &laptop] {
            sit(room, Role::Owner);
            record(room, json!({"kind": "vendor", "name": "Birch Run Gutters"}));
        }
        now(&office).unwrap();
        now(&laptop).unwrap();
        let told = laptop.in_touch.told().last.unwrap();
        assert!(
            told.parted.is_some_and(|words| words.contains("that one keeps the letter"))
                && told.sent.is_none()
        );
        let joining = home.path().join("laptop.joining");
        let to = joining.clone();
        let added = block_on(office.write(Act::KeepDevices, move |writing| {
            let person = office::person_named(&writing.desk, "Ruth Quill")?;
            Ok(exchange::add_device(&mut writing.desk, "The laptop", person, None, &to)?)
        }));
        now(&office).unwrap();
        let wrong =
            reletter(&laptop, other.clone(), joining.clone(), "abcd-efgh-jkmn-pqrs".to_owned()).unwrap_err();
        assert_eq!(wrong.field.as_deref(), Some("passphrase"));
        assert!(laptop.file().unwrap().writes, "it lies open as it did");
        let done = reletter(&laptop, other.clone(), joining, added.unwrap().passphrase).unwrap();
        assert_eq!((done.was.as_str(), done.letter.as_str(), done.entries), ("A", "C", 1));
        assert!(laptop.file().unwrap().writes && laptop.in_touch.told().last.is_none());
        now(&laptop).unwrap();
        now(&office).unwrap();
        assert_eq!(office.in_touch.told().last.unwrap().came, ["1 vendor from The laptop"]);
    }
}

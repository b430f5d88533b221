//! The room the desk stands in: which file is open, who sits there, and the one thread that writes.
//!
//! Everything that records goes through one thread, which owns the one writing desk; everything that only reads has
//! desks of its own that never wait for it. So a long month end delays no bill, and neither delays the window.

use office::Code;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, mpsc};

use office::{Act, Clock, Desk, DeskPerson, OfficeError, Recorder, Role};
use tauri::async_runtime::{channel, spawn_blocking};

use crate::imported::Imported;
use crate::in_touch::InTouch;
use crate::photo::Previews;
use crate::refusal::Refusal;
use crate::settings::Settings;

/// What the writing thread is given to do.
type Job = Box<dyn FnOnce(&mut Option<Writing>) + Send>;

/// As many readers as are kept open between calls.
const READERS_KEPT: usize = 2;

/// A desk that may record, with the names it has looked up.
pub(crate) struct Writing {
    pub(crate) desk: Desk,
    pub(crate) recorder: Recorder,
}

/// The file on the desk.
#[derive(Clone, Debug)]
pub(crate) struct OpenFile {
    pub(crate) path: PathBuf,
    pub(crate) writes: bool,
    pub(crate) reading_because: Option<Refusal>,
    pub(crate) sample: bool,
    pub(crate) person: Option<DeskPerson>,
    /// Goes up with every file that is opened, so that a reader of an earlier one is not used for it.
    pub(crate) turn: u64,
    /// Goes up with everybody who sits down.
    sitting: u64,
    /// Which file it is to the system: a path can come to name another one.
    mark: Option<FileMark>,
}

impl OpenFile {
    /// Whether a setting of the company leaves the act to whoever sits here, where it is else not for them.
    fn asks_the_desk(&self, act: Act, desk: &Desk) -> Result<(), Refusal> {
        match &self.person {
            Some(person) if act.is_left_by_setting(person.role) => Ok(desk.check(act)?),
            _ => Ok(()),
        }
    }
}

/// The room.
pub(crate) struct Room {
    writer: mpsc::Sender<Job>,
    open: Mutex<Option<OpenFile>>,
    readers: Mutex<Vec<(u64, Desk)>>,
    turns: AtomicU64,
    stops: Mutex<Vec<(String, Arc<AtomicBool>)>>,
    pub(crate) settings: Mutex<Settings>,
    pub(crate) imported: Mutex<Option<Imported>>,
    pub(crate) previews: Mutex<Previews>,
    /// What went wrong while nobody was asking: the page is told with the next state of the desk.
    pub(crate) said: Mutex<Option<Refusal>>,
    /// How this device stands with the firm's others.
    pub(crate) in_touch: InTouch,
    /// What is wrong with the open file, where reading it through has found something.
    pub(crate) unsound: Mutex<Option<Refusal>>,
}

/// A lock whose holder panicked still guards whole values: each is set in one step.
pub(crate) fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Room {
    /// A room with an empty desk.
    pub(crate) fn new(settings: Settings) -> Arc<Self> {
        let (writer, jobs) = mpsc::channel::<Job>();
        std::thread::spawn(move || {
            let mut writing = None;
            for job in jobs {
                job(&mut writing);
            }
        });
        Arc::new(Self {
            writer,
            open: Mutex::new(None),
            readers: Mutex::default(),
            turns: AtomicU64::new(1),
            stops: Mutex::default(),
            settings: Mutex::new(settings),
            imported: Mutex::new(None),
            previews: Mutex::default(),
            said: Mutex::new(None),
            in_touch: InTouch::default(),
            unsound: Mutex::new(None),
        })
    }

    /// The file on the desk.
    pub(crate) fn file(&self) -> Result<OpenFile, Refusal> {
        held(&self.open).clone().ok_or_else(Refusal::no_file)
    }

    /// Whoever sits at the desk, if the act is for them; nobody, where it is asked before anybody sits there.
    pub(crate) fn admit(&self, act: Act) -> Result<OpenFile, Refusal> {
        let file = self.file()?;
        if act.needs_nobody() {
            return Ok(file);
        }
        let role = file.person.as_ref().ok_or_else(Refusal::nobody_here)?.role;
        // What a setting may leave to them is asked of the desk, where it is read.
        if !act.is_left_by_setting(role) {
            act.admit(role)?;
        }
        Ok(file)
    }

    /// Sits somebody down. What was asked before is not answered to them.
    pub(crate) fn sits(&self, person: DeskPerson) {
        if let Some(file) = held(&self.open).as_mut() {
            file.person = Some(person);
            file.sitting += 1;
        }
    }

    /// Whether the file still lies there, and whoever asked still sits there: both can change before the work begins.
    fn still_so(&self, asked: &OpenFile) -> Result<(), Refusal> {
        let now = self.file()?;
        if (now.turn, now.sitting) != (asked.turn, asked.sitting) {
            return Err(Refusal::somebody_else());
        }
        still_there(asked)
    }

    /// Does something on the writing thread, when everything asked before is done.
    pub(crate) async fn at_the_desk<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Option<Writing>) -> Result<T, Refusal> + Send + 'static,
    ) -> Result<T, Refusal> {
        let (told, mut heard) = channel(1);
        let job: Job = Box::new(move |writing| {
            // If the page has gone away meanwhile, there is nobody to tell.
            let _ = told.blocking_send(work(writing));
        });
        self.writer.send(job).map_err(|_| Refusal::broken())?;
        heard.recv().await.unwrap_or_else(|| Err(Refusal::broken()))
    }

    /// Records: does something with the writing desk, on its thread, for whoever may.
    pub(crate) async fn write<T: Send + 'static>(
        self: &Arc<Self>,
        act: Act,
        work: impl FnOnce(&mut Writing) -> Result<T, Refusal> + Send + 'static,
    ) -> Result<T, Refusal> {
        let (file, room) = (self.admit(act)?, Arc::clone(self));
        if let Some(why) = &file.reading_because {
            return Err(why.clone());
        }
        self.at_the_desk(move |writing| {
            room.still_so(&file)?;
            let writing = writing.as_mut().ok_or_else(Refusal::no_file)?;
            file.asks_the_desk(act, &writing.desk)?;
            let before = last_entry(writing);
            let answer = work(writing)?;
            if last_entry(writing) != before {
                room.in_touch.wake();
            }
            Ok(answer)
        })
        .await
    }

    /// Reads: does something with a reading desk, beside the writing thread, for whoever may.
    pub(crate) async fn read<T: Send + 'static>(
        self: &Arc<Self>,
        act: Act,
        work: impl FnOnce(&Desk) -> Result<T, Refusal> + Send + 'static,
    ) -> Result<T, Refusal> {
        let room = Arc::clone(self);
        let file = self.admit(act)?;
        let done = spawn_blocking(move || {
            room.still_so(&file)?;
            let mut desk = room.reader(&file)?;
            if let Some(person) = &file.person {
                desk.sit(crate::page_value::id(&person.id)?);
            }
            let answer = file.asks_the_desk(act, &desk).and_then(|()| work(&desk));
            room.give_back(file.turn, desk);
            answer
        });
        done.await.unwrap_or_else(|_| Err(Refusal::broken()))
    }

    fn reader(&self, file: &OpenFile) -> Result<Desk, OfficeError> {
        let kept = {
            let mut readers = held(&self.readers);
            readers.retain(|(turn, _)| *turn == file.turn);
            readers.pop()
        };
        match kept {
            Some((_, desk)) => Ok(desk),
            None => Desk::read(&file.path, Clock::System),
        }
    }

    fn give_back(&self, turn: u64, desk: Desk) {
        let current = held(&self.open).as_ref().map(|file| file.turn);
        let mut readers = held(&self.readers);
        if current == Some(turn) && readers.len() < READERS_KEPT {
            readers.push((turn, desk));
        }
    }

    /// Puts a file on the desk, in place of the one that lies there. Whoever is the only one who can sit down does.
    pub(crate) async fn put(self: &Arc<Self>, path: &Path, sample: bool) -> Result<(), Refusal> {
        let (path, room) = (path.to_owned(), Arc::clone(self));
        self.at_the_desk(move |writing| {
            room.clear(writing);
            room.in_touch.forget();
            let (desk, busy) = Desk::open_or_read(&path, Clock::System)?;
            room.lay(writing, desk, busy.map(Refusal::from), sample)?;
            room.in_touch.wake();
            Ok(())
        })
        .await
    }

    /// Takes the file off the desk.
    pub(crate) async fn take_away(self: &Arc<Self>) -> Result<Option<OpenFile>, Refusal> {
        let room = Arc::clone(self);
        self.at_the_desk(move |writing| {
            let before = held(&room.open).clone();
            room.clear(writing);
            Ok(before)
        })
        .await
    }

    /// On the writing thread: leaves the desk empty.
    pub(crate) fn clear(&self, writing: &mut Option<Writing>) {
        *held(&self.open) = None;
        *held(&self.unsound) = None;
        held(&self.readers).clear();
        *held(&self.imported) = None;
        held(&self.previews).clear();
        *writing = None;
    }

    /// On the writing thread: lays an open desk down and says so to the room.
    pub(crate) fn lay(
        &self,
        writing: &mut Option<Writing>,
        desk: Desk,
        reading_because: Option<Refusal>,
        sample: bool,
    ) -> Result<(), Refusal> {
        let path = desk.path();
        let people = office::people(&desk)?;
        let owner = people.iter().find(|person| person.role == Role::Owner);
        let alone = people.len() == 1 && office::pin::stored(&desk, Role::Owner)?.is_none();
        let person = if sample || alone { owner.cloned() } else { None };
        let mut desk = desk;
        if let Some(person) = &person {
            desk.sit(crate::page_value::id(&person.id)?);
        }
        let name = office::firm_name(&desk)?.unwrap_or_else(|| "A firm".to_owned());
        let file = OpenFile {
            mark: FileMark::of(&path),
            writes: desk.writes(),
            reading_because,
            sample,
            person,
            turn: self.turns.fetch_add(1, Ordering::Relaxed),
            sitting: 0,
            path: path.clone(),
        };
        *writing = Some(Writing { desk, recorder: Recorder::default() });
        *held(&self.open) = Some(file);
        if !sample {
            held(&self.settings).opened(&path, &name);
        }
        Ok(())
    }

    /// Notes long work that a person may stop. What is answered becomes true when they do.
    pub(crate) fn begin(&self, work: &str) -> Arc<AtomicBool> {
        let stop = Arc::new(AtomicBool::new(false));
        let mut stops = held(&self.stops);
        stops.retain(|(name, _)| name != work);
        stops.push((work.to_owned(), Arc::clone(&stop)));
        stop
    }

    /// Stops long work. What is already done, or never began, is left as it is.
    pub(crate) fn stop(&self, work: &str) {
        for (_, stop) in held(&self.stops).iter().filter(|(name, _)| name == work) {
            stop.store(true, Ordering::Relaxed);
        }
    }
}

/// The number of the last entry of this device: a draft that is kept is nothing to tell others.
fn last_entry(writing: &mut Writing) -> Option<i64> {
    writing.desk.ledger().ok().map(|ledger| ledger.own_end().0)
}

/// What the system knows a file by, where it has such a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct FileMark(u64, u64);

impl FileMark {
    #[cfg(unix)]
    fn of(path: &Path) -> Option<Self> {
        use std::os::unix::fs::MetadataExt;
        let about = std::fs::metadata(path).ok()?;
        Some(Self(about.dev(), about.ino()))
    }

    #[cfg(not(unix))]
    fn of(path: &Path) -> Option<Self> {
        std::fs::metadata(path).ok().map(|_| Self(0, 0))
    }
}

/// Without this, facts could go into a file that has lost its name, and be gone when the program ends.
fn still_there(file: &OpenFile) -> Result<(), Refusal> {
    let now = FileMark::of(&file.path);
    if now.is_some() && now == file.mark {
        return Ok(());
    }
    let what = if now.is_some() { "another file lies in its place" } else { "it is no longer there" };
    Err(Refusal::new(
        Code::Missing,
        format!("The firm's file was {}, and {what}. Nothing more was written.", file.path.display()),
        "Put the file back, or close it here and open it where it is now, or a back-up of it.",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use tauri::async_runtime::block_on;

    fn firm(home: &Path) -> PathBuf {
        let path = home.join("Quill.tearoff");
        drop(office::sample::write(&path, &mut |_, _| true).unwrap());
        path
    }

    #[test]
    fn a_file_that_vanished_is_said_in_words_and_nothing_is_written_into_the_void() {
        let home = tempfile::tempdir().unwrap();
        let path = firm(home.path());
        let room = Room::new(Settings::default());
        block_on(room.put(&path, false)).unwrap();
        assert!(block_on(room.read(Act::SeePeople, |desk| Ok(office::firm_name(desk)?))).unwrap().is_some());
        let elsewhere = home.path().join("moved.tearoff");
        std::fs::rename(&path, &elsewhere).unwrap();
        let write = || block_on(room.write(Act::SeePeople, |_| Ok(())));
        let gone = write().unwrap_err();
        assert_eq!(gone.code, Code::Missing);
        assert!(
            gone.message.contains("no longer there") && gone.message.contains("Nothing more was written")
        );
        std::fs::write(&path, "something else").unwrap();
        assert!(write().unwrap_err().message.contains("another file lies in its place"));
        std::fs::rename(&elsewhere, &path).unwrap();
        assert_eq!(write(), Ok(()), "the file is back, and still is not written to");
    }

    #[test]
    fn a_file_that_another_program_writes_to_is_opened_for_reading_and_says_why() {
        let home = tempfile::tempdir().unwrap();
        let path = firm(home.path());
        let other = Desk::open(&path, Clock::System).unwrap();
        let room = Room::new(Settings::default());
        block_on(room.put(&path, false)).unwrap();
        let file = room.file().unwrap();
        assert!(!file.writes && file.reading_because.is_some_and(|why| why.code == Code::Busy));
        assert_eq!(block_on(room.write(Act::SeePeople, |_| Ok(()))).unwrap_err().code, Code::Busy);
        assert!(block_on(room.read(Act::SeePeople, |desk| Ok(office::firm_name(desk)?))).unwrap().is_some());
        drop(other);
    }

    #[test]
    fn an_empty_desk_and_nobody_at_it_are_told_apart_from_the_wrong_one() {
        let home = tempfile::tempdir().unwrap();
        let room = Room::new(Settings::default());
        assert_eq!(room.admit(Act::SeeJobNames).unwrap_err().code, Code::NoFile);
        block_on(room.put(&firm(home.path()), false)).unwrap();
        assert_eq!(room.admit(Act::SeeJobNames).unwrap_err().code, Code::NobodyHere);
        room.sits(DeskPerson {
            id: office::Id::now().to_string(),
            name: "Ada".into(),
            role: Role::Crew,
            crew: None,
            language: office::Language::English,
        });
        assert!(room.admit(Act::SeeJobNames).is_ok() && room.admit(Act::SeeSite).is_ok());
        let refused = room.admit(Act::HandOff).unwrap_err();
        assert_eq!(refused.code, Code::NotAllowed);
        assert_eq!(refused.message, "The hand-off is for the owner and the bookkeeper. Nothing was changed.");
    }
}

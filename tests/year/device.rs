//! A device of the firm: its file, its keys, a clock that is wrong, whoever sits there, and what they have to write
//! down.

use crate::line::{Ended, Line};
use crate::sample::{Dealt, YEAR};
use desk::device::ROLE;
use exchange::{DeviceSecrets, ExchangeError, Round, round};
use jiff::{Timestamp, ToSpan};
use ledger::coming::PIECE_BYTES;
use ledger::draft::DEVICE;
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{Digest, Fact, Id, Ledger, NewFact, Salts};
use office::{Act, Clock, Code, Desk, Month, OfficeError, Role};
use std::collections::{BTreeMap, VecDeque};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::PathBuf;

pub(crate) struct Device {
    home: tempfile::TempDir,
    /// Nothing while the file is looked at by nobody.
    open: Option<Desk>,
    clock: Clock,
    secrets: DeviceSecrets,
    pub(crate) letter: &'static str,
    pub(crate) role: Role,
    person: Id,
    /// By so many hours its clock is wrong.
    pub(crate) hours_off: i64,
    pub(crate) waiting: VecDeque<&'static Dealt>,
    /// So many times it let finished jobs go.
    pub(crate) left: u32,
    /// What it was told is in the books.
    pub(crate) written: BTreeMap<Id, Fact>,
}

/// So many bytes of papers in an exchange: less than the proposal has, so that it comes bit by bit.
const AT_ONCE: u64 = 2 * PIECE_BYTES;

/// What the machine does not do. Anything else is a rule's own answer.
const TROUBLE: [Code; 6] =
    [Code::Io, Code::Damaged, Code::Busy, Code::Alarm, Code::Missing, Code::NotAllowed];

impl Device {
    /// A device without any fact, as joining makes it.
    pub(crate) fn new(
        letter: &'static str,
        role: Role,
        person: Id,
        founder: Option<&Device>,
        place: u64,
    ) -> Device {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("firm.tearoff");
        let mut ledger = Ledger::create(&path).expect("a ledger");
        let secrets = DeviceSecrets::new().expect("keys");
        secrets.keep(&path).expect("they are kept");
        if let Some(founder) = founder {
            let key = founder.secrets.signs_with().to_string();
            let mut settings = vec![(DEVICE, letter), (ROLE, role.as_str()), (FOUNDER_KEY, key.as_str())];
            settings.extend((role == Role::Crew).then_some((COPY, SITE)));
            for (name, value) in settings {
                ledger.set_setting(name, value).expect("a setting");
            }
        }
        drop(ledger);
        // Ids are made of the moment and this number: no two devices make the same, nor one of the year.
        let clock = Clock::Fixed { at: Timestamp::UNIX_EPOCH, made: (place + 1) << 32 };
        let open = Some(Desk::open(&path, clock.clone()).expect("a desk"));
        let (waiting, written) = (VecDeque::new(), BTreeMap::new());
        Device { home, open, clock, secrets, letter, role, person, hours_off: 0, left: 0, waiting, written }
    }

    fn path(&self) -> PathBuf {
        self.home.path().join("firm.tearoff")
    }

    pub(crate) fn desk(&self) -> &Desk {
        self.open.as_ref().expect("it is open")
    }

    fn writing(&mut self) -> &mut Desk {
        self.open.as_mut().expect("it is open")
    }

    pub(crate) fn is_office(&self) -> bool {
        self.role != Role::Crew
    }

    /// The line of the roster that says whose it is and by which keys it is known.
    pub(crate) fn roster_line(&self, date: jiff::civil::Date) -> Fact {
        let fact = ledger::facts::Device {
            date,
            letter: self.letter.to_owned(),
            name: format!("device {}", self.letter),
            role: Some(self.role),
            person: Some(self.person),
            signs_with: Some(self.secrets.signs_with()),
            locks_with: Some(self.secrets.locks_with()),
        };
        fact.into()
    }

    /// It is this time, as far as the device knows.
    pub(crate) fn it_is(&mut self, right: Timestamp) {
        let at = right + self.hours_off.hours();
        let Clock::Fixed { made, .. } = self.writing().clock else { panic!("a fixed clock") };
        self.clock = Clock::Fixed { at, made };
        self.writing().clock = self.clock.clone();
    }

    pub(crate) fn makes_an_id(&mut self) -> Id {
        self.writing().clock.tick().1
    }

    /// What the firm is begun with, in one go: the program itself writes it.
    pub(crate) fn begins_with(&mut self, beginning: &[&'static Dealt]) {
        let at = beginning[0].at;
        let all = beginning.iter().map(|dealt| (dealt.id, dealt.person, dealt.fact.clone()));
        let batch: Vec<NewFact> = all.map(|(id, person, fact)| NewFact { id, person, fact }).collect();
        let ledger = self.writing().ledger().expect("a writer");
        ledger.salt_from(Salts::OfId);
        ledger.append(&batch, at).expect("a firm");
        self.written.extend(batch.into_iter().map(|new| (new.id, new.fact)));
    }

    /// The owner's first device says which devices there are.
    pub(crate) fn adds_devices(&mut self, lines: Vec<Fact>, at: Timestamp) {
        self.it_is(at);
        let ids = self.writing().record(lines.clone()).expect("a roster");
        self.written.extend(ids.into_iter().zip(lines));
    }

    /// Nobody sits there any more: what is asked now is shown whole.
    pub(crate) fn rises(&mut self) {
        self.writing().rise();
    }

    /// Whether the policy lets this device's person record such a fact there.
    pub(crate) fn may_record(&self, fact: &Fact) -> bool {
        let act = match fact {
            Fact::MonthClosed(_) => Act::CloseMonth,
            // By doing: the proposal is kept as it is signed, which is the owner's.
            Fact::Attachment(_) => Act::Estimate,
            other => Act::Record(other.kind()),
        };
        act.admit(self.role).is_ok()
    }

    /// Whoever sits there writes a fact down.
    pub(crate) fn records(&mut self, id: Id, fact: &Fact) -> Result<(), OfficeError> {
        let person = self.person;
        let desk = self.writing();
        desk.sit(person);
        match fact {
            Fact::Attachment(kept) => {
                let (bytes, name) = (YEAR.paper(kept.hash), kept.name.as_deref());
                let stored =
                    ledger::attachment::store(&desk.path(), bytes, &kept.media_type, name, kept.date)?;
                assert_eq!(stored.hash, kept.hash);
            }
            other => desk.check(Act::Record(other.kind()))?,
        }
        let (moment, _) = desk.clock.tick();
        desk.append(&[NewFact { id, person, fact: fact.clone() }], moment, &mut |_| true)?;
        self.written.insert(id, fact.clone());
        Ok(())
    }

    /// The owner closes a month, whatever is still loose. Answers with the fact that did.
    pub(crate) fn closes(&mut self, month: Month) -> Result<Id, OfficeError> {
        let person = self.person;
        let desk = self.writing();
        desk.sit(person);
        desk.check(Act::CloseMonth)?;
        let today = desk.clock.today();
        let closed = office::close(desk, month, today, true)?;
        let id = Id::parse(&closed.id).expect("an id");
        let fact = desk.books().fact(id)?.expect("it is there").fact;
        self.written.insert(id, fact);
        Ok(id)
    }

    /// A fact of the year. Answers with its id here, or why it was refused.
    pub(crate) fn takes_up(&mut self, dealt: &Dealt) -> Result<Id, OfficeError> {
        self.it_is(dealt.at);
        let outcome = match &dealt.fact {
            Fact::MonthClosed(close) => self.closes(close.month),
            fact => self.records(dealt.id, fact).map(|()| dealt.id),
        };
        if let Err(refused) = &outcome {
            let (letter, kind) = (self.letter, dealt.fact.kind());
            assert!(!TROUBLE.contains(&refused.code), "{letter}, {kind}: {refused:?}");
        }
        outcome
    }

    pub(crate) fn ends(&self) -> Vec<(String, i64)> {
        self.desk().books().device_ends().expect("ends")
    }

    pub(crate) fn own_end(&self) -> i64 {
        self.ends().into_iter().find(|(letter, _)| letter == self.letter).map_or(0, |(_, end)| end)
    }

    /// The last entry of every chain, by whose hash the whole chain is known.
    pub(crate) fn end_hashes(&self) -> Vec<(String, i64, Option<Digest>)> {
        let books = self.desk().books();
        let hash = |device: &str, end| books.entry_hash(device, end).expect("a hash");
        self.ends().into_iter().map(|(device, end)| (device.clone(), end, hash(&device, end))).collect()
    }

    /// Its file reads as it was written, and its totals are what its facts come to.
    pub(crate) fn is_sound(&self) {
        let verdict = ledger::verify(&self.path(), &mut |_| true).expect("a verdict");
        assert!(verdict.is_good(), "device {}: {:?}", self.letter, verdict.problems);
        if self.is_office() {
            assert_eq!(office::drifts(self.desk().books()).expect("an answer"), [], "device {}", self.letter);
        }
    }

    /// An exchange; nothing where the store was out of reach, or the program ended in the midst of it.
    pub(crate) fn exchanges(&mut self, line: &Line<'_>) -> Option<Round> {
        let had = self.own_end();
        let secrets = DeviceSecrets::read(&self.secrets.written()).expect("its keys");
        let desk = self.writing();
        desk.rise();
        let (at, _) = desk.clock.tick();
        let ledger = desk.ledger().expect("a writer");
        let outcome =
            catch_unwind(AssertUnwindSafe(|| round(ledger, &secrets, line, at, AT_ONCE, &mut |_| true)));
        let done = match outcome {
            Ok(Ok(done)) => {
                assert!(
                    done.taken.refused.is_empty() && done.taken.forks.is_empty(),
                    "{}: {done:?}",
                    self.letter
                );
                assert_eq!(done.other_file, None, "{}", self.letter);
                Some(done)
            }
            Ok(Err(ExchangeError::Store(_))) => None,
            Ok(Err(other)) => panic!("{}: {other}", self.letter),
            Err(fall) if fall.is::<Ended>() => {
                self.is_opened_again(|_| {});
                None
            }
            Err(fall) => resume_unwind(fall),
        };
        assert!(
            self.own_end() >= had,
            "{} had {had} of its own entries and has {}",
            self.letter,
            self.own_end()
        );
        done
    }

    /// The program begins anew with what lies in the file, once something was done with the file alone.
    pub(crate) fn is_opened_again(&mut self, work: impl FnOnce(&PathBuf)) {
        let clock = self.writing().clock.clone();
        self.open = None;
        let path = self.path();
        work(&path);
        self.open = Some(Desk::open(&path, clock).unwrap_or_else(|error| panic!("{}: {error}", self.letter)));
    }

    /// A tablet makes its copy anew without the jobs that have ended, as soon as an office has all that it wrote.
    /// Answers whether it did.
    pub(crate) fn leaves_finished_jobs(&mut self, done: &Round) -> bool {
        let is_due =
            done.is_all_known && exchange::some_job_has_left(self.desk().books()).expect("an answer");
        if is_due {
            self.is_opened_again(|path| exchange::leave_finished_jobs(path).expect("a new copy"));
            self.left += 1;
        }
        is_due
    }
}

//! The desk: a ledger open on it, somebody sitting at it, and a clock on the wall.

use crate::error::OfficeError;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use ledger::facts::{Firm, Person, Reversal};
use ledger::words::Role;
use ledger::{Appended, Books, Fact, Id, Ledger, LedgerError, NewFact, Reader, Salts};
use std::path::{Path, PathBuf};

/// Where the time and new ids come from.
#[derive(Clone, Debug)]
pub enum Clock {
    /// This machine's.
    System,
    /// A given moment, one millisecond later at each fact, so that the same input gives the same bytes.
    Fixed {
        /// The moment of the next fact.
        at: Timestamp,
        /// Facts made so far.
        made: u64,
    },
}

impl Clock {
    /// A clock that starts at a moment and is the same every time.
    #[must_use]
    pub fn fixed(at: Timestamp) -> Clock {
        Clock::Fixed { at, made: 0 }
    }

    /// Sets a fixed clock to the morning of a day; the system's own clock is left alone.
    pub fn set_day(&mut self, day: Date) {
        if let Clock::Fixed { at, .. } = self
            && let Ok(morning) = day.at(13, 0, 0, 0).to_zoned_datetime(TimeZone::UTC)
            && morning.timestamp() > *at
        {
            *at = morning.timestamp();
        }
    }

    /// The moment, and a new id made at it.
    pub fn tick(&mut self) -> (Timestamp, Id) {
        match self {
            Clock::System => (Timestamp::now(), Id::now()),
            Clock::Fixed { at, made } => {
                let moment = *at;
                *at = Timestamp::from_millisecond(moment.as_millisecond() + 1).unwrap_or(moment);
                *made += 1;
                (moment, Id::made_of(u64::try_from(moment.as_millisecond()).unwrap_or(0), *made))
            }
        }
    }

    /// Where the salts of sealed parts come from: with a fixed clock they too are the same every time.
    #[must_use]
    pub fn salts(&self) -> Salts {
        match self {
            Clock::System => Salts::Random,
            Clock::Fixed { .. } => Salts::OfId,
        }
    }

    /// Today, where the firm is.
    #[must_use]
    pub fn today(&self) -> Date {
        match self {
            Clock::System => ZonedDateTime::now().date(),
            Clock::Fixed { at, .. } => at.to_zoned_datetime(TimeZone::UTC).date(),
        }
    }
}

/// How the ledger on the desk is open.
#[derive(Debug)]
enum Open {
    Writing(Box<Ledger>),
    Reading(Box<Reader>),
}

/// A ledger on the desk.
#[derive(Debug)]
pub struct Desk {
    open: Open,
    /// The clock on the wall.
    pub clock: Clock,
    person: Option<Id>,
}

/// What is needed to make a new firm.
#[derive(Clone, Debug)]
pub struct NewFirm {
    /// Its settings.
    pub firm: Firm,
    /// The owner's name.
    pub owner: String,
}

impl Desk {
    /// Makes a new firm's ledger with its owner, who then sits at the desk.
    ///
    /// # Errors
    /// When something is already there, the place is unfit, or the firm's settings are refused; nothing is left then.
    pub fn make(path: &Path, new: &NewFirm, mut clock: Clock) -> Result<Desk, OfficeError> {
        let mut ledger = Ledger::create(path)?;
        ledger.salt_from(clock.salts());
        let (at, owner_id) = clock.tick();
        let (_, firm_id) = clock.tick();
        let owner = Person {
            revises: None,
            name: new.owner.clone(),
            role: Role::Owner,
            crew: None,
            class: None,
            left_on: None,
        };
        let batch = [
            NewFact { id: owner_id, person: owner_id, fact: owner.into() },
            NewFact { id: firm_id, person: owner_id, fact: new.firm.clone().into() },
        ];
        if let Err(refused) = ledger.append(&batch, at) {
            drop(ledger);
            for name in
                [path.to_owned(), with(path, "-wal"), with(path, "-shm"), ledger::open::lock_path(path)]
            {
                let _ = std::fs::remove_file(name);
            }
            return Err(refused.into());
        }
        Ok(Desk { open: Open::Writing(Box::new(ledger)), clock, person: Some(owner_id) })
    }

    /// Opens a ledger for writing.
    ///
    /// # Errors
    /// As [`Ledger::open`].
    pub fn open(path: &Path, clock: Clock) -> Result<Desk, OfficeError> {
        Ok(Desk { open: Open::Writing(Box::new(Ledger::open(path)?)), clock, person: None })
    }

    /// Opens a ledger for reading.
    ///
    /// # Errors
    /// As [`Reader::open`].
    pub fn read(path: &Path, clock: Clock) -> Result<Desk, OfficeError> {
        Ok(Desk { open: Open::Reading(Box::new(Reader::open(path)?)), clock, person: None })
    }

    /// Opens a ledger for writing, or for reading when another window or program writes; the second value says why.
    ///
    /// # Errors
    /// When it cannot even be read.
    pub fn open_or_read(path: &Path, clock: Clock) -> Result<(Desk, Option<OfficeError>), OfficeError> {
        match Ledger::open(path) {
            Ok(ledger) => Ok((Desk { open: Open::Writing(Box::new(ledger)), clock, person: None }, None)),
            Err(busy @ LedgerError::Busy { .. }) => Ok((Desk::read(path, clock)?, Some(busy.into()))),
            Err(other) => Err(other.into()),
        }
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> PathBuf {
        match &self.open {
            Open::Writing(ledger) => ledger.path().to_owned(),
            Open::Reading(reader) => reader.path().to_owned(),
        }
    }

    /// Whether facts can be recorded here.
    #[must_use]
    pub fn writes(&self) -> bool {
        matches!(self.open, Open::Writing(_))
    }

    /// The facts.
    #[must_use]
    pub fn books(&self) -> Books<'_> {
        match &self.open {
            Open::Writing(ledger) => ledger.reading(),
            Open::Reading(reader) => reader.books(),
        }
    }

    /// The ledger, for what only its writer may do.
    ///
    /// # Errors
    /// When it is open for reading only.
    pub fn ledger(&mut self) -> Result<&mut Ledger, OfficeError> {
        match &mut self.open {
            Open::Writing(ledger) => Ok(ledger),
            Open::Reading(_) => Err(OfficeError {
                code: "busy",
                field: None,
                message: "This ledger is open for reading only.".to_owned(),
                remedy: "Close the other window or program that writes to it, and open it again.".to_owned(),
            }),
        }
    }

    /// Sits somebody down at the desk: what is recorded from now on is recorded by them.
    pub fn sit(&mut self, person: Id) {
        self.person = Some(person);
    }

    /// Who sits here; the first owner of the firm when nobody was named.
    ///
    /// # Errors
    /// When the ledger has no owner.
    pub fn person(&self) -> Result<Id, OfficeError> {
        if let Some(person) = self.person {
            return Ok(person);
        }
        let owner = self.books().all::<Person>()?.into_iter().find(|held| held.fact.role == Role::Owner);
        owner
            .map(|held| held.entry.id)
            .ok_or_else(|| OfficeError::not_found("This ledger has no owner yet.", "Make the firm first."))
    }

    /// Records facts together: all or none. Answers with their ids.
    ///
    /// # Errors
    /// The first that is refused.
    pub fn record(&mut self, facts: Vec<Fact>) -> Result<Vec<Id>, OfficeError> {
        self.record_with(facts, &mut |_| true)
    }

    /// As [`Desk::record`], telling how many are in; nothing is written when `go_on` answers no.
    ///
    /// # Errors
    /// The first that is refused, or that it was stopped.
    pub fn record_with(
        &mut self,
        facts: Vec<Fact>,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Vec<Id>, OfficeError> {
        let person = self.person()?;
        let mut batch = Vec::with_capacity(facts.len());
        let mut at = None;
        for fact in facts {
            let (moment, id) = self.clock.tick();
            at.get_or_insert(moment);
            batch.push(NewFact { id, person, fact });
        }
        self.append(&batch, at.unwrap_or_else(Timestamp::now), go_on)?;
        Ok(batch.into_iter().map(|new| new.id).collect())
    }

    /// Records facts whose ids the caller made, so that a retry is recognized.
    ///
    /// # Errors
    /// The first that is refused, or that it was stopped.
    pub fn append(
        &mut self,
        batch: &[NewFact],
        at: Timestamp,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Vec<Appended>, OfficeError> {
        let salts = self.clock.salts();
        let ledger = self.ledger()?;
        ledger.salt_from(salts);
        Ok(ledger.append_with(batch, at, go_on)?)
    }

    /// Cancels a fact.
    ///
    /// # Errors
    /// When it cannot be canceled, with the reason.
    pub fn reverse(&mut self, id: Id, reason: &str) -> Result<Id, OfficeError> {
        let reversal = Reversal { date: self.clock.today(), reverses: id, reason: reason.to_owned() };
        let ids = self.record(vec![reversal.into()])?;
        ids.first().copied().ok_or_else(|| OfficeError::not_found("Nothing was recorded.", ""))
    }
}

fn with(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

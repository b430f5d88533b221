//! The desk: a ledger open on it, and somebody sitting at it.

use crate::clock::Clock;
use crate::code::Code;
use crate::dates;
use crate::device;
use crate::error::OfficeError;
use crate::policy::{Act, at_device, refuse_on_site};
use crate::settings::firm_on;
use jiff::Timestamp;
use jiff::civil::Date;
use ledger::closed_lists::Role;
use ledger::facts::{Firm, Person, Reversal};
use ledger::{Appended, Books, Fact, Id, Ledger, LedgerError, NewFact, Reader};
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};

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

impl NewFirm {
    /// A new firm from what a person said of it: the owner's name, and settings by the names that the fact `firm` has.
    /// What is left out is what a small contractor in a state without daily overtime has, from the first of this year.
    ///
    /// # Errors
    /// When the owner, name, town or state is empty, or a setting cannot be read.
    pub fn usual(owner: &str, said: Map<String, Value>, today: Date) -> Result<NewFirm, OfficeError> {
        let mut fields = usual_settings(today.first_of_year());
        fields.extend(said);
        for value in fields.values_mut() {
            if let Value::String(text) = value {
                *text = text.trim().to_owned();
            }
        }
        let owner = owner.trim();
        let given =
            |field: &str| fields.get(field).and_then(Value::as_str).is_some_and(|text| !text.is_empty());
        let needed = [("owner", !owner.is_empty())].into_iter();
        let mut needed = needed.chain(["name", "town", "state"].map(|field| (field, given(field))));
        if let Some((field, _)) = needed.find(|(_, there)| !there) {
            return Err(OfficeError::refused(field, "it is empty", "Type it"));
        }
        let firm = serde_path_to_error::deserialize(Value::Object(fields)).map_err(|error| {
            let field = error.path().to_string();
            OfficeError::refused(field, &error.into_inner().to_string(), "Correct it and try again")
        })?;
        Ok(NewFirm { firm, owner: owner.to_owned() })
    }
}

fn usual_settings(from: Date) -> Map<String, Value> {
    let usual = json!({
        "date": from.to_string(), "currency": "USD", "week_begins": "monday", "overtime_over_week": "40",
        "premium_to": "hours", "sales_tax": "0", "sales_tax_rounding": "invoice", "material_tax_is_cost": true,
        "overhead_by": "labor-hours", "overhead_rate": "0",
    });
    usual.as_object().cloned().unwrap_or_default()
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
            date: None,
            name: new.owner.clone(),
            role: Role::Owner,
            crew: None,
            class: None,
            left_on: None,
            language: None,
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
            Err(busy @ (LedgerError::Busy { .. } | LedgerError::Held)) => {
                Ok((Desk::read(path, clock)?, Some(busy.into())))
            }
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
                code: Code::Busy,
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

    /// Nobody sits here any more: what is recorded now is recorded by the program for the owner, and asks nobody's
    /// leave. For the sample and for tests; a face has somebody seated.
    pub fn rise(&mut self) {
        self.person = None;
    }

    /// Who sits here; whose device it is when nobody was named, and on the first device the first owner of the firm.
    ///
    /// # Errors
    /// When the ledger has no owner.
    pub fn person(&self) -> Result<Id, OfficeError> {
        if let Some(person) = self.person {
            return Ok(person);
        }
        if let Some(person) = device::whose(self.books())? {
            return Ok(person);
        }
        let owner = self.books().all::<Person>()?.into_iter().find(|held| held.fact.role == Role::Owner);
        owner
            .map(|held| held.entry.id)
            .ok_or_else(|| OfficeError::not_found("This ledger has no owner yet.", "Make the firm first."))
    }

    /// What whoever sits here may do: what they do at the firm, and no more than this device may hold. The owner's work
    /// when nobody was named.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn role(&self) -> Result<Role, OfficeError> {
        let Some(person) = self.person else { return Ok(Role::Owner) };
        let found = self.books().newest::<Person>(person)?;
        let device = device::role(self.books())?;
        found
            .map(|person| at_device(person.role, device))
            .ok_or_else(|| OfficeError::not_found("Nobody of this id works here.", "Say who you are again."))
    }

    /// Refuses an act that is not for whoever sits here; while nobody does, it is the program's own.
    ///
    /// # Errors
    /// `not-allowed`, with whose it is.
    pub fn check(&self, act: Act) -> Result<(), OfficeError> {
        if self.person.is_none() { Ok(()) } else { self.admit(act, self.role()?) }
    }

    /// The policy's word, or the company's settings of today where they leave the act to a role.
    fn admit(&self, act: Act, role: Role) -> Result<(), OfficeError> {
        match act.admit(role) {
            Err(refused) if act.is_left_by_setting(role) => {
                let firm = firm_on(self.books(), self.clock.today())?;
                if firm.books_see_margin == Some(true) { Ok(()) } else { Err(refused) }
            }
            admitted => admitted,
        }
    }

    /// Whether an act is for a role.
    ///
    /// # Errors
    /// When the settings cannot be read.
    pub fn may_as(&self, act: Act, role: Role) -> Result<bool, OfficeError> {
        match self.admit(act, role) {
            Err(error) if error.code == Code::NotAllowed => Ok(false),
            admitted => admitted.map(|()| true),
        }
    }

    /// Whether an act is for whoever sits here.
    ///
    /// # Errors
    /// When it cannot be read who they are.
    pub fn may(&self, act: Act) -> Result<bool, OfficeError> {
        if self.person.is_none() { Ok(true) } else { self.may_as(act, self.role()?) }
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
        self.append_sure(batch, &[], at, go_on)
    }

    /// The same, with the fields of each fact whose unusual dates somebody is sure of.
    pub(crate) fn append_sure(
        &mut self,
        batch: &[NewFact],
        sure_of: &[Vec<String>],
        at: Timestamp,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) -> Result<Vec<Appended>, OfficeError> {
        if device::role(self.books())? == Some(Role::Crew) {
            batch.iter().try_for_each(|new| refuse_on_site(new.fact.kind()))?;
        }
        let today = self.clock.today();
        for (index, new) in batch.iter().enumerate() {
            dates::check(&new.fact, today, sure_of.get(index).map_or(&[], Vec::as_slice))?;
        }
        let salts = self.clock.salts();
        let ledger = self.ledger()?;
        ledger.salt_from(salts);
        Ok(ledger.append_with(batch, at, go_on)?)
    }

    /// Does several recordings as one: all of it is written, or none.
    ///
    /// # Errors
    /// What the work said, or the disk at the end of it.
    pub fn in_one_transaction<T>(
        &mut self,
        work: impl FnOnce(&mut Desk) -> Result<T, OfficeError>,
    ) -> Result<T, OfficeError> {
        let before = self.ledger()?.begin_transaction()?;
        match work(self) {
            Ok(done) => {
                self.ledger()?.commit_transaction(before)?;
                Ok(done)
            }
            Err(refused) => {
                self.ledger()?.roll_back(before)?;
                Err(refused)
            }
        }
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

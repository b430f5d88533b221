//! Who asks, what for, and in which shape they are answered.

use crate::progress::Shown;
use office::{Act, Clock, Desk, Month, OfficeError};
use serde::Serialize;
use std::path::Path;

/// Where the PIN is read from: a word of the command line would stand in the shell's history.
const PIN: &str = "TEAROFF_PIN";

/// Whoever typed the command.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Asker<'a> {
    /// Whether the answer is JSON.
    pub(crate) json: bool,
    /// Who it is, by name; the owner when left out.
    pub(crate) person: Option<&'a str>,
}

impl Asker<'_> {
    /// A ledger for reading, with whoever asks at the desk, if the act is for them; and nothing of one that is not as
    /// it was written.
    pub(crate) fn reading(self, file: &Path, act: Act) -> Result<Desk, OfficeError> {
        let desk = self.seated(Desk::read(file, Clock::System)?, act)?;
        let mut shown = Shown::begin();
        let sound = office::read_through::read_through(file, &mut |progress| shown.tell(progress));
        shown.end();
        sound.map(|()| desk)
    }

    /// As [`Asker::reading`], for writing.
    pub(crate) fn writing(self, file: &Path, act: Act) -> Result<Desk, OfficeError> {
        self.seated(Desk::open(file, Clock::System)?, act)
    }

    /// Whether an act on the whole file is for whoever asks. Of a file that cannot be opened, nobody is refused what
    /// would say why or save it.
    pub(crate) fn may(self, file: &Path, act: Act) -> Result<(), OfficeError> {
        match Desk::read(file, Clock::System) {
            Ok(desk) => self.seated(desk, act).map(drop),
            Err(_) => Ok(()),
        }
    }

    fn seated(self, mut desk: Desk, act: Act) -> Result<Desk, OfficeError> {
        let person = match self.person {
            Some(name) => office::person_named(&desk, name)?,
            None => desk.person()?,
        };
        desk.sit(person);
        let role = desk.role()?;
        if let Some(hash) = office::pin::stored(&desk, role)? {
            let pin = std::env::var(PIN).ok();
            office::pin::try_pin(&desk.path(), role, &hash, pin.as_deref(), PIN)?;
        }
        desk.check(act)?;
        Ok(desk)
    }

    /// An answer as JSON or as text.
    pub(crate) fn answer<T: Serialize>(
        self,
        value: &T,
        text: impl FnOnce(&T) -> Vec<String>,
    ) -> Result<Vec<String>, OfficeError> {
        if !self.json {
            return Ok(text(value));
        }
        match serde_json::to_string_pretty(value) {
            Ok(shown) => Ok(vec![shown]),
            Err(error) => Err(OfficeError::refused("json", &error.to_string(), "")),
        }
    }
}

/// The month asked for, or the last one in which anything is booked.
pub(crate) fn at_month(desk: &Desk, asked: Option<Month>) -> Result<Month, OfficeError> {
    if let Some(month) = asked {
        return Ok(month);
    }
    let booked = office::booked_months(desk)?;
    booked.map(|(_, last)| last).ok_or_else(|| {
        OfficeError::not_found(
            "Nothing is booked in this ledger yet.",
            "Record facts, or name a month with --month.",
        )
    })
}

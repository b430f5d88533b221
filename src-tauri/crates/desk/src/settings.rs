//! The company's settings and its crews: facts with a date, of which the one that holds on a day is asked for.
//!
//! A figure uses the settings of its own day. Which ones those are, where several are recorded, late or ahead, is
//! [`ledger::InForce`]'s to say.

use crate::error::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::NoticeOf;
use ledger::facts::{Crew, Firm, Notice};
use ledger::{Books, Calendar, Entered, Id, InForce};
use std::collections::BTreeMap;

/// The settings and crews of every day, read once for many questions.
#[derive(Debug)]
pub struct Settings {
    first: Entered<Firm>,
    firms: InForce<Firm>,
    crews: BTreeMap<Id, InForce<Crew>>,
}

impl Settings {
    /// Reads them.
    ///
    /// # Errors
    /// When they cannot be read, or there are none yet.
    pub fn read(books: Books<'_>, calendar: &Calendar) -> Result<Settings, OfficeError> {
        let firms = books.firms(calendar)?;
        let Some(first) = firms.on(Date::MIN).cloned() else {
            return Err(OfficeError::not_found("This ledger has no firm yet.", "Make the firm first."));
        };
        Ok(Settings { first, firms, crews: books.crews(calendar)? })
    }

    /// The company's settings of a day, with their entry.
    #[must_use]
    pub fn firm(&self, day: Date) -> &Entered<Firm> {
        self.firms.on(day).unwrap_or(&self.first)
    }

    /// Whether the tax paid on material on a day is part of a job's cost.
    #[must_use]
    pub fn tax_is_cost(&self, day: Date) -> bool {
        self.firm(day).fact.material_tax_is_cost
    }

    /// Every crew as it was on a day.
    #[must_use]
    pub fn crews_on(&self, day: Date) -> BTreeMap<Id, Crew> {
        let crews = self.crews.iter();
        crews.filter_map(|(id, versions)| Some((*id, versions.on(day)?.fact.clone()))).collect()
    }

    /// A crew as it was on a day.
    #[must_use]
    pub fn crew(&self, crew: Id, day: Date) -> Option<&Entered<Crew>> {
        self.crews.get(&crew)?.on(day)
    }
}

/// The company's settings of a day.
///
/// # Errors
/// When there are none yet, or they cannot be read.
pub fn firm_on(books: Books<'_>, day: Date) -> Result<Firm, OfficeError> {
    Ok(Settings::read(books, &books.calendar()?)?.firm(day).fact.clone())
}

/// The notices that hold on a day: of each state and matter the newest, where it is not retired.
///
/// # Errors
/// When they cannot be read.
pub fn notices_on(books: Books<'_>, day: Date) -> Result<Vec<Notice>, OfficeError> {
    let mut newest: BTreeMap<(String, NoticeOf), Notice> = BTreeMap::new();
    for notice in books.all::<Notice>()?.into_iter().map(|held| held.fact).filter(|notice| notice.date <= day)
    {
        let key = (notice.state.clone(), notice.about);
        if newest.get(&key).is_none_or(|known| known.date <= notice.date) {
            newest.insert(key, notice);
        }
    }
    Ok(newest.into_values().filter(|notice| !notice.retired).collect())
}

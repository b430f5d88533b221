//! Every fact as it was booked: in which month, with which sign. A reversal is its target once more with the sign −1.

use crate::calendar::Calendar;
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::{Reversal, TimeEntry};
use crate::id::Id;
use crate::kind::FactRow;
use crate::kinds::kind_spec;
use crate::read::{self, Books, Entry, Which};
use crate::totals;
use jiff::civil::Date;
use std::ops::RangeInclusive;
use trade::Month;

/// A fact, or its reversal, as booked.
#[derive(Clone, Debug, PartialEq)]
pub struct Booked<T> {
    /// The entry that booked it: the fact's own, or its reversal's.
    pub entry: Entry,
    /// The fact's id: the entry's own, or the one it reverses.
    pub id: Id,
    /// +1, or −1 for a reversal.
    pub sign: i64,
    /// The month.
    pub month: Month,
    /// The reason, for a reversal.
    pub reason: Option<String>,
    /// The fact.
    pub fact: T,
}

impl Books<'_> {
    /// The facts of a kind booked in one month, and the reversals of such facts booked in it, in the order of devices
    /// and numbers.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn booked_in<T: FactRow>(&self, month: Month) -> Result<Vec<Booked<T>>, LedgerError> {
        self.booked_between(month, month)
    }

    /// The same for several months, the first and the last included; each fact says in which it is booked.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn booked_between<T: FactRow>(
        &self,
        first: Month,
        last: Month,
    ) -> Result<Vec<Booked<T>>, LedgerError> {
        let calendar = Calendar::read(self.conn)?;
        let months = first..=last;
        let (from, to) = (first.first_day().to_string(), last.last_day().to_string());
        let date_at =
            kind_spec(T::KIND).and_then(|spec| spec.own.columns.iter().position(|column| column == "date"));
        let Some(date_at) = date_at else { return Ok(Vec::new()) };
        // Hours lie in the file by person and day: asked so, those of a month are found without a look at all years.
        let by_person =
            if T::KIND == TimeEntry::KIND { "f.person IN (SELECT id FROM person) AND " } else { "" };
        let dated = format!("{by_person}f.date BETWEEN ?1 AND ?2");
        let mut found = self.select::<T>(Which::All, &dated, &[&from, &to])?;
        // A fact dated after the months cannot be booked in them; one dated before them can, when it came after the
        // month before them was closed.
        if calendar.closed_through().is_some_and(|closed| closed >= first.prev()) {
            let late = "f.date < ?1 AND f.id IN
                (SELECT n.id FROM entry n WHERE n.device = ?2 AND n.device_seq > ?3 AND n.kind = ?4)";
            for device in self.devices()? {
                let mark = calendar.least_mark(first.prev(), &device);
                found.extend(self.select::<T>(Which::All, late, &[&from, &device, &mark, &T::KIND])?);
            }
        }
        let mut booked = Vec::new();
        for entered in found {
            let values = entered.fact.store();
            let date = values.get(date_at).map(|value| Date::load(value.into())).transpose();
            let Some(date) = date.map_err(damaged("date"))? else { continue };
            let month = calendar.booked(date, &entered.entry.device, entered.entry.device_seq);
            if months.contains(&month) {
                let id = entered.entry.id;
                booked.push(Booked {
                    entry: entered.entry,
                    id,
                    sign: 1,
                    month,
                    reason: None,
                    fact: entered.fact,
                });
            }
        }
        booked.extend(self.reversed_in::<T>(&calendar, &months)?);
        booked.sort_by(|left, right| left.entry.order().cmp(&right.entry.order()));
        Ok(booked)
    }

    /// Every device that has written here.
    fn devices(&self) -> Result<Vec<String>, LedgerError> {
        let mut statement = self.conn.prepare_cached("SELECT DISTINCT device FROM entry")?;
        let devices = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        Ok(devices)
    }

    fn reversed_in<T: FactRow>(
        &self,
        calendar: &Calendar,
        months: &RangeInclusive<Month>,
    ) -> Result<Vec<Booked<T>>, LedgerError> {
        let mut booked = Vec::new();
        let wanted = "(SELECT t.kind FROM entry t WHERE t.id = f.reverses) = ?1";
        for reversal in self.select::<Reversal>(Which::All, wanted, &[&T::KIND])? {
            let Some((target, record)) = read::record(self.conn, reversal.fact.reverses)? else { continue };
            let spec = kind_spec(T::KIND);
            let Some(date) = spec.and_then(|spec| totals::date_of(spec, &record)) else { continue };
            let own = calendar.booked(date, &target.device, target.device_seq);
            let counting = totals::counting_reversal(self.conn, calendar, target.id)?;
            let Some((_, floor)) = counting.filter(|(id, _)| *id == reversal.entry.id) else { continue };
            let month = floor.map_or(own, |floor| own.max(floor));
            if !months.contains(&month) {
                continue;
            }
            let mut fact = T::load(&record.own).map_err(damaged("reversed fact"))?;
            fact.load_lists(&record.lists).map_err(damaged("reversed fact"))?;
            booked.push(Booked {
                entry: reversal.entry,
                id: target.id,
                sign: -1,
                month,
                reason: Some(reversal.fact.reason),
                fact,
            });
        }
        Ok(booked)
    }
}

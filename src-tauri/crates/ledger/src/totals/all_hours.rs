//! All hours of the books at once: held while everything is worked out anew, so that a week's are not looked for one by
//! one in a file of a million facts. Ids stand as places in a list, which keeps an entry of hours to a few words.

use super::labor::{Cell, Pay, Rates, add, book, cells_of, loaded, open_month, store_week};
use super::sums::Sums;
use crate::calendar::Calendar;
use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, damaged};
use crate::facts::TimeEntry;
use crate::id::Id;
use crate::read::Books;
use jiff::civil::Date;
use rusqlite::Connection;
use std::borrow::Borrow;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::hash::Hash;
use trade::{Earned, Money, Month, Qty, WorkLine};

/// Values that come again and again, each kept once.
#[derive(Debug)]
struct Places<T> {
    places: HashMap<T, u32>,
    values: Vec<T>,
}

impl<T: Eq + Hash> Places<T> {
    fn new() -> Places<T> {
        Places { places: HashMap::new(), values: Vec::new() }
    }

    fn of<V>(&mut self, value: &V) -> Result<u32, LedgerError>
    where
        T: Borrow<V>,
        V: Eq + Hash + ToOwned<Owned = T> + ?Sized,
    {
        if let Some(place) = self.places.get(value) {
            return Ok(*place);
        }
        let place = u32::try_from(self.values.len()).map_err(|_| LedgerError::Damaged {
            place: "time".to_owned(),
            problem: "it names more than can be told apart".to_owned(),
        })?;
        self.places.insert(value.to_owned(), place);
        self.values.push(value.to_owned());
        Ok(place)
    }

    fn at(&self, place: u32) -> &T {
        &self.values[place as usize]
    }
}

/// One entry of hours.
#[derive(Debug)]
struct Worked {
    hours: Qty,
    seq: i64,
    date: Date,
    month: Month,
    person: u32,
    job: u32,
    code: u32,
    condition: Option<u32>,
    device: u32,
    caused_overtime: bool,
}

/// The hours that were not taken back.
#[derive(Debug)]
pub(crate) struct AllHours {
    reversed: HashSet<Id>,
    ids: Places<Id>,
    devices: Places<String>,
    worked: Vec<Worked>,
}

impl AllHours {
    /// None yet, and what of them will not count.
    pub(crate) fn begin(conn: &Connection) -> Result<AllHours, LedgerError> {
        let mut statement = conn.prepare_cached("SELECT reverses FROM reversal")?;
        let mut rows = statement.query([])?;
        let mut reversed = HashSet::new();
        while let Some(row) = rows.next()? {
            reversed.insert(Id::load(row.get_ref(0)?).map_err(damaged("reversal.reverses"))?);
        }
        Ok(AllHours { reversed, ids: Places::new(), devices: Places::new(), worked: Vec::new() })
    }

    /// Takes an entry of hours with its place in the spine and the month in which it is booked.
    pub(crate) fn add(
        &mut self,
        id: Id,
        time: &TimeEntry,
        (device, seq): (&str, i64),
        month: Month,
    ) -> Result<(), LedgerError> {
        if self.reversed.contains(&id) {
            return Ok(());
        }
        self.worked.push(Worked {
            hours: time.hours,
            seq,
            date: time.date,
            month,
            person: self.ids.of(&time.person)?,
            job: self.ids.of(&time.job)?,
            code: self.ids.of(&time.code)?,
            condition: time.condition.map(|condition| self.ids.of(&condition)).transpose()?,
            device: self.devices.of(device)?,
            caused_overtime: time.caused_overtime,
        });
        Ok(())
    }

    /// Puts each person's weeks together: by person, then day, then as they were recorded.
    fn sort(&mut self) {
        let (ids, devices) = (&self.ids, &self.devices);
        let place = |worked: &Worked| device::order(devices.at(worked.device), worked.seq);
        self.worked.sort_unstable_by(|left, right| {
            (ids.at(left.person).cmp(ids.at(right.person)))
                .then(left.date.cmp(&right.date))
                .then_with(|| place(left).cmp(&place(right)))
        });
    }

    fn line(&self, rates: &Rates, worked: &Worked) -> WorkLine {
        rates.work_line(*self.ids.at(worked.person), worked.date, worked.hours, worked.caused_overtime)
    }

    fn cell(&self, worked: &Worked) -> Cell {
        let id = |place: u32| *self.ids.at(place);
        (id(worked.job), id(worked.code), worked.condition.map(id), worked.month)
    }

    /// Works out all labor: the weeks, what closed months keep, and the open month's difference.
    pub(crate) fn cost(
        mut self,
        conn: &Connection,
        calendar: &Calendar,
        sums: &mut Sums,
        go_on: &mut dyn FnMut() -> bool,
    ) -> Result<(), LedgerError> {
        self.sort();
        let mut owed = self.weeks(conn, calendar, &Rates::read(conn)?, go_on)?;
        let closed = calendar.closed_through();
        for close in Books::over(conn).closes()? {
            for line in close.fact.labor {
                let pay = [line.straight.minor(), line.premium.minor(), line.burden.minor()];
                book(sums, (line.job, line.code, line.condition, close.fact.month), pay);
                if let Some(closed) = closed {
                    let at = (line.job, line.code, line.condition, closed.next());
                    add(owed.entry(at).or_default(), pay, -1);
                }
            }
        }
        for (cell, pay) in owed {
            book(sums, cell, pay);
        }
        Ok(())
    }

    /// Works out and stores each week. Answers what they come to, in the months that are open to it.
    fn weeks(
        &self,
        conn: &Connection,
        calendar: &Calendar,
        rates: &Rates,
        go_on: &mut dyn FnMut() -> bool,
    ) -> Result<BTreeMap<Cell, Pay>, LedgerError> {
        let mut owed = BTreeMap::new();
        let week_of = |worked: &Worked| (worked.person, rates.week_of(worked.date));
        let (mut year, mut paid) = (None, Earned::default());
        let (mut last, mut last_work) = (None, Vec::new());
        for worked in self.worked.chunk_by(|left, right| week_of(left) == week_of(right)) {
            let Some(first) = worked.first() else { continue };
            if !go_on() {
                return Err(LedgerError::Stopped);
            }
            let (person, week) = (*self.ids.at(first.person), rates.week(first.date));
            if year != Some((person, week.last.year())) {
                (year, paid) = (Some((person, week.last.year())), Earned::default());
            }
            let work: Vec<WorkLine> = worked.iter().map(|worked| self.line(rates, worked)).collect();
            let is_next = last == Some((person, rates.week_before(&week).first));
            let old = if is_next { last_work.as_slice() } else { &[] };
            let lines = loaded(rates, person, &week, (&work, old), paid)?;
            let cells = cells_of(
                worked
                    .iter()
                    .zip(&lines)
                    .map(|(worked, line)| (self.cell(worked), [line.straight, line.premium, line.burden])),
            );
            store_week(conn, person, week.first, &cells)?;
            for ((job, code, found, month), pay) in cells {
                paid.straight += Money::from_minor(pay[0]);
                paid.premium += Money::from_minor(pay[1]);
                add(owed.entry((job, code, found, open_month(calendar, month))).or_default(), pay, 1);
            }
            (last, last_work) = (Some((person, week.first)), work);
        }
        Ok(owed)
    }
}

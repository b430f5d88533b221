//! Stored totals: what reports read instead of adding up every fact. Written in the same transaction as the facts they
//! come from; thrown away and worked out again by `rebuild`.

mod all_hours;
mod effects;
mod groups;
mod labor;
mod report;
mod sums;

pub(crate) use groups::counting_reversal;
pub use groups::{approved_lines, with_cost};
pub use labor::CostedTime;
pub use report::{
    BookedLabor, CodeTotals, ConditionTotals, CountedParts, InvoiceTotals, JobTotals, LaborTotals,
    PartTotals, WorkedDay,
};

use crate::calendar::Calendar;
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::{Bill, Fact, Firm};
use crate::id::Id;
use crate::kind::{KindSpec, Record};
use crate::kinds::{KINDS, kind_spec};
use crate::new_fact::NewFact;
use crate::read::{self, Books, Entry, Which};
use crate::site_copy;
use all_hours::AllHours;
use effects::{Effect, Known};
use groups::{GROUP_TABLES, Group, Share};
use jiff::civil::Date;
use labor::{Rates, Stale};
use rusqlite::Connection;
use std::collections::BTreeMap;
use sums::Sums;
use trade::Month;

/// What a batch has done to the stored totals and not yet written.
#[derive(Debug, Default)]
pub(crate) struct Unwritten {
    sums: Sums,
    known: Known,
    groups: BTreeMap<Group, Share>,
    stale: Stale,
    rates: Option<Rates>,
}

/// The date of a fact that has one.
pub(crate) fn date_of(spec: &KindSpec, record: &Record) -> Option<Date> {
    let place = spec.own.columns.iter().position(|column| column == "date")?;
    Date::load(record.own.get(place)?.into()).ok()
}

/// From which day a change of the firm's settings may change what bills cost; none where it says the same of tax as all
/// others do.
fn settings_from(conn: &Connection, new: &NewFact) -> Result<Option<Date>, LedgerError> {
    let changed = match &new.fact {
        Fact::Firm(firm) => Some(firm.clone()),
        Fact::Reversal(reversal) => {
            let found = Books::over(conn).select::<Firm>(
                Which::All,
                "f.id = ?1",
                &[&reversal.reverses.bytes().as_slice()],
            )?;
            found.into_iter().next().map(|held| held.fact)
        }
        _ => None,
    };
    let Some(changed) = changed else { return Ok(None) };
    let all = Books::over(conn).select::<Firm>(Which::All, "1", &[])?;
    let differs = all.iter().any(|held| held.fact.material_tax_is_cost != changed.material_tax_is_cost);
    Ok(differs.then_some(changed.date))
}

/// A fact as the stored totals see it.
struct Seen {
    id: Id,
    fact: Fact,
    month: Option<Month>,
}

/// Nothing where a copy for the site holds the entry without its fact.
fn see(conn: &Connection, calendar: &Calendar, id: Id) -> Result<Option<Seen>, LedgerError> {
    let entry = read::entry_of(conn, id)?.ok_or_else(|| LedgerError::Damaged {
        place: "entry".to_owned(),
        problem: format!("{id} is missing"),
    })?;
    if site_copy::is_site_copy(conn)? && !read::has_fact(conn, &entry)? {
        return Ok(None);
    }
    see_entry(conn, calendar, &entry).map(Some)
}

fn see_entry(conn: &Connection, calendar: &Calendar, entry: &Entry) -> Result<Seen, LedgerError> {
    let lost = |problem: &str| LedgerError::Damaged {
        place: format!("Entry {} {}", entry.device, entry.device_seq),
        problem: problem.to_owned(),
    };
    let spec = kind_spec(&entry.kind).ok_or_else(|| lost("its kind is not known"))?;
    let record = read::record_of(conn, spec, entry.id)?.ok_or_else(|| lost("its row is missing"))?;
    seen(calendar, spec, entry.id, (&entry.device, entry.device_seq), &record)
}

fn seen(
    calendar: &Calendar,
    spec: &KindSpec,
    id: Id,
    (device, seq): (&str, i64),
    record: &Record,
) -> Result<Seen, LedgerError> {
    let month = date_of(spec, record).map(|date| calendar.booked(date, device, seq));
    let fact = Fact::from_record(spec.kind, record).map_err(damaged(format!("Entry {device} {seq}")))?;
    Ok(Seen { id, fact, month })
}

impl Unwritten {
    /// Forgets an unwritten batch.
    pub(crate) fn forget(&mut self) {
        *self = Unwritten::default();
    }

    /// Looks at the groups that a fact is about to change. The target of a reversal may come in the same batch, and is
    /// then looked at by itself.
    pub(crate) fn before(
        &mut self,
        conn: &Connection,
        calendar: &Calendar,
        new: &NewFact,
    ) -> Result<(), LedgerError> {
        let group = match &new.fact {
            Fact::Reversal(reversal) if read::entry_of(conn, reversal.reverses)?.is_none() => None,
            Fact::Reversal(reversal) => see(conn, calendar, reversal.reverses)?
                .and_then(|target| groups::group_of(target.id, &target.fact)),
            fact => groups::group_of(new.id, fact),
        };
        if let Some(group) = group
            && !self.groups.contains_key(&group)
        {
            let share = groups::share(conn, calendar, &mut self.known, group)?;
            self.groups.insert(group, share);
        }
        if let Some(from) = settings_from(conn, new)? {
            self.bills_since(conn, calendar, from, -1)?;
        }
        Ok(())
    }

    /// Adds, or takes off, what the bills dated from a day on cost by the settings that now hold: whether the tax on
    /// them is cost goes by the day of each.
    fn bills_since(
        &mut self,
        conn: &Connection,
        calendar: &Calendar,
        from: Date,
        sign: i64,
    ) -> Result<(), LedgerError> {
        let books = Books::over(conn);
        for held in books.select::<Bill>(Which::All, "f.date >= ?1", &[&from.to_string()])? {
            let span = books.span(calendar, &held, held.fact.date)?;
            let mut add = |month: Month, sign: i64| {
                Effect { conn, known: &mut self.known, sums: &mut self.sums, month, sign, activity: 0 }
                    .bill(&held.fact)
            };
            add(span.from, sign)?;
            if let Some(until) = span.until {
                add(until, -sign)?;
            }
        }
        Ok(())
    }

    /// Adds what a written fact does by itself and notes which weeks it makes stale.
    pub(crate) fn after(
        &mut self,
        conn: &Connection,
        calendar: &Calendar,
        new: &NewFact,
        floor: Option<Month>,
    ) -> Result<(), LedgerError> {
        if let Fact::Reversal(reversal) = &new.fact {
            let Some(target) = see(conn, calendar, reversal.reverses)? else { return Ok(()) };
            if let Some(own) = target.month {
                self.take_back(conn, &target, own, floor)?;
            }
            self.note(conn, &target.fact)?;
            return self.settings_changed(conn, calendar, new);
        }
        let record = new.fact.record();
        let date = kind_spec(new.fact.kind()).and_then(|spec| date_of(spec, &record));
        if let Some(date) = date {
            let own = Month::of(date);
            let month = floor.map_or(own, |floor| own.max(floor));
            self.apply(conn, new.id, &new.fact, month, (1, 1))?;
        }
        self.note(conn, &new.fact)?;
        self.settings_changed(conn, calendar, new)
    }

    /// Once the firm's settings have changed, what depends on them by day is added anew; see [`Unwritten::before`].
    fn settings_changed(
        &mut self,
        conn: &Connection,
        calendar: &Calendar,
        new: &NewFact,
    ) -> Result<(), LedgerError> {
        if let Some(from) = settings_from(conn, new)? {
            self.known.forget();
            self.bills_since(conn, calendar, from, 1)?;
        }
        Ok(())
    }

    fn apply(
        &mut self,
        conn: &Connection,
        id: Id,
        fact: &Fact,
        month: Month,
        (sign, activity): (i64, i64),
    ) -> Result<(), LedgerError> {
        Effect { conn, known: &mut self.known, sums: &mut self.sums, month, sign, activity }.apply(id, fact)
    }

    /// Takes off what a fact added, in its own month while that is open to the reversal, else in the open one.
    fn take_back(
        &mut self,
        conn: &Connection,
        target: &Seen,
        own: Month,
        floor: Option<Month>,
    ) -> Result<(), LedgerError> {
        let month = floor.map_or(own, |floor| own.max(floor));
        let activity = if month == own { -1 } else { 1 };
        self.apply(conn, target.id, &target.fact, month, (-1, activity))
    }

    fn note(&mut self, conn: &Connection, fact: &Fact) -> Result<(), LedgerError> {
        if !Stale::concerns(fact) {
            return Ok(());
        }
        let rates = match self.rates.take() {
            Some(rates) => rates,
            None => Rates::read(conn)?,
        };
        if !self.stale.note(fact, &rates) {
            self.rates = Some(rates);
        }
        Ok(())
    }

    /// Brings groups and stale weeks up to what the facts now say.
    pub(crate) fn settle(&mut self, conn: &Connection, calendar: &Calendar) -> Result<(), LedgerError> {
        for (group, before) in std::mem::take(&mut self.groups) {
            let now = groups::share(conn, calendar, &mut self.known, group)?;
            add_share(&mut self.sums, &now, 1);
            add_share(&mut self.sums, &before, -1);
        }
        if !self.stale.is_empty() {
            let rates = match self.rates.take() {
                Some(rates) => rates,
                None => Rates::read(conn)?,
            };
            let stale = std::mem::take(&mut self.stale);
            labor::refresh(conn, calendar, &rates, &stale, &mut self.sums)?;
            self.rates = Some(rates);
        }
        Ok(())
    }

    /// Writes the gathered sums.
    pub(crate) fn flush(&mut self, conn: &Connection) -> Result<(), LedgerError> {
        self.sums.flush(conn)
    }
}

fn add_share(sums: &mut Sums, share: &Share, sign: i64) {
    for ((table, ids, month, column), by) in share {
        sums.add(GROUP_TABLES[*table], ids, *month, *column, sign * by);
    }
}

/// How many sums a rebuild gathers before it writes them, so that a large file does not fill memory: ten times as many
/// are worked out no faster to speak of, and leave 50 MB more with a window that has checked its file.
const FLUSH_AT: usize = 20_000;

/// Works all stored totals out from the facts. `go_on` is told how many entries are done and may answer no.
pub(crate) fn rebuild(conn: &Connection, go_on: &mut dyn FnMut(u64) -> bool) -> Result<(), LedgerError> {
    for table in sums::TABLES {
        conn.execute(&format!("DELETE FROM {}", table.name), [])?;
    }
    conn.execute("DELETE FROM total_labor", [])?;
    let calendar = Calendar::read(conn)?;
    let mut totals = Unwritten::default();
    let mut hours = AllHours::begin(conn)?;
    // Sums do not depend on the order of the facts, so they are read as they lie in the file, a kind at a time.
    let mut done = 0_u64;
    for spec in KINDS.iter() {
        read::each_record(conn, spec, &mut |id, place, record| {
            let seen = seen(&calendar, spec, id, place, record)?;
            if let Fact::Reversal(reversal) = &seen.fact {
                let target = see(conn, &calendar, reversal.reverses)?;
                let counting = groups::counting_reversal(conn, &calendar, reversal.reverses)?;
                let floor = counting.filter(|(id, _)| *id == seen.id).map(|(_, floor)| floor);
                if let (Some(target), Some(floor)) = (target, floor)
                    && let Some(own) = target.month
                {
                    totals.take_back(conn, &target, own, floor)?;
                }
            } else if let Some(month) = seen.month {
                totals.apply(conn, seen.id, &seen.fact, month, (1, 1))?;
                if let Fact::TimeEntry(time) = &seen.fact {
                    hours.add(id, time, place, month)?;
                }
            }
            done += 1;
            if done.is_multiple_of(1000) && !go_on(done) {
                return Err(LedgerError::Stopped);
            }
            if totals.sums.len() > FLUSH_AT {
                totals.flush(conn)?;
            }
            Ok(())
        })?;
    }
    let entries: i64 = conn.query_row("SELECT count(*) FROM entry", [], |row| row.get(0))?;
    let missing = u64::try_from(entries).unwrap_or(0).saturating_sub(done);
    // A copy for the site may hold an entry without its fact.
    if missing > 0 && !site_copy::is_site_copy(conn)? {
        return Err(LedgerError::Damaged {
            place: "entry".to_owned(),
            problem: format!("the row of {missing} entries is missing"),
        });
    }
    for group in groups::all(conn)? {
        let share = groups::share(conn, &calendar, &mut totals.known, group)?;
        add_share(&mut totals.sums, &share, 1);
    }
    hours.cost(conn, &calendar, &mut totals.sums, &mut || go_on(done))?;
    totals.flush(conn)
}

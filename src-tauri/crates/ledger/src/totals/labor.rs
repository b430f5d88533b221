//! Labor cost, worked out week by week and person by person from hours, pay and burden, and stored by job, code,
//! condition and month. A closed month keeps the labor it was closed with; what changes later is booked in the open
//! month.

use super::sums::{Sums, booked, code, condition};
use crate::calendar::Calendar;
use crate::closed_lists::{BurdenOn, PremiumTo};
use crate::column::Column;
use crate::error::{LedgerError, damaged, refuse};
use crate::facts::{Bonus, BurdenRate, Fact, Firm, PayRate, Person, TimeEntry};
use crate::id::Id;
use crate::live::live;
use crate::read::{Books, Entered};
use jiff::civil::{Date, Weekday};
use jiff::{Span, ToSpan};
use rusqlite::{Connection, params};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use trade::{BurdenBasis, BurdenPart, Money, Month, OvertimeRule, PremiumSpread, Rate, WorkLine};

/// Values by the day from which each counts.
type Dated<T> = Vec<(Date, T)>;

/// Pay, burden and overtime rules, as the facts have them.
#[derive(Debug, Default)]
pub(crate) struct Rates {
    firms: Dated<Firm>,
    pay: HashMap<Id, Dated<Rate>>,
    burden: BTreeMap<(String, Option<String>), Dated<BurdenRate>>,
    bonus: HashMap<Id, Dated<Money>>,
    class: HashMap<Id, Option<String>>,
}

/// The newest of dated values at a day; among those of one day, the one recorded last.
fn at<T>(dated: &[(Date, T)], day: Date) -> Option<&T> {
    dated.iter().rev().find(|(from, _)| *from <= day).map(|(_, value)| value)
}

impl Rates {
    /// Reads them.
    pub(crate) fn read(conn: &Connection) -> Result<Rates, LedgerError> {
        let books = Books::over(conn);
        let mut rates = Rates::default();
        for Entered { fact: firm, .. } in books.all::<Firm>()? {
            rates.firms.push((firm.date, firm));
        }
        rates.firms.sort_by_key(|(date, _)| *date);
        for Entered { fact: pay, .. } in books.all::<PayRate>()? {
            rates.pay.entry(pay.person).or_default().push((pay.date, pay.hourly));
        }
        rates.pay.values_mut().for_each(|pay| pay.sort_by_key(|(date, _)| *date));
        for Entered { fact: burden, .. } in books.all::<BurdenRate>()? {
            rates
                .burden
                .entry((burden.name.clone(), burden.class.clone()))
                .or_default()
                .push((burden.date, burden));
        }
        rates.burden.values_mut().for_each(|burden| burden.sort_by_key(|(date, _)| *date));
        for Entered { fact: bonus, .. } in books.all::<Bonus>()? {
            rates.bonus.entry(bonus.person).or_default().push((bonus.date, bonus.amount));
        }
        for person in books.all::<Person>()? {
            rates.class.insert(person.fact.revises.unwrap_or(person.entry.id), person.fact.class);
        }
        Ok(rates)
    }

    fn first_weekday(&self) -> Weekday {
        self.firms.last().map_or(Weekday::Monday, |(_, firm)| firm.week_begins.civil())
    }

    /// The first day of the week that holds a day.
    pub(crate) fn week_of(&self, day: Date) -> Date {
        trade::week_start(day, self.first_weekday())
    }

    fn rule(&self, day: Date) -> (OvertimeRule, PremiumSpread) {
        let firm = at(&self.firms, day).or_else(|| self.firms.first().map(|(_, firm)| firm));
        let rule = OvertimeRule {
            weekly_over: firm.map_or(trade::FEDERAL_WEEK, |firm| firm.overtime_over_week),
            daily_over: firm.and_then(|firm| firm.overtime_over_day),
            first_weekday: self.first_weekday(),
        };
        let spread = match firm.map(|firm| firm.premium_to) {
            Some(PremiumTo::Cause) => PremiumSpread::ToCause,
            _ => PremiumSpread::ByHours,
        };
        (rule, spread)
    }

    fn parts(&self, day: Date) -> Vec<BurdenPart> {
        self.burden
            .iter()
            .filter_map(|((name, class), dated)| {
                let burden = at(dated, day)?;
                let basis = match burden.calculated_on {
                    BurdenOn::Pay => {
                        BurdenBasis::PercentOfPay { rate: burden.rate, wage_base: burden.wage_base }
                    }
                    BurdenOn::HundredOfPay => BurdenBasis::PerHundredOfPay {
                        rate: burden.rate,
                        class: class.clone(),
                        premium_included: burden.on_premium,
                    },
                    BurdenOn::Hour => BurdenBasis::PerHour { amount: burden.rate },
                };
                Some(BurdenPart { name: name.clone(), basis })
            })
            .collect()
    }

    fn has_wage_base(&self) -> bool {
        self.burden.values().flatten().any(|(_, burden)| burden.wage_base.is_some())
    }

    /// A person's hourly pay on a day; none when no rate is recorded yet.
    pub(crate) fn hourly(&self, person: Id, day: Date) -> Option<Rate> {
        self.pay.get(&person).and_then(|pay| at(pay, day)).copied()
    }
}

/// The hours of one time fact with what they cost.
#[derive(Clone, Debug, PartialEq)]
pub struct CostedTime {
    /// The fact's entry.
    pub id: Id,
    /// The fact.
    pub time: TimeEntry,
    /// The month in which it is booked.
    pub month: Month,
    /// Hourly pay on the day, if one was recorded.
    pub hourly: Option<Rate>,
    /// Straight pay and bonus.
    pub straight: Money,
    /// Its part of the week's overtime premium.
    pub premium: Money,
    /// Its part of the week's taxes, insurance and benefits.
    pub burden: Money,
}

fn shift(day: Date, by: Span) -> Result<Date, LedgerError> {
    day.checked_add(by).map_err(|_| LedgerError::Damaged {
        place: "date".to_owned(),
        problem: format!("{day} is too far from today"),
    })
}

/// The time facts of a person from one day to another, unreversed, in the order of their days and recording.
///
/// A week is worked out at every entry of hours, so this asks for no more than it needs.
fn hours(
    conn: &Connection,
    calendar: &Calendar,
    person: Id,
    from: Date,
    to: Date,
) -> Result<Vec<(Id, TimeEntry, Month)>, LedgerError> {
    let sql = format!(
        "SELECT t.id, t.date, t.job, t.code, t.hours_e4, t.crew, t.caused_overtime, t.condition, e.device, e.device_seq
         FROM time_entry t CROSS JOIN entry e ON e.id = t.id
         WHERE t.person = ?1 AND t.date BETWEEN ?2 AND ?3 AND {}",
        live("t.id")
    );
    let mut statement = conn.prepare_cached(&sql)?;
    let mut rows = statement.query(params![person.bytes(), from.to_string(), to.to_string()])?;
    let mut hours = Vec::new();
    while let Some(row) = rows.next()? {
        fn cell<T: Column>(row: &rusqlite::Row<'_>, at: usize) -> Result<T, LedgerError> {
            T::load(row.get_ref(at)?).map_err(damaged("time"))
        }
        let time = TimeEntry {
            date: cell(row, 1)?,
            person,
            job: cell(row, 2)?,
            code: cell(row, 3)?,
            hours: cell(row, 4)?,
            crew: cell(row, 5)?,
            caused_overtime: cell(row, 6)?,
            condition: cell(row, 7)?,
        };
        let (device, seq): (String, i64) = (cell(row, 8)?, cell(row, 9)?);
        let month = calendar.booked(time.date, &device, seq);
        hours.push(((time.date, device.len(), device, seq), (cell(row, 0)?, time, month)));
    }
    hours.sort_by(|left, right| left.0.cmp(&right.0));
    Ok(hours.into_iter().map(|(_, hours)| hours).collect())
}

/// Works out one person's week.
pub(crate) fn cost_week(
    conn: &Connection,
    calendar: &Calendar,
    rates: &Rates,
    person: Id,
    week: Date,
) -> Result<Vec<CostedTime>, LedgerError> {
    let last = shift(week, 6.days())?;
    let hours = hours(conn, calendar, person, week, last)?;
    if hours.is_empty() {
        return Ok(Vec::new());
    }
    let (rule, spread) = rates.rule(last);
    let work: Vec<WorkLine> = hours
        .iter()
        .map(|(_, time, _)| WorkLine {
            date: time.date,
            hours: time.hours,
            rate: rates.hourly(person, time.date).unwrap_or_default(),
            caused_overtime: time.caused_overtime,
        })
        .collect();
    let bonus = rates
        .bonus
        .get(&person)
        .map(|dated| {
            dated.iter().filter(|(day, _)| week <= *day && *day <= last).map(|(_, amount)| *amount).sum()
        })
        .unwrap_or_default();
    let class = rates.class.get(&person).and_then(Option::as_deref);
    let before = paid_before(conn, person, week, last)?;
    let loaded = match trade::loaded_week(&work, bonus, &rule, spread, &rates.parts(last), class, before) {
        Ok(loaded) => loaded,
        Err(problem) => return refuse("hours", problem.to_string(), "Check the week's hours"),
    };
    Ok(hours
        .into_iter()
        .zip(loaded.lines)
        .map(|((id, time, month), line)| CostedTime {
            id,
            hourly: rates.hourly(person, time.date),
            time,
            month,
            straight: line.straight,
            premium: line.premium,
            burden: line.burden,
        })
        .collect())
}

/// What a person was paid before this week in the calendar year in which the week ends: wage bases run by year.
fn paid_before(conn: &Connection, person: Id, week: Date, last: Date) -> Result<Money, LedgerError> {
    let earliest = shift(Date::constant(last.year(), 1, 1), (-6).days())?;
    let paid: i64 = conn
        .prepare_cached(
            "SELECT coalesce(sum(straight_cents + premium_cents), 0) FROM total_labor
             WHERE person = ?1 AND week >= ?2 AND week < ?3",
        )?
        .query_row(params![person.bytes(), earliest.to_string(), week.to_string()], |row| row.get(0))?;
    Ok(Money::from_minor(paid))
}

/// Whose weeks must be worked out again.
#[derive(Debug, Default)]
pub(crate) struct Stale {
    weeks: BTreeSet<(Id, Date)>,
    people_from: BTreeMap<Id, Date>,
    everybody_from: Option<Date>,
}

impl Stale {
    pub(crate) fn is_empty(&self) -> bool {
        self.weeks.is_empty() && self.people_from.is_empty() && self.everybody_from.is_none()
    }

    /// Notes what a fact (or its reversal) makes stale. Answers whether rates themselves changed.
    pub(crate) fn note(&mut self, id: Id, fact: &Fact, week_of: impl Fn(Date) -> Date) -> bool {
        let mut person_from = |person: Id, day: Date| {
            let from = self.people_from.entry(person).or_insert(day);
            *from = day.min(*from);
        };
        match fact {
            Fact::TimeEntry(time) => {
                self.weeks.insert((time.person, week_of(time.date)));
                return false;
            }
            Fact::Bonus(bonus) => person_from(bonus.person, bonus.date),
            Fact::PayRate(rate) => person_from(rate.person, rate.date),
            // A class has no date of its own: the newest counts for every week that is still open.
            Fact::Person(person) => person_from(person.revises.unwrap_or(id), Date::MIN),
            Fact::BurdenRate(BurdenRate { date, .. }) => {
                self.everybody_from = Some(self.everybody_from.map_or(*date, |from| from.min(*date)));
            }
            Fact::Firm(_) => self.everybody_from = Some(Date::MIN),
            _ => return false,
        }
        true
    }

    /// The weeks to be worked out, in order, so that what was paid before each is known.
    fn resolve(&self, conn: &Connection, rates: &Rates) -> Result<BTreeSet<(Id, Date)>, LedgerError> {
        let mut due = self.weeks.clone();
        let mut from: BTreeMap<Id, Date> = self.people_from.clone();
        if let Some(day) = self.everybody_from {
            let mut statement = conn.prepare_cached("SELECT DISTINCT person FROM time_entry")?;
            let mut rows = statement.query([])?;
            while let Some(row) = rows.next()? {
                let person = Id::load(row.get_ref(0)?).map_err(damaged("time.person"))?;
                let first = from.entry(person).or_insert(day);
                *first = day.min(*first);
            }
        }
        for (person, day) in from {
            due.extend(weeks_from(conn, rates, person, day, None)?.into_iter().map(|week| (person, week)));
        }
        if rates.has_wage_base() {
            // A wage base runs through the year: a change in one week reaches every later one of that year.
            let mut earliest: BTreeMap<(Id, i16), Date> = BTreeMap::new();
            for (person, week) in &due {
                let year = shift(*week, 6.days())?.year();
                earliest.entry((*person, year)).or_insert(*week);
            }
            for ((person, year), week) in earliest {
                let later = weeks_from(conn, rates, person, week, Some(year))?;
                due.extend(later.into_iter().map(|week| (person, week)));
            }
        }
        Ok(due)
    }
}

/// The weeks of a person that have hours or stored labor, from a day on, in a year if one is given.
fn weeks_from(
    conn: &Connection,
    rates: &Rates,
    person: Id,
    day: Date,
    year: Option<i16>,
) -> Result<BTreeSet<Date>, LedgerError> {
    let first = if day == Date::MIN { day } else { rates.week_of(day) };
    let mut statement = conn.prepare_cached(
        "SELECT DISTINCT date FROM time_entry WHERE person = ?1 AND date >= ?2
         UNION SELECT DISTINCT week FROM total_labor WHERE person = ?1 AND week >= ?2",
    )?;
    // Dates are text of one form; the least date there is sorts before all of them.
    let from = if first == Date::MIN { String::new() } else { first.to_string() };
    let mut rows = statement.query(params![person.bytes(), from])?;
    let mut weeks = BTreeSet::new();
    while let Some(row) = rows.next()? {
        let day = Date::load(row.get_ref(0)?).map_err(damaged("time.date"))?;
        let week = rates.week_of(day);
        if year.is_none_or(|year| shift(week, 6.days()).is_ok_and(|last| last.year() == year)) {
            weeks.insert(week);
        }
    }
    Ok(weeks)
}

type Cell = (Id, Id, Option<Id>, Month);
type Pay = [i64; 3];

fn total_week(conn: &Connection, person: Id, week: Date) -> Result<BTreeMap<Cell, Pay>, LedgerError> {
    let mut statement = conn.prepare_cached(
        "SELECT job, code, nullif(condition, x''), month, straight_cents, premium_cents, burden_cents
         FROM total_labor WHERE person = ?1 AND week = ?2",
    )?;
    let mut rows = statement.query(params![person.bytes(), week.to_string()])?;
    let mut cells = BTreeMap::new();
    while let Some(row) = rows.next()? {
        cells.insert(cell(row, 0)?, [row.get(4)?, row.get(5)?, row.get(6)?]);
    }
    Ok(cells)
}

fn cell(row: &rusqlite::Row<'_>, first: usize) -> Result<Cell, LedgerError> {
    let bad = |problem| LedgerError::Damaged { place: "stored labor".to_owned(), problem };
    Ok((
        Id::load(row.get_ref(first)?).map_err(bad)?,
        Id::load(row.get_ref(first + 1)?).map_err(bad)?,
        Option::<Id>::load(row.get_ref(first + 2)?).map_err(bad)?,
        Month::load(row.get_ref(first + 3)?).map_err(bad)?,
    ))
}

/// Adds labor to the month in which it is booked.
fn book(sums: &mut Sums, (job, code_id, found, month): Cell, pay: Pay) {
    let all: i64 = pay.iter().sum();
    let at = [Some(job), Some(code_id), found];
    sums.add(&booked::TABLE, &at, month, booked::STRAIGHT, pay[0]);
    sums.add(&booked::TABLE, &at, month, booked::PREMIUM, pay[1]);
    sums.add(&booked::TABLE, &at, month, booked::BURDEN, pay[2]);
    sums.add(&code::TABLE, &[Some(job), Some(code_id)], month, code::LABOR, all);
    if found.is_some() {
        sums.add(&condition::TABLE, &[found, Some(code_id)], month, condition::LABOR, all);
    }
}

fn open_month(calendar: &Calendar, month: Month) -> Month {
    calendar.closed_through().map_or(month, |closed| month.max(closed.next()))
}

/// Works out the stale weeks, keeps them, and books the difference.
pub(crate) fn refresh(
    conn: &Connection,
    calendar: &Calendar,
    rates: &Rates,
    stale: &Stale,
    sums: &mut Sums,
) -> Result<(), LedgerError> {
    if stale.everybody_from == Some(Date::MIN) {
        drop_old_weeks(conn, calendar, rates, sums)?;
    }
    // A week noted before the firm moved the first day of its week is no week any more.
    for (person, week) in
        stale.resolve(conn, rates)?.into_iter().filter(|(_, week)| rates.week_of(*week) == *week)
    {
        let mut difference: BTreeMap<Cell, Pay> = BTreeMap::new();
        for (cell, pay) in total_week(conn, person, week)? {
            difference.insert(cell, pay.map(|cents| -cents));
        }
        for (cell, pay) in rewrite_week(conn, calendar, rates, person, week)? {
            let sum = difference.entry(cell).or_insert([0; 3]);
            sum.iter_mut().zip(pay).for_each(|(sum, cents)| *sum += cents);
        }
        for ((job, code_id, found, month), pay) in difference {
            book(sums, (job, code_id, found, open_month(calendar, month)), pay);
        }
    }
    Ok(())
}

/// Takes back the labor of weeks that began on another day of the week than the firm's weeks now do.
fn drop_old_weeks(
    conn: &Connection,
    calendar: &Calendar,
    rates: &Rates,
    sums: &mut Sums,
) -> Result<(), LedgerError> {
    let mut old = Vec::new();
    let mut statement = conn.prepare_cached("SELECT DISTINCT person, week FROM total_labor")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let person = Id::load(row.get_ref(0)?).map_err(damaged("total_labor.person"))?;
        let week = Date::load(row.get_ref(1)?).map_err(damaged("total_labor.week"))?;
        if rates.week_of(week) != week {
            old.push((person, week));
        }
    }
    for (person, week) in old {
        for ((job, code_id, found, month), pay) in total_week(conn, person, week)? {
            book(sums, (job, code_id, found, open_month(calendar, month)), pay.map(|cents| -cents));
        }
        conn.prepare_cached("DELETE FROM total_labor WHERE person = ?1 AND week = ?2")?
            .execute(params![person.bytes(), week.to_string()])?;
    }
    Ok(())
}

/// Works a week out and writes it over what was stored.
fn rewrite_week(
    conn: &Connection,
    calendar: &Calendar,
    rates: &Rates,
    person: Id,
    week: Date,
) -> Result<BTreeMap<Cell, Pay>, LedgerError> {
    let mut cells: BTreeMap<Cell, Pay> = BTreeMap::new();
    for line in cost_week(conn, calendar, rates, person, week)? {
        let sum =
            cells.entry((line.time.job, line.time.code, line.time.condition, line.month)).or_insert([0; 3]);
        sum[0] += line.straight.minor();
        sum[1] += line.premium.minor();
        sum[2] += line.burden.minor();
    }
    conn.prepare_cached("DELETE FROM total_labor WHERE person = ?1 AND week = ?2")?
        .execute(params![person.bytes(), week.to_string()])?;
    let mut insert = conn.prepare_cached(
        "INSERT INTO total_labor
             (person, week, job, code, condition, month, straight_cents, premium_cents, burden_cents)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?;
    for ((job, code_id, found, month), pay) in &cells {
        let found = found.as_ref().map_or(&[][..], |id| &id.bytes()[..]);
        insert.execute(params![
            person.bytes(),
            week.to_string(),
            job.bytes(),
            code_id.bytes(),
            found,
            month.key(),
            pay[0],
            pay[1],
            pay[2]
        ])?;
    }
    Ok(cells)
}

/// Works out all labor from nothing: the weeks, what closed months keep, and the open month's difference.
pub(crate) fn rebuild(
    conn: &Connection,
    calendar: &Calendar,
    sums: &mut Sums,
    go_on: &mut dyn FnMut() -> bool,
) -> Result<(), LedgerError> {
    let rates = Rates::read(conn)?;
    let everybody = Stale { everybody_from: Some(Date::MIN), ..Stale::default() };
    let closed = calendar.closed_through();
    let mut owed: BTreeMap<Cell, Pay> = BTreeMap::new();
    for (done, (person, week)) in everybody.resolve(conn, &rates)?.into_iter().enumerate() {
        if done % 200 == 199 && !go_on() {
            return Err(LedgerError::Stopped);
        }
        for ((job, code_id, found, month), pay) in rewrite_week(conn, calendar, &rates, person, week)? {
            let sum = owed.entry((job, code_id, found, open_month(calendar, month))).or_insert([0; 3]);
            sum.iter_mut().zip(pay).for_each(|(sum, cents)| *sum += cents);
        }
    }
    for close in Books::over(conn).closes()? {
        for line in close.fact.labor {
            let pay = [line.straight.minor(), line.premium.minor(), line.burden.minor()];
            book(sums, (line.job, line.code, line.condition, close.fact.month), pay);
            if let Some(closed) = closed {
                let sum = owed.entry((line.job, line.code, line.condition, closed.next())).or_insert([0; 3]);
                sum.iter_mut().zip(pay).for_each(|(sum, cents)| *sum -= cents);
            }
        }
    }
    for (cell, pay) in owed {
        book(sums, cell, pay);
    }
    Ok(())
}

//! Labor cost, worked out week by week and person by person from hours, pay and burden, and stored by job, code,
//! condition and month. A closed month keeps the labor it was closed with; what changes later is booked in the open
//! month.

use super::sums::{Sums, booked, code, condition};
use crate::calendar::Calendar;
use crate::closed_lists::PremiumTo;
use crate::column::Column;
use crate::error::{LedgerError, damaged, refuse};
use crate::facts::{Bonus, BurdenRate, Fact, Firm, PayRate, Person, TimeEntry};
use crate::id::Id;
use crate::in_force::{InForce, work_weeks};
use crate::live::live;
use crate::read::{Books, Entered};
use jiff::civil::Date;
use rusqlite::{Connection, params};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use trade::{
    BurdenSpell, Earned, LoadedLine, Money, Month, Overlap, OvertimeRule, PremiumSpread, Qty, Rate, Week,
    WorkLine, WorkWeek, WorkWeeks,
};

/// Values by the day from which each counts.
type Dated<T> = Vec<(Date, T)>;

/// Pay, burden and overtime rules, as the facts have them.
///
/// Settings of the firm never reach back into a closed month ([`InForce`]). Pay, burden and class are what was owed on
/// their day: what comes in late changes what a week came to, and the open month takes the difference.
#[derive(Debug)]
pub(crate) struct Rates {
    firms: InForce<Firm>,
    weeks: WorkWeeks,
    pay: HashMap<Id, Dated<Rate>>,
    burden: BTreeMap<(String, Option<String>), Dated<BurdenRate>>,
    /// The days on which any burden begins.
    burden_turns: BTreeSet<Date>,
    bonus: HashMap<Id, Dated<Money>>,
    class: HashMap<Id, Dated<Option<String>>>,
}

/// The newest of dated values at a day; among those of one day, the one recorded last.
fn at<T>(dated: &[(Date, T)], day: Date) -> Option<&T> {
    dated.iter().rev().find(|(from, _)| *from <= day).map(|(_, value)| value)
}

impl Rates {
    /// Reads them.
    pub(crate) fn read(conn: &Connection) -> Result<Rates, LedgerError> {
        let books = Books::over(conn);
        let firms = books.firms(&Calendar::read(conn)?)?;
        let mut rates = Rates {
            weeks: work_weeks(&firms),
            firms,
            pay: HashMap::new(),
            burden: BTreeMap::new(),
            burden_turns: BTreeSet::new(),
            bonus: HashMap::new(),
            class: HashMap::new(),
        };
        for Entered { fact: pay, .. } in books.all::<PayRate>()? {
            rates.pay.entry(pay.person).or_default().push((pay.date, pay.hourly));
        }
        rates.pay.values_mut().for_each(|pay| pay.sort_by_key(|(date, _)| *date));
        for Entered { fact: burden, .. } in books.all::<BurdenRate>()? {
            let key = (burden.name.clone(), burden.class.clone());
            rates.burden_turns.insert(burden.date);
            rates.burden.entry(key).or_default().push((burden.date, burden));
        }
        rates.burden.values_mut().for_each(|burden| burden.sort_by_key(|(date, _)| *date));
        for Entered { fact: bonus, .. } in books.all::<Bonus>()? {
            rates.bonus.entry(bonus.person).or_default().push((bonus.date, bonus.amount));
        }
        for Entered { entry, fact: person, .. } in books.all::<Person>()? {
            let (first, from) = match person.revises {
                None => (entry.id, Date::MIN),
                Some(first) => (first, person.date.unwrap_or(Date::MIN)),
            };
            rates.class.entry(first).or_default().push((from, person.class));
        }
        rates.class.values_mut().for_each(|class| class.sort_by_key(|(date, _)| *date));
        Ok(rates)
    }

    /// The week that holds a day.
    pub(crate) fn week(&self, day: Date) -> WorkWeek {
        self.weeks.week(day)
    }

    /// The first day of the week that holds a day.
    pub(crate) fn week_of(&self, day: Date) -> Date {
        self.week(day).first
    }

    /// The week before one.
    pub(crate) fn week_before(&self, week: &WorkWeek) -> WorkWeek {
        self.weeks.before(week)
    }

    /// The rule of a week: that of the settings on its first day.
    fn rule(&self, week: &WorkWeek) -> (OvertimeRule, PremiumSpread) {
        let firm = self.firms.on(week.first).map(|held| &held.fact);
        let rule = OvertimeRule {
            weekly_over: firm.map_or(trade::FEDERAL_WEEK, |firm| firm.overtime_over_week),
            daily_over: firm.and_then(|firm| firm.overtime_over_day),
            first_weekday: week.begins_on(),
        };
        let spread = match firm.map(|firm| firm.premium_to) {
            Some(PremiumTo::Cause) => PremiumSpread::ToCause,
            _ => PremiumSpread::ByHours,
        };
        (rule, spread)
    }

    /// The burden of a person's days in a week: a spell for each time that a rate or the person's class changes (the
    /// first rates count from the beginning and change nothing), and
    /// for each month, so that a burden that begins in the second month of a week moves no cent of the first.
    fn spells(&self, person: Id, week: &WorkWeek) -> Vec<BurdenSpell> {
        let classes = self.class.get(&person).map(Vec::as_slice).unwrap_or_default();
        let inside = |day: &Date| week.first < *day && *day <= week.last;
        let turns = self.burden_turns.iter().skip(1).copied();
        let mut days: BTreeSet<Date> = turns.filter(inside).collect();
        days.extend(classes.iter().map(|(from, _)| *from).filter(inside));
        days.extend([week.first, Month::of(week.last).first_day().max(week.first)]);
        days.into_iter().map(|day| self.spell(day, at(classes, day).cloned().flatten())).collect()
    }

    fn spell(&self, day: Date, class: Option<String>) -> BurdenSpell {
        let counted = self.burden_turns.first().map_or(day, |first| day.max(*first));
        let parts =
            self.burden.values().filter_map(|dated| at(dated, counted)).map(BurdenRate::part).collect();
        BurdenSpell { from: day, parts, class }
    }

    /// A person's bonuses of a week, by their day.
    fn bonuses(&self, person: Id, week: &WorkWeek) -> Dated<Money> {
        let all = self.bonus.get(&person).map(Vec::as_slice).unwrap_or_default();
        all.iter().filter(|(day, _)| week.holds(*day)).copied().collect()
    }

    /// Hours of a person on a day, as they are paid.
    pub(crate) fn work_line(&self, person: Id, date: Date, hours: Qty, caused_overtime: bool) -> WorkLine {
        WorkLine { date, hours, rate: self.hourly(person, date).unwrap_or_default(), caused_overtime }
    }

    fn has_wage_base(&self) -> bool {
        self.burden.values().flatten().any(|(_, burden)| burden.wage_base.is_some())
    }

    /// A person's hourly pay on a day; none when no rate is recorded at all. The first rate counts from the beginning:
    /// nobody works for nothing, and it is recorded late more often than it begins late (company rule).
    pub(crate) fn hourly(&self, person: Id, day: Date) -> Option<Rate> {
        let pay = self.pay.get(&person)?;
        let (first, _) = pay.first()?;
        at(pay, day.max(*first)).copied()
    }

    /// From which day on a rate of a person's pay has a say: the first from the beginning.
    fn pay_counts_from(&self, rate: &PayRate) -> Date {
        let first = self.pay.get(&rate.person).and_then(|pay| pay.first());
        if first.is_none_or(|(first, _)| rate.date <= *first) { Date::MIN } else { rate.date }
    }

    /// From which day on a rate of the burden has a say. Those of the first day on which the firm has any count from
    /// the beginning; one that comes later to others never reaches back (company rule).
    fn burden_counts_from(&self, rate: &BurdenRate) -> Date {
        let first = self.burden_turns.first();
        if first.is_none_or(|first| rate.date <= *first) { Date::MIN } else { rate.date }
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

/// The time facts of a person from one day to another, unreversed, in the order of their days and recording.
///
/// A week is worked out at every entry of hours, so this asks for no more than it needs.
fn hours(
    conn: &Connection,
    calendar: &Calendar,
    person: Id,
    from: Date,
    to: Date,
) -> Result<Vec<Hours>, LedgerError> {
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

/// An entry of hours, and the month in which it is booked.
type Hours = (Id, TimeEntry, Month);

/// Works out the week of one person that holds a day.
pub(crate) fn cost_week(
    conn: &Connection,
    calendar: &Calendar,
    rates: &Rates,
    person: Id,
    day: Date,
) -> Result<Vec<CostedTime>, LedgerError> {
    let week = rates.week(day);
    let hours_of = |week: &WorkWeek| hours(conn, calendar, person, week.first, week.last);
    let hours = hours_of(&week)?;
    if hours.is_empty() {
        return Ok(Vec::new());
    }
    let old = if week.overlaps_from.is_some() { hours_of(&rates.week_before(&week))? } else { Vec::new() };
    let line = |(_, time, _): &Hours| rates.work_line(person, time.date, time.hours, time.caused_overtime);
    let work: Vec<WorkLine> = hours.iter().map(line).collect();
    let old: Vec<WorkLine> = old.iter().map(line).collect();
    let lines = loaded(rates, person, &week, (&work, &old), paid_before(conn, rates, person, &week)?)?;
    let costed = |((id, time, month), line): (Hours, LoadedLine)| CostedTime {
        id,
        hourly: rates.hourly(person, time.date),
        time,
        month,
        straight: line.straight,
        premium: line.premium,
        burden: line.burden,
    };
    Ok(hours.into_iter().zip(lines).map(costed).collect())
}

/// What the hours of a person's week cost, line by line. A short week looks back on the hours of the week before it.
pub(super) fn loaded(
    rates: &Rates,
    person: Id,
    week: &WorkWeek,
    (work, old): (&[WorkLine], &[WorkLine]),
    paid_before: Earned,
) -> Result<Vec<LoadedLine>, LedgerError> {
    let before = rates.week_before(week);
    let old_bonuses = if week.overlaps_from.is_some() { rates.bonuses(person, &before) } else { Vec::new() };
    let (rule, spread) = rates.rule(week);
    let paid = trade::loaded_week(
        &Week {
            work,
            bonus: rates.bonuses(person, week).iter().map(|(_, amount)| *amount).sum(),
            rule,
            spread,
            overlap: week.overlaps_from.map(|from| Overlap {
                from,
                work: old,
                bonuses: &old_bonuses,
                rule: rates.rule(&before).0,
            }),
        },
        &rates.spells(person, week),
        paid_before,
    );
    match paid {
        Ok(loaded) => Ok(loaded.lines),
        Err(problem) => refuse("hours", problem.to_string(), "Check the week's hours"),
    }
}

/// What a person was paid before this week in the calendar year in which the week ends: wage bases run by year.
fn paid_before(conn: &Connection, rates: &Rates, person: Id, week: &WorkWeek) -> Result<Earned, LedgerError> {
    let earliest = rates.week_of(Date::constant(week.last.year(), 1, 1));
    let (straight, premium) = conn
        .prepare_cached(
            "SELECT coalesce(sum(straight_cents), 0), coalesce(sum(premium_cents), 0) FROM total_labor
             WHERE person = ?1 AND week >= ?2 AND week < ?3",
        )?
        .query_row(params![person.bytes(), earliest.to_string(), week.first.to_string()], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })?;
    Ok(Earned {
        straight: Money::from_minor(straight),
        premium: Money::from_minor(premium),
        ..Earned::default()
    })
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

    /// Whether labor rests on a fact of this kind.
    pub(crate) fn concerns(fact: &Fact) -> bool {
        matches!(
            fact,
            Fact::TimeEntry(_)
                | Fact::Bonus(_)
                | Fact::PayRate(_)
                | Fact::Person(_)
                | Fact::BurdenRate(_)
                | Fact::Firm(_)
        )
    }

    /// Notes what a fact (or its reversal) makes stale. Answers whether rates themselves changed.
    pub(crate) fn note(&mut self, fact: &Fact, rates: &Rates) -> bool {
        let mut person_from = |person: Id, day: Date| {
            let from = self.people_from.entry(person).or_insert(day);
            *from = day.min(*from);
        };
        match fact {
            Fact::TimeEntry(time) => {
                self.weeks.insert((time.person, rates.week_of(time.date)));
                return false;
            }
            Fact::Bonus(bonus) => person_from(bonus.person, bonus.date),
            Fact::PayRate(rate) => person_from(rate.person, rates.pay_counts_from(rate)),
            // Whoever is new has no hours yet.
            Fact::Person(person) => {
                if let (Some(first), Some(day)) = (person.revises, person.date) {
                    person_from(first, day);
                }
            }
            Fact::BurdenRate(rate) => {
                let day = rates.burden_counts_from(rate);
                self.everybody_from = Some(self.everybody_from.map_or(day, |from| from.min(day)));
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
            for person in everybody(conn)? {
                let first = from.entry(person).or_insert(day);
                *first = day.min(*first);
            }
        }
        for (person, day) in from {
            due.extend(weeks_from(conn, rates, person, day, None)?.into_iter().map(|week| (person, week)));
        }
        // A short week looks back on the whole week before it.
        let after = |(person, week): &(Id, Date)| (*person, rates.weeks.after(&rates.week(*week)));
        let short: Vec<(Id, Date)> = due
            .iter()
            .map(after)
            .filter(|(_, next)| next.overlaps_from.is_some())
            .map(|(person, next)| (person, next.first))
            .collect();
        due.extend(short);
        if rates.has_wage_base() {
            // A wage base runs through the year: a change in one week reaches every later one of that year.
            let mut earliest: BTreeMap<(Id, i16), Date> = BTreeMap::new();
            for (person, week) in &due {
                let year = rates.week(*week).last.year();
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

/// Everybody who has hours.
fn everybody(conn: &Connection) -> Result<Vec<Id>, LedgerError> {
    let mut statement = conn.prepare_cached("SELECT DISTINCT person FROM time_entry")?;
    let mut rows = statement.query([])?;
    let mut people = Vec::new();
    while let Some(row) = rows.next()? {
        people.push(Id::load(row.get_ref(0)?).map_err(damaged("time.person"))?);
    }
    Ok(people)
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
        let week = rates.week(day);
        if year.is_none_or(|year| week.last.year() == year) {
            weeks.insert(week.first);
        }
    }
    Ok(weeks)
}

/// Where labor stands: its job, code, condition and month.
pub(super) type Cell = (Id, Id, Option<Id>, Month);
/// Straight pay, premium and burden, in cents.
pub(super) type Pay = [i64; 3];

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
pub(super) fn book(sums: &mut Sums, (job, code_id, found, month): Cell, pay: Pay) {
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

pub(super) fn open_month(calendar: &Calendar, month: Month) -> Month {
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
            add(difference.entry(cell).or_default(), pay, 1);
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
    let costed = cost_week(conn, calendar, rates, person, week)?;
    let cells = cells_of(costed.iter().map(|line| {
        let at = (line.time.job, line.time.code, line.time.condition, line.month);
        (at, [line.straight, line.premium, line.burden])
    }));
    conn.prepare_cached("DELETE FROM total_labor WHERE person = ?1 AND week = ?2")?
        .execute(params![person.bytes(), week.to_string()])?;
    store_week(conn, person, week, &cells)?;
    Ok(cells)
}

/// The sums of a week's lines by where they stand.
pub(super) fn cells_of(lines: impl Iterator<Item = (Cell, [Money; 3])>) -> BTreeMap<Cell, Pay> {
    let mut cells: BTreeMap<Cell, Pay> = BTreeMap::new();
    for (cell, pay) in lines {
        add(cells.entry(cell).or_default(), pay.map(Money::minor), 1);
    }
    cells
}

/// Adds pay to a sum, or with -1 takes it off.
pub(super) fn add(sum: &mut Pay, pay: Pay, sign: i64) {
    sum.iter_mut().zip(pay).for_each(|(sum, cents)| *sum += sign * cents);
}

pub(super) fn store_week(
    conn: &Connection,
    person: Id,
    week: Date,
    cells: &BTreeMap<Cell, Pay>,
) -> Result<(), LedgerError> {
    let mut insert = conn.prepare_cached(
        "INSERT INTO total_labor
             (person, week, job, code, condition, month, straight_cents, premium_cents, burden_cents)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?;
    let week = week.to_string();
    for ((job, code_id, found, month), pay) in cells {
        let found = found.as_ref().map_or(&[][..], |id| &id.bytes()[..]);
        insert.execute(params![
            person.bytes(),
            week,
            job.bytes(),
            code_id.bytes(),
            found,
            month.key(),
            pay[0],
            pay[1],
            pay[2]
        ])?;
    }
    Ok(())
}

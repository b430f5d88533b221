//! The stored totals as reports read them: sums through the end of a month.

use super::groups;
use super::labor::{self, CostedTime, Rates};
use crate::calendar::{Calendar, Span};
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::JobStatus;
use crate::id::Id;
use crate::kind::{ColumnOf, FactRow, NamesFact};
use crate::live::live;
use crate::read::{Books, Entered, VERSIONS_OF, Which, among};
use jiff::civil::Date;
use rusqlite::{Row, params};
use std::borrow::Borrow;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use trade::{Money, Month, Qty};

/// A struct of sums with the SQL that reads them.
macro_rules! totals {
    ($(#[$meta:meta])* $name:ident { $( $(#[$field_meta:meta])* $field:ident : $type:ty ),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, Default, PartialEq, Eq)]
        pub struct $name { $( $(#[$field_meta])* pub $field: $type ),+ }

        impl $name {
            /// The sums of all columns.
            fn sql() -> String {
                let columns: Vec<String> = vec![$(
                    format!("coalesce(sum({}{}), 0)", stringify!($field), <$type as Column>::SUFFIX)
                ),+];
                columns.join(", ")
    }

            /// Reads them from a row, from a column on.
            fn load(row: &Row<'_>, first: usize) -> Result<$name, LedgerError> {
                let mut at = first;
                $( let $field = <$type>::load(row.get_ref(at)?).map_err(damaged(stringify!($field)))?; at += 1; )+
                let _ = at;
                Ok($name { $( $field ),+ })
            }
        }
    };
}

totals! {
    /// What a job's code was contracted, cost and has ordered.
    CodeTotals {
        /// Budget: material.
        budget_material: Money,
        /// Budget: labor.
        budget_labor: Money,
        /// Budget: subcontract.
        budget_subcontract: Money,
        /// Budget: the rest.
        budget_rest: Money,
        /// Of the material budget, what is counted.
        budget_counted: Money,
        /// How much that is.
        budget_quantity: Qty,
        /// Hours in the budget.
        budget_hours: Qty,
        /// Measured work in the budget.
        budget_units: Qty,
        /// Of the budget, what approved changes added.
        changed: Money,
        /// Beside it, what approved changes allow for hidden conditions.
        hidden_budget: Money,
        /// Spent: material.
        material: Money,
        /// Spent: labor.
        labor: Money,
        /// Spent: subcontract.
        subcontract: Money,
        /// Spent: equipment.
        equipment: Money,
        /// Spent: disposal.
        disposal: Money,
        /// Spent: permits.
        permit: Money,
        /// Spent: other.
        other: Money,
        /// Of the material, what bills count.
        counted: Money,
        /// How much that is.
        quantity: Qty,
        /// Hours worked.
        hours: Qty,
        /// Measured work done.
        units: Qty,
        /// Ordered and not received.
        committed: Money,
        }
}
totals! {
    /// Of a code's counted material, what is of one part.
    PartTotals {
        /// What it costs in the contract.
        budget_counted: Money,
        /// How much that is.
        budget_quantity: Qty,
        /// How much bills count.
        quantity: Qty,
        }
}
totals! {
    /// A job's price and money.
    JobTotals {
        /// Contract.
        price: Money,
        /// Approved changes of the customer's own.
        change_price: Money,
        /// Approved for hidden conditions.
        hidden_price: Money,
        /// Billed before tax.
        billed: Money,
        /// Sales tax billed.
        tax: Money,
        /// Retainage held.
        held: Money,
        /// Retainage released.
        released: Money,
        /// Payments applied.
        received: Money,
        }
}
totals! {
    /// What a hidden condition cost on one code.
    ConditionTotals {
        /// Material.
        material: Money,
        /// Labor.
        labor: Money,
        /// Subcontract.
        subcontract: Money,
        /// The rest.
        rest: Money,
        /// Of the material, what is counted.
        counted: Money,
        /// How much that is.
        quantity: Qty,
        /// Hours.
        hours: Qty,
        }
}
totals! {
    /// What is open on an invoice.
    InvoiceTotals {
        /// Due now.
        open: Money,
        /// Held.
        held: Money,
        }
}
totals! {
    /// Labor booked in a month.
    LaborTotals {
        /// Straight pay and bonus.
        straight: Money,
        /// Overtime premium.
        premium: Money,
        /// Taxes, insurance and benefits.
        burden: Money,
        }
}

impl CodeTotals {
    /// The whole budget, without what is allowed for hidden conditions.
    #[must_use]
    pub fn budget(&self) -> Money {
        self.budget_material + self.budget_labor + self.budget_subcontract + self.budget_rest
    }

    /// Spent on anything but material, labor and subcontract.
    #[must_use]
    pub fn rest(&self) -> Money {
        self.equipment + self.disposal + self.permit + self.other
    }

    /// Everything spent.
    #[must_use]
    pub fn spent(&self) -> Money {
        self.material + self.labor + self.subcontract + self.rest()
    }
}

/// Hours of a job on one day with one crew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkedDay {
    /// The day on which they were worked.
    pub day: Date,
    /// The crew, where one is named.
    pub crew: Option<Id>,
    /// The month in which they are booked.
    pub month: Month,
    /// The hours; below zero where a later month takes back what an earlier one booked.
    pub hours: Qty,
}

/// Counted material by code and part.
pub type CountedParts = BTreeMap<Id, BTreeMap<Option<Id>, PartTotals>>;

/// Labor by job, code and hidden condition.
pub type BookedLabor = BTreeMap<(Id, Id, Option<Id>), LaborTotals>;

impl Books<'_> {
    /// The closed months.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn calendar(&self) -> Result<Calendar, LedgerError> {
        Calendar::read(self.conn)
    }

    /// From which month and until which a fact counts.
    ///
    /// # Errors
    /// When its reversal cannot be read.
    pub fn span<T>(
        &self,
        calendar: &Calendar,
        entered: &Entered<T>,
        date: Date,
    ) -> Result<Span, LedgerError> {
        groups::span(self.conn, calendar, entered, date)
    }

    /// The facts of a kind that name this id in a column and are live at the end of a month, oldest first.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn live_at<T: FactRow, V: NamesFact>(
        &self,
        calendar: &Calendar,
        column: ColumnOf<T, V>,
        id: Id,
        through: Month,
        date: impl Fn(&T) -> Date,
    ) -> Result<Vec<Entered<T>>, LedgerError> {
        self.live_of(calendar, self.by_with_reversed(column, id)?, through, date)
    }

    /// Of facts, those that are live at the end of a month, oldest first.
    ///
    /// # Errors
    /// When the reversal of one cannot be read.
    pub fn live_of<T, E: Borrow<Entered<T>>>(
        &self,
        calendar: &Calendar,
        facts: impl IntoIterator<Item = E>,
        through: Month,
        date: impl Fn(&T) -> Date,
    ) -> Result<Vec<E>, LedgerError> {
        let mut live = Vec::new();
        for held in facts {
            let entered: &Entered<T> = held.borrow();
            if self.span(calendar, entered, date(&entered.fact))?.is_live(through) {
                live.push(held);
            }
        }
        live.sort_by_cached_key(|held| {
            let entered: &Entered<T> = held.borrow();
            (date(&entered.fact), entered.entry.recorded_at.clone(), entered.entry.id)
        });
        Ok(live)
    }

    /// The current version of every record of a kind that has versions, by the id of its first version.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn current<T: FactRow>(
        &self,
        revises: impl Fn(&T) -> Option<Id>,
    ) -> Result<BTreeMap<Id, T>, LedgerError> {
        // Almost all have one version alone, so that nobody need be asked which was recorded last.
        let mut alone: BTreeMap<Id, Option<T>> = BTreeMap::new();
        for (id, fact) in self.live_alone::<T>()? {
            let first = revises(&fact).unwrap_or(id);
            alone.entry(first).and_modify(|held| *held = None).or_insert(Some(fact));
        }
        let mut current = BTreeMap::new();
        for (first, fact) in alone {
            let newest = if fact.is_some() { fact } else { self.newest(first)? };
            current.extend(newest.map(|fact| (first, fact)));
        }
        Ok(current)
    }

    /// The current version of one record of a kind that has versions.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn newest<T: FactRow>(&self, first: Id) -> Result<Option<T>, LedgerError> {
        Ok(self.newest_of(&BTreeSet::from([first]), |_| Some(first))?.remove(&first))
    }

    /// The current version of each of some records of a kind that has versions, by the id of its first version.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn newest_of<T: FactRow>(
        &self,
        firsts: &BTreeSet<Id>,
        revises: impl Fn(&T) -> Option<Id>,
    ) -> Result<BTreeMap<Id, T>, LedgerError> {
        let mut versions = self.select::<T>(Which::Live, VERSIONS_OF, &[&among(firsts)])?;
        versions.sort_by(|left, right| {
            (&left.entry.recorded_at, left.entry.id).cmp(&(&right.entry.recorded_at, right.entry.id))
        });
        let by_first = |held: Entered<T>| (revises(&held.fact).unwrap_or(held.entry.id), held.fact);
        Ok(versions.into_iter().map(by_first).collect())
    }

    /// The jobs that have anything booked in a month: a fact, or labor of a closed month's week that came out
    /// differently and is caught up here.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn touched_jobs(&self, month: Month) -> Result<BTreeSet<Id>, LedgerError> {
        let mut touched = self.conn.prepare_cached(
            "SELECT job FROM total_job WHERE month = ?1 AND facts <> 0
             UNION SELECT job FROM total_booked_labor WHERE month = ?1",
        )?;
        ids(&mut touched, params![month.key()])
    }

    /// The jobs with any fact booked by the end of a month that are still at work, or were touched in that month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn jobs_at_work(&self, calendar: &Calendar, month: Month) -> Result<BTreeSet<Id>, LedgerError> {
        let before = month.prev();
        let (day, key) = (before.last_day().to_string(), month.key());
        let is_end = |day: &str| format!("f.stage != 'begun' AND f.date <= {day} AND {}", live("f.id"));
        // Of ten years' jobs almost all are ended and stay so.
        let mut ended =
            self.conn.prepare_cached(&format!("SELECT f.job FROM job_status f WHERE {}", is_end("?1")))?;
        let ended: HashSet<Id> = ids(&mut ended, params![day])?;
        let mut begun =
            self.conn.prepare_cached("SELECT job FROM total_job WHERE month < ?1 AND facts <> 0")?;
        let begun: Vec<Id> = ids(&mut begun, params![key])?;
        let mut at_work: BTreeSet<Id> = begun.into_iter().filter(|job| !ended.contains(job)).collect();
        // Where nothing of a job is booked later, nor is its end: the spine is asked about the others alone.
        let mut both = self.conn.prepare_cached(
            "SELECT l.job FROM total_job l WHERE l.month >= ?1 AND l.facts <> 0 AND EXISTS
             (SELECT 1 FROM total_job b WHERE b.job = l.job AND b.month < ?1 AND b.facts <> 0)",
        )?;
        let both: BTreeSet<Id> = ids(&mut both, params![key])?;
        let wanted = format!("f.job IN rarray(?1) AND {}", is_end("?2"));
        let ends = self.select::<JobStatus>(Which::Live, &wanted, params![among(&both), day])?;
        at_work.extend(both);
        let taken_back = "f.stage != 'begun' AND f.id IN (SELECT reverses FROM reversal)";
        for end in ends.into_iter().chain(self.select(Which::All, taken_back, &[])?) {
            if self.span(calendar, &end, end.fact.date)?.is_live(before) {
                at_work.remove(&end.fact.job);
            }
        }
        at_work.append(&mut self.touched_jobs(month)?);
        Ok(at_work)
    }

    /// What a question says of each of some ids by the end of a month; the first column of its rows is the id.
    fn of_each<T: Default>(
        &self,
        sql: &str,
        of: &BTreeSet<Id>,
        through: Month,
        put: impl Fn(&mut T, &Row<'_>) -> Result<(), LedgerError>,
    ) -> Result<BTreeMap<Id, T>, LedgerError> {
        let mut said = BTreeMap::new();
        if of.is_empty() {
            return Ok(said);
        }
        let mut statement = self.conn.prepare_cached(sql)?;
        let mut rows = statement.query(params![among(of), through.key()])?;
        while let Some(row) = rows.next()? {
            put(said.entry(id(row, 0)?).or_default(), row)?;
        }
        Ok(said)
    }

    /// Sums of each of some jobs by code through a month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn code_totals(
        &self,
        jobs: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, BTreeMap<Id, CodeTotals>>, LedgerError> {
        let sql = format!(
            "SELECT job, code, {} FROM total_code WHERE job IN rarray(?1) AND month <= ?2 GROUP BY job, code",
            CodeTotals::sql()
        );
        self.of_each(&sql, jobs, through, |codes: &mut BTreeMap<_, _>, row| {
            // A row that was canceled to nothing says no more than one that never was, and a rebuild leaves it out.
            let sums = CodeTotals::load(row, 2)?;
            if sums != CodeTotals::default() {
                codes.insert(id(row, 1)?, sums);
            }
            Ok(())
        })
    }

    /// The counted material of each of some jobs by code and part through a month; what bills count without saying the
    /// part is under none.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn part_totals(
        &self,
        jobs: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, CountedParts>, LedgerError> {
        let sql = format!(
            "SELECT job, code, nullif(part, x''), {} FROM total_part WHERE job IN rarray(?1) AND month <= ?2
             GROUP BY job, code, part",
            PartTotals::sql()
        );
        self.of_each(&sql, jobs, through, |codes: &mut CountedParts, row| {
            let sums = PartTotals::load(row, 3)?;
            if sums != PartTotals::default() {
                let part = Option::<Id>::load(row.get_ref(2)?).map_err(damaged("total_part.part"))?;
                codes.entry(id(row, 1)?).or_default().insert(part, sums);
            }
            Ok(())
        })
    }

    /// The price and money of each of some jobs through a month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn job_totals(
        &self,
        jobs: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, JobTotals>, LedgerError> {
        let sql = format!(
            "SELECT job, {} FROM total_job WHERE job IN rarray(?1) AND month <= ?2 GROUP BY job",
            JobTotals::sql()
        );
        self.of_each(&sql, jobs, through, |sums, row| {
            *sums = JobTotals::load(row, 1)?;
            Ok(())
        })
    }

    /// Hours of each of some jobs by the day worked, crew and the month in which they are booked, through a month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn worked_days(
        &self,
        jobs: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, Vec<WorkedDay>>, LedgerError> {
        let sql = "SELECT job, day, nullif(crew, x''), month, hours_e4 FROM total_crew
             WHERE job IN rarray(?1) AND month <= ?2 AND hours_e4 != 0 ORDER BY job, day, crew, month";
        self.of_each(sql, jobs, through, |days: &mut Vec<_>, row| {
            days.push(WorkedDay {
                day: Date::load(row.get_ref(1)?).map_err(damaged("total_crew.day"))?,
                crew: Option::<Id>::load(row.get_ref(2)?).map_err(damaged("total_crew.crew"))?,
                month: Month::load(row.get_ref(3)?).map_err(damaged("total_crew.month"))?,
                hours: Qty::from_e4(row.get(4)?),
            });
            Ok(())
        })
    }

    /// What each of some hidden conditions cost by code through a month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn condition_totals(
        &self,
        conditions: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, BTreeMap<Id, ConditionTotals>>, LedgerError> {
        let sql = format!(
            "SELECT condition, code, {} FROM total_condition WHERE condition IN rarray(?1) AND month <= ?2
             GROUP BY condition, code",
            ConditionTotals::sql()
        );
        self.of_each(&sql, conditions, through, |codes: &mut BTreeMap<_, _>, row| {
            let sums = ConditionTotals::load(row, 2)?;
            if sums != ConditionTotals::default() {
                codes.insert(id(row, 1)?, sums);
            }
            Ok(())
        })
    }

    /// The invoices with anything open or held at the end of a month.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn open_invoices(&self, through: Month) -> Result<Vec<(Id, InvoiceTotals)>, LedgerError> {
        let sql = format!(
            "SELECT invoice, {} FROM total_invoice WHERE month <= ?1 GROUP BY invoice
             HAVING sum(open_cents) != 0 OR sum(held_cents) != 0",
            InvoiceTotals::sql()
        );
        let mut statement = self.conn.prepare_cached(&sql)?;
        let mut rows = statement.query(params![through.key()])?;
        let mut open = Vec::new();
        while let Some(row) = rows.next()? {
            open.push((id(row, 0)?, InvoiceTotals::load(row, 1)?));
        }
        Ok(open)
    }

    /// The payments of which something is neither applied nor given back at the end of a month, with what is left.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn unapplied_payments(&self, through: Month) -> Result<Vec<(Id, Money)>, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT payment, sum(left_cents) FROM total_payment WHERE month <= ?1 GROUP BY payment
             HAVING sum(left_cents) != 0",
        )?;
        let mut rows = statement.query(params![through.key()])?;
        let mut unapplied = Vec::new();
        while let Some(row) = rows.next()? {
            unapplied.push((id(row, 0)?, Money::from_minor(row.get(1)?)));
        }
        Ok(unapplied)
    }

    /// Labor booked in one month, by job, code and condition.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn booked_labor(&self, month: Month) -> Result<BookedLabor, LedgerError> {
        let sql = format!(
            "SELECT job, code, nullif(condition, x''), {} FROM total_booked_labor WHERE month = ?1
             GROUP BY job, code, condition",
            LaborTotals::sql()
        );
        let mut statement = self.conn.prepare_cached(&sql)?;
        let mut rows = statement.query(params![month.key()])?;
        let mut booked = BTreeMap::new();
        while let Some(row) = rows.next()? {
            let condition =
                Option::<Id>::load(row.get_ref(2)?).map_err(damaged("total_booked_labor.condition"))?;
            booked.insert((id(row, 0)?, id(row, 1)?, condition), LaborTotals::load(row, 3)?);
        }
        booked.retain(|_, totals| *totals != LaborTotals::default());
        Ok(booked)
    }

    /// Labor of each of some jobs by the month in which it is booked, through a month.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn job_labor(
        &self,
        jobs: &BTreeSet<Id>,
        through: Month,
    ) -> Result<BTreeMap<Id, BTreeMap<Month, LaborTotals>>, LedgerError> {
        let sql = format!(
            "SELECT job, month, {} FROM total_booked_labor WHERE job IN rarray(?1) AND month <= ?2
             GROUP BY job, month",
            LaborTotals::sql()
        );
        self.of_each(&sql, jobs, through, |labor: &mut BTreeMap<_, _>, row| {
            let sums = LaborTotals::load(row, 2)?;
            if sums != LaborTotals::default() {
                let month = Month::load(row.get_ref(1)?).map_err(damaged("total_booked_labor.month"))?;
                labor.insert(month, sums);
            }
            Ok(())
        })
    }

    /// The time facts of some people's weeks with what each cost, worked out afresh: the working behind labor.
    ///
    /// # Errors
    /// When hours or rates cannot be read.
    pub fn costed_time(&self, weeks: &BTreeSet<(Id, Date)>) -> Result<Vec<CostedTime>, LedgerError> {
        let rates = Rates::read(self.conn)?;
        let calendar = Calendar::read(self.conn)?;
        let firsts: BTreeSet<(Id, Date)> =
            weeks.iter().map(|(person, day)| (*person, rates.week_of(*day))).collect();
        let mut costed = Vec::new();
        for (person, week) in firsts {
            costed.extend(labor::cost_week(self.conn, &calendar, &rates, person, week)?);
        }
        Ok(costed)
    }

    /// What the firm cost beside its jobs, by account, booked between two months, both included; under no account, what
    /// vendors let off, below zero.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn overhead(&self, first: Month, last: Month) -> Result<BTreeMap<Option<Id>, Money>, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT nullif(account, x''), sum(amount_cents) FROM total_overhead
             WHERE month BETWEEN ?1 AND ?2 GROUP BY account HAVING sum(amount_cents) != 0",
        )?;
        let mut rows = statement.query(params![first.key(), last.key()])?;
        let mut overhead = BTreeMap::new();
        while let Some(row) = rows.next()? {
            let account = Option::<Id>::load(row.get_ref(0)?).map_err(damaged("total_overhead.account"))?;
            overhead.insert(account, Money::from_minor(row.get(1)?));
        }
        Ok(overhead)
    }

    /// The bills on which anything is open at the end of a month; what is open on a credit is below zero.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn open_bills(&self, through: Month) -> Result<BTreeMap<Id, Money>, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT bill, sum(open_cents) FROM total_bill WHERE month <= ?1 GROUP BY bill
             HAVING sum(open_cents) != 0",
        )?;
        let mut rows = statement.query(params![through.key()])?;
        let mut open = BTreeMap::new();
        while let Some(row) = rows.next()? {
            open.insert(id(row, 0)?, Money::from_minor(row.get(1)?));
        }
        Ok(open)
    }

    /// The jobs with anything booked between two months, both included.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn touched_jobs_between(&self, first: Month, last: Month) -> Result<BTreeSet<Id>, LedgerError> {
        let mut touched = self.conn.prepare_cached(
            "SELECT job FROM total_job WHERE month BETWEEN ?1 AND ?2 AND facts <> 0
             UNION SELECT job FROM total_booked_labor WHERE month BETWEEN ?1 AND ?2",
        )?;
        ids(&mut touched, params![first.key(), last.key()])
    }

    /// The earliest and latest months in which anything is booked.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn months(&self) -> Result<Option<(Month, Month)>, LedgerError> {
        let (first, last): (Option<i32>, Option<i32>) =
            self.conn.query_row(BOOKED_MONTHS, [], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let read = |key: i32| {
            Month::from_key(key).map_err(|error| LedgerError::Damaged {
                place: "total_job.month".to_owned(),
                problem: error.to_string(),
            })
        };
        match (first, last) {
            (Some(first), Some(last)) => Ok(Some((read(first)?, read(last)?))),
            _ => Ok(None),
        }
    }

    /// The end of each device's chain.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn device_ends(&self) -> Result<Vec<(String, i64)>, LedgerError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT device, max(device_seq) FROM entry GROUP BY device ORDER BY length(device), device",
        )?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

const BOOKED_MONTHS: &str = "SELECT min(month), max(month)
    FROM (SELECT month FROM total_job WHERE facts <> 0
        UNION SELECT month FROM total_overhead WHERE amount_cents <> 0)";

fn id(row: &Row<'_>, at: usize) -> Result<Id, LedgerError> {
    Id::load(row.get_ref(at)?).map_err(damaged("stored totals"))
}

fn ids<T: FromIterator<Id>>(
    statement: &mut rusqlite::CachedStatement<'_>,
    with: &[&dyn rusqlite::ToSql],
) -> Result<T, LedgerError> {
    statement.query_and_then(with, |row| id(row, 0))?.collect()
}

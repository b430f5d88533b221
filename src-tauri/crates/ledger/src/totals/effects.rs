//! What a single fact adds to the totals, whatever other facts there are. Reversed, it adds the exact negative.

use super::sums::{Sums, bill, code, condition, crew, invoice, job, overhead, part, payment};
use crate::calendar::Calendar;
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::{Bill, Contract, Fact, Firm, Invoice, PurchaseOrder, TimeEntry, VendorPayment};
use crate::id::Id;
use crate::in_force::InForce;
use crate::read::Books;
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::{BTreeSet, HashMap};
use trade::{CostKind, Money, Month, Qty};

/// What effects need to know beyond the fact itself.
#[derive(Debug, Default)]
pub(crate) struct Known {
    bought_in: HashMap<Id, Option<String>>,
    parts: HashMap<Id, (Id, Id, String)>,
    firms: Option<InForce<Firm>>,
}

impl Known {
    /// Forgets what an appended fact may have changed.
    pub(crate) fn forget(&mut self) {
        *self = Known::default();
    }

    /// The unit in which a code's material is bought.
    pub(crate) fn counts(
        &mut self,
        conn: &Connection,
        code: Id,
        unit: Option<&str>,
    ) -> Result<bool, LedgerError> {
        let Some(unit) = unit else { return Ok(false) };
        if let Some(bought_in) = self.bought_in.get(&code) {
            return Ok(bought_in.as_deref() == Some(unit));
        }
        let bought_in: Option<String> = conn
            .prepare_cached("SELECT bought_in FROM cost_code WHERE id = ?1")?
            .query_row([code.bytes()], |row| row.get(0))?;
        let counts = bought_in.as_deref() == Some(unit);
        self.bought_in.insert(code, bought_in);
        Ok(counts)
    }

    /// A version of a part: the part's first one, its code, and what it is bought in.
    fn part(&mut self, conn: &Connection, version: Id) -> Result<(Id, Id, String), LedgerError> {
        if let Some(known) = self.parts.get(&version) {
            return Ok(known.clone());
        }
        let mut statement =
            conn.prepare_cached("SELECT coalesce(revises, id), code, package FROM part WHERE id = ?1")?;
        let mut rows = statement.query([version.bytes()])?;
        let Some(row) = rows.next()? else {
            return Err(damaged("part")("a line names a part that is not there".to_owned()));
        };
        let column = |at| Id::load(row.get_ref(at)?).map_err(damaged("part"));
        let known = (column(0)?, column(1)?, row.get(2)?);
        self.parts.insert(version, known.clone());
        Ok(known)
    }

    /// Whether the tax paid on materials on a day is part of cost, by the settings of that day.
    pub(crate) fn tax_is_cost(&mut self, conn: &Connection, day: Date) -> Result<bool, LedgerError> {
        let firms = match self.firms.take() {
            Some(firms) => firms,
            None => Books::over(conn).firms(&Calendar::read(conn)?)?,
        };
        let answer = firms.on(day).is_none_or(|firm| firm.fact.material_tax_is_cost);
        self.firms = Some(firms);
        Ok(answer)
    }
}

/// The column of `total_code` that holds a kind of cost.
pub(crate) fn cost_column(kind: CostKind) -> usize {
    match kind {
        CostKind::Material => code::MATERIAL,
        CostKind::Labor => code::LABOR,
        CostKind::Subcontract => code::SUBCONTRACT,
        CostKind::Equipment => code::EQUIPMENT,
        CostKind::Disposal => code::DISPOSAL,
        CostKind::Permit => code::PERMIT,
        CostKind::Other => code::OTHER,
    }
}

/// The column of `total_code` that holds the budget of a kind of cost.
pub(crate) fn budget_column(kind: CostKind) -> usize {
    match kind {
        CostKind::Material => code::BUDGET_MATERIAL,
        CostKind::Labor => code::BUDGET_LABOR,
        CostKind::Subcontract => code::BUDGET_SUBCONTRACT,
        _ => code::BUDGET_REST,
    }
}

fn condition_column(kind: CostKind) -> usize {
    match kind {
        CostKind::Material => condition::MATERIAL,
        CostKind::Labor => condition::LABOR,
        CostKind::Subcontract => condition::SUBCONTRACT,
        _ => condition::REST,
    }
}

/// One fact's effect: the sums, the month in which it is booked, and +1 or −1.
pub(crate) struct Effect<'a> {
    pub(crate) conn: &'a Connection,
    pub(crate) known: &'a mut Known,
    pub(crate) sums: &'a mut Sums,
    pub(crate) month: Month,
    pub(crate) sign: i64,
    /// What it adds to how much happened in the month. A reversal is something that happened too, unless it is booked
    /// in the month of what it takes back: then neither did, and a slip of the year makes no month.
    pub(crate) activity: i64,
}

impl Effect<'_> {
    fn money(&self, amount: Money) -> i64 {
        self.sign * amount.minor()
    }

    fn quantity(&self, quantity: Qty) -> i64 {
        self.sign * quantity.e4()
    }

    fn code(&mut self, job: Id, code_id: Id, column: usize, by: i64) {
        self.sums.add(&code::TABLE, &[Some(job), Some(code_id)], self.month, column, by);
    }

    fn part(&mut self, job: Id, code_id: Id, part_id: Option<Id>, column: usize, by: i64) {
        self.sums.add(&part::TABLE, &[Some(job), Some(code_id), part_id], self.month, column, by);
    }

    fn job(&mut self, job_id: Id, column: usize, by: i64) {
        self.sums.add(&job::TABLE, &[Some(job_id)], self.month, column, by);
    }

    fn condition(&mut self, condition_id: Id, code_id: Id, column: usize, by: i64) {
        self.sums.add(&condition::TABLE, &[Some(condition_id), Some(code_id)], self.month, column, by);
    }

    /// Adds what a fact does by itself.
    pub(crate) fn apply(&mut self, id: Id, fact: &Fact) -> Result<(), LedgerError> {
        match fact {
            Fact::Contract(contract) => self.contract(contract)?,
            Fact::Bill(bill) => {
                self.bill(bill)?;
                self.bill_beside_jobs(id, bill);
            }
            Fact::VendorPayment(payment) => self.paid(payment),
            Fact::OverheadCost(cost) => {
                let by = self.money(cost.amount);
                self.overhead(Some(cost.account), by);
            }
            Fact::DirectCost(cost) => {
                let by = self.money(cost.amount);
                self.code(cost.job, cost.code, cost_column(cost.cost_kind), by);
                if let Some(found) = cost.condition {
                    self.condition(found, cost.code, condition_column(cost.cost_kind), by);
                }
                if cost.equipment.is_some() {
                    self.overhead(cost.equipment, -by);
                }
            }
            Fact::TimeEntry(time) => self.time(time),
            Fact::UnitsDone(units) => {
                let by = self.quantity(units.quantity);
                self.code(units.job, units.code, code::UNITS, by);
            }
            Fact::Invoice(invoice) => self.invoice(id, invoice),
            Fact::RetainageRelease(release) => {
                let by = self.money(release.amount);
                let owner = self.job_of("invoice", release.invoice)?;
                self.job(owner, job::RELEASED, by);
                self.sums.add(&invoice::TABLE, &[Some(release.invoice)], self.month, invoice::OPEN, by);
                self.sums.add(&invoice::TABLE, &[Some(release.invoice)], self.month, invoice::HELD, -by);
            }
            Fact::Allocation(allocation) => {
                let by = self.money(allocation.amount);
                self.received(allocation.invoice, by)?;
                self.used(allocation.payment, allocation.credit, by)?;
            }
            Fact::Refund(refund) => {
                let by = self.money(refund.amount);
                self.used(refund.payment, refund.credit, by)?;
            }
            Fact::Payment(paid) => {
                let by = self.money(paid.amount);
                self.sums.add(&payment::TABLE, &[Some(id)], self.month, payment::LEFT, by);
            }
            _ => {}
        }
        for owner in self.jobs(fact)? {
            self.job(owner, job::FACTS, self.activity);
        }
        Ok(())
    }

    fn contract(&mut self, contract: &Contract) -> Result<(), LedgerError> {
        let price = self.money(contract.price);
        self.job(contract.job, job::PRICE, price);
        for line in &contract.lines {
            let amount = self.money(line.amount);
            self.code(contract.job, line.code, budget_column(line.cost_kind), amount);
            if let Some(hours) = line.hours {
                let by = self.quantity(hours);
                self.code(contract.job, line.code, code::BUDGET_HOURS, by);
            }
            if let Some(quantity) = line.quantity
                && line.cost_kind == CostKind::Material
                && self.known.counts(self.conn, line.code, line.unit.as_deref())?
            {
                let by = self.quantity(quantity);
                self.code(contract.job, line.code, code::BUDGET_COUNTED, amount);
                self.code(contract.job, line.code, code::BUDGET_QUANTITY, by);
            }
        }
        for line in &contract.parts {
            let Some(version) = line.part else { continue };
            let (first, code, package) = self.known.part(self.conn, version)?;
            if self.known.counts(self.conn, code, Some(&package))? {
                let (cost, packages) = (self.money(line.cost), self.quantity(line.packages));
                self.part(contract.job, code, Some(first), part::BUDGET_COUNTED, cost);
                self.part(contract.job, code, Some(first), part::BUDGET_QUANTITY, packages);
            }
        }
        for units in &contract.units {
            let by = self.quantity(units.quantity);
            self.code(contract.job, units.code, code::BUDGET_UNITS, by);
        }
        Ok(())
    }

    /// What a bill costs its jobs.
    pub(super) fn bill(&mut self, bill: &Bill) -> Result<(), LedgerError> {
        let tax_is_cost = self.known.tax_is_cost(self.conn, bill.date)?;
        for line in &bill.lines {
            let cost = if tax_is_cost { line.amount + line.tax } else { line.amount };
            let by = self.money(cost);
            self.code(line.job, line.code, cost_column(line.cost_kind), by);
            if let Some(found) = line.condition {
                self.condition(found, line.code, condition_column(line.cost_kind), by);
            }
            let Some(quantity) = line.quantity else { continue };
            if line.cost_kind == CostKind::Material
                && self.known.counts(self.conn, line.code, line.unit.as_deref())?
            {
                // A credit returns what it names: its quantity counts down whatever sign it was typed with.
                let quantity = if bill.credit && quantity > Qty::ZERO { -quantity } else { quantity };
                let count = self.quantity(quantity);
                self.code(line.job, line.code, code::COUNTED, by);
                self.code(line.job, line.code, code::QUANTITY, count);
                let first = match line.part {
                    Some(version) => Some(self.known.part(self.conn, version)?.0),
                    None => None,
                };
                self.part(line.job, line.code, first, part::QUANTITY, count);
                if let Some(found) = line.condition {
                    self.condition(found, line.code, condition::COUNTED, by);
                    self.condition(found, line.code, condition::QUANTITY, count);
                }
            }
        }
        Ok(())
    }

    fn overhead(&mut self, account: Option<Id>, by: i64) {
        self.sums.add(&overhead::TABLE, &[account], self.month, overhead::AMOUNT, by);
    }

    /// What a bill costs the firm beside its jobs, its tax always with it since the firm uses what it buys for itself;
    /// and what it leaves to be paid. Neither goes by the firm's settings.
    fn bill_beside_jobs(&mut self, id: Id, held: &Bill) {
        for line in &held.overhead {
            let by = self.money(line.amount + line.tax);
            self.overhead(Some(line.account), by);
        }
        let by = self.money(held.total());
        self.sums.add(&bill::TABLE, &[Some(id)], self.month, bill::OPEN, by);
    }

    /// What is paid and let off is no longer open; what is let off lowers what the firm costs.
    fn paid(&mut self, payment: &VendorPayment) {
        for line in &payment.bills {
            let by = self.money(line.amount + line.discount);
            self.sums.add(&bill::TABLE, &[Some(line.bill)], self.month, bill::OPEN, -by);
            let discount = self.money(line.discount);
            self.overhead(None, -discount);
        }
    }

    fn time(&mut self, time: &TimeEntry) {
        let by = self.quantity(time.hours);
        self.code(time.job, time.code, code::HOURS, by);
        let ids = [Some(time.job), time.crew];
        self.sums.add_on(&crew::TABLE, &ids, Some(time.date), self.month, crew::HOURS, by);
        if let Some(found) = time.condition {
            self.condition(found, time.code, condition::HOURS, by);
        }
    }

    fn invoice(&mut self, id: Id, bill: &Invoice) {
        let net: Money = bill.lines.iter().map(|line| line.amount).sum();
        let (billed, tax, held) = (self.money(net), self.money(bill.tax), self.money(bill.retainage));
        self.job(bill.job, job::BILLED, billed);
        self.job(bill.job, job::TAX, tax);
        self.job(bill.job, job::HELD, held);
        let target = bill.credits.unwrap_or(id);
        self.sums.add(&invoice::TABLE, &[Some(target)], self.month, invoice::OPEN, billed + tax - held);
        self.sums.add(&invoice::TABLE, &[Some(target)], self.month, invoice::HELD, held);
    }

    /// What of a payment or credit memo is applied or given back. A credit memo's is so much less received for its own
    /// job.
    fn used(&mut self, paid: Option<Id>, credit: Option<Id>, by: i64) -> Result<(), LedgerError> {
        if let Some(credit) = credit {
            self.received(credit, -by)?;
        }
        if paid.is_some() {
            self.sums.add(&payment::TABLE, &[paid], self.month, payment::LEFT, -by);
        }
        Ok(())
    }

    /// What came in for an invoice lowers what is open on it.
    fn received(&mut self, invoice: Id, by: i64) -> Result<(), LedgerError> {
        let owner = self.job_of("invoice", invoice)?;
        self.job(owner, job::RECEIVED, by);
        self.sums.add(&invoice::TABLE, &[Some(invoice)], self.month, invoice::OPEN, -by);
        Ok(())
    }

    fn job_of(&self, table: &str, id: Id) -> Result<Id, LedgerError> {
        job_of(self.conn, table, id)
    }

    /// The jobs of some invoices, each once.
    fn jobs_of(&self, invoices: impl Iterator<Item = Id>) -> Result<Vec<Id>, LedgerError> {
        let jobs: BTreeSet<Id> =
            invoices.map(|invoice| self.job_of("invoice", invoice)).collect::<Result<_, _>>()?;
        Ok(jobs.into_iter().collect())
    }

    /// The jobs that a fact is about.
    fn jobs(&self, fact: &Fact) -> Result<Vec<Id>, LedgerError> {
        let one = match fact {
            Fact::JobStatus(step) => step.job,
            Fact::Contract(contract) => contract.job,
            Fact::PurchaseOrder(PurchaseOrder { job, .. }) => *job,
            Fact::DirectCost(cost) => cost.job,
            Fact::TimeEntry(time) => time.job,
            Fact::StoredMaterial(stored) => stored.job,
            Fact::UnitsDone(units) => units.job,
            Fact::Forecast(forecast) => forecast.job,
            Fact::Condition(condition) => condition.job,
            Fact::ChangeOrder(order) => order.job,
            Fact::Invoice(invoice) => invoice.job,
            Fact::Repair(step) => self.job_of("condition", step.condition)?,
            Fact::Decision(decision) => self.job_of("change_order", decision.change_order)?,
            Fact::ChangeCost(cost) => self.job_of("change_order", cost.change_order)?,
            Fact::RetainageRelease(release) => self.job_of("invoice", release.invoice)?,
            Fact::Allocation(allocation) => {
                return self.jobs_of(allocation.credit.into_iter().chain([allocation.invoice]));
            }
            Fact::Refund(refund) => return self.jobs_of(refund.credit.into_iter()),
            Fact::Bill(bill) => {
                let mut jobs: Vec<Id> = bill.lines.iter().map(|line| line.job).collect();
                jobs.sort_unstable();
                jobs.dedup();
                return Ok(jobs);
            }
            _ => return Ok(Vec::new()),
        };
        Ok(vec![one])
    }
}

/// The job that a condition, change order or invoice belongs to.
pub(crate) fn job_of(conn: &Connection, table: &str, id: Id) -> Result<Id, LedgerError> {
    let mut statement = conn.prepare_cached(&format!("SELECT job FROM {table} WHERE id = ?1"))?;
    let mut rows = statement.query([id.bytes()])?;
    let row = rows.next()?.ok_or_else(|| LedgerError::Damaged {
        place: table.to_owned(),
        problem: format!("{id} is missing"),
    })?;
    Id::load(row.get_ref(0)?).map_err(damaged(format!("{table}.job")))
}

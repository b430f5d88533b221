//! Everything that the figures of a job are opened from, gathered once.

use super::figure::Figure;
use super::working::{FactLine, Opens, Term};
use crate::job::page::{JobPage, Source, Spent, bought_in, job_page_of, spent};
use crate::job::result::{Base, Stage, bases, cells};
use crate::job::snapshot::JobSnapshot;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use jiff::civil::Date;
use ledger::facts::{
    Bill, ChangeCost, Forecast, Invoice, PurchaseOrder, RetainageRelease, StoredMaterial, TimeEntry,
};
use ledger::{Books, Entered, Id};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use trade::shown::in_sentence;
use trade::{Money, Month, Qty, WalkCode};

/// A job with its facts at the end of a month.
pub(crate) struct JobFacts {
    pub(crate) number: String,
    pub(crate) month: Month,
    pub(crate) page: JobPage,
    pub(crate) standing: JobSnapshot,
    pub(crate) names: Names,
    pub(crate) bases: Vec<Base>,
    pub(crate) spent: Vec<Spent>,
    pub(crate) time: Vec<Entered<TimeEntry>>,
    pub(crate) orders: Vec<(Entered<PurchaseOrder>, Vec<Entered<Bill>>)>,
    pub(crate) invoices: Vec<Entered<Invoice>>,
    pub(crate) releases: Vec<(String, Entered<RetainageRelease>)>,
    pub(crate) stored: BTreeMap<Id, Entered<StoredMaterial>>,
    pub(crate) forecasts: BTreeMap<Id, Entered<Forecast>>,
    pub(crate) settings: Settings,
    bought_in: BTreeMap<Id, Option<String>>,
    /// Every version of a part, by the part's first one.
    part_versions: BTreeMap<Id, Id>,
}

impl JobFacts {
    pub(crate) fn read(books: Books<'_>, number: &str, month: Month) -> Result<JobFacts, OfficeError> {
        let calendar = books.calendar()?;
        let names = Names::read(books)?;
        let job = names.job(number)?;
        let standing = JobSnapshot::gather(books, &calendar, job, month)?;
        let mut orders = Vec::new();
        for order in books.live_at(&calendar, PurchaseOrder::job, job, month, |fact| fact.date)? {
            let id = order.entry.id;
            let bills = books.live_at(&calendar, Bill::purchase_order, id, month, |fact| fact.date)?;
            orders.push((order, bills));
        }
        let invoices = books.live_at(&calendar, Invoice::job, job, month, |fact| fact.date)?;
        let mut releases = Vec::new();
        for invoice in &invoices {
            let id = invoice.entry.id;
            for release in books.live_at(&calendar, RetainageRelease::invoice, id, month, |fact| fact.date)? {
                releases.push((invoice.fact.number.clone(), release));
            }
        }
        let stored = books.live_at(&calendar, StoredMaterial::job, job, month, |fact| fact.date)?;
        let forecasts = books.live_at(&calendar, Forecast::job, job, month, |fact| fact.date)?;
        Ok(JobFacts {
            number: number.to_owned(),
            month,
            page: job_page_of(books, number, month)?,
            bases: bases(&standing),
            spent: spent(books, calendar.clone(), &names, &standing)?,
            time: books.live_at(&calendar, TimeEntry::job, job, month, |fact| fact.date)?,
            orders,
            invoices,
            releases,
            stored: stored.into_iter().map(|held| (held.fact.code, held)).collect(),
            forecasts: forecasts.into_iter().map(|held| (held.fact.code, held)).collect(),
            settings: Settings::read(books, &calendar)?,
            bought_in: bought_in(books)?,
            part_versions: books
                .all::<ledger::facts::Part>()?
                .into_iter()
                .map(|held| (held.entry.id, held.fact.revises.unwrap_or(held.entry.id)))
                .collect(),
            standing,
            names,
        })
    }

    /// Whether the job was canceled, so that what was contracted and not done is no saving.
    pub(crate) fn is_canceled(&self) -> bool {
        self.page.figures.result.stage == Stage::Canceled
    }

    /// The unit in which a code's material is bought.
    pub(crate) fn bought_in(&self, code: Id) -> Option<&String> {
        self.bought_in.get(&code).and_then(Option::as_ref)
    }

    /// A line for a fact.
    pub(crate) fn line<T>(
        &self,
        held: &Entered<T>,
        date: Date,
        text: impl Into<String>,
        amount: Decimal,
    ) -> FactLine {
        FactLine {
            source: Some(Source::of(&held.entry, &self.names)),
            date: Some(date),
            text: text.into(),
            amount,
        }
    }

    /// A figure of this job as a term, under its own label.
    pub(crate) fn term(&self, figure: Figure) -> Term {
        self.term_in(figure, self.month, figure.of_job(&self.page.figures))
    }

    /// The same at the end of another month, where it had this value.
    pub(crate) fn term_in(&self, figure: Figure, month: Month, value: Option<Decimal>) -> Term {
        let opens = Opens { of: self.number.clone(), month, figure, code: None };
        Term::figure(figure.label(), value.unwrap_or_default(), opens)
    }

    /// A figure of one code as a term.
    pub(crate) fn code_term(&self, figure: Figure, code: Id) -> Term {
        let name = self.names.code(code);
        let result = &self.page.figures.result;
        let found = result.codes.iter().find(|result| result.code == name);
        let value = found.and_then(|found| figure.of_code(result, found)).unwrap_or_default();
        let label = format!("{}, {name}", figure.label());
        let opens = Opens { of: self.number.clone(), month: self.month, figure, code: Some(name) };
        Term::figure(&label, value, opens)
    }

    /// The codes in the order of the job's page.
    pub(crate) fn codes(&self) -> Vec<&Base> {
        let place = |base: &Base| {
            let name = self.names.code(base.id);
            self.page.figures.result.codes.iter().position(|code| code.code == name)
        };
        let mut codes: Vec<&Base> = self.bases.iter().collect();
        codes.sort_by_key(|base| place(base).unwrap_or(usize::MAX));
        codes
    }

    /// A code's cells of the margin walk.
    pub(crate) fn cells(&self, base: &Base) -> [WalkCode; 5] {
        cells(base, &self.names.code(base.id), self.standing.is_ended())
    }

    /// What was spent, of the lines that are picked.
    pub(crate) fn spent_facts(&self, picks: impl Fn(&Spent) -> bool) -> Vec<FactLine> {
        self.spent.iter().filter(|spent| picks(spent)).map(spent_line).collect()
    }

    /// The hours worked, of the facts that are picked.
    pub(crate) fn hour_facts(&self, picks: impl Fn(&TimeEntry) -> bool) -> Vec<FactLine> {
        let worked = self.time.iter().filter(|held| picks(&held.fact));
        worked
            .map(|held| {
                let who = self.names.person(held.fact.person);
                let text = format!("{who}, {}", self.names.code(held.fact.code));
                self.line(held, held.fact.date, text, held.fact.hours.decimal())
            })
            .collect()
    }

    /// Lines of the contract that are picked, by what each adds.
    pub(crate) fn contract_facts(
        &self,
        adds: impl Fn(&ledger::facts::ContractLine) -> Option<Decimal>,
    ) -> Vec<FactLine> {
        let Some(held) = &self.standing.contract else { return Vec::new() };
        let lines = held.fact.lines.iter().filter_map(|line| adds(line).map(|amount| (line, amount)));
        lines
            .map(|(line, amount)| {
                let code = self.names.code(line.code);
                let what = line.description.clone().unwrap_or_else(|| in_sentence(line.cost_kind.label()));
                self.line(held, held.fact.date, format!("contract: {what}, {code}"), amount)
            })
            .collect()
    }

    /// Whether this version is one of a part.
    pub(crate) fn is_of_part(&self, version: Option<Id>, part: Id) -> bool {
        version.is_some_and(|version| self.part_versions.get(&version).copied().unwrap_or(version) == part)
    }

    /// One part of the contract, by what each of its lines adds.
    pub(crate) fn contract_part_facts(
        &self,
        part: Id,
        adds: impl Fn(&ledger::facts::ContractPart) -> Decimal,
    ) -> Vec<FactLine> {
        let Some(held) = &self.standing.contract else { return Vec::new() };
        let lines = held.fact.parts.iter().filter(|line| self.is_of_part(line.part, part));
        let facts = lines.map(|line| {
            self.line(held, held.fact.date, format!("contract: {}", line.description), adds(line))
        });
        facts.collect()
    }

    /// Approved lines of change orders that are picked, by what each adds.
    pub(crate) fn change_facts(
        &self,
        adds: impl Fn(&ledger::facts::ChangeLine) -> Option<Decimal>,
    ) -> Vec<FactLine> {
        (0..self.standing.changes.len()).flat_map(|at| self.change_lines(at, &adds)).collect()
    }

    /// What approved lines that are picked should cost: as the change order says, as it was filled in, or, while nobody
    /// has said it, their price.
    pub(crate) fn change_costs(&self, picks: impl Fn(&ledger::facts::ChangeLine) -> bool) -> Vec<FactLine> {
        (0..self.standing.changes.len()).flat_map(|at| self.costs_of(at, &picks)).collect()
    }

    fn costs_of(&self, at: usize, picks: impl Fn(&ledger::facts::ChangeLine) -> bool) -> Vec<FactLine> {
        let mut facts = self.change_lines(at, |line| picks(line).then(|| line.expected_cost().decimal()));
        let Some(change) = self.standing.changes.get(at) else { return facts };
        let lines = (1i64..).zip(&change.order.lines).zip(&change.approved);
        let picked = lines.filter(|((_, line), approved)| **approved && picks(line)).map(|(line, _)| line);
        for (fact, (place, line)) in facts.iter_mut().zip(picked) {
            let is_here = |held: &&Entered<ChangeCost>| {
                held.fact.lines.iter().any(|filled_in| filled_in.change_line == place)
            };
            if let Some(held) = change.filled_in.as_ref().filter(is_here) {
                let (number, what) = (&change.order.number, &line.description);
                let text = format!("cost of change order {number} filled in: {what}");
                *fact = self.line(held, held.fact.date, text, fact.amount);
            } else if line.cost.is_none() {
                fact.text.push_str("; its cost is not filled in, so its price stands");
            }
        }
        facts
    }

    /// The same of one change order, by its place.
    pub(crate) fn change_lines(
        &self,
        at: usize,
        adds: impl Fn(&ledger::facts::ChangeLine) -> Option<Decimal>,
    ) -> Vec<FactLine> {
        let (Some(change), Some(view)) = (self.standing.changes.get(at), self.page.changes.get(at)) else {
            return Vec::new();
        };
        let who = change.decision.as_ref().map_or("nobody", |decision| decision.decided_by.as_str());
        let lines = change.order.lines.iter().zip(&change.approved).filter(|(_, approved)| **approved);
        lines
            .filter_map(|(line, _)| {
                Some(FactLine {
                    source: Some(view.source.clone()),
                    date: change.decision.as_ref().map(|decision| decision.date),
                    text: format!(
                        "change order {} approved by {who}: {}",
                        change.order.number, line.description
                    ),
                    amount: adds(line)?,
                })
            })
            .collect()
    }
}

fn spent_line(spent: &Spent) -> FactLine {
    let line = &spent.line;
    let quantity = match (&line.quantity, &line.unit) {
        (Some(quantity), Some(unit)) => format!(" ({} {unit})", quantity.decimal().normalize()),
        _ => String::new(),
    };
    let who = if line.who.is_empty() { String::new() } else { format!("{}, ", line.who) };
    FactLine {
        source: line.source.clone(),
        date: line.date,
        text: format!("{who}{}{quantity}, {} {}", line.text, line.code, line.cost_kind),
        amount: line.amount.decimal(),
    }
}

/// A sum of money as a term's amount.
pub(crate) fn money(amount: Money) -> Option<Decimal> {
    Some(amount.decimal())
}

/// A quantity as a term's amount.
pub(crate) fn quantity(quantity: Qty) -> Option<Decimal> {
    Some(quantity.decimal())
}

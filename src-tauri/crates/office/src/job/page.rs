//! A job on one page, in the order in which money moves: contract, changes, costs, billing, result.

mod views;

pub use views::*;

use crate::change::ask::{code_of_repair, expected_cost, usual_repair_code};
use crate::job::before_work::{before_work, begins, site};
use crate::job::colors::{ColoredPart, colored_parts};
use crate::job::order::ordered_lines;
use crate::job::recorded::Recorded;
use crate::job::snapshot::{ConditionAtMonth, JobSnapshot};
use crate::month::end::job_month;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use jiff::civil::Date;
use ledger::closed_lists::Damaged;
use ledger::facts::{
    Allocation, ChangeOrder, ColorChoice, Contract, CostCode, Decision, DeclinedRepair, DirectCost, Forecast,
    Invoice, JobStatus, PurchaseOrder, Refund, Repair, RetainageRelease, StoredMaterial, TimeEntry,
    UnitsDone,
};
use ledger::kind::{ColumnOf, FactRow};
use ledger::{Books, Calendar, Entered, Fact, Id};
use std::collections::{BTreeMap, BTreeSet};
use trade::{CostKind, Item, Money, Month, Qty};

/// A job on one page, as it stands at the end of a month.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn job_page(desk: &Desk, number: &str, month: Month) -> Result<JobPage, OfficeError> {
    desk.books().in_one_read(|books| job_page_of(books, number, month))
}

pub(crate) fn job_page_of(books: Books<'_>, number: &str, month: Month) -> Result<JobPage, OfficeError> {
    let names = Names::read(books)?;
    let id = names.job(number)?;
    Gather { books, calendar: books.calendar()?, names: &names, job: id, month }.page()
}

/// A line of cost with the ids behind its words.
pub(crate) struct Spent {
    pub(crate) line: CostLine,
    pub(crate) code: Id,
    pub(crate) condition: Option<Id>,
    /// Where it counts in the unit that its code's material is bought in: how much, below zero for what went back.
    pub(crate) counted: Option<Qty>,
    /// The firm's part, where its bill says it.
    pub(crate) part: Option<Id>,
}

impl Spent {
    /// What nobody counts in pieces: hours, direct costs, labor caught up with.
    fn uncounted(line: CostLine, code: Id, condition: Option<Id>) -> Spent {
        Spent { line, code, condition, counted: None, part: None }
    }
}

/// Everything spent on a job by the end of a month, oldest first, with the ids behind its words.
///
/// # Errors
/// When it cannot be read.
pub(crate) fn spent(
    books: Books<'_>,
    calendar: Calendar,
    names: &Names,
    standing: &JobSnapshot,
) -> Result<Vec<Spent>, OfficeError> {
    Gather { books, calendar, names, job: standing.job, month: standing.month }.spent(standing)
}

/// The unit in which each code's material is bought: it is said once, with the code.
pub(crate) fn bought_in(books: Books<'_>) -> Result<BTreeMap<Id, Option<String>>, OfficeError> {
    let codes = books.all::<CostCode>()?.into_iter();
    Ok(codes.map(|held| (held.entry.id, held.fact.bought_in)).collect())
}

/// Labor as it is booked, by code and condition.
fn booked_labor(standing: &JobSnapshot) -> BTreeMap<(Id, Option<Id>), Money> {
    let mut booked: BTreeMap<(Id, Option<Id>), Money> = BTreeMap::new();
    for (code, totals) in &standing.codes {
        *booked.entry((*code, None)).or_default() += totals.labor;
    }
    for condition in &standing.conditions {
        for (code, totals) in &condition.totals {
            *booked.entry((*code, Some(condition.id))).or_default() += totals.labor;
            *booked.entry((*code, None)).or_default() -= totals.labor;
        }
    }
    booked
}

struct Gather<'a> {
    books: Books<'a>,
    calendar: Calendar,
    names: &'a Names,
    job: Id,
    month: Month,
}

impl Gather<'_> {
    fn page(&self) -> Result<JobPage, OfficeError> {
        let settings = Settings::read(self.books, &self.calendar)?;
        let recorded = Recorded::read(self.books, &self.calendar, &BTreeSet::from([self.job]))?;
        let standing = recorded.one(self.job, self.month)?;
        let before = recorded.one(self.job, self.month.prev())?;
        let figures = job_month(&standing, Some(before), self.names, &settings)?;
        let job = self.names.jobs.get(&self.job);
        let customer = job.and_then(|job| self.names.customers.get(&job.customer));
        let (invoices, payments) = self.billed()?;
        let (begins, site) = (begins(self.books, self.job)?, site(self.books, self.job)?);
        Ok(JobPage {
            site: job.map(|job| job.site.clone()).unwrap_or_default(),
            phone: customer.and_then(|customer| customer.phone.clone()),
            roof_age_years: job.and_then(|job| job.roof_age_years),
            roof_state: job.and_then(|job| job.roof_state.clone()),
            steps: self.steps()?,
            begins: begins.on,
            begun: begins.begun,
            ends: begins.ends,
            crew: begins.crew.map(|crew| self.names.crew(crew)),
            crew_days: begins.crew_days,
            before_work: before_work(self.books, self.job)?,
            built_before_1978: site.built_before_1978,
            contract: self.contract(&standing)?,
            conditions: self.conditions(&standing)?,
            changes: self.changes(&standing)?,
            costs: self.spent(&standing)?.into_iter().map(|spent| spent.line).collect(),
            orders: self.orders()?,
            units: self
                .code_facts(UnitsDone::job, |fact| (fact.date, fact.code, Some(fact.quantity), None, None))?,
            forecasts: self.code_facts(Forecast::job, |fact| {
                (fact.date, fact.code, None, Some(fact.amount), fact.note.clone())
            })?,
            stored: self.code_facts(StoredMaterial::job, |fact| {
                (fact.date, fact.code, None, Some(fact.amount), None)
            })?,
            invoices,
            payments,
            hours_contracted: standing.codes.values().map(|code| code.budget_hours).sum(),
            hours: self.hours()?,
            figures,
        })
    }

    fn contract(&self, standing: &JobSnapshot) -> Result<Option<ContractView>, OfficeError> {
        let Some(held) = standing.contract.as_ref() else { return Ok(None) };
        let contract = &held.fact;
        let used =
            standing.conditions.iter().filter(|condition| condition.condition.damaged == Damaged::DeckSheet);
        let recipe = contract.recipe.map(|id| self.books.fact(id)).transpose()?.flatten();
        let recipe = recipe.and_then(|held| match held.fact {
            Fact::Recipe(recipe) => Some(recipe.name),
            _ => None,
        });
        Ok(Some(ContractView {
            recipe,
            colors: self.colors(contract)?,
            source: Source::of(&held.entry, self.names),
            date: contract.date,
            cancel_by: trade::cancel_by(contract.date),
            price: contract.price,
            included_sheets: contract.included_sheets,
            included_feet: contract.included_feet,
            sheets_used: used.map(|condition| condition.used.covered).sum(),
            retainage: contract.retainage,
            choice: contract.choice.as_ref().map(|letter| match &contract.choice_title {
                Some(title) => format!("{letter}, {title}"),
                None => letter.clone(),
            }),
            has_proposal: contract.proposal.is_some(),
            sold_at_home: contract.sold_at_home,
            insulates: contract.parts.iter().any(|part| part.item == Item::Insulation),
            note: contract.note.clone(),
            lines: contract
                .lines
                .iter()
                .map(|line| ContractLineView {
                    code: self.names.code(line.code),
                    cost_kind: line.cost_kind,
                    description: line.description.clone(),
                    amount: line.amount,
                    quantity: line.quantity,
                    unit: unit_of(line.quantity, line.unit.as_deref()),
                    hours: line.hours,
                })
                .collect(),
            unit_prices: contract
                .unit_prices
                .iter()
                .map(|unit| UnitPriceView {
                    damaged: unit.damaged,
                    counted_in: unit.counted_in,
                    price: unit.price,
                })
                .collect(),
            payments: contract
                .payments
                .iter()
                .map(|payment| ScheduledView { title: payment.title.clone(), amount: payment.amount })
                .collect(),
        }))
    }

    fn colors(&self, contract: &Contract) -> Result<Vec<ColorView>, OfficeError> {
        let held = self.live(ColorChoice::job, |fact| fact.date)?;
        let choices: Vec<ColorChoice> = held.iter().map(|held| held.fact.clone()).collect();
        let colored = colored_parts(self.books, contract, &choices)?.into_iter();
        let view = |part: ColoredPart| ColorView {
            chosen: held
                .iter()
                .filter(|held| held.fact.part == part.part)
                .map(|held| ChosenColorView {
                    source: Source::of(&held.entry, self.names),
                    date: held.fact.date,
                    color: held.fact.color.clone(),
                    chosen_by: held.fact.chosen_by.clone(),
                })
                .collect(),
            part: part.part.to_string(),
            title: part.title,
            product_line: part.product_line,
            color: part.color,
            offered: part.offered,
        };
        Ok(colored.map(view).collect())
    }

    fn conditions(&self, standing: &JobSnapshot) -> Result<Vec<ConditionView>, OfficeError> {
        let usual = if standing.conditions.is_empty() { None } else { usual_repair_code(self.books)? };
        standing.conditions.iter().map(|condition| self.find(standing, condition, usual)).collect()
    }

    fn find(
        &self,
        standing: &JobSnapshot,
        condition: &ConditionAtMonth,
        usual: Option<Id>,
    ) -> Result<ConditionView, OfficeError> {
        let held = self.books.fact(condition.id)?;
        let entry = held
            .map(|held| held.entry)
            .ok_or_else(|| OfficeError::not_found("A condition is missing.", "Run verify."))?;
        Ok(ConditionView {
            source: Source::of(&entry, self.names),
            number: condition.condition.number.clone(),
            date: condition.condition.date,
            place: condition.condition.place,
            side: condition.condition.side.clone(),
            cause: condition.condition.cause,
            damaged: condition.condition.damaged,
            count: condition.condition.count,
            counted_in: condition.condition.counted_in,
            covered: condition.used.covered,
            beyond: condition.used.beyond,
            note: condition.condition.note.clone(),
            photos: condition.condition.photos.iter().map(|photo| photo.photo.to_string()).collect(),
            work: condition.work,
            code: code_of_repair(standing, condition.id, usual).map(|code| self.names.code(code)),
            to_ask: condition.is_to_ask(),
            awaits_owner: condition.awaits_owner(),
            courses: self.courses(condition.id)?,
            steps: self.repairs(condition.id)?,
            spent: condition.spent,
            approved: condition.approved,
            billed: condition.billed,
            unrecovered: condition.unrecovered,
        })
    }

    fn steps(&self) -> Result<Vec<JobStatusView>, OfficeError> {
        let held = self.live(JobStatus::job, |fact| fact.date)?;
        let view = |held: &Entered<JobStatus>| JobStatusView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            stage: held.fact.stage,
        };
        Ok(held.iter().map(view).collect())
    }

    fn repairs(&self, condition: Id) -> Result<Vec<RepairView>, OfficeError> {
        let held =
            self.books.live_at(&self.calendar, Repair::condition, condition, self.month, |fact| fact.date)?;
        let view = |held: &Entered<Repair>| RepairView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            stage: held.fact.stage,
        };
        Ok(held.iter().map(view).collect())
    }

    fn courses(&self, condition: Id) -> Result<Vec<CourseView>, OfficeError> {
        let held =
            self.books.live_at(&self.calendar, DeclinedRepair::condition, condition, self.month, |fact| {
                fact.date
            })?;
        let view = |held: &Entered<DeclinedRepair>| CourseView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            course: held.fact.course,
        };
        Ok(held.iter().map(view).collect())
    }

    fn decisions(&self, change: Id) -> Result<Vec<DecisionView>, OfficeError> {
        let held =
            self.books
                .live_at(&self.calendar, Decision::change_order, change, self.month, |fact| fact.date)?;
        let view = |held: &Entered<Decision>| DecisionView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            verdict: held.fact.verdict,
            decided_by: held.fact.decided_by.clone(),
            method: held.fact.method,
        };
        Ok(held.iter().map(view).collect())
    }

    fn changes(&self, standing: &JobSnapshot) -> Result<Vec<ChangeView>, OfficeError> {
        let orders: BTreeMap<Id, Entered<ChangeOrder>> = self
            .live(ChangeOrder::job, |fact| fact.date)?
            .into_iter()
            .map(|held| (held.entry.id, held))
            .collect();
        let number = |id: Option<Id>| {
            id.and_then(|id| standing.conditions.iter().find(|condition| condition.id == id))
                .map(|condition| condition.condition.number.clone())
        };
        let missing = || OfficeError::not_found("A change order is missing.", "Run verify.");
        let view = |change: &crate::job::snapshot::ChangeAtMonth| -> Result<ChangeView, OfficeError> {
            Ok(ChangeView {
                source: Source::of(&orders.get(&change.id).ok_or_else(missing)?.entry, self.names),
                decisions: self.decisions(change.id)?,
                id: change.id.to_string(),
                number: change.order.number.clone(),
                date: change.order.date,
                title: change.order.title.clone(),
                pricing: change.order.pricing,
                price: change.order.lines.iter().map(|line| line.price).sum(),
                approved: change.approved_price(),
                owed: change.owed(),
                billed: change.invoiced,
                cost: change.order.lines.iter().map(|line| line.cost).sum(),
                lacks_cost: change.lacks_cost(),
                filled_in: change.filled_in.as_ref().map(|held| Source::of(&held.entry, self.names)),
                state: change.state(),
                contradicted: change.contradicted,
                decided_by: change.decision.as_ref().map(|decision| decision.decided_by.clone()),
                method: change.decision.as_ref().and_then(|decision| decision.method),
                decided_on: change.decision.as_ref().map(|decision| decision.date),
                lines: change
                    .order
                    .lines
                    .iter()
                    .zip(&change.approved)
                    .map(|(line, approved)| ChangeLineView {
                        code: self.names.code(line.code),
                        cost_kind: line.cost_kind,
                        condition: number(line.condition),
                        description: line.description.clone(),
                        quantity: line.quantity,
                        unit: unit_of(line.quantity, line.unit.as_deref()),
                        price: line.price,
                        cost: line.cost,
                        usual_cost: line.cost.is_none().then(|| expected_cost(standing, line.price)),
                        approved: *approved,
                    })
                    .collect(),
            })
        };
        standing.changes.iter().map(view).collect()
    }

    fn spent(&self, standing: &JobSnapshot) -> Result<Vec<Spent>, OfficeError> {
        let conditions: BTreeMap<Id, String> = standing
            .conditions
            .iter()
            .map(|condition| (condition.id, condition.condition.number.clone()))
            .collect();
        let number = |id: Option<Id>| id.and_then(|id| conditions.get(&id).cloned());
        let mut spent = self.billed_to_us(&number)?;
        for held in self.live(DirectCost::job, |fact| fact.date)? {
            let line = CostLine {
                source: Some(Source::of(&held.entry, self.names)),
                date: Some(held.fact.date),
                month: self.books.span(&self.calendar, &held, held.fact.date)?.from,
                code: self.names.code(held.fact.code),
                cost_kind: held.fact.cost_kind,
                who: String::new(),
                text: held.fact.description.clone(),
                quantity: None,
                unit: None,
                amount: held.fact.amount,
                condition: number(held.fact.condition),
            };
            spent.push(Spent::uncounted(line, held.fact.code, held.fact.condition));
        }
        self.labor(standing, &number, &mut spent)?;
        spent.sort_by(|left, right| {
            (left.line.date, left.line.source.as_ref().map(|source| &source.id))
                .cmp(&(right.line.date, right.line.source.as_ref().map(|source| &source.id)))
        });
        Ok(spent)
    }

    /// The lines of vendors' bills and credits for the job.
    fn billed_to_us(&self, number: &dyn Fn(Option<Id>) -> Option<String>) -> Result<Vec<Spent>, OfficeError> {
        let settings = Settings::read(self.books, &self.calendar)?;
        let bought_in = bought_in(self.books)?;
        let mut spent = Vec::new();
        for held in self.books.bills_on_with_reversed(self.job)? {
            let span = self.books.span(&self.calendar, &held, held.fact.date)?;
            if !span.is_live(self.month) {
                continue;
            }
            let tax_is_cost = settings.tax_is_cost(held.fact.date);
            let credit = held.fact.credit;
            for line in held.fact.lines.iter().filter(|line| line.job == self.job) {
                let what = line.description.clone().unwrap_or_else(|| self.names.code(line.code));
                let counts = line.cost_kind == CostKind::Material
                    && line.unit.is_some()
                    && bought_in.get(&line.code) == Some(&line.unit);
                let counted = line.quantity.filter(|_| counts);
                spent.push(Spent {
                    line: CostLine {
                        source: Some(Source::of(&held.entry, self.names)),
                        date: Some(held.fact.date),
                        month: span.from,
                        code: self.names.code(line.code),
                        cost_kind: line.cost_kind,
                        who: self.names.vendor(held.fact.vendor),
                        text: format!(
                            "{} {}: {what}",
                            if credit { "credit" } else { "bill" },
                            held.fact.reference
                        ),
                        quantity: line.quantity,
                        unit: unit_of(line.quantity, line.unit.as_deref()),
                        amount: if tax_is_cost { line.amount + line.tax } else { line.amount },
                        condition: number(line.condition),
                    },
                    code: line.code,
                    condition: line.condition,
                    part: line.part,
                    counted: counted.map(
                        |quantity| {
                            if credit && quantity.is_positive() { -quantity } else { quantity }
                        },
                    ),
                });
            }
        }
        Ok(spent)
    }

    /// Hours with what they cost. Where a closed month keeps other labor than its hours now come to, the difference
    /// stands as a line of its own in the month in which it was caught up.
    fn labor(
        &self,
        standing: &JobSnapshot,
        number: &dyn Fn(Option<Id>) -> Option<String>,
        spent: &mut Vec<Spent>,
    ) -> Result<(), OfficeError> {
        let hours = self.live(TimeEntry::job, |fact| fact.date)?;
        let weeks: BTreeSet<(Id, Date)> =
            hours.iter().map(|held| (held.fact.person, held.fact.date)).collect();
        let costed: BTreeMap<Id, Money> = self
            .books
            .costed_time(&weeks)?
            .into_iter()
            .map(|line| (line.id, line.straight + line.premium + line.burden))
            .collect();
        let mut worked_out: BTreeMap<(Id, Option<Id>), Money> = BTreeMap::new();
        for held in &hours {
            let amount = costed.get(&held.entry.id).copied().unwrap_or_default();
            *worked_out.entry((held.fact.code, held.fact.condition)).or_default() += amount;
            let line = CostLine {
                source: Some(Source::of(&held.entry, self.names)),
                date: Some(held.fact.date),
                month: self.books.span(&self.calendar, held, held.fact.date)?.from,
                code: self.names.code(held.fact.code),
                cost_kind: CostKind::Labor,
                who: self.names.person(held.fact.person),
                text: "hours, with pay, overtime and burden".to_owned(),
                quantity: Some(held.fact.hours),
                unit: unit_of(Some(held.fact.hours), Some("hour")),
                amount,
                condition: number(held.fact.condition),
            };
            spent.push(Spent::uncounted(line, held.fact.code, held.fact.condition));
        }
        for ((code, condition), booked) in booked_labor(standing) {
            let caught_up = booked - worked_out.get(&(code, condition)).copied().unwrap_or_default();
            if caught_up.is_zero() {
                continue;
            }
            let line = CostLine {
                source: None,
                date: None,
                month: self.month,
                code: self.names.code(code),
                cost_kind: CostKind::Labor,
                who: String::new(),
                text: "labor of weeks across a closed month, as booked".to_owned(),
                quantity: None,
                unit: None,
                amount: caught_up,
                condition: number(condition),
            };
            spent.push(Spent::uncounted(line, code, condition));
        }
        Ok(())
    }

    /// The facts of a kind about the job that are live at the end of the month.
    fn live<T: FactRow>(
        &self,
        job: ColumnOf<T, Id>,
        date: impl Fn(&T) -> Date,
    ) -> Result<Vec<Entered<T>>, OfficeError> {
        Ok(self.books.live_at(&self.calendar, job, self.job, self.month, date)?)
    }

    fn orders(&self) -> Result<Vec<OrderView>, OfficeError> {
        let mut orders = Vec::new();
        for held in self.live(PurchaseOrder::job, |fact| fact.date)? {
            let bills = self.books.live_at(
                &self.calendar,
                ledger::facts::Bill::purchase_order,
                held.entry.id,
                self.month,
                |fact| fact.date,
            )?;
            let lines = bills.iter().flat_map(|bill| &bill.fact.lines);
            orders.push(OrderView {
                source: Source::of(&held.entry, self.names),
                number: held.fact.number.clone(),
                date: held.fact.date,
                vendor: self.names.vendor(held.fact.vendor),
                expected_on: held.fact.expected_on,
                lines: ordered_lines(&held.fact.lines, self.names),
                ordered: held.fact.lines.iter().map(|line| line.amount).sum(),
                received: lines.filter(|line| line.job == self.job).map(|line| line.amount).sum(),
            });
        }
        Ok(orders)
    }

    fn code_facts<T: FactRow>(
        &self,
        job: ColumnOf<T, Id>,
        parts: impl Fn(&T) -> (Date, Id, Option<Qty>, Option<Money>, Option<String>),
    ) -> Result<Vec<CodeFact>, OfficeError> {
        let held = self.live(job, |fact| parts(fact).0)?;
        let view = |held: &Entered<T>| {
            let (date, code, quantity, amount, note) = parts(&held.fact);
            let source = Source::of(&held.entry, self.names);
            CodeFact { source, date, code: self.names.code(code), quantity, amount, note }
        };
        Ok(held.iter().map(view).collect())
    }

    fn billed(&self) -> Result<(Vec<InvoiceView>, Vec<PaymentView>), OfficeError> {
        let (mut invoices, mut payments) = (Vec::new(), Vec::new());
        for held in self.live(Invoice::job, |fact| fact.date)? {
            let id = held.entry.id;
            let applied =
                self.books.live_at(&self.calendar, Allocation::invoice, id, self.month, |fact| fact.date)?;
            let released =
                self.books
                    .live_at(&self.calendar, RetainageRelease::invoice, id, self.month, |fact| fact.date)?;
            for allocation in &applied {
                payments.push(self.applied(allocation, &held.fact.number)?);
            }
            let given = self.given_by(id, &held.fact.number)?;
            let released: Money = released.iter().map(|held| held.fact.amount).sum();
            let paid: Money = applied.iter().map(|held| held.fact.amount).sum();
            let given_back: Money = given.iter().map(|given| given.amount).sum();
            let (lowered, taken_off) = self.lowered(id)?;
            // A credit memo that names an invoice has lowered that one, and holds nothing of its own.
            let lowers = held.fact.credits.is_some();
            let (own_held, own_left) = if lowers {
                (Money::ZERO, Money::ZERO)
            } else {
                let still_held = held.fact.retainage + taken_off - released;
                let left = due_on(&held.fact) + released + lowered - paid - given_back;
                (still_held, left)
            };
            payments.extend(given);
            let lines = held.fact.lines.iter();
            invoices.push(InvoiceView {
                source: Source::of(&held.entry, self.names),
                number: held.fact.number.clone(),
                date: held.fact.date,
                due: held.fact.due,
                purpose: held.fact.purpose,
                net: held.fact.lines.iter().map(|line| line.amount).sum(),
                tax: held.fact.tax,
                retainage: held.fact.retainage,
                released,
                held: own_held,
                left: own_left,
                paid,
                credits: self.invoice_number(held.fact.credits)?,
                lines: lines
                    .map(|line| ScheduledView { title: line.description.clone(), amount: line.amount })
                    .collect(),
            });
        }
        payments.sort_by(|left, right| (left.date, &left.source.id).cmp(&(right.date, &right.source.id)));
        Ok((invoices, payments))
    }

    /// By how much credit memos lowered what is due on an invoice, and what is held of it; both below zero.
    fn lowered(&self, invoice: Id) -> Result<(Money, Money), OfficeError> {
        let date = |fact: &Invoice| fact.date;
        let credits = self.books.live_at(&self.calendar, Invoice::credits, invoice, self.month, date)?;
        Ok(credits.iter().fold((Money::ZERO, Money::ZERO), |(due, held), credit| {
            (due + due_on(&credit.fact), held + credit.fact.retainage)
        }))
    }

    /// A payment, or another credit memo, applied to an invoice of this job.
    fn applied(&self, allocation: &Entered<Allocation>, invoice: &str) -> Result<PaymentView, OfficeError> {
        let of = allocation.fact.payment.or(allocation.fact.credit);
        let found = of.map(|of| self.books.fact(of)).transpose()?.flatten();
        let (date, how, reference) = match found.map(|held| held.fact) {
            Some(ledger::Fact::Payment(paid)) => (paid.date, paid.method.label().to_owned(), paid.reference),
            Some(ledger::Fact::Invoice(credit)) => {
                (allocation.fact.date, "Credit memo".to_owned(), Some(credit.number))
            }
            _ => (allocation.fact.date, String::new(), None),
        };
        let source = Source::of(&allocation.entry, self.names);
        let (invoice, amount) = (invoice.to_owned(), allocation.fact.amount);
        Ok(PaymentView { source, date, how, reference, invoice, amount })
    }

    /// What a credit memo of this job gave to invoices, and what of it was given back.
    fn given_by(&self, credit: Id, number: &str) -> Result<Vec<PaymentView>, OfficeError> {
        let date = |fact: &Allocation| fact.date;
        let mut given = Vec::new();
        for allocation in self.books.live_at(&self.calendar, Allocation::credit, credit, self.month, date)? {
            given.push(self.credit_used(&allocation, number)?);
        }
        let refunds =
            self.books.live_at(&self.calendar, Refund::credit, credit, self.month, |fact| fact.date)?;
        given.extend(refunds.iter().map(|refund| self.refund(refund, number)));
        Ok(given)
    }

    /// What a credit memo of this job gave to an invoice: so much less came in for the job.
    fn credit_used(
        &self,
        allocation: &Entered<Allocation>,
        credit: &str,
    ) -> Result<PaymentView, OfficeError> {
        Ok(PaymentView {
            source: Source::of(&allocation.entry, self.names),
            date: allocation.fact.date,
            how: "Applied to an invoice".to_owned(),
            reference: self.invoice_number(Some(allocation.fact.invoice))?,
            invoice: credit.to_owned(),
            amount: -allocation.fact.amount,
        })
    }

    /// A credit memo of this job given back.
    fn refund(&self, refund: &Entered<Refund>, credit: &str) -> PaymentView {
        PaymentView {
            source: Source::of(&refund.entry, self.names),
            date: refund.fact.date,
            how: format!("Refund by {}", refund.fact.method),
            reference: refund.fact.reference.clone(),
            invoice: credit.to_owned(),
            amount: -refund.fact.amount,
        }
    }

    /// The number of an invoice by its id.
    fn invoice_number(&self, invoice: Option<Id>) -> Result<Option<String>, OfficeError> {
        let found = invoice.map(|id| self.books.fact(id)).transpose()?.flatten();
        Ok(match found.map(|held| held.fact) {
            Some(ledger::Fact::Invoice(invoice)) => Some(invoice.number),
            _ => None,
        })
    }

    fn hours(&self) -> Result<Vec<WeekHours>, OfficeError> {
        let order = self.books.work_weeks(&self.calendar)?;
        let mut weeks: BTreeMap<Date, Qty> = BTreeMap::new();
        for held in self.live(TimeEntry::job, |fact| fact.date)? {
            let sum = weeks.entry(order.week(held.fact.date).first).or_insert(Qty::ZERO);
            *sum += held.fact.hours;
        }
        let mut to_date = Qty::ZERO;
        let worked = weeks.into_iter().map(|(week, hours)| {
            to_date += hours;
            WeekHours { week, hours, to_date }
        });
        Ok(worked.collect())
    }
}

/// What an invoice makes due: lines and tax, less what is held.
/// The unit as it stands behind a quantity of it.
fn unit_of(quantity: Option<Qty>, unit: Option<&str>) -> Option<String> {
    quantity.zip(unit).map(|(quantity, unit)| trade::shown::unit_behind(quantity.decimal(), unit))
}

fn due_on(invoice: &Invoice) -> Money {
    invoice.lines.iter().map(|line| line.amount).sum::<Money>() + invoice.tax - invoice.retainage
}

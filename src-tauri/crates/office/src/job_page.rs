//! A job on one page, in the order in which money moves: promise, surprises, spend, billed, result.

mod views;

pub use views::*;

use crate::desk::Desk;
use crate::error::OfficeError;
use crate::month_end::{firm_at, job_month};
use crate::names::Names;
use crate::standing::{FindStanding, Standing};
use jiff::civil::Date;
use ledger::facts::{
    Answer, Application, ChangeOrder, Charge, FindStep, Forecast, Invoice, JobStep, Payment, PurchaseOrder,
    RetainageRelease, StoredMaterial, Time, UnitsDone,
};
use ledger::words::Damaged;
use ledger::{Books, Calendar, Held, Id};
use std::collections::{BTreeMap, BTreeSet};
use trade::{CostKind, Money, Month, Qty};

/// A job on one page, as it stands at the end of a month.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn job_page(desk: &Desk, number: &str, month: Month) -> Result<JobPage, OfficeError> {
    desk.books().together(|books| {
        let names = Names::read(books)?;
        let id = names.job(number)?;
        Gather { books, calendar: books.calendar()?, names: &names, job: id, month }.page()
    })
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
        let firm = firm_at(self.books, self.month)?;
        let figures = job_month(self.books, &self.calendar, self.names, &firm, self.job, self.month, true)?;
        let standing = Standing::gather(self.books, &self.calendar, self.job, self.month)?;
        let job = self.names.jobs.get(&self.job);
        let customer = job.and_then(|job| self.names.customers.get(&job.customer));
        let (invoices, payments) = self.billed()?;
        Ok(JobPage {
            site: job.map(|job| job.site.clone()).unwrap_or_default(),
            phone: customer.and_then(|customer| customer.phone.clone()),
            roof_age_years: job.and_then(|job| job.roof_age_years),
            roof_state: job.and_then(|job| job.roof_state.clone()),
            steps: self.steps()?,
            promise: self.promise(&standing),
            finds: self.finds(&standing)?,
            changes: self.changes(&standing)?,
            spend: self.spend(&standing)?,
            orders: self.orders()?,
            units: self
                .code_facts(|fact: &UnitsDone| (fact.date, fact.code, Some(fact.quantity), None, None))?,
            forecasts: self.code_facts(|fact: &Forecast| {
                (fact.date, fact.code, None, Some(fact.amount), fact.note.clone())
            })?,
            stored: self
                .code_facts(|fact: &StoredMaterial| (fact.date, fact.code, None, Some(fact.amount), None))?,
            invoices,
            payments,
            hours_promised: standing.codes.values().map(|code| code.budget_hours).sum(),
            hours: self.hours(firm.week_begins.civil())?,
            figures,
        })
    }

    fn promise(&self, standing: &Standing) -> Option<PromiseView> {
        let held = standing.promise.as_ref()?;
        let promise = &held.fact;
        let used = standing.finds.iter().filter(|find| find.find.damaged == Damaged::DeckSheet);
        Some(PromiseView {
            source: Source::of(&held.entry, self.names),
            date: promise.date,
            cancel_by: trade::cancel_by(promise.date),
            price: promise.price,
            included_sheets: promise.included_sheets,
            included_feet: promise.included_feet,
            sheets_used: used.map(|find| find.used.covered).sum(),
            retainage: promise.retainage,
            choice: promise.choice.as_ref().map(|letter| match &promise.choice_title {
                Some(title) => format!("{letter}, {title}"),
                None => letter.clone(),
            }),
            has_proposal: promise.proposal.is_some(),
            note: promise.note.clone(),
            lines: promise
                .lines
                .iter()
                .map(|line| PromiseLineView {
                    code: self.names.code(line.code),
                    cost_kind: line.cost_kind,
                    description: line.description.clone(),
                    amount: line.amount,
                    quantity: line.quantity,
                    unit: line.unit.clone(),
                    hours: line.hours,
                })
                .collect(),
            unit_prices: promise
                .unit_prices
                .iter()
                .map(|unit| UnitPriceView {
                    damaged: unit.damaged,
                    counted_in: unit.counted_in,
                    price: unit.price,
                })
                .collect(),
            payments: promise
                .payments
                .iter()
                .map(|payment| ScheduledView { title: payment.title.clone(), amount: payment.amount })
                .collect(),
        })
    }

    fn finds(&self, standing: &Standing) -> Result<Vec<FindView>, OfficeError> {
        standing.finds.iter().map(|find| self.find(find)).collect()
    }

    fn find(&self, find: &FindStanding) -> Result<FindView, OfficeError> {
        let held = self.books.fact(find.id)?;
        let entry = held
            .map(|held| held.entry)
            .ok_or_else(|| OfficeError::not_found("A find is missing.", "Run verify."))?;
        Ok(FindView {
            source: Source::of(&entry, self.names),
            number: find.find.number.clone(),
            date: find.find.date,
            place: find.find.place,
            side: find.find.side.clone(),
            cause: find.find.cause,
            damaged: find.find.damaged,
            count: find.find.count,
            counted_in: find.find.counted_in,
            covered: find.used.covered,
            beyond: find.used.beyond,
            note: find.find.note.clone(),
            photos: find.find.photos.iter().map(|photo| photo.photo.to_string()).collect(),
            work: find.work,
            steps: self.find_steps(find.id)?,
            spent: find.spent,
            approved: find.approved,
            billed: find.billed,
            leak: find.leak,
        })
    }

    fn steps(&self) -> Result<Vec<JobStepView>, OfficeError> {
        let held = self.standing::<JobStep>(|fact| fact.date)?;
        let view = |held: &Held<JobStep>| JobStepView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            stage: held.fact.stage,
        };
        Ok(held.iter().map(view).collect())
    }

    fn find_steps(&self, find: Id) -> Result<Vec<FindStepView>, OfficeError> {
        let held =
            self.books.standing::<FindStep>(&self.calendar, "find", find, self.month, |fact| fact.date)?;
        let view = |held: &Held<FindStep>| FindStepView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            stage: held.fact.stage,
        };
        Ok(held.iter().map(view).collect())
    }

    fn answers(&self, change: Id) -> Result<Vec<AnswerView>, OfficeError> {
        let held =
            self.books
                .standing::<Answer>(&self.calendar, "change_order", change, self.month, |fact| fact.date)?;
        let view = |held: &Held<Answer>| AnswerView {
            source: Source::of(&held.entry, self.names),
            date: held.fact.date,
            verdict: held.fact.verdict,
            answered_by: held.fact.answered_by.clone(),
            means: held.fact.means,
        };
        Ok(held.iter().map(view).collect())
    }

    fn changes(&self, standing: &Standing) -> Result<Vec<ChangeView>, OfficeError> {
        let orders: BTreeMap<Id, Held<ChangeOrder>> = self
            .standing::<ChangeOrder>(|fact| fact.date)?
            .into_iter()
            .map(|held| (held.entry.id, held))
            .collect();
        let number = |id: Option<Id>| {
            id.and_then(|id| standing.finds.iter().find(|find| find.id == id))
                .map(|find| find.find.number.clone())
        };
        let missing = || OfficeError::not_found("A change order is missing.", "Run verify.");
        let view = |change: &crate::standing::ChangeStanding| -> Result<ChangeView, OfficeError> {
            Ok(ChangeView {
                source: Source::of(&orders.get(&change.id).ok_or_else(missing)?.entry, self.names),
                answers: self.answers(change.id)?,
                id: change.id.to_string(),
                number: change.order.number.clone(),
                date: change.order.date,
                title: change.order.title.clone(),
                pricing: change.order.pricing,
                price: change.order.lines.iter().map(|line| line.price).sum(),
                approved: change.approved_price(),
                owed: change.owed(),
                billed: change.invoiced,
                state: change.state(),
                contradicted: change.contradicted,
                answered_by: change.answer.as_ref().map(|answer| answer.answered_by.clone()),
                means: change.answer.as_ref().map(|answer| answer.means),
                answered_on: change.answer.as_ref().map(|answer| answer.date),
                lines: change
                    .order
                    .lines
                    .iter()
                    .zip(&change.approved)
                    .map(|(line, approved)| ChangeLineView {
                        code: self.names.code(line.code),
                        cost_kind: line.cost_kind,
                        find: number(line.find),
                        description: line.description.clone(),
                        quantity: line.quantity,
                        unit: line.unit.clone(),
                        price: line.price,
                        cost: line.cost,
                        approved: *approved,
                    })
                    .collect(),
            })
        };
        standing.changes.iter().map(view).collect()
    }

    fn spend(&self, standing: &Standing) -> Result<Vec<SpendLine>, OfficeError> {
        let finds: BTreeMap<Id, String> =
            standing.finds.iter().map(|find| (find.id, find.find.number.clone())).collect();
        let number = |id: Option<Id>| id.and_then(|id| finds.get(&id).cloned());
        let tax_is_cost = self.books.tax_is_cost()?;
        let mut spend = Vec::new();
        for held in self.books.receipts_of(self.job)? {
            let span = self.books.span(&self.calendar, &held, held.fact.date)?;
            if !span.stands(self.month) {
                continue;
            }
            for line in held.fact.lines.iter().filter(|line| line.job == self.job) {
                let what = line.description.clone().unwrap_or_else(|| self.names.code(line.code));
                spend.push(SpendLine {
                    source: Some(Source::of(&held.entry, self.names)),
                    date: Some(held.fact.date),
                    month: span.from,
                    code: self.names.code(line.code),
                    cost_kind: line.cost_kind,
                    who: self.names.vendor(held.fact.vendor),
                    text: format!(
                        "{} {}: {what}",
                        if held.fact.credit { "credit" } else { "receipt" },
                        held.fact.reference
                    ),
                    quantity: line.quantity,
                    unit: line.unit.clone(),
                    amount: if tax_is_cost { line.amount + line.tax } else { line.amount },
                    find: number(line.find),
                });
            }
        }
        for held in self.standing::<Charge>(|fact| fact.date)? {
            spend.push(SpendLine {
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
                find: number(held.fact.find),
            });
        }
        self.labour(standing, &number, &mut spend)?;
        spend.sort_by(|left, right| {
            (left.date, left.source.as_ref().map(|source| &source.id))
                .cmp(&(right.date, right.source.as_ref().map(|source| &source.id)))
        });
        Ok(spend)
    }

    /// Hours with what they cost. Where a closed month keeps other labour than its hours now come to, the difference
    /// stands as a line of its own in the month in which it was caught up.
    fn labour(
        &self,
        standing: &Standing,
        number: &dyn Fn(Option<Id>) -> Option<String>,
        spend: &mut Vec<SpendLine>,
    ) -> Result<(), OfficeError> {
        let hours = self.standing::<Time>(|fact| fact.date)?;
        let weeks: BTreeSet<(Id, Date)> =
            hours.iter().map(|held| (held.fact.person, held.fact.date)).collect();
        let costed: BTreeMap<Id, Money> = self
            .books
            .costed_time(&weeks)?
            .into_iter()
            .map(|line| (line.id, line.straight + line.premium + line.burden))
            .collect();
        let mut worked_out: BTreeMap<Id, Money> = BTreeMap::new();
        for held in &hours {
            let amount = costed.get(&held.entry.id).copied().unwrap_or_default();
            *worked_out.entry(held.fact.code).or_default() += amount;
            spend.push(SpendLine {
                source: Some(Source::of(&held.entry, self.names)),
                date: Some(held.fact.date),
                month: self.books.span(&self.calendar, held, held.fact.date)?.from,
                code: self.names.code(held.fact.code),
                cost_kind: CostKind::Labour,
                who: self.names.person(held.fact.person),
                text: "hours, with pay, overtime and burden".to_owned(),
                quantity: Some(held.fact.hours),
                unit: Some("hour".to_owned()),
                amount,
                find: number(held.fact.find),
            });
        }
        for (code, totals) in &standing.codes {
            let caught_up = totals.labour - worked_out.get(code).copied().unwrap_or_default();
            if !caught_up.is_zero() {
                spend.push(SpendLine {
                    source: None,
                    date: None,
                    month: self.month,
                    code: self.names.code(*code),
                    cost_kind: CostKind::Labour,
                    who: String::new(),
                    text: "labour of weeks across a closed month, as booked".to_owned(),
                    quantity: None,
                    unit: None,
                    amount: caught_up,
                    find: None,
                });
            }
        }
        Ok(())
    }

    fn standing<T: ledger::kind::FactRow>(
        &self,
        date: impl Fn(&T) -> Date,
    ) -> Result<Vec<Held<T>>, OfficeError> {
        Ok(self.books.standing::<T>(&self.calendar, "job", self.job, self.month, date)?)
    }

    fn orders(&self) -> Result<Vec<OrderView>, OfficeError> {
        let mut orders = Vec::new();
        for held in self.standing::<PurchaseOrder>(|fact| fact.date)? {
            let receipts = self.books.standing::<ledger::facts::Receipt>(
                &self.calendar,
                "purchase_order",
                held.entry.id,
                self.month,
                |fact| fact.date,
            )?;
            let lines = receipts.iter().flat_map(|receipt| &receipt.fact.lines);
            orders.push(OrderView {
                source: Source::of(&held.entry, self.names),
                number: held.fact.number.clone(),
                date: held.fact.date,
                vendor: self.names.vendor(held.fact.vendor),
                expected_on: held.fact.expected_on,
                ordered: held.fact.lines.iter().map(|line| line.amount).sum(),
                received: lines.filter(|line| line.job == self.job).map(|line| line.amount).sum(),
            });
        }
        Ok(orders)
    }

    fn code_facts<T: ledger::kind::FactRow>(
        &self,
        parts: impl Fn(&T) -> (Date, Id, Option<Qty>, Option<Money>, Option<String>),
    ) -> Result<Vec<CodeFact>, OfficeError> {
        let held = self.standing::<T>(|fact| parts(fact).0)?;
        let view = |held: &Held<T>| {
            let (date, code, quantity, amount, note) = parts(&held.fact);
            let source = Source::of(&held.entry, self.names);
            CodeFact { source, date, code: self.names.code(code), quantity, amount, note }
        };
        Ok(held.iter().map(view).collect())
    }

    fn billed(&self) -> Result<(Vec<InvoiceView>, Vec<PaymentView>), OfficeError> {
        let (mut invoices, mut payments) = (Vec::new(), Vec::new());
        for held in self.standing::<Invoice>(|fact| fact.date)? {
            let id = held.entry.id;
            let applied =
                self.books
                    .standing::<Application>(&self.calendar, "invoice", id, self.month, |fact| fact.date)?;
            let released = self.books.standing::<RetainageRelease>(
                &self.calendar,
                "invoice",
                id,
                self.month,
                |fact| fact.date,
            )?;
            for application in &applied {
                let Some(ledger::Fact::Payment(payment)) =
                    self.books.fact(application.fact.payment)?.map(|held| held.fact)
                else {
                    continue;
                };
                payments.push(self.payment(application, &payment, &held.fact.number));
            }
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
                released: released.iter().map(|held| held.fact.amount).sum(),
                paid: applied.iter().map(|held| held.fact.amount).sum(),
                lines: lines
                    .map(|line| ScheduledView { title: line.description.clone(), amount: line.amount })
                    .collect(),
            });
        }
        payments.sort_by(|left, right| (left.date, &left.source.id).cmp(&(right.date, &right.source.id)));
        Ok((invoices, payments))
    }

    fn payment(&self, application: &Held<Application>, payment: &Payment, invoice: &str) -> PaymentView {
        PaymentView {
            source: Source::of(&application.entry, self.names),
            date: payment.date,
            means: payment.means,
            reference: payment.reference.clone(),
            invoice: invoice.to_owned(),
            amount: application.fact.amount,
        }
    }

    fn hours(&self, first: jiff::civil::Weekday) -> Result<Vec<WeekHours>, OfficeError> {
        let mut weeks: BTreeMap<Date, Qty> = BTreeMap::new();
        for held in self.standing::<Time>(|fact| fact.date)? {
            let sum = weeks.entry(trade::week_start(held.fact.date, first)).or_insert(Qty::ZERO);
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

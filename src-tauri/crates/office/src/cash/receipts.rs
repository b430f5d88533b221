//! What comes in: open invoices and retainage, what is still to be billed, less what customers have to their credit.

use super::habit;
use super::looking::{Comes, Looking};
use super::view::{CashFor, HabitOf, Undated};
use crate::job::page::Source;
use crate::month::end::MonthEnd;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Id;
use std::collections::BTreeMap;
use trade::shown::{count_of, in_sentence};
use trade::{Money, paid_on, payment_days, retainage, still_to_bill, weeks_later};

fn parsed(id: &str) -> Result<Id, OfficeError> {
    Id::parse(id).map_err(|problem| OfficeError::refused("id", &problem, ""))
}

impl Looking<'_> {
    /// The day on which a customer is taken to pay what is due on one.
    fn pays(&self, customer: Id, due: Date) -> Date {
        let (days, _) = habit::of(self.habits.get(&customer), self.everybody);
        weeks_later(paid_on(due, days), self.late(&self.names.customer(customer)))
    }

    /// How that day comes about, in words.
    fn pays_words(&self, customer: Id) -> String {
        let own = self.habits.get(&customer);
        let (days, by) = habit::of(own, self.everybody);
        let paid = own.map_or(0, |own| own.days.len());
        let length = count_of(usize::try_from(days.unsigned_abs()).unwrap_or_default(), "day");
        let when = match days {
            0 => "when due".to_owned(),
            ..0 => format!("{length} before due"),
            1.. => format!("{length} past due"),
        };
        match by {
            HabitOf::Own => format!("paid {when}, as their own {paid} were"),
            HabitOf::Everybody => {
                format!("paid {when}, as all customers' are: they have paid {paid}, too few")
            }
            HabitOf::Nobody => format!("paid {when}: too few were ever paid"),
        }
    }

    fn source(&self, id: Id) -> Result<Option<Source>, OfficeError> {
        Ok(self.books.fact(id)?.map(|held| Source::of(&held.entry, self.names)))
    }
}

pub(super) fn gather(looking: &mut Looking<'_>, report: &MonthEnd) -> Result<(), OfficeError> {
    invoices(looking, report)?;
    to_bill(looking);
    credits(looking, report)
}

/// Open invoices by due day and habit; what is held of them when the work ends.
fn invoices(looking: &mut Looking<'_>, report: &MonthEnd) -> Result<(), OfficeError> {
    for open in &report.owed.invoices {
        let (id, customer) = (parsed(&open.id)?, parsed(&open.customer_id)?);
        let source = looking.source(id)?;
        let pays = looking.pays_words(customer);
        if let Some(due) = open.due.as_ref().and_then(|due| due.parse::<Date>().ok()) {
            looking.add(Comes {
                cause: CashFor::Invoice,
                date: looking.pays(customer, due),
                due: Some(due),
                job: Some(&open.job),
                who: &open.customer,
                text: format!("invoice {}, {pays}", open.number),
                amount: open.open,
                source: source.clone(),
            });
        }
        if open.retainage.is_zero() {
            continue;
        }
        // A job that is in the report no more has ended.
        let plan = looking.plans.iter().find(|plan| plan.number == open.job);
        let Some(ends) = plan.map_or(Some(looking.on), |plan| plan.work.map(|(_, ends)| ends)) else {
            waits(looking, &open.job, &open.customer, open.retainage);
            continue;
        };
        looking.add(Comes {
            cause: CashFor::Retainage,
            date: looking.pays(customer, ends),
            due: Some(ends),
            job: Some(&open.job),
            who: &open.customer,
            text: format!("retainage of invoice {}, due when work ends; {pays}", open.number),
            amount: open.retainage,
            source,
        });
    }
    Ok(())
}

/// What is still to be billed of each contract: by its schedule, on the days that its work is planned.
fn to_bill(looking: &mut Looking<'_>) {
    let plans = std::mem::take(&mut looking.plans);
    for plan in &plans {
        let whole = [("the whole".to_owned(), plan.contracted)];
        let payments = if plan.payments.is_empty() { &whole[..] } else { &plan.payments[..] };
        let amounts: Vec<Money> = payments.iter().map(|(_, amount)| *amount).collect();
        let left = still_to_bill(&amounts, plan.contracted, plan.billed);
        let customer = looking.names.customer(plan.customer);
        let Some((begins, ends)) = plan.work else {
            let amount = left.iter().copied().sum();
            waits(looking, &plan.number, &customer, amount);
            continue;
        };
        let days = payment_days(payments.len(), plan.signed, begins, ends);
        let pays = looking.pays_words(plan.customer);
        for (((title, _), amount), day) in payments.iter().zip(left).zip(days) {
            let held = retainage(amount, plan.retainage);
            for (cause, amount, due, text) in [
                (CashFor::ToBill, amount - held, day, in_sentence(title)),
                (CashFor::Retainage, held, ends, format!("retainage of {}", in_sentence(title))),
            ] {
                looking.add(Comes {
                    cause,
                    date: looking.pays(plan.customer, due),
                    due: Some(due),
                    job: Some(&plan.number),
                    who: &customer,
                    text: format!("{text}, to be billed; {pays}"),
                    amount,
                    source: Some(Source::of(&plan.contract, looking.names)),
                });
            }
        }
    }
    looking.plans = plans;
}

/// Money that comes on no known day.
fn waits(looking: &mut Looking<'_>, job: &str, customer: &str, amount: Money) {
    if amount.is_zero() {
        return;
    }
    match looking.undated.iter_mut().find(|one| one.job == job) {
        Some(one) => one.amount += amount,
        None => looking.undated.push(Undated { job: job.to_owned(), customer: customer.to_owned(), amount }),
    }
}

/// What customers have to their credit is taken off what comes of them first.
fn credits(looking: &mut Looking<'_>, report: &MonthEnd) -> Result<(), OfficeError> {
    let mut taken: BTreeMap<usize, Money> = BTreeMap::new();
    for credit in &report.owed.on_account {
        let source = looking.source(parsed(&credit.id)?)?;
        let mut left = credit.left;
        let comes = [CashFor::Invoice, CashFor::ToBill, CashFor::Retainage];
        let mut theirs: Vec<usize> = (0..looking.expected.len())
            .filter(|at| {
                let one = &looking.expected[*at];
                comes.contains(&one.cause) && one.who == credit.customer
            })
            .collect();
        theirs.sort_by_key(|at| (looking.expected[*at].date, *at));
        for at in theirs {
            let (date, amount) = (looking.expected[at].date, looking.expected[at].amount);
            let used = taken.entry(at).or_default();
            let part = left.min(amount - *used);
            *used += part;
            left -= part;
            looking.add(Comes {
                cause: CashFor::Credit,
                date,
                due: None,
                job: None,
                who: &credit.customer,
                text: format!("credit “{}” is used", credit.name),
                amount: -part,
                source: source.clone(),
            });
        }
    }
    Ok(())
}

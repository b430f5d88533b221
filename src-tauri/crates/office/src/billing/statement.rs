//! A customer's statement: what they were billed and paid up to a day, what of it is open, and a reminder of what is
//! late.

use crate::month::owed::{due_parts, payment_name};
use desk::names::{Directory, Names};
use desk::settings::firm_on;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::closed_lists::InvoiceFor;
use ledger::facts::{Allocation, Firm, Invoice, Payment, Refund, RetainageRelease};
use ledger::{Books, Entered, Id};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{AgeTable, Money, OpenItem};

/// An invoice of which something is open or held.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StatementInvoice {
    /// Its number.
    pub number: String,
    /// The job's number.
    pub job: String,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The first day on which anything open of it is due; absent while all of that is held.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub due: Option<Date>,
    /// Days past due on the day; zero or below when not yet due.
    pub days_past_due: Option<i32>,
    /// Its lines and their tax.
    pub total: Money,
    /// Paid and credited of it.
    pub paid: Money,
    /// Held until the job ends.
    pub retainage: Money,
    /// To be paid.
    pub open: Money,
    /// Of that, past due on the day: what was released of what was held is due by its own day.
    pub past_due: Money,
}

/// What moved the balance.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StatementLine {
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What.
    pub what: String,
    /// What it adds; below zero for money that came and for a credit.
    pub amount: Money,
    /// The balance with it.
    pub balance: Money,
}

/// A customer's statement as of a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Statement {
    /// The customer's id.
    pub id: String,
    /// The customer.
    pub customer: String,
    /// As of this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub on: Date,
    /// What is open or held, the first due first.
    pub invoices: Vec<StatementInvoice>,
    /// Everything up to the day, oldest first.
    pub lines: Vec<StatementLine>,
    /// Not yet due, and past due by age.
    #[serde(flatten)]
    pub ages: AgeTable,
    /// To be paid: the five ages together.
    pub open: Money,
    /// Of that, past due.
    pub past_due: Money,
    /// Held until jobs end.
    pub retainage: Money,
    /// Credit memos and payments neither applied nor given back.
    pub credits: Money,
    /// Open and held, less credits.
    pub balance: Money,
    /// A reminder in words, to be copied into a letter; absent where nothing is past due.
    pub reminder: Option<String>,
}

/// The statement of a customer, named by id or name, as of a day: by the dates on the papers, without what was
/// reversed.
///
/// # Errors
/// When there is no such customer.
pub fn statement(desk: &Desk, customer: &str, on: Date) -> Result<Statement, OfficeError> {
    let id = Directory::default().id(desk.books(), "customer", "customer", customer)?;
    desk.books().in_one_read(|books| statement_of(books, id, on))
}

fn statement_of(books: Books<'_>, id: Id, on: Date) -> Result<Statement, OfficeError> {
    let names = Names::read(books)?;
    let firm = firm_on(books, on)?;
    let mut invoices: Vec<(String, Entered<Invoice>)> = Vec::new();
    for (job, known) in names.jobs.iter().filter(|(_, job)| job.customer == id) {
        let held = books.by(Invoice::job, *job)?.into_iter().filter(|held| held.fact.date <= on);
        invoices.extend(held.map(|held| (known.number.clone(), held)));
    }
    let gathered = Gathered {
        payments: books.by(Payment::customer, id)?.into_iter().filter(|held| held.fact.date <= on).collect(),
        refunds: books.by(Refund::customer, id)?.into_iter().filter(|held| held.fact.date <= on).collect(),
        invoices,
    };
    let mut found = Vec::new();
    let (mut items, mut credits): (Vec<OpenItem>, Money) = (Vec::new(), gathered.unapplied(books, on)?);
    for (job, held) in gathered.billed() {
        let (invoice, due) = gathered.standing(books, job, held, on)?;
        items.extend(due);
        // What was paid beyond an invoice is the customer's credit.
        credits += (-invoice.open).max(Money::ZERO);
        found.push(StatementInvoice { open: invoice.open.max(Money::ZERO), ..invoice });
    }
    found.retain(|invoice| !invoice.open.is_zero() || !invoice.retainage.is_zero());
    found.sort_by(|left, right| {
        (left.due.is_none(), left.due, &left.number).cmp(&(right.due.is_none(), right.due, &right.number))
    });
    let ages: AgeTable = trade::aging(&items, on);
    let (open, retainage) = (ages.total(), found.iter().map(|invoice| invoice.retainage).sum());
    let customer = names.customers.get(&id).map(|known| known.name.clone()).unwrap_or_default();
    Ok(Statement {
        id: id.to_string(),
        reminder: reminder(&firm, &customer, &found, on),
        customer,
        on,
        lines: gathered.lines(),
        invoices: found,
        ages,
        open,
        past_due: ages.past_due(),
        retainage,
        credits,
        balance: open + retainage - credits,
    })
}

/// What a customer was billed, paid and given back up to a day.
struct Gathered {
    /// Invoices and credit memos, each with its job's number.
    invoices: Vec<(String, Entered<Invoice>)>,
    payments: Vec<Entered<Payment>>,
    refunds: Vec<Entered<Refund>>,
}

fn total_of(invoice: &Invoice) -> Money {
    invoice.lines.iter().map(|line| line.amount).sum::<Money>() + invoice.tax
}

impl Gathered {
    /// Invoices without the credit memos.
    fn billed(&self) -> impl Iterator<Item = (&str, &Entered<Invoice>)> {
        let billed = self.invoices.iter().filter(|(_, held)| held.fact.purpose != InvoiceFor::Credit);
        billed.map(|(job, held)| (job.as_str(), held))
    }

    /// How an invoice stands on the day, and what of it is due when.
    fn standing(
        &self,
        books: Books<'_>,
        job: &str,
        held: &Entered<Invoice>,
        on: Date,
    ) -> Result<(StatementInvoice, Vec<OpenItem>), OfficeError> {
        let (id, invoice) = (held.entry.id, &held.fact);
        let memos = || self.invoices.iter().filter(|(_, memo)| memo.fact.credits == Some(id));
        let releases: Vec<RetainageRelease> = books
            .by(RetainageRelease::invoice, id)?
            .into_iter()
            .map(|held| held.fact)
            .filter(|release| release.date <= on)
            .collect();
        let applied = books.by(Allocation::invoice, id)?.into_iter().filter(|held| held.fact.date <= on);
        let paid = applied.map(|held| held.fact.amount).sum::<Money>()
            - memos().map(|(_, memo)| total_of(&memo.fact)).sum::<Money>();
        let taken_off: Money = memos().map(|(_, memo)| memo.fact.retainage).sum();
        let released: Money = releases.iter().map(|release| release.amount).sum();
        let retainage = invoice.retainage + taken_off - released;
        let total = total_of(invoice);
        let open = total - retainage - paid;
        let items = due_parts(invoice.due, releases.into_iter(), open.max(Money::ZERO));
        let due = items.iter().map(|item| item.due).min();
        let past_due = trade::aging(&items, on).past_due();
        let standing = StatementInvoice {
            number: invoice.number.clone(),
            job: job.to_owned(),
            date: invoice.date,
            due,
            days_past_due: due.map(|due| trade::days_past_due(due, on)),
            total,
            paid,
            retainage,
            open,
            past_due,
        };
        Ok((standing, items))
    }

    /// What is left of payments, and of credit memos that name no invoice.
    fn unapplied(&self, books: Books<'_>, on: Date) -> Result<Money, OfficeError> {
        let mut left = Money::ZERO;
        let upto = |held: Vec<Entered<Allocation>>| {
            held.into_iter().filter(|held| held.fact.date <= on).map(|held| held.fact.amount).sum::<Money>()
        };
        for held in &self.payments {
            left += held.fact.amount - upto(books.by(Allocation::payment, held.entry.id)?);
        }
        let on_account = |held: &&(String, Entered<Invoice>)| {
            held.1.fact.purpose == InvoiceFor::Credit && held.1.fact.credits.is_none()
        };
        for (_, held) in self.invoices.iter().filter(on_account) {
            left -= total_of(&held.fact) + upto(books.by(Allocation::credit, held.entry.id)?);
        }
        Ok(left - self.refunds.iter().map(|held| held.fact.amount).sum::<Money>())
    }

    /// Everything that moved the balance, by its day: what was billed before what was paid.
    fn lines(&self) -> Vec<StatementLine> {
        let mut moved: BTreeMap<(Date, u8, Id), (String, Money)> = BTreeMap::new();
        for (job, held) in &self.invoices {
            let invoice = &held.fact;
            let what = match invoice.purpose {
                InvoiceFor::Credit => format!("Credit memo {}, job {job}", invoice.number),
                _ => format!("Invoice {}, job {job}", invoice.number),
            };
            moved.insert((invoice.date, 0, held.entry.id), (what, total_of(invoice)));
        }
        for held in &self.payments {
            let paid = &held.fact;
            let what = format!("Payment, {}", payment_name(paid.method, paid.reference.as_deref()));
            moved.insert((paid.date, 1, held.entry.id), (what, -paid.amount));
        }
        for held in &self.refunds {
            let back = &held.fact;
            let what = format!("Given back, {}", payment_name(back.method, back.reference.as_deref()));
            moved.insert((back.date, 2, held.entry.id), (what, back.amount));
        }
        let mut balance = Money::ZERO;
        let line = |((date, _, _), (what, amount)): ((Date, u8, Id), (String, Money))| {
            balance += amount;
            StatementLine { date, what, amount, balance }
        };
        moved.into_iter().map(line).collect()
    }
}

/// What a reminder asks for: a line for each invoice with anything past due, and what that comes to.
fn asked_for(invoices: &[StatementInvoice]) -> (Vec<String>, Money) {
    let late = || invoices.iter().filter(|invoice| invoice.past_due.is_positive());
    let line = |invoice: &StatementInvoice| {
        let StatementInvoice { number, job, due, days_past_due, past_due, .. } = invoice;
        let due = due.map(trade::shown::day).unwrap_or_default();
        let days = trade::shown::count_of(days_past_due.unwrap_or_default().unsigned_abs() as usize, "day");
        format!("Invoice {number}, job {job}, due {due} ({days} past due): {}", past_due.grouped())
    };
    (late().map(line).collect(), late().map(|invoice| invoice.past_due).sum())
}

/// A reminder of what is past due, in words that a person copies, changes and sends; nothing is sent from here.
fn reminder(firm: &Firm, customer: &str, invoices: &[StatementInvoice], on: Date) -> Option<String> {
    let (lines, all) = asked_for(invoices);
    if lines.is_empty() {
        return None;
    }
    let place: Vec<&str> = [firm.street.as_deref(), Some(firm.town.as_str()), Some(firm.state.as_str())]
        .into_iter()
        .flatten()
        .collect();
    let call = firm.phone.as_deref().map(|phone| format!(" or call {phone}")).unwrap_or_default();
    Some(format!(
        "{customer},\n\nas of {} we have not received:\n\n{}\n\nIn all {}.\n\nPlease pay to {}, {}, and name the \
         number of the invoice. If it is on its way, thank you; if anything about it is not right, please write \
         back{call}.\n\n{}",
        trade::shown::day(on),
        lines.join("\n"),
        all.grouped(),
        firm.name,
        place.join(", "),
        firm.name,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_reminder_asks_for_what_is_past_due_and_for_nothing_else() {
        let money = |text: &str| text.parse::<Money>().unwrap();
        let invoice = |number: &str, days: i32, past_due: &str| StatementInvoice {
            number: number.to_owned(),
            job: "26-001".to_owned(),
            date: date(2026, 3, 20),
            due: Some(date(2026, 4, 3)),
            days_past_due: Some(days),
            total: money("5000.00"),
            paid: money("100.00"),
            retainage: money("200.00"),
            open: money("4700.00"),
            past_due: money(past_due),
        };
        // 300.00 of the first was released and is due later; the second is due today.
        let (lines, all) = asked_for(&[invoice("1002", 31, "4400.00"), invoice("1004", 0, "0.00")]);
        assert_eq!(lines, ["Invoice 1002, job 26-001, due April 3, 2026 (31 days past due): 4,400.00"]);
        assert_eq!(all, money("4400.00"));
        assert_eq!(asked_for(&[invoice("1004", -3, "0.00")]), (Vec::new(), Money::ZERO));
    }
}

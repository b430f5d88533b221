//! What customers owe at the end of a month, customer by customer: what is due by its age, what is held, and what they
//! have to their credit.

use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::PaidBy;
use ledger::facts::{Customer, Invoice, Job, RetainageRelease};
use ledger::totals::InvoiceTotals;
use ledger::{Books, Calendar, Fact, Id};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{Age, AgeTable, Money, Month, OpenItem};

/// What customers owe at the end of the month, by days past due; retainage and credits apart.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Owed {
    /// Not yet due, and past due by age.
    #[serde(flatten)]
    pub ages: AgeTable,
    /// Due in all.
    pub open: Money,
    /// Held until jobs end: not due before it is released.
    pub retainage: Money,
    /// What customers have to their credit: credit memos and payments that are neither applied nor given back. It never
    /// ages, and lowers nobody else's age.
    pub credits: Money,
    /// Customer by customer, by name.
    pub customers: Vec<CustomerOwes>,
    /// Invoice by invoice.
    pub invoices: Vec<OpenInvoice>,
    /// Credit by credit.
    pub on_account: Vec<OnAccount>,
}

/// What one customer owes.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CustomerOwes {
    /// The customer's id.
    pub id: String,
    /// The customer.
    pub customer: String,
    /// Not yet due, and past due by age.
    #[serde(flatten)]
    pub ages: AgeTable,
    /// Due in all.
    pub open: Money,
    /// Held until jobs end.
    pub retainage: Money,
    /// To the customer's credit.
    pub credits: Money,
    /// Due and held, less the credit.
    pub balance: Money,
}

/// An invoice with something open or held.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenInvoice {
    /// The invoice's id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// The job's number.
    pub job: String,
    /// The customer.
    pub customer: String,
    /// The customer's id.
    pub customer_id: String,
    /// The first day on which any of it was or is due; absent while all that is open is held.
    pub due: Option<String>,
    /// Days past due at the end of the month; below zero when not yet due, absent while nothing is due.
    pub days_past_due: Option<i32>,
    /// That, as a span of days.
    pub age: Option<Age>,
    /// Open.
    pub open: Money,
    /// Held.
    pub retainage: Money,
}

/// What a credit on account comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum CreditFrom {
    /// A credit memo that names no invoice.
    CreditMemo,
    /// A payment.
    Payment,
}

/// A credit memo or payment of which something is neither applied nor given back.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OnAccount {
    /// The id of the credit memo or payment.
    pub id: String,
    /// Which of the two it is.
    pub from: CreditFrom,
    /// What people call it: the credit memo's number, the payment with its check number.
    pub name: String,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The customer.
    pub customer: String,
    /// The customer's id.
    pub customer_id: String,
    /// What is left of it.
    pub left: Money,
}

/// Gathers what customers owe.
struct Gathering<'a> {
    books: Books<'a>,
    calendar: &'a Calendar,
    month: Month,
    jobs: BTreeMap<Id, (String, Option<Id>)>,
    names: BTreeMap<Id, String>,
    items: BTreeMap<Option<Id>, Vec<OpenItem>>,
    owed: Owed,
    customers: BTreeMap<Option<Id>, CustomerOwes>,
}

/// What customers owe. A released retainage is due by its own day, and what is held is not due at all; payments are
/// read as paying the earliest due first.
pub(crate) fn owed(books: Books<'_>, calendar: &Calendar, month: Month) -> Result<Owed, OfficeError> {
    let mut gathering = Gathering {
        books,
        calendar,
        month,
        jobs: BTreeMap::new(),
        names: BTreeMap::new(),
        items: BTreeMap::new(),
        owed: Owed::default(),
        customers: BTreeMap::new(),
    };
    for (id, totals) in books.open_invoices(month)? {
        if let Some(Fact::Invoice(invoice)) = books.fact(id)?.map(|held| held.fact) {
            gathering.invoice(id, &invoice, &totals)?;
        }
    }
    for (id, left) in books.unapplied_payments(month)? {
        if let Some(Fact::Payment(payment)) = books.fact(id)?.map(|held| held.fact) {
            let name = payment_name(payment.method, payment.reference.as_deref());
            let of = (CreditFrom::Payment, name, payment.date);
            gathering.credit(id, of, Some(payment.customer), left)?;
        }
    }
    gathering.finish()
}

/// What one customer has not paid yet, the earliest due first. What is only held is not to be paid.
pub(crate) fn unpaid_by(
    books: Books<'_>,
    calendar: &Calendar,
    month: Month,
    customer: Id,
) -> Result<Vec<OpenInvoice>, OfficeError> {
    let customer = customer.to_string();
    let mut unpaid = owed(books, calendar, month)?.invoices;
    unpaid.retain(|invoice| invoice.customer_id == customer && invoice.open.is_positive());
    unpaid.sort_by(|left, right| left.due.cmp(&right.due));
    Ok(unpaid)
}

/// What people call a payment: how it came, with its check number or the like. Most references say how already.
pub(crate) fn payment_name(method: PaidBy, reference: Option<&str>) -> String {
    match reference {
        Some(reference) if reference.to_lowercase().starts_with(method.as_str()) => reference.to_owned(),
        Some(reference) => format!("{method} {reference}"),
        None => format!("by {method}"),
    }
}

/// What is open on an invoice by the day on which it is due. What was due before any release, less what was paid, comes
/// first; the rest of it is released.
pub(crate) fn due_parts(
    first: Date,
    releases: impl Iterator<Item = RetainageRelease>,
    open: Money,
) -> Vec<OpenItem> {
    let mut due: Vec<OpenItem> =
        releases.map(|release| OpenItem { due: release.due, open: release.amount }).collect();
    due.sort_by_key(|item| item.due);
    let released: Money = due.iter().map(|item| item.open).sum();
    let from_release = released.min(open);
    let mut left = from_release;
    for item in due.iter_mut().rev() {
        item.open = item.open.min(left);
        left -= item.open;
    }
    due.push(OpenItem { due: first, open: open - from_release });
    due.retain(|item| !item.open.is_zero());
    due
}

impl Gathering<'_> {
    fn invoice(&mut self, id: Id, invoice: &Invoice, totals: &InvoiceTotals) -> Result<(), OfficeError> {
        let (job, customer) = self.job(invoice.job)?;
        let name = self.customer(customer)?;
        // Two devices can take off more than was open: that is the customer's credit too.
        if totals.open.is_negative() {
            let of = (CreditFrom::CreditMemo, invoice.number.clone(), invoice.date);
            self.credit(id, of, customer, -totals.open)?;
        }
        if totals.held.is_zero() && !totals.open.is_positive() {
            return Ok(());
        }
        let open = totals.open.max(Money::ZERO);
        let date = |fact: &RetainageRelease| fact.date;
        let releases = self.books.live_at(self.calendar, RetainageRelease::invoice, id, self.month, date)?;
        let due = due_parts(invoice.due, releases.into_iter().map(|held| held.fact), open);
        let first_due = due.iter().map(|item| item.due).min();
        let last = self.month.last_day();
        let days_past_due = first_due.map(|due| trade::days_past_due(due, last));
        self.items.entry(customer).or_default().extend(due);
        let owes = self.customers.entry(customer).or_default();
        owes.retainage += totals.held;
        self.owed.invoices.push(OpenInvoice {
            id: id.to_string(),
            number: invoice.number.clone(),
            job,
            customer: name,
            customer_id: customer.map(|id| id.to_string()).unwrap_or_default(),
            due: first_due.map(|due| due.to_string()),
            days_past_due,
            age: days_past_due.map(trade::age_bucket),
            open,
            retainage: totals.held,
        });
        Ok(())
    }

    fn credit(
        &mut self,
        id: Id,
        (from, name, date): (CreditFrom, String, Date),
        customer: Option<Id>,
        left: Money,
    ) -> Result<(), OfficeError> {
        let called = self.customer(customer)?;
        self.customers.entry(customer).or_default().credits += left;
        self.owed.on_account.push(OnAccount {
            id: id.to_string(),
            from,
            name,
            date,
            customer: called,
            customer_id: customer.map(|id| id.to_string()).unwrap_or_default(),
            left,
        });
        Ok(())
    }

    /// A job's number, and whose it is.
    fn job(&mut self, job: Id) -> Result<(String, Option<Id>), OfficeError> {
        if let Some(known) = self.jobs.get(&job) {
            return Ok(known.clone());
        }
        let found = self.books.newest::<Job>(job)?.map(|job| (job.number, Some(job.customer)));
        let found = found.unwrap_or_default();
        self.jobs.insert(job, found.clone());
        Ok(found)
    }

    fn customer(&mut self, customer: Option<Id>) -> Result<String, OfficeError> {
        let Some(customer) = customer else { return Ok(String::new()) };
        if let Some(known) = self.names.get(&customer) {
            return Ok(known.clone());
        }
        let found = self.books.newest::<Customer>(customer)?.map(|customer| customer.name);
        let found = found.unwrap_or_default();
        self.names.insert(customer, found.clone());
        Ok(found)
    }

    fn finish(mut self) -> Result<Owed, OfficeError> {
        let last = self.month.last_day();
        for (id, mut owes) in std::mem::take(&mut self.customers) {
            let items = self.items.remove(&id).unwrap_or_default();
            let table: AgeTable = trade::aging(&items, last);
            owes.id = id.map(|id| id.to_string()).unwrap_or_default();
            owes.customer = self.customer(id)?;
            owes.ages = table;
            owes.open = table.total();
            owes.balance = owes.open + owes.retainage - owes.credits;
            owes.ages.rows().for_each(|(age, amount)| self.owed.ages.add(age, amount));
            self.owed.open += owes.open;
            self.owed.retainage += owes.retainage;
            self.owed.credits += owes.credits;
            self.owed.customers.push(owes);
        }
        let owed = &mut self.owed;
        owed.customers.sort_by(|left, right| (&left.customer, &left.id).cmp(&(&right.customer, &right.id)));
        // What is only held is due on no day yet, and comes last.
        let place =
            |invoice: &OpenInvoice| (invoice.due.is_none(), invoice.due.clone(), invoice.number.clone());
        owed.invoices.sort_by_key(place);
        owed.on_account.sort_by(|left, right| (left.date, &left.id).cmp(&(right.date, &right.id)));
        Ok(self.owed)
    }
}

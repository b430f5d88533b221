//! Planning payments: known by customer, date, amount and reference; applied to an invoice where the file names one.

use crate::known::{Thing, fold};
use crate::planner::{Duplicate, Planner};
use crate::rows::PaymentRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Allocation, Invoice, Payment, RetainageRelease};
use ledger::{Books, Entered, Id};
use std::collections::{BTreeSet, HashMap};
use trade::Money;
use trade::shown::day;

/// By what a payment is known.
type Key = (Id, Date, Money, String);

fn key(customer: Id, date: Date, amount: Money, reference: Option<&String>) -> Key {
    (customer, date, amount, reference.map(|text| fold(text)).unwrap_or_default())
}

/// The invoices that a file may name, with what is open on those that it does name.
#[derive(Default)]
struct Invoices {
    by_number: HashMap<String, Vec<Entered<Invoice>>>,
    open: HashMap<Id, Money>,
}

impl Invoices {
    /// Reads them, unless the file names none.
    fn read(books: Books<'_>, rows: &[PaymentRow]) -> Result<Invoices, OfficeError> {
        let mut invoices = Invoices::default();
        let wanted: BTreeSet<String> =
            rows.iter().filter_map(|row| row.invoice.as_deref()).map(fold).collect();
        if wanted.is_empty() {
            return Ok(invoices);
        }
        for held in books.all::<Invoice>()? {
            let number = fold(&held.fact.number);
            if wanted.contains(&number) {
                invoices.by_number.entry(number).or_default().push(held);
            }
        }
        Ok(invoices)
    }

    /// What is open on an invoice now: billed with tax, less held, released back in, less credit memos and payments.
    fn open(&mut self, books: Books<'_>, invoice: &Entered<Invoice>) -> Result<Money, OfficeError> {
        let id = invoice.entry.id;
        if let Some(open) = self.open.get(&id) {
            return Ok(*open);
        }
        let billed =
            |invoice: &Invoice| invoice.lines.iter().map(|line| line.amount).sum::<Money>() + invoice.tax;
        let released = books.by(RetainageRelease::invoice, id)?;
        let released: Money = released.iter().map(|held| held.fact.amount).sum();
        let paid = books.by(Allocation::invoice, id)?;
        let paid: Money = paid.iter().map(|held| held.fact.amount).sum();
        let credited = books.by(Invoice::credits, id)?;
        let credited: Money = credited.iter().map(|held| billed(&held.fact) - held.fact.retainage).sum();
        let open = billed(&invoice.fact) - invoice.fact.retainage + released - paid + credited;
        self.open.insert(id, open);
        Ok(open)
    }
}

/// What the ledger holds of the file's customers.
fn recorded(planner: &Planner<'_>, customers: &BTreeSet<Id>) -> Result<HashMap<Key, Id>, OfficeError> {
    let mut recorded = HashMap::new();
    for customer in customers {
        for held in planner.books.by(Payment::customer, *customer)? {
            let payment = &held.fact;
            let key = key(*customer, payment.date, payment.amount, payment.reference.as_ref());
            recorded.insert(key, held.entry.id);
        }
    }
    Ok(recorded)
}

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[PaymentRow]) -> Result<(), OfficeError> {
    let mut customers = Vec::with_capacity(rows.len());
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        customers.push(planner.look(Thing::Customer, place, row.line, "customer", &row.customer));
    }
    let recorded = recorded(planner, &customers.iter().flatten().copied().collect())?;
    let mut invoices = Invoices::read(planner.books, rows)?;
    let mut seen: HashMap<Key, &PaymentRow> = HashMap::new();
    for (place, (row, customer)) in rows.iter().zip(&customers).enumerate() {
        let Some(customer) = *customer else { continue };
        let key = key(customer, row.date, row.amount, row.reference.as_ref());
        if let Some(first) = seen.get(&key) {
            repeated(planner, place, row, first);
            continue;
        }
        if let Some(id) = recorded.get(&key) {
            let duplicate = Duplicate {
                lines: vec![row.line],
                same_as_line: None,
                same_as: Some(*id),
                message: format!(
                    "{} from {} on {} is recorded already.",
                    row.amount.grouped(),
                    row.customer,
                    day(row.date)
                ),
            };
            planner.pass_over(&[place], duplicate);
            seen.insert(key, row);
            continue;
        }
        seen.insert(key, row);
        let invoice = match &row.invoice {
            None => None,
            Some(number) => match condition_invoice(planner, &mut invoices, place, row, customer, number)? {
                Some(invoice) => Some(invoice),
                None => continue,
            },
        };
        let payment = planner.record(Payment {
            date: row.date,
            customer,
            amount: row.amount,
            method: row.method,
            reference: row.reference.clone(),
        });
        if let Some(invoice) = invoice {
            planner.record(Allocation {
                date: row.date,
                payment: Some(payment),
                credit: None,
                invoice,
                amount: row.amount,
            });
        }
    }
    Ok(())
}

fn repeated(planner: &mut Planner<'_>, place: usize, row: &PaymentRow, first: &PaymentRow) {
    let invoice = |row: &PaymentRow| row.invoice.as_deref().map(fold);
    // One check can pay two invoices in equal parts: whether it did, the file does not say.
    if invoice(row) != invoice(first) {
        let message = format!("Line {} is the same payment, applied to another invoice.", first.line);
        let remedy = "Give the two payments references of their own, or leave one of them out.";
        return planner.refuse(place, row.line, "invoice", message, remedy);
    }
    let duplicate = Duplicate {
        lines: vec![row.line],
        same_as_line: Some(first.line),
        same_as: None,
        message: format!(
            "{} from {} on {} is on line {} already.",
            row.amount.grouped(),
            row.customer,
            day(row.date),
            first.line
        ),
    };
    planner.pass_over(&[place], duplicate);
}

/// The invoice that a row names, when the payment can be applied to it; it then counts as paid for the lines after.
fn condition_invoice(
    planner: &mut Planner<'_>,
    invoices: &mut Invoices,
    place: usize,
    row: &PaymentRow,
    customer: Id,
    number: &str,
) -> Result<Option<Id>, OfficeError> {
    let found = invoices.by_number.get(&fold(number)).map(Vec::as_slice).unwrap_or_default();
    let [invoice] = found else {
        let message = format!("There is no invoice “{number}”.");
        planner.refuse(
            place,
            row.line,
            "invoice",
            message,
            "Record it first, or leave the payment unapplied.",
        );
        return Ok(None);
    };
    let invoice = invoice.clone();
    let payer = planner.known.names.jobs.get(&invoice.fact.job).map(|job| job.customer);
    if payer != Some(customer) {
        let message = format!("Invoice {number} is another customer's.");
        planner.refuse(place, row.line, "invoice", message, "Name one of this customer's, or none.");
        return Ok(None);
    }
    let open = invoices.open(planner.books, &invoice)?;
    if row.amount > open {
        let message = format!(
            "{} is more than the {} that is open on invoice {number}.",
            row.amount.grouped(),
            open.grouped()
        );
        let remedy =
            "Leave the invoice out to keep the payment unapplied, or give the rest a line of its own.";
        planner.refuse(place, row.line, "invoice", message, remedy);
        return Ok(None);
    }
    invoices.open.insert(invoice.entry.id, open - row.amount);
    Ok(Some(invoice.entry.id))
}

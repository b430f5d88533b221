//! An invoice on paper, with how the contract stands behind it.

use super::document::Document;
use super::shared::{Heading, document};
use crate::job::snapshot::JobSnapshot;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::closed_lists::InvoiceFor;
use ledger::facts::{Allocation, Invoice};
use ledger::{Fact, Id};
use paperwork::papers::{
    ContractStanding, InvoiceKind, InvoiceLine, InvoicePaper, InvoiceTax, Payment, Retained,
};
use rust_decimal::Decimal;
use trade::{Money, Month};

/// The paper of an invoice, named by its id or number, with what was paid of it until today.
///
/// # Errors
/// When there is no such invoice.
pub fn invoice_paper(desk: &Desk, invoice: &str) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "invoice", "id", invoice)?;
    let Some(Fact::Invoice(bill)) = desk.books().fact(id)?.map(|held| held.fact) else {
        return Err(OfficeError::not_found("There is no such invoice.", "Open the page again."));
    };
    let heading = Heading::of(desk, bill.job)?;
    let subtotal: Money = bill.lines.iter().map(|line| line.amount).sum();
    let total = subtotal + bill.tax;
    let payments = payments(desk, id)?;
    let paid: Money = payments.iter().map(|payment| payment.amount).sum();
    let paper = InvoicePaper {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.number.clone(),
        number: bill.number.clone(),
        date: bill.date,
        due: Some(bill.due),
        kind: kind(bill.purpose),
        lines: bill
            .lines
            .iter()
            .map(|line| InvoiceLine {
                what: line.description.clone(),
                quantity: None,
                unit: String::new(),
                price: None,
                amount: line.amount,
            })
            .collect(),
        subtotal,
        tax: tax(&bill, subtotal),
        total,
        retained: (!bill.retainage.is_zero())
            .then(|| Retained { rate: trade::share_of(bill.retainage, subtotal), amount: bill.retainage }),
        payments,
        balance: total - bill.retainage - paid,
        how_to_pay: format!(
            "Please pay to {}, {}, {}, and name the number of this invoice.",
            heading.firm.name, heading.firm.town, heading.firm.state
        ),
        standing: standing(desk, &bill)?,
    };
    document(&format!("{} invoice {}.pdf", heading.job.number, bill.number), paper.render())
}

fn kind(purpose: InvoiceFor) -> InvoiceKind {
    match purpose {
        InvoiceFor::Deposit => InvoiceKind::Deposit,
        InvoiceFor::Progress => InvoiceKind::Progress,
        InvoiceFor::ChangeOrder => InvoiceKind::ChangeOrder,
        InvoiceFor::Final => InvoiceKind::Final,
        InvoiceFor::Credit => InvoiceKind::Credit,
    }
}

/// The tax as the invoice has it, on its taxable lines; the rate shown is what the two come to.
fn tax(bill: &Invoice, subtotal: Money) -> Option<InvoiceTax> {
    if bill.tax.is_zero() {
        return None;
    }
    let taxable: Money = bill.lines.iter().filter(|line| line.taxable).map(|line| line.amount).sum();
    let base = if taxable.is_zero() { subtotal } else { taxable };
    let rate = trade::rate_behind(bill.tax, base);
    Some(InvoiceTax { words: "Sales tax".to_owned(), rate, base, amount: bill.tax })
}

fn payments(desk: &Desk, invoice: Id) -> Result<Vec<Payment>, OfficeError> {
    let mut payments = Vec::new();
    for held in desk.books().by(Allocation::invoice, invoice)? {
        let how = match desk.books().fact(held.fact.payment)?.map(|held| held.fact) {
            Some(Fact::Payment(paid)) => Some(paid),
            _ => None,
        };
        payments.push(Payment {
            on: how.as_ref().map_or(held.fact.date, |paid| paid.date),
            how: how.map(|paid| paid.method.label().to_owned()).unwrap_or_default(),
            amount: held.fact.amount,
        });
    }
    payments.sort_by_key(|payment| payment.on);
    Ok(payments)
}

/// The contract as it stands with this invoice.
fn standing(desk: &Desk, bill: &Invoice) -> Result<ContractStanding, OfficeError> {
    let month = Month::of(desk.clock.today()).max(Month::of(bill.date));
    let standing = JobSnapshot::gather(desk.books(), &desk.books().calendar()?, bill.job, month)?;
    let money = standing.money;
    let changes = money.change_price + money.hidden_price;
    let contract = money.price + changes;
    let held = money.held - money.released;
    Ok(ContractStanding {
        signed: money.price,
        changes,
        contract,
        billed: money.billed,
        left: contract - money.billed,
        retainage_held: (held.decimal() != Decimal::ZERO).then_some(held),
    })
}

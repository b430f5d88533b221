//! An invoice on paper, with how the contract stands behind it.

use super::document::Document;
use super::shared::{Heading, document};
use crate::job::snapshot::JobSnapshot;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::closed_lists::InvoiceFor;
use ledger::facts::{Allocation, Invoice, RetainageRelease};
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
    let credit = bill.purpose == InvoiceFor::Credit;
    let (mut payments, taken_off) = credit_memos(desk, id)?;
    payments.extend(self::payments(desk, id)?);
    payments.sort_by_key(|payment| payment.on);
    let paid: Money = payments.iter().map(|payment| payment.amount).sum();
    let released: Money =
        desk.books().by(RetainageRelease::invoice, id)?.iter().map(|held| held.fact.amount).sum();
    let held = if credit { Money::ZERO } else { bill.retainage - taken_off - released };
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
        retained: (!held.is_zero())
            .then(|| Retained { rate: trade::share_of(bill.retainage, subtotal), amount: held }),
        payments,
        balance: total - held - paid,
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

/// The credit memos that lower an invoice, whole, and what of them came off its retainage.
fn credit_memos(desk: &Desk, invoice: Id) -> Result<(Vec<Payment>, Money), OfficeError> {
    let memos = desk.books().by(Invoice::credits, invoice)?;
    let taken_off = memos.iter().map(|held| -held.fact.retainage).sum();
    let memos = memos.into_iter().map(|held| {
        let net: Money = held.fact.lines.iter().map(|line| line.amount).sum();
        Payment {
            on: held.fact.date,
            how: format!("Credit memo {}", held.fact.number),
            amount: -(net + held.fact.tax),
        }
    });
    Ok((memos.collect(), taken_off))
}

fn payments(desk: &Desk, invoice: Id) -> Result<Vec<Payment>, OfficeError> {
    let mut payments = Vec::new();
    for held in desk.books().by(Allocation::invoice, invoice)? {
        let of = held.fact.payment.or(held.fact.credit);
        let found = of.map(|of| desk.books().fact(of)).transpose()?.flatten();
        let (on, how) = match found.map(|held| held.fact) {
            Some(Fact::Payment(paid)) => (paid.date, paid.method.label().to_owned()),
            Some(Fact::Invoice(credit)) => (held.fact.date, format!("Credit memo {}", credit.number)),
            _ => (held.fact.date, String::new()),
        };
        payments.push(Payment { on, how, amount: held.fact.amount });
    }
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

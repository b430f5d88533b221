//! Whether an invoice keeps to its terms: the sales tax of the firm's rule, and the retainage of the contract. What
//! departs from them is told where it is typed, and again among the loose ends.

use desk::OfficeError;
use desk::settings::firm_on;
use jiff::civil::Date;
use ledger::closed_lists::{InvoiceFor, TaxRounding};
use ledger::facts::{Contract, Firm, Invoice};
use ledger::{Books, Fact, Id};
use trade::{Money, Rate, TaxBy};

/// How an invoice departs from its terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Term {
    /// Its sales tax is not what the firm's rule gives.
    SalesTax,
    /// Its retainage is not what the contract holds.
    Retainage,
}

/// A departure, with what stands there and what the rule gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Departure {
    pub(crate) of: Term,
    pub(crate) typed: Money,
    pub(crate) ruled: Money,
}

impl Departure {
    /// It as a sentence that begins with what departs, such as “Invoice 1003”.
    pub(crate) fn text(&self, what: &str) -> String {
        let (typed, ruled) = (self.typed.grouped(), self.ruled.grouped());
        match self.of {
            Term::SalesTax => format!("{what} has {typed} of sales tax, and the firm’s rule gives {ruled}."),
            Term::Retainage => {
                format!("{what} holds {typed} of retainage, and by the contract it would be {ruled}.")
            }
        }
    }
}

/// The firm's way of rounding sales tax.
pub(super) fn taxed_by(firm: &Firm) -> TaxBy {
    match firm.sales_tax_rounding {
        TaxRounding::Invoice => TaxBy::Invoice,
        TaxRounding::Item => TaxBy::Item,
    }
}

/// The sales tax on what is billed, by the firm's rate and its way of rounding.
pub(crate) fn sales_tax(firm: &Firm, taxable: &[Money]) -> Money {
    trade::sales_tax(taxable, firm.sales_tax, taxed_by(firm))
}

/// What is held of an invoice: the contract's share before tax, since tax is not the firm's to wait for; nothing of a
/// credit memo.
pub(super) fn held_by_contract(purpose: InvoiceFor, net: Money, share: Rate) -> Money {
    if purpose == InvoiceFor::Credit {
        return Money::ZERO;
    }
    trade::retainage(net.max(Money::ZERO), share)
}

/// How a recorded invoice departs from its terms: the settings of its own day, for a credit memo those of the invoice
/// that it lowers, and the contract of its job.
pub(crate) fn departures(books: Books<'_>, invoice: &Invoice) -> Result<Vec<Departure>, OfficeError> {
    let firm = firm_on(books, ruled_on(books, invoice)?)?;
    let contract = books.by(Contract::job, invoice.job)?.pop();
    let share = contract.map_or(Rate::ZERO, |held| held.fact.retainage);
    let taxable: Vec<Money> =
        invoice.lines.iter().filter(|line| line.taxable).map(|line| line.amount).collect();
    let net: Money = invoice.lines.iter().map(|line| line.amount).sum();
    let mut found = Vec::new();
    let ruled = sales_tax(&firm, &taxable);
    if invoice.tax != ruled {
        found.push(Departure { of: Term::SalesTax, typed: invoice.tax, ruled });
    }
    let ruled = held_by_contract(invoice.purpose, net, share);
    if invoice.purpose != InvoiceFor::Credit && invoice.retainage != ruled {
        found.push(Departure { of: Term::Retainage, typed: invoice.retainage, ruled });
    }
    Ok(found)
}

/// The day whose settings an invoice goes by.
fn ruled_on(books: Books<'_>, invoice: &Invoice) -> Result<Date, OfficeError> {
    let lowered = |id: Id| -> Result<Option<Date>, OfficeError> {
        Ok(match books.fact(id)?.map(|held| held.fact) {
            Some(Fact::Invoice(lowered)) => Some(lowered.date),
            _ => None,
        })
    };
    let lowered = invoice.credits.map(lowered).transpose()?.flatten();
    Ok(lowered.unwrap_or(invoice.date))
}

//! A customer's statement on paper.

use super::document::Document;
use super::shared::{age_buckets, document, firm, party};
use crate::billing::statement::statement;
use desk::names::Names;
use desk::settings::firm_on;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::Id;
use paperwork::papers::{StatementInvoice, StatementMove, StatementPaper};

/// The statement of a customer, named by id or name, as of a day.
///
/// # Errors
/// When there is no such customer.
pub fn customer_statement(desk: &Desk, customer: &str, on: Date) -> Result<Document, OfficeError> {
    let stands = statement(desk, customer, on)?;
    let firm_fact = firm_on(desk.books(), on)?;
    let names = Names::read(desk.books())?;
    let known = Id::parse(&stands.id).ok().and_then(|id| names.customers.get(&id).map(party));
    let paper = StatementPaper {
        firm: firm(desk, &firm_fact),
        customer: known.unwrap_or_default(),
        date: on,
        invoices: stands
            .invoices
            .into_iter()
            .map(|invoice| StatementInvoice {
                number: invoice.number,
                job: invoice.job,
                date: invoice.date,
                due: invoice.due,
                total: invoice.total,
                paid: invoice.paid,
                held: invoice.retainage,
                open: invoice.open,
            })
            .collect(),
        ages: age_buckets(&stands.ages),
        open: stands.open,
        past_due: stands.past_due,
        held: stands.retainage,
        credits: stands.credits,
        balance: stands.balance,
        moves: stands
            .lines
            .into_iter()
            .map(|line| StatementMove {
                on: line.date,
                what: line.what,
                amount: line.amount,
                balance: line.balance,
            })
            .collect(),
        how_to_pay: format!(
            "Please pay to {}, {}, {}, and name the number of the invoice.",
            firm_fact.name, firm_fact.town, firm_fact.state
        ),
    };
    document(&format!("Statement {} {on}.pdf", stands.customer), paper.render())
}

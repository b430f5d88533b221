//! The lines of the journal, what each means, and the firm's own account names for them.

use super::parts::Marks;
use super::people::stands;
use desk::OfficeError;
use ledger::Books;
use ledger::closed_lists::JournalLine;
use ledger::facts::Account;
use std::collections::BTreeMap;
use trade::CostKind;

/// Our name for a line, and what stands in it.
pub(super) const fn meaning(line: JournalLine) -> (&'static str, &'static str) {
    match line {
        JournalLine::Bank => ("Bank", "Payments as they arrive, less what is given back."),
        JournalLine::Receivable => {
            ("Receivable", "Invoices with their tax, less what is held and what was paid.")
        }
        JournalLine::RetainageReceivable => {
            ("Retainage receivable", "What customers hold until the work is done.")
        }
        JournalLine::CustomerCredit => (
            "Customer credit",
            "Payments and credit memos that are neither applied to an invoice nor given back.",
        ),
        JournalLine::SalesTaxPayable => (
            "Sales tax payable",
            "Sales tax billed. Tax on what the firm buys, where it is not part of cost, stands here as a debit.",
        ),
        JournalLine::Payable => ("Payable", "Bills of suppliers and subcontractors, with their tax."),
        JournalLine::WagesPayable => {
            ("Wages payable", "Pay earned on jobs: straight pay, bonus and overtime premium.")
        }
        JournalLine::BurdenPayable => {
            ("Burden payable", "Employer's taxes, insurance and benefits on that pay.")
        }
        JournalLine::CostsApplied => {
            ("Costs applied", "Costs charged to jobs without a bill, such as own equipment.")
        }
        JournalLine::CostMaterial => {
            ("Cost of jobs, material", "Material, with its tax where that is part of cost.")
        }
        JournalLine::CostLabor => ("Cost of jobs, labor", "Pay with its burden."),
        JournalLine::CostSubcontract => ("Cost of jobs, subcontract", "Work done by other firms."),
        JournalLine::CostEquipment => ("Cost of jobs, equipment", "Machines and rental."),
        JournalLine::CostDisposal => ("Cost of jobs, disposal", "Haul-off and dump fees."),
        JournalLine::CostPermit => ("Cost of jobs, permits", "Permits and inspections."),
        JournalLine::CostOther => ("Cost of jobs, other", "Whatever else belongs to a job."),
        JournalLine::Revenue => ("Revenue", "What was billed, moved at the month's end to what was earned."),
        JournalLine::UnderBilled => ("Under-billed", "Earned and not yet billed, job by job."),
        JournalLine::OverBilled => ("Over-billed", "Billed and not yet earned, job by job."),
        JournalLine::LossProvision => {
            ("Loss provision", "Losses foreseen on open jobs and not yet booked as cost.")
        }
        JournalLine::LossExpense => ("Loss expense", "The change in losses foreseen."),
        JournalLine::Overhead => (
            "Overhead",
            "What the firm costs beside its jobs, account by account, less what its equipment is charged to jobs.",
        ),
        JournalLine::SetAside => {
            ("Set aside", "Costs of the firm that nobody asks for yet, such as a truck's wear.")
        }
        JournalLine::DiscountsTaken => ("Discounts taken", "What vendors let off for being paid early."),
    }
}

/// The line in which a kind of cost stands.
pub(super) const fn cost_line(kind: CostKind) -> JournalLine {
    match kind {
        CostKind::Material => JournalLine::CostMaterial,
        CostKind::Labor => JournalLine::CostLabor,
        CostKind::Subcontract => JournalLine::CostSubcontract,
        CostKind::Equipment => JournalLine::CostEquipment,
        CostKind::Disposal => JournalLine::CostDisposal,
        CostKind::Permit => JournalLine::CostPermit,
        CostKind::Other => JournalLine::CostOther,
    }
}

/// The firm's own names.
#[derive(Clone, Debug, Default)]
pub(super) struct Accounts {
    own: BTreeMap<JournalLine, Account>,
}

impl Accounts {
    /// The names as they were at some marks; the newest for each line.
    pub(super) fn at(books: Books<'_>, marks: &Marks) -> Result<Accounts, OfficeError> {
        let mut named = Vec::new();
        for held in books.all_with_reversed::<Account>()? {
            if stands(books, &held, marks)? {
                named.push(held);
            }
        }
        named.sort_by(|left, right| {
            (&left.entry.recorded_at, left.entry.id).cmp(&(&right.entry.recorded_at, right.entry.id))
        });
        Ok(Accounts { own: named.into_iter().map(|held| (held.fact.line, held.fact)).collect() })
    }

    /// The firm's name for a line, if it gave one.
    pub(super) fn own(&self, line: JournalLine) -> Option<&str> {
        self.own.get(&line).map(|account| account.name.as_str())
    }

    /// The firm's number for a line, if it gave one.
    pub(super) fn number(&self, line: JournalLine) -> Option<&str> {
        self.own.get(&line)?.number.as_deref()
    }

    /// The firm's name for a line, else ours.
    pub(super) fn name(&self, line: JournalLine) -> &str {
        self.own(line).unwrap_or(meaning(line).0)
    }
}

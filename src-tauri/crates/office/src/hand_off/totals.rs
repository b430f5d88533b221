//! Control totals: what the files add up to, beside what the month-end report and the stored totals say of the same
//! month. Two ways to each figure; where they differ, nothing is handed off.

use super::bank::BankTotals;
use super::billing::net;
use super::facts::Facts;
use super::journal::Journal;
use super::labor;
use super::month_facts::MonthFacts;
use super::view::{View, signed, signed_quantity};
use crate::paper_error::AddRow;
use desk::Code;
use desk::OfficeError;
use ledger::Books;
use ledger::closed_lists::{JournalLine, OwedFrom};
use ledger::facts::HandedLabor;
use paperwork::{Cell, Column, Kind, Table};
use rust_decimal::Decimal;
use serde::Serialize;
use trade::{Money, Month, Qty};

/// One control total.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ControlTotal {
    /// Its word, such as `cost`.
    pub name: &'static str,
    /// In plain words.
    pub title: &'static str,
    /// `money` or `hours`.
    pub unit: &'static str,
    /// In this part.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub part: Decimal,
    /// In the parts before it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub earlier: Decimal,
    /// In all parts of the month.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub month: Decimal,
    /// What it is held against.
    pub ties_to: &'static str,
    /// What that says.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub against: Decimal,
    /// Whether the two are the same to the cent.
    pub ties: bool,
}

/// Refuses to hand off what does not tie.
pub(super) fn must_tie(month: Month, totals: &[ControlTotal]) -> Result<(), OfficeError> {
    let astray: Vec<String> = totals
        .iter()
        .filter(|total| !total.ties)
        .map(|total| {
            format!("{} is {} and {} says {}", total.name, total.month, total.ties_to, total.against)
        })
        .collect();
    if astray.is_empty() {
        return Ok(());
    }
    Err(OfficeError {
        code: Code::Damaged,
        field: None,
        message: format!(
            "{} does not tie: {}. Nothing was handed off.",
            trade::shown::month(month),
            astray.join("; ")
        ),
        remedy: "Run verify; if it finds nothing, this is a fault of Tearoff's own.".to_owned(),
    })
}

/// What the files of some parts add up to.
struct Sums {
    journal: Journal,
    billed: Money,
    tax: Money,
    held: Money,
    released: Money,
    received: Money,
    refunded: Money,
    /// Paid to vendors, and for costs without a bill.
    paid: Money,
    applied: Money,
    pay: labor::Pay,
    hours: Qty,
}

impl Sums {
    fn of(journal: Journal, facts: &Facts, labor: &[HandedLabor]) -> Sums {
        let invoices = &facts.invoices;
        let pay = labor
            .iter()
            .map(labor::pay)
            .fold(labor::Pay::default(), |sum, pay| [sum[0] + pay[0], sum[1] + pay[1], sum[2] + pay[2]]);
        Sums {
            journal,
            billed: invoices.iter().map(net).sum(),
            tax: invoices.iter().map(|one| signed(one.fact.tax, one.sign)).sum(),
            held: invoices.iter().map(|one| signed(one.fact.retainage, one.sign)).sum(),
            released: facts.releases.iter().map(|one| signed(one.fact.amount, one.sign)).sum(),
            received: facts.payments.iter().map(|one| signed(one.fact.amount, one.sign)).sum(),
            refunded: facts.refunds.iter().map(|one| signed(one.fact.amount, one.sign)).sum(),
            paid: paid(facts),
            applied: applied(facts),
            pay,
            hours: facts.times.iter().map(|one| signed_quantity(one.fact.hours, one.sign)).sum(),
        }
    }

    fn cost(&self) -> Money {
        const COST: [JournalLine; 7] = [
            JournalLine::CostMaterial,
            JournalLine::CostLabor,
            JournalLine::CostSubcontract,
            JournalLine::CostEquipment,
            JournalLine::CostDisposal,
            JournalLine::CostPermit,
            JournalLine::CostOther,
        ];
        COST.into_iter().map(|account| self.journal.sum(account)).sum()
    }

    fn earned(&self) -> Money {
        -self.journal.sum(JournalLine::Revenue)
    }

    fn profit(&self) -> Money {
        self.earned() - self.cost() - self.journal.sum(JournalLine::LossExpense)
    }

    fn overhead(&self) -> Money {
        self.journal.sum(JournalLine::Overhead) + self.journal.sum(JournalLine::DiscountsTaken)
    }
}

/// What left the bank for bills, and for costs without one.
fn paid(facts: &Facts) -> Money {
    let bills = facts.vendor_payments.iter().map(|one| signed(one.fact.total(), one.sign));
    let from_bank = facts.overhead_costs.iter().filter(|one| one.fact.owed_from == OwedFrom::Bank);
    bills.chain(from_bank.map(|one| signed(one.fact.amount, one.sign))).sum()
}

/// What came in for jobs: payments applied. What a credit memo gives to an invoice comes in for the one job and leaves
/// the other; what of it is given back leaves its own.
fn applied(facts: &Facts) -> Money {
    let payments = facts.allocations.iter().filter(|one| one.fact.payment.is_some());
    let refunds = facts.refunds.iter().filter(|one| one.fact.credit.is_some());
    payments.map(|one| signed(one.fact.amount, one.sign)).sum::<Money>()
        - refunds.map(|one| signed(one.fact.amount, one.sign)).sum::<Money>()
}

/// What the stored totals say that the month added.
#[derive(Default)]
struct Kept {
    tax: Money,
    held: Money,
    released: Money,
    applied: Money,
    hours: Qty,
}

impl Kept {
    fn read(books: Books<'_>, month: Month) -> Result<Kept, OfficeError> {
        let mut kept = Kept::default();
        let touched = books.touched_jobs(month)?;
        for (through, sign) in [(month, 1), (month.prev(), -1)] {
            for sums in books.job_totals(&touched, through)?.into_values() {
                kept.tax += signed(sums.tax, sign);
                kept.held += signed(sums.held, sign);
                kept.released += signed(sums.released, sign);
                kept.applied += signed(sums.received, sign);
            }
            let codes = books.code_totals(&touched, through)?;
            let hours: Qty = codes.into_values().flatten().map(|(_, code)| code.hours).sum();
            kept.hours += signed_quantity(hours, sign);
        }
        Ok(kept)
    }
}

/// Adds control totals up.
struct Adding<'a> {
    part: &'a Sums,
    earlier: &'a Sums,
    totals: Vec<ControlTotal>,
}

impl Adding<'_> {
    fn money(
        &mut self,
        name: &'static str,
        title: &'static str,
        ties_to: &'static str,
        against: Money,
        figure: impl Fn(&Sums) -> Money,
    ) {
        let (part, earlier) = (figure(self.part), figure(self.earlier));
        let month = part + earlier;
        self.totals.push(ControlTotal {
            name,
            title,
            unit: "money",
            part: part.decimal(),
            earlier: earlier.decimal(),
            month: month.decimal(),
            ties_to,
            against: against.decimal(),
            ties: month == against,
        });
    }
}

const REPORT: &str = "the month-end report";
const KEPT: &str = "the ledger's stored totals";
const JOURNAL: &str = "the journal";

/// Works out the control totals of a part.
pub(super) fn control_totals(
    books: Books<'_>,
    view: &View<'_>,
    journal: Journal,
    bank_totals: &BankTotals,
) -> Result<Vec<ControlTotal>, OfficeError> {
    let (month, part) = (view.month, view.part);
    let given = &part.earlier;
    let before = Journal::of(view, &given.facts, &given.labor, &given.movements)?;
    let earlier = Sums::of(before, &given.facts, &given.labor);
    let part = Sums::of(journal, &part.facts, &part.labor);
    let kept = Kept::read(books, month.month)?;
    let mut adding = Adding { part: &part, earlier: &earlier, totals: Vec::new() };
    let credits = part.journal.credits() + earlier.journal.credits();
    adding.money("debits", "Debits of the journal", "its credits", credits, |sums| sums.journal.debits());
    report_totals(&mut adding, month);
    let labor = |of: fn(&ledger::totals::LaborTotals) -> Money| month.labor.values().map(of).sum::<Money>();
    adding.money("straight", "Straight pay and bonus", KEPT, labor(|pay| pay.straight), |sums| sums.pay[0]);
    adding.money("premium", "Overtime premium", KEPT, labor(|pay| pay.premium), |sums| sums.pay[1]);
    adding.money("burden", "Burden", KEPT, labor(|pay| pay.burden), |sums| sums.pay[2]);
    adding.money("sales_tax", "Sales tax billed", KEPT, kept.tax, |sums| sums.tax);
    adding.money("retainage_held", "Retainage held", KEPT, kept.held, |sums| sums.held);
    adding.money("retainage_released", "Retainage released", KEPT, kept.released, |sums| sums.released);
    adding.money(
        "applied",
        "Payments and credits applied, less refunds of credits",
        KEPT,
        kept.applied,
        |sums| sums.applied,
    );
    let bank = part.journal.sum(JournalLine::Bank) + earlier.journal.sum(JournalLine::Bank);
    adding.money("bank", "Payments that came, less refunds and what was paid", JOURNAL, bank, |sums| {
        sums.received - sums.refunded - sums.paid
    });
    bank_as_it_stood(&mut adding, bank_totals);
    let owed = month.open_bills.values().copied().sum::<Money>() - month.owed_to_vendors_before;
    adding.money("payable", "Change in what vendors are owed", KEPT, owed, |sums| {
        -sums.journal.sum(JournalLine::Payable)
    });
    let (now, then) = (part.hours, earlier.hours);
    adding.totals.push(ControlTotal {
        name: "hours",
        title: "Hours",
        unit: "hours",
        part: now.decimal().normalize(),
        earlier: then.decimal().normalize(),
        month: (now + then).decimal().normalize(),
        ties_to: KEPT,
        against: kept.hours.decimal().normalize(),
        ties: now + then == kept.hours,
    });
    Ok(adding.totals)
}

/// The files of the bank show the whole month in each part, as it stood then, so that earlier parts add nothing.
fn bank_as_it_stood(adding: &mut Adding<'_>, bank: &BankTotals) {
    for (name, title, ties_to, [month, against]) in [
        ("bank_lines", "Lines of the bank in the month", "the statements' balances", bank.lines),
        ("bank_cleared", "Payments that cleared in the month", "the bank's lines", bank.cleared),
        (
            "bank_uncleared",
            "Payments that the bank does not show by the month's end",
            "the books' payments less the bank's lines",
            bank.uncleared,
        ),
    ] {
        adding.totals.push(ControlTotal {
            name,
            title,
            unit: "money",
            part: month.decimal(),
            earlier: Money::ZERO.decimal(),
            month: month.decimal(),
            ties_to,
            against: against.decimal(),
            ties: month == against,
        });
    }
}

/// The totals that stand on the month-end screen.
fn report_totals(adding: &mut Adding<'_>, month: &MonthFacts) {
    let report = &month.report.firm.month;
    adding.money("cost", "Cost of jobs", REPORT, report.cost, Sums::cost);
    adding.money("billed", "Billed before tax", REPORT, report.billed, |sums| sums.billed);
    adding.money("earned", "Earned revenue", REPORT, report.earned, Sums::earned);
    adding.money("over_billed", "Change in over-billed", REPORT, report.over_billed, |sums| {
        -sums.journal.sum(JournalLine::OverBilled)
    });
    adding.money("under_billed", "Change in under-billed", REPORT, report.under_billed, |sums| {
        sums.journal.sum(JournalLine::UnderBilled)
    });
    adding.money("loss_provision", "Change in losses foreseen", REPORT, report.loss_provision, |sums| {
        -sums.journal.sum(JournalLine::LossProvision)
    });
    let (now, before) = (&month.report.owed, &month.owed_before);
    let receivable = (now.open - now.credits) - (before.open - before.credits);
    adding.money("receivable", "Change in what is due, less credits", REPORT, receivable, |sums| {
        sums.journal.sum(JournalLine::Receivable) + sums.journal.sum(JournalLine::CustomerCredit)
    });
    let held = now.retainage - before.retainage;
    adding.money("retainage", "Change in retainage", REPORT, held, |sums| {
        sums.journal.sum(JournalLine::RetainageReceivable)
    });
    adding.money("profit", "Earned less cost and losses foreseen", REPORT, report.profit, Sums::profit);
    let firm = &month.report.firm;
    adding.money("overhead", "Overhead cost", REPORT, firm.overhead_cost, Sums::overhead);
    adding.money("net_profit", "Net profit", REPORT, firm.net_profit, |sums| sums.profit() - sums.overhead());
}

/// The control totals as a table.
pub(super) fn table(totals: &[ControlTotal]) -> Result<Table, OfficeError> {
    let figure = |name: &'static str, title: &'static str, what: &'static str| {
        Column::new(name, Kind::Rate, title, what).required()
    };
    let columns = vec![
        Column::new("name", Kind::Text, "Name", "The total's word.").required(),
        Column::new("title", Kind::Text, "Title", "What it is.").required(),
        Column::new("unit", Kind::Text, "Unit", "Money in the books' currency, or hours.")
            .required()
            .one_of(&["money", "hours"]),
        figure("this_part", "This part", "In the files of this part."),
        figure("earlier_parts", "Earlier parts", "In the files of the month's earlier parts."),
        figure("month", "Month", "In all parts of the month so far."),
        Column::new("ties_to", Kind::Text, "Ties to", "What the month is held against.").required(),
        figure("against", "Against", "What that says of the month."),
        Column::new("ties", Kind::YesNo, "Ties", "Whether the two are the same to the cent.").required(),
    ];
    let mut table = Table::new(
        "control_totals",
        "Control totals",
        "One row for each total, worked out from these files and held against a second source.",
        &["name"],
        &[],
        columns,
    );
    for total in totals {
        table.add(vec![
            total.name.into(),
            total.title.into(),
            total.unit.into(),
            Cell::Rate(total.part),
            Cell::Rate(total.earlier),
            Cell::Rate(total.month),
            total.ties_to.into(),
            Cell::Rate(total.against),
            total.ties.into(),
        ])?;
    }
    Ok(table)
}

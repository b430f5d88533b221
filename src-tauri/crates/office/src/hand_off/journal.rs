//! The journal: one balanced entry for each fact that moves money, for each person's week, and at the month's end for
//! each job whose earned revenue differs from what was billed.

use super::accounts::{cost_line, meaning};
use super::facts::Facts;
use super::people::source;
use super::view::{View, Why, Work, id, signed};
use crate::paper_error::AddRow;
use desk::Code;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::booked::Booked;
use ledger::closed_lists::{JournalLine, OwedFrom};
use ledger::facts::{Bill, HandedJob, HandedLabor, Invoice, Refund, VendorPayment};
use ledger::{Entry as LedgerEntry, Id};
use paperwork::{Cell, Column, Kind, Link, Table};
use std::collections::BTreeMap;
use trade::Money;

/// What an entry comes from, in the order in which entries of one day stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Origin {
    Bill,
    DirectCost,
    TimeEntry,
    CaughtUp,
    Invoice,
    RetainageRelease,
    Payment,
    Allocation,
    Refund,
    OverheadCost,
    VendorPayment,
    Progress,
    Loss,
}

impl Origin {
    const WORDS: &'static [&'static str] = &[
        "bill",
        "direct-cost",
        "time-entry",
        "labor-caught-up",
        "invoice",
        "retainage-release",
        "payment",
        "allocation",
        "refund",
        "overhead-cost",
        "vendor-payment",
        "progress",
        "loss",
    ];

    const fn as_str(self) -> &'static str {
        match self {
            Origin::Bill => "bill",
            Origin::DirectCost => "direct-cost",
            Origin::TimeEntry => "time-entry",
            Origin::CaughtUp => "labor-caught-up",
            Origin::Invoice => "invoice",
            Origin::RetainageRelease => "retainage-release",
            Origin::Payment => "payment",
            Origin::Allocation => "allocation",
            Origin::Refund => "refund",
            Origin::OverheadCost => "overhead-cost",
            Origin::VendorPayment => "vendor-payment",
            Origin::Progress => "progress",
            Origin::Loss => "loss",
        }
    }
}

/// A line of an entry: a debit above zero, a credit below.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) account: JournalLine,
    pub(super) amount: Money,
    job: Option<Id>,
    code: Option<Id>,
    /// The account, where the line is overhead.
    overhead: Option<Id>,
    text: String,
    source: Option<(String, Id)>,
}

/// An entry.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    date: Date,
    from: Origin,
    pub(super) lines: Vec<Line>,
}

impl Entry {
    fn new(date: Date, from: Origin) -> Entry {
        Entry { date, from, lines: Vec::new() }
    }

    fn add(
        &mut self,
        account: JournalLine,
        amount: Money,
        job: Option<Id>,
        text: &str,
        source: Option<(String, Id)>,
    ) {
        self.add_code(account, amount, (job, None), text, source);
    }

    fn add_code(
        &mut self,
        account: JournalLine,
        amount: Money,
        (job, code): (Option<Id>, Option<Id>),
        text: &str,
        source: Option<(String, Id)>,
    ) {
        if !amount.is_zero() {
            self.lines.push(Line {
                account,
                amount,
                job,
                code,
                overhead: None,
                text: text.to_owned(),
                source,
            });
        }
    }

    fn add_overhead(&mut self, account: Id, amount: Money, text: &str, source: Option<(String, Id)>) {
        self.add(JournalLine::Overhead, amount, None, text, source);
        if let Some(line) = self.lines.last_mut().filter(|line| line.account == JournalLine::Overhead) {
            line.overhead = Some(account);
        }
    }

    fn debits(&self) -> Money {
        self.lines.iter().map(|line| line.amount.max(Money::ZERO)).sum()
    }

    fn balance(&self) -> Money {
        self.lines.iter().map(|line| line.amount).sum()
    }
}

/// A journal: its entries in the order in which they are numbered.
#[derive(Clone, Debug, Default)]
pub(super) struct Journal {
    pub(super) entries: Vec<Entry>,
}

impl Journal {
    /// Debits, which are also credits.
    pub(super) fn debits(&self) -> Money {
        self.entries.iter().map(Entry::debits).sum()
    }

    /// Credits, added up for themselves.
    pub(super) fn credits(&self) -> Money {
        let lines = self.entries.iter().flat_map(|entry| &entry.lines);
        lines.map(|line| (-line.amount).max(Money::ZERO)).sum()
    }

    /// Debits less credits of a line.
    pub(super) fn sum(&self, account: JournalLine) -> Money {
        let lines = self.entries.iter().flat_map(|entry| &entry.lines);
        lines.filter(|line| line.account == account).map(|line| line.amount).sum()
    }

    /// The lines of the journal that are used.
    pub(super) fn used(&self) -> impl Iterator<Item = JournalLine> + '_ {
        JournalLine::ALL.iter().copied().filter(|account| {
            self.entries.iter().flat_map(|entry| &entry.lines).any(|line| line.account == *account)
        })
    }

    /// Makes the journal of some facts, labor and movements.
    pub(super) fn of(
        view: &View<'_>,
        facts: &Facts,
        labor: &[HandedLabor],
        movements: &[HandedJob],
    ) -> Result<Journal, OfficeError> {
        let mut entries = Vec::new();
        for bill in &facts.bills {
            entries.push(of_bill(view, bill)?);
        }
        for cost in &facts.direct_costs {
            let fact = &cost.fact;
            let mut entry = Entry::new(view.within(fact.date), Origin::DirectCost);
            let text = view.told(cost, &fact.description)?;
            let source = named(&cost.entry, cost.id);
            let amount = signed(fact.amount, cost.sign);
            let at = (Some(fact.job), Some(fact.code));
            entry.add_code(cost_line(fact.cost_kind), amount, at, &text, source.clone());
            match fact.equipment {
                Some(account) => entry.add_overhead(account, -amount, &text, source),
                None => entry.add(JournalLine::CostsApplied, -amount, Some(fact.job), &text, source),
            }
            entries.push(entry);
        }
        entries.extend(of_labor(view, view.work(labor)?));
        for invoice in &facts.invoices {
            entries.push(of_invoice(view, invoice)?);
        }
        entries.extend(money_in(view, facts)?);
        entries.extend(money_out(view, facts)?);
        for movement in movements {
            entries.extend(of_movement(view, movement));
        }
        entries.retain(|entry| !entry.lines.is_empty());
        // Sorting keeps the order of devices and numbers within a day and kind.
        entries.sort_by_key(|entry| (entry.date, entry.from));
        if let Some(entry) = entries.iter().find(|entry| !entry.balance().is_zero()) {
            return Err(OfficeError {
                code: Code::Damaged,
                field: None,
                message: format!(
                    "An entry of {} from {} does not balance: {} is left over. Nothing was handed off.",
                    trade::shown::day(entry.date),
                    entry.from.as_str(),
                    entry.balance().grouped()
                ),
                remedy: "Run verify; if it finds nothing, this is a fault of Tearoff's own.".to_owned(),
            });
        }
        Ok(Journal { entries })
    }

    /// The journal as a table.
    pub(super) fn table(&self, view: &View<'_>) -> Result<Table, OfficeError> {
        let mut table = Table::new(
            "journal",
            "Journal",
            "One row for each line of each entry; the debits of an entry equal its credits. Costs and billing stand as \
             they were booked; entries from progress move revenue to what was earned, job by job.",
            &["entry", "line"],
            LINKS,
            columns(),
        );
        for (index, entry) in self.entries.iter().enumerate() {
            let number = format!("{}-{}-{:04}", view.month.month, view.part.number, index + 1);
            for (place, line) in entry.lines.iter().enumerate() {
                let (source, fact) = match &line.source {
                    Some((number, fact)) => (Cell::text(number.clone()), id(*fact)),
                    None => (Cell::Empty, Cell::Empty),
                };
                let is_debit = line.amount > Money::ZERO;
                table.add(vec![
                    Cell::text(number.clone()),
                    Cell::Integer(i64::try_from(place + 1).unwrap_or(i64::MAX)),
                    entry.date.into(),
                    line.account.as_str().into(),
                    Cell::of(view.account_number(line.account, line.overhead)),
                    Cell::text(view.account_name(line.account, line.overhead)),
                    Cell::of(is_debit.then_some(line.amount)),
                    Cell::of((!is_debit).then_some(-line.amount)),
                    Cell::of(line.job.map(|job| view.people.job(job))),
                    Cell::of(line.code.map(|code| view.people.names.code(code))),
                    Cell::text(line.text.clone()),
                    entry.from.as_str().into(),
                    source,
                    fact,
                ])?;
            }
        }
        Ok(table)
    }
}

const LINKS: &[Link] = &[
    Link { column: "account", table: "accounts", to: "account" },
    Link { column: "job", table: "jobs", to: "job" },
];

fn columns() -> Vec<Column> {
    vec![
        Column::new("entry", Kind::Text, "Entry", "Month, part and number of the entry.").required(),
        Column::new("line", Kind::Integer, "Line", "Place of the line in its entry, from 1.").required(),
        Column::new(
            "date",
            Kind::Date,
            "Date",
            "The day in this month to which it is booked; the first, when what it comes from is of a month closed \
             before.",
        )
        .required(),
        Column::new("account", Kind::Text, "Account", "The line of the journal, as listed in accounts.").required(),
        Column::new("account_number", Kind::Text, "Account number", "The firm's own number for it, if it gave one."),
        Column::new(
            "account_name",
            Kind::Text,
            "Account name",
            "The firm's own name for it, else ours; of overhead, its account.",
        )
        .required(),
        Column::new("debit", Kind::Money, "Debit", "Debit; empty on a credit.").not_negative(),
        Column::new("credit", Kind::Money, "Credit", "Credit; empty on a debit.").not_negative(),
        Column::new("job", Kind::Text, "Job", "The job's number."),
        Column::new("code", Kind::Text, "Code", "The cost code."),
        Column::new("text", Kind::Text, "Text", "What it is, for people.").required(),
        Column::new("from", Kind::Text, "From", "What the entry comes from.").required().one_of(Origin::WORDS),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what booked the line, such as A-123."),
        Column::new("fact_id", Kind::Id, "Fact", "The id of the fact that it comes from."),
    ]
}

fn named(entry: &LedgerEntry, fact: Id) -> Option<(String, Id)> {
    Some((source(entry), fact))
}

fn of_bill(view: &View<'_>, booked: &Booked<Bill>) -> Result<Entry, OfficeError> {
    let bill = &booked.fact;
    let mut entry = Entry::new(view.within(bill.date), Origin::Bill);
    let what = if bill.credit { "Credit" } else { "Bill" };
    let whole = format!("{what} {}, {}", bill.reference, view.people.names.vendor(bill.vendor));
    let source = named(&booked.entry, booked.id);
    let mut payable = Money::ZERO;
    let tax_is_cost = view.month.settings.tax_is_cost(bill.date);
    for line in &bill.lines {
        let text = match &line.description {
            Some(description) => view.told(booked, &format!("{whole}, {description}"))?,
            None => view.told(booked, &whole)?,
        };
        let (amount, tax) = (signed(line.amount, booked.sign), signed(line.tax, booked.sign));
        let cost = if tax_is_cost { amount + tax } else { amount };
        let at = (Some(line.job), Some(line.code));
        entry.add_code(cost_line(line.cost_kind), cost, at, &text, source.clone());
        if !tax_is_cost {
            entry.add(JournalLine::SalesTaxPayable, tax, Some(line.job), &text, source.clone());
        }
        payable += amount + tax;
    }
    for line in &bill.overhead {
        let text = match &line.description {
            Some(description) => view.told(booked, &format!("{whole}, {description}"))?,
            None => view.told(booked, &whole)?,
        };
        let cost = signed(line.amount + line.tax, booked.sign);
        entry.add_overhead(line.account, cost, &text, source.clone());
        payable += cost;
    }
    entry.add(JournalLine::Payable, -payable, None, &view.told(booked, &whole)?, source);
    Ok(entry)
}

/// One entry for each person and week, for each reversal of hours, and for what was caught up on each job.
fn of_labor(view: &View<'_>, work: Vec<Work>) -> Vec<Entry> {
    type Group = (Why, Option<Id>, Option<(Id, Date)>);
    let mut groups: BTreeMap<Group, Vec<Work>> = BTreeMap::new();
    for one in work {
        let week = one.time.as_ref().map(|time| (time.person, view.week_of(time.date)));
        let apart = match one.why {
            Why::Reversed => one.line.source,
            Why::CaughtUp => Some(one.line.job),
            Why::Hours | Why::Again => None,
        };
        groups.entry((one.why, apart, week)).or_default().push(one);
    }
    groups.into_iter().map(|((why, _, week), work)| labor_entry(view, why, week, &work)).collect()
}

fn labor_entry(view: &View<'_>, why: Why, week: Option<(Id, Date)>, work: &[Work]) -> Entry {
    let last = work.iter().filter_map(|one| one.time.as_ref()).map(|time| time.date).max();
    let date = last.map_or(view.month.month.last_day(), |date| view.within(date));
    let from = if why == Why::CaughtUp { Origin::CaughtUp } else { Origin::TimeEntry };
    let whole = match week {
        Some((person, week)) => format!("{}, week of {week}", view.people.names.person(person)),
        None => "Labor of earlier weeks, calculated again".to_owned(),
    };
    let text = match (why, work.first().and_then(|one| one.reversal.as_ref())) {
        (Why::Reversed, Some((reverses, reason))) => format!("{whole}: reverses {reverses}: {reason}"),
        (Why::Again, _) => format!("{whole}, calculated again"),
        _ => whole,
    };
    let mut entry = Entry::new(date, from);
    let (mut wages, mut burden) = (Money::ZERO, Money::ZERO);
    for one in work {
        let line = &one.line;
        let source = one.entry.as_ref().and_then(|entry| named(entry, entry.id));
        entry.add_code(JournalLine::CostLabor, one.cost(), (Some(line.job), Some(line.code)), &text, source);
        wages += line.straight + line.premium;
        burden += line.burden;
    }
    entry.add(JournalLine::WagesPayable, -wages, None, &text, None);
    entry.add(JournalLine::BurdenPayable, -burden, None, &text, None);
    entry
}

fn of_invoice(view: &View<'_>, booked: &Booked<Invoice>) -> Result<Entry, OfficeError> {
    let invoice = &booked.fact;
    let mut entry = Entry::new(view.within(invoice.date), Origin::Invoice);
    let what = if invoice.credits.is_some() || invoice.purpose == ledger::closed_lists::InvoiceFor::Credit {
        "Credit memo"
    } else {
        "Invoice"
    };
    let customer = view.people.customer_of(invoice.job);
    let text = view.told(booked, &format!("{what} {}, {customer}", invoice.number))?;
    let source = named(&booked.entry, booked.id);
    let net = signed(invoice.lines.iter().map(|line| line.amount).sum(), booked.sign);
    let (tax, held) = (signed(invoice.tax, booked.sign), signed(invoice.retainage, booked.sign));
    let job = Some(invoice.job);
    // A credit memo that lowers no invoice stands to the customer's credit until it is applied or given back.
    let on_account = invoice.purpose == ledger::closed_lists::InvoiceFor::Credit && invoice.credits.is_none();
    let owed = if on_account { JournalLine::CustomerCredit } else { JournalLine::Receivable };
    entry.add(owed, net + tax - held, job, &text, source.clone());
    entry.add(JournalLine::RetainageReceivable, held, job, &text, source.clone());
    entry.add(JournalLine::Revenue, -net, job, &text, source.clone());
    entry.add(JournalLine::SalesTaxPayable, -tax, job, &text, source);
    Ok(entry)
}

/// Retainage that falls due, payments, what is applied to invoices, and what is given back.
fn money_in(view: &View<'_>, facts: &Facts) -> Result<Vec<Entry>, OfficeError> {
    let people = &view.people;
    let mut entries = Vec::new();
    for booked in &facts.releases {
        let release = &booked.fact;
        let mut entry = Entry::new(view.within(release.date), Origin::RetainageRelease);
        let text = format!("Retainage of invoice {} falls due", people.number(Some(release.invoice))?);
        let (text, job) = (view.told(booked, &text)?, people.job_of_invoice(release.invoice)?);
        let (amount, source) = (signed(release.amount, booked.sign), named(&booked.entry, booked.id));
        entry.add(JournalLine::Receivable, amount, job, &text, source.clone());
        entry.add(JournalLine::RetainageReceivable, -amount, job, &text, source);
        entries.push(entry);
    }
    for booked in &facts.payments {
        let payment = &booked.fact;
        let mut entry = Entry::new(view.within(payment.date), Origin::Payment);
        let reference = payment.reference.as_deref().map(|text| format!(" {text}")).unwrap_or_default();
        let text = format!(
            "Payment by {}{reference}, {}",
            payment.method.as_str(),
            people.names.customer(payment.customer)
        );
        let text = view.told(booked, &text)?;
        let (amount, source) = (signed(payment.amount, booked.sign), named(&booked.entry, booked.id));
        entry.add(JournalLine::Bank, amount, None, &text, source.clone());
        entry.add(JournalLine::CustomerCredit, -amount, None, &text, source);
        entries.push(entry);
    }
    for booked in &facts.allocations {
        let allocation = &booked.fact;
        let mut entry = Entry::new(view.within(allocation.date), Origin::Allocation);
        let invoice = people.number(Some(allocation.invoice))?;
        let text = match allocation.credit {
            Some(credit) => {
                format!("Credit memo {} applied to invoice {invoice}", people.number(Some(credit))?)
            }
            None => format!("Payment applied to invoice {invoice}"),
        };
        let (text, job) = (view.told(booked, &text)?, people.job_of_invoice(allocation.invoice)?);
        let of_credit = allocation.credit.map(|credit| people.job_of_invoice(credit)).transpose()?.flatten();
        let (amount, source) = (signed(allocation.amount, booked.sign), named(&booked.entry, booked.id));
        entry.add(JournalLine::CustomerCredit, amount, of_credit, &text, source.clone());
        entry.add(JournalLine::Receivable, -amount, job, &text, source);
        entries.push(entry);
    }
    for booked in &facts.refunds {
        entries.push(of_refund(view, booked)?);
    }
    Ok(entries)
}

/// Money given back: it leaves the bank, and the customer's credit with it.
fn of_refund(view: &View<'_>, booked: &Booked<Refund>) -> Result<Entry, OfficeError> {
    let (refund, people) = (&booked.fact, &view.people);
    let mut entry = Entry::new(view.within(refund.date), Origin::Refund);
    let reference = refund.reference.as_deref().map(|text| format!(" {text}")).unwrap_or_default();
    let customer = people.names.customer(refund.customer);
    let text = format!("Refund by {}{reference}, {customer}", refund.method.as_str());
    let text = view.told(booked, &text)?;
    let job = refund.credit.map(|credit| people.job_of_invoice(credit)).transpose()?.flatten();
    let (amount, source) = (signed(refund.amount, booked.sign), named(&booked.entry, booked.id));
    entry.add(JournalLine::CustomerCredit, amount, job, &text, source.clone());
    entry.add(JournalLine::Bank, -amount, None, &text, source);
    Ok(entry)
}

/// What the firm costs without a bill, and what its vendors are paid.
fn money_out(view: &View<'_>, facts: &Facts) -> Result<Vec<Entry>, OfficeError> {
    let mut entries = Vec::new();
    for booked in &facts.overhead_costs {
        let cost = &booked.fact;
        let mut entry = Entry::new(view.within(cost.date), Origin::OverheadCost);
        let text = view.told(booked, &cost.description)?;
        let (amount, source) = (signed(cost.amount, booked.sign), named(&booked.entry, booked.id));
        entry.add_overhead(cost.account, amount, &text, source.clone());
        let from = match cost.owed_from {
            OwedFrom::Bank => JournalLine::Bank,
            OwedFrom::Wages => JournalLine::WagesPayable,
            OwedFrom::SetAside => JournalLine::SetAside,
        };
        entry.add(from, -amount, None, &text, source);
        entries.push(entry);
    }
    for booked in &facts.vendor_payments {
        entries.push(of_vendor_payment(view, booked)?);
    }
    Ok(entries)
}

/// What was paid leaves the bank, and with what was let off it is no longer owed.
fn of_vendor_payment(view: &View<'_>, booked: &Booked<VendorPayment>) -> Result<Entry, OfficeError> {
    let payment = &booked.fact;
    let mut entry = Entry::new(view.within(payment.date), Origin::VendorPayment);
    let reference = payment.reference.as_deref().map(|text| format!(" {text}")).unwrap_or_default();
    let vendor = view.people.names.vendor(payment.vendor);
    let whole = format!("Paid by {}{reference}, {vendor}", payment.method.as_str());
    let source = named(&booked.entry, booked.id);
    for line in &payment.bills {
        let bill = view.people.number(Some(line.bill))?;
        let text = view.told(booked, &format!("{whole}, bill {bill}"))?;
        let (amount, discount) = (signed(line.amount, booked.sign), signed(line.discount, booked.sign));
        entry.add(JournalLine::Payable, amount + discount, None, &text, source.clone());
        entry.add(JournalLine::DiscountsTaken, -discount, None, &text, source.clone());
    }
    let paid = signed(payment.total(), booked.sign);
    entry.add(JournalLine::Bank, -paid, None, &view.told(booked, &whole)?, source);
    Ok(entry)
}

/// What moves a job's revenue from billed to earned, and the loss foreseen on it. Jobs are never netted.
fn of_movement(view: &View<'_>, movement: &HandedJob) -> [Entry; 2] {
    let last = view.month.month.last_day();
    let job = Some(movement.job);
    let number = view.people.job(movement.job);
    let mut progress = Entry::new(last, Origin::Progress);
    let text = format!("Job {number}: revenue to what was earned");
    progress.add(JournalLine::UnderBilled, movement.under_billed, job, &text, None);
    progress.add(JournalLine::OverBilled, -movement.over_billed, job, &text, None);
    progress.add(JournalLine::Revenue, movement.over_billed - movement.under_billed, job, &text, None);
    let mut loss = Entry::new(last, Origin::Loss);
    let text = format!("Job {number}: loss foreseen");
    loss.add(JournalLine::LossExpense, movement.loss_provision, job, &text, None);
    loss.add(JournalLine::LossProvision, -movement.loss_provision, job, &text, None);
    [progress, loss]
}

/// The accounts as a table.
pub(super) fn accounts_table(view: &View<'_>) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("account", Kind::Text, "Account", "The line of the journal.").required(),
        Column::new("title", Kind::Text, "Title", "Our name for it.").required(),
        Column::new("number", Kind::Text, "Number", "The firm's own number for it, if it gave one."),
        Column::new("firm_name", Kind::Text, "Firm's name", "The firm's own name for it, if it gave one."),
        Column::new("meaning", Kind::Text, "Meaning", "What stands in it.").required(),
    ];
    let mut table = Table::new(
        "accounts",
        "Accounts",
        "One row for each line of the journal, used or not, with the firm's own account name for it.",
        &["account"],
        &[],
        columns,
    );
    for account in JournalLine::ALL {
        let (title, what) = meaning(*account);
        table.add(vec![
            account.as_str().into(),
            title.into(),
            Cell::of(view.accounts.number(*account)),
            Cell::of(view.accounts.own(*account)),
            what.into(),
        ])?;
    }
    Ok(table)
}

//! What must be settled before a month is closed, each with where it is settled.

use crate::billing::bank::open_through;
use crate::billing::payables::open_bills;
use crate::billing::subcontractors::papers_of;
use crate::billing::terms::{Departure, Term, departures};
use crate::job::colors::colored_parts;
use crate::job::papers_owed::{PaperOwed, papers_owed};
use crate::job::snapshot::{ChangeState, JobSnapshot, WorkState};
use crate::month::overhead::recurring_of;
use crate::month::owed::{CreditFrom, owed};
use crate::phrase::damage;
use crate::question::asked::Question;
use crate::question::{decided, questions_of};
use desk::OfficeError;
use desk::names::Names;
use desk::{Act, Desk};
use jiff::civil::Date;
use ledger::closed_lists::{InvoiceFor, JobStatusWord, Role};
use ledger::facts::{
    Bill, BurdenRate, ColorChoice, Invoice, PayRate, PurchaseOrder, TimeEntry, VendorPayment,
};
use ledger::totals::CodeTotals;
use ledger::{Books, Calendar, Entered, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::shown::{day, in_sentence};
use trade::{Money, Month};

/// What kind of loose end it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum LooseEndKind {
    /// A hidden condition beyond the included sheets with no change order, or one that waits.
    ConditionWithoutDecision,
    /// Work on a hidden condition before the homeowner's decision.
    WorkAtRisk,
    /// A hidden condition on an ended job that nobody ever asked to be paid for.
    ForgottenCondition,
    /// A repair of what the roof rests on was declined, and the owner has not said what becomes of it.
    DeclinedRepair,
    /// A change order of which nobody has said what it should cost: a crew asks without knowing it.
    ChangeWithoutCost,
    /// Decisions to a change order that contradict each other.
    ContradictingDecisions,
    /// Approved and not billed on an ended job.
    ApprovedNotBilled,
    /// An ended job that is not billed in full.
    EndedNotBilled,
    /// A part of a contract comes in colors, and none is chosen: it cannot be ordered.
    OpenColor,
    /// Ordered, due by now, and no bill.
    OrderWithoutBill,
    /// Work on a house built before 1978, and no pamphlet on lead in time is recorded.
    LeadPamphletMissing,
    /// Insulation was put in on a finished job, and no receipt of it is recorded.
    InsulationReceiptMissing,
    /// A week in which a crew worked and one of its people has no hours.
    WeekWithoutTimeEntries,
    /// Hours of somebody who has no pay rate on that day.
    HoursWithoutPay,
    /// Hours whose burden goes by a wage base of an earlier year.
    WageBaseOfAnotherYear,
    /// Money that came and is neither applied to an invoice nor given back.
    UnappliedPayment,
    /// Facts of several devices that contradict each other.
    Question,
    /// A credit memo that is neither applied to an invoice nor given back.
    UnappliedCredit,
    /// Money spent on a job without a contract.
    CostWithoutContract,
    /// More billed than the contract holds.
    BilledBeyondContract,
    /// Something still ordered for a job that has ended.
    OrderOnEndedJob,
    /// A cost that comes again was due, and no bill or cost says that it is it.
    RecurringNotRecorded,
    /// A bill that is not what was ordered or came, and is not paid yet.
    BillNotAsOrdered,
    /// A subcontractor was paid whose number for the tax office or W-9 is missing.
    SubcontractorWithoutW9,
    /// A subcontractor was paid who was not known to be insured that day.
    SubcontractorUninsured,
    /// Retainage of an invoice that is not what the contract holds.
    RetainageNotAsAgreed,
    /// Sales tax of an invoice that the firm's rule does not give.
    SalesTaxNotByRule,
    /// A line of the bank of the month, or from before it, and nobody has said what it is.
    BankLineUnmatched,
}
trade::closed_list!(LooseEndKind, "kind of loose end", {
    ConditionWithoutDecision => "condition-without-decision": "Conditions without a decision",
    WorkAtRisk => "work-at-risk": "Work at risk",
    ForgottenCondition => "forgotten-condition": "Repaired, never asked for",
    DeclinedRepair => "declined-repair": "Declined, and the roof rests on it",
    ChangeWithoutCost => "change-without-cost": "Change orders without their cost",
    ContradictingDecisions => "contradicting-decisions": "Decisions that contradict each other",
    ApprovedNotBilled => "approved-not-billed": "Approved, not billed",
    EndedNotBilled => "ended-not-billed": "Ended, not billed in full",
    OpenColor => "open-color": "Colors still open",
    OrderWithoutBill => "order-without-bill": "Ordered, no bill",
    LeadPamphletMissing => "lead-pamphlet-missing": "Houses from before 1978 without the pamphlet on lead",
    InsulationReceiptMissing => "insulation-receipt-missing": "Insulation without its receipt",
    WeekWithoutTimeEntries => "week-without-time-entries": "Weeks without time cards",
    HoursWithoutPay => "hours-without-pay": "Hours without a pay rate",
    WageBaseOfAnotherYear => "wage-base-of-another-year": "Wage bases of an earlier year",
    UnappliedPayment => "unapplied-payment": "Payments not applied to an invoice",
    Question => "question": "Devices that contradict each other",
    UnappliedCredit => "unapplied-credit": "Credit memos not applied to an invoice",
    CostWithoutContract => "cost-without-contract": "Cost without a contract",
    BilledBeyondContract => "billed-beyond-contract": "Billed beyond the contract",
    OrderOnEndedJob => "order-on-ended-job": "Ordered for an ended job",
    RecurringNotRecorded => "recurring-not-recorded": "Due again, not recorded",
    BillNotAsOrdered => "bill-not-as-ordered": "Bills that are not as ordered",
    SubcontractorWithoutW9 => "subcontractor-without-w9": "Subcontractors without number or W-9",
    SubcontractorUninsured => "subcontractor-uninsured": "Subcontractors not known to be insured",
    RetainageNotAsAgreed => "retainage-not-as-agreed": "Retainage not as agreed",
    SalesTaxNotByRule => "sales-tax-not-by-rule": "Sales tax that no rule gives",
    BankLineUnmatched => "bank-line-unmatched": "Lines of the bank not matched",
});

/// One loose end.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct LooseEnd {
    /// Its kind.
    pub kind: LooseEndKind,
    /// The job's number, where it belongs to one.
    pub job: Option<String>,
    /// The fact to go to, where there is one.
    pub fact: Option<String>,
    /// What it is, in a sentence.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
    /// The money in it, where there is any.
    pub amount: Option<Money>,
}

impl LooseEndKind {
    /// Whether whoever keeps the books can settle it: it is about bills and payments, and says nothing of what a job
    /// makes.
    #[must_use]
    pub const fn is_of_books(self) -> bool {
        matches!(
            self,
            LooseEndKind::OrderWithoutBill
                | LooseEndKind::UnappliedPayment
                | LooseEndKind::UnappliedCredit
                | LooseEndKind::RecurringNotRecorded
                | LooseEndKind::BillNotAsOrdered
                | LooseEndKind::RetainageNotAsAgreed
                | LooseEndKind::SalesTaxNotByRule
                | LooseEndKind::BankLineUnmatched
        )
    }
}

/// The loose ends of a month; of them, for whoever is not told of all, those of the books.
///
/// # Errors
/// When the facts cannot be read.
pub fn loose_ends(desk: &Desk, month: Month) -> Result<Vec<LooseEnd>, OfficeError> {
    let whole = desk.may(Act::SeeQuestions)?;
    let mut ends = desk.books().in_one_read(|books| loose_ends_of(books, month))?;
    ends.retain(|end| whole || end.kind.is_of_books());
    Ok(ends)
}

pub(crate) fn loose_ends_of(books: Books<'_>, month: Month) -> Result<Vec<LooseEnd>, OfficeError> {
    let calendar = books.calendar()?;
    let names = Names::read(books)?;
    let mut ends = Vec::new();
    let at_work = books.jobs_at_work(&calendar, month)?;
    JobSnapshot::gather_each(books, &calendar, at_work, month, |standing| {
        let number = names.job_number(standing.job);
        of_conditions(&standing, &number, &mut ends);
        of_changes(&standing, &number, &mut ends);
        of_billing(&standing, &number, &mut ends);
        of_colors(books, &calendar, &standing, &number, &mut ends)?;
        of_contract(&standing, &number, &mut ends);
        of_orders(books, &calendar, &standing, &names, &mut ends)?;
        of_papers(books, &standing, &number, &mut ends)
    })?;
    of_invoices(books, &names, month, &mut ends)?;
    of_time(books, &names, month, &mut ends)?;
    of_wage_bases(books, month, &mut ends)?;
    of_credits(books, &calendar, month, &mut ends)?;
    of_questions(books, &names, month, &mut ends)?;
    of_recurring(books, &names, month, &mut ends)?;
    of_bills(books, &names, month, &mut ends)?;
    of_subcontractors(books, &names, month, &mut ends)?;
    of_bank(books, month, &mut ends)?;
    ends.sort_by(|left, right| {
        (left.kind, &left.job, &left.text).cmp(&(right.kind, &right.job, &right.text))
    });
    Ok(ends)
}

fn of_conditions(standing: &JobSnapshot, job: &str, ends: &mut Vec<LooseEnd>) {
    for condition in standing.conditions.iter().filter(|condition| condition.used.beyond.is_positive()) {
        let what = format!(
            "Condition {} of job {job} ({} at the {})",
            condition.condition.number,
            damage(condition.condition.count, condition.condition.damaged, condition.condition.counted_in),
            in_sentence(condition.condition.place.label())
        );
        let end = |kind, text: String, remedy: &str, amount| LooseEnd {
            kind,
            job: Some(job.to_owned()),
            fact: Some(condition.id.to_string()),
            text,
            remedy: remedy.to_owned(),
            amount,
        };
        if condition.awaits_owner() {
            let text = format!(
                "The homeowner declined the repair of what the roof rests on. {what} stops the work."
            );
            ends.push(end(
                LooseEndKind::DeclinedRepair,
                text,
                "Decide what becomes of it: repaired at the firm's own cost, by others, or stopped there.",
                None,
            ));
        }
        if condition.work == WorkState::AtRisk && !standing.is_ended() {
            let text = format!("{what} is being repaired without the homeowner's decision.");
            ends.push(end(
                LooseEndKind::WorkAtRisk,
                text,
                "Get the decision before more is spent.",
                Some(condition.spent),
            ));
        } else if standing.is_ended() && !condition.asked && condition.spent.is_positive() {
            let text = format!("{what} was repaired and nobody asked to be paid for it.");
            let remedy = "Put a change order to the homeowner, or accept the unrecovered cost by closing.";
            ends.push(end(LooseEndKind::ForgottenCondition, text, remedy, Some(condition.unrecovered)));
        } else if !standing.is_ended() && (!condition.asked || condition.waiting) {
            let text = format!("{what} has no decision yet.");
            ends.push(end(
                LooseEndKind::ConditionWithoutDecision,
                text,
                "Make its change order, or get the decision.",
                None,
            ));
        }
    }
}

fn of_changes(standing: &JobSnapshot, job: &str, ends: &mut Vec<LooseEnd>) {
    for change in &standing.changes {
        let end = |kind, text: String, remedy: &str, amount| LooseEnd {
            kind,
            job: Some(job.to_owned()),
            fact: Some(change.id.to_string()),
            text,
            remedy: remedy.to_owned(),
            amount,
        };
        if change.contradicted {
            let text = format!(
                "Change order {} of job {job} has decisions that contradict each other.",
                change.order.number
            );
            let remedy = "Ask the homeowner and record the decision that holds.";
            ends.push(end(LooseEndKind::ContradictingDecisions, text, remedy, None));
        }
        if change.lacks_cost() {
            let text = format!(
                "Nobody has said what change order {} of job {job} should cost the firm.",
                change.order.number
            );
            let remedy = "Fill its cost in; until then it counts at its price, without margin.";
            let open = change.order.lines.iter().filter(|line| line.cost.is_none());
            let amount = open.map(|line| line.price).sum();
            ends.push(end(LooseEndKind::ChangeWithoutCost, text, remedy, Some(amount)));
        }
        let unbilled = change.owed() - change.invoiced;
        if standing.is_ended() && unbilled.is_positive() && change.state() != ChangeState::Withdrawn {
            let text = format!(
                "Change order {} of job {job} is approved and {} of it is not billed.",
                change.order.number,
                unbilled.grouped()
            );
            ends.push(end(
                LooseEndKind::ApprovedNotBilled,
                text,
                "Bill it on a final or change-order invoice.",
                Some(unbilled),
            ));
        }
    }
}

fn of_billing(standing: &JobSnapshot, job: &str, ends: &mut Vec<LooseEnd>) {
    let money = &standing.money;
    let unbilled = money.price + money.change_price + money.hidden_price - money.billed;
    let finished = matches!(standing.ended, Some((JobStatusWord::Finished, _)));
    if finished && unbilled.is_positive() {
        ends.push(LooseEnd {
            kind: LooseEndKind::EndedNotBilled,
            job: Some(job.to_owned()),
            fact: None,
            text: format!("Job {job} is finished and {} of its contract is not billed.", unbilled.grouped()),
            remedy: "Issue the final invoice.".to_owned(),
            amount: Some(unbilled),
        });
    }
}

fn of_colors(
    books: Books<'_>,
    calendar: &Calendar,
    standing: &JobSnapshot,
    job: &str,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    let Some(contract) = standing.contract.as_ref().filter(|_| !standing.is_ended()) else { return Ok(()) };
    let choices =
        books.live_at(calendar, ColorChoice::job, standing.job, standing.month, |fact| fact.date)?;
    let choices: Vec<ColorChoice> = choices.into_iter().map(|held| held.fact).collect();
    for part in colored_parts(books, &contract.fact, &choices)?.iter().filter(|part| part.is_open()) {
        ends.push(LooseEnd {
            kind: LooseEndKind::OpenColor,
            job: Some(job.to_owned()),
            fact: Some(contract.entry.id.to_string()),
            text: format!("The color of {} for job {job} is open.", part.title),
            remedy: "Choose it with the homeowner before it is ordered.".to_owned(),
            amount: None,
        });
    }
    Ok(())
}

/// Money spent before there is a price for it, and money asked for beyond the price. A canceled job is worth what was
/// billed for it, and nothing more is to be done.
fn of_contract(standing: &JobSnapshot, job: &str, ends: &mut Vec<LooseEnd>) {
    if matches!(standing.ended, Some((JobStatusWord::Canceled, _))) {
        return;
    }
    let mut end = |kind, text: String, remedy: &str, amount| {
        let (job, remedy) = (Some(job.to_owned()), remedy.to_owned());
        ends.push(LooseEnd { kind, job, fact: None, text, remedy, amount: Some(amount) });
    };
    let cost: Money = standing.codes.values().map(CodeTotals::spent).sum();
    if standing.contract.is_none() && cost.is_positive() {
        let text = format!("{} is spent on job {job}, which has no contract.", cost.grouped());
        let remedy = "Record its contract, or book the cost on the job that it was for.";
        end(LooseEndKind::CostWithoutContract, text, remedy, cost);
    }
    let money = &standing.money;
    let beyond = money.billed - (money.price + money.change_price + money.hidden_price);
    if beyond.is_positive() {
        let text = if standing.contract.is_none() {
            format!("{} is billed on job {job}, which has no contract.", beyond.grouped())
        } else {
            format!("On job {job}, {} more than its contract is billed.", beyond.grouped())
        };
        let remedy = "Record the contract or change order that it is for, or issue a credit memo.";
        end(LooseEndKind::BilledBeyondContract, text, remedy, beyond);
    }
}

/// What is still ordered though the job has ended, and what should have come by now and has no bill.
fn of_orders(
    books: Books<'_>,
    calendar: &Calendar,
    standing: &JobSnapshot,
    names: &Names,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    let committed: Money = standing.codes.values().map(|code| code.committed).sum();
    if committed.is_zero() {
        return Ok(());
    }
    let last = standing.month.last_day();
    let orders =
        books.live_at(calendar, PurchaseOrder::job, standing.job, standing.month, |fact| fact.date)?;
    for order in orders {
        let id = order.entry.id;
        let bills = books.live_at(calendar, Bill::purchase_order, id, standing.month, |fact| fact.date)?;
        let bills: Vec<Bill> = bills.into_iter().map(|held| held.fact).collect();
        let number = names.job_number(standing.job);
        let open = still_ordered(&order.fact, &bills);
        let what = format!("Order {} from {}", order.fact.number, names.vendor(order.fact.vendor));
        let (kind, text, remedy) = if standing.is_ended() && open.is_positive() {
            let text = format!("{what} has {} still to come, and job {number} has ended.", open.grouped());
            let remedy = "Ask for the bill, mark the last one as completing the order, or reverse the order.";
            (LooseEndKind::OrderOnEndedJob, text, remedy)
        } else if bills.is_empty() && order.fact.expected_on.is_some_and(|day| day <= last) {
            let text = format!("{what} for job {number} was due by the month's end and has no bill.");
            let remedy = "Ask for the bill, or reverse the order if it will not come.";
            (LooseEndKind::OrderWithoutBill, text, remedy)
        } else {
            continue;
        };
        ends.push(LooseEnd {
            kind,
            job: Some(number),
            fact: Some(id.to_string()),
            text,
            remedy: remedy.to_owned(),
            amount: Some(open),
        });
    }
    Ok(())
}

fn of_papers(
    books: Books<'_>,
    standing: &JobSnapshot,
    job: &str,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    for paper in papers_owed(books, standing)? {
        let (kind, text, remedy) = match paper {
            PaperOwed::LeadPamphlet(missing) => (
                LooseEndKind::LeadPamphletMissing,
                format!("Job {job}: {missing}"),
                "Record it if it was given; else give it, and check with your state and a lawyer what else to do.",
            ),
            PaperOwed::InsulationReceipt => (
                LooseEndKind::InsulationReceiptMissing,
                format!(
                    "Job {job} is finished, insulation is part of it, and no receipt of it is recorded (16 CFR 460.17)."
                ),
                "Record what was put in where, print the receipt and have the installer sign it.",
            ),
        };
        ends.push(LooseEnd {
            kind,
            job: Some(job.to_owned()),
            fact: None,
            text,
            remedy: remedy.to_owned(),
            amount: None,
        });
    }
    Ok(())
}

/// Ordered less received, code by code, as it counts as committed: nothing once a bill completes the order.
fn still_ordered(order: &PurchaseOrder, bills: &[Bill]) -> Money {
    if bills.iter().any(|bill| bill.completes_order) {
        return Money::ZERO;
    }
    let mut open: BTreeMap<Id, Money> = BTreeMap::new();
    for line in &order.lines {
        *open.entry(line.code).or_default() += line.amount;
    }
    for line in bills.iter().flat_map(|bill| &bill.lines).filter(|line| line.job == order.job) {
        if let Some(left) = open.get_mut(&line.code) {
            *left -= line.amount;
        }
    }
    open.into_values().map(|left| left.max(Money::ZERO)).sum()
}

/// Invoices of the month whose tax or retainage is not what rule and contract say.
fn of_invoices(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    let booked = books.booked_in::<Invoice>(month)?;
    let reversed: BTreeSet<Id> = booked.iter().filter(|one| one.sign < 0).map(|one| one.id).collect();
    for one in booked.iter().filter(|one| one.sign > 0 && !reversed.contains(&one.id)) {
        let invoice = &one.fact;
        let credit = invoice.purpose == InvoiceFor::Credit;
        let what = if credit { "Credit memo" } else { "Invoice" };
        let job = names.job_number(invoice.job);
        let what = format!("{what} {} of job {job}", invoice.number);
        for departure in departures(books, invoice)? {
            ends.push(departed(&departure, &what, &job, one.id));
        }
    }
    Ok(())
}

fn departed(departure: &Departure, what: &str, job: &str, invoice: Id) -> LooseEnd {
    let (kind, remedy) = match departure.of {
        Term::SalesTax => (
            LooseEndKind::SalesTaxNotByRule,
            "Check which lines are taxed; issue it anew, or accept it by closing.",
        ),
        Term::Retainage => (
            LooseEndKind::RetainageNotAsAgreed,
            "Check it against the contract; issue it anew, or accept it by closing.",
        ),
    };
    LooseEnd {
        kind,
        job: Some(job.to_owned()),
        fact: Some(invoice.to_string()),
        text: departure.text(what),
        remedy: remedy.to_owned(),
        amount: Some(departure.typed - departure.ruled),
    }
}

/// Hours of a month by person and day, with the crew they worked with.
fn hours_in(books: Books<'_>, month: Month) -> Result<BTreeMap<(Id, Date), Option<Id>>, OfficeError> {
    let mut hours = BTreeMap::new();
    for booked in books.booked_in::<TimeEntry>(month)? {
        let key = (booked.fact.person, booked.fact.date);
        if booked.sign > 0 {
            hours.insert(key, booked.fact.crew);
        } else {
            hours.remove(&key);
        }
    }
    Ok(hours)
}

fn of_time(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    let hours = hours_in(books, month)?;
    let weeks = books.work_weeks(&books.calendar()?)?;
    let week_of = |day: Date| weeks.week(day).first;
    let mut crew_weeks: BTreeSet<(Id, Date)> = BTreeSet::new();
    let mut person_weeks: BTreeSet<(Id, Date)> = BTreeSet::new();
    for ((person, day), crew) in &hours {
        let home = names.people.get(person).and_then(|person| person.crew);
        person_weeks.insert((*person, week_of(*day)));
        if let Some(crew) = crew.or(home) {
            crew_weeks.insert((crew, week_of(*day)));
        }
    }
    let mut paid: BTreeMap<Id, Date> = BTreeMap::new();
    for rate in books.all::<PayRate>()? {
        let from = paid.entry(rate.fact.person).or_insert(rate.fact.date);
        *from = rate.fact.date.min(*from);
    }
    for (crew, week) in crew_weeks {
        let inside = month.contains(week) && month.contains(weeks.week(week).last);
        if !inside {
            continue;
        }
        for (id, person) in names.people.iter().filter(|(_, person)| person.crew == Some(crew)) {
            // Nobody is missed before the week in which their pay began.
            let employed = paid.get(id).is_some_and(|from| *from <= week);
            let here = employed && person.role == Role::Crew && person.left_on.is_none_or(|left| left > week);
            if here && !person_weeks.contains(&(*id, week)) {
                ends.push(LooseEnd {
                    kind: LooseEndKind::WeekWithoutTimeEntries,
                    job: None,
                    fact: Some(id.to_string()),
                    text: format!(
                        "{} has no hours in the week of {}, in which {} worked.",
                        person.name,
                        day(week),
                        names.crew(crew)
                    ),
                    remedy: "Type the time card, or accept that there were none by closing.".to_owned(),
                    amount: None,
                });
            }
        }
    }
    let unpaid: BTreeSet<Id> =
        hours.keys().map(|(person, _)| *person).filter(|person| !paid.contains_key(person)).collect();
    for person in unpaid {
        ends.push(LooseEnd {
            kind: LooseEndKind::HoursWithoutPay,
            job: None,
            fact: Some(person.to_string()),
            text: format!(
                "{} has hours, and no pay rate is recorded; they cost nothing so far.",
                names.person(person)
            ),
            remedy: "Record what an hour of theirs is paid.".to_owned(),
            amount: None,
        });
    }
    Ok(())
}

/// Wage bases are set year by year: one that is older than the hours it is taken for is told, until the year's own is
/// recorded, even where it stayed the same.
fn of_wage_bases(books: Books<'_>, month: Month, ends: &mut Vec<LooseEnd>) -> Result<(), OfficeError> {
    if books.booked_in::<TimeEntry>(month)?.is_empty() {
        return Ok(());
    }
    let mut newest: BTreeMap<(String, Option<String>), (Id, BurdenRate)> = BTreeMap::new();
    for Entered { entry, fact, .. } in books.all::<BurdenRate>()? {
        let known = newest.get(&(fact.name.clone(), fact.class.clone()));
        if fact.date <= month.last_day() && known.is_none_or(|(_, known)| known.date <= fact.date) {
            newest.insert((fact.name.clone(), fact.class.clone()), (entry.id, fact));
        }
    }
    for (id, burden) in newest.into_values() {
        let Some(base) = burden.wage_base else { continue };
        if burden.date.year() < month.year() {
            ends.push(LooseEnd {
                kind: LooseEndKind::WageBaseOfAnotherYear,
                job: None,
                fact: Some(id.to_string()),
                text: format!(
                    "The wage base of {}, {}, and its rate are those of {}; they are used for {} too.",
                    burden.name,
                    base.grouped(),
                    burden.date.year(),
                    month.year()
                ),
                remedy: format!(
                    "Record those of {} from January 1 on, even if they stayed the same.",
                    month.year()
                ),
                amount: None,
            });
        }
    }
    Ok(())
}

/// What customers have to their credit: it is applied to an invoice or given back.
fn of_credits(
    books: Books<'_>,
    calendar: &Calendar,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    for credit in owed(books, calendar, month)?.on_account {
        let (kind, what) = match credit.from {
            CreditFrom::Payment => (LooseEndKind::UnappliedPayment, "the payment"),
            CreditFrom::CreditMemo => (LooseEndKind::UnappliedCredit, "credit memo"),
        };
        let text = format!(
            "{} of {what} {} of {} for {} is neither applied to an invoice nor given back.",
            credit.left.grouped(),
            credit.name,
            day(credit.date),
            credit.customer
        );
        ends.push(LooseEnd {
            kind,
            job: None,
            fact: Some(credit.id),
            text,
            remedy: "Apply it to an invoice, or record the refund.".to_owned(),
            amount: Some(credit.left),
        });
    }
    Ok(())
}

/// Costs that come again and were due in the month.
fn of_recurring(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    for cost in recurring_of(books, names, month)?.into_iter().filter(|cost| !cost.recorded) {
        let Some(due) = cost.due else { continue };
        ends.push(LooseEnd {
            kind: LooseEndKind::RecurringNotRecorded,
            job: None,
            fact: Some(cost.id),
            text: format!(
                "{} ({}) was due on {} and is not recorded.",
                cost.description,
                cost.name,
                day(due)
            ),
            remedy: "Record it, or say that it has ended.".to_owned(),
            amount: Some(cost.amount),
        });
    }
    Ok(())
}

/// Open bills that are not what was ordered or came.
fn of_bills(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    for bill in open_bills(books, names, month, month.last_day())? {
        for difference in &bill.differences {
            ends.push(LooseEnd {
                kind: LooseEndKind::BillNotAsOrdered,
                job: None,
                fact: Some(bill.source.id.clone()),
                text: format!("Bill {} of {}: {}", bill.number, bill.vendor, difference.text),
                remedy: "Ask the vendor for a credit, or pay it as it is.".to_owned(),
                amount: Some(difference.asked),
            });
        }
    }
    Ok(())
}

/// Lines of the bank through the month that nobody has said anything of.
fn of_bank(books: Books<'_>, month: Month, ends: &mut Vec<LooseEnd>) -> Result<(), OfficeError> {
    for (statement, line) in open_through(books, month)? {
        ends.push(LooseEnd {
            kind: LooseEndKind::BankLineUnmatched,
            job: None,
            fact: Some(statement.to_string()),
            text: format!(
                "{} at the bank on {} is not matched: {}.",
                line.amount.grouped(),
                day(line.date),
                line.words
            ),
            remedy: "Match it with its payment, record what is missing, or say what it is.".to_owned(),
            amount: Some(line.amount.abs()),
        });
    }
    Ok(())
}

/// Subcontractors that were paid in the month without what they are to hand in.
fn of_subcontractors(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    let paid = books.dated_between::<VendorPayment>(month.first_day(), month.last_day())?;
    let papers = papers_of(books)?;
    let mut last: BTreeMap<Id, Date> = BTreeMap::new();
    for payment in paid.into_iter().map(|held| held.fact) {
        if names.vendors.get(&payment.vendor).is_some_and(|vendor| vendor.subcontractor) {
            let day = last.entry(payment.vendor).or_insert(payment.date);
            *day = (*day).max(payment.date);
        }
    }
    for (vendor, paid_on) in last {
        let handed_in = papers.get(&vendor).cloned().unwrap_or_default();
        let mut tell = |kind, text: String, remedy: &str| {
            let remedy = remedy.to_owned();
            ends.push(LooseEnd {
                kind,
                job: None,
                fact: Some(vendor.to_string()),
                text,
                remedy,
                amount: None,
            });
        };
        let (name, paid_on_day) = (names.vendor(vendor), day(paid_on));
        if handed_in.tin.is_none() || handed_in.w9_signed.is_none() {
            let text = format!(
                "{name} was paid on {paid_on_day}, and their number for the tax office or W-9 is missing."
            );
            tell(LooseEndKind::SubcontractorWithoutW9, text, "Ask for a signed W-9 and record it.");
        }
        if handed_in.insured_until.is_none_or(|until| until < paid_on) {
            let text = match handed_in.insured_until {
                Some(until) => {
                    format!(
                        "{name} was paid on {paid_on_day}, and their certificate of insurance ended on {}.",
                        day(until)
                    )
                }
                None => {
                    format!("{name} was paid on {paid_on_day}, and no certificate of insurance is recorded.")
                }
            };
            tell(
                LooseEndKind::SubcontractorUninsured,
                text,
                "Ask for a certificate that holds and record it.",
            );
        }
    }
    Ok(())
}

/// Contradicting decisions have an end of their own, where they are settled: told with a job at work, and here where it
/// is at work no more.
fn of_questions(
    books: Books<'_>,
    names: &Names,
    month: Month,
    ends: &mut Vec<LooseEnd>,
) -> Result<(), OfficeError> {
    for question in questions_of(books, names, month)? {
        let side = question.sides.first().map(|side| side.fact.clone());
        let (kind, fact) = match decided(books, &question)? {
            Some(order) => (LooseEndKind::ContradictingDecisions, Some(order)),
            None => (LooseEndKind::Question, side),
        };
        let is_told = ends.iter().any(|end| end.kind == kind && end.text == question.text);
        if kind == LooseEndKind::Question || !is_told {
            let Question { job, text, remedy, .. } = question;
            ends.push(LooseEnd { kind, fact, job, text, remedy, amount: None });
        }
    }
    Ok(())
}

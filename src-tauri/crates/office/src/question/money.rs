//! Money that two devices applied or closed without knowing of each other, and what rests on what was taken back.

use super::asked::Question;
use super::side::{Writers, alike, devices};
use desk::OfficeError;
use ledger::closed_lists::QuestionKind;
use ledger::facts::{
    Allocation, BankCleared, ChangeCost, ChangeOrder, ClearedItem, Decision, MonthClosed, Refund, Repair,
};
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::Money;
use trade::shown::{day, month};

pub(super) fn questions(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = allocations(books, writers)?;
    found.extend(decisions(books, writers)?);
    found.extend(costs_of_changes(books, writers)?);
    for (closed, held) in alike(books.all::<MonthClosed>()?, |held| Some(held.fact.month)) {
        let counts = held.first().map(|held| held.entry.device.clone()).unwrap_or_default();
        let text = format!(
            "{} was closed on {} devices. The close of device {counts} counts.",
            month(closed),
            held.len()
        );
        let remedy =
            "Compare the two, then answer. What came after the close that counts is in the open month.";
        let sides = held.into_iter().map(|held| {
            let says = format!("closed on {}", day(held.fact.date));
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Month, None, text, remedy, sides));
    }
    found.extend(taken_back(books, writers)?);
    Ok(found)
}

/// What was applied or given back of one payment or credit memo.
type Used = BTreeMap<Id, Vec<(ledger::Entry, Money, String)>>;

fn used(books: Books<'_>) -> Result<Used, OfficeError> {
    let mut used = Used::new();
    for held in books.all::<Allocation>()? {
        let Some(of) = held.fact.payment.or(held.fact.credit) else { continue };
        let says = format!("{} applied on {}", held.fact.amount.grouped(), day(held.fact.date));
        used.entry(of).or_default().push((held.entry, held.fact.amount, says));
    }
    for held in books.all::<Refund>()? {
        let Some(of) = held.fact.payment.or(held.fact.credit) else { continue };
        let says = format!("{} given back on {}", held.fact.amount.grouped(), day(held.fact.date));
        used.entry(of).or_default().push((held.entry, held.fact.amount, says));
    }
    used.retain(|_, uses| {
        let first = uses.first().map(|(entry, ..)| entry.device.clone());
        uses.iter().any(|(entry, ..)| Some(&entry.device) != first.as_ref())
    });
    Ok(used)
}

fn allocations(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    for (of, uses) in used(books)? {
        let (what, whole) = match books.fact(of)?.map(|held| held.fact) {
            Some(ledger::Fact::Payment(paid)) => {
                let from = writers.names.customer(paid.customer);
                (format!("the payment of {} from {from}", day(paid.date)), paid.amount)
            }
            Some(ledger::Fact::Invoice(credit)) => {
                let whole: Money = credit.lines.iter().map(|line| line.amount).sum();
                let what = format!("credit memo {} of {}", credit.number, day(credit.date));
                (what, -(whole + credit.tax))
            }
            _ => continue,
        };
        let spent: Money = uses.iter().map(|(_, amount, _)| *amount).sum();
        if spent <= whole {
            continue;
        }
        let text = format!(
            "{} of {what} is applied or given back, and it was {}.",
            spent.grouped(),
            whole.grouped()
        );
        let sides = uses.into_iter().map(|(entry, _, says)| (entry, says));
        let remedy = "Reverse the one that was too much.";
        found.push(writers.question(QuestionKind::Allocation, None, text, remedy, sides));
    }
    Ok(found)
}

fn decisions(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    for (order, held) in alike(books.all::<Decision>()?, |held| Some(held.fact.change_order)) {
        let first = held.first().map(|held| held.fact.verdict);
        if held.iter().all(|held| Some(held.fact.verdict) == first) {
            continue;
        }
        let Some(ledger::Fact::ChangeOrder(change)) = books.fact(order)?.map(|held| held.fact) else {
            continue;
        };
        let text = format!(
            "Change order {} of job {} has decisions that contradict each other.",
            change.number,
            writers.names.job_number(change.job)
        );
        let sides = held.into_iter().map(|held| {
            let says =
                format!("{} by {} on {}", held.fact.verdict, held.fact.decided_by, day(held.fact.date));
            (held.entry, says)
        });
        let remedy = "Ask the homeowner and record the decision that holds.";
        found.push(writers.question(QuestionKind::Decisions, Some(change.job), text, remedy, sides));
    }
    Ok(found)
}

/// What one change order should cost, filled in on two devices. Where both say the same one of them is only twice
/// there, and goes all the same: a line's cost stands in one fact.
fn costs_of_changes(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    for (order, held) in alike(books.all::<ChangeCost>()?, |held| Some(held.fact.change_order)) {
        let Some(ledger::Fact::ChangeOrder(change)) = books.fact(order)?.map(|held| held.fact) else {
            continue;
        };
        let text = format!(
            "What change order {} of job {} should cost was filled in on {} devices.",
            change.number,
            writers.names.job_number(change.job),
            devices(&held).len()
        );
        let sides = held.into_iter().map(|held| {
            let cost: Money = held.fact.lines.iter().map(|line| line.cost).sum();
            (held.entry, format!("{} on {}", cost.grouped(), day(held.fact.date)))
        });
        let remedy = "Reverse the one that is wrong. Until then the newer one counts.";
        found.push(writers.question(QuestionKind::ChangeCost, Some(change.job), text, remedy, sides));
    }
    Ok(found)
}

/// A fact that rests on one that another device took back.
fn taken_back(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = Vec::new();
    let mut ask = |id: Id, resting: &ledger::Entry, what: &str| -> Result<(), OfficeError> {
        let Some(below) = books.fact(id)? else { return Ok(()) };
        let Some(reversal) = below.reversed_by else { return Ok(()) };
        let Some(reversal) = books.fact(reversal)? else { return Ok(()) };
        let text = format!("{what} rests on a {} that was taken back.", below.fact.kind().replace('-', " "));
        let sides = [(reversal.entry, "taken back".to_owned()), (resting.clone(), what.to_owned())];
        let remedy = "Reverse what rests on it, or record again what was taken back.";
        found.push(writers.question(QuestionKind::Reversed, None, text, remedy, sides));
        Ok(())
    };
    for held in books.all::<Repair>()? {
        ask(held.fact.condition, &held.entry, "A repair")?;
    }
    for held in books.all::<Decision>()? {
        ask(held.fact.change_order, &held.entry, "A decision")?;
    }
    for held in books.all::<ChangeCost>()? {
        ask(held.fact.change_order, &held.entry, "The cost of a change order")?;
    }
    for held in books.all::<Allocation>()? {
        let what = "What is applied to an invoice";
        for of in [held.fact.payment, held.fact.credit, Some(held.fact.invoice)].into_iter().flatten() {
            ask(of, &held.entry, what)?;
        }
    }
    for held in books.all::<Refund>()? {
        for of in [held.fact.payment, held.fact.credit].into_iter().flatten() {
            ask(of, &held.entry, "A refund")?;
        }
    }
    for held in books.all::<BankCleared>()? {
        let what = "What a line of the bank is said to be";
        ask(held.fact.statement, &held.entry, what)?;
        for payment in held.fact.items.iter().filter_map(ClearedItem::id) {
            ask(payment, &held.entry, what)?;
        }
    }
    for held in books.all::<ChangeOrder>()? {
        for condition in held.fact.lines.iter().filter_map(|line| line.condition) {
            ask(condition, &held.entry, "A change order")?;
        }
    }
    found.retain(|question| {
        question.sides.first().map(|side| &side.device) != question.sides.last().map(|side| &side.device)
    });
    Ok(found)
}

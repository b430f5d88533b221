//! The bank, where two devices took in the same days, or said two things of one line.

use super::asked::Question;
use super::side::{Writers, alike, devices};
use desk::OfficeError;
use ledger::closed_lists::QuestionKind;
use ledger::facts::{BankCleared, BankStatement, ClearedItem};
use ledger::{Books, Entered, Fact, Id};
use std::collections::BTreeMap;
use trade::shown::{day, in_sentence};

pub(super) fn questions(books: Books<'_>, writers: &Writers<'_>) -> Result<Vec<Question>, OfficeError> {
    let mut found = statements(books.all::<BankStatement>()?, writers);
    let cleared = books.all::<BankCleared>()?;
    for ((statement, place), held) in
        alike(cleared.clone(), |held| Some((held.fact.statement, held.fact.place)))
    {
        // The same said twice is no contradiction: the first counts, and the second says nothing else.
        if held.iter().all(|other| says_the_same(&held[0].fact, &other.fact)) {
            continue;
        }
        let text = format!("{} was said to be two things.", line(books, statement, place)?);
        found.push(ask(books, writers, text, held)?);
    }
    let mut of_payment: BTreeMap<Id, Vec<Entered<BankCleared>>> = BTreeMap::new();
    for held in cleared {
        for id in held.fact.items.iter().filter_map(ClearedItem::id) {
            of_payment.entry(id).or_default().push(held.clone());
        }
    }
    for held in of_payment.into_values().filter(|held| devices(held).len() > 1) {
        let spots = held.iter().map(|held| (held.fact.statement, held.fact.place));
        let first = (held[0].fact.statement, held[0].fact.place);
        if spots.clone().any(|spot| spot != first) {
            let text = "One payment was matched with two lines of the bank.".to_owned();
            found.push(ask(books, writers, text, held)?);
        }
    }
    Ok(found)
}

/// Statements that share a day, each with all that it shares one with.
fn statements(mut held: Vec<Entered<BankStatement>>, writers: &Writers<'_>) -> Vec<Question> {
    let mut found = Vec::new();
    while !held.is_empty() {
        let mut group = vec![held.remove(0)];
        while let Some(at) = held.iter().position(|other| {
            group.iter().any(|one| one.fact.begins <= other.fact.date && other.fact.begins <= one.fact.date)
        }) {
            group.push(held.remove(at));
        }
        if devices(&group).len() < 2 {
            continue;
        }
        let first = group.iter().map(|held| held.fact.begins).min().map(day).unwrap_or_default();
        let last = group.iter().map(|held| held.fact.date).max().map(day).unwrap_or_default();
        let text = format!(
            "The bank’s days from {first} to {last} were taken in {} times. The statement of device {} counts.",
            group.len(),
            group[0].entry.device
        );
        let remedy = "Reverse the one that is too much. What was said of its lines is taken back first.";
        let sides = group.into_iter().map(|held| {
            let says = format!(
                "{} lines through {}, {} at the end",
                held.fact.lines.len(),
                day(held.fact.date),
                held.fact.closing.grouped()
            );
            (held.entry, says)
        });
        found.push(writers.question(QuestionKind::Bank, None, text, remedy, sides));
    }
    found
}

fn says_the_same(one: &BankCleared, other: &BankCleared) -> bool {
    let items = |cleared: &BankCleared| -> std::collections::BTreeSet<Id> {
        cleared.items.iter().filter_map(ClearedItem::id).collect()
    };
    one.other == other.other && items(one) == items(other)
}

fn ask(
    books: Books<'_>,
    writers: &Writers<'_>,
    text: String,
    held: Vec<Entered<BankCleared>>,
) -> Result<Question, OfficeError> {
    let mut sides = Vec::new();
    for held in held {
        let what = match held.fact.other {
            Some(other) => in_sentence(other.label()),
            None => match held.fact.items.len() {
                1 => "one payment".to_owned(),
                many => format!("{many} payments"),
            },
        };
        let says = format!("{}: {what}", line(books, held.fact.statement, held.fact.place)?);
        sides.push((held.entry, says));
    }
    let remedy = "Take back the one that is wrong. Until then the first in order counts.";
    Ok(writers.question(QuestionKind::Bank, None, text, remedy, sides))
}

/// A line of the bank, in words.
fn line(books: Books<'_>, statement: Id, place: i64) -> Result<String, OfficeError> {
    let held = books.fact(statement)?.map(|held| held.fact);
    let place = usize::try_from(place).ok().and_then(|place| place.checked_sub(1));
    let line = match (&held, place) {
        (Some(Fact::BankStatement(statement)), Some(place)) => statement.lines.get(place),
        _ => None,
    };
    Ok(line.map_or_else(
        || "A line of the bank".to_owned(),
        |line| format!("{} at the bank on {}", line.amount.grouped(), day(line.date)),
    ))
}

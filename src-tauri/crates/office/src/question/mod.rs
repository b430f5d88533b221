//! Questions: where facts of several devices contradict each other. Each was right where it was written; only a person
//! can say what holds. A question is worked out from the facts, shows every side, and is answered by a fact: the side
//! that does not stand is reversed, or an answer says that all stand. Until then it is a loose end.

pub mod asked;
mod bank;
mod money;
mod numbers;
mod side;
mod work;

use asked::Question;
use desk::names::Names;
use desk::{Desk, OfficeError};
use ledger::closed_lists::QuestionKind;
use ledger::facts::Answer;
use ledger::{Books, Fact, Id};
use side::Writers;
use std::collections::BTreeSet;
use trade::Month;

/// Every open question, with hours of the month given.
///
/// # Errors
/// When the facts cannot be read.
pub fn questions(desk: &Desk, month: Month) -> Result<Vec<Question>, OfficeError> {
    desk.books().in_one_read(|books| questions_of(books, &Names::read(books)?, month))
}

pub(crate) fn questions_of(
    books: Books<'_>,
    names: &Names,
    month: Month,
) -> Result<Vec<Question>, OfficeError> {
    // What one device writes, it checks beside all that it has written: it never contradicts itself.
    if books.device_ends()?.len() < 2 {
        return Ok(Vec::new());
    }
    let writers = Writers::read(books, names)?;
    let mut found = numbers::questions(books, &writers)?;
    found.extend(money::questions(books, &writers)?);
    found.extend(bank::questions(books, &writers)?);
    found.extend(work::questions(books, &writers, month)?);
    let answered = answered(books)?;
    found.retain(|question| !answered.iter().any(|(kind, about)| question.is_answered_by(*kind, about)));
    found.sort_by(|left, right| {
        (left.kind, &left.job, &left.text).cmp(&(right.kind, &right.job, &right.text))
    });
    Ok(found)
}

/// The change order whose decisions a question is about; nothing for any other question.
pub(crate) fn decided(books: Books<'_>, question: &Question) -> Result<Option<String>, OfficeError> {
    let side = question.sides.first().filter(|_| question.kind == QuestionKind::Decisions);
    let Some(id) = side.and_then(|side| Id::parse(&side.fact).ok()) else { return Ok(None) };
    Ok(books.fact(id)?.and_then(|held| match held.fact {
        Fact::Decision(decision) => Some(decision.change_order.to_string()),
        _ => None,
    }))
}

fn answered(books: Books<'_>) -> Result<Vec<(QuestionKind, BTreeSet<Id>)>, OfficeError> {
    let answers = books.all::<Answer>()?.into_iter();
    Ok(answers
        .map(|held| (held.fact.question, held.fact.about.iter().map(|line| line.about).collect()))
        .collect())
}

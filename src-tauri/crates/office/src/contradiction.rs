//! Two devices hold answers that contradict each other: both are kept, and a person settles it by a further answer.

use crate::desk::Desk;
use crate::error::OfficeError;
use crate::site::working_month;
use ledger::facts::{Answer, Reversal};
use ledger::{Fact, Id};

/// Records the answer that holds and takes the contradicting ones back, all or none. What was said before stays in the
/// record, with the reason for which it no longer stands.
///
/// # Errors
/// When there is no such change order, its answers do not contradict each other, or the answer itself is refused.
pub fn settle_answers(desk: &mut Desk, answer: Answer) -> Result<Id, OfficeError> {
    let before = desk.books().together(|books| {
        let Some(Fact::ChangeOrder(_)) = books.fact(answer.change_order)?.map(|held| held.fact) else {
            return Err(OfficeError::not_found(
                "There is no such change order.",
                "Choose one of the job's change orders.",
            ));
        };
        let calendar = books.calendar()?;
        let month = working_month(desk, &calendar);
        Ok(books
            .standing::<Answer>(&calendar, "change_order", answer.change_order, month, |fact| fact.date)?)
    })?;
    let contradict = before.iter().any(|one| {
        before
            .iter()
            .any(|other| one.entry.device != other.entry.device && one.fact.verdict != other.fact.verdict)
    });
    if !contradict {
        return Err(OfficeError::refused(
            "change_order",
            "its answers do not contradict each other",
            "Record the new answer by itself",
        ));
    }
    let today = desk.clock.today();
    let reason = format!("Settled on {today}: {} says “{}”", answer.answered_by, answer.verdict.as_str());
    let mut facts: Vec<Fact> = vec![answer.into()];
    facts.extend(
        before.iter().map(|held| {
            Fact::from(Reversal { date: today, reverses: held.entry.id, reason: reason.clone() })
        }),
    );
    let ids = desk.record(facts)?;
    ids.first().copied().ok_or_else(|| OfficeError::not_found("Nothing was recorded.", "Try it again."))
}

//! Two devices hold decisions that contradict each other: both are kept, and a person settles it by a further decision.

use desk::Desk;
use desk::OfficeError;
use desk::working_month::working_month;
use ledger::facts::{Decision, Reversal};
use ledger::{Fact, Id};
use trade::shown::in_sentence;

/// Records the decision that holds and takes the contradicting ones back, all or none. What was said before stays in
/// the record, with the reason for which it no longer stands.
///
/// # Errors
/// When there is no such change order, its decisions do not contradict each other, or the decision itself is refused.
pub fn settle_decisions(desk: &mut Desk, decision: Decision) -> Result<Id, OfficeError> {
    let before = desk.books().in_one_read(|books| {
        let Some(Fact::ChangeOrder(_)) = books.fact(decision.change_order)?.map(|held| held.fact) else {
            return Err(OfficeError::not_found(
                "There is no such change order.",
                "Choose one of the job's change orders.",
            ));
        };
        let calendar = books.calendar()?;
        let month = working_month(desk, &calendar);
        Ok(books
            .live_at(&calendar, Decision::change_order, decision.change_order, month, |fact| fact.date)?)
    })?;
    let contradict = before.iter().any(|decision| {
        before.iter().any(|other| {
            decision.entry.device != other.entry.device && decision.fact.verdict != other.fact.verdict
        })
    });
    if !contradict {
        return Err(OfficeError::refused(
            "change_order",
            "its decisions do not contradict each other",
            "Record the new decision by itself",
        ));
    }
    let today = desk.clock.today();
    let reason = format!(
        "Settled on {}: {} says “{}”",
        trade::shown::day(today),
        decision.decided_by,
        in_sentence(decision.verdict.label())
    );
    let mut facts: Vec<Fact> = vec![decision.into()];
    facts.extend(
        before.iter().map(|held| {
            Fact::from(Reversal { date: today, reverses: held.entry.id, reason: reason.clone() })
        }),
    );
    let ids = desk.record(facts)?;
    ids.first().copied().ok_or_else(|| OfficeError::not_found("Nothing was recorded.", "Try it again."))
}

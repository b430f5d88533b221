//! What another device writes down that does not know of a fact yet, and that contradicts it.

use crate::device::Device;
use jiff::ToSpan;
use ledger::closed_lists::{CheckState, DecidedBy, JobStatusWord, Place, QuestionKind, Verdict};
use ledger::facts::{Allocation, Condition, Decision, Job, Payment, TimeEntry, WorkCheck};
use ledger::{Fact, Id};
use office::Qty;

/// Two facts that contradict each other, and in what.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Contradiction {
    pub(crate) kind: QuestionKind,
    pub(crate) sides: [Id; 2],
}

/// The device writes down what contradicts a fact of another that it does not know of. Nothing where it does know,
/// where it is nobody's there to record, or where it holds too little of the matter.
pub(crate) fn contradict(device: &mut Device, (id, fact): (Id, &Fact)) -> Option<Contradiction> {
    if device.desk().books().fact(id).expect("an answer").is_some() {
        return None;
    }
    if let Fact::MonthClosed(close) = fact {
        let other = device.may_record(fact).then(|| device.closes(close.month).ok()).flatten()?;
        return Some(Contradiction { kind: QuestionKind::Month, sides: [id, other] });
    }
    let (kind, contrary) = contrary(device, fact)?;
    if !device.may_record(&contrary) {
        return None;
    }
    let other = device.makes_an_id();
    device.records(other, &contrary).ok()?;
    Some(Contradiction { kind, sides: [id, other] })
}

fn contrary(device: &Device, fact: &Fact) -> Option<(QuestionKind, Fact)> {
    Some(match fact {
        Fact::Decision(said) => {
            let verdict =
                if said.verdict == Verdict::Approved { Verdict::Declined } else { Verdict::Approved };
            let (method, note) = (Some(DecidedBy::Phone), Some("at noon".to_owned()));
            let other = Decision {
                verdict,
                method,
                note,
                signature: None,
                caution_given: true,
                lines: Vec::new(),
                ..said.clone()
            };
            (QuestionKind::Decisions, other.into())
        }
        Fact::Condition(found) => {
            let place = if found.place == Place::Eave { Place::Valley } else { Place::Eave };
            (QuestionKind::Number, Condition { place, ..found.clone() }.into())
        }
        Fact::Job(job) if job.revises.is_none() => {
            let title = "Somebody else's roof".to_owned();
            (QuestionKind::Number, Job { title, ..job.clone() }.into())
        }
        Fact::TimeEntry(time) => {
            let hours = Qty::parse("1.5").expect("a quantity");
            (QuestionKind::Hours, TimeEntry { hours, ..time.clone() }.into())
        }
        Fact::JobStatus(step) if step.stage == JobStatusWord::Finished => {
            (QuestionKind::Finished, found_after(device, step.job, step.date + 1.day())?)
        }
        Fact::Repair(done) => (QuestionKind::Repair, done.clone().into()),
        Fact::WorkCheck(seen) => {
            let state = if seen.state == CheckState::Good { CheckState::Open } else { CheckState::Good };
            (QuestionKind::Checks, WorkCheck { state, ..seen.clone() }.into())
        }
        Fact::Allocation(applied) if is_more_than_came(device, applied) => {
            (QuestionKind::Allocation, applied.clone().into())
        }
        _ => return None,
    })
}

/// Work that is found on a job after it was finished elsewhere: like some condition that the device knows, on this job.
fn found_after(device: &Device, job: Id, date: jiff::civil::Date) -> Option<Fact> {
    let known = device.desk().books().all::<Condition>().expect("conditions").into_iter().next()?.fact;
    let number = format!("late {}", device.letter);
    let (photos, patches, marks) = (Vec::new(), Vec::new(), Vec::new());
    Some(
        Condition {
            job,
            date,
            number,
            photos,
            patches,
            marks,
            calculated: None,
            count_reason: None,
            ..known
        }
        .into(),
    )
}

/// Whether applying the same once more takes more of the payment than came.
fn is_more_than_came(device: &Device, applied: &Allocation) -> bool {
    let paid = |id| {
        device.desk().books().all::<Payment>().expect("payments").into_iter().find(|held| held.entry.id == id)
    };
    applied.payment.and_then(paid).is_some_and(|paid| applied.amount + applied.amount > paid.fact.amount)
}

//! The completion packet: what was built in, what was found and repaired, how the work was looked at, what is
//! warranted.

use super::change_order::{cause, photos, place};
use super::document::Document;
use super::shared::{Heading, photo};
use super::wording;
use crate::job::snapshot::{JobSnapshot, WorkState};
use crate::quality::workmanship::{self, JobInspection, JobInstalled, JobPoint, JobWarranty};
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::closed_lists::{CheckState, JobStatusWord, RepairStage};
use ledger::facts::{JobStatus, Repair};
use ledger::{Digest, Id};
use paperwork::papers::{
    CompletionPacket, Inspection, InstalledPart, OpenPoint, Photo, Repaired, Warranty, WorkmanshipCheck,
};
use trade::{Month, Qty};

/// The completion packet of a job. A point that the packet waits for blocks it while it is open, unless
/// `listing_open` says that what is open shall stand in the packet.
///
/// # Errors
/// When there is no such job, or a point that the packet waits for is open: the message names them.
pub fn completion_packet(desk: &Desk, job: &str, listing_open: bool) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let work = workmanship::of_job(desk.books(), &heading.names, id)?;
    let waiting = work.waiting.len();
    if waiting > 0 && !listing_open {
        return Err(OfficeError::refused(
            "checklist",
            &format!("the packet waits for {}: {}", counted(waiting), work.waiting.join("; ")),
            "Look at them and record how they stand, or have the packet list what is open",
        ));
    }
    let steps = desk.books().by(JobStatus::job, id)?.into_iter();
    let finished =
        steps.filter(|held| held.fact.stage == JobStatusWord::Finished).map(|held| held.fact.date).max();
    let paper = CompletionPacket {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        date: desk.clock.today(),
        finished_on: finished,
        parts: work.installed.into_iter().map(installed).collect(),
        inspections: work.inspections.into_iter().map(|each| inspection(desk, each)).collect(),
        repaired: repaired(desk, id)?,
        checks: work.points.iter().filter_map(|point| checked(desk, point)).collect(),
        open_points: work.points.iter().filter(|point| !point.settled).map(open).collect(),
        warranty: work.warranty.iter().map(terms).collect(),
        care: work
            .warranty
            .iter()
            .flat_map(|warranty| warranty.care.iter().flat_map(|care| care.lines()))
            .map(str::to_owned)
            .filter(|line| !line.trim().is_empty())
            .collect(),
        // Nobody but the homeowner accepts a roof. An inspection says what its inspector saw, so that it stands among
        // the inspections; here are lines to sign.
        sign_off: None,
    };
    heading.document("completion packet", paper.render())
}

fn counted(points: usize) -> String {
    if points == 1 {
        "a point of the checklist".to_owned()
    } else {
        format!("{points} points of the checklist")
    }
}

fn checked(desk: &Desk, point: &JobPoint) -> Option<WorkmanshipCheck> {
    let check = point.check.as_ref().filter(|check| check.state == CheckState::Good)?;
    Some(WorkmanshipCheck {
        part: point.part.clone(),
        words: point.words.clone(),
        who: check.who.clone(),
        on: Some(check.date),
        photos: shots(desk, &check.photos, &format!("{}: {}", point.part, point.words)),
    })
}

fn shots(desk: &Desk, hashes: &[String], caption: &str) -> Vec<Photo> {
    let kept = hashes.iter().filter_map(|hash| Digest::parse(hash).ok());
    kept.filter_map(|hash| photo(desk, hash, caption)).collect()
}

fn open(point: &JobPoint) -> OpenPoint {
    let who = point.check.as_ref().map(|check| check.who.clone()).unwrap_or_default();
    OpenPoint { words: point.open_words(), who, by: None }
}

fn installed(part: JobInstalled) -> InstalledPart {
    InstalledPart {
        part: part.part,
        material: part.description,
        place: part.where_words,
        lot: part.lot.unwrap_or_default(),
        quantity: part.quantity.unwrap_or(Qty::ZERO),
        unit: String::new(),
        on: Some(part.date),
    }
}

fn inspection(desk: &Desk, inspection: JobInspection) -> Inspection {
    let caption = format!("{}, {}", inspection.title, wording::day(inspection.date));
    Inspection {
        photos: shots(desk, &inspection.photos, &caption),
        what: inspection.title,
        by: inspection.inspector,
        on: inspection.date,
        result: if inspection.passed { "passed" } else { "not passed" }.to_owned(),
        note: inspection.note.unwrap_or_default(),
    }
}

/// The hidden conditions that were repaired, with photos before and after.
fn repaired(desk: &Desk, job: Id) -> Result<Vec<Repaired>, OfficeError> {
    let books = desk.books();
    let standing_job = JobSnapshot::gather(books, &books.calendar()?, job, Month::of(desk.clock.today()))?;
    let mut repaired = Vec::new();
    for condition in &standing_job.conditions {
        let steps = books.by(Repair::condition, condition.id)?;
        let done = steps.iter().find(|held| held.fact.stage == RepairStage::Done).map(|held| &held.fact);
        if done.is_none() && condition.work != WorkState::Done {
            continue;
        }
        let place = place(&condition.condition);
        let why = cause(condition.condition.cause).map(wording::in_sentence);
        let after = format!("{place}, repaired");
        repaired.push(Repaired {
            title: format!("{}: {}", condition.condition.number, condition.condition.damaged.label()),
            place,
            found_on: condition.condition.date,
            repaired_on: done.map(|step| step.date),
            words: format!(
                "{} replaced.{}{}",
                wording::damage(
                    condition.condition.count,
                    condition.condition.damaged,
                    condition.condition.counted_in
                ),
                why.map(|cause| format!(" Cause: {cause}.")).unwrap_or_default(),
                done.and_then(|step| step.note.as_ref()).map(|note| format!(" {note}")).unwrap_or_default()
            ),
            before: photos(desk, &condition.condition),
            after: done
                .iter()
                .flat_map(|step| &step.photos)
                .filter_map(|kept| photo(desk, kept.photo, &after))
                .collect(),
        });
    }
    Ok(repaired)
}

fn terms(warranty: &JobWarranty) -> Warranty {
    let years = match warranty.years {
        1 => "1 year".to_owned(),
        years => format!("{years} years"),
    };
    Warranty {
        title: format!("Workmanship, {years} from {}", wording::day(warranty.begins)),
        words: warranty.terms.clone(),
    }
}

//! The completion packet: what was built in, what was found and mended, how the work was looked at, what is warranted.

use super::Document;
use super::change_order::photos;
use super::shared::{Heading, photo};
use super::words;
use crate::desk::Desk;
use crate::error::OfficeError;
use crate::names::Directory;
use crate::rates::item_title;
use crate::standing::{Standing, WorkState};
use ledger::facts::{
    CheckPoint, FindStep, Inspection as InspectionFact, Installed, JobStep, Warranty as WarrantyFact,
    WorkCheck,
};
use ledger::words::{CheckState, FindStage, JobStage};
use ledger::{Held, Id};
use paperwork::papers::{
    CompletionPacket, Inspection, InstalledPart, Mended, OpenPoint, Warranty, WorkmanshipCheck,
};
use std::collections::BTreeMap;
use trade::{Month, Qty};

/// The completion packet of a job. A point that the packet waits for blocks it while it is open, unless
/// `listing_open` says that what is open shall stand in the packet.
///
/// # Errors
/// When there is no such job, or a point that the packet waits for is open: the message names them.
pub fn completion_packet(desk: &Desk, job: &str, listing_open: bool) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let points = points(desk, &heading, id)?;
    let blocking: Vec<&str> = points
        .iter()
        .filter(|point| point.blocks && !point.is_settled())
        .map(|point| point.words.as_str())
        .collect();
    if !blocking.is_empty() && !listing_open {
        return Err(OfficeError::refused(
            "checklist",
            &format!("the packet waits for {}: {}", counted(blocking.len()), blocking.join("; ")),
            "Look at them and record how they stand, or have the packet list what is open",
        ));
    }
    let standing_steps = standing::<JobStep>(desk, id)?;
    let finished = standing_steps.iter().find(|held| held.fact.stage == JobStage::Finished);
    let warranty = newest(standing::<WarrantyFact>(desk, id)?, |warranty| warranty.date);
    let paper = CompletionPacket {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        date: desk.clock.today(),
        finished_on: finished.map(|held| held.fact.date),
        parts: installed(desk, id)?,
        inspections: inspections(desk, id)?,
        mended: mended(desk, id)?,
        checks: points
            .iter()
            .filter(|point| point.state == Some(CheckState::Good))
            .map(Point::checked)
            .collect(),
        open_points: points.iter().filter(|point| !point.is_settled()).map(Point::open).collect(),
        warranty: warranty.iter().map(terms).collect(),
        care: warranty
            .iter()
            .flat_map(|warranty| warranty.care.iter().flat_map(|care| care.lines()))
            .map(str::to_owned)
            .filter(|line| !line.trim().is_empty())
            .collect(),
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

struct Point {
    part: String,
    words: String,
    blocks: bool,
    state: Option<CheckState>,
    who: String,
    on: Option<jiff::civil::Date>,
    note: Option<String>,
}

impl Point {
    fn is_settled(&self) -> bool {
        matches!(self.state, Some(CheckState::Good | CheckState::NotHere))
    }

    fn checked(&self) -> WorkmanshipCheck {
        WorkmanshipCheck {
            part: self.part.clone(),
            words: self.words.clone(),
            who: self.who.clone(),
            on: self.on,
        }
    }

    fn open(&self) -> OpenPoint {
        let words = match (&self.state, &self.note) {
            (None, _) => format!("{} (not looked at)", self.words),
            (Some(_), Some(note)) => format!("{}: {note}", self.words),
            (Some(_), None) => self.words.clone(),
        };
        OpenPoint { words, who: self.who.clone(), by: None }
    }
}

/// The firm's points for the parts of this roof, each with its newest check.
fn points(desk: &Desk, heading: &Heading, job: Id) -> Result<Vec<Point>, OfficeError> {
    let listed: BTreeMap<Id, CheckPoint> = desk.books().current(|point: &CheckPoint| point.revises)?;
    let mut listed: Vec<(Id, CheckPoint)> = listed.into_iter().filter(|(_, point)| !point.retired).collect();
    listed.sort_by(|(_, left), (_, right)| (left.position, &left.words).cmp(&(right.position, &right.words)));
    let promise = super::site_sheet::promise_of(desk, job).ok().map(|held| held.fact);
    let here = |item: trade::Item| {
        promise.as_ref().is_none_or(|promise| {
            promise.parts.is_empty() || promise.parts.iter().any(|part| part.item == item)
        })
    };
    let mut checks: BTreeMap<Id, WorkCheck> = BTreeMap::new();
    for held in standing::<WorkCheck>(desk, job)? {
        let is_newer = checks.get(&held.fact.point).is_none_or(|known| known.date <= held.fact.date);
        if is_newer {
            checks.insert(held.fact.point, held.fact);
        }
    }
    let wanted = listed.into_iter().filter(|(_, point)| point.item.is_none_or(here));
    Ok(wanted
        .map(|(id, point)| {
            let check = checks.get(&id);
            Point {
                part: point.item.map_or("The whole job", |item| item_title(item)).to_owned(),
                words: point.words,
                blocks: point.blocks,
                state: check.map(|check| check.state),
                who: check.map(|check| heading.names.person(check.person)).unwrap_or_default(),
                on: check.map(|check| check.date),
                note: check.and_then(|check| check.note.clone()),
            }
        })
        .collect())
}

/// The facts of a kind about a job that stand, as recorded.
fn standing<T: ledger::kind::FactRow>(desk: &Desk, job: Id) -> Result<Vec<Held<T>>, OfficeError> {
    let named = desk.books().naming::<T>("job", job)?;
    Ok(named.into_iter().filter(|held| held.reversed_by.is_none()).collect())
}

fn newest<T: Clone>(held: Vec<Held<T>>, date: impl Fn(&T) -> jiff::civil::Date) -> Option<T> {
    held.into_iter().map(|held| held.fact).max_by_key(|fact| date(fact))
}

fn installed(desk: &Desk, job: Id) -> Result<Vec<InstalledPart>, OfficeError> {
    let parts = standing::<Installed>(desk, job)?.into_iter().map(|held| held.fact);
    Ok(parts
        .map(|part| {
            let place = part.place.map(|place| words::headed(place.as_str()));
            let place: Vec<String> = place.into_iter().chain(part.side).collect();
            InstalledPart {
                part: item_title(part.item).to_owned(),
                material: part.description,
                place: if place.is_empty() { "The whole roof".to_owned() } else { place.join(", ") },
                lot: part.lot.unwrap_or_default(),
                quantity: part.quantity.unwrap_or(Qty::ZERO),
                unit: String::new(),
                on: Some(part.date),
            }
        })
        .collect())
}

fn inspections(desk: &Desk, job: Id) -> Result<Vec<Inspection>, OfficeError> {
    let held = standing::<InspectionFact>(desk, job)?.into_iter().map(|held| held.fact);
    Ok(held
        .map(|inspection| {
            let caption = format!("{}, {}", inspection.title, inspection.date);
            Inspection {
                what: inspection.title.clone(),
                by: inspection.inspector,
                on: inspection.date,
                result: if inspection.passed { "passed" } else { "not passed" }.to_owned(),
                note: inspection.note.unwrap_or_default(),
                photos: inspection
                    .photos
                    .iter()
                    .filter_map(|kept| photo(desk, kept.photo, &caption))
                    .collect(),
            }
        })
        .collect())
}

/// The hidden conditions that were mended, with photos before and after.
fn mended(desk: &Desk, job: Id) -> Result<Vec<Mended>, OfficeError> {
    let books = desk.books();
    let standing_job = Standing::gather(books, &books.calendar()?, job, Month::of(desk.clock.today()))?;
    let mut mended = Vec::new();
    for find in &standing_job.finds {
        let steps = books.naming::<FindStep>("find", find.id)?;
        let done = steps
            .iter()
            .filter(|held| held.reversed_by.is_none())
            .find(|held| held.fact.stage == FindStage::Done)
            .map(|held| &held.fact);
        if done.is_none() && find.work != WorkState::Done {
            continue;
        }
        let place = words::headed(find.find.place.as_str());
        let place = find.find.side.as_ref().map_or_else(|| place.clone(), |side| format!("{place}, {side}"));
        let after = format!("{place}, mended");
        mended.push(Mended {
            title: format!("{}: {}", find.find.number, words::headed(find.find.damaged.as_str())),
            place,
            found_on: find.find.date,
            mended_on: done.map(|step| step.date),
            words: format!(
                "{} replaced. Cause: {}.{}",
                words::damage(find.find.count, find.find.damaged, find.find.counted_in),
                words::plain(find.find.cause.as_str()),
                done.and_then(|step| step.note.as_ref()).map(|note| format!(" {note}")).unwrap_or_default()
            ),
            before: photos(desk, &find.find),
            after: done
                .iter()
                .flat_map(|step| &step.photos)
                .filter_map(|kept| photo(desk, kept.photo, &after))
                .collect(),
        });
    }
    Ok(mended)
}

fn terms(warranty: &WarrantyFact) -> Warranty {
    let years = match warranty.years {
        1 => "1 year".to_owned(),
        years => format!("{years} years"),
    };
    Warranty {
        title: format!("Workmanship, {years} from {}", warranty.begins),
        words: warranty.terms.clone(),
    }
}

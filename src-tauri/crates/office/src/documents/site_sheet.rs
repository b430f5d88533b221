//! The crew's site sheet: what lies where, in which order the work goes, and where it can hurt. No cost stands on it.

use super::document::Document;
use super::shared::{Heading, roof_picture};
use super::wording;
use crate::job::before_work::{before_work, begins, hazard_words, hazards_of};
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::closed_lists::{CountedIn, Damaged};
use ledger::facts::{CheckPoint, Contract};
use ledger::{Entered, Id};
use paperwork::papers::{
    CheckLine, CrewMember, IncludedAmount, PlaceMaterial, RoofPicture, SiteSheet, UnitPrice,
};
use std::collections::BTreeMap;
use trade::roof::measure;
use trade::{Item, Qty};

/// The order of work on a roof (common practice, no source): each step with the item that it is for, if it is for one.
const ORDER_OF_WORK: [(&str, Option<Item>); 17] = [
    ("Tie off, set the edge guards, cover plants and walks, mark where the power line comes in.", None),
    (
        "Tear off from the ridge down, one side at a time: no more than can be dried in by evening.",
        Some(Item::TearOff),
    ),
    (
        "Look at every foot of deck. Photograph rot before it is covered, log it, and wait for the decision.",
        None,
    ),
    (
        "Repair the deck: long side across the rafters, joints on rafters, a gap at the ends.",
        Some(Item::DeckSheet),
    ),
    ("Drip edge at the eaves.", Some(Item::DripEdge)),
    ("Membrane at eaves, in valleys, along walls and round what comes through.", Some(Item::Barrier)),
    ("Underlayment, lapped downhill; then drip edge at the rakes, over it.", Some(Item::Underlayment)),
    ("Valley metal and its strips.", Some(Item::ValleyMetal)),
    ("Starter, with its seal to the edge.", Some(Item::Starter)),
    ("Shingles; nails in the line, straight and flush.", Some(Item::Shingles)),
    ("Step flashing with each course along walls; apron at headwalls.", Some(Item::StepFlashing)),
    ("A kick-out at every eave that ends at a wall, under the siding's paper.", Some(Item::KickOut)),
    ("Boots, chimney and skylight flashing.", Some(Item::PipeBoot)),
    ("Cut the slot and lay the ridge vent; see that the intake is open.", Some(Item::RidgeVent)),
    ("Ridge and hip cap.", Some(Item::RidgeCap)),
    ("Gutters and downspouts.", Some(Item::Gutter)),
    ("Sweep with the magnet, clear the gutters, walk round the house with the homeowner.", None),
];

/// The live contract of a job.
pub(super) fn contract_of(desk: &Desk, job: Id) -> Result<Entered<Contract>, OfficeError> {
    let live = desk.books().by(Contract::job, job)?.into_iter().next();
    live.ok_or_else(|| {
        OfficeError::not_found("This job has no contract yet.", "Accept a choice of its estimate first.")
    })
}

/// The site sheet of a job.
///
/// # Errors
/// When there is no such job, or it has no contract yet.
pub fn site_sheet(desk: &Desk, job: &str) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let contract = contract_of(desk, id)?.fact;
    let begins = begins(desk.books(), id)?;
    let roof = crate::job::roof::measured_roof(desk.books(), id)?;
    let picture = roof.and_then(|(roof, _)| Some(roof_picture(&roof, &measure(&roof).ok()?, Vec::new())));
    let has = |item: Item| contract.parts.iter().any(|part| part.item == item);
    let paper = SiteSheet {
        firm: heading.firm.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        site: heading.job.site.clone(),
        date: desk.clock.today(),
        begins_words: begins.words(),
        ends: begins.ends,
        crew: crew(&heading),
        roof: picture.unwrap_or_else(|| RoofPicture {
            sections: Vec::new(),
            edges: Vec::new(),
            pins: Vec::new(),
        }),
        materials: materials(&contract),
        order_of_work: ORDER_OF_WORK
            .iter()
            .filter(|(_, item)| item.is_none_or(has))
            .map(|(step, _)| (*step).to_owned())
            .collect(),
        ridge_cap_begins: has(Item::RidgeCap).then(|| {
            "the end away from the prevailing wind, so that the wind blows over the laps".to_owned()
        }),
        before_work: before_work(desk.books(), id)?,
        cautions: hazards_of(desk.books(), id)?.iter().map(hazard_words).collect(),
        included: included(&contract),
        unit_prices: unit_prices(&contract),
        checks: checks(desk, &contract)?,
    };
    heading.document("site sheet", paper.render())
}

fn crew(heading: &Heading) -> Vec<CrewMember> {
    let members = heading.names.people.values().filter(|person| {
        person.left_on.is_none() && person.crew.is_some() && person.crew == heading.job.crew
    });
    members.map(|person| CrewMember { name: person.name.clone(), duty: String::new() }).collect()
}

/// What lies where; what the contract has no places for stands once, with its packages.
fn materials(contract: &Contract) -> Vec<PlaceMaterial> {
    let bought: BTreeMap<Item, (&str, Qty)> =
        contract.parts.iter().map(|part| (part.item, (part.description.as_str(), part.packages))).collect();
    let mut rows: Vec<PlaceMaterial> = Vec::new();
    for place in &contract.places {
        let name = place.item.label();
        let title = bought.get(&place.item).map_or(name, |(title, _)| *title);
        rows.push(PlaceMaterial {
            place: wording::place(place.edge, place.feature).to_owned(),
            part: title.to_owned(),
            quantity: wording::shown(place.net),
            unit: wording::unit(place.net, place.item.measure()).to_owned(),
            note: String::new(),
        });
    }
    let placed = |item: Item| contract.places.iter().any(|place| place.item == item);
    for part in contract.parts.iter().filter(|part| !placed(part.item)) {
        rows.push(PlaceMaterial {
            place: "Field".to_owned(),
            part: part.description.clone(),
            quantity: wording::shown(part.net),
            unit: wording::unit(part.net, part.item.measure()).to_owned(),
            note: String::new(),
        });
    }
    rows.sort_by(|left, right| left.place.cmp(&right.place));
    rows
}

fn included(contract: &Contract) -> Vec<IncludedAmount> {
    let amounts =
        [("Deck sheets", contract.included_sheets, "sheets"), ("Deck board", contract.included_feet, "ft")];
    amounts
        .into_iter()
        .filter(|(_, quantity, _)| !quantity.is_zero())
        .map(|(what, quantity, unit)| IncludedAmount {
            what: what.to_owned(),
            quantity: wording::shown(quantity),
            unit: unit.to_owned(),
        })
        .collect()
}

/// The unit prices that the homeowner has agreed to.
pub(super) fn unit_prices(contract: &Contract) -> Vec<UnitPrice> {
    let priced = contract.unit_prices.iter().map(|unit| UnitPrice {
        condition: format!("Rotted {}", wording::in_sentence(unit.damaged.label())),
        unit: unit.counted_in.single().to_owned(),
        price: unit.price.as_rate(),
        included: match (unit.damaged, unit.counted_in) {
            (Damaged::DeckSheet, CountedIn::Sheet) => contract.included_sheets,
            (Damaged::DeckBoard, CountedIn::Foot) => contract.included_feet,
            _ => Qty::ZERO,
        },
    });
    priced.collect()
}

/// The points of the firm's checklist for the parts that this roof has, and those for every job.
fn checks(desk: &Desk, contract: &Contract) -> Result<Vec<CheckLine>, OfficeError> {
    let points: BTreeMap<Id, CheckPoint> = desk.books().current(|point: &CheckPoint| point.revises)?;
    let mut points: Vec<CheckPoint> = points.into_values().filter(|point| !point.retired).collect();
    points.sort_by(|left, right| (left.position, &left.words).cmp(&(right.position, &right.words)));
    let here = |item: Item| contract.parts.is_empty() || contract.parts.iter().any(|part| part.item == item);
    let lines = points.into_iter().filter(|point| point.item.is_none_or(here));
    Ok(lines
        .map(|point| CheckLine {
            part: point.item.map_or("The whole job", Item::label).to_owned(),
            words: point.words,
        })
        .collect())
}

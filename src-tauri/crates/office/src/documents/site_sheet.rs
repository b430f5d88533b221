//! The crew's site sheet: what lies where, in which order the work goes, and where it can hurt. No cost stands on it.

use super::document::Document;
use super::shared::{Heading, roof_picture};
use super::wording;
use crate::job::before_work::{before_work, begins, hazard_words, hazards_of};
use crate::job::colors::{ColoredPart, colored_parts};
use crate::phrase::with_line_and_color;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::facts::{CheckPoint, ColorChoice, Contract, ContractPart};
use ledger::{Entered, Id};
use paperwork::papers::{
    CheckLine, CrewMember, IncludedAmount, PlaceMaterial, RoofPicture, SiteSheet, UnitPrice,
};
use std::collections::BTreeMap;
use trade::Item;
use trade::roof::measure;

/// The order of work on a roof (common practice, no source): each step with the items that it is for, if any.
/// What lies below at its place comes first: the kick-out is the first piece of a wall's flashing, before the first
/// course and the first step.
const ORDER_OF_WORK: [(&str, &[Item]); 24] = [
    ("Tie off, set the edge guards, cover plants and walks, mark where the power line comes in.", &[]),
    (
        "Tear off from the ridge down, one side at a time: no more than can be dried in by evening.",
        &[Item::TearOff],
    ),
    (
        "Look at every foot of deck. Photograph rot before it is covered, log it, and wait for the decision.",
        &[],
    ),
    ("Repair the deck: long side across the rafters, joints on rafters, a gap at the ends.", &[]),
    ("Open the intake at the eaves and keep it open.", &[Item::Intake]),
    ("Frame and sheathe the cricket behind each wide chimney before its flashing.", &[Item::Cricket]),
    ("Drip edge at the eaves.", &[Item::DripEdge]),
    ("Membrane at eaves, in valleys, along walls and round what comes through.", &[Item::Barrier]),
    ("Underlayment, lapped downhill; then drip edge at the rakes, over it.", &[Item::Underlayment]),
    ("Valley metal and its strips.", &[Item::ValleyMetal]),
    ("Roll roofing in the valleys, the wider ply over the narrower.", &[Item::RollRoofing]),
    ("Starter, with its seal to the edge.", &[Item::Starter]),
    (
        "A kick-out at every eave that ends at a wall, under the siding's paper: the first piece in, before the first \
         course there.",
        &[Item::KickOut],
    ),
    ("Shingles from the eave up; nails in the line, straight and flush.", &[Item::Shingles]),
    ("With each course along a wall its step, over the one below.", &[Item::StepFlashing]),
    (
        "As the courses reach them: boots, chimney and skylight flashing, vents in the field.",
        &[
            Item::PipeBoot,
            Item::ChimneyFlashing,
            Item::SkylightFlashing,
            Item::BoxVent,
            Item::TurbineVent,
            Item::PowerVent,
        ],
    ),
    ("Apron over the top course at headwalls.", &[Item::Apron]),
    ("Counter-flashing into the joints of the masonry, over steps and apron.", &[Item::CounterFlashing]),
    ("Cut the slot and lay the ridge vent; see that the intake is open.", &[Item::RidgeVent]),
    ("Ridge and hip cap.", &[Item::RidgeCap]),
    ("A baffle in each bay at the eaves before insulation comes near.", &[Item::Baffle]),
    ("Attic insulation, with the air way at the eaves kept open.", &[Item::Insulation]),
    ("Gutters and downspouts.", &[Item::Gutter, Item::Downspout]),
    ("Sweep with the magnet, clear the gutters, walk round the house with the homeowner.", &[]),
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
    let choices: Vec<ColorChoice> =
        desk.books().by(ColorChoice::job, id)?.into_iter().map(|held| held.fact).collect();
    let colored = colored_parts(desk.books(), &contract, &choices)?;
    let has = |item: Item| contract.parts.iter().any(|part| part.item == item);
    let paper = SiteSheet {
        firm: heading.firm.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        site: heading.job.site.clone(),
        date: desk.clock.today(),
        begins_words: begins.words(),
        ends: begins.ends,
        days: begins.days_words(),
        crew: crew(&heading, begins.crew),
        roof: picture.unwrap_or_else(|| RoofPicture {
            sections: Vec::new(),
            edges: Vec::new(),
            pins: Vec::new(),
        }),
        materials: materials(&contract, &colored),
        order_of_work: ORDER_OF_WORK
            .iter()
            .filter(|(_, items)| items.is_empty() || items.iter().any(|item| has(*item)))
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

fn crew(heading: &Heading, crew: Option<Id>) -> Vec<CrewMember> {
    let members = heading
        .names
        .people
        .values()
        .filter(|person| person.left_on.is_none() && person.crew.is_some() && person.crew == crew);
    members.map(|person| CrewMember { name: person.name.clone(), duty: String::new() }).collect()
}

/// What lies where; what the contract has no places for stands once, with its packages.
fn materials(contract: &Contract, colored: &[ColoredPart]) -> Vec<PlaceMaterial> {
    let titled = |part: &ContractPart| {
        let colored = colored.iter().find(|colored| Some(colored.part) == part.part);
        let color = colored.and_then(|colored| colored.color.as_deref());
        with_line_and_color(&part.description, part.product_line.as_deref(), color)
    };
    let bought: BTreeMap<Item, String> =
        contract.parts.iter().map(|part| (part.item, titled(part))).collect();
    let mut rows: Vec<PlaceMaterial> = Vec::new();
    for place in &contract.places {
        let name = place.item.label();
        let title = bought.get(&place.item).map_or(name, String::as_str);
        rows.push(PlaceMaterial {
            place: wording::place(place.edge, place.feature).to_owned(),
            part: title.to_owned(),
            quantity: wording::shown(place.net),
            unit: wording::unit(place.net, place.item.measure()),
            note: String::new(),
        });
    }
    let placed = |item: Item| contract.places.iter().any(|place| place.item == item);
    for part in contract.parts.iter().filter(|part| !placed(part.item)) {
        rows.push(PlaceMaterial {
            place: "Field".to_owned(),
            part: titled(part),
            quantity: wording::shown(part.net),
            unit: wording::unit(part.net, part.item.measure()),
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
        included: wording::included(
            unit.damaged,
            unit.counted_in,
            contract.included_sheets,
            contract.included_feet,
        )
        .to_string(),
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

#[cfg(test)]
mod tests {
    use super::*;

    fn step_of(item: Item) -> usize {
        ORDER_OF_WORK.iter().position(|(_, items)| items.contains(&item)).unwrap()
    }

    #[test]
    fn what_lies_below_goes_in_first() {
        for (first, then) in [
            (Item::TearOff, Item::DripEdge),
            (Item::Intake, Item::Shingles),
            (Item::Cricket, Item::Barrier),
            (Item::Cricket, Item::ChimneyFlashing),
            (Item::RollRoofing, Item::Shingles),
            (Item::Baffle, Item::Insulation),
            (Item::DripEdge, Item::Barrier),
            (Item::Barrier, Item::Underlayment),
            (Item::Underlayment, Item::ValleyMetal),
            (Item::ValleyMetal, Item::Starter),
            (Item::Starter, Item::KickOut),
            (Item::KickOut, Item::Shingles),
            (Item::KickOut, Item::StepFlashing),
            (Item::StepFlashing, Item::CounterFlashing),
            (Item::Apron, Item::CounterFlashing),
            (Item::Shingles, Item::RidgeVent),
            (Item::RidgeVent, Item::RidgeCap),
        ] {
            assert!(step_of(first) < step_of(then), "{first} before {then}");
        }
    }

    /// A roof with a chimney and no pipe has its flashing in the order of work all the same.
    #[test]
    fn whatever_is_laid_has_its_step() {
        let without = [
            Item::Haul,
            Item::DeckSheet,
            Item::DeckBoard,
            Item::Fasteners,
            Item::Permit,
            Item::Machine,
            Item::Other,
            // Work round the roof, of which nothing stays on it.
            Item::SetUp,
            Item::Covering,
            Item::CleanUp,
            Item::Driving,
        ];
        for item in Item::ALL.iter().filter(|item| !without.contains(item)) {
            assert!(ORDER_OF_WORK.iter().any(|(_, items)| items.contains(item)), "{item} has no step");
        }
    }
}

//! The crew's site sheet: what lies where, in which order the work goes, and where it can hurt. No cost stands on it.

use super::document::Document;
use super::shared::{Heading, roof_picture};
use super::wording;
use crate::job::before_work::{before_work, begins, hazards_of};
use crate::job::colors::{ColoredPart, colored_parts};
use crate::phrase::with_line_and_color;
use crate::site::words::told;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::closed_lists::Language;
use ledger::facts::{CheckPoint, ColorChoice, Contract, ContractPart, Person};
use ledger::{Entered, Id};
use paperwork::papers::{
    CheckLine, CrewMember, IncludedAmount, PlaceMaterial, RoofPicture, Said, SiteSheet, UnitPrice,
};
use std::collections::BTreeMap;
use trade::roof::measure;
use trade::{Hazard, Item};

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
    let reader = Reader::of(&heading, begins.crew);
    let say = |english: &str| reader.said(english);
    let paper = SiteSheet {
        firm: heading.firm.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        site: heading.job.site.clone(),
        date: desk.clock.today(),
        called: reader.called(),
        begins_words: say(&begins.words()),
        ends_words: begins.ends.map(|ends| say(&format!("{}, as planned", wording::day(ends)))),
        days: begins.days_words().map(|days| say(&days)),
        crew: crew(&heading, begins.crew),
        roof: picture.unwrap_or_else(|| RoofPicture {
            sections: Vec::new(),
            edges: Vec::new(),
            pins: Vec::new(),
        }),
        materials: materials(&contract, &colored, &reader),
        order_of_work: ORDER_OF_WORK
            .iter()
            .filter(|(_, items)| items.is_empty() || items.iter().any(|item| has(*item)))
            .map(|(step, _)| say(step))
            .collect(),
        ridge_cap_begins: has(Item::RidgeCap)
            .then(|| say("the end away from the prevailing wind, so that the wind blows over the laps")),
        before_work: before_work(desk.books(), id)?.iter().map(|words| say(words)).collect(),
        reminder: say(NO_PLAN),
        cautions: hazards_of(desk.books(), id)?.iter().map(|hazard| reader.hazard(hazard)).collect(),
        included: included(&contract, &reader),
        unit_prices: reader.prices(unit_prices(&contract)),
        checks: checks(desk, &contract, &reader)?,
    };
    heading.document("site sheet", paper.render())
}

/// What stands below what can hurt.
const NO_PLAN: &str = "These are reminders and no safety plan. What the federal and state rules ask on this site, and \
                       what only a licensed or certified person may do, comes before them.";

/// The headings and columns of the sheet.
const CALLED: [&str; 32] = [
    "Site sheet",
    "Job",
    "Work begins",
    "Place",
    "Ends",
    "Planned",
    "Crew",
    "Date",
    "Before work begins",
    "What can hurt",
    "The roof",
    "Ridge cap:",
    "Materials by place",
    "Part",
    "Quantity",
    "In",
    "No material is listed.",
    "Order of work",
    "No order is given.",
    "Already in the price",
    "What",
    "How much",
    "Nothing. Every condition is asked about first.",
    "Prices to the homeowner beyond that",
    "What is found",
    "Counted in",
    "Price of one",
    "No unit prices were agreed.",
    "To tick off",
    "No points are listed.",
    "Field",
    "The whole job",
];

/// In what the crew reads the sheet: in both languages where anybody of them reads Spanish, so that all mean the same.
struct Reader {
    language: Language,
}

impl Reader {
    fn of(heading: &Heading, crew: Option<Id>) -> Reader {
        let spanish = members(heading, crew).any(|person| person.language == Some(Language::Spanish));
        Reader { language: if spanish { Language::Spanish } else { Language::English } }
    }

    fn said(&self, english: &str) -> Said {
        let words = told(self.language, english);
        let is_other = words != english;
        Said { words, english: is_other.then(|| english.to_owned()) }
    }

    /// A hazard with its source behind, which is called the same everywhere.
    fn hazard(&self, hazard: &Hazard) -> Said {
        let with_source = |words: &str| {
            hazard.source.map_or_else(|| words.to_owned(), |source| format!("{words} ({source})"))
        };
        let said = self.said(&hazard.words);
        Said { words: with_source(&said.words), english: said.english }
    }

    fn called(&self) -> BTreeMap<String, String> {
        CALLED.iter().map(|english| ((*english).to_owned(), told(self.language, english))).collect()
    }

    /// A word of the trade, with its English behind.
    fn both(&self, english: &str) -> String {
        let said = self.said(english);
        said.english.map_or(said.words.clone(), |english| format!("{} ({english})", said.words))
    }

    fn prices(&self, prices: Vec<UnitPrice>) -> Vec<UnitPrice> {
        let in_both = |price: UnitPrice| UnitPrice {
            condition: self.both(&price.condition),
            unit: self.both(&price.unit),
            ..price
        };
        prices.into_iter().map(in_both).collect()
    }
}

fn members(heading: &Heading, crew: Option<Id>) -> impl Iterator<Item = &Person> {
    let people = heading.names.people.values();
    people.filter(move |person| person.left_on.is_none() && person.crew.is_some() && person.crew == crew)
}

fn crew(heading: &Heading, crew: Option<Id>) -> Vec<CrewMember> {
    let member = |person: &Person| CrewMember { name: person.name.clone(), duty: String::new() };
    members(heading, crew).map(member).collect()
}

/// What lies where; what the contract has no places for stands once, with its packages.
fn materials(contract: &Contract, colored: &[ColoredPart], reader: &Reader) -> Vec<PlaceMaterial> {
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
            place: reader.said(wording::place(place.edge, place.feature)),
            part: reader.said(title),
            quantity: wording::shown(place.net),
            unit: reader.said(&wording::unit(place.net, place.item.measure())),
            note: String::new(),
        });
    }
    let placed = |item: Item| contract.places.iter().any(|place| place.item == item);
    for part in contract.parts.iter().filter(|part| !placed(part.item)) {
        rows.push(PlaceMaterial {
            place: reader.said("Field"),
            part: reader.said(&titled(part)),
            quantity: wording::shown(part.net),
            unit: reader.said(&wording::unit(part.net, part.item.measure())),
            note: String::new(),
        });
    }
    rows.sort_by(|left, right| left.place.words.cmp(&right.place.words));
    rows
}

fn included(contract: &Contract, reader: &Reader) -> Vec<IncludedAmount> {
    let amounts =
        [("Deck sheets", contract.included_sheets, "sheets"), ("Deck board", contract.included_feet, "ft")];
    amounts
        .into_iter()
        .filter(|(_, quantity, _)| !quantity.is_zero())
        .map(|(what, quantity, unit)| IncludedAmount {
            what: reader.said(what),
            quantity: wording::shown(quantity),
            unit: reader.said(unit),
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
fn checks(desk: &Desk, contract: &Contract, reader: &Reader) -> Result<Vec<CheckLine>, OfficeError> {
    let points: BTreeMap<Id, CheckPoint> = desk.books().current(|point: &CheckPoint| point.revises)?;
    let mut points: Vec<CheckPoint> = points.into_values().filter(|point| !point.retired).collect();
    points.sort_by(|left, right| (left.position, &left.words).cmp(&(right.position, &right.words)));
    let here = |item: Item| contract.parts.is_empty() || contract.parts.iter().any(|part| part.item == item);
    let lines = points.into_iter().filter(|point| point.item.is_none_or(here));
    Ok(lines
        .map(|point| CheckLine {
            part: reader.said(point.item.map_or("The whole job", Item::label)),
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

    #[test]
    fn all_that_the_sheet_says_by_itself_is_in_the_catalog() {
        let items = Item::ALL.iter().map(|item| item.label());
        let steps = ORDER_OF_WORK.iter().map(|(step, _)| *step);
        for english in CALLED.into_iter().chain(steps).chain(items).chain([NO_PLAN]) {
            assert!(crate::site::words::is_in_spanish(english), "{english}");
        }
        for site in [None, Some("4"), Some("9")].into_iter().flat_map(|slope| {
            [None, Some(true), Some(false)].map(|built_before_1978| trade::Site {
                steepest: slope.and_then(|slope| trade::Qty::parse(slope).ok()),
                built_before_1978,
            })
        }) {
            for hazard in trade::hazards(site) {
                assert!(crate::site::words::is_in_spanish(&hazard.words), "{}", hazard.words);
            }
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

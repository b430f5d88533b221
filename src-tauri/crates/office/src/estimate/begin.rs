//! Where an estimate begins: the firm's parts, its recipe of the day, and the terms of its last contract.

use super::book::{DayBook, tax_paid};
use super::draft::{Choice, ChosenPart, Estimate, PriceBy, TermPayment, TermPrice, Terms};
use crate::change::damage::USUAL_SPACING;
use desk::OfficeError;
use ledger::Books;
use ledger::facts::Contract;
use trade::roof::{House, Recipe, Roof};
use trade::{DeckKind, Item, Money, Origin, Qty, Rate};

/// The share of the price left over cost and overhead with which a new estimate begins; the person sets their own.
const FIRST_MARGIN: Rate = Rate::from_e6(150_000);

/// How long a proposal stands at first.
const FIRST_VALID_DAYS: i64 = 30;

/// What a price for a roof does not cover, as a start (common practice, no source).
const USUAL_EXCLUSIONS: [&str; 5] = [
    "Rotted deck beyond the included sheets; it is priced by the unit prices above and never done unasked.",
    "Rotted framing, wall sheathing or siding behind the flashings.",
    "Asbestos or lead, should a test find any; the work stops until it is settled.",
    "Work inside the house, and what shakes loose from walls and shelves.",
    "Satellite dishes, solar panels and wires, unless named above.",
];

/// A new estimate for a roof that is yet to be measured.
pub(super) fn new_estimate(
    books: Books<'_>,
    book: &DayBook,
    recipe: Option<&str>,
) -> Result<Estimate, OfficeError> {
    let built = book.recipe_to_begin(recipe)?;
    Ok(Estimate {
        roof: Roof {
            sections: Vec::new(),
            features: Vec::new(),
            house: House {
                stories: 1,
                deck: DeckKind::Plywood,
                rafter_spacing_in: USUAL_SPACING,
                overhang_in: Qty::from_e4(120_000),
                wall_thickness_in: Qty::from_e4(60_000),
                layers: 1,
                attic_floor_sqft: None,
                climate_zone: None,
                vapor_retarder: false,
                high_wind: false,
                cut_up: None,
                built_before_1978: false,
            },
        },
        north_deg: 0,
        miles: Qty::ZERO,
        choices: vec![
            choice(book, &built, "A", "To the code", Origin::Code),
            choice(book, &built, "B", "To our own standard", Origin::Company),
        ],
        terms: terms(books)?,
    })
}

fn choice(
    book: &DayBook,
    (name, recipe): &(Option<String>, Recipe),
    letter: &str,
    title: &str,
    standard: Origin,
) -> Choice {
    let offered = |item: &Item| {
        book.part_for(*item).map(|(_, part)| ChosenPart { item: *item, part: part.name.clone(), color: None })
    };
    Choice {
        letter: letter.to_owned(),
        title: title.to_owned(),
        standard,
        recipe: recipe.clone(),
        recipe_name: name.clone(),
        parts: Item::ALL.iter().filter_map(offered).collect(),
        left_out: Vec::new(),
        extras: Vec::new(),
        price: PriceBy::Margin(FIRST_MARGIN),
    }
}

/// The terms of the last live contract; without one, half on signing and half at the end.
fn terms(books: Books<'_>) -> Result<Terms, OfficeError> {
    let mut contracts: Vec<Contract> = books.all::<Contract>()?.into_iter().map(|held| held.fact).collect();
    contracts.sort_by_key(|contract| contract.date);
    let last = contracts.pop();
    let unit_prices = last.iter().flat_map(|contract| &contract.unit_prices).map(|unit| TermPrice {
        damaged: unit.damaged,
        counted_in: unit.counted_in,
        price: unit.price,
    });
    Ok(Terms {
        unit_prices: unit_prices.collect(),
        payments: last.as_ref().map(payments).filter(|payments| !payments.is_empty()).unwrap_or_else(|| {
            let half = Rate::from_e6(500_000);
            ["On signing", "When the work is done"]
                .map(|title| TermPayment { title: title.to_owned(), share: half })
                .to_vec()
        }),
        retainage: last.as_ref().map_or(Rate::ZERO, |contract| contract.retainage),
        material_tax: tax_paid(books)?,
        exclusions: USUAL_EXCLUSIONS.map(str::to_owned).to_vec(),
        sold_at_home: true,
        valid_days: FIRST_VALID_DAYS,
    })
}

/// A contract's schedule as the terms of a new estimate.
fn payments(contract: &Contract) -> Vec<TermPayment> {
    let amounts: Vec<Money> = contract.payments.iter().map(|payment| payment.amount).collect();
    let shares = trade::payment_shares(contract.price, &amounts);
    let titles = contract.payments.iter().map(|payment| payment.title.clone());
    titles.zip(shares).map(|(title, share)| TermPayment { title, share }).collect()
}

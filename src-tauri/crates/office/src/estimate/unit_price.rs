//! What one more piece of deck costs, laid, and the price at which to offer it.

use super::costs::{Ground, overhead, step};
use super::draft::Choice;
use super::view::{CalculatedChoice, OfferedPrice};
use crate::job::own_day::crew_days_of;
use ledger::closed_lists::Damaged;
use trade::roof::WorkStep;
use trade::shown::with_unit;
use trade::{DeckKind, Item, Money, Qty};

/// One piece of deck, laid.
pub(super) struct Laid {
    pub(super) cost: Money,
    pub(super) hours: Qty,
    labor: Money,
    pub(super) steps: Vec<WorkStep>,
}

/// What one more sheet or foot of deck costs: the part, the tax on it where tax is cost, and the work. `None` where no
/// part on offer has a price; without a production rate the work is nothing.
pub(super) fn laid(ground: &Ground<'_>, built: &Choice, item: Item) -> Option<Laid> {
    let (id, part) = ground.book.part_for(item)?;
    let material = trade::cost_of_one(ground.book.price(id)?.price, part.covers)?;
    let tax = ground.tax_on(part.cost_kind, material);
    let mut steps = vec![step(format!("one, {}", part.title), material)];
    if !tax.is_zero() {
        steps.push(step("tax on it", tax));
    }
    let hours = ground.hours_of(built, item, Qty::from_e4(10_000)).unwrap_or_default();
    let labor = ground.book.loaded_hour(ground.crew).map_or(Money::ZERO, |(loaded, _)| {
        let labor = trade::line_amount(loaded, hours);
        if !hours.is_zero() {
            steps.push(step(format!("{} at {loaded}", with_unit(hours, "hours")), labor));
        }
        labor
    });
    Some(Laid { cost: material + tax + labor, hours, labor, steps })
}

/// The price of one more piece of this roof's deck: its cost and its part of the overhead, priced as the dearest choice
/// is. Nothing is offered where the work of it is not known, or before the roof has a price.
pub(super) fn offered(ground: &Ground<'_>, choices: &[CalculatedChoice]) -> Vec<OfferedPrice> {
    let (damaged, item) = match ground.estimate.roof.house.deck {
        DeckKind::Plywood | DeckKind::StrandBoard => (Damaged::DeckSheet, Item::DeckSheet),
        DeckKind::Boards | DeckKind::SpacedBoards => (Damaged::DeckBoard, Item::DeckBoard),
    };
    let of = |(choice, priced): (&Choice, &CalculatedChoice)| {
        let laid = laid(ground, choice, item).filter(|laid| !laid.hours.is_zero())?;
        let crew = ground.crew.and_then(|crew| ground.book.crews.get(&crew));
        let overhead = overhead(ground, laid.hours, laid.labor, crew_days_of(crew, laid.hours));
        let price = trade::price::unit_price(laid.cost + overhead, priced.price, priced.full_cost)?;
        let mut steps = laid.steps;
        steps.push(step("overhead", overhead));
        let words = format!("priced as choice {} is, up to the dollar", priced.letter);
        steps.push(step(words, price));
        Some(OfferedPrice { damaged, counted_in: damaged.usually_counted_in(), price, steps })
    };
    let all = ground.estimate.choices.iter().zip(choices).filter_map(of);
    all.max_by_key(|offered| offered.price).into_iter().collect()
}

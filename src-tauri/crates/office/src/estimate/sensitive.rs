//! What would move the margin of a choice: sheets given away, a day of rain, dearer shingles.

use super::costs::Ground;
use super::draft::Choice;
use super::view::{CalculatedChoice, Sensitive};
use trade::price::{AtStake, sensitivity};
use trade::roof::WorkStep;
use trade::shown::with_unit;
use trade::{Item, Money, Qty};

/// Each setback by itself. One that nothing is known of (no crew, no price for sheets) costs nothing and is left out.
pub(super) fn cases(ground: &Ground<'_>, built: &Choice, choice: &CalculatedChoice) -> Vec<Sensitive> {
    let (sheet_cost, sheet) = deck_sheet(ground, built);
    let (crew_day_cost, rain) = crew_day(ground);
    let shingle_cost: Money =
        choice.parts.iter().filter(|line| line.item == Item::Shingles).map(|line| line.cost).sum();
    let shingles = vec![step("shingles of this choice".to_owned(), shingle_cost)];
    let stake = AtStake { sheet_cost, crew_day_cost, shingle_cost };
    let workings = [sheet, rain, shingles];
    let calculated = sensitivity(choice.price, choice.cost, &stake).into_iter().zip(workings);
    calculated
        .filter(|(one, _)| !one.added.is_zero())
        .map(|(one, steps)| Sensitive {
            setback: one.setback,
            added: one.added,
            margin: one.margin,
            share: one.share,
            share_lost: one.share_lost,
            steps,
        })
        .collect()
}

fn step(words: String, figure: Money) -> WorkStep {
    WorkStep { words, figure: figure.grouped() }
}

/// A deck sheet, laid.
fn deck_sheet(ground: &Ground<'_>, built: &Choice) -> (Money, Vec<WorkStep>) {
    let one = Qty::from_e4(10_000);
    let on_offer = ground.book.part_for(Item::DeckSheet);
    let priced = on_offer.and_then(|(id, part)| {
        let price = ground.book.price(id)?.price;
        Some((part, trade::cost_of_one(price, part.covers)?))
    });
    let Some((part, sheet)) = priced else { return (Money::ZERO, Vec::new()) };
    let mut steps = vec![step(format!("a sheet, {}", part.title), sheet)];
    let hours = ground.hours_of(built, Item::DeckSheet, one);
    let work = hours.zip(ground.book.loaded_hour(ground.crew)).map(|(hours, (loaded, _))| {
        let work = trade::line_amount(loaded, hours);
        steps.push(step(format!("{} at {loaded}", with_unit(hours, "hours")), work));
        work
    });
    (sheet + work.unwrap_or_default(), steps)
}

/// The whole crew, paid for a day.
fn crew_day(ground: &Ground<'_>) -> (Money, Vec<WorkStep>) {
    let crew = ground.crew.and_then(|crew| ground.book.crews.get(&crew));
    let Some((crew, (loaded, _))) = crew.zip(ground.book.loaded_hour(ground.crew)) else {
        return (Money::ZERO, Vec::new());
    };
    let hours = trade::crew_hours(crew.size, crew.hours_a_day);
    let cost = trade::line_amount(loaded, hours);
    let people = if crew.size == 1 { "one person".to_owned() } else { format!("{} people", crew.size) };
    (cost, vec![step(format!("{people} × {} hours at {loaded}", crew.hours_a_day), cost)])
}

//! What would move the margin of a choice: sheets given away, a day of rain, dearer shingles.

use super::costs::{Ground, step};
use super::draft::Choice;
use super::unit_price::laid;
use super::view::{CalculatedChoice, Sensitive};
use trade::price::{AtStake, sensitivity};
use trade::roof::WorkStep;
use trade::{Item, Money};

/// Each setback by itself. One that nothing is known of (no crew, no price for sheets) costs nothing and is left out.
pub(super) fn cases(ground: &Ground<'_>, built: &Choice, choice: &CalculatedChoice) -> Vec<Sensitive> {
    let (sheet_cost, sheet) = laid(ground, built, Item::DeckSheet)
        .map_or((Money::ZERO, Vec::new()), |laid| (laid.cost, laid.steps));
    let (crew_day_cost, rain) = crew_day(ground);
    let shingle_cost: Money =
        choice.parts.iter().filter(|line| line.item == Item::Shingles).map(|line| line.cost).sum();
    let shingles = vec![step("shingles of this choice", shingle_cost)];
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

//! Choices side by side, and what each point of the company standard adds to the code.

use super::costs::{Ground, price};
use super::draft::{Choice, PriceBy};
use super::view::{CalculatedChoice, ComparedCell, ComparedRow, MoreOf, PricedDifference};
use crate::phrase::with_line_and_color;
use trade::roof::{Asked, Setting, Takeoff, compare};
use trade::{Item, Money, Origin};

/// The choices line by line, in the order of work.
pub(super) fn side_by_side(choices: &[CalculatedChoice]) -> Vec<ComparedRow> {
    let has = |item: Item| choices.iter().any(|choice| choice.parts.iter().any(|line| line.item == item));
    let items = Item::ALL.iter().copied().filter(|item| has(*item));
    items
        .map(|item| ComparedRow { item, cells: choices.iter().map(|choice| cell(choice, item)).collect() })
        .collect()
}

fn cell(choice: &CalculatedChoice, item: Item) -> Option<ComparedCell> {
    let line = choice.parts.iter().find(|line| line.item == item)?;
    let work: Money = choice.labor.iter().filter(|work| work.item == item).map(|work| work.cost).sum();
    Some(ComparedCell {
        title: with_line_and_color(&line.title, line.product_line.as_deref(), line.color.as_deref()),
        net: line.net,
        measure: line.measure,
        cost: line.cost + work,
    })
}

/// What the company standard asks beyond the code, each point priced by itself: the choice built to the company
/// standard, less the same with that one point as the code has it. Points may share a roll or a bundle, so that their
/// sum is not always the difference of all together.
pub(super) fn differences(
    ground: &Ground<'_>,
    choice: &Choice,
    settings: &[Setting],
) -> Vec<PricedDifference> {
    let code = Asked::from(settings, Origin::Code);
    let whole = Asked::from(settings, Origin::Company);
    let with_all = ground.takeoff(choice, &whole);
    let (all_cost, _) = cost_of(ground, choice, &with_all);
    let differences = compare(&code, &whole).into_iter();
    differences
        .map(|difference| {
            let mut eased: Vec<Setting> = settings.to_vec();
            eased.retain(|setting| !(setting.topic == difference.topic && setting.origin == Origin::Company));
            let without = ground.takeoff(choice, &Asked::from(&eased, Origin::Company));
            let (cost, _) = cost_of(ground, choice, &without);
            let cost = all_cost - cost;
            PricedDifference {
                topic: difference.topic,
                code_source: code.source(difference.topic).to_owned(),
                code: difference.code,
                company: difference.company,
                words: difference.words,
                items: more_of(&with_all, &without),
                cost,
                price: at_margin(choice.price, cost),
            }
        })
        .collect()
}

fn cost_of(ground: &Ground<'_>, choice: &Choice, takeoff: &Takeoff) -> (Money, usize) {
    let mut problems = Vec::new();
    let material: Money = ground.parts(choice, takeoff, &mut problems).iter().map(|line| line.cost).sum();
    let work: Money = ground.labor(choice, takeoff, &mut problems).iter().map(|line| line.cost).sum();
    (material + work, problems.len())
}

fn more_of(with: &Takeoff, without: &Takeoff) -> Vec<MoreOf> {
    let items = Item::ALL.iter().copied();
    items
        .map(|item| MoreOf { item, net: with.net(item) - without.net(item), measure: item.measure() })
        .filter(|more| !more.net.is_zero())
        .collect()
}

/// What a cost adds to the price at the margin of a choice; at a price that the firm sets, it adds nothing by itself.
fn at_margin(by: PriceBy, cost: Money) -> Money {
    match by {
        PriceBy::Price(_) => Money::ZERO,
        by => price(by, cost, Money::ZERO).map_or(cost, |(price, _)| price),
    }
}

//! Tearing off, hauling, and the deck that the price covers.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::roof::given::{Given, step, up};
use crate::roof::kinds::{DeckKind, Item};
use crate::roof::line::{Line, Takeoff, WarningCode};
use crate::shown::unit_behind;

const POUNDS_A_TON: Decimal = Decimal::from_parts(2_000, 0, 0, false, 0);

/// Square feet of a 4 × 8 sheet.
const SHEET_SQFT: Decimal = Decimal::from_parts(32, 0, 0, false, 0);

/// Tear-off is area × layers. Hauling is its weight in tons of 2,000 lb, in containers that may be full by weight or
/// by volume: whichever asks for more loads. The deck has the sheets or boards that the price covers, and no more:
/// what is found beyond them is a hidden condition.
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let (recipe, house) = (given.recipe, given.house);
    let squares = given.measured.area_sqft.decimal() / Decimal::ONE_HUNDRED;
    let layers = Decimal::from(house.layers.max(0));
    let torn = squares * layers;
    let area = step("roof surface", squares, "squares");
    let by_layer = step(format!("× layers: {layers}"), torn, "squares");
    let steps = vec![area, by_layer.clone()];
    out.add(Line::new(Item::TearOff, torn, steps, "Area × layers (common practice)."));

    let tons = torn * recipe.layer_lb_per_square.decimal() / POUNDS_A_TON;
    let yards = torn * recipe.layer_yards_per_square.decimal();
    let mut steps = vec![by_layer];
    steps.push(step(format!("× {} lb a square and layer", recipe.layer_lb_per_square), tons, "tons"));
    let loads = |amount: Decimal, holds: Decimal| {
        if holds > Decimal::ZERO { up(amount / holds) } else { Decimal::ZERO }
    };
    let by_weight = loads(tons, recipe.container_tons.decimal());
    let by_volume = loads(yards, recipe.container_yards.decimal());
    steps.push(step(
        format!(
            "in containers that carry {} {}",
            recipe.container_tons,
            unit_behind(recipe.container_tons.decimal(), "tons")
        ),
        by_weight,
        "loads",
    ));
    steps.push(step(format!("× {} cu yd a square and layer", recipe.layer_yards_per_square), yards, "cu yd"));
    let volume = format!("in containers that hold {} cu yd", recipe.container_yards);
    steps.push(step(volume, by_volume, "loads"));
    let rule = "Weight and volume of the old roof by square and layer; the larger number of loads (common practice).";
    let mut haul = Line::new(Item::Haul, tons, steps, rule);
    haul.least_packages = by_volume.max(by_weight).to_i64();
    if recipe.container_tons.is_positive() {
        out.add(haul);
    }
    deck(given, out);
}

fn deck(given: &Given<'_>, out: &mut Takeoff) {
    let recipe = given.recipe;
    let (item, included, unit) = match given.house.deck {
        DeckKind::Plywood | DeckKind::StrandBoard => (Item::DeckSheet, recipe.included_sheets, "sheets"),
        DeckKind::Boards | DeckKind::SpacedBoards => (Item::DeckBoard, recipe.included_board_ft, "ft"),
    };
    let steps = vec![step("that the price covers", included.decimal(), unit)];
    let rule = "What the price includes comes first; more is a hidden condition (company rule). A sheet is 32 sq ft.";
    out.add(Line::new(item, included.decimal(), steps, rule));
    if given.house.deck == DeckKind::SpacedBoards {
        let sheets = up(given.measured.area_sqft.decimal() / SHEET_SQFT);
        out.warn(
            WarningCode::OpenDeck,
            "The deck is of boards laid apart; shingles need a solid deck (IRC R905.2.1).",
            format!(
                "Sheathe the whole roof, {sheets} {} before waste, or fill the gaps.",
                unit_behind(sheets, "sheets")
            ),
        );
    }
}

//! Further parts: attic insulation, gutters and downspouts, permits and machines.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, TWELVE, edges, pieces_along, running, short, step};
use crate::roof::kinds::{EdgeKind, Item};
use crate::roof::line::{Line, Takeoff};
use crate::shown::unit_behind;

pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let recipe = given.recipe;
    if let Some(depth) = recipe.insulation_depth_in.filter(|depth| depth.is_positive()) {
        let floor = given.measured.attic_floor_sqft.decimal();
        let steps = vec![step(format!("attic floor, {depth} in deep"), floor, "sq ft")];
        let rule = "Floor area; what a bag covers is for this depth (common practice).";
        out.add(Line::new(Item::Insulation, floor, steps, rule));
        baffles(given, out);
    }
    if recipe.gutters {
        let rule = "Eave length (common practice).";
        out.add(running(given.measured, Item::Gutter, EdgeKind::Eave, Qty::ZERO, Qty::ZERO, rule));
        let corners = Decimal::from(recipe.gutter_corners.max(0));
        let steps = vec![step("gutter corners, counted", corners, "pieces")];
        let rule = "Gutter corners, a piece each (common practice).";
        out.add(Line::new(Item::Other, corners, steps, rule).at(EdgeKind::Eave));
        downspouts(given, out);
    }
    let permits = Decimal::from(recipe.permits.max(0));
    let steps = vec![step("for the job", permits, "pieces")];
    out.add(Line::new(Item::Permit, permits, steps, "As the place asks."));
    let days = recipe.machine_days.decimal();
    out.add(Line::new(Item::Machine, days, vec![step("for the job", days, "days")], "As the person says."));
}

/// A baffle in each bay between rafters along the eaves that are vented, so that the insulation leaves the air a way
/// over it (IRC R806.3 asks for one of an inch).
fn baffles(given: &Given<'_>, out: &mut Takeoff) {
    let (feet, spacing) = (given.vented_eave_ft(), given.house.rafter_spacing_in);
    let bays = pieces_along(feet, spacing.decimal());
    let steps = vec![step(format!("{} ft of vented eave ÷ {spacing} in", short(feet)), bays, "pieces")];
    let rule = "One in each bay along vented eaves (IRC R806.3).";
    out.add(Line::new(Item::Baffle, bays, steps, rule).at(EdgeKind::Eave));
}

/// A downspout for so many feet of gutter, edge by edge, since no gutter runs round a corner by itself; and one for
/// each story it goes down (common practice, no source).
fn downspouts(given: &Given<'_>, out: &mut Takeoff) {
    let recipe = given.recipe;
    let every = recipe.downspout_every_ft;
    let mut steps = Vec::new();
    let count = if let Some(count) = recipe.downspouts {
        Decimal::from(count.max(0))
    } else if every.is_positive() {
        let all = edges(given.measured, EdgeKind::Eave);
        let count: Decimal =
            all.map(|(_, edge)| pieces_along(edge.counted_ft.decimal(), every.decimal() * TWELVE)).sum();
        steps.push(step(format!("each eave ÷ {every} ft, rounded up"), count, "downspouts"));
        count
    } else {
        Decimal::ZERO
    };
    let each = recipe.downspout_story_ft.decimal() * Decimal::from(given.house.stories.max(1));
    let feet = count * each;
    let words = format!("{count} {} of {} ft", unit_behind(count, "downspouts"), short(each));
    steps.push(step(words, feet, "ft"));
    out.add(Line::new(Item::Downspout, feet, steps, "Number × length (common practice).").at(EdgeKind::Eave));
}

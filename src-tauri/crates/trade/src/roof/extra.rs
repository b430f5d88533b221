//! Further parts: attic insulation, gutters and downspouts, permits and machines.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, running, step};
use crate::roof::kinds::{EdgeKind, Item};
use crate::roof::line::{Line, Takeoff};
use crate::roof::measured::counted;

pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let recipe = given.recipe;
    if let Some(depth) = recipe.insulation_depth_in.filter(|depth| depth.is_positive()) {
        let floor = given.house.attic_floor_sqft.decimal();
        let steps = vec![step(format!("attic floor, {depth} in deep"), floor, "sq ft")];
        let rule = "Floor area; what a bag covers is for this depth (common practice).";
        out.add(Line::new(Item::Insulation, floor, steps, rule));
    }
    if recipe.gutters {
        let rule = "Eave length (common practice).";
        out.add(running(given, Item::Gutter, EdgeKind::Eave, Qty::ZERO, Qty::ZERO, rule));
        let corners = Decimal::from(recipe.gutter_corners.max(0));
        let steps = vec![step("gutter corners, counted", corners, "pieces")];
        let rule = "Gutter corners, a piece each (common practice).";
        out.add(Line::new(Item::Other, corners, steps, rule).at(EdgeKind::Eave));
        let count = Decimal::from(recipe.downspouts.max(0));
        let feet = count * recipe.downspout_ft.decimal();
        let steps = vec![step(
            format!("{count} {} of {} ft", counted(count, "downspouts"), recipe.downspout_ft),
            feet,
            "ft",
        )];
        out.add(Line::new(Item::Downspout, feet, steps, "Number × length (common practice)."));
    }
    let permits = Decimal::from(recipe.permits.max(0));
    let steps = vec![step("for the job", permits, "pieces")];
    out.add(Line::new(Item::Permit, permits, steps, "As the place asks."));
    let days = recipe.machine_days.decimal();
    out.add(Line::new(Item::Machine, days, vec![step("for the job", days, "days")], "As the person says."));
}

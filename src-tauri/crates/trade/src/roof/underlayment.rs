//! Underlayment over what the membrane leaves open.

use rust_decimal::Decimal;

use crate::roof::given::{Given, lapped, short, step};
use crate::roof::kinds::{Item, Topic};
use crate::roof::line::{Line, Takeoff};

/// Area less membrane (unless it runs on over that), with the laps between rows; two layers where the slope is
/// under what is asked (4 in 12 by IRC R905.2.2). Two layers of 36 in rows that lap 2 in are as much as rows that lap
/// by 19 in, which is how that is laid.
///
/// Gives the square feet that are laid, laps included.
pub(crate) fn lines(given: &Given<'_>, covered: &[Decimal], out: &mut Takeoff) -> Decimal {
    let recipe = given.recipe;
    let more = lapped(recipe.underlayment_roll_in.decimal(), recipe.underlayment_lap_in.decimal());
    let doubled_below = given.asked.value(Topic::DoubleUnderlaymentBelow);
    let mut net = Decimal::ZERO;
    let mut steps = Vec::new();
    for (section, covered) in given.shingled.sections.iter().zip(covered) {
        let saved = if recipe.underlayment_over_barrier { Decimal::ZERO } else { *covered };
        let open = section.area_sqft.decimal() - saved;
        let layers = if section.slope < doubled_below { Decimal::TWO } else { Decimal::ONE };
        let words = if layers > Decimal::ONE {
            format!(
                "{}: {} sq ft, less {} of barrier, two layers at {} in 12",
                section.name,
                short(section.area_sqft.decimal()),
                short(saved),
                section.slope
            )
        } else {
            format!(
                "{}: {} sq ft, less {} of barrier",
                section.name,
                short(section.area_sqft.decimal()),
                short(saved)
            )
        };
        steps.push(step(words, open * layers, "sq ft"));
        net += open * layers;
    }
    let laps =
        format!("rows of {} in that lap by {} in", recipe.underlayment_roll_in, recipe.underlayment_lap_in);
    steps.push(step(laps, net * more, "sq ft"));
    let rule = format!(
        "Area less membrane; doubled under {doubled_below} in 12 ({}).",
        given.asked.source(Topic::DoubleUnderlaymentBelow)
    );
    out.add(Line::new(Item::Underlayment, net * more, steps, rule));
    net * more
}

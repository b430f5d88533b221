//! Where the work can hurt, and what no figure here frees anyone from.

use rust_decimal::Decimal;

use crate::roof::line::{Caution, Takeoff};
use crate::roof::recipe::whole;
use crate::roof::takeoff::{Given, short};

pub(crate) fn cautions(given: &Given<'_>, out: &mut Takeoff) {
    let (house, measured) = (given.house, given.measured);
    let mut say = |words: String, source: Option<&str>| {
        out.cautions.push(Caution { words, source: source.map(str::to_owned) });
    };
    let steep = if measured.steepest > whole(4) {
        format!(" At {} in 12 it is a steep roof, which is one over 4 in 12.", measured.steepest)
    } else {
        String::new()
    };
    say(
        format!(
            "Falls: work 6 ft or more above the ground needs rails, nets or a harness that is tied off.{steep}"
        ),
        Some("29 CFR 1926.501(b)(13)"),
    );
    let pounds =
        measured.area_sqft.decimal() / Decimal::ONE_HUNDRED * given.recipe.layer_lb_per_square.decimal();
    say(
        format!(
            "Loads: the roof's shingles may weigh some {} lb. Spread bundles along the ridge, none over rot or a \
             cut deck.",
            short(pounds.round())
        ),
        None,
    );
    say(
        "Power lines: find the service drop before ladders, lifts and metal edges go up; keep 10 ft off."
            .into(),
        None,
    );
    say(
        "Heat: water, shade and rest; a roof is hotter than the air, and deck and shingles burn skin.".into(),
        None,
    );
    if house.built_before_1978 {
        say(
            "Lead: built before 1978. More than 20 sq ft of old paint disturbed outside asks for a certified \
             renovator and lead-safe work."
                .into(),
            Some("40 CFR 745.83"),
        );
        say(
            "Asbestos: old felts, cements and shingles of that time may hold it. Have a doubtful layer tested before \
             it is torn, and do not break, sand or sweep it dry."
                .into(),
            None,
        );
    }
    if house.layers > 1 {
        say(
            format!("Old layers: {}. The tear-off is heavier and slower, and hides more.", house.layers),
            None,
        );
    }
    say("Code figures are a start: check your local code, which governs.".into(), None);
}

//! Where the work can hurt, and what no figure here frees anyone from.

use rust_decimal::Decimal;

use crate::roof::given::{Given, short};
use crate::roof::kinds::FeatureKind;
use crate::roof::line::{Caution, Takeoff};
use crate::roof::recipe::whole;

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
    crickets(given, &mut say);
    if house.attic_floor_sqft.is_zero() {
        say(
            "Vents: the attic floor is 0 sq ft, so no vents are calculated. Type it if there is an attic."
                .into(),
            None,
        );
    }
    say("Code figures are a start: check your local code, which governs.".into(), None);
}

/// What is wider than this across the slope needs a cricket behind it.
const CRICKET_OVER_IN: i64 = 30;

/// A chimney wider than 30 in across the slope asks for a cricket or saddle on its high side: 30 in does not, 30.25 in
/// does (IRC R903.2.2). One whose size was not given has the usual one of the recipe.
fn crickets(given: &Given<'_>, say: &mut impl FnMut(String, Option<&str>)) {
    for chimney in given.features.iter().filter(|f| f.kind == FeatureKind::Chimney && f.count > 0) {
        let width = chimney.width_in.unwrap_or(given.recipe.opening_in);
        if width > whole(CRICKET_OVER_IN) {
            say(
                format!(
                    "Cricket: a chimney {width} in wide needs a cricket or saddle behind it, as every one over \
                     {CRICKET_OVER_IN} in does; none is in this takeoff."
                ),
                Some("IRC R903.2.2"),
            );
        }
    }
}

//! Where the work can hurt, and what no figure here frees anyone from.

use rust_decimal::Decimal;

use crate::hazard::{HazardKind, Site, hazards};
use crate::roof::given::{Given, short};
use crate::roof::kinds::FeatureKind;
use crate::roof::line::{Caution, Takeoff};
use crate::roof::recipe::whole;

pub(crate) fn cautions(given: &Given<'_>, out: &mut Takeoff) {
    let (house, measured) = (given.house, given.measured);
    let mut say = |words: String, source: Option<&str>| {
        out.cautions.push(Caution { words, source: source.map(str::to_owned) });
    };
    let pounds =
        measured.area_sqft.decimal() / Decimal::ONE_HUNDRED * given.recipe.layer_lb_per_square.decimal();
    let site = Site { steepest: Some(measured.steepest), built_before_1978: Some(house.built_before_1978) };
    for hazard in hazards(site) {
        if hazard.kind == HazardKind::Loads {
            let weight = format!(" The roof's shingles may weigh some {} lb.", short(pounds.round()));
            say(hazard.words + &weight, hazard.source);
        } else {
            say(hazard.words, hazard.source);
        }
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

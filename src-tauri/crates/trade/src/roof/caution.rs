//! Where the work can hurt, and what no figure here frees anyone from.

use rust_decimal::Decimal;

use crate::hazard::{HazardKind, Site, hazards};
use crate::roof::flashing::{is_wide, width_of};
use crate::roof::given::Given;
use crate::roof::kinds::{FeatureKind, Item, Topic};
use crate::roof::line::{Caution, Takeoff};
use crate::shown::grouped;

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
            let weight =
                format!(" The roof's shingles may weigh some {} lb.", grouped(pounds.round().normalize()));
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
    if measured.attic_floor_sqft.is_zero() {
        say(
            "Vents: the attic floor is 0 sq ft, so no vents are calculated. Type it if there is an attic."
                .into(),
            None,
        );
    } else if house.attic_floor_sqft.is_none() {
        say(
            format!(
                "Vents: the attic floor is taken from the plan, {} sq ft. Type it where part of the roof has no attic.",
                grouped(measured.attic_floor_sqft.decimal().round().normalize())
            ),
            None,
        );
    }
    say("Code figures are a start: check your local code, which governs.".into(), None);
    crickets(given, out);
}

/// A wide chimney whose cricket was left out, and a wide skylight, which has none by itself (IRC R903.2.2).
fn crickets(given: &Given<'_>, out: &mut Takeoff) {
    let taken_off = out.lines.iter().any(|line| line.item == Item::Cricket);
    let over = given.asked.value(Topic::CricketOver);
    for feature in given.features.iter().filter(|feature| is_wide(given, feature)) {
        let width = width_of(given, feature);
        let words = match feature.kind {
            FeatureKind::Chimney if !taken_off => format!(
                "Cricket: a chimney {width} in wide needs a cricket or saddle behind it, as every one over {over} in \
                 does unless the ridge line runs into it; none is in this takeoff."
            ),
            FeatureKind::Skylight => format!(
                "Cricket: a skylight {width} in wide needs a cricket or saddle behind it, as all over {over} in does, \
                 unless it is a unit skylight and the local code lets its maker's flashing stand for that."
            ),
            _ => continue,
        };
        let source = Some(given.asked.source(Topic::CricketOver).to_owned());
        out.cautions.push(Caution { words, source });
    }
}

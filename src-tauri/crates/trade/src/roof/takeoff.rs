//! From measures to parts: every line of ARITHMETIC's table of the roof, in the order of work.

use rust_decimal::Decimal;

use crate::roof::given::Given;
use crate::roof::kinds::{Item, Topic};
use crate::roof::line::{Takeoff, Warning, WarningCode};
use crate::roof::measured::Measured;
use crate::roof::recipe::Recipe;
use crate::roof::shape::{Feature, House};
use crate::roof::shingled::shingled;
use crate::roof::standard::Asked;
use crate::roof::{
    barrier, caution, edging, extra, fasteners, field, flashing, haul, underlayment, valley, vent,
};

/// What the roof asks for, before waste and packages, with what is doubtful and where the work can hurt.
///
/// It is worked out for the roof as measured, under what is asked (the code alone, or the company standard), built as
/// the recipe says. The same roof under two standards gives the difference in parts between them.
#[must_use]
pub fn takeoff(
    measured: &Measured,
    house: &House,
    features: &[Feature],
    asked: &Asked,
    recipe: &Recipe,
) -> Takeoff {
    takeoff_without(measured, house, features, asked, recipe, &[])
}

/// The same without some of the items. What is left out does nothing for the others: membrane that is not laid saves no
/// underlayment.
#[must_use]
pub fn takeoff_without(
    measured: &Measured,
    house: &House,
    features: &[Feature],
    asked: &Asked,
    recipe: &Recipe,
    left_out: &[Item],
) -> Takeoff {
    let (steep_enough, in_shingles) = shingled(measured, house, features, asked.value(Topic::LeastSlope));
    let given = Given {
        measured,
        shingled: &steep_enough,
        house,
        features,
        in_shingles: &in_shingles,
        asked,
        recipe,
    };
    let mut out = Takeoff::default();
    slopes(&given, &mut out);
    haul::lines(&given, &mut out);
    let mut covered = barrier::lines(&given, &mut out);
    if left_out.contains(&Item::Barrier) {
        covered.fill(Decimal::ZERO);
    }
    let laid_sqft = underlayment::lines(&given, &covered, &mut out);
    edging::lines(&given, &mut out);
    field::lines(&given, &mut out);
    flashing::lines(&given, &mut out);
    vent::lines(&given, &mut out);
    edging::caps(&given, &mut out);
    fasteners::lines(&given, laid_sqft, left_out, &mut out);
    extra::lines(&given, &mut out);
    out.lines.retain(|line| !left_out.contains(&line.item));
    valley::bare(&given, &mut out);
    caution::cautions(&given, &mut out);
    out
}

fn slopes(given: &Given<'_>, out: &mut Takeoff) {
    let least = given.asked.value(Topic::LeastSlope);
    for section in given.measured.sections.iter().filter(|section| section.slope < least) {
        out.warnings.push(Warning {
            code: WarningCode::SlopeUnderLeast,
            section: Some(section.name.clone()),
            words: format!(
                "Section \"{}\" slopes {} in 12; shingles need {least} in 12 or more ({}). It is not shingled here, \
                 and nothing that goes with shingles is counted on it.",
                section.name,
                section.slope,
                given.asked.source(Topic::LeastSlope)
            ),
            remedy: "Price a covering made for low slopes as an item of its own, or check the slope.".to_owned(),
        });
    }
}

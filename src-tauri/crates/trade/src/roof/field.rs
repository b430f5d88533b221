//! The field: shingles and the nails in them.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, step, up};
use crate::roof::kinds::{Item, Topic};
use crate::roof::line::{Line, Takeoff};

/// Shingles cover the roof's area, but for sections too flat for them, which are never shingled (IRC R905.2.2); what a
/// bundle covers is an input. Nails are shingles by nails in each: 80 strips a square at 4 are 320 nails (NAVEDTRA
/// 14044 ch. 3, read, computed).
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let least = given.asked.value(Topic::LeastSlope);
    let sections: Vec<_> = given.measured.sections.iter().filter(|section| section.slope >= least).collect();
    let mut steps: Vec<_> = sections
        .iter()
        .map(|section| step(section.name.as_str(), section.area_sqft.decimal(), "sq ft"))
        .collect();
    let area = sections.iter().map(|section| section.area_sqft).sum::<Qty>().decimal();
    steps.push(step("all sections together", area, "sq ft"));
    out.add(Line::new(Item::Shingles, area, steps, "Area; openings are not taken off (common practice)."));

    let shingles = area / Decimal::ONE_HUNDRED * given.recipe.shingles_per_square.decimal();
    let each = given.asked.value(Topic::NailsEach);
    let nails = up(shingles * each.decimal());
    let steps = vec![
        step(format!("squares × {} shingles", given.recipe.shingles_per_square), shingles, "shingles"),
        step(format!("× {each} nails in each"), nails, "nails"),
    ];
    let rule = format!("Shingles × nails in each ({}).", given.asked.source(Topic::NailsEach));
    out.add(Line::new(Item::Fasteners, nails, steps, rule));
}

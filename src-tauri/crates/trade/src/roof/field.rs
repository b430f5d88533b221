//! The field: its shingles.

use crate::money::Qty;
use crate::roof::given::{Given, step};
use crate::roof::kinds::Item;
use crate::roof::line::{Line, Takeoff};

/// Shingles cover the roof's area, but for sections too flat for them, which are never shingled (IRC R905.2.2); what a
/// bundle covers is the part's own.
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let sections = &given.shingled.sections;
    let mut steps: Vec<_> = sections
        .iter()
        .map(|section| step(section.name.as_str(), section.area_sqft.decimal(), "sq ft"))
        .collect();
    let area = sections.iter().map(|section| section.area_sqft).sum::<Qty>().decimal();
    steps.push(step("all sections together", area, "sq ft"));
    out.add(Line::new(Item::Shingles, area, steps, "Area; openings are not taken off (common practice)."));
}

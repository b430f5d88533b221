//! What of a roof is shingled: all but the sections that are too flat for it.

use crate::money::Qty;
use crate::roof::measure::measure_checked;
use crate::roof::measured::{Measured, MeasuredSection};
use crate::roof::plane::Plane;
use crate::roof::shape::{Corner, Feature, House, Section, Typed, TypedEdge};

/// The part of a roof that slopes at least so much, measured by itself, and what stands on it. Nothing that goes with
/// shingles is counted on the rest (IRC R905.2.2); a line between a section that stays and one that goes counts for the
/// one that stays (company rule).
pub(crate) fn shingled(
    measured: &Measured,
    house: &House,
    features: &[Feature],
    least: Qty,
) -> (Measured, Vec<Feature>) {
    let (stay, go): (Vec<&MeasuredSection>, Vec<&MeasuredSection>) =
        measured.sections.iter().partition(|section| section.slope >= least);
    if go.is_empty() {
        return (measured.clone(), features.to_vec());
    }
    let goes = |feature: &Feature| go.iter().any(|section| feature.section.as_ref() == Some(&section.name));
    let features: Vec<Feature> = features.iter().filter(|feature| !goes(feature)).cloned().collect();
    let sections: Vec<Section> = stay.iter().map(|section| as_given(section)).collect();
    let drawn = |section: &Section| section.typed.is_none().then(|| Plane::read(section).ok()).flatten();
    let planes: Vec<Option<Plane>> = sections.iter().map(drawn).collect();
    // However much of the roof it is, it lies over the whole of the house.
    let house = House {
        attic_floor_sqft: Some(measured.attic_floor_sqft),
        cut_up: Some(measured.cut_up),
        ..house.clone()
    };
    let mut part = measure_checked(&sections, &planes, &features, &house);
    debug_assert_eq!(part.sections.len(), stay.len(), "a section that was measured once is measured again");
    // A strip over a line still lies half on the other side, whatever covers that.
    for (section, whole) in part.sections.iter_mut().zip(stay) {
        for (edge, before) in section.edges.iter_mut().zip(&whole.edges) {
            edge.shared_with.clone_from(&before.shared_with);
        }
    }
    (part, features)
}

/// A measured section as it was drawn or typed.
fn as_given(section: &MeasuredSection) -> Section {
    let corners = section.edges.iter().map(|edge| {
        let from = edge.from?;
        Some(Corner { x_in: from.x_in, y_in: from.y_in, edge: edge.kind })
    });
    let outline: Option<Vec<Corner>> = corners.collect();
    let outline = outline.filter(|corners| !corners.is_empty());
    let typed = outline.is_none().then(|| Typed {
        area_sqft: section.area_sqft,
        edges: section
            .edges
            .iter()
            .map(|edge| TypedEdge { kind: edge.kind, length_ft: edge.length_ft })
            .collect(),
    });
    Section { name: section.name.clone(), slope: section.slope, outline: outline.unwrap_or_default(), typed }
}

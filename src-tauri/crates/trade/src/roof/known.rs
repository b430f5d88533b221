//! What the roof itself tells of the house, where nobody has typed it: the attic floor, and how cut up the roof is.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::kinds::{CutUp, EdgeKind};
use crate::roof::measured::{MeasuredEdge, MeasuredSection, WorkStep};
use crate::roof::plan::{NEAR_IN, Spot, root, twice_area};
use crate::roof::plane::TWELVE;
use crate::roof::shape::{House, Point};
use crate::shown::grouped;

/// As many valleys as two dormers make; more are a roof that is much cut up (common practice, no source).
const SOME_VALLEYS: usize = 4;

/// The attic floor that counts, and how it was found: as typed, else all of the plan within the eaves' overhang
/// (common practice, no source). Over a cathedral ceiling or a porch that is too much, so a person may type less.
///
/// A gable of 40 × 24 ft in plan whose eaves hang over by 1 ft has 40 × 22 = 880 sq ft; a hip of 40 × 24 ft has
/// 38 × 22 = 836 (computed).
pub(crate) fn attic_floor(sections: &[MeasuredSection], house: &House) -> (Qty, WorkStep) {
    if let Some(typed) = house.attic_floor_sqft {
        return (typed, WorkStep::new("attic floor, as typed", typed, "sq ft"));
    }
    let plan: Decimal = sections.iter().map(|section| section.plan_sqft.decimal()).sum();
    let over = overhang_sqft(sections, house.overhang_in.decimal()).min(plan);
    let floor = Qty::rounded(plan - over);
    let words = format!(
        "attic floor: {} sq ft in plan less {} of overhang at the eaves",
        grouped(plan.round_dp(2).normalize()),
        grouped(over.round_dp(2).normalize())
    );
    (floor, WorkStep::new(words, floor, "sq ft"))
}

/// How cut up the roof counts for: as said, else by its valleys and hips (common practice, no source).
pub(crate) fn cut_up(sections: &[MeasuredSection], house: &House) -> CutUp {
    if let Some(said) = house.cut_up {
        return said;
    }
    let all = sections.iter().flat_map(|section| &section.edges);
    let counted =
        |kind| all.clone().filter(|edge| edge.kind == kind && edge.counted_ft.is_positive()).count();
    match (counted(EdgeKind::Valley), counted(EdgeKind::Hip)) {
        (0, 0) => CutUp::Plain,
        (valleys, _) if valleys <= SOME_VALLEYS => CutUp::Some,
        _ => CutUp::Much,
    }
}

/// What of the plan lies over the eaves' overhang, `overhang` inches wide: a strip along each eave. Where one eave goes
/// on into another round a corner of the house, the two strips have a part in common, or leave one between them.
fn overhang_sqft(sections: &[MeasuredSection], overhang: Decimal) -> Decimal {
    let eave = |edge: &&MeasuredEdge| edge.kind == EdgeKind::Eave;
    let all = sections.iter().flat_map(|section| &section.edges);
    let feet: Decimal = all.filter(eave).map(|edge| edge.length_ft.decimal()).sum();
    let drawn: Vec<(Spot, Spot)> = sections.iter().flat_map(eaves_to_the_left).collect();
    let near = NEAR_IN * NEAR_IN;
    let mut bends = Decimal::ZERO;
    for one in &drawn {
        for next in drawn.iter().filter(|next| one.1.from(next.0).dot(one.1.from(next.0)) <= near) {
            let (way, on) = (one.1.from(one.0), next.1.from(next.0));
            let length = root(way.dot(way)) * root(on.dot(on)) + way.dot(on);
            // The tangent of half the turn; an eave that turns right back has no inside.
            if length > Decimal::ZERO {
                bends += way.cross(on) / length;
            }
        }
    }
    overhang * (feet * TWELVE - overhang * bends) / (TWELVE * TWELVE)
}

/// The eaves of a drawn section, each with the section to its left.
fn eaves_to_the_left(section: &MeasuredSection) -> Vec<(Spot, Spot)> {
    let spot = |point: Option<Point>| point.map(|at| Spot { x: at.x_in.decimal(), y: at.y_in.decimal() });
    let corners: Vec<Spot> = section.edges.iter().filter_map(|edge| spot(edge.from)).collect();
    let left = !twice_area(&corners).is_sign_negative();
    let eaves = section.edges.iter().filter(|edge| edge.kind == EdgeKind::Eave);
    eaves
        .filter_map(|edge| spot(edge.from).zip(spot(edge.to)))
        .map(|(from, to)| if left { (from, to) } else { (to, from) })
        .collect()
}

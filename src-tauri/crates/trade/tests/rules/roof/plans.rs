//! Roofs to test with, in feet on the plan.

use crate::typed::q;
use trade::roof::{Corner, Feature, House, Roof, Section, Typed, TypedEdge};
use trade::{CutUp, DeckKind, EdgeKind, FeatureKind, Qty};

pub(crate) use EdgeKind::{Eave, Headwall, Hip, Rake, Ridge, Transition, Valley, Wall};

/// Feet, in twelfths of which the plan keeps inches.
pub(crate) fn inches(feet: i64) -> Qty {
    Qty::from_e4(feet * 120_000)
}

/// A section drawn in whole feet.
pub(crate) fn section(name: &str, slope: &str, corners: &[(i64, i64, EdgeKind)]) -> Section {
    let corner =
        |(x, y, edge): &(i64, i64, EdgeKind)| Corner { x_in: inches(*x), y_in: inches(*y), edge: *edge };
    Section {
        name: name.to_owned(),
        slope: q(slope),
        outline: corners.iter().map(corner).collect(),
        typed: None,
    }
}

pub(crate) fn typed(name: &str, slope: &str, area: &str, edges: &[(EdgeKind, &str)]) -> Section {
    let edges = edges.iter().map(|(kind, feet)| TypedEdge { kind: *kind, length_ft: q(feet) }).collect();
    let typed = Some(Typed { area_sqft: q(area), edges });
    Section { name: name.to_owned(), slope: q(slope), outline: Vec::new(), typed }
}

pub(crate) fn roof(sections: Vec<Section>) -> Roof {
    Roof { sections, features: Vec::new(), house: house() }
}

pub(crate) fn house() -> House {
    House {
        stories: 1,
        deck: DeckKind::Plywood,
        rafter_spacing_in: q("24"),
        overhang_in: q("12"),
        wall_thickness_in: q("6"),
        layers: 1,
        attic_floor_sqft: Some(q("1152")),
        climate_zone: None,
        vapor_retarder: false,
        high_wind: false,
        cut_up: Some(CutUp::Some),
        built_before_1978: false,
    }
}

pub(crate) fn feature(kind: FeatureKind, count: i64) -> Feature {
    Feature {
        kind,
        section: None,
        at: None,
        width_in: None,
        length_in: None,
        count,
        free_area_sqin: None,
        vent: None,
    }
}

/// Two equal slopes, `width` along the ridge and `depth` from eave to eave.
pub(crate) fn gable(width: i64, depth: i64, slope: &str) -> Roof {
    let middle = depth / 2;
    roof(vec![
        section("front", slope, &[(0, 0, Eave), (width, 0, Rake), (width, middle, Ridge), (0, middle, Rake)]),
        section(
            "back",
            slope,
            &[(0, middle, Ridge), (width, middle, Rake), (width, depth, Eave), (0, depth, Rake)],
        ),
    ])
}

/// Four equal slopes; `width` is more than `depth`.
pub(crate) fn hip(width: i64, depth: i64, slope: &str) -> Roof {
    let run = depth / 2;
    let (left, right) = (run, width - run);
    roof(vec![
        section("front", slope, &[(0, 0, Eave), (width, 0, Hip), (right, run, Ridge), (left, run, Hip)]),
        section("right", slope, &[(width, 0, Eave), (width, depth, Hip), (right, run, Hip)]),
        section(
            "back",
            slope,
            &[(width, depth, Eave), (0, depth, Hip), (left, run, Ridge), (right, run, Hip)],
        ),
        section("left", slope, &[(0, depth, Eave), (0, 0, Hip), (left, run, Hip)]),
    ])
}

/// A house of 40 × 24 ft whose right end stands against a taller wall, with a wing of 16 × 12 ft on its front; all at
/// one slope. The wing's ridge runs into the front as far as it is high: 8 ft in plan.
pub(crate) fn ell(slope: &str) -> Roof {
    roof(vec![
        section(
            "front",
            slope,
            &[
                (0, 0, Eave),
                (12, 0, Valley),
                (20, 8, Valley),
                (28, 0, Eave),
                (40, 0, Wall),
                (40, 12, Ridge),
                (0, 12, Rake),
            ],
        ),
        section("back", slope, &[(0, 12, Ridge), (40, 12, Wall), (40, 24, Eave), (0, 24, Rake)]),
        section("wing left", slope, &[(12, 0, Eave), (12, -12, Rake), (20, -12, Ridge), (20, 8, Valley)]),
        section("wing right", slope, &[(28, -12, Eave), (28, 0, Valley), (20, 8, Ridge), (20, -12, Rake)]),
    ])
}

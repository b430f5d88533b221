//! From a roof as drawn or typed to its true measures.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::kinds::{EdgeKind, FeatureKind};
use crate::roof::known::{attic_floor, cut_up};
use crate::roof::measured::{Measured, MeasuredEdge, MeasuredSection, WorkStep};
use crate::roof::plan::{Spot, edges, root};
use crate::roof::plane::{Plane, TWELVE, is_level, problem, slope_factor};
use crate::roof::problem::{RoofFault, RoofProblem};
use crate::roof::recipe::whole;
use crate::roof::shape::{Feature, House, Point, Roof, Section, Typed};
use crate::roof::sharing::{Shared, is_shared, one_plane, problems_between, shared_edges};

/// Twice the square inches in a square foot.
const TWICE_FOOT: Decimal = Decimal::from_parts(288, 0, 0, false, 0);

/// Checks a roof and measures it.
///
/// A section slopes square to its level edges and rises from its eave. Its true area is its plan area times
/// √(1 + (rise ÷ 12)²). An edge's true length is √(run² + rise²), where the rise is what the edge climbs up the slope;
/// so a hip or valley between unequal slopes comes out right, and between equal ones on a square corner is the run
/// times √(2 + (rise ÷ 12)²). What two sections have in common of a hip, valley, ridge or transition is counted once.
///
/// # Errors
/// All that is wrong, each with its section and edge; a roof is never measured in part.
pub fn measure(roof: &Roof) -> Result<Measured, Vec<RoofProblem>> {
    let mut wrong = house_problems(&roof.house);
    wrong.extend(feature_problems(roof));
    wrong.extend(section_problems(&roof.sections));
    let mut planes: Vec<Option<Plane>> = Vec::new();
    for section in &roof.sections {
        let plane = if section.typed.is_none() && slope_is_right(section.slope) {
            Plane::read(section).map_err(|problems| wrong.extend(problems)).ok()
        } else {
            None
        };
        planes.push(plane);
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let drawn = with_planes(&roof.sections, &planes);
    let shared = shared_edges(&drawn);
    let wrong = problems_between(&drawn, &shared, roof.house.overhang_in);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    Ok(measure_checked(&roof.sections, &planes, &roof.features, &roof.house))
}

/// The drawn sections, each with its plane.
fn with_planes<'a>(sections: &'a [Section], planes: &[Option<Plane>]) -> Vec<(&'a Section, Plane)> {
    let drawn = sections.iter().zip(planes);
    drawn.filter_map(|(section, plane)| plane.clone().map(|plane| (section, plane))).collect()
}

/// Measures sections that were checked: a plane for each that is drawn.
pub(crate) fn measure_checked(
    sections: &[Section],
    planes: &[Option<Plane>],
    features: &[Feature],
    house: &House,
) -> Measured {
    let drawn = with_planes(sections, planes);
    let shared = shared_edges(&drawn);
    let mut measured = Vec::new();
    let mut next_drawn = 0;
    for (section, plane) in sections.iter().zip(planes) {
        match (plane, &section.typed) {
            (Some(plane), _) => {
                measured.push(measure_drawn(section, plane, next_drawn, &drawn, &shared));
                next_drawn += 1;
            }
            (None, Some(typed)) => measured.push(measure_typed(section, typed)),
            (None, None) => {}
        }
    }
    sum_up(measured, wall_ends(sections, features), house)
}

fn sum_up(sections: Vec<MeasuredSection>, wall_ends: i64, house: &House) -> Measured {
    let area_sqft: Qty = sections.iter().map(|section| section.area_sqft).sum();
    let feet = |kind: EdgeKind| -> Qty {
        let all = sections.iter().flat_map(|section| &section.edges);
        all.filter(|edge| edge.kind == kind).map(|edge| edge.counted_ft).sum()
    };
    let mut working: Vec<WorkStep> = Vec::new();
    for section in &sections {
        let factor = slope_factor(section.slope).round_dp(4).normalize();
        let words = if section.edges.iter().any(|edge| edge.from.is_some()) {
            format!(
                "{}: {} sq ft in plan × {factor} for {} in 12",
                section.name,
                section.plan_sqft.decimal().round_dp(2).normalize(),
                section.slope
            )
        } else {
            format!("{}: as measured on the slope", section.name)
        };
        working.push(WorkStep::new(words, section.area_sqft, "sq ft"));
    }
    working.push(WorkStep::new("all sections together", area_sqft, "sq ft"));
    let (attic_floor_sqft, step) = attic_floor(&sections, house);
    working.push(step);
    Measured {
        area_sqft,
        squares: Qty::rounded(area_sqft.decimal() / Decimal::ONE_HUNDRED),
        eave_ft: feet(EdgeKind::Eave),
        rake_ft: feet(EdgeKind::Rake),
        valley_ft: feet(EdgeKind::Valley),
        hip_ft: feet(EdgeKind::Hip),
        ridge_ft: feet(EdgeKind::Ridge),
        wall_ft: feet(EdgeKind::Wall),
        headwall_ft: feet(EdgeKind::Headwall),
        transition_ft: feet(EdgeKind::Transition),
        wall_ends,
        steepest: sections.iter().map(|section| section.slope).max().unwrap_or_default(),
        lowest: sections.iter().map(|section| section.slope).min().unwrap_or_default(),
        attic_floor_sqft,
        cut_up: cut_up(&sections, house),
        working,
        sections,
    }
}

fn measure_drawn(
    section: &Section,
    plane: &Plane,
    at: usize,
    drawn: &[(&Section, Plane)],
    shared: &[Shared],
) -> MeasuredSection {
    let plan = plane.twice_area / TWICE_FOOT;
    let mut measured = Vec::new();
    for (index, (edge, kind)) in edges(&plane.corners).zip(&plane.kinds).enumerate() {
        let true_ft = plane.true_in(edge) / TWELVE;
        let way = edge.1.from(edge.0);
        let earlier = counted_earlier(drawn, shared, (at, index), *kind);
        let partner = shared.iter().find_map(|stretch| {
            if stretch.second == (at, index) {
                Some(stretch.first.0)
            } else if stretch.first == (at, index) {
                Some(stretch.second.0)
            } else {
                None
            }
        });
        measured.push(MeasuredEdge {
            kind: *kind,
            plan_ft: Some(Qty::rounded(root(way.dot(way)) / TWELVE)),
            length_ft: Qty::rounded(true_ft),
            counted_ft: Qty::rounded(true_ft * (Decimal::ONE - earlier.min(Decimal::ONE))),
            from: Some(point(edge.0)),
            to: Some(point(edge.1)),
            shared_with: partner.map(|other| drawn[other].0.name.clone()),
        });
    }
    MeasuredSection {
        name: section.name.clone(),
        slope: section.slope,
        plan_sqft: Qty::rounded(plan),
        area_sqft: Qty::rounded(plan * slope_factor(section.slope)),
        edges: measured,
    }
}

/// The share of an edge that does not count: what an earlier section has counted of a line between two, and a rake
/// along which the same plane goes on in another section, which is no edge of the roof at all.
fn counted_earlier(
    drawn: &[(&Section, Plane)],
    shared: &[Shared],
    edge: (usize, usize),
    kind: EdgeKind,
) -> Decimal {
    let same = |stretch: &&Shared| {
        drawn[stretch.first.0].1.kinds[stretch.first.1] == kind
            && drawn[stretch.second.0].1.kinds[stretch.second.1] == kind
    };
    let share = |stretch: &Shared| {
        let inside = kind == EdgeKind::Rake && one_plane(drawn, stretch);
        if stretch.second == edge && (is_shared(kind) || inside) {
            stretch.share_second
        } else if stretch.first == edge && inside {
            stretch.share_first
        } else {
            Decimal::ZERO
        }
    };
    shared.iter().filter(same).map(share).sum()
}

fn measure_typed(section: &Section, typed: &Typed) -> MeasuredSection {
    let factor = slope_factor(section.slope);
    let edges = typed.edges.iter().map(|edge| MeasuredEdge {
        kind: edge.kind,
        plan_ft: is_level(edge.kind).then_some(edge.length_ft),
        length_ft: edge.length_ft,
        counted_ft: edge.length_ft,
        from: None,
        to: None,
        shared_with: None,
    });
    MeasuredSection {
        name: section.name.clone(),
        slope: section.slope,
        plan_sqft: Qty::rounded(typed.area_sqft.decimal() / factor),
        area_sqft: typed.area_sqft,
        edges: edges.collect(),
    }
}

fn point(spot: Spot) -> Point {
    Point { x_in: Qty::rounded(spot.x), y_in: Qty::rounded(spot.y) }
}

/// How many eaves end at a side wall: those that the plan shows, and those that a person noted.
///
/// A noted one on a drawn section may be one that the plan shows, so of the two counts the larger holds, section by
/// section and then for the whole roof (company rule): one too few costs a wall, and one noted twice costs a diverter.
fn wall_ends(sections: &[Section], features: &[Feature]) -> i64 {
    let noted = |on: Option<&str>| -> i64 {
        let ends = features.iter().filter(|feature| feature.kind == FeatureKind::WallEnd);
        ends.filter(|feature| feature.section.as_deref() == on).map(|feature| feature.count).sum()
    };
    let shown = |section: &Section| -> i64 {
        let kinds: Vec<EdgeKind> = section.outline.iter().map(|corner| corner.edge).collect();
        let pairs = kinds.iter().zip(kinds.iter().cycle().skip(1));
        let ends = pairs.filter(|pair| {
            matches!(pair, (EdgeKind::Eave, EdgeKind::Wall) | (EdgeKind::Wall, EdgeKind::Eave))
        });
        i64::try_from(ends.count()).unwrap_or(i64::MAX)
    };
    let by_section: i64 = sections.iter().map(|section| shown(section).max(noted(Some(&section.name)))).sum();
    let all_noted: i64 = noted(None) + sections.iter().map(|section| noted(Some(&section.name))).sum::<i64>();
    by_section.max(all_noted)
}

fn slope_is_right(slope: Qty) -> bool {
    slope.is_positive() && slope <= whole(24)
}

fn section_problems(sections: &[Section]) -> Vec<RoofProblem> {
    if sections.is_empty() {
        return vec![RoofProblem { section: None, edge: None, fault: RoofFault::NoSections }];
    }
    let mut names = BTreeSet::new();
    let mut wrong = Vec::new();
    for section in sections {
        let mut say = |fault| wrong.push(problem(section, None, fault));
        if section.name.trim().is_empty() {
            say(RoofFault::NoName);
        } else if !names.insert(section.name.as_str()) {
            say(RoofFault::SameName);
        }
        if !slope_is_right(section.slope) {
            say(RoofFault::Slope { slope: section.slope });
        }
        if section.typed.is_some() && !section.outline.is_empty() {
            say(RoofFault::DrawnAndTyped);
        }
        let Some(typed) = &section.typed else { continue };
        if let Some(fault) = above_zero("area", typed.area_sqft, MOST_SQFT) {
            say(fault);
        }
        for (index, edge) in typed.edges.iter().enumerate() {
            let fault = above_zero(length_of(edge.kind), edge.length_ft, MOST_FT);
            wrong.extend(fault.map(|fault| problem(section, Some(index), fault)));
        }
    }
    wrong
}

/// What a typed length is called: a typed edge is seen by its kind, and not by its place in a list.
const fn length_of(kind: EdgeKind) -> &'static str {
    match kind {
        EdgeKind::Eave => "length of the eave",
        EdgeKind::Rake => "length of the rake",
        EdgeKind::Valley => "length of the valley",
        EdgeKind::Hip => "length of the hip",
        EdgeKind::Ridge => "length of the ridge",
        EdgeKind::Wall => "length of the wall",
        EdgeKind::Headwall => "length of the headwall",
        EdgeKind::Transition => "length of the transition",
    }
}

/// The most of each figure that a roof may have: far beyond any, and small enough that no product outgrows a decimal.
const MOST_SQFT: i64 = 10_000_000;
const MOST_FT: i64 = 100_000;
const MOST_IN: i64 = 10_000;
const MOST_COUNT: i64 = 10_000;

/// A figure that may be from zero to `most`.
fn within(what: &'static str, value: Qty, most: i64) -> Option<RoofFault> {
    if value.is_negative() {
        Some(RoofFault::Negative { what, value })
    } else if value.decimal() > Decimal::from(most) {
        Some(RoofFault::TooMuch { what, value, most })
    } else {
        None
    }
}

/// The same above zero.
fn above_zero(what: &'static str, value: Qty, most: i64) -> Option<RoofFault> {
    if value.is_zero() { Some(RoofFault::NotPositive { what, value }) } else { within(what, value, most) }
}

fn house_problems(house: &House) -> Vec<RoofProblem> {
    let faults = [
        within("number of stories", Qty::rounded(house.stories.into()), 100),
        within("number of layers", Qty::rounded(house.layers.into()), 10),
        within("rafter spacing", house.rafter_spacing_in, MOST_IN),
        within("overhang", house.overhang_in, MOST_IN),
        within("wall thickness", house.wall_thickness_in, MOST_IN),
        house.attic_floor_sqft.and_then(|floor| within("attic floor", floor, MOST_SQFT)),
    ];
    faults.into_iter().flatten().map(whole_roof).collect()
}

fn feature_problems(roof: &Roof) -> Vec<RoofProblem> {
    let mut wrong = Vec::new();
    for feature in &roof.features {
        if let Some(named) = &feature.section
            && !roof.sections.iter().any(|section| section.name == *named)
        {
            let fault = RoofFault::UnknownSection { what: feature.kind.as_str(), named: named.clone() };
            wrong.push(whole_roof(fault));
        }
        wrong.extend(feature_figures(feature));
    }
    wrong
}

fn feature_figures(feature: &Feature) -> Vec<RoofProblem> {
    let size = |what, value: Option<Qty>| value.and_then(|value| within(what, value, MOST_IN));
    let faults = [
        within("count of a feature", Qty::rounded(feature.count.into()), MOST_COUNT),
        size("width of a feature", feature.width_in),
        size("length of a feature", feature.length_in),
        feature.free_area_sqin.and_then(|value| within("free area of a vent", value, MOST_FT)),
    ];
    faults.into_iter().flatten().map(whole_roof).collect()
}

fn whole_roof(fault: RoofFault) -> RoofProblem {
    RoofProblem { section: None, edge: None, fault }
}

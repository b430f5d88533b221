//! What drawn sections have to do with each other: common edges, heights along them, and room for each.

use std::collections::VecDeque;

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::kinds::EdgeKind;
use crate::roof::plan::{
    NEAR_IN, Spot, Triangle, common, distance_squared, edges, root, triangles, twice_area,
};
use crate::roof::plane::{Plane, problem};
use crate::roof::problem::{RoofFault, RoofProblem};
use crate::roof::shape::Section;

/// Square inches that two sections may have in common by rounded corners alone: a square foot (company rule).
const SLIVER_SQIN: Decimal = Decimal::from_parts(144, 0, 0, false, 0);

/// By how much the slopes on both sides of a hip or valley may seem to bend the wrong way before it is said.
const FLAT: Decimal = Decimal::from_parts(1, 0, 0, false, 2);

/// A stretch that two sections have in common.
#[derive(Debug, Clone)]
pub(crate) struct Shared {
    /// The earlier section and its edge, counted from 0.
    pub(crate) first: (usize, usize),
    /// The later one.
    pub(crate) second: (usize, usize),
    /// Where the stretch begins and ends, along the first edge.
    pub(crate) ends: (Spot, Spot),
    /// Its share of the first edge.
    pub(crate) share_first: Decimal,
    /// Its share of the second edge.
    pub(crate) share_second: Decimal,
}

/// The drawn sections, each with its place in the whole list.
pub(crate) type Drawn<'a> = [(&'a Section, Plane)];

/// The kinds of edge that two sections have between them.
pub(crate) const fn is_shared(kind: EdgeKind) -> bool {
    matches!(kind, EdgeKind::Hip | EdgeKind::Valley | EdgeKind::Ridge | EdgeKind::Transition)
}

/// Every stretch that two sections have in common, whatever each calls it.
pub(crate) fn shared_edges(drawn: &Drawn<'_>) -> Vec<Shared> {
    let mut found = Vec::new();
    for (one, (_, a)) in drawn.iter().enumerate() {
        for (two, (_, b)) in drawn.iter().enumerate().skip(one + 1) {
            for (i, edge) in edges(&a.corners).enumerate() {
                for (j, other) in edges(&b.corners).enumerate() {
                    if let Some((ends, share_first, share_second)) = stretch(edge, other) {
                        found.push(Shared {
                            first: (one, i),
                            second: (two, j),
                            ends,
                            share_first,
                            share_second,
                        });
                    }
                }
            }
        }
    }
    found
}

/// The stretch of `a` along which `b` lies within half an inch, and its share of both; `None` for half an inch or less.
fn stretch(a: (Spot, Spot), b: (Spot, Spot)) -> Option<((Spot, Spot), Decimal, Decimal)> {
    if !(lies_along(a, b) || lies_along(b, a)) {
        return None;
    }
    let (way, other) = (a.1.from(a.0), b.1.from(b.0));
    let length_squared = way.dot(way);
    let share = |spot: Spot| (spot.from(a.0).dot(way) / length_squared).clamp(Decimal::ZERO, Decimal::ONE);
    let (from, to) = (share(b.0), share(b.1));
    let (from, to) = (from.min(to), from.max(to));
    let part = to - from;
    if part * part * length_squared <= NEAR_IN * NEAR_IN {
        return None;
    }
    let part_of_other = (part * root(length_squared) / root(other.dot(other))).min(Decimal::ONE);
    Some(((a.0.along(way, from), a.0.along(way, to)), part, part_of_other))
}

/// Whether both ends of `b` lie within half an inch of the line that `a` is on.
fn lies_along(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    let way = a.1.from(a.0);
    let most = NEAR_IN * NEAR_IN * way.dot(way);
    [b.0, b.1].iter().all(|end| {
        let off = way.cross(end.from(a.0));
        off * off <= most
    })
}

/// All that is wrong between sections.
pub(crate) fn problems_between(drawn: &Drawn<'_>, shared: &[Shared], overhang: Qty) -> Vec<RoofProblem> {
    let mut wrong = overlaps(drawn, overhang);
    if !wrong.is_empty() {
        // Lines between sections that lie over each other mean nothing yet.
        return wrong;
    }
    wrong.extend(without_partner(drawn, shared));
    for stretch in shared {
        wrong.extend(wrong_along(drawn, stretch));
    }
    if wrong.is_empty() {
        wrong.extend(wrong_round_about(drawn, shared));
    }
    wrong
}

/// Sections that lie over one another in plan. An eave may hang over a lower roof where that meets its wall, so what
/// lies within the overhang of such a wall is let be.
fn overlaps(drawn: &Drawn<'_>, overhang: Qty) -> Vec<RoofProblem> {
    let cut: Vec<Vec<Triangle>> = drawn.iter().map(|(_, plane)| triangles(&plane.corners)).collect();
    let reach = overhang.decimal().max(Decimal::ZERO) + NEAR_IN;
    let mut wrong = Vec::new();
    for (one, (section, a)) in drawn.iter().enumerate() {
        for (two, (other, b)) in drawn.iter().enumerate().skip(one + 1) {
            if apart(a, b) {
                continue;
            }
            let walls: Vec<(Spot, Spot)> = walls(a).chain(walls(b)).collect();
            let by_wall =
                |spot: &Spot| walls.iter().any(|wall| distance_squared(*spot, *wall) <= reach * reach);
            let mut twice = Decimal::ZERO;
            for triangle in &cut[one] {
                for against in &cut[two] {
                    let piece = common(*triangle, *against);
                    if !piece.is_empty() && !piece.iter().all(by_wall) {
                        twice += twice_area(&piece);
                    }
                }
            }
            let sqin = twice / Decimal::TWO;
            if sqin > SLIVER_SQIN {
                let area_sqft = Qty::rounded((sqin / SLIVER_SQIN).round_dp(2));
                let fault = RoofFault::Overlap { other: other.name.clone(), area_sqft };
                wrong.push(problem(section, None, fault));
            }
        }
    }
    wrong
}

/// Whether the squares round two sections have no inch in common: most pairs are done with by this.
fn apart(a: &Plane, b: &Plane) -> bool {
    let low =
        |plane: &Plane, of: fn(&Spot) -> Decimal| plane.corners.iter().map(of).min().unwrap_or_default();
    let high =
        |plane: &Plane, of: fn(&Spot) -> Decimal| plane.corners.iter().map(of).max().unwrap_or_default();
    let axes: [fn(&Spot) -> Decimal; 2] = [|spot| spot.x, |spot| spot.y];
    axes.iter().any(|of| high(a, *of) <= low(b, *of) || high(b, *of) <= low(a, *of))
}

fn walls(plane: &Plane) -> impl Iterator<Item = (Spot, Spot)> + '_ {
    let all = edges(&plane.corners).zip(&plane.kinds);
    all.filter(|(_, kind)| matches!(kind, EdgeKind::Wall | EdgeKind::Headwall)).map(|(edge, _)| edge)
}

/// Hips and valleys of which some inches have no other section along them.
fn without_partner(drawn: &Drawn<'_>, shared: &[Shared]) -> Vec<RoofProblem> {
    let mut wrong = Vec::new();
    for (at, (section, plane)) in drawn.iter().enumerate() {
        for (index, (edge, kind)) in edges(&plane.corners).zip(&plane.kinds).enumerate() {
            if !matches!(kind, EdgeKind::Hip | EdgeKind::Valley) {
                continue;
            }
            let met: Decimal = shared
                .iter()
                .map(|stretch| {
                    if stretch.first == (at, index) {
                        stretch.share_first
                    } else if stretch.second == (at, index) {
                        stretch.share_second
                    } else {
                        Decimal::ZERO
                    }
                })
                .sum();
            let way = edge.1.from(edge.0);
            let missing = root(way.dot(way)) * (Decimal::ONE - met);
            if missing > Decimal::ONE {
                let missing_in = Qty::rounded(missing.round_dp(1));
                wrong.push(problem(section, Some(index), RoofFault::Alone { kind: *kind, missing_in }));
            }
        }
    }
    wrong
}

/// What is wrong along one stretch: two names for it, hip for valley, planes that do not meet.
fn wrong_along(drawn: &Drawn<'_>, stretch: &Shared) -> Option<RoofProblem> {
    let ((section, a), (other, b)) = (&drawn[stretch.first.0], &drawn[stretch.second.0]);
    let (kind, other_kind) = (a.kinds[stretch.first.1], b.kinds[stretch.second.1]);
    let sloped = |kind| matches!(kind, EdgeKind::Hip | EdgeKind::Valley);
    let here = |fault| Some(problem(section, Some(stretch.first.1), fault));
    if kind != other_kind {
        let one_line = sloped(kind)
            || sloped(other_kind)
            || (is_shared(kind) && is_shared(other_kind))
            || matches!(
                (kind, other_kind),
                (EdgeKind::Ridge, EdgeKind::Rake) | (EdgeKind::Rake, EdgeKind::Ridge)
            );
        let other = other.name.clone();
        return if one_line { here(RoofFault::NamedDifferently { kind, other, other_kind }) } else { None };
    }
    if kind == EdgeKind::Eave {
        return here(RoofFault::EavesMeet { other: other.name.clone() });
    }
    if !sloped(kind) {
        return None;
    }
    let (from, to) = stretch.ends;
    let by = ((a.height_in(to) - a.height_in(from)) - (b.height_in(to) - b.height_in(from))).abs();
    if by > NEAR_IN {
        let by_in = Qty::rounded(by.round_dp(2));
        return here(RoofFault::Heights { other: other.name.clone(), by_in });
    }
    let edge = |plane: &Plane, index: usize| edges(&plane.corners).nth(index);
    let (Some(mine), Some(theirs)) = (edge(a, stretch.first.1), edge(b, stretch.second.1)) else {
        return None;
    };
    let bend = a.rise_inward(mine) + b.rise_inward(theirs);
    match kind {
        EdgeKind::Hip if bend > FLAT => here(RoofFault::HipOrValley { kind, better: EdgeKind::Valley }),
        EdgeKind::Valley if bend < -FLAT => here(RoofFault::HipOrValley { kind, better: EdgeKind::Hip }),
        _ => None,
    }
}

/// Whether the plane goes on over a stretch: the two sections have the same heights at both of its ends, each from its
/// own lowest edge, and do not bend along it.
pub(crate) fn one_plane(drawn: &Drawn<'_>, stretch: &Shared) -> bool {
    let (a, b) = (&drawn[stretch.first.0].1, &drawn[stretch.second.0].1);
    let edge = |plane: &Plane, index: usize| edges(&plane.corners).nth(index);
    let (Some(mine), Some(theirs)) = (edge(a, stretch.first.1), edge(b, stretch.second.1)) else {
        return false;
    };
    let (from, to) = stretch.ends;
    let level = |spot: Spot| (a.height_in(spot) - b.height_in(spot)).abs() <= NEAR_IN;
    level(from) && level(to) && (a.rise_inward(mine) + b.rise_inward(theirs)).abs() <= FLAT
}

/// Planes that meet along each line by itself, but not when one goes round the roof from line to line: the height of
/// a section follows from one neighbor, and must agree with every other.
fn wrong_round_about(drawn: &Drawn<'_>, shared: &[Shared]) -> Vec<RoofProblem> {
    let joins = |stretch: &&Shared| {
        let kind = drawn[stretch.first.0].1.kinds[stretch.first.1];
        is_shared(kind) && kind == drawn[stretch.second.0].1.kinds[stretch.second.1]
    };
    let lines: Vec<&Shared> = shared.iter().filter(joins).collect();
    let mut raised: Vec<Option<Decimal>> = vec![None; drawn.len()];
    let mut wrong = Vec::new();
    for start in 0..drawn.len() {
        if raised[start].is_some() {
            continue;
        }
        raised[start] = Some(Decimal::ZERO);
        let mut waiting = VecDeque::from([start]);
        while let Some(at) = waiting.pop_front() {
            for line in lines.iter().filter(|line| line.first.0 == at || line.second.0 == at) {
                let (mine, theirs) = (drawn[at].1.height_in(line.ends.0), raised[at].unwrap_or_default());
                let next = if line.first.0 == at { line.second.0 } else { line.first.0 };
                let wanted = theirs + mine - drawn[next].1.height_in(line.ends.0);
                match raised[next] {
                    None => {
                        raised[next] = Some(wanted);
                        waiting.push_back(next);
                    }
                    // Each line is met from both of its sections; it is enough to say so from the first.
                    Some(height) if line.first.0 == at && (height - wanted).abs() > NEAR_IN => {
                        let by_in = Qty::rounded((height - wanted).abs().round_dp(2));
                        let fault = RoofFault::Heights { other: drawn[next].0.name.clone(), by_in };
                        wrong.push(problem(drawn[at].0, Some(line.first.1), fault));
                    }
                    Some(_) => {}
                }
            }
        }
    }
    wrong
}

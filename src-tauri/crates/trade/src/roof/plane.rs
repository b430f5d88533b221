//! One drawn section as a plane: which way it slopes, how high it stands, how long its edges are in truth.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::kinds::EdgeKind;
use crate::roof::plan::{NEAR_IN, Spot, crossing, edges, root, twice_area};
use crate::roof::problem::{RoofFault, RoofProblem};
use crate::roof::shape::Section;

/// How far from the sheet's zero a corner may lie, so that no product outgrows a decimal.
const FARTHEST_IN: i64 = 120_000;

const HUNDRED_FORTY_FOUR: Decimal = Decimal::from_parts(144, 0, 0, false, 0);
pub(crate) const TWELVE: Decimal = Decimal::from_parts(12, 0, 0, false, 0);

/// A drawn section that has passed all that can be checked of it alone.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) corners: Vec<Spot>,
    pub(crate) kinds: Vec<EdgeKind>,
    /// Twice the area in plan, square inches.
    pub(crate) twice_area: Decimal,
    /// Rise in 12.
    slope: Decimal,
    /// Straight up the slope in plan, of any length, and that length.
    up: Spot,
    up_in: Decimal,
    /// Where height is counted from.
    zero: Spot,
    /// 1 where the corners run to the left, −1 otherwise.
    turn: Decimal,
}

/// True area over plan area for a slope of `slope` in 12: √(1 + (rise ÷ 12)²).
#[must_use]
pub fn slope_factor(slope: Qty) -> Decimal {
    root(HUNDRED_FORTY_FOUR + slope.decimal() * slope.decimal()) / TWELVE
}

/// Whether an edge of this kind is level.
pub(crate) const fn is_level(kind: EdgeKind) -> bool {
    matches!(kind, EdgeKind::Eave | EdgeKind::Ridge | EdgeKind::Headwall | EdgeKind::Transition)
}

impl Plane {
    /// Checks a drawn section. All that is wrong with its corners comes at once; its edges are looked at only when
    /// they enclose something.
    pub(crate) fn read(section: &Section) -> Result<Plane, Vec<RoofProblem>> {
        let corners: Vec<Spot> = section
            .outline
            .iter()
            .map(|corner| Spot { x: corner.x_in.decimal(), y: corner.y_in.decimal() })
            .collect();
        let kinds: Vec<EdgeKind> = section.outline.iter().map(|corner| corner.edge).collect();
        let wrong = outline_problems(section, &corners);
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let area = twice_area(&corners);
        let turn = if area < Decimal::ZERO { Decimal::NEGATIVE_ONE } else { Decimal::ONE };
        let mut plane = Plane {
            corners,
            kinds,
            twice_area: area.abs(),
            slope: section.slope.decimal(),
            up: Spot { x: Decimal::ZERO, y: Decimal::ONE },
            up_in: Decimal::ONE,
            zero: Spot { x: Decimal::ZERO, y: Decimal::ZERO },
            turn,
        };
        plane.find_up().map_err(|fault| vec![problem(section, None, fault)])?;
        let wrong = plane.edge_problems(section);
        if wrong.is_empty() { Ok(plane) } else { Err(wrong) }
    }

    /// The way into the section from an edge, square to it.
    fn inward(&self, edge: (Spot, Spot)) -> Spot {
        let left = edge.1.from(edge.0).left();
        Spot { x: left.x * self.turn, y: left.y * self.turn }
    }

    /// The slope rises square to the level edges, away from the eave; where there is no eave, towards the ridge or
    /// headwall. The longest such edge decides, because a short one is the least exactly drawn.
    fn find_up(&mut self) -> Result<(), RoofFault> {
        let longest = |wanted: &[EdgeKind]| {
            let of_kind = edges(&self.corners).zip(&self.kinds).filter(|(_, kind)| wanted.contains(kind));
            of_kind.map(|(edge, _)| edge).max_by_key(|(from, to)| to.from(*from).dot(to.from(*from)))
        };
        let (edge, up) = if let Some(eave) = longest(&[EdgeKind::Eave]) {
            (eave, self.inward(eave))
        } else if let Some(high) = longest(&[EdgeKind::Ridge, EdgeKind::Headwall]) {
            (high, self.inward(high).back())
        } else if self.kinds.contains(&EdgeKind::Transition) {
            return Err(RoofFault::NoDirection);
        } else {
            return Err(RoofFault::NoLevelEdge);
        };
        self.zero = edge.0;
        self.up = up;
        self.up_in = root(up.dot(up));
        Ok(())
    }

    fn edge_problems(&self, section: &Section) -> Vec<RoofProblem> {
        let mut wrong = Vec::new();
        for (index, (edge, kind)) in edges(&self.corners).zip(&self.kinds).enumerate() {
            let climb_in = (edge.1.from(edge.0).dot(self.up) / self.up_in).abs();
            let inward_up = self.inward(edge).dot(self.up);
            let fault = if is_level(*kind) && climb_in > NEAR_IN {
                Some(RoofFault::NotParallel { kind: *kind, by_in: Qty::rounded(climb_in.round_dp(2)) })
            } else if *kind == EdgeKind::Eave && inward_up < Decimal::ZERO {
                Some(RoofFault::EaveHigh)
            } else if matches!(kind, EdgeKind::Ridge | EdgeKind::Headwall) && inward_up > Decimal::ZERO {
                Some(RoofFault::HighEdgeLow { kind: *kind })
            } else if !is_level(*kind) && climb_in <= NEAR_IN {
                let better = match kind {
                    EdgeKind::Wall => "headwall",
                    EdgeKind::Hip => "ridge",
                    EdgeKind::Valley => "transition",
                    _ => "eave or ridge",
                };
                Some(RoofFault::LevelSlope { kind: *kind, better })
            } else {
                None
            };
            wrong.extend(fault.map(|fault| problem(section, Some(index), fault)));
        }
        wrong
    }

    /// Height in inches over the section's own level edge.
    pub(crate) fn height_in(&self, spot: Spot) -> Decimal {
        spot.from(self.zero).dot(self.up) / self.up_in * self.slope / TWELVE
    }

    /// By how much the plane rises on the way in from an edge, an inch for an inch; below zero where it falls.
    pub(crate) fn rise_inward(&self, edge: (Spot, Spot)) -> Decimal {
        let inward = self.inward(edge);
        let length = root(inward.dot(inward));
        if length.is_zero() {
            return Decimal::ZERO;
        }
        inward.dot(self.up) / (length * self.up_in) * self.slope / TWELVE
    }

    /// The true length of an edge in inches: √(run² + rise²), where the rise is what the edge climbs up the slope.
    pub(crate) fn true_in(&self, edge: (Spot, Spot)) -> Decimal {
        let way = edge.1.from(edge.0);
        let climb = way.dot(self.up);
        let rise_squared =
            climb * climb / self.up.dot(self.up) * (self.slope * self.slope) / HUNDRED_FORTY_FOUR;
        root(way.dot(way) + rise_squared)
    }
}

/// A problem of a section or of its edge, counted from 0.
pub(crate) fn problem(section: &Section, edge: Option<usize>, fault: RoofFault) -> RoofProblem {
    let edge = edge.and_then(|index| i64::try_from(index + 1).ok());
    RoofProblem { section: Some(section.name.clone()), edge, fault }
}

fn outline_problems(section: &Section, corners: &[Spot]) -> Vec<RoofProblem> {
    if corners.len() < 3 {
        return vec![problem(section, None, RoofFault::FewCorners { count: corners.len() })];
    }
    let most = Decimal::from(FARTHEST_IN);
    let mut wrong = Vec::new();
    for (index, (from, to)) in edges(corners).enumerate() {
        if from.x.abs() > most || from.y.abs() > most {
            wrong.push(problem(section, Some(index), RoofFault::FarCorner { most: FARTHEST_IN }));
        }
        if from == to {
            wrong.push(problem(section, Some(index), RoofFault::ZeroEdge));
        }
    }
    if wrong.is_empty()
        && let Some((one, other)) = crossing(corners)
    {
        let other = i64::try_from(other + 1).unwrap_or(i64::MAX);
        wrong.push(problem(section, Some(one), RoofFault::Crossing { other }));
    }
    wrong
}

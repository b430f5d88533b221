//! What measuring gives: true areas and lengths, each with the steps that lead to it.

use rust_decimal::RoundingStrategy;
use serde::{Deserialize, Serialize};

use crate::money::Qty;
use crate::roof::kinds::{CutUp, EdgeKind};
use crate::roof::shape::Point;
use crate::shown::{grouped, unit_behind};

/// One step of a working, so that a figure can be opened: what was done, and what came of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WorkStep {
    /// What was done, in words.
    pub words: String,
    /// The figure with its unit.
    pub figure: String,
}

impl WorkStep {
    /// A step whose figure is a quantity and its unit, shown to two decimals at the most.
    pub(crate) fn new(words: impl Into<String>, figure: Qty, unit: &'static str) -> WorkStep {
        let shown =
            figure.decimal().round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero).normalize();
        WorkStep {
            words: words.into(),
            figure: format!("{} {}", grouped(shown), unit_behind(shown, unit)).trim_end().to_owned(),
        }
    }
}

/// A roof's true measures.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Measured {
    /// Plane by plane, in the order given.
    pub sections: Vec<MeasuredSection>,
    /// Square feet on the slope, the sum of the sections.
    pub area_sqft: Qty,
    /// The same in squares of 100 sq ft.
    pub squares: Qty,
    /// Feet of eave.
    pub eave_ft: Qty,
    /// Feet of rake, along the slope.
    pub rake_ft: Qty,
    /// Feet of valley; what two sections share is counted once.
    pub valley_ft: Qty,
    /// Feet of hip, shared lengths once.
    pub hip_ft: Qty,
    /// Feet of ridge, shared lengths once.
    pub ridge_ft: Qty,
    /// Feet of sloped edge against walls.
    pub wall_ft: Qty,
    /// Feet of level edge against walls.
    pub headwall_ft: Qty,
    /// Feet where the slope changes, shared lengths once.
    pub transition_ft: Qty,
    /// How many eaves end at a side wall.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub wall_ends: i64,
    /// The steepest slope, rise in 12.
    pub steepest: Qty,
    /// The lowest slope, rise in 12.
    pub lowest: Qty,
    /// Square feet of attic floor: as typed, or from the plan.
    pub attic_floor_sqft: Qty,
    /// How cut-up the roof is: as said, or by its valleys and hips.
    pub cut_up: CutUp,
    /// How area and totals were found.
    pub working: Vec<WorkStep>,
}

impl Measured {
    /// The true feet of all edges of one kind, shared lengths once.
    #[must_use]
    pub fn length_ft(&self, kind: EdgeKind) -> Qty {
        match kind {
            EdgeKind::Eave => self.eave_ft,
            EdgeKind::Rake => self.rake_ft,
            EdgeKind::Valley => self.valley_ft,
            EdgeKind::Hip => self.hip_ft,
            EdgeKind::Ridge => self.ridge_ft,
            EdgeKind::Wall => self.wall_ft,
            EdgeKind::Headwall => self.headwall_ft,
            EdgeKind::Transition => self.transition_ft,
        }
    }
}

/// One plane, measured.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MeasuredSection {
    /// Its name.
    pub name: String,
    /// Rise in 12.
    pub slope: Qty,
    /// Square feet seen from above.
    pub plan_sqft: Qty,
    /// Square feet on the slope.
    pub area_sqft: Qty,
    /// Its edges, in the order given.
    pub edges: Vec<MeasuredEdge>,
}

/// One edge, measured.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MeasuredEdge {
    /// What it is.
    pub kind: EdgeKind,
    /// Feet seen from above; absent where the section was measured by hand.
    pub plan_ft: Option<Qty>,
    /// True feet.
    pub length_ft: Qty,
    /// Of that, the true feet that no earlier section has counted; the totals sum these.
    pub counted_ft: Qty,
    /// Where it begins on the plan.
    pub from: Option<Point>,
    /// Where it ends on the plan.
    pub to: Option<Point>,
    /// The section on its other side, or the first of them.
    pub shared_with: Option<String>,
}

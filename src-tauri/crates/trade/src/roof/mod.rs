//! The roof: its words, its plan, its measures, and what they ask for.
//!
//! A roof is typed or drawn as a [`Roof`].

pub mod line;
pub mod measure;
pub mod measured;
mod plan;
pub mod plane;
pub mod problem;
pub mod recipe;
pub mod shape;
mod sharing;
pub mod standard;
pub mod words;

pub use line::{Bought, BuyError, Caution, Line, Takeoff, Warning, WarningCode, buy};
pub use measure::measure;
pub use measured::{Measured, MeasuredEdge, MeasuredSection, WorkStep};
pub use plane::{hip_factor, slope_factor};
pub use problem::{RoofFault, RoofProblem};
pub use recipe::{Recipe, VentChoice, Waste};
pub use shape::{Corner, Feature, House, Point, Roof, Section, Typed, TypedEdge};
pub use standard::{Asked, Difference, Setting, Stricter, compare, stricter, usual};
pub use words::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, Steepness, Topic, ValleyMethod,
};

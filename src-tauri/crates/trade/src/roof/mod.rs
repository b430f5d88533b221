//! The roof: its words, its plan, its measures, and what they ask for.
//!
//! A roof is typed or drawn as a [`Roof`].

pub mod line;
pub mod measured;
pub mod recipe;
pub mod shape;
pub mod words;

pub use line::{Bought, BuyError, Caution, Line, Takeoff, Warning, WarningCode, buy};
pub use measured::{Measured, MeasuredEdge, MeasuredSection, WorkStep};
pub use recipe::{Recipe, VentChoice, Waste};
pub use shape::{Corner, Feature, House, Point, Roof, Section, Typed, TypedEdge};
pub use words::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, Steepness, Topic, ValleyMethod,
};

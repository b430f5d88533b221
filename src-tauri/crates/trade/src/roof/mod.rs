//! The roof: its words, its plan, its measures, and what they ask for.
//!
//! A roof is typed or drawn as a [`Roof`]; [`measure()`] checks it and gives true areas and lengths; [`takeoff()`]
//! turns those, with what is [`Asked`] and how the firm builds ([`Recipe`]), into lines with their working; [`buy`]
//! makes packages of them.

pub mod around;
pub mod barrier;
mod caution;
mod edging;
mod extra;
pub mod fasteners;
mod field;
pub mod flashing;
mod given;
mod haul;
pub mod kinds;
mod known;
pub mod line;
pub mod measure;
pub mod measured;
mod part;
mod plan;
pub mod plane;
pub mod problem;
pub mod production;
pub mod recipe;
pub mod shape;
mod sharing;
mod shingled;
pub mod standard;
pub mod takeoff;
mod underlayment;
mod valley;
pub mod vent;

pub use around::{Around, around};
pub use barrier::{eave_rows, eave_width_in};
pub use fasteners::{NailReach, nail_reach};
pub use flashing::step_pieces;
pub use kinds::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, ShingleKind, Steepness, Topic,
    ValleyLining, ValleyMethod,
};
pub use line::{Bought, BuyError, Caution, Line, Takeoff, Warning, WarningCode, buy, names_section};
pub use measure::measure;
pub use measured::{Measured, MeasuredEdge, MeasuredSection, WorkStep};
pub use part::PartFact;
pub use plane::slope_factor;
pub use problem::{RoofFault, RoofProblem, before};
pub use production::{
    OnSlopes, Planned, Spread, hours_in_measure, in_measure, on_slopes, plan, spread, spread_over,
};
pub use recipe::{PartFacts, Recipe, VentChoice, Waste};
pub use shape::{Corner, Feature, House, Point, Roof, Section, Typed, TypedEdge};
pub use standard::{Asked, Difference, Setting, Stricter, compare, figure, stricter, title, unit, usual};
pub use takeoff::{takeoff, takeoff_without};
pub use vent::{FreeArea, free_area};

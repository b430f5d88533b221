//! The roof: its words, its plan, its measures, and what they ask for.

pub mod words;

pub use words::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, Steepness, Topic, ValleyMethod,
};

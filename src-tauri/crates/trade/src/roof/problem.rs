//! Why a roof cannot be as drawn: what is wrong, where, and what to do next.

use std::fmt;

use thiserror::Error;

use crate::money::Qty;
use crate::roof::kinds::EdgeKind;

/// Something wrong with a roof, and where.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub struct RoofProblem {
    /// The section's name; absent where it concerns the whole roof.
    pub section: Option<String>,
    /// The edge, counted from 1 in the order given.
    pub edge: Option<i64>,
    /// What is wrong, and what to do.
    pub fault: RoofFault,
}

impl fmt::Display for RoofProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", before(self.section.as_deref(), self.edge), self.fault)
    }
}

/// Where something stands on a roof, before the words that say what it is; nothing where it is the whole roof.
#[must_use]
pub fn before(section: Option<&str>, edge: Option<i64>) -> String {
    match (section, edge) {
        (Some(section), Some(edge)) => format!("Section \"{section}\", edge {edge}: "),
        (Some(section), None) => format!("Section \"{section}\": "),
        (None, _) => String::new(),
    }
}

/// What can be wrong with a roof.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RoofFault {
    /// Nothing to measure.
    #[error("There is no section. Draw one, or type its area.")]
    NoSections,
    /// A section without a name.
    #[error("The section has no name. Give it one, such as \"front\".")]
    NoName,
    /// Two sections of one name.
    #[error("Another section has the same name. Give each its own.")]
    SameName,
    /// Both drawn and typed.
    #[error("It is both drawn and typed. Take away its corners or its typed area.")]
    DrawnAndTyped,
    /// A typed figure that has to be above zero.
    #[error("The {what} is {value}. Type a figure above zero.")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// What was typed.
        value: Qty,
    },
    /// A figure that may be zero, but not below.
    #[error("The {what} is {value}. It cannot be below zero; type it again.")]
    Negative {
        /// What it is.
        what: &'static str,
        /// What was typed.
        value: Qty,
    },
    /// A figure beyond any roof.
    #[error("The {what} is {value}, more than {most}. Check it for extra digits.")]
    TooMuch {
        /// What it is.
        what: &'static str,
        /// What was typed.
        value: Qty,
        /// The most that is taken.
        most: i64,
    },
    /// A slope that no roof has.
    #[error("A slope of {slope} in 12 cannot be. Type a rise above 0 and up to 24.")]
    Slope {
        /// What was typed.
        slope: Qty,
    },
    /// Fewer than three corners.
    #[error("It has {count} corners. An outline needs at least 3; add corners, or type the area.")]
    FewCorners {
        /// How many there are.
        count: usize,
    },
    /// A corner far off the sheet.
    #[error("The corner lies more than {most} in from the sheet's zero. Check it for extra digits.")]
    FarCorner {
        /// How far a corner may lie.
        most: i64,
    },
    /// Two corners in one place.
    #[error("The edge has no length. Take away one of the two corners that lie in one place.")]
    ZeroEdge,
    /// An outline that crosses itself.
    #[error("It crosses or touches edge {other}. Move the corners so that the outline goes round once.")]
    Crossing {
        /// The other edge, from 1.
        other: i64,
    },
    /// Nothing says which way is up.
    #[error(
        "No edge is level, so that nothing says which way it slopes. Name its eave, ridge, headwall or transition."
    )]
    NoLevelEdge,
    /// Only transitions: the plane may fall either way.
    #[error(
        "Its only level edges are transitions, which may be its low or its high edge. Name an eave, ridge or \
         headwall, or type the section's area and lengths instead."
    )]
    NoDirection,
    /// Level edges that run different ways.
    #[error(
        "The {kind} is level, but is out of line with the section's other level edges by {by_in} in. Level edges of \
         one plane are parallel: move a corner, or name the edge otherwise."
    )]
    NotParallel {
        /// What the edge is.
        kind: EdgeKind,
        /// Inches in plan by which one end lies higher up the slope than the other.
        by_in: Qty,
    },
    /// An eave that is not a low edge.
    #[error(
        "The eave lies above the roof that should drain over it. An eave is the low edge: check which of the level \
         edges is the eave and which the ridge."
    )]
    EaveHigh,
    /// A ridge or headwall that is not a high edge.
    #[error("The {kind} lies below its own roof. It is a high edge: name the low one eave or transition.")]
    HighEdgeLow {
        /// Ridge or headwall.
        kind: EdgeKind,
    },
    /// A sloped edge that runs level.
    #[error("The {kind} runs level, but a {kind} is a sloped edge. Call it {better}, or move a corner.")]
    LevelSlope {
        /// What it is called.
        kind: EdgeKind,
        /// What it would rightly be called.
        better: &'static str,
    },
    /// Two sections over one another.
    #[error(
        "It lies over section \"{other}\" by {area_sqft} sq ft in plan. Move corners until the two only touch; an \
         eave may hang over a lower roof by the overhang where that meets its wall."
    )]
    Overlap {
        /// The other section.
        other: String,
        /// How much they have in common.
        area_sqft: Qty,
    },
    /// A hip or valley of one section alone.
    #[error(
        "A {kind} belongs to two sections, but {missing_in} in of this one have no other section along them. Draw \
         the other section up to it, or name the edge otherwise."
    )]
    Alone {
        /// Hip or valley.
        kind: EdgeKind,
        /// Inches in plan without a partner.
        missing_in: Qty,
    },
    /// Named one thing here and another there.
    #[error("It is named {kind} here and {other_kind} in section \"{other}\". Name it the same in both.")]
    NamedDifferently {
        /// What it is here.
        kind: EdgeKind,
        /// The section on the other side.
        other: String,
        /// What it is there.
        other_kind: EdgeKind,
    },
    /// Two eaves along one line: the water of both has nowhere to go.
    #[error(
        "Its eave meets the eave of section \"{other}\", so that both drain onto one line. Name it valley or ridge, or \
         move the sections apart."
    )]
    EavesMeet {
        /// The section on the other side.
        other: String,
    },
    /// A hip where water runs in, or a valley where it runs off.
    #[error("Between these slopes it is a {better} and not a {kind}. Name it so in both sections.")]
    HipOrValley {
        /// What it is called.
        kind: EdgeKind,
        /// What it is.
        better: EdgeKind,
    },
    /// Two planes that do not meet along their common edge.
    #[error(
        "Here it does not meet section \"{other}\" at the same height: they miss each other by {by_in} in. Change a \
         slope, or move the line to where the two planes meet."
    )]
    Heights {
        /// The section on the other side.
        other: String,
        /// Inches up and down between the two.
        by_in: Qty,
    },
    /// A feature on a section that is not there.
    #[error(
        "The {what} is said to stand on section \"{named}\", which is not there. Choose one of the sections."
    )]
    UnknownSection {
        /// The kind of feature.
        what: &'static str,
        /// The name given.
        named: String,
    },
}

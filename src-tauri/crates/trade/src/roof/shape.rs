//! The roof as a person draws or types it. Nothing here is checked; [`measure`](crate::roof::measure()) does that.

use serde::{Deserialize, Serialize};

use crate::money::Qty;
use crate::roof::kinds::{CutUp, DeckKind, EdgeKind, FeatureKind, Item};

/// A whole roof: its planes, what stands on them, and the house below.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Roof {
    /// The planes.
    pub sections: Vec<Section>,
    /// What comes through the roof or stands at it.
    pub features: Vec<Feature>,
    /// What the roof sits on.
    pub house: House,
}

/// One plane of the roof, either drawn (an outline) or measured by hand (typed).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Section {
    /// The person's own name for it, such as "front". No two sections have the same.
    pub name: String,
    /// Inches of rise in 12 inches of run.
    pub slope: Qty,
    /// The corners as seen from above, in order, either way round. Empty where the section was measured by hand.
    #[serde(default)]
    pub outline: Vec<Corner>,
    /// The section as measured by hand.
    #[serde(default)]
    pub typed: Option<Typed>,
}

/// A corner of a drawn section, in inches on the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Corner {
    /// Inches to the right.
    pub x_in: Qty,
    /// Inches up the sheet.
    pub y_in: Qty,
    /// What the edge from this corner to the next one is.
    pub edge: EdgeKind,
}

/// A place on the plan, in inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Point {
    /// Inches to the right.
    pub x_in: Qty,
    /// Inches up the sheet.
    pub y_in: Qty,
}

/// A section measured by hand on the roof.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Typed {
    /// Square feet on the slope, not in plan.
    pub area_sqft: Qty,
    /// Its edges.
    #[serde(default)]
    pub edges: Vec<TypedEdge>,
}

/// An edge measured by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct TypedEdge {
    /// What it is.
    pub kind: EdgeKind,
    /// True length in feet. An edge of two sections is typed once, in one of them.
    pub length_ft: Qty,
}

/// Something that comes through the roof or stands at it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Feature {
    /// What it is.
    pub kind: FeatureKind,
    /// The name of the section it stands on.
    #[serde(default)]
    pub section: Option<String>,
    /// Its middle on the plan.
    #[serde(default)]
    pub at: Option<Point>,
    /// Inches across the slope.
    #[serde(default)]
    pub width_in: Option<Qty>,
    /// Inches up the slope.
    #[serde(default)]
    pub length_in: Option<Qty>,
    /// How many alike.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub count: i64,
    /// Net free area in square inches of each old vent that stays, as rated; the whole of it where it is a ridge vent.
    #[serde(default)]
    pub free_area_sqin: Option<Qty>,
    /// What an old vent is: ridge, box, turbine or power vent, or intake.
    #[serde(default)]
    pub vent: Option<Item>,
}

/// What the roof sits on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct House {
    /// Stories under the eaves.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub stories: i64,
    /// What the deck is made of.
    pub deck: DeckKind,
    /// Inches from rafter to rafter, middle to middle.
    pub rafter_spacing_in: Qty,
    /// Level inches from the outside of the wall to the eave.
    pub overhang_in: Qty,
    /// Inches through the exterior wall.
    pub wall_thickness_in: Qty,
    /// Layers of old roof to tear off.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub layers: i64,
    /// Square feet of attic floor under the roof, zero where nothing is vented; absent where it follows from the plan.
    #[serde(default)]
    pub attic_floor_sqft: Option<Qty>,
    /// Climate zone, 1 to 8; absent where nobody has looked it up.
    #[serde(default)]
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub climate_zone: Option<i64>,
    /// A class I or II vapor retarder lies on the warm side of the attic floor.
    pub vapor_retarder: bool,
    /// Wind so high that the shingles' maker asks for more nails.
    pub high_wind: bool,
    /// How cut-up the roof is; absent where its valleys and hips say it.
    #[serde(default)]
    pub cut_up: Option<CutUp>,
    /// Built before 1978, so that old paint may hold lead.
    pub built_before_1978: bool,
}

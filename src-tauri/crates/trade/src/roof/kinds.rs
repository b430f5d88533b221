//! The closed lists of words that a roof is described with. Each is the trade's own term or plain English.

use crate::closed_list;
use crate::money::Qty;

/// What an edge of a roof section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum EdgeKind {
    /// The low edge, level, where water leaves.
    Eave,
    /// A sloped edge in the open.
    Rake,
    /// Where two sections meet and water runs in.
    Valley,
    /// Where two sections meet and water runs off both.
    Hip,
    /// The high level edge where two sections meet.
    Ridge,
    /// A sloped edge against a side wall: step flashing.
    Wall,
    /// A level high edge against a wall: apron flashing.
    Headwall,
    /// A level edge where the slope changes.
    Transition,
}
closed_list!(EdgeKind, "kind of edge", {
    Eave => "eave": "Eave",
    Rake => "rake": "Rake",
    Valley => "valley": "Valley",
    Hip => "hip": "Hip",
    Ridge => "ridge": "Ridge",
    Wall => "wall": "Wall",
    Headwall => "headwall": "Headwall",
    Transition => "transition": "Transition",
});

impl EdgeKind {
    /// What it is, for whoever draws a roof.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            EdgeKind::Eave => "the low edge, level",
            EdgeKind::Rake => "a sloped edge in the open",
            EdgeKind::Valley => "two sections meet and water runs in",
            EdgeKind::Hip => "two sections meet and water runs off",
            EdgeKind::Ridge => "the high edge, level",
            EdgeKind::Wall => "a sloped edge against a side wall",
            EdgeKind::Headwall => "a level high edge against a wall",
            EdgeKind::Transition => "a level edge where the slope changes",
        }
    }
}

/// Something that comes through the roof or stands at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum FeatureKind {
    /// A pipe with a boot.
    Pipe,
    /// A chimney.
    Chimney,
    /// A skylight.
    Skylight,
    /// An eave that ends at a side wall.
    WallEnd,
    /// A vent that stays.
    OldVent,
}
closed_list!(FeatureKind, "feature of a roof", {
    Pipe => "pipe": "Pipe",
    Chimney => "chimney": "Chimney",
    Skylight => "skylight": "Skylight",
    WallEnd => "wall-end": "Wall end",
    OldVent => "old-vent": "Old vent",
});

/// What the deck is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum DeckKind {
    /// 4 × 8 plywood.
    Plywood,
    /// 4 × 8 strand board.
    StrandBoard,
    /// Boards laid tight.
    Boards,
    /// Boards laid apart.
    SpacedBoards,
}
closed_list!(DeckKind, "kind of deck", {
    Plywood => "plywood": "Plywood, 4 × 8",
    StrandBoard => "strand-board": "Strand board, 4 × 8",
    Boards => "boards": "Boards laid tight",
    SpacedBoards => "spaced-boards": "Boards laid apart",
});

/// How cut-up a roof is: it decides the waste.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum CutUp {
    /// Two planes, few cuts.
    Plain,
    /// Some hips, valleys or dormers.
    Some,
    /// Many.
    Much,
}
closed_list!(CutUp, "how cut-up a roof is", {
    Plain => "plain": "Plain: two planes, few cuts",
    Some => "some": "Some hips, valleys or dormers",
    Much => "much": "Much cut up",
});

/// How steep, for production rates; where one ends and the next begins is the firm's own, in its recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Steepness {
    /// Flat enough to stand on anywhere.
    Low,
    /// Walked without more ado.
    Walkable,
    /// No longer walked: brackets or a harness all day.
    Steep,
    /// As steep as it gets.
    VerySteep,
}
closed_list!(Steepness, "steepness", {
    Low => "low": "Low",
    Walkable => "walkable": "Walkable",
    Steep => "steep": "Steep",
    VerySteep => "very-steep": "Very steep",
});

/// How a valley is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum ValleyMethod {
    /// Metal, over membrane where somebody asks for that.
    Open,
    /// Metal over one centered strip of membrane, and a strip each side over the metal's edges: three layers.
    OpenThreeLayer,
    /// Two plies of mineral-surfaced roll roofing in place of metal.
    OpenRoll,
    /// One side's shingles run through, the other's are cut along the line.
    ClosedCut,
}
closed_list!(ValleyMethod, "way to make a valley", {
    Open => "open": "Open metal",
    OpenThreeLayer => "open-three-layer": "Open metal, three layers",
    OpenRoll => "open-roll": "Open, two plies of roll roofing",
    ClosedCut => "closed-cut": "Closed cut",
});

/// What lies under the shingles of a closed valley.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum ValleyLining {
    /// Self-adhered membrane.
    Membrane,
    /// One ply of smooth roll roofing.
    SmoothRoll,
    /// Two plies of mineral-surfaced roll roofing, as in an open valley.
    MineralRoll,
    /// Metal, as in an open valley.
    Metal,
}
closed_list!(ValleyLining, "lining of a valley", {
    Membrane => "membrane": "Membrane",
    SmoothRoll => "smooth-roll": "Smooth roll roofing",
    MineralRoll => "mineral-roll": "Two plies of mineral roll roofing",
    Metal => "metal": "Metal",
});

/// What a shingle is: it decides the least number of nails, and what the other facts of a part begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum ShingleKind {
    /// Two layers bonded to one strip, in metric size.
    Laminated,
    /// A strip with tabs, 36 in long.
    Strip,
    /// One by one, hooked or locked into each other.
    Individual,
}
closed_list!(ShingleKind, "kind of shingle", {
    Laminated => "laminated": "Laminated",
    Strip => "strip": "Strips with tabs",
    Individual => "individual": "One by one",
});

impl ShingleKind {
    /// Shingles in a square, and inches of each that the weather sees; none where they differ from maker to maker.
    ///
    /// Laminated shingles of metric size, 13 1/4 × 39 3/8 in with 5 5/8 in to the weather, are 65 to a square; strips
    /// of 12 × 36 in with 5 in to the weather are 80 (NAVEDTRA 14044 ch. 3).
    #[must_use]
    pub const fn usual_size(self) -> Option<(Qty, Qty)> {
        match self {
            ShingleKind::Laminated => Some((Qty::from_e4(650_000), Qty::from_e4(56_250))),
            ShingleKind::Strip => Some((Qty::from_e4(800_000), Qty::from_e4(50_000))),
            ShingleKind::Individual => None,
        }
    }
}

/// A part of the roof system: what is bought, or done, and calculated from the roof's measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Item {
    /// Tear off the old roof: squares × layers.
    TearOff,
    /// Haul: tons, yards or loads.
    Haul,
    /// Deck sheets that the price covers.
    DeckSheet,
    /// Feet of deck board that the price covers.
    DeckBoard,
    /// Membrane, all places together: square feet.
    Barrier,
    /// Underlayment: square feet.
    Underlayment,
    /// Drip edge: feet.
    DripEdge,
    /// Starter: feet.
    Starter,
    /// Field shingles: square feet.
    Shingles,
    /// Metal for valleys: feet.
    ValleyMetal,
    /// Roll roofing that lines valleys: square feet.
    RollRoofing,
    /// Step flashing: pieces.
    StepFlashing,
    /// Apron flashing: feet.
    Apron,
    /// Counter-flashing: feet.
    CounterFlashing,
    /// Kick-out diverters: pieces.
    KickOut,
    /// Crickets behind wide chimneys: pieces.
    Cricket,
    /// Chimney flashing set: pieces.
    ChimneyFlashing,
    /// Skylight flashing set: pieces.
    SkylightFlashing,
    /// Pipe boots: pieces.
    PipeBoot,
    /// Ridge vent: feet.
    RidgeVent,
    /// Box vents: pieces.
    BoxVent,
    /// Turbine vents: pieces.
    TurbineVent,
    /// Power vents: pieces.
    PowerVent,
    /// Intake: feet of eave that are vented.
    Intake,
    /// Ridge and hip cap: feet.
    RidgeCap,
    /// Fasteners: nails.
    Fasteners,
    /// Attic insulation: square feet of attic floor.
    Insulation,
    /// Baffles that keep insulation off the intake: pieces.
    Baffle,
    /// Gutter: feet.
    Gutter,
    /// Downspouts: feet.
    Downspout,
    /// Permit: each.
    Permit,
    /// Lift or other machine: days.
    Machine,
    /// Setting up each morning and putting away each evening: days.
    SetUp,
    /// Covering beds, walks and walls below the edges: feet.
    Covering,
    /// Cleaning up, magnet included: squares.
    CleanUp,
    /// The crew's way there and back: miles for each person.
    Driving,
    /// Anything else, counted in pieces.
    Other,
}
closed_list!(Item, "part of the roof", {
    TearOff => "tear-off": "Tear-off",
    Haul => "haul": "Haul-off and dump fees",
    DeckSheet => "deck-sheet": "Deck sheet",
    DeckBoard => "deck-board": "Deck board",
    Barrier => "barrier": "Membrane",
    Underlayment => "underlayment": "Underlayment",
    DripEdge => "drip-edge": "Drip edge",
    Starter => "starter": "Starter",
    Shingles => "shingles": "Field shingles",
    ValleyMetal => "valley-metal": "Valley metal",
    RollRoofing => "roll-roofing": "Roll roofing in valleys",
    StepFlashing => "step-flashing": "Step flashing",
    Apron => "apron": "Apron flashing",
    CounterFlashing => "counter-flashing": "Counter-flashing",
    KickOut => "kick-out": "Kick-out",
    Cricket => "cricket": "Cricket",
    ChimneyFlashing => "chimney-flashing": "Chimney flashing",
    SkylightFlashing => "skylight-flashing": "Skylight flashing",
    PipeBoot => "pipe-boot": "Pipe boot",
    RidgeVent => "ridge-vent": "Ridge vent",
    BoxVent => "box-vent": "Box vent",
    TurbineVent => "turbine-vent": "Turbine vent",
    PowerVent => "power-vent": "Power vent",
    Intake => "intake": "Intake vent",
    RidgeCap => "ridge-cap": "Ridge and hip cap",
    Fasteners => "fasteners": "Fasteners",
    Insulation => "insulation": "Attic insulation",
    Baffle => "baffle": "Baffle",
    Gutter => "gutter": "Gutter",
    Downspout => "downspout": "Downspout",
    Permit => "permit": "Permit",
    Machine => "machine": "Lift or other machine",
    SetUp => "set-up": "Setting up",
    Covering => "covering": "Covering and protection",
    CleanUp => "clean-up": "Clean-up",
    Driving => "driving": "Driving",
    Other => "other": "Anything else",
});

/// What an item is measured in before it is packaged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Measure {
    /// 100 sq ft of roof surface.
    Square,
    /// Square feet.
    SquareFoot,
    /// Feet.
    Foot,
    /// Pieces.
    Each,
    /// Tons of 2,000 lb.
    Ton,
    /// Days.
    Day,
    /// Miles.
    Mile,
}
closed_list!(Measure, "measure", {
    Square => "square": "squares",
    SquareFoot => "square-foot": "sq ft",
    Foot => "foot": "ft",
    Each => "each": "pieces",
    Ton => "ton": "tons",
    Day => "day": "days",
    Mile => "mile": "miles",
});

impl Measure {
    /// One of it: “square”, “sq ft”, “piece”.
    #[must_use]
    pub fn single(self) -> &'static str {
        self.label().strip_suffix('s').unwrap_or(self.label())
    }
}

impl Item {
    /// Whether air passes through it: exhaust of any kind, or intake.
    #[must_use]
    pub const fn is_vent(self) -> bool {
        matches!(self, Item::RidgeVent | Item::BoxVent | Item::TurbineVent | Item::PowerVent | Item::Intake)
    }

    /// Whether it belongs to the shingles, so that it has no place where a section is too flat for them.
    #[must_use]
    pub const fn goes_with_shingles(self) -> bool {
        matches!(
            self,
            Item::Barrier
                | Item::Underlayment
                | Item::DripEdge
                | Item::Starter
                | Item::Shingles
                | Item::ValleyMetal
                | Item::RollRoofing
                | Item::StepFlashing
                | Item::Apron
                | Item::CounterFlashing
                | Item::KickOut
                | Item::Cricket
                | Item::ChimneyFlashing
                | Item::SkylightFlashing
                | Item::PipeBoot
                | Item::RidgeVent
                | Item::RidgeCap
                | Item::Fasteners
        )
    }

    /// What the item is measured in before waste and packages.
    #[must_use]
    pub const fn measure(self) -> Measure {
        match self {
            Item::TearOff | Item::CleanUp => Measure::Square,
            Item::Haul => Measure::Ton,
            Item::Barrier | Item::Underlayment | Item::Shingles | Item::RollRoofing | Item::Insulation => {
                Measure::SquareFoot
            }
            Item::DeckBoard
            | Item::DripEdge
            | Item::Starter
            | Item::ValleyMetal
            | Item::Apron
            | Item::CounterFlashing
            | Item::RidgeVent
            | Item::Intake
            | Item::Covering
            | Item::RidgeCap
            | Item::Gutter
            | Item::Downspout => Measure::Foot,
            Item::DeckSheet
            | Item::StepFlashing
            | Item::KickOut
            | Item::ChimneyFlashing
            | Item::SkylightFlashing
            | Item::PipeBoot
            | Item::BoxVent
            | Item::TurbineVent
            | Item::PowerVent
            | Item::Cricket
            | Item::Baffle
            | Item::Fasteners
            | Item::Permit
            | Item::Other => Measure::Each,
            Item::Machine | Item::SetUp => Measure::Day,
            Item::Driving => Measure::Mile,
        }
    }
}

/// Which way air goes through a vent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum VentSide {
    /// High on the roof, where warm air leaves.
    Exhaust,
    /// Low on it, where cold air comes in.
    Intake,
}
closed_list!(VentSide, "side of a vent", { Exhaust => "exhaust": "Exhaust", Intake => "intake": "Intake" });

impl Item {
    /// Which way air goes through it; nothing where it is no vent.
    #[must_use]
    pub const fn vent_side(self) -> Option<VentSide> {
        match self {
            Item::RidgeVent | Item::BoxVent | Item::TurbineVent | Item::PowerVent => Some(VentSide::Exhaust),
            Item::Intake => Some(VentSide::Intake),
            _ => None,
        }
    }

    /// Square inches of net free area that one vent, or a foot of ridge vent, is usually rated for (*common practice,
    /// no source*). The part's own rating goes before it.
    #[must_use]
    pub const fn usual_free_area_sqin(self) -> Option<i64> {
        match self {
            Item::RidgeVent => Some(18),
            Item::BoxVent => Some(50),
            Item::TurbineVent => Some(150),
            // A power vent goes by the air that it moves.
            Item::PowerVent => Some(0),
            Item::Intake => Some(9),
            _ => None,
        }
    }
}

/// Who asks: the code, or the firm's own standard where it asks more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Origin {
    /// The building code in force; local code governs.
    Code,
    /// The company standard.
    Company,
}
closed_list!(Origin, "origin of a standard", {
    Code => "code": "To the code",
    Company => "company": "To the company standard",
});

/// What a standard is about. Each has one number; 0 stands for "not asked" where the topic is a yes or no.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Topic {
    /// Membrane at eaves asked for: 1 or 0 (the place has a history of ice along the eaves).
    BarrierEave,
    /// Level inches inside the exterior wall line that the eave barrier reaches.
    BarrierEaveInside,
    /// Inches along the slope that the eave barrier is at least wide on steep roofs; 0 for none.
    BarrierEaveAlong,
    /// From which rise in 12 that least width counts.
    BarrierEaveAlongFrom,
    /// Width in inches of membrane along rakes; 0 for none.
    BarrierRake,
    /// Width in inches of membrane in valleys; 0 for none.
    BarrierValley,
    /// Width in inches of membrane along hips; 0 for none.
    BarrierHip,
    /// Width in inches of membrane along ridges; 0 for none.
    BarrierRidge,
    /// Width in inches of membrane along walls and headwalls; 0 for none.
    BarrierWall,
    /// Inches of membrane on each side round a penetration; 0 for none.
    BarrierPenetration,
    /// Least rise in 12 for shingles.
    LeastSlope,
    /// Under this rise in 12 the underlayment is doubled.
    DoubleUnderlaymentBelow,
    /// Drip edge at eaves: 1 or 0.
    DripEdgeEave,
    /// Drip edge at rakes: 1 or 0.
    DripEdgeRake,
    /// Inches by which drip edge laps.
    DripEdgeLap,
    /// Starter at eaves: 1 or 0.
    StarterEave,
    /// Starter at rakes: 1 or 0.
    StarterRake,
    /// Least width in inches of open valley metal.
    ValleyMetalWidth,
    /// Width in inches of the lining under a closed valley; 0 for none.
    ValleyLining,
    /// Strips laid over the edges of the valley metal: 1 or 0.
    ValleyEdgeStrips,
    /// Step flashing's least side in inches.
    StepFlashingSide,
    /// A kick-out at every eave that ends at a wall: 1 or 0.
    KickOut,
    /// What is wider than this many inches across the slope needs a cricket behind it; 0 for nothing.
    CricketOver,
    /// Attic floor area for each unit of net free area where the conditions for the smaller area hold: 150 or 300.
    VentRatio,
    /// Least share in percent of the free area that is high for the smaller area.
    VentUpperLeast,
    /// Most share in percent of the free area that is high for the smaller area.
    VentUpperMost,
    /// Share and vapor retarder are both asked for the smaller area, where older editions took either: 1 or 0.
    VentBoth,
    /// Climate zone from which the vapor retarder is asked for the smaller area; 0 for none.
    VentRetarderZone,
    /// Nails in each strip shingle.
    NailsEach,
    /// Nails in each shingle that is put up one by one.
    NailsIndividual,
    /// Nails in each strip shingle on very steep roofs and where wind is high; 0 for no more than elsewhere.
    NailsHighWind,
    /// Over this rise in 12 those nails count.
    NailsSteepOver,
    /// New flashings in place of the old ones: 1 or 0.
    NewFlashings,
}
closed_list!(Topic, "topic of a standard", {
    BarrierEave => "barrier-eave", BarrierEaveInside => "barrier-eave-inside",
    BarrierEaveAlong => "barrier-eave-along", BarrierEaveAlongFrom => "barrier-eave-along-from",
    BarrierRake => "barrier-rake", BarrierValley => "barrier-valley", BarrierHip => "barrier-hip",
    BarrierRidge => "barrier-ridge", BarrierWall => "barrier-wall", BarrierPenetration => "barrier-penetration",
    LeastSlope => "least-slope", DoubleUnderlaymentBelow => "double-underlayment-below",
    DripEdgeEave => "drip-edge-eave", DripEdgeRake => "drip-edge-rake", DripEdgeLap => "drip-edge-lap",
    StarterEave => "starter-eave", StarterRake => "starter-rake", ValleyMetalWidth => "valley-metal-width",
    ValleyLining => "valley-lining", ValleyEdgeStrips => "valley-edge-strips",
    StepFlashingSide => "step-flashing-side", KickOut => "kick-out", CricketOver => "cricket-over",
    VentRatio => "vent-ratio", VentUpperLeast => "vent-upper-least", VentUpperMost => "vent-upper-most",
    VentBoth => "vent-both", VentRetarderZone => "vent-retarder-zone", NailsEach => "nails-each",
    NailsIndividual => "nails-individual", NailsHighWind => "nails-high-wind", NailsSteepOver => "nails-steep-over",
    NewFlashings => "new-flashings",
});

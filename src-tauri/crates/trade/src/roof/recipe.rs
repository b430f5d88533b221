//! How the firm builds: the choices and sizes that a takeoff needs beyond the roof itself.

use serde::{Deserialize, Serialize};

use crate::money::{Qty, Rate};
use crate::roof::kinds::{CutUp, Item, ShingleKind, Steepness, ValleyLining, ValleyMethod};

/// How the firm builds. [`Recipe::usual`] is a start; each field may be set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Recipe {
    /// Rise in 12 from which a roof is walkable and no longer low.
    pub walkable_from: Qty,
    /// Rise in 12 from which it is steep and no longer walked.
    pub steep_from: Qty,
    /// Rise in 12 from which it is very steep.
    pub very_steep_from: Qty,
    /// How valleys are made.
    pub valley: ValleyMethod,
    /// What lines closed valleys.
    pub valley_lining: ValleyLining,
    /// Inches across the metal of valleys.
    pub valley_metal_width_in: Qty,
    /// Inches across each strip over the metal's edges.
    pub valley_edge_strip_in: Qty,
    /// Waste by item and by how cut-up the roof is; what is not listed has none.
    pub waste: Vec<Waste>,
    /// What the shingles are. This and what follows of pieces and nails is the part's own, where the part says it.
    pub shingle: ShingleKind,
    /// Shingles in a square.
    pub shingles_per_square: Qty,
    /// Inches of each course of shingles that the weather sees; step flashing and courses follow it.
    pub exposure_in: Qty,
    /// Nails in each shingle, as its maker asks; absent, as many as are asked for.
    #[serde(default)]
    pub shingle_nails: Option<Qty>,
    /// Inches of an edge that a piece of starter runs along.
    pub starter_piece_in: Qty,
    /// Nails in each piece of starter.
    pub starter_nails: Qty,
    /// Inches of each ridge cap piece that the weather sees.
    pub cap_exposure_in: Qty,
    /// Nails in each ridge cap piece.
    pub cap_nails: Qty,
    /// Nails in a square of underlayment.
    pub underlayment_nails: Qty,
    /// Inches through a deck sheet.
    pub deck_in: Qty,
    /// Inches across a roll of membrane.
    pub barrier_roll_in: Qty,
    /// Inches by which one row of membrane laps the next.
    pub barrier_lap_in: Qty,
    /// Rows of membrane at eaves where the firm always lays the same; absent, as many as reach far enough.
    #[serde(default)]
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub eave_rows: Option<i64>,
    /// Inches across a roll of underlayment.
    pub underlayment_roll_in: Qty,
    /// Inches by which one row of underlayment laps the next.
    pub underlayment_lap_in: Qty,
    /// Whether underlayment runs on over the membrane, so that nothing is saved there.
    pub underlayment_over_barrier: bool,
    /// Feet of a piece of drip edge.
    pub drip_edge_piece_ft: Qty,
    /// Feet of a piece of valley metal, apron or counter-flashing.
    pub flashing_piece_ft: Qty,
    /// Inches by which such a piece laps the next.
    pub flashing_lap_in: Qty,
    /// Inches along the roof, and up the wall, of a piece of step flashing.
    pub step_flashing_side_in: Qty,
    /// Whether walls are of masonry, so that counter-flashing is cut in over step and apron flashing.
    pub masonry_walls: bool,
    /// Inches across a pipe whose size was not given.
    pub pipe_in: Qty,
    /// Inches along each side of a chimney or skylight whose size was not given.
    pub opening_in: Qty,
    /// Pounds that one layer of the old roof weighs on a square.
    pub layer_lb_per_square: Qty,
    /// Cubic yards that one layer of the old roof fills from a square.
    pub layer_yards_per_square: Qty,
    /// Tons that a container may carry; zero where hauling is not calculated.
    pub container_tons: Qty,
    /// Cubic yards that a container holds.
    pub container_yards: Qty,
    /// New exhaust vents. Those with a fixed amount count first; the first without one takes what is left to do.
    pub exhaust: Vec<VentChoice>,
    /// New intake; absent where the firm relies on what is there.
    #[serde(default)]
    pub intake: Option<VentChoice>,
    /// Feet of eave that can be vented; absent, all of it.
    #[serde(default)]
    pub vented_eave_ft: Option<Qty>,
    /// Cubic feet of air a minute that power vents move for each square foot of attic floor.
    pub power_cfm_per_sqft: Qty,
    /// Cubic feet of air a minute that a square foot of free area lets in.
    pub intake_cfm_per_sqft: Qty,
    /// Deck sheets that the price covers.
    pub included_sheets: Qty,
    /// Feet of deck board that the price covers.
    pub included_board_ft: Qty,
    /// Inches of attic insulation wanted; absent where none is.
    #[serde(default)]
    pub insulation_depth_in: Option<Qty>,
    /// Whether gutters are hung along the eaves.
    pub gutters: bool,
    /// Corner pieces of the gutter.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub gutter_corners: i64,
    /// How many downspouts; absent, as many as the gutters ask for.
    #[serde(default)]
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub downspouts: Option<i64>,
    /// Feet of gutter that one downspout drains.
    pub downspout_every_ft: Qty,
    /// Feet of a downspout for each story.
    pub downspout_story_ft: Qty,
    /// Permits.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub permits: i64,
    /// Days of a lift or other machine.
    pub machine_days: Qty,
}

/// Waste of an item on roofs that are cut-up so much.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Waste {
    /// The item.
    pub item: Item,
    /// How cut-up the roof is.
    pub cut_up: CutUp,
    /// Waste as a share of the net quantity.
    pub share: Rate,
}

/// A vent that may be put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct VentChoice {
    /// Ridge, box, turbine or power vent, or intake.
    pub vent: Item,
    /// Net free area in square inches: of a foot of ridge vent or intake, of each piece of any other.
    pub free_area_sqin: Qty,
    /// Cubic feet of air a minute that a power vent moves.
    #[serde(default)]
    pub cfm: Option<Qty>,
    /// So many feet or pieces, where the person says so; absent, as many as are needed.
    #[serde(default)]
    pub fixed: Option<Qty>,
}

impl VentChoice {
    /// As many as are needed of a vent with so much free area.
    #[must_use]
    pub const fn rated(vent: Item, free_area_sqin: Qty) -> VentChoice {
        VentChoice { vent, free_area_sqin, cfm: None, fixed: None }
    }
}

/// What a part says of itself: it goes before the recipe, whose figures are a start for parts that say nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PartFacts {
    /// What its shingles are.
    pub shingle: Option<ShingleKind>,
    /// Pieces in a square.
    pub pieces_per_square: Option<Qty>,
    /// Inches of a piece that the weather sees; of starter, inches of the edge that a piece runs along.
    pub exposure_in: Option<Qty>,
    /// Nails in each piece; of underlayment, in each square.
    pub nails_each: Option<Qty>,
    /// Net free area of a vent in square inches.
    pub free_area_sqin: Option<Qty>,
    /// Cubic feet of air a minute that a power vent moves.
    pub cfm: Option<Qty>,
}

impl Recipe {
    /// The recipe with what the part chosen for an item says of itself. A part that says only what its shingles are has
    /// the facts of that kind.
    #[must_use]
    pub fn with_part(mut self, item: Item, part: &PartFacts) -> Recipe {
        for vent in self.exhaust.iter_mut().chain(&mut self.intake).filter(|vent| vent.vent == item) {
            vent.free_area_sqin = part.free_area_sqin.unwrap_or(vent.free_area_sqin);
            vent.cfm = part.cfm.or(vent.cfm);
        }
        let own = |own: Option<Qty>, field: &mut Qty| *field = own.unwrap_or(*field);
        match item {
            Item::Shingles => {
                if let Some(kind) = part.shingle {
                    self = self.with_shingles(kind);
                }
                own(part.pieces_per_square, &mut self.shingles_per_square);
                own(part.exposure_in, &mut self.exposure_in);
                self.shingle_nails = part.nails_each.or(self.shingle_nails);
            }
            Item::Starter => {
                own(part.exposure_in, &mut self.starter_piece_in);
                own(part.nails_each, &mut self.starter_nails);
            }
            Item::RidgeCap => {
                own(part.exposure_in, &mut self.cap_exposure_in);
                own(part.nails_each, &mut self.cap_nails);
            }
            Item::Underlayment => own(part.nails_each, &mut self.underlayment_nails),
            _ => {}
        }
        self
    }

    /// A start for a firm that has set nothing yet. All of it is common practice, no source, unless a field says more;
    /// the firm's own packages and habits replace it.
    #[must_use]
    pub fn usual() -> Recipe {
        Recipe {
            walkable_from: whole(4),
            steep_from: whole(8),
            very_steep_from: whole(12),
            valley: ValleyMethod::Open,
            valley_lining: ValleyLining::Membrane,
            valley_metal_width_in: whole(24),
            valley_edge_strip_in: whole(12),
            waste: usual_waste(),
            shingle: ShingleKind::Laminated,
            shingles_per_square: whole(65),
            exposure_in: Qty::from_e4(56_250),
            shingle_nails: None,
            starter_piece_in: whole(36),
            starter_nails: whole(4),
            cap_exposure_in: whole(5),
            cap_nails: whole(2),
            underlayment_nails: whole(75),
            deck_in: Qty::from_e4(4_375),
            barrier_roll_in: whole(36),
            barrier_lap_in: whole(6),
            eave_rows: None,
            underlayment_roll_in: whole(36),
            underlayment_lap_in: whole(2),
            underlayment_over_barrier: false,
            drip_edge_piece_ft: whole(10),
            flashing_piece_ft: whole(10),
            flashing_lap_in: whole(4),
            step_flashing_side_in: whole(4),
            masonry_walls: false,
            pipe_in: whole(4),
            opening_in: whole(32),
            layer_lb_per_square: whole(250),
            layer_yards_per_square: Qty::from_e4(4_000),
            container_tons: whole(4),
            container_yards: whole(20),
            exhaust: vec![VentChoice::rated(Item::RidgeVent, whole(18))],
            intake: Some(VentChoice::rated(Item::Intake, whole(9))),
            vented_eave_ft: None,
            power_cfm_per_sqft: Qty::from_e4(7_000),
            intake_cfm_per_sqft: whole(300),
            included_sheets: Qty::ZERO,
            included_board_ft: Qty::ZERO,
            insulation_depth_in: None,
            gutters: false,
            gutter_corners: 0,
            downspouts: None,
            downspout_every_ft: whole(35),
            downspout_story_ft: whole(10),
            permits: 1,
            machine_days: Qty::ZERO,
        }
    }

    /// How steep a slope is for those who work on it, by the firm's own limits: custom differs from firm to firm, and
    /// no rule has it (the usual 4, 8 and 12 in 12 are common practice, no source).
    #[must_use]
    pub fn steepness(&self, slope: Qty) -> Steepness {
        if slope < self.walkable_from {
            Steepness::Low
        } else if slope < self.steep_from {
            Steepness::Walkable
        } else if slope < self.very_steep_from {
            Steepness::Steep
        } else {
            Steepness::VerySteep
        }
    }

    /// The same with shingles of another kind, by the facts of that kind. Those that differ from maker to maker leave
    /// the figures what they were, and the part says better.
    #[must_use]
    pub fn with_shingles(mut self, kind: ShingleKind) -> Recipe {
        self.shingle = kind;
        if let Some((per_square, exposure)) = kind.usual_size() {
            (self.shingles_per_square, self.exposure_in) = (per_square, exposure);
        }
        self
    }

    /// The waste of an item on a roof that is so cut-up; none where the list does not say.
    #[must_use]
    pub fn waste_of(&self, item: Item, cut_up: CutUp) -> Rate {
        let listed = self.waste.iter().find(|waste| waste.item == item && waste.cut_up == cut_up);
        listed.map_or(Rate::ZERO, |waste| waste.share)
    }
}

/// Common practice, no source: shingles lose most where they are cut along hips and valleys, rolls little.
fn usual_waste() -> Vec<Waste> {
    let by_item = [
        (Item::Shingles, [10, 13, 17]),
        (Item::Underlayment, [5, 7, 10]),
        (Item::Barrier, [5, 7, 10]),
        (Item::DripEdge, [5, 5, 10]),
        (Item::Starter, [5, 5, 10]),
        (Item::ValleyMetal, [5, 5, 10]),
        (Item::RollRoofing, [5, 5, 10]),
        (Item::StepFlashing, [5, 5, 10]),
        (Item::Apron, [5, 5, 10]),
        (Item::CounterFlashing, [5, 5, 10]),
        (Item::RidgeVent, [5, 5, 5]),
        (Item::RidgeCap, [5, 5, 10]),
        (Item::Fasteners, [10, 10, 10]),
        (Item::Gutter, [5, 5, 5]),
    ];
    let of = |(item, shares): (Item, [i64; 3])| {
        let kinds = CutUp::ALL.iter().zip(shares);
        kinds.map(move |(cut_up, percent)| Waste {
            item,
            cut_up: *cut_up,
            share: Rate::from_e6(percent * 10_000),
        })
    };
    by_item.into_iter().flat_map(of).collect()
}

/// A whole number as a quantity.
pub(crate) const fn whole(number: i64) -> Qty {
    Qty::from_e4(number * 10_000)
}

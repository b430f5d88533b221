//! How the firm builds, kept from a day on: the company recipe.

use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{CutUp, Item, Qty, Rate, ShingleKind, ValleyLining, ValleyMethod};

row! {
    /// Waste of an item on roofs that are cut-up so much.
    RecipeWaste in "recipe_waste" {
        /// The item.
        item: Item => open,
        /// How cut-up the roof is.
        cut_up: CutUp => open,
        /// Waste as a fraction of the net quantity.
        share: Rate => open,
    } lists {}
}
row! {
    /// A vent that is put in: exhaust of one kind or another, or intake.
    RecipeVent in "recipe_vent" {
        /// What.
        vent: Item => open,
        /// Net free area in square inches: of a foot of ridge vent or intake, of each piece of any other; absent for
        /// power vents, which go by the air that they move.
        free_area_sqin: Option<Qty> => open,
        /// Cubic feet of air a minute that a power vent moves.
        cfm: Option<Qty> => open,
        /// So many feet or pieces; absent, as many as are needed.
        fixed: Option<Qty> => open,
    } lists {}
}
fact! {
    /// How the firm builds, from a day on. A later day takes over from an earlier one of the same name; of those on
    /// offer the newest that is said to be the usual one is where an estimate begins.
    Recipe as "recipe" in "recipe" {
        /// From this day.
        date: Date => open,
        /// What the firm calls it.
        name: String => open,
        /// The job whose contract was built with it, where it was changed for that one; absent for the company's own.
        job: Option<Id> => open,
        /// Whether estimates begin from it.
        #[serde(default)]
        usual: bool => open,
        /// No longer offered.
        #[serde(default)]
        retired: bool => open,
        /// Rise in 12 from which a roof is walkable and no longer low.
        walkable_from: Qty => open,
        /// Rise in 12 from which it is steep and no longer walked.
        steep_from: Qty => open,
        /// Rise in 12 from which it is very steep.
        very_steep_from: Qty => open,
        /// How valleys are made.
        valley: ValleyMethod => open,
        /// What lines closed valleys.
        valley_lining: ValleyLining => open,
        /// Inches across the metal of valleys.
        valley_metal_width_in: Qty => open,
        /// Inches across each strip over the metal's edges.
        valley_edge_strip_in: Qty => open,
        /// What the shingles are; this and what follows of pieces and nails is the part's own, where the part says it.
        shingle: ShingleKind => open,
        /// Nails in each shingle; absent, as many as are asked for.
        shingle_nails: Option<Qty> => open,
        /// Inches of an edge that a piece of starter runs along.
        starter_piece_in: Qty => open,
        /// Nails in each piece of starter.
        starter_nails: Qty => open,
        /// Nails in each ridge cap piece.
        cap_nails: Qty => open,
        /// Nails in a square of underlayment.
        underlayment_nails: Qty => open,
        /// Inches through a deck sheet.
        deck_in: Qty => open,
        /// Inches of each course of shingles that the weather sees.
        exposure_in: Qty => open,
        /// Inches of each ridge cap piece that the weather sees.
        cap_exposure_in: Qty => open,
        /// Inches across a roll of membrane.
        barrier_roll_in: Qty => open,
        /// Inches by which one row of membrane laps the next.
        barrier_lap_in: Qty => open,
        /// Rows of membrane at eaves; absent, as many as reach far enough.
        eave_rows: Option<i64> => open,
        /// Inches across a roll of underlayment.
        underlayment_roll_in: Qty => open,
        /// Inches by which one row of underlayment laps the next.
        underlayment_lap_in: Qty => open,
        /// Whether underlayment runs on over the membrane.
        underlayment_over_barrier: bool => open,
        /// Feet of a piece of drip edge.
        drip_edge_piece_ft: Qty => open,
        /// Feet of a piece of valley metal, apron or counter-flashing.
        flashing_piece_ft: Qty => open,
        /// Inches by which such a piece laps the next.
        flashing_lap_in: Qty => open,
        /// Inches along the roof, and up the wall, of a piece of step flashing.
        step_flashing_side_in: Qty => open,
        /// Whether walls are of masonry.
        masonry_walls: bool => open,
        /// Inches across a pipe whose size was not given.
        pipe_in: Qty => open,
        /// Inches along each side of a chimney or skylight whose size was not given.
        opening_in: Qty => open,
        /// Shingles in a square.
        shingles_per_square: Qty => open,
        /// Pounds that one layer of the old roof weighs on a square.
        layer_lb_per_square: Qty => open,
        /// Cubic yards that one layer of the old roof fills from a square.
        layer_yards_per_square: Qty => open,
        /// Tons that a container may carry; 0 where hauling is not calculated.
        container_tons: Qty => open,
        /// Cubic yards that a container holds.
        container_yards: Qty => open,
        /// Feet of eave that can be vented; absent, all of it.
        vented_eave_ft: Option<Qty> => open,
        /// Cubic feet of air a minute that power vents move for each square foot of attic floor.
        power_cfm_per_sqft: Qty => open,
        /// Cubic feet of air a minute that a square foot of intake lets in.
        intake_cfm_per_sqft: Qty => open,
        /// Deck sheets that the price covers.
        included_sheets: Qty => open,
        /// Feet of deck board that the price covers.
        included_board_ft: Qty => open,
        /// Inches of attic insulation wanted; absent where none is.
        insulation_depth_in: Option<Qty> => open,
        /// Whether gutters are hung along the eaves.
        gutters: bool => open,
        /// Corner pieces of the gutter.
        gutter_corners: i64 => open,
        /// How many downspouts; absent, as many as the gutters ask for.
        downspouts: Option<i64> => open,
        /// Feet of gutter that one downspout drains.
        downspout_every_ft: Qty => open,
        /// Feet of a downspout for each story.
        downspout_story_ft: Qty => open,
        /// Permits.
        permits: i64 => open,
        /// Days of a lift or other machine.
        machine_days: Qty => open,
    } with {
        /// Waste by item and by how cut-up the roof is; what is not listed has none.
        waste: RecipeWaste,
        /// New vents.
        vents: RecipeVent,
    }
}

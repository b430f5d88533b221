//! The company's recipes: how the firm builds, as it was kept from a day on, and as a takeoff takes it.

use desk::OfficeError;
use desk::rates::RateBook;
use jiff::civil::Date;
use ledger::Id;
use ledger::facts::{Recipe as Kept, RecipeVent, RecipeWaste};
use serde::Serialize;
use trade::roof::{Recipe, VentChoice, Waste};
use trade::{Item, Steepness};

/// A recipe of the company.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RecipeRow {
    /// The fact's id.
    pub id: String,
    /// What the firm calls it.
    pub name: String,
    /// Whether estimates begin from it.
    pub usual: bool,
    /// No longer offered.
    pub retired: bool,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub since: Date,
    /// How the firm builds.
    pub recipe: Recipe,
}

/// The recipes on a day: the usual one first, then the others on offer, then those that were retired.
pub(crate) fn recipe_rows(book: &RateBook, on: Date) -> Vec<RecipeRow> {
    let usual = book.usual_recipe(on).map(|recipe| recipe.id);
    let mut rows: Vec<RecipeRow> = book
        .recipes(on)
        .into_iter()
        .map(|kept| RecipeRow {
            id: kept.id.to_string(),
            name: kept.fact.name.clone(),
            usual: Some(kept.id) == usual,
            retired: kept.fact.retired,
            since: kept.fact.date,
            recipe: recipe_of(&kept.fact),
        })
        .collect();
    rows.sort_by(|left, right| {
        (!left.usual, left.retired, &left.name).cmp(&(!right.usual, right.retired, &right.name))
    });
    rows
}

/// The recipe that an estimate begins from: the one of this name, or the usual one; with neither, a start of the
/// program's own that has no name.
pub(crate) fn recipe_to_begin(
    book: &RateBook,
    on: Date,
    name: Option<&str>,
) -> Result<(Option<String>, Recipe), OfficeError> {
    let Some(name) = name else {
        let usual = book.usual_recipe(on);
        return Ok(usual.map_or_else(
            || (None, Recipe::usual()),
            |kept| (Some(kept.fact.name.clone()), recipe_of(&kept.fact)),
        ));
    };
    let offered: Vec<_> = book.recipes(on).into_iter().filter(|kept| !kept.fact.retired).collect();
    let found = offered.iter().find(|kept| kept.fact.name == name).ok_or_else(|| {
        let known: Vec<&str> = offered.iter().map(|kept| kept.fact.name.as_str()).collect();
        let remedy = if known.is_empty() {
            "Keep one in Rates first".to_owned()
        } else {
            format!("Take one of {}", known.join(", "))
        };
        OfficeError::refused("recipe", &format!("there is no recipe “{name}” on this day"), remedy)
    })?;
    Ok((Some(found.fact.name.clone()), recipe_of(&found.fact)))
}

/// The company's recipe of this name on a day, where what is built is the same to the last lap.
pub(crate) fn recipe_built(book: &RateBook, on: Date, name: Option<&str>, built: &Recipe) -> Option<Id> {
    let named = book.recipes(on).into_iter().find(|kept| Some(kept.fact.name.as_str()) == name)?;
    (recipe_of(&named.fact) == *built).then_some(named.id)
}

/// How steep a roof is, with its slopes by the limits of a recipe.
pub(crate) fn slopes(steepness: Steepness, recipe: &Recipe) -> String {
    let label = steepness.label();
    let Recipe { walkable_from, steep_from, very_steep_from, .. } = recipe;
    match steepness {
        Steepness::Low => format!("{label}, under {walkable_from} in 12"),
        Steepness::Walkable => format!("{label}, {walkable_from} to under {steep_from} in 12"),
        Steepness::Steep => format!("{label}, {steep_from} to under {very_steep_from} in 12"),
        Steepness::VerySteep => format!("{label}, {very_steep_from} in 12 and more"),
    }
}

/// What was kept, as a takeoff takes it.
fn recipe_of(kept: &Kept) -> Recipe {
    let vents = kept.vents.iter().map(|vent| VentChoice {
        vent: vent.vent,
        free_area_sqin: vent.free_area_sqin.unwrap_or_default(),
        cfm: vent.cfm,
        fixed: vent.fixed,
    });
    let (intake, exhaust): (Vec<VentChoice>, Vec<VentChoice>) =
        vents.partition(|vent| vent.vent == Item::Intake);
    let waste = kept.waste.iter();
    Recipe {
        walkable_from: kept.walkable_from,
        steep_from: kept.steep_from,
        very_steep_from: kept.very_steep_from,
        valley: kept.valley,
        valley_lining: kept.valley_lining,
        valley_metal_width_in: kept.valley_metal_width_in,
        valley_edge_strip_in: kept.valley_edge_strip_in,
        waste: waste
            .map(|waste| Waste { item: waste.item, cut_up: waste.cut_up, share: waste.share })
            .collect(),
        shingle: kept.shingle,
        shingle_nails: kept.shingle_nails,
        starter_piece_in: kept.starter_piece_in,
        starter_nails: kept.starter_nails,
        cap_nails: kept.cap_nails,
        underlayment_nails: kept.underlayment_nails,
        deck_in: kept.deck_in,
        exposure_in: kept.exposure_in,
        cap_exposure_in: kept.cap_exposure_in,
        barrier_roll_in: kept.barrier_roll_in,
        barrier_lap_in: kept.barrier_lap_in,
        eave_rows: kept.eave_rows,
        underlayment_roll_in: kept.underlayment_roll_in,
        underlayment_lap_in: kept.underlayment_lap_in,
        underlayment_over_barrier: kept.underlayment_over_barrier,
        drip_edge_piece_ft: kept.drip_edge_piece_ft,
        flashing_piece_ft: kept.flashing_piece_ft,
        flashing_lap_in: kept.flashing_lap_in,
        step_flashing_side_in: kept.step_flashing_side_in,
        masonry_walls: kept.masonry_walls,
        pipe_in: kept.pipe_in,
        opening_in: kept.opening_in,
        shingles_per_square: kept.shingles_per_square,
        layer_lb_per_square: kept.layer_lb_per_square,
        layer_yards_per_square: kept.layer_yards_per_square,
        container_tons: kept.container_tons,
        container_yards: kept.container_yards,
        exhaust,
        intake: intake.first().copied(),
        vented_eave_ft: kept.vented_eave_ft,
        power_cfm_per_sqft: kept.power_cfm_per_sqft,
        intake_cfm_per_sqft: kept.intake_cfm_per_sqft,
        included_sheets: kept.included_sheets,
        included_board_ft: kept.included_board_ft,
        insulation_depth_in: kept.insulation_depth_in,
        gutters: kept.gutters,
        gutter_corners: kept.gutter_corners,
        downspouts: kept.downspouts,
        downspout_every_ft: kept.downspout_every_ft,
        downspout_story_ft: kept.downspout_story_ft,
        permits: kept.permits,
        machine_days: kept.machine_days,
    }
}

/// What a job is built with, as the fact that its contract names.
pub(crate) fn recipe_for_job(built: &Recipe, name: &str, job: Id, date: Date) -> Kept {
    let vents = built.exhaust.iter().chain(&built.intake);
    Kept {
        date,
        name: name.to_owned(),
        job: Some(job),
        usual: false,
        retired: false,
        walkable_from: built.walkable_from,
        steep_from: built.steep_from,
        very_steep_from: built.very_steep_from,
        valley: built.valley,
        valley_lining: built.valley_lining,
        valley_metal_width_in: built.valley_metal_width_in,
        valley_edge_strip_in: built.valley_edge_strip_in,
        shingle: built.shingle,
        shingle_nails: built.shingle_nails,
        starter_piece_in: built.starter_piece_in,
        starter_nails: built.starter_nails,
        cap_nails: built.cap_nails,
        underlayment_nails: built.underlayment_nails,
        deck_in: built.deck_in,
        exposure_in: built.exposure_in,
        cap_exposure_in: built.cap_exposure_in,
        barrier_roll_in: built.barrier_roll_in,
        barrier_lap_in: built.barrier_lap_in,
        eave_rows: built.eave_rows,
        underlayment_roll_in: built.underlayment_roll_in,
        underlayment_lap_in: built.underlayment_lap_in,
        underlayment_over_barrier: built.underlayment_over_barrier,
        drip_edge_piece_ft: built.drip_edge_piece_ft,
        flashing_piece_ft: built.flashing_piece_ft,
        flashing_lap_in: built.flashing_lap_in,
        step_flashing_side_in: built.step_flashing_side_in,
        masonry_walls: built.masonry_walls,
        pipe_in: built.pipe_in,
        opening_in: built.opening_in,
        shingles_per_square: built.shingles_per_square,
        layer_lb_per_square: built.layer_lb_per_square,
        layer_yards_per_square: built.layer_yards_per_square,
        container_tons: built.container_tons,
        container_yards: built.container_yards,
        vented_eave_ft: built.vented_eave_ft,
        power_cfm_per_sqft: built.power_cfm_per_sqft,
        intake_cfm_per_sqft: built.intake_cfm_per_sqft,
        included_sheets: built.included_sheets,
        included_board_ft: built.included_board_ft,
        insulation_depth_in: built.insulation_depth_in,
        gutters: built.gutters,
        gutter_corners: built.gutter_corners,
        downspouts: built.downspouts,
        downspout_every_ft: built.downspout_every_ft,
        downspout_story_ft: built.downspout_story_ft,
        permits: built.permits,
        machine_days: built.machine_days,
        waste: built.waste.iter().map(waste_for_job).collect(),
        vents: vents.map(vent_for_job).collect(),
    }
}

const fn waste_for_job(waste: &Waste) -> RecipeWaste {
    RecipeWaste { item: waste.item, cut_up: waste.cut_up, share: waste.share }
}

/// A power vent goes by the air that it moves, any other vent by its free area.
fn vent_for_job(vent: &VentChoice) -> RecipeVent {
    let power = vent.vent == Item::PowerVent;
    RecipeVent {
        vent: vent.vent,
        free_area_sqin: (!power).then_some(vent.free_area_sqin),
        cfm: vent.cfm.filter(|_| power),
        fixed: vent.fixed,
    }
}

//! What the books refuse of a company recipe: sizes and limits with which no roof could be taken off.

use super::ask::Check;
use crate::error::refuse;
use crate::facts::{Recipe, RecipeVent};
use rust_decimal::Decimal;
use std::collections::BTreeSet;
use trade::{Item, Qty};

pub(super) fn check_recipe(recipe: &Recipe) -> Check {
    if recipe.usual && recipe.job.is_some() {
        return refuse(
            "usual",
            "what one job was built with is no start for others",
            "Keep it as a recipe of the company, without the job",
        );
    }
    check_limits(recipe)?;
    check_sizes(recipe)?;
    check_laps(recipe)?;
    check_counts(recipe)?;
    check_waste(recipe)?;
    check_vents(recipe)
}

fn check_limits(recipe: &Recipe) -> Check {
    if !recipe.walkable_from.is_positive() {
        return refuse(
            "walkable_from",
            format!("{} is no slope", recipe.walkable_from),
            "Type the rise in 12 from which a roof is no longer low; 4 is usual",
        );
    }
    if recipe.steep_from < recipe.walkable_from {
        return refuse(
            "steep_from",
            format!("{} lies below where walkable begins, {}", recipe.steep_from, recipe.walkable_from),
            "Type the rise in 12 from which the crew no longer walks it",
        );
    }
    if recipe.very_steep_from < recipe.steep_from {
        return refuse(
            "very_steep_from",
            format!("{} lies below where steep begins, {}", recipe.very_steep_from, recipe.steep_from),
            "Type a rise in 12 that is not below it",
        );
    }
    Ok(())
}

fn check_sizes(recipe: &Recipe) -> Check {
    let one = Qty::from_e4(10_000);
    let above_zero = [
        ("valley_metal_width_in", recipe.valley_metal_width_in),
        ("exposure_in", recipe.exposure_in),
        ("cap_exposure_in", recipe.cap_exposure_in),
        ("barrier_roll_in", recipe.barrier_roll_in),
        ("underlayment_roll_in", recipe.underlayment_roll_in),
        ("drip_edge_piece_ft", recipe.drip_edge_piece_ft),
        ("flashing_piece_ft", recipe.flashing_piece_ft),
        ("step_flashing_side_in", recipe.step_flashing_side_in),
        ("pipe_in", recipe.pipe_in),
        ("opening_in", recipe.opening_in),
        ("shingles_per_square", recipe.shingles_per_square),
        ("shingle_nails", recipe.shingle_nails.unwrap_or(one)),
        ("starter_piece_in", recipe.starter_piece_in),
        ("deck_in", recipe.deck_in),
        ("power_cfm_per_sqft", recipe.power_cfm_per_sqft),
        ("intake_cfm_per_sqft", recipe.intake_cfm_per_sqft),
        ("downspout_every_ft", recipe.downspout_every_ft),
    ];
    for (field, size) in above_zero {
        if !size.is_positive() {
            return refuse(
                field,
                format!("{size} is no size"),
                "Type it as it is bought or laid, above zero",
            );
        }
    }
    let zero_or_more = [
        ("valley_edge_strip_in", recipe.valley_edge_strip_in),
        ("layer_lb_per_square", recipe.layer_lb_per_square),
        ("layer_yards_per_square", recipe.layer_yards_per_square),
        ("container_tons", recipe.container_tons),
        ("container_yards", recipe.container_yards),
        ("included_sheets", recipe.included_sheets),
        ("included_board_ft", recipe.included_board_ft),
        ("insulation_depth_in", recipe.insulation_depth_in.unwrap_or_default()),
        ("starter_nails", recipe.starter_nails),
        ("cap_nails", recipe.cap_nails),
        ("underlayment_nails", recipe.underlayment_nails),
        ("vented_eave_ft", recipe.vented_eave_ft.unwrap_or_default()),
        ("downspout_story_ft", recipe.downspout_story_ft),
        ("machine_days", recipe.machine_days),
    ];
    for (field, size) in zero_or_more {
        if size.is_negative() {
            return refuse(field, format!("{size} is below zero"), "Type 0 where there is none");
        }
    }
    Ok(())
}

/// A lap as wide as the roll would never get up the roof.
fn check_laps(recipe: &Recipe) -> Check {
    let foot = Decimal::from(12);
    let laps = [
        ("barrier_lap_in", recipe.barrier_lap_in, recipe.barrier_roll_in.decimal()),
        ("underlayment_lap_in", recipe.underlayment_lap_in, recipe.underlayment_roll_in.decimal()),
        ("flashing_lap_in", recipe.flashing_lap_in, recipe.flashing_piece_ft.decimal() * foot),
    ];
    for (field, lap, of) in laps {
        if lap.is_negative() || lap.decimal() >= of {
            return refuse(
                field,
                format!("a lap of {lap} in does not fit a piece of {} in", of.normalize()),
                "Type how far one piece laps the next",
            );
        }
    }
    Ok(())
}

fn check_counts(recipe: &Recipe) -> Check {
    let counts = [
        ("eave_rows", recipe.eave_rows.unwrap_or(1), 1),
        ("gutter_corners", recipe.gutter_corners, 0),
        ("downspouts", recipe.downspouts.unwrap_or(0), 0),
        ("permits", recipe.permits, 0),
    ];
    for (field, count, least) in counts {
        if count < least {
            return refuse(field, format!("{count} is no count"), format!("Type {least} or more"));
        }
    }
    Ok(())
}

fn check_waste(recipe: &Recipe) -> Check {
    let mut seen = BTreeSet::new();
    for (index, waste) in recipe.waste.iter().enumerate() {
        if waste.share.is_negative() || waste.share.decimal() > Decimal::TWO {
            return refuse(
                format!("waste[{index}].share"),
                format!("{} is no waste", waste.share),
                "For 10 % type 0.1",
            );
        }
        if !seen.insert((waste.item, waste.cut_up)) {
            return refuse(
                format!("waste[{index}].item"),
                format!("the waste of {} on such a roof stands here twice", waste.item),
                "Leave one of the two out",
            );
        }
    }
    Ok(())
}

fn check_vents(recipe: &Recipe) -> Check {
    let mut intakes = 0;
    for (index, vent) in recipe.vents.iter().enumerate() {
        let kinds = [Item::RidgeVent, Item::BoxVent, Item::TurbineVent, Item::PowerVent, Item::Intake];
        if !kinds.contains(&vent.vent) {
            return refuse(
                format!("vents[{index}].vent"),
                format!("{} is no vent", vent.vent),
                "Use one of ridge-vent, box-vent, turbine-vent, power-vent, intake",
            );
        }
        check_rating(index, vent)?;
        if vent.fixed.is_some_and(Qty::is_negative) {
            return refuse(
                format!("vents[{index}].fixed"),
                "less than none cannot be put in",
                "Leave it out for as many as are needed",
            );
        }
        intakes += usize::from(vent.vent == Item::Intake);
        if intakes > 1 {
            return refuse(
                format!("vents[{index}].vent"),
                "intake stands here twice",
                "Keep one line of intake, and none or more of exhaust",
            );
        }
    }
    Ok(())
}

/// A power vent is rated by the air that it moves, any other by its free area.
fn check_rating(index: usize, vent: &RecipeVent) -> Check {
    let power = vent.vent == Item::PowerVent;
    let area_field = format!("vents[{index}].free_area_sqin");
    match vent.free_area_sqin {
        Some(area) if power => {
            return refuse(
                area_field,
                format!("a power vent goes by the air that it moves, not by {area} sq in"),
                "Leave it out, and type cfm where it is known",
            );
        }
        None if !power => {
            return refuse(
                area_field,
                format!("{} has none", vent.vent),
                "Type the net free area in square inches, as the vent is rated",
            );
        }
        Some(area) if !area.is_positive() => {
            return refuse(
                area_field,
                format!("{area} is no free area"),
                "Type the net free area in square inches, as the vent is rated",
            );
        }
        _ => {}
    }
    let Some(cfm) = vent.cfm else { return Ok(()) };
    if !power {
        return refuse(
            format!("vents[{index}].cfm"),
            format!("{} moves no air of its own", vent.vent),
            "Leave it out: only a power vent has it",
        );
    }
    if !cfm.is_positive() {
        return refuse(
            format!("vents[{index}].cfm"),
            format!("{cfm} moves no air"),
            "Type cubic feet of air a minute, as the vent is rated, or leave it out",
        );
    }
    Ok(())
}

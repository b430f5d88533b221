//! What the books refuse of roofs, parts, rates, standards, patches and the checklist.

use super::ask::{Check, exists};
use crate::error::refuse;
use crate::facts::{
    Condition, Contract, Installed, Part, PartPrice, ProductionRate, Roof, Standard, Warranty,
};
use rusqlite::Connection;
use trade::{CostKind, Money, Origin, PartFact, Qty, Topic};

pub(super) fn check_part(conn: &Connection, part: &Part) -> Check {
    if part.cost_kind == CostKind::Labor {
        return refuse("cost_kind", "nothing is bought as labor", "Work is a production rate, not a part");
    }
    above_zero("covers", part.covers, "Type how much of the item one package covers")?;
    part_facts(part)?;
    for (index, color) in part.colors.iter().enumerate() {
        if part.colors[..index].iter().any(|known| known.color == color.color) {
            return refuse(
                format!("colors[{index}].color"),
                format!("{} stands here twice", color.color),
                "Leave one of the two out",
            );
        }
    }
    let same_item = "SELECT 1 FROM part WHERE id = ?1 AND item = ?2";
    if let Some(first) = part.revises
        && !exists(conn, same_item, &[first.bytes(), &part.item.as_str()])?
    {
        return refuse(
            "item",
            "a part goes on deciding the same item",
            "Retire this one and record another part",
        );
    }
    Ok(())
}

/// What a part says of itself has a size, and is of an item that has such a thing.
fn part_facts(part: &Part) -> Check {
    let item = part.item;
    let facts = [
        (PartFact::PiecesPerSquare, part.pieces_per_square),
        (PartFact::ExposureIn, part.exposure_in),
        (PartFact::NailsEach, part.nails_each),
        (PartFact::FreeAreaSqin, part.free_area_sqin),
        (PartFact::Cfm, part.cfm),
    ];
    for (fact, value) in facts {
        let Some(value) = value else { continue };
        if !item.has(fact) {
            return refuse(fact.as_str(), format!("a part for {item} has none"), "Leave it out");
        }
        above_zero(fact.as_str(), value, "Type it as its packing says, or leave it out")?;
    }
    if part.shingle.is_some() && !item.has(PartFact::Shingle) {
        return refuse("shingle", format!("a part for {item} is no shingle"), "Leave it out");
    }
    Ok(())
}

pub(super) fn check_price(price: &PartPrice) -> Check {
    if price.price.decimal().is_sign_negative() {
        return refuse("price", format!("{} is no price", price.price), "Type what one package costs");
    }
    Ok(())
}

pub(super) fn check_production(rate: &ProductionRate) -> Check {
    if rate.stories < 1 {
        return refuse(
            "stories",
            format!("{} is no height", rate.stories),
            "Type 1 for a house of one story",
        );
    }
    if rate.hours.is_negative() {
        return refuse(
            "hours",
            "work takes time",
            "Type the hours for one measure of the item, or 0 where they are in those of another",
        );
    }
    Ok(())
}

/// Topics that are asked for or not, and have no size.
fn is_yes_or_no(topic: Topic) -> bool {
    matches!(
        topic,
        Topic::BarrierEave
            | Topic::DripEdgeEave
            | Topic::DripEdgeRake
            | Topic::StarterEave
            | Topic::StarterRake
            | Topic::ValleyEdgeStrips
            | Topic::KickOut
            | Topic::VentBoth
            | Topic::NewFlashings
    )
}

pub(super) fn check_standard(standard: &Standard) -> Check {
    if standard.value.is_negative() {
        return refuse("value", format!("{} is below zero", standard.value), "Type 0 where nothing is asked");
    }
    let is_either = standard.value == Qty::ZERO || standard.value == Qty::from_e4(10_000);
    if is_yes_or_no(standard.topic) && !is_either {
        return refuse("value", format!("{} is a yes or a no", standard.topic), "Type 1 for yes, 0 for no");
    }
    if standard.origin == Origin::Code && standard.source.is_none() {
        return refuse(
            "source",
            "what the code asks needs its place in the code",
            "Type the section, as your building office gave it",
        );
    }
    Ok(())
}

pub(super) fn check_roof(roof: &Roof) -> Check {
    if roof.stories < 1 {
        return refuse("stories", format!("{} stories is no house", roof.stories), "Type 1 or more");
    }
    above_zero(
        "rafter_spacing_in",
        roof.rafter_spacing_in,
        "Measure from rafter to rafter; 16 and 24 are usual",
    )?;
    if roof.climate_zone.is_some_and(|zone| !(1..=8).contains(&zone)) {
        return refuse(
            "climate_zone",
            "there are climate zones 1 to 8",
            "Look it up for the town, or leave it out",
        );
    }
    let sizes = [
        ("overhang_in", roof.overhang_in),
        ("wall_thickness_in", roof.wall_thickness_in),
        ("attic_floor_sqft", roof.attic_floor_sqft),
    ];
    for (field, size) in sizes {
        if size.is_negative() {
            return refuse(field, format!("{size} is no size"), "Type 0 where there is none");
        }
    }
    if roof.layers < 0 || roof.layers > 9 {
        return refuse(
            "layers",
            format!("{} is no number of layers", roof.layers),
            "Count the layers at a rake",
        );
    }
    if !(0..360).contains(&roof.north_deg) {
        return refuse("north_deg", format!("{} is no bearing", roof.north_deg), "Type 0 to 359");
    }
    if roof.sections.is_empty() {
        return refuse("sections", "a roof has at least one section", "Draw one, or type its area");
    }
    check_sections(roof)
}

fn check_sections(roof: &Roof) -> Check {
    let has = |section: i64| usize::try_from(section).is_ok_and(|n| (1..=roof.sections.len()).contains(&n));
    let named = roof.corners.iter().map(|corner| corner.section).enumerate().map(|(n, s)| ("corners", n, s));
    let edges = roof.edges.iter().map(|edge| edge.section).enumerate().map(|(n, s)| ("edges", n, s));
    for (list, index, section) in named.chain(edges) {
        if !has(section) {
            return refuse(
                format!("{list}[{index}].section"),
                format!("there is no section {section} on this roof"),
                "Number the sections from 1, in their order",
            );
        }
    }
    for (index, section) in roof.sections.iter().enumerate() {
        let number = i64::try_from(index + 1).unwrap_or(i64::MAX);
        let corners = roof.corners.iter().filter(|corner| corner.section == number).count();
        let is_drawn = corners >= 3 && section.area_sqft.is_none();
        let is_typed = corners == 0 && section.area_sqft.is_some_and(|area| area > Qty::ZERO);
        if !is_drawn && !is_typed {
            return refuse(
                format!("sections[{index}]"),
                format!("“{}” is neither drawn nor measured by hand", section.name),
                "Give it three corners or more, or its area on the slope, and not both",
            );
        }
        if section.slope <= Qty::ZERO || section.slope > Qty::from_e4(240_000) {
            return refuse(
                format!("sections[{index}].slope"),
                format!("{} is no slope", section.slope),
                "Type the rise in 12 inches of run, up to 24",
            );
        }
    }
    for (index, feature) in roof.features.iter().enumerate() {
        if feature.count < 1 {
            return refuse(
                format!("features[{index}].count"),
                "there is at least one",
                "Type how many alike",
            );
        }
    }
    Ok(())
}

pub(super) fn check_installed(installed: &Installed) -> Check {
    installed.quantity.map_or(Ok(()), |count| above_zero("quantity", count, "Type how many, or leave it out"))
}

pub(super) fn check_warranty(warranty: &Warranty) -> Check {
    if warranty.years < 0 {
        return refuse("years", format!("{} years is no term", warranty.years), "Type 0 where none is given");
    }
    Ok(())
}

pub(super) fn check_contracted_parts(contract: &Contract) -> Check {
    for (index, part) in contract.parts.iter().enumerate() {
        if part.net.is_negative() || part.packages.is_negative() || part.cost < Money::ZERO {
            return refuse(
                format!("parts[{index}]"),
                format!("“{}” has a quantity or a cost below zero", part.description),
                "Calculate it again from the roof",
            );
        }
        if part.waste.decimal().is_sign_negative() || part.waste.decimal() > rust_decimal::Decimal::TWO {
            return refuse(
                format!("parts[{index}].waste"),
                format!("{} is no share", part.waste),
                "For 10 % type 0.1",
            );
        }
    }
    Ok(())
}

/// The damage of a condition as it was seen, and what is drawn on its photos.
pub(super) fn check_damage(condition: &Condition) -> Check {
    for (index, patch) in condition.patches.iter().enumerate() {
        let sizes = [("along_eave_in", patch.along_eave_in), ("up_slope_in", patch.up_slope_in)];
        for (field, size) in sizes {
            above_zero(&format!("patches[{index}].{field}"), size, "Measure the damage in inches")?;
        }
    }
    if let Some(moisture) = condition.moisture
        && (moisture.is_negative() || moisture > Qty::from_e4(1_000_000))
    {
        return refuse(
            "moisture",
            format!("{moisture} is not a percentage"),
            "Type what the meter shows, 0 to 100",
        );
    }
    if condition.calculated.is_some_and(|calculated| calculated != condition.count)
        && condition.count_reason.is_none()
    {
        return refuse(
            "count_reason",
            "the count differs from what the patches come to",
            "Say why in a few words; the crew’s own count stands",
        );
    }
    let fraction = |value: Qty| !value.is_negative() && value <= Qty::from_e4(10_000);
    for (index, mark) in condition.marks.iter().enumerate() {
        let has = usize::try_from(mark.photo).is_ok_and(|n| (1..=condition.photos.len()).contains(&n));
        if !has {
            return refuse(
                format!("marks[{index}].photo"),
                format!("there is no photo {} of this condition", mark.photo),
                "Number the photos from 1, in their order",
            );
        }
        let places = [Some(mark.x), Some(mark.y), mark.to_x, mark.to_y];
        if !places.into_iter().flatten().all(fraction) {
            return refuse(
                format!("marks[{index}]"),
                "it lies beside the photo",
                "Give its place as fractions of the photo’s width and height, 0 to 1",
            );
        }
    }
    Ok(())
}

fn above_zero(field: &str, value: Qty, remedy: &str) -> Check {
    if value <= Qty::ZERO {
        return refuse(field, format!("{value} is not above zero"), remedy);
    }
    Ok(())
}

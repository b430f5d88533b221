//! What the books refuse of schedules, notices, and of what the law asks to be handed over.

use super::ask::Check;
use crate::error::refuse;
use crate::facts::{InsulatedPart, InsulationReceipt, Notice, Schedule};
use trade::Qty;
use trade::shown::day;

/// Type of these sizes can be read and leaves room for a notice on its page.
const POINTS: std::ops::RangeInclusive<i64> = 8..=24;

pub(super) fn check_schedule(schedule: &Schedule) -> Check {
    if schedule.ends.is_some_and(|ends| ends < schedule.begins) {
        return refuse(
            "ends",
            format!("work begins on {}, after this day", day(schedule.begins)),
            "Check both days, or leave the last one out",
        );
    }
    if schedule.crew_days.is_some_and(|days| days <= Qty::ZERO) {
        return refuse("crew_days", "work takes some time", "Type the days, or leave them out");
    }
    Ok(())
}

/// Two capital letters.
pub(super) fn check_state(state: &str) -> Check {
    if state.len() == 2 && state.bytes().all(|byte| byte.is_ascii_uppercase()) {
        return Ok(());
    }
    refuse("state", format!("“{state}” is not a state"), "Use the two capital letters")
}

pub(super) fn check_notice(notice: &Notice) -> Check {
    check_state(&notice.state)?;
    if !(1..=4).contains(&notice.copies) {
        return refuse(
            "copies",
            format!("{} copies cannot be printed", notice.copies),
            "Type 1 to 4: in duplicate is 2",
        );
    }
    if !POINTS.contains(&notice.least_points) {
        return refuse(
            "least_points",
            format!("type of {} points is not set here", notice.least_points),
            "Type the least size that the state asks for, from 8 to 24 points",
        );
    }
    Ok(())
}

pub(super) fn check_insulation(receipt: &InsulationReceipt) -> Check {
    if receipt.parts.is_empty() {
        return refuse(
            "parts",
            "a receipt names at least one part of the house",
            "Type where insulation was put in",
        );
    }
    receipt.parts.iter().enumerate().try_for_each(|(index, part)| check_insulated(index, part))
}

fn check_insulated(index: usize, part: &InsulatedPart) -> Check {
    let field = |name: &str| format!("parts[{index}].{name}");
    let measures = [
        ("coverage_sqft", part.coverage_sqft),
        ("thickness_in", part.thickness_in),
        ("r_value", part.r_value),
    ];
    for (name, measure) in measures {
        if measure <= Qty::ZERO {
            return refuse(
                field(name),
                format!("{measure} is not above zero"),
                "Type it as it was installed, by the maker's data",
            );
        }
    }
    match (part.loose_fill, part.settled_in, part.bags) {
        (true, Some(settled), _) if settled <= Qty::ZERO || settled > part.thickness_in => refuse(
            field("settled_in"),
            format!("{settled} in cannot be what {} in settles to", part.thickness_in),
            "Type the least settled thickness off the bag's chart",
        ),
        (true, Some(_), Some(bags)) if bags > 0 => Ok(()),
        (true, settled, _) => refuse(
            field(if settled.is_none() { "settled_in" } else { "bags" }),
            "loose fill needs its settled thickness and the bags used (16 CFR 460.17)",
            "Type both, off the bag's chart and by count",
        ),
        (false, None, None) => Ok(()),
        (false, settled, _) => refuse(
            field(if settled.is_some() { "settled_in" } else { "bags" }),
            "only loose fill settles and is counted in bags",
            "Mark it as loose fill, or leave this out",
        ),
    }
}

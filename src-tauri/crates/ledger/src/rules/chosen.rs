//! What the books refuse of what is chosen after the contract: a color, and what becomes of a declined repair.

use super::ask::{Check, exists};
use crate::error::refuse;
use crate::facts::{ColorChoice, DeclinedRepair, Part};
use crate::live::live;
use crate::read::Books;
use rusqlite::Connection;

/// There is nothing to decide where nothing was declined.
pub(super) fn check_declined(conn: &Connection, decided: &DeclinedRepair) -> Check {
    let sql = format!(
        "SELECT 1 FROM change_order_line l JOIN decision d ON d.change_order = l.fact
         LEFT JOIN decision_line a ON a.fact = d.id AND a.change_line = l.line
         WHERE l.condition = ?1 AND coalesce(a.verdict, d.verdict) = 'declined' AND {} AND {}",
        live("l.fact"),
        live("d.id"),
    );
    if !exists(conn, &sql, &[decided.condition.bytes()])? {
        return refuse(
            "condition",
            "the homeowner has not declined its repair",
            "Record their decision first, then what becomes of it",
        );
    }
    Ok(())
}

/// The color is one of a part that the job's contract holds; a part that comes in listed colors has no other.
pub(super) fn check_color(conn: &Connection, chosen: &ColorChoice) -> Check {
    let held = format!(
        "SELECT 1 FROM contract c JOIN contract_part p ON p.fact = c.id
         WHERE c.job = ?1 AND p.part = ?2 AND {}",
        live("c.id"),
    );
    if !exists(conn, &held, &[chosen.job.bytes(), chosen.part.bytes()])? {
        return refuse(
            "part",
            "the job's contract does not hold this part",
            "Choose one of the parts in its contract",
        );
    }
    let mut versions = Books::over(conn).all::<Part>()?.into_iter();
    let newest = versions.rfind(|held| held.fact.revises.unwrap_or(held.entry.id) == chosen.part);
    let colors: Vec<String> =
        newest.into_iter().flat_map(|held| held.fact.colors).map(|color| color.color).collect();
    if !colors.is_empty() && !colors.contains(&chosen.color) {
        return refuse(
            "color",
            format!("it does not come in “{}”", chosen.color),
            format!("Use one of {}", colors.join(", ")),
        );
    }
    Ok(())
}

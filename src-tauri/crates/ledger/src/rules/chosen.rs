//! What the books refuse of what is chosen after the contract: a color, and what becomes of a declined repair.

use super::ask::{Check, exists};
use crate::error::{LedgerError, refuse};
use crate::facts::{ColorChoice, DeclinedRepair, Part, PurchaseOrder};
use crate::id::Id;
use crate::live::live;
use crate::read::{Books, Entered};
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
    let colors = colors_of(conn, chosen.part)?.1;
    if !colors.is_empty() && !colors.contains(&chosen.color) {
        return refuse(
            "color",
            format!("it does not come in “{}”", chosen.color),
            format!("Use one of {}", colors.join(", ")),
        );
    }
    Ok(())
}

/// Nothing is ordered of which the homeowner still has to choose the color: what the job's contract holds in several
/// colors, none of them chosen with the contract or since. What no contract holds is the firm's own to order.
pub(super) fn order_beside(conn: &Connection, order: &PurchaseOrder) -> Check {
    let open = format!(
        "SELECT 1 FROM contract c JOIN contract_part p ON p.fact = c.id
         WHERE c.job = ?1 AND p.part = ?2 AND p.color IS NULL AND {}
           AND NOT EXISTS (SELECT 1 FROM color_choice k WHERE k.job = c.job AND k.part = p.part AND {})",
        live("c.id"),
        live("k.id"),
    );
    for (index, line) in order.lines.iter().enumerate() {
        let Some(part) = line.part else { continue };
        if !exists(conn, &open, &[order.job.bytes(), part.bytes()])? {
            continue;
        }
        let (title, colors) = colors_of(conn, part)?;
        if !colors.is_empty() {
            return refuse(
                format!("lines[{index}].part"),
                format!("the color of {title} is open: the homeowner has to choose it"),
                format!("Record the color first, one of {}", colors.join(", ")),
            );
        }
    }
    Ok(())
}

/// What a part is called now, and the colors it comes in.
fn colors_of(conn: &Connection, part: Id) -> Result<(String, Vec<String>), LedgerError> {
    let mut versions = Books::over(conn).all::<Part>()?.into_iter();
    let newest = versions.rfind(|held| held.fact.revises.unwrap_or(held.entry.id) == part);
    let Some(Entered { fact, .. }) = newest else { return Ok((String::new(), Vec::new())) };
    Ok((fact.title, fact.colors.into_iter().map(|color| color.color).collect()))
}

//! A condition, from its patches to the decision: what the crew and the homeowner see carries no cost; what it comes
//! to in the end does, and is for the owner and the bookkeeper.

use office::{Asking, Calculation, ChangeSheet, Damage, Settlement, SiteRoof};
use serde_json::Value;

use super::call::InRoom;
use crate::page_value::id;
use crate::refusal::Refusal;
use crate::views::Asked;
use office::Act;

#[tauri::command]
pub(crate) async fn calculate_damage(
    room: InRoom<'_>,
    job: String,
    damage: Value,
) -> Result<Calculation, Refusal> {
    let damage: Damage = read("damage", damage)?;
    room.read(Act::CountDamage, move |desk| Ok(office::calculate_damage(desk, &job, &damage)?)).await
}

#[tauri::command]
pub(crate) async fn site_roof(room: InRoom<'_>, job: String) -> Result<Option<SiteRoof>, Refusal> {
    room.read(Act::CountDamage, move |desk| Ok(office::site_roof(desk, &job)?)).await
}

#[tauri::command]
pub(crate) async fn asking(room: InRoom<'_>, condition: String) -> Result<Asking, Refusal> {
    room.read(Act::AskHomeowner, move |desk| Ok(office::asking(desk, id(&condition)?)?)).await
}

#[tauri::command]
pub(crate) async fn draw_up(room: InRoom<'_>, condition: String, asking: Value) -> Result<Asked, Refusal> {
    let asking: Asking = read("asking", asking)?;
    room.write(Act::AskHomeowner, move |writing| {
        let order = office::ask(&writing.desk, id(&condition)?, &asking)?;
        super::record::put(writing, order)
    })
    .await
}

#[tauri::command]
pub(crate) async fn change_sheet(room: InRoom<'_>, change: String) -> Result<ChangeSheet, Refusal> {
    room.read(Act::AskHomeowner, move |desk| Ok(office::change_sheet(desk, id(&change)?)?)).await
}

/// Records the decision that holds where two contradict each other, and takes those back.
#[tauri::command]
pub(crate) async fn settle_decisions(room: InRoom<'_>, decision: Value) -> Result<String, Refusal> {
    let decision: office::Decision = read("decision", decision)?;
    room.write(Act::SettleDecisions, move |writing| {
        let settled = office::settle_decisions(&mut writing.desk, decision)?;
        writing.recorder = office::Recorder::default();
        Ok(settled.to_string())
    })
    .await
}

#[tauri::command]
pub(crate) async fn settle_change(room: InRoom<'_>, change: String) -> Result<Settlement, Refusal> {
    room.read(Act::SettleChange, move |desk| Ok(office::settle(desk, id(&change)?)?)).await
}

/// A form of the page, refused in words where a value in it cannot be.
fn read<T: serde::de::DeserializeOwned>(field: &str, form: Value) -> Result<T, Refusal> {
    serde_json::from_value(form).map_err(|error| {
        Refusal::of_field(
            field,
            format!("Something typed cannot be read: {error}."),
            "Correct it and try again.",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_cannot_be_read_is_refused_at_its_field() {
        let wrong =
            json!({ "damaged": "deck-sheet", "counted_in": "sheet", "patches": [{ "along_eave": "x" }] });
        let refused = read::<Damage>("damage", wrong).unwrap_err();
        assert_eq!(refused.field.as_deref(), Some("damage"));
        let right = json!({ "damaged": "deck-sheet", "counted_in": "sheet",
            "patches": [{ "along_eave": "30", "up_slope": "20", "from_rafter": null }] });
        assert_eq!(read::<Damage>("damage", right).unwrap().patches.len(), 1);
    }
}

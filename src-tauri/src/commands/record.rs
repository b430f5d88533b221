//! Recording and taking back: which facts whoever sits at the desk may record, and that they are.

use office::{DraftView, Money, PlacedOrder};
use serde_json::Value;

use super::call::InRoom;
use crate::page_value::id;
use crate::refusal::Refusal;
use crate::room::Writing;
use crate::views::{Asked, AskedLine, RecordedFact};
use office::Act;

#[tauri::command]
pub(crate) async fn record(room: InRoom<'_>, facts: Vec<Value>) -> Result<Vec<RecordedFact>, Refusal> {
    room.write(Act::RecordFacts, move |writing| {
        let recorded = writing.recorder.record_all(&mut writing.desk, facts)?;
        let shown = |fact: office::Recorded| {
            let cautions = office::rates::told_at_once(&writing.desk, fact.id)?;
            Ok(RecordedFact { id: fact.id.to_string(), repeated: fact.repeated, cautions })
        };
        recorded.into_iter().map(shown).collect()
    })
    .await
}

#[tauri::command]
pub(crate) async fn reverse(room: InRoom<'_>, id: String, reason: String) -> Result<String, Refusal> {
    room.write(Act::RecordFacts, move |writing| {
        let reversal = office::take_back(&mut writing.desk, crate::page_value::id(&id)?, &reason)?;
        // Names may have gone with the fact.
        writing.recorder = office::Recorder::default();
        Ok(reversal.to_string())
    })
    .await
}

#[tauri::command]
pub(crate) async fn ask_and_record(room: InRoom<'_>, condition: String) -> Result<Asked, Refusal> {
    room.write(Act::AskHomeowner, move |writing| {
        let order = office::ask_for(&writing.desk, id(&condition)?)?;
        put(writing, order)
    })
    .await
}

/// Records a change order that was drawn up with what it should cost, and answers without that cost.
pub(super) fn put(writing: &mut Writing, order: office::ChangeOrder) -> Result<Asked, Refusal> {
    let lines = order.lines.iter().map(|line| AskedLine {
        description: line.description.clone(),
        quantity: line.quantity.map(|quantity| quantity.to_string()),
        unit: line.unit.clone(),
        price: line.price.to_string(),
    });
    let price: Money = order.lines.iter().map(|line| line.price).sum();
    let mut asked = Asked {
        id: String::new(),
        number: order.number.clone(),
        title: order.title.clone(),
        lines: lines.collect(),
        price: price.to_string(),
    };
    let ids = writing.desk.record(vec![order.into()])?;
    writing.recorder = office::Recorder::default();
    asked.id = ids.first().map(ToString::to_string).ok_or_else(Refusal::broken)?;
    Ok(asked)
}

/// Orders what a job's contract names and no order has yet, as of today.
#[tauri::command]
pub(crate) async fn place_orders(room: InRoom<'_>, job: String) -> Result<Vec<PlacedOrder>, Refusal> {
    room.write(Act::Record("purchase-order"), move |writing| {
        let today = writing.desk.clock.today();
        let placed = office::place_orders(&mut writing.desk, &job, today, None)?;
        // The orders have numbers now, by which a bill may name them.
        writing.recorder = office::Recorder::default();
        Ok(placed)
    })
    .await
}

#[tauri::command]
pub(crate) async fn drafts(room: InRoom<'_>, kind: Option<String>) -> Result<Vec<DraftView>, Refusal> {
    room.read(Act::KeepDrafts, move |desk| Ok(office::drafts(desk, desk.person()?, kind.as_deref())?)).await
}

// `id` is what the page calls it; inside, it would hide the function of that name.
#[tauri::command]
pub(crate) async fn save_draft(
    room: InRoom<'_>,
    id: Option<String>,
    kind: String,
    job: Option<String>,
    body: Value,
) -> Result<String, Refusal> {
    room.write(Act::KeepDrafts, move |writing| {
        Ok(office::save_draft(&mut writing.desk, id.as_deref(), &kind, job.as_deref(), &body)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn delete_draft(room: InRoom<'_>, id: String) -> Result<bool, Refusal> {
    room.write(Act::KeepDrafts, move |writing| Ok(office::delete_draft(&mut writing.desk, &id)?)).await
}

#[cfg(test)]
mod tests {
    use super::*;
    use office::Code;
    use office::{Clock, Desk, Recorder, Role};
    use serde_json::json;

    #[test]
    fn the_crew_takes_back_its_own_of_today_and_nothing_else() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        drop(office::sample::write(&path, &mut |_, _| true).unwrap());
        let desk = Desk::open(&path, Clock::System).unwrap();
        let crew =
            office::people(&desk).unwrap().into_iter().find(|person| person.role == Role::Crew).unwrap();
        let mut writing = Writing { desk, recorder: Recorder::default() };
        let job = office::job_names(&writing.desk).unwrap().remove(0).number;
        let today = writing.desk.clock.today().to_string();
        let hours = json!({
            "kind": "time-entry", "date": today, "person": crew.name, "job": job, "code": "tear", "hours": "2",
        });
        let by_owner = writing.recorder.record(&mut writing.desk, hours.clone()).unwrap().id;
        writing.desk.sit(id(&crew.id).unwrap());
        let refused = office::take_back(&mut writing.desk, by_owner, "wrong").unwrap_err();
        assert_eq!(refused.code, Code::NotAllowed);
        let own = writing.recorder.record(&mut writing.desk, hours).unwrap().id;
        office::take_back(&mut writing.desk, own, "typed twice").unwrap();
        assert_eq!(office::recording(&writing.desk, own).unwrap().person.to_string(), crew.id);
    }
}

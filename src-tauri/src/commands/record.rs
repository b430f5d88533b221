//! Recording and taking back: which facts whoever sits at the desk may record, and that they are.

use office::{DraftView, Id, Money, Role, Seat};
use serde_json::Value;

use super::{InRoom, id};
use crate::refusal::Refusal;
use crate::room::{For, Writing};
use crate::views::{Asked, AskedLine, RecordedFact};

/// What the crew records on the roof.
const OF_THE_CREW: &[&str] = &[
    "condition",
    "repair",
    "decision",
    "time-entry",
    "units-done",
    "job-status",
    "work-check",
    "inspection",
    "installed",
    "attachment",
];

/// What the bookkeeper records. Reversals go through [`reverse`].
const OF_THE_BOOKS: &[&str] = &[
    "bill",
    "invoice",
    "payment",
    "allocation",
    "retainage-release",
    "account",
    "customer",
    "vendor",
    "attachment",
];

/// What is recorded by doing it, and never by itself: it would say that something was done which was not.
const BY_DOING: &[&str] = &["month-closed", "hand-off", "device", "reversal"];

/// Whether somebody may record a kind of fact.
fn may_record(seat: &Seat, kind: &str) -> Result<(), Refusal> {
    if BY_DOING.contains(&kind) {
        let message =
            format!("A fact of the kind “{kind}” is not typed: it is recorded when the thing is done.");
        return Err(Refusal::new("not-allowed", message, "Do it on its own page."));
    }
    let (allowed, who) = match seat.role {
        Role::Owner => return Ok(()),
        Role::Crew => (OF_THE_CREW, "the owner"),
        Role::Books => (OF_THE_BOOKS, "the owner"),
    };
    if allowed.contains(&kind) {
        return Ok(());
    }
    Err(Refusal::not_allowed(&format!("Recording “{}”", kind.replace('-', " ")), who))
}

#[tauri::command]
pub(crate) async fn record(room: InRoom<'_>, facts: Vec<Value>) -> Result<Vec<RecordedFact>, Refusal> {
    let seat = room.admit(For::Anyone, "Recording")?;
    for fact in &facts {
        may_record(&seat, fact["kind"].as_str().unwrap_or_default())?;
    }
    room.write(move |writing| {
        let recorded = writing.recorder.record_all(&mut writing.desk, facts)?;
        let shown =
            |fact: office::Recorded| RecordedFact { id: fact.id.to_string(), repeated: fact.repeated };
        Ok(recorded.into_iter().map(shown).collect())
    })
    .await
}

#[tauri::command]
pub(crate) async fn reverse(room: InRoom<'_>, id: String, reason: String) -> Result<String, Refusal> {
    let seat = room.admit(For::Anyone, "Taking back")?;
    room.write(move |writing| take_back(writing, &seat, super::id(&id)?, &reason)).await
}

fn take_back(writing: &mut Writing, seat: &Seat, fact: Id, reason: &str) -> Result<String, Refusal> {
    let recording = office::recording(&writing.desk, fact)?;
    match seat.role {
        Role::Owner => {}
        Role::Crew => {
            let own = recording.person == id(&seat.id)? && recording.on == writing.desk.clock.today();
            if !own || !OF_THE_CREW.contains(&recording.kind.as_str()) {
                return Err(Refusal::not_allowed(
                    "Taking back what somebody else or another day recorded",
                    "the owner",
                ));
            }
        }
        Role::Books => may_record(seat, &recording.kind)?,
    }
    let reversal = writing.desk.reverse(fact, reason)?;
    // Names may have gone with the fact.
    writing.recorder = office::Recorder::default();
    Ok(reversal.to_string())
}

#[tauri::command]
pub(crate) async fn ask_and_record(room: InRoom<'_>, condition: String) -> Result<Asked, Refusal> {
    room.admit(For::OwnerAndCrew, "Asking the homeowner")?;
    room.write(move |writing| {
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

#[tauri::command]
pub(crate) async fn drafts(room: InRoom<'_>, kind: Option<String>) -> Result<Vec<DraftView>, Refusal> {
    let person = id(&room.admit(For::Anyone, "The drafts")?.id)?;
    room.read(move |desk| Ok(office::drafts(desk, person, kind.as_deref())?)).await
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
    room.admit(For::Anyone, "Keeping a draft")?;
    room.write(move |writing| {
        Ok(office::save_draft(&mut writing.desk, id.as_deref(), &kind, job.as_deref(), &body)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn delete_draft(room: InRoom<'_>, id: String) -> Result<bool, Refusal> {
    room.admit(For::Anyone, "Throwing a draft away")?;
    room.write(move |writing| Ok(office::delete_draft(&mut writing.desk, &id)?)).await
}

#[cfg(test)]
mod tests {
    use super::*;
    use office::{Clock, Desk, Recorder};
    use serde_json::json;

    fn seat(role: Role) -> Seat {
        Seat { id: Id::now().to_string(), name: "Ada".to_owned(), role }
    }

    #[test]
    fn each_records_what_is_theirs_and_nobody_types_a_close() {
        for (role, may, may_not) in [
            (Role::Owner, "contract", "month-closed"),
            (Role::Crew, "condition", "bill"),
            (Role::Crew, "time-entry", "change-order"),
            (Role::Crew, "work-check", "warranty"),
            (Role::Crew, "inspection", "check-point"),
            (Role::Crew, "installed", "contract"),
            (Role::Books, "payment", "forecast"),
            (Role::Books, "bill", "pay-rate"),
        ] {
            assert_eq!(may_record(&seat(role), may), Ok(()), "{role} {may}");
            assert_eq!(may_record(&seat(role), may_not).unwrap_err().code, "not-allowed", "{role} {may_not}");
        }
        for role in [Role::Owner, Role::Crew, Role::Books] {
            for kind in BY_DOING {
                assert!(may_record(&seat(role), kind).is_err(), "{role} {kind}");
            }
        }
    }

    #[test]
    fn every_kind_named_here_is_a_kind_of_fact() {
        let home = tempfile::tempdir().unwrap();
        let desk = office::sample::write(&home.path().join("firm.tearoff"), &mut |_, _| true).unwrap();
        for kind in OF_THE_CREW.iter().chain(OF_THE_BOOKS).chain(BY_DOING) {
            let read = Recorder::default().read(&desk, json!({ "kind": kind }));
            assert!(read.is_err_and(|error| error.field.as_deref() != Some("kind")), "{kind} is no kind");
        }
    }

    #[test]
    fn the_crew_takes_back_its_own_of_today_and_nothing_else() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        drop(office::sample::write(&path, &mut |_, _| true).unwrap());
        let desk = Desk::open(&path, Clock::System).unwrap();
        let crew = office::seats(&desk).unwrap().into_iter().find(|seat| seat.role == Role::Crew).unwrap();
        let mut writing = Writing { desk, recorder: Recorder::default() };
        let job = office::job_names(&writing.desk).unwrap().remove(0).number;
        let today = writing.desk.clock.today().to_string();
        let hours = json!({
            "kind": "time-entry", "date": today, "person": crew.name, "job": job, "code": "tear", "hours": "2",
        });
        let by_owner = writing.recorder.record(&mut writing.desk, hours.clone()).unwrap().id;
        assert_eq!(take_back(&mut writing, &crew, by_owner, "wrong").unwrap_err().code, "not-allowed");
        writing.desk.sit(id(&crew.id).unwrap());
        let own = writing.recorder.record(&mut writing.desk, hours).unwrap().id;
        take_back(&mut writing, &crew, own, "typed twice").unwrap();
        assert_eq!(office::recording(&writing.desk, own).unwrap().person.to_string(), crew.id);
    }
}

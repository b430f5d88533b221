//! Recording several facts together.

use office::{Clock, Desk, Recorder};
use serde_json::json;

#[test]
fn hours_refused_in_a_crews_batch_say_whose_they_are_and_none_are_recorded() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("firm.tearoff");
    drop(office::sample::write(&path, &mut |_, _| true).unwrap());
    let mut desk = Desk::open(&path, Clock::System).unwrap();
    let job = office::job_names(&desk).unwrap().remove(0).number;
    let crew: Vec<String> = office::people(&desk)
        .unwrap()
        .into_iter()
        .filter(|person| person.role == ledger::closed_lists::Role::Crew)
        .map(|person| person.name)
        .take(2)
        .collect();
    let today = desk.clock.today().to_string();
    let hours = |who: &str, hours: &str| {
        json!({
            "kind": "time-entry", "date": today, "person": who, "job": job, "code": "tear", "hours": hours,
        })
    };
    let before = desk.books().all::<ledger::facts::TimeEntry>().unwrap().len();
    let batch = vec![hours(&crew[0], "8"), hours(&crew[1], "25")];
    let refused = Recorder::default().record_all(&mut desk, batch).unwrap_err();
    assert!(refused.message.starts_with(&format!("{}: ", crew[1])), "{}", refused.message);
    assert_eq!(desk.books().all::<ledger::facts::TimeEntry>().unwrap().len(), before);
    let alone = Recorder::default().record_all(&mut desk, vec![hours(&crew[1], "25")]).unwrap_err();
    assert!(!alone.message.contains(&crew[1]), "{}", alone.message);
}

//! From the condition to the money, as the program does it: damage is calculated, the change order drawn up,
//! contradicting decisions settled, and what is to be billed worked out.

use crate::script::Expect;
use crate::stage::{Outcome, Played, Stage, holds, met};
use ledger::Id;
use office::{Asking, Clock, Damage, Desk, OfficeError};
use serde_json::Value;
use std::path::Path;

/// The keys that make a JSON line one of these, and not a fact.
pub(crate) const OURS: &[&str] = &["damage", "ask", "settle"];

/// What a JSON line of ours led to: an id that may be called something.
pub(crate) type Led = Result<Option<Id>, OfficeError>;

/// `{"damage": JOB, …}`, `{"ask": CONDITION, …}` or `{"settle": CHANGE, …}`.
pub(crate) fn play(stage: &mut Stage, mut json: Value) -> Result<Led, String> {
    let object = json.as_object_mut().ok_or("this is no JSON object")?;
    let date = object.remove("date");
    let (word, of) = OURS
        .iter()
        .find_map(|word| object.remove(*word).map(|of| (*word, of)))
        .ok_or("this is none of ours")?;
    let of = of.as_str().ok_or("it is named by text")?.to_owned();
    let date = date.as_ref().and_then(Value::as_str).map(str::parse).transpose();
    let date = date.map_err(|_| "`date` is no day")?;
    if word == "settle" {
        object.insert("change_order".to_owned(), named(stage, &of)?.to_string().into());
        object.insert(
            "date".to_owned(),
            date.map_or(Value::Null, |date: jiff::civil::Date| date.to_string().into()),
        );
    }
    let condition = if word == "ask" { Some(named(stage, &of)?) } else { None };
    let decision = if word == "settle" {
        object.insert("kind".to_owned(), "decision".into());
        let whole = json.clone();
        let (recorder, desk) = stage.recorder_and_desk()?;
        Some(recorder.read(desk, whole).map_err(|error| error.to_string())?.1)
    } else {
        None
    };
    let desk = stage.desk()?;
    if let Some(date) = date {
        desk.clock.set_day(date);
    }
    Ok(match (word, condition, decision) {
        ("damage", ..) => {
            let damage: Damage = serde_json::from_value(json).map_err(|error| unread(&error))?;
            match office::calculate_damage(desk, &of, &damage) {
                Ok(calculation) => {
                    stage.counted = serde_json::to_value(calculation).ok();
                    Ok(None)
                }
                Err(error) => Err(error),
            }
        }
        ("ask", Some(condition), _) => {
            let asking: Asking = serde_json::from_value(json).map_err(|error| unread(&error))?;
            office::ask(desk, condition, &asking).and_then(|order| Ok(desk.record(vec![order.into()])?.pop()))
        }
        (_, _, Some(ledger::Fact::Decision(decision))) => office::settle_decisions(desk, decision).map(Some),
        _ => return Err("this is none of ours".to_owned()),
    })
}

fn unread(error: &serde_json::Error) -> String {
    format!("it cannot be read: {error}")
}

/// A condition or a change order by what the scenario calls it.
fn named(stage: &Stage, name: &str) -> Result<Id, String> {
    let label = name.strip_prefix('@').unwrap_or(name);
    stage.label(label).ok_or_else(|| format!("nothing is called {label}"))
}

/// `counted PATH = VALUE`: a figure of the damage that was calculated last.
pub(crate) fn counted(stage: &Stage, path: &str, said: &str) -> Outcome {
    let counted = stage.counted.clone().ok_or("no damage was calculated yet")?;
    holds(Ok(counted), "counted", path, said)
}

/// `settled NAME PATH = VALUE`: a figure of what a change order comes to.
pub(crate) fn settled(stage: &mut Stage, name: &str, path: &str, said: &str) -> Outcome {
    let change = named(stage, name)?;
    let settlement = office::settle(stage.desk()?, change).map_err(|error| error.to_string())?;
    holds(serde_json::to_value(settlement), &format!("settled {name}"), path, said)
}

/// `sheet NAME PATH = VALUE`: what the homeowner reads of a change order.
pub(crate) fn sheet(stage: &mut Stage, name: &str, path: &str, said: &str) -> Outcome {
    let change = named(stage, name)?;
    let sheet = office::change_sheet(stage.desk()?, change).map_err(|error| error.to_string())?;
    holds(serde_json::to_value(sheet), &format!("sheet {name}"), path, said)
}

/// `site JOB PATH = VALUE`: what a crew sees of a job today.
pub(crate) fn site(stage: &mut Stage, job: &str, path: &str, said: &str) -> Outcome {
    let desk = stage.desk()?;
    let day = office::site_day(desk, desk.clock.today()).map_err(|error| error.to_string())?;
    let seen = day.jobs.into_iter().find(|each| each.number == job);
    let seen = seen.ok_or_else(|| format!("job {job} is not at work on this day"))?;
    holds(serde_json::to_value(seen), &format!("site {job}"), path, said)
}

/// `page JOB PATH = VALUE`: what the owner sees of a job, in the month of today.
pub(crate) fn page(stage: &mut Stage, job: &str, path: &str, said: &str) -> Outcome {
    let desk = stage.desk()?;
    let month = trade::Month::of(desk.clock.today());
    let page = office::job_page(desk, job, month).map_err(|error| error.to_string())?;
    holds(serde_json::to_value(page), &format!("page {job}"), path, said)
}

/// `on device B`: from here on another device writes into the same ledger, as after an exchange.
pub(crate) fn device(path: &Path, letter: &str, clock: Clock) -> Result<Desk, String> {
    let words = |error: rusqlite::Error| error.to_string();
    let file = rusqlite::Connection::open(path).map_err(words)?;
    file.execute("UPDATE setting SET value = ?1 WHERE name = 'device'", [letter]).map_err(words)?;
    drop(file);
    Desk::open(path, clock).map_err(|error| error.to_string())
}

/// Whether what was asked for fared as it should; answers with what may be called something.
pub(crate) fn fared(led: Led, expect: &Expect, played: &mut Played) -> Result<Option<Id>, String> {
    let id = led.as_ref().ok().copied().flatten();
    met(led.map(|_| false), expect, played).map(|()| id)
}

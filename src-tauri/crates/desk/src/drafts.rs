//! Forms being filled in: kept on the disk as they are typed, each its writer's own, until they become facts.

use crate::code::Code;
use crate::desk::Desk;
use crate::error::OfficeError;
use crate::names::{Directory, Names};
use jiff::Timestamp;
use ledger::Id;
use serde::Serialize;
use serde_json::Value;

/// A form being filled in.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct DraftView {
    /// Its id, which may become the id of the fact.
    pub id: String,
    /// What it is to become.
    pub kind: String,
    /// The number of the job it is about.
    pub job: Option<String>,
    /// When it was last saved, UTC.
    pub changed_at: String,
    /// What was typed.
    #[cfg_attr(feature = "ts", ts(type = "unknown"))]
    pub body: Value,
}

/// The drafts of whoever sits at the desk, newest first; of one kind, or all.
///
/// # Errors
/// When they cannot be read.
pub fn drafts(desk: &Desk, person: Id, kind: Option<&str>) -> Result<Vec<DraftView>, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let own = books.drafts(kind)?.into_iter().filter(|draft| draft.person == person);
        let mut drafts: Vec<DraftView> = own
            .map(|draft| DraftView {
                id: draft.id.to_string(),
                kind: draft.kind,
                job: draft.job.map(|job| names.job_number(job)),
                changed_at: draft.changed_at,
                body: draft.body,
            })
            .collect();
        drafts.sort_by(|left, right| right.changed_at.cmp(&left.changed_at));
        Ok(drafts)
    })
}

/// Saves a draft, over its earlier state if it has an id, and answers with its id.
///
/// # Errors
/// When the job or the id is none, the draft is somebody else's, or the disk refuses.
pub fn save_draft(
    desk: &mut Desk,
    id: Option<&str>,
    kind: &str,
    job: Option<&str>,
    body: &Value,
) -> Result<String, OfficeError> {
    let person = desk.person()?;
    let id = match id {
        Some(text) => own_draft(desk, text, person)?,
        None => desk.clock.tick().1,
    };
    let job = job.map(|number| Directory::default().id(desk.books(), "job", "job", number)).transpose()?;
    desk.ledger()?.save_draft(id, kind, job, person, body, Timestamp::now())?;
    Ok(id.to_string())
}

/// Throws a draft away. Answers whether there was one.
///
/// # Errors
/// When the id is none, the draft is somebody else's, or the disk refuses.
pub fn delete_draft(desk: &mut Desk, id: &str) -> Result<bool, OfficeError> {
    let person = desk.person()?;
    let id = own_draft(desk, id, person)?;
    Ok(desk.ledger()?.delete_draft(id)?)
}

fn own_draft(desk: &Desk, text: &str, person: Id) -> Result<Id, OfficeError> {
    let id = Id::parse(text).map_err(|problem| OfficeError::refused("id", &problem, "Leave it out"))?;
    match desk.books().draft(id)? {
        Some(draft) if draft.person != person => Err(OfficeError {
            code: Code::NotAllowed,
            field: None,
            message: "This draft is somebody else's.".to_owned(),
            remedy: "Ask them to finish it, or begin one of your own.".to_owned(),
        }),
        _ => Ok(id),
    }
}

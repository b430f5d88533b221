//! Photos, signatures and papers: kept beside the ledger by their hash, and named by a fact.

use crate::desk::Desk;
use crate::error::OfficeError;
use crate::policy::Act;
use ledger::Id;
use ledger::id::Digest;
use serde::Serialize;

/// A paper that is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Kept {
    /// The fact that names it.
    pub id: String,
    /// Its hash, by which other facts name it.
    pub hash: String,
    /// Media type.
    pub media_type: String,
    /// Size.
    pub bytes: i64,
}

/// Keeps a paper and records the fact that names it. One that is there already is not recorded again.
///
/// # Errors
/// When it is empty or too large, its media type is none, or the disk refuses.
pub fn attach(
    desk: &mut Desk,
    bytes: &[u8],
    media_type: &str,
    name: Option<&str>,
) -> Result<Kept, OfficeError> {
    let fact = ledger::attachment::store(&desk.path(), bytes, media_type, name, desk.clock.today())?;
    let (hash, size) = (fact.hash, fact.bytes);
    let id: Id = match desk.books().attachment(hash)? {
        Some(held) => held.entry.id,
        None => desk.record(vec![fact.into()])?.into_iter().next().ok_or_else(nothing)?,
    };
    Ok(Kept { id: id.to_string(), hash: hash.to_string(), media_type: media_type.to_owned(), bytes: size })
}

/// The bytes of a paper and their media type.
///
/// # Errors
/// `not-allowed` when it is not for whoever asks; `not-found` when no fact names this hash, or it is still on its way
/// from another device; `damaged` when the file is gone or is not what it was.
pub fn paper(desk: &Desk, hash: &str) -> Result<(Vec<u8>, String), OfficeError> {
    let hash = Digest::parse(hash)
        .map_err(|problem| OfficeError::refused("hash", &problem, "Open the page again"))?;
    let held = desk.books().attachment(hash)?.ok_or_else(nothing)?;
    // A bill's picture is for whoever enters bills; any other file that is not for the site is the owner's.
    let act = match (desk.books().is_sealed_file(hash)?, desk.books().is_of_bill(hash)?) {
        (true, true) => Act::Bill,
        (true, false) => Act::SeePaper,
        (false, _) => Act::SeeSitePhoto,
    };
    desk.check(act)?;
    let (books, from) = (desk.books(), held.entry.device);
    let is_own = books.setting(ledger::draft::DEVICE)?.is_some_and(|here| here == from);
    if !is_own && !ledger::coming::is_here(&desk.path(), hash) {
        let mut devices = books.all::<ledger::facts::Device>()?.into_iter().rev();
        let called = devices.find(|held| held.fact.letter == from).map(|held| held.fact.name);
        let called = called.unwrap_or_else(|| format!("device {from}"));
        return Err(OfficeError::not_found(
            format!("It has not come yet from {called}."),
            "It comes by itself when both are in touch.",
        ));
    }
    Ok((ledger::attachment::read(&desk.path(), hash)?, held.fact.media_type))
}

fn nothing() -> OfficeError {
    OfficeError::not_found("There is no such paper.", "Open the page again: it shows what is there now.")
}

//! Which device this is: what it may hold and whose it is, since nobody who sits at it may do more.

use crate::error::OfficeError;
use ledger::closed_lists::Role;
use ledger::draft::DEVICE;
use ledger::facts::Person;
use ledger::site_copy::{COPY, SITE};
use ledger::{Books, Id};

/// The setting that says what a device that has joined may hold. It must be known before the first fact comes.
pub const ROLE: &str = "device-role";

/// What this device may hold; nothing said on the one where the books were made, which holds everything.
///
/// # Errors
/// When it cannot be read.
pub fn role(books: Books<'_>) -> Result<Option<Role>, OfficeError> {
    if books.setting(COPY)?.as_deref() == Some(SITE) {
        return Ok(Some(Role::Crew));
    }
    let said = books.setting(ROLE)?;
    Ok(said.and_then(|word| Role::ALL.iter().copied().find(|role| role.as_str() == word)))
}

/// Whose device this is, where it has joined and they are known here.
///
/// # Errors
/// When it cannot be read.
pub(crate) fn whose(books: Books<'_>) -> Result<Option<Id>, OfficeError> {
    if books.setting(ROLE)?.is_none() {
        return Ok(None);
    }
    let Some(letter) = books.setting(DEVICE)? else { return Ok(None) };
    let Some(person) = books.roster()?.member(&letter).and_then(|member| member.person) else {
        return Ok(None);
    };
    Ok(books.newest::<Person>(person)?.map(|_| person))
}

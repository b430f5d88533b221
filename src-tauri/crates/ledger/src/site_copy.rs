//! Copies for the site: files that hold the open part of what a crew needs, and of the rest only that it is there.
//!
//! The file says so of itself in a setting, since it must be known before the first fact comes. Nobody can make a lost
//! sealed part look withheld by writing that setting into an office's file: verify holds it against the roster, which
//! is chained and signed, and says how many parts are withheld.

use crate::error::LedgerError;
use rusqlite::Connection;

/// The setting that says what kind of copy this file is: [`SITE`] for one that holds open parts only.
pub const COPY: &str = "copy";

/// The value of [`COPY`] in a copy for the site.
pub const SITE: &str = "site";

/// Whether a file says of itself that sealed parts are withheld from it.
pub(crate) fn is_site_copy(conn: &Connection) -> Result<bool, LedgerError> {
    Ok(conn.prepare_cached("SELECT 1 FROM setting WHERE name = ?1 AND value = ?2")?.exists([COPY, SITE])?)
}

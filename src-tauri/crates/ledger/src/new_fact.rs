//! A fact on its way into the books.

use crate::facts::Fact;
use crate::id::Id;

/// A fact to be recorded.
#[derive(Clone, Debug, PartialEq)]
pub struct NewFact {
    /// Made by the caller, so that a retried append is recognized.
    pub id: Id,
    /// Who records it.
    pub person: Id,
    /// The fact.
    pub fact: Fact,
}

//! Every kind of fact there is, and what the ledger knows of each.

use crate::facts;
use crate::kind::KindSpec;
use std::sync::LazyLock;

/// Every kind, in the order of the books.
pub static KINDS: LazyLock<Vec<KindSpec>> = LazyLock::new(facts::specs);

/// The description of a kind by its word.
#[must_use]
pub fn kind_spec(kind: &str) -> Option<&'static KindSpec> {
    KINDS.iter().find(|spec| spec.kind == kind)
}

/// Whether a field of a kind's JSON is the list that stands in this table.
#[must_use]
pub fn is_list(kind: &str, field: &str, table: &str) -> bool {
    kind_spec(kind).is_some_and(|spec| {
        spec.list_names.iter().zip(&spec.lists).any(|(name, list)| *name == field && list.table == table)
    })
}

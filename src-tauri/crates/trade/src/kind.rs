//! The kinds of cost a job has.

use std::fmt;

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A word that is no kind of cost.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "\"{text}\" is not a kind of cost. Use one of material, labor, subcontract, equipment, disposal, permit, other."
)]
pub struct CostKindError {
    /// The word as typed.
    pub text: String,
}

/// What a cost is for. The firm's cost codes are its own; every code has one of these kinds, and the kind
/// decides which variances can be told apart (WORDS.md, cost kinds).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "lowercase")]
pub enum CostKind {
    /// Goods bought for the roof.
    Material,
    /// The firm's own people.
    Labor,
    /// Work done by another firm.
    Subcontract,
    /// Machines and rental.
    Equipment,
    /// Haul-off and dump fees.
    Disposal,
    /// Permits and inspections.
    Permit,
    /// Anything else that belongs to the job.
    Other,
}

impl CostKind {
    /// Every kind, in the order in which they are listed.
    pub const ALL: [CostKind; 7] = [
        CostKind::Material,
        CostKind::Labor,
        CostKind::Subcontract,
        CostKind::Equipment,
        CostKind::Disposal,
        CostKind::Permit,
        CostKind::Other,
    ];

    /// Whether what is bought under this kind comes with whoever does the work, so that the firm's own people spend no
    /// hours on it: a gutter that a subcontractor hangs, a lift with its driver (common practice, no source).
    #[must_use]
    pub const fn brings_its_work(self) -> bool {
        matches!(self, CostKind::Subcontract | CostKind::Equipment | CostKind::Disposal | CostKind::Permit)
    }

    /// The word, in lower case, as it is stored and shown.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            CostKind::Material => "material",
            CostKind::Labor => "labor",
            CostKind::Subcontract => "subcontract",
            CostKind::Equipment => "equipment",
            CostKind::Disposal => "disposal",
            CostKind::Permit => "permit",
            CostKind::Other => "other",
        }
    }

    /// Reads the word.
    ///
    /// # Errors
    /// If it is none of the seven; the message lists them.
    pub fn parse(text: &str) -> Result<CostKind, CostKindError> {
        let word = text.trim();
        let found = CostKind::ALL.into_iter().find(|kind| kind.as_str().eq_ignore_ascii_case(word));
        found.ok_or_else(|| CostKindError { text: text.to_owned() })
    }
}

impl fmt::Display for CostKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

impl std::str::FromStr for CostKind {
    type Err = CostKindError;
    fn from_str(text: &str) -> Result<CostKind, CostKindError> {
        CostKind::parse(text)
    }
}

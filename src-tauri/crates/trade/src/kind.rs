//! The kinds of cost a job has.

use crate::closed_list;

/// What a cost is for. The firm's cost codes are its own; every code has one of these kinds, and the kind
/// decides which variances can be told apart (WORDS.md, cost kinds).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
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
closed_list!(CostKind, "kind of cost", {
    Material => "material": "Material",
    Labor => "labor": "Labor",
    Subcontract => "subcontract": "Subcontract",
    Equipment => "equipment": "Equipment",
    Disposal => "disposal": "Disposal",
    Permit => "permit": "Permit",
    Other => "other": "Other",
});

impl CostKind {
    /// Whether what is bought under this kind comes with whoever does the work, so that the firm's own people work no
    /// hours on it: a gutter that a subcontractor hangs, a lift with its driver (common practice, no source).
    #[must_use]
    pub const fn brings_its_work(self) -> bool {
        matches!(self, CostKind::Subcontract | CostKind::Equipment | CostKind::Disposal | CostKind::Permit)
    }
}

//! How a step of the chores ended when it did not fail.

/// How a step ended when it did not fail.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// It was done and all is well.
    Passed,
    /// There was nothing to do, and why.
    Skipped(String),
}

impl Outcome {
    /// For a step that has nothing to work on.
    pub(crate) fn skipped(why: impl Into<String>) -> Self {
        Self::Skipped(why.into())
    }
}

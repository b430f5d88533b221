//! Why a command failed, as a person or a program is told.

use super::import::Unsettled;
use office::OfficeError;
use serde::Serialize;

/// A failure: what the office said, and for an import what keeps the file from being taken.
#[derive(Debug, Serialize)]
pub(crate) struct Failure {
    #[serde(flatten)]
    pub(crate) error: OfficeError,
    #[serde(flatten)]
    pub(crate) unsettled: Option<Box<Unsettled>>,
}

impl From<OfficeError> for Failure {
    fn from(error: OfficeError) -> Failure {
        Failure { error, unsettled: None }
    }
}

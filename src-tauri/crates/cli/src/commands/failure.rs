//! Why a command failed, as a person or a program is told.

use intake::{Preview, Problem, Question};
use office::OfficeError;
use serde::Serialize;

/// A failure: what the office said, and for an import what keeps the file from being taken.
#[derive(Debug, Serialize)]
pub(crate) struct Failure {
    #[serde(flatten)]
    pub(crate) error: OfficeError,
    #[serde(flatten)]
    unsettled: Option<Box<Unsettled>>,
}

/// What keeps a file from being imported, as it stands beside the error in JSON.
#[derive(Debug, Serialize)]
struct Unsettled {
    problem_count: usize,
    problems: Vec<Problem>,
    questions: Vec<Question>,
}

impl Failure {
    /// An import that was refused, with all that keeps its file from being taken.
    pub(crate) fn unsettled(error: OfficeError, found: Preview) -> Failure {
        let unsettled = Unsettled {
            problem_count: found.problem_count,
            problems: found.problems,
            questions: found.questions,
        };
        Failure { error, unsettled: Some(Box::new(unsettled)) }
    }
}

impl From<OfficeError> for Failure {
    fn from(error: OfficeError) -> Failure {
        Failure { error, unsettled: None }
    }
}

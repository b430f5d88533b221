//! One shape of error for every face: a code for programs, what happened, and what to do.

use crate::code::Code;
use ledger::LedgerError;
use serde::Serialize;

/// Why something could not be done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("{}{}{remedy}", self.said(), if remedy.is_empty() { "" } else { " " })]
pub struct OfficeError {
    /// A word for programs.
    pub code: Code,
    /// The field that was refused, if one was.
    pub field: Option<String>,
    /// What happened and where; of a field that was refused, what is wrong with it, and not its name.
    pub message: String,
    /// What to do next.
    pub remedy: String,
}

impl OfficeError {
    /// What happened, behind the name of the field that was refused.
    #[must_use]
    pub fn said(&self) -> String {
        self.field.as_ref().map_or_else(|| self.message.clone(), |field| format!("{field}: {}", self.message))
    }

    /// Something asked for that is not there.
    #[must_use]
    pub fn not_found(what: impl Into<String>, remedy: impl Into<String>) -> OfficeError {
        OfficeError { code: Code::NotFound, field: None, message: what.into(), remedy: remedy.into() }
    }

    /// Input that cannot be taken.
    #[must_use]
    pub fn refused(field: impl Into<String>, problem: &str, remedy: impl Into<String>) -> OfficeError {
        OfficeError {
            code: Code::Refused,
            field: Some(field.into()),
            message: sentence(problem),
            remedy: sentence(&remedy.into()),
        }
    }

    /// The machine's own trouble.
    #[must_use]
    pub fn io(what: impl Into<String>, source: &std::io::Error) -> OfficeError {
        OfficeError {
            code: Code::Io,
            field: None,
            message: format!("{}: {source}.", what.into()),
            remedy: "Nothing was half-written. Make room or choose another folder, and try again.".to_owned(),
        }
    }
}

fn sentence(text: &str) -> String {
    if text.is_empty() || text.ends_with('.') { text.to_owned() } else { format!("{text}.") }
}

impl From<LedgerError> for OfficeError {
    fn from(error: LedgerError) -> OfficeError {
        let code = match &error {
            LedgerError::Refused { field, problem, remedy } => {
                return OfficeError::refused(field.clone(), problem, remedy.clone());
            }
            LedgerError::OtherEnd { path, problem, remedy } => {
                return OfficeError {
                    code: Code::Damaged,
                    field: None,
                    message: format!("{}: {problem}. Nothing was changed.", path.display()),
                    remedy: remedy.clone(),
                };
            }
            LedgerError::Missing(_) | LedgerError::Replaced(_) => Code::Missing,
            LedgerError::Exists(_) | LedgerError::Companion { .. } => Code::Exists,
            LedgerError::Foreign { .. } => Code::Foreign,
            LedgerError::Newer { .. } => Code::Newer,
            LedgerError::NetworkPlace { .. } => Code::Network,
            LedgerError::Busy { .. } | LedgerError::Held => Code::Busy,
            LedgerError::Alarm { .. } => Code::Alarm,
            LedgerError::Damaged { .. } => Code::Damaged,
            LedgerError::Stopped => Code::Stopped,
            LedgerError::Lock { .. } | LedgerError::Linked(_) => Code::Occupied,
            LedgerError::Pragma { .. } | LedgerError::Io { .. } | LedgerError::Sqlite(_) => Code::Io,
        };
        OfficeError { code, field: None, message: error.to_string(), remedy: String::new() }
    }
}

//! The one shape in which the page hears that something did not work.

use office::{Code, OfficeError};
use serde::Serialize;

/// What a command answers when it could not do what was asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct Refusal {
    /// A word for the page and for tests; never shown to a person.
    pub(crate) code: Code,
    /// The field of the form that was refused, where it was one.
    pub(crate) field: Option<String>,
    /// What is wrong and where, and what was kept: a sentence.
    pub(crate) message: String,
    /// What to do next: a sentence.
    pub(crate) remedy: String,
}

impl Refusal {
    /// A refusal of no field.
    pub(crate) fn new(code: Code, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { code, field: None, message: message.into(), remedy: remedy.into() }
    }

    /// The refusal of a field of a form.
    pub(crate) fn of_field(field: &str, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { field: Some(field.to_owned()), ..Self::new(Code::Refused, message, remedy) }
    }

    /// The window itself could not be moved, shown or read: nothing of the firm's is touched by that.
    pub(crate) fn of_window(error: &tauri::Error) -> Self {
        let message = format!("The window did not answer ({error}). Nothing was lost.");
        Self::new(Code::Window, message, "Close Tearoff and open it again.")
    }

    /// There is no firm's file on the desk.
    pub(crate) fn no_file() -> Self {
        Self::new(
            Code::NoFile,
            "No firm is open.",
            "Open a firm's file, make a new firm, or look at the made-up one.",
        )
    }

    /// Nobody sits at the desk.
    pub(crate) fn nobody_here() -> Self {
        Self::new(Code::NobodyHere, "Nobody sits at the desk.", "Say who you are first.")
    }

    /// Somebody else has sat down, or another file lies there, since it was asked.
    pub(crate) fn somebody_else() -> Self {
        let message = "Somebody else has sat down since this was asked. Nothing was changed.";
        Self::new(Code::NobodyHere, message, "Ask for it again.")
    }

    /// A person closed the dialog without choosing.
    pub(crate) fn nothing_chosen() -> Self {
        Self::new(
            Code::NothingChosen,
            "Nothing was chosen; nothing was changed.",
            "Choose a file when you like.",
        )
    }

    /// A person stopped long work.
    pub(crate) fn stopped() -> Self {
        Self::new(Code::Stopped, "It was stopped. Nothing was changed.", "Begin it again when you like.")
    }

    /// The part of the program that does the work has ended, which is a fault of ours.
    pub(crate) fn broken() -> Self {
        let message = "The program stopped working on this in the middle. What was recorded before is kept.";
        Self::new(Code::Broken, message, "Close Tearoff and open it again. If it happens again, report it.")
    }
}

impl From<OfficeError> for Refusal {
    fn from(error: OfficeError) -> Self {
        Self { code: error.code, field: error.field, message: error.message, remedy: error.remedy }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_says_what_is_wrong_and_what_to_do() {
        let refusal = Refusal::of_window(&tauri::Error::WindowNotFound);
        assert_eq!(refusal.code, Code::Window);
        assert!(refusal.message.ends_with("Nothing was lost."), "{}", refusal.message);
        assert_eq!(refusal.remedy, "Close Tearoff and open it again.");
    }

    #[test]
    fn a_refused_field_keeps_its_name_on_the_way_to_the_page() {
        let refusal = Refusal::from(OfficeError::refused("hours", "there is none", "Type the hours"));
        assert_eq!(refusal.field.as_deref(), Some("hours"));
        assert_eq!(refusal.message, "there is none.");
        assert_eq!((refusal.code, refusal.remedy.as_str()), (Code::Refused, "Type the hours."));
    }
}

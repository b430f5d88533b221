//! The one shape in which the page hears that something did not work.

use serde::Serialize;
use ts_rs::TS;

/// What a command answers when it could not do what was asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, TS)]
#[ts(export, export_to = "../../ui/src/lib/bindings/")]
pub(crate) struct Refusal {
    /// A short fixed word for the page and for tests; never shown to a person.
    pub(crate) code: String,
    /// What is wrong and where, and what was kept: a sentence.
    pub(crate) message: String,
    /// What to do next: a sentence.
    pub(crate) remedy: String,
}

impl Refusal {
    /// The window itself could not be moved, shown or read: nothing of the firm's is touched by that.
    pub(crate) fn of_window(error: &tauri::Error) -> Self {
        Self {
            code: "window".to_owned(),
            message: format!("The window did not answer ({error}). Nothing was lost."),
            remedy: "Close Tearoff and open it again.".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_says_what_is_wrong_and_what_to_do() {
        let refusal = Refusal::of_window(&tauri::Error::WindowNotFound);
        assert_eq!(refusal.code, "window");
        assert!(refusal.message.ends_with("Nothing was lost."), "{}", refusal.message);
        assert_eq!(refusal.remedy, "Close Tearoff and open it again.");
    }
}

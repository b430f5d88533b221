//! The system's own dialogs. The page never names a path that was not chosen here or opened before.

use std::borrow::Cow;
#[cfg(any(debug_assertions, feature = "answered-dialogs"))]
use std::path::Path;
use std::path::PathBuf;

use rfd::AsyncFileDialog;
use tauri::async_runtime::channel;
use tauri::{AppHandle, Manager};

use crate::refusal::Refusal;
use crate::window::DESK;

/// What is asked for.
#[derive(Clone, Debug)]
pub(crate) enum Ask {
    /// A file to open, of one of these endings.
    Open { title: &'static str, what: &'static str, endings: &'static [&'static str] },
    /// A place for a new file.
    Save { title: &'static str, name: String },
    /// A place for a paper.
    Paper { name: String },
    /// A place for a file of another kind.
    Other { title: &'static str, name: Cow<'static, str>, what: &'static str, ending: &'static str },
    /// A folder.
    Folder { title: &'static str },
}

impl Ask {
    /// A firm's file.
    pub(crate) const FIRM: Ask =
        Ask::Open { title: "Open a firm's file", what: "Tearoff firm", endings: &["tearoff"] };
    /// A table to import.
    pub(crate) const TABLE: Ask = Ask::Open {
        title: "Choose the file to import",
        what: "Table (CSV)",
        endings: &["csv", "txt", "tsv"],
    };
    /// A statement of the bank.
    pub(crate) const STATEMENT: Ask = Ask::Open {
        title: "Choose the bank's statement",
        what: "Statement (OFX or CSV)",
        endings: &["ofx", "csv", "txt", "tsv"],
    };

    /// A joining file that was handed over.
    pub(crate) const JOINING: Ask =
        Ask::Open { title: "Choose the joining file", what: "Joining file", endings: &["joining"] };
    /// A parcel that was handed over.
    pub(crate) const PARCEL: Ask =
        Ask::Open { title: "Choose the parcel", what: "Parcel", endings: &["parcel"] };
    /// A place for a parcel.
    pub(crate) const PARCEL_TO: Ask = Ask::Other {
        title: "Where the parcel shall be saved",
        name: Cow::Borrowed("firm.parcel"),
        what: "Parcel",
        ending: "parcel",
    };

    /// A place for a device's joining file.
    pub(crate) fn joining(name: &str) -> Ask {
        let safe: String =
            name.chars().filter(|sign| sign.is_alphanumeric() || " '-".contains(*sign)).collect();
        let name = Cow::Owned(format!("{}.joining", safe.trim()));
        Ask::Other {
            title: "Where the joining file shall be saved",
            name,
            what: "Joining file",
            ending: "joining",
        }
    }

    /// Where a file's back-ups shall go.
    pub(crate) const BACK_UPS: Ask = Ask::Folder { title: "Where back-ups shall go" };

    fn begin(self) -> (AsyncFileDialog, Kind) {
        let dialog = AsyncFileDialog::new();
        match self {
            Ask::Open { title, what, endings } => (
                dialog.set_title(title).add_filter(what, endings).add_filter("Every file", &["*"]),
                Kind::Open,
            ),
            Ask::Save { title, name } => {
                let named = dialog.set_title(title).set_file_name(name);
                (named.add_filter("Tearoff firm", &["tearoff"]), Kind::Save)
            }
            Ask::Paper { name } => {
                let named = dialog.set_title("Where the paper shall be saved").set_file_name(name);
                (named.add_filter("PDF", &["pdf"]), Kind::Save)
            }
            Ask::Other { title, name, what, ending } => {
                let named = dialog.set_title(title).set_file_name(name);
                (named.add_filter(what, &[ending]), Kind::Save)
            }
            Ask::Folder { title } => (dialog.set_title(title), Kind::Folder),
        }
    }
}

enum Kind {
    Open,
    Save,
    Folder,
}

/// Asks a person for a path.
pub(crate) async fn ask(app: &AppHandle, ask: Ask) -> Result<PathBuf, Refusal> {
    #[cfg(any(debug_assertions, feature = "answered-dialogs"))]
    if let Some(answer) = answered::by_test(&ask) {
        return answer;
    }
    let (told, mut heard) = channel(1);
    let owner = app.get_webview_window(DESK);
    // A dialog is a window, and windows are made on the main thread.
    app.run_on_main_thread(move || {
        let (mut dialog, kind) = ask.begin();
        if let Some(owner) = owner {
            dialog = dialog.set_parent(&owner);
        }
        let chosen: std::pin::Pin<Box<dyn Future<Output = _> + Send>> = match kind {
            Kind::Open => Box::pin(dialog.pick_file()),
            Kind::Save => Box::pin(dialog.save_file()),
            Kind::Folder => Box::pin(dialog.pick_folder()),
        };
        tauri::async_runtime::spawn(async move {
            let path = chosen.await.map(|file| file.path().to_owned());
            // If the page has gone away meanwhile, there is nobody to tell.
            let _ = told.send(path).await;
        });
    })
    .map_err(|error| Refusal::of_window(&error))?;
    heard.recv().await.flatten().ok_or_else(Refusal::nothing_chosen)
}

/// In tests no one can answer a dialog of the system: the environment answers instead, with a path. What ships knows
/// nothing of it: whoever sets a person's environment would decide where papers and back-ups go.
#[cfg(any(debug_assertions, feature = "answered-dialogs"))]
mod answered {
    use super::{Ask, Path, PathBuf, Refusal};

    pub(super) fn by_test(ask: &Ask) -> Option<Result<PathBuf, Refusal>> {
        let answer = std::env::var_os("TEAROFF_DIALOG_ANSWER")?;
        Some(path_of(ask, Path::new(&answer)).ok_or_else(Refusal::nothing_chosen))
    }

    /// A folder answers for a file too: by the name proposed, or its first of the right ending.
    fn path_of(ask: &Ask, answer: &Path) -> Option<PathBuf> {
        if !answer.is_dir() {
            return Some(answer.to_owned());
        }
        match ask {
            Ask::Folder { .. } => Some(answer.to_owned()),
            Ask::Save { name, .. } | Ask::Paper { name } => Some(answer.join(name)),
            Ask::Other { name, .. } => Some(answer.join(name.as_ref())),
            Ask::Open { endings, .. } => {
                let fits = |path: &PathBuf| {
                    path.extension().and_then(|end| end.to_str()).is_some_and(|end| endings.contains(&end))
                };
                let mut files: Vec<PathBuf> = std::fs::read_dir(answer)
                    .ok()?
                    .filter_map(|item| Some(item.ok()?.path()))
                    .filter(fits)
                    .collect();
                files.sort();
                files.into_iter().next()
            }
        }
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        #[test]
        fn a_folder_answers_for_a_file_by_its_ending_or_by_the_name_proposed() {
            let folder = tempfile::tempdir().unwrap();
            for name in ["b.csv", "a.csv", "0.png"] {
                std::fs::write(folder.path().join(name), "x").unwrap();
            }
            assert_eq!(path_of(&Ask::TABLE, folder.path()), Some(folder.path().join("a.csv")));
            assert_eq!(path_of(&Ask::FIRM, folder.path()), None);
            let save = Ask::Save { title: "", name: "Firm.tearoff".into() };
            assert_eq!(path_of(&save, folder.path()), Some(folder.path().join("Firm.tearoff")));
            assert_eq!(path_of(&save, Path::new("elsewhere.tearoff")), Some("elsewhere.tearoff".into()));
        }
    }
}

//! What the page is told of the desk itself; what it is told of the books are the office's own views.

use office::{DeskPerson, Month, Role};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::refusal::Refusal;

/// Which program this is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct About {
    /// The program's name.
    pub(crate) name: String,
    /// Its version, as in `1.2.3`.
    pub(crate) version: String,
}

/// A paper that was saved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct SavedPaper {
    /// Where.
    pub(crate) path: String,
}

/// How this device stands with the firm's others.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct InTouchView {
    /// Goes up with everything that came: what is on the page is then behind.
    pub(crate) came: u32,
    /// The last exchange since this file was opened.
    pub(crate) last: Option<exchange::Exchanged>,
    /// Why there was none, where it is not only off line.
    pub(crate) refused: Option<Refusal>,
    /// What is wrong with the open file, where reading it through has found something.
    pub(crate) unsound: Option<Refusal>,
}

/// What lies on the desk and who sits there.
#[derive(Debug, Clone, Default, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct DeskState {
    /// The firm's file; absent when none is open.
    pub(crate) file: Option<String>,
    /// The firm's name.
    pub(crate) firm: Option<String>,
    /// Whether whoever sits here is told of margin.
    pub(crate) sees_margin: bool,
    /// Who sits here.
    pub(crate) person: Option<DeskPerson>,
    /// Whether facts can be recorded.
    pub(crate) writes: bool,
    /// Why not, where not.
    pub(crate) reading_because: Option<Refusal>,
    /// The last month in which anything is booked.
    pub(crate) month: Option<Month>,
    /// The first and last months in which anything is booked.
    pub(crate) months: Option<(Month, Month)>,
    /// Today, as yyyy-mm-dd.
    pub(crate) today: String,
    /// Files opened before, the latest first.
    pub(crate) recent: Vec<Recent>,
    /// The roles in which sitting down asks for a PIN.
    pub(crate) pins: Vec<Role>,
    /// The last back-up.
    pub(crate) back_up: Option<LastBackUp>,
    /// The folder in which back-ups are made.
    pub(crate) back_up_folder: Option<String>,
    /// Whether a person chose that folder.
    pub(crate) back_up_folder_chosen: bool,
    /// Whether this is the made-up firm.
    pub(crate) sample: bool,
    /// What went wrong while nobody was asking, such as with a file named at the start; told once.
    pub(crate) said: Option<Refusal>,
}

/// A file opened before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct Recent {
    /// Where it lies.
    pub(crate) path: String,
    /// The firm's name.
    pub(crate) name: String,
}

/// A back-up that was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct LastBackUp {
    /// Where it lies.
    pub(crate) path: String,
    /// When it was made, UTC.
    pub(crate) at: String,
    /// Whether it was read through and found good.
    pub(crate) good: bool,
}

/// What became of a recorded fact.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct RecordedFact {
    /// Its id.
    pub(crate) id: String,
    /// Whether it was there already.
    pub(crate) repeated: bool,
    /// What is to be said of it at once: hours of somebody who has no pay, a setting that counts later than its day.
    pub(crate) cautions: Vec<String>,
}

/// A change order put to the homeowner, without what it costs the firm.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct Asked {
    /// Its id.
    pub(crate) id: String,
    /// Its number on the job.
    pub(crate) number: String,
    /// What it is about.
    pub(crate) title: String,
    /// Its lines.
    pub(crate) lines: Vec<AskedLine>,
    /// What the homeowner pays.
    pub(crate) price: String,
}

/// A line of a change order as the homeowner sees it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct AskedLine {
    /// What is done.
    pub(crate) description: String,
    /// How much of it.
    pub(crate) quantity: Option<String>,
    /// Counted in.
    pub(crate) unit: Option<String>,
    /// What the homeowner pays.
    pub(crate) price: String,
}

/// How far long work is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct Step {
    /// How much is done.
    pub(crate) done: u64,
    /// Of how much; left out while that is not known.
    #[cfg_attr(test, ts(optional))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) total: Option<u64>,
    /// What is being done now, in words.
    pub(crate) what: String,
}

/// What a new firm is made of. What is left out is what most firms here have.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct FirmForm {
    /// The firm's name.
    pub(crate) name: String,
    /// Town.
    pub(crate) town: String,
    /// Two-letter state.
    pub(crate) state: String,
    /// The owner's name.
    pub(crate) owner: String,
    /// Other settings of the firm, by the names that the fact `firm` has.
    #[cfg_attr(test, ts(type = "Record<string, unknown>"))]
    #[serde(default)]
    pub(crate) settings: serde_json::Map<String, Value>,
}

/// A photo or paper from the page.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct PaperForm {
    /// Its bytes in base64.
    pub(crate) bytes_base64: String,
    /// Its media type.
    pub(crate) media_type: String,
    /// The name it came with.
    pub(crate) name: Option<String>,
    /// Whether the file is kept as it came, too: a photo that may have to prove something.
    #[serde(default)]
    pub(crate) original: bool,
}

/// A photo or paper that is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(crate) struct Attached {
    /// The fact that names it.
    pub(crate) id: String,
    /// Its hash, by which other facts name it.
    pub(crate) hash: String,
    /// Media type.
    pub(crate) media_type: String,
    /// Size.
    pub(crate) bytes: i64,
    /// Hash of the file as it came, where that is kept too.
    pub(crate) original: Option<String>,
}

//! The words by which programs tell one failure from another.

use serde::Serialize;
use std::fmt;

/// Why something could not be done, as a word for programs. A person is told in a sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum Code {
    /// Input that cannot be taken.
    Refused,
    /// A date so far from today that it may be a slip: taken once it is confirmed.
    UnusualDate,
    /// Something asked for that is not there.
    NotFound,
    /// It is not for whoever sits at the desk.
    NotAllowed,
    /// A file is there already.
    Exists,
    /// The file is not there.
    Missing,
    /// It is no file of this program.
    Foreign,
    /// A newer program wrote it.
    Newer,
    /// It lies on a network.
    Network,
    /// Another window or program writes to it.
    Busy,
    /// An alarm of the file keeps it from being written to.
    Alarm,
    /// It is not what was written.
    Damaged,
    /// A person stopped it.
    Stopped,
    /// The store of the devices' parcels cannot be reached.
    Offline,
    /// The machine's own trouble.
    Io,
    /// The owner's PIN is asked for.
    Pin,
    /// Loose ends keep the month open.
    LooseEnds,
    /// Something else lies where it should go.
    Occupied,
    /// A paper could not be set.
    Paper,
    /// No file lies on the desk.
    NoFile,
    /// Nobody sits at the desk, or somebody else does.
    NobodyHere,
    /// A person closed a dialog without choosing.
    NothingChosen,
    /// No table is being imported.
    NoTable,
    /// The window did not answer.
    Window,
    /// The part of the program that does the work has ended.
    Broken,
}

impl Code {
    /// The word.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Code::Refused => "refused",
            Code::UnusualDate => "unusual-date",
            Code::NotFound => "not-found",
            Code::NotAllowed => "not-allowed",
            Code::Exists => "exists",
            Code::Missing => "missing",
            Code::Foreign => "foreign",
            Code::Newer => "newer",
            Code::Network => "network",
            Code::Busy => "busy",
            Code::Alarm => "alarm",
            Code::Damaged => "damaged",
            Code::Stopped => "stopped",
            Code::Offline => "offline",
            Code::Io => "io",
            Code::Pin => "pin",
            Code::LooseEnds => "loose-ends",
            Code::Occupied => "occupied",
            Code::Paper => "paper",
            Code::NoFile => "no-file",
            Code::NobodyHere => "nobody-here",
            Code::NothingChosen => "nothing-chosen",
            Code::NoTable => "no-table",
            Code::Window => "window",
            Code::Broken => "broken",
        }
    }
}

impl fmt::Display for Code {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_the_same_word_in_json_and_in_text() {
        for code in [Code::NotFound, Code::LooseEnds, Code::Io, Code::NothingChosen] {
            assert_eq!(serde_json::to_value(code).unwrap(), code.to_string());
        }
    }
}

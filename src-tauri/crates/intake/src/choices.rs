//! What a person has chosen for reading a file, and what may be left open.

use crate::amounts::NumberStyle;
use crate::columns::Mapping;
use crate::dates::DateOrder;
use crate::table::Separator;
use serde::{Deserialize, Serialize};
use trade::Money;

/// What to do with lines of one bill that are the same in every column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "kebab-case")]
pub enum RepeatedLines {
    /// The bill has the same line more than once.
    Keep,
    /// The file repeats itself: take each line once.
    Skip,
}

/// What to do with hours for a person, day, job and code that already have other hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "kebab-case")]
pub enum OtherHours {
    /// They were worked as well.
    Add,
    /// They are left out.
    LeaveOut,
}

/// What a person has chosen; everything may be left open, and is then read from the file or asked.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(default, deny_unknown_fields)]
pub struct Choices {
    /// What stands between the columns.
    pub separator: Option<Separator>,
    /// Which column holds which field.
    pub mapping: Option<Mapping>,
    /// Which number comes first in a date such as `3/4/2026`.
    pub date_order: Option<DateOrder>,
    /// Which mark stands before the decimals.
    pub number_style: Option<NumberStyle>,
    /// Lines of one bill that are the same in every column.
    pub repeated_lines: Option<RepeatedLines>,
    /// Hours beside other hours of the same person, day, job and code.
    pub other_hours: Option<OtherHours>,
    /// What stood at the bank after the last line of its statement.
    pub closing_balance: Option<Money>,
    /// Whether vendors that the ledger does not know are made.
    pub make_missing: bool,
    /// Whether mapping, order and style come from the last import of a file with this header; see [`crate::recall`].
    pub remembered: bool,
}

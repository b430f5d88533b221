//! What a figure is measured in.

use serde::Serialize;

/// What a figure is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum MeasuredIn {
    /// Money.
    Money,
    /// Hours.
    Hours,
    /// Crew-days.
    CrewDays,
    /// A share of one, shown in percent.
    Share,
    /// A count or quantity of something.
    Count,
}

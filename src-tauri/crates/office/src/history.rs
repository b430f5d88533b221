//! What the firm's own record says of hidden conditions: where rot is found, by cause and age of roof, what was paid
//! for it, by crew and by month, and what was given away. It is a record, not a forecast, and says how thin it is.

mod gathered;
mod kick_outs;
mod opened;

pub use gathered::{By, ConditionGroup, UnrecoveredCost, UnrecoveredReason};
pub use kick_outs::{KickOuts, RoofWithout};
pub use opened::{HistoryFigure, OpenedRecord, RecordCondition, RecordRoof, Which, opened};

use desk::{Desk, OfficeError};
use gathered::{Gathered, THIN_BELOW, gather, group, grouped, in_order, unrecovered};
use serde::Serialize;
use trade::Month;

/// The record.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ConditionHistory {
    /// The year shown; absent when all are.
    pub year: Option<i16>,
    /// The years in which anything was found.
    pub years: Vec<i16>,
    /// Roofs opened: jobs on which work began.
    pub roofs: usize,
    /// All conditions together.
    pub all: ConditionGroup,
    /// By place on the roof.
    pub by_place: Vec<ConditionGroup>,
    /// By cause.
    pub by_cause: Vec<ConditionGroup>,
    /// By age of the old roof, in bands of ten years.
    pub by_age: Vec<ConditionGroup>,
    /// By crew.
    pub by_crew: Vec<ConditionGroup>,
    /// By month in which it was found.
    pub by_month: Vec<ConditionGroup>,
    /// Unrecovered cost, the most first.
    pub unrecovered: Vec<UnrecoveredCost>,
    /// Missing kick-outs.
    pub kick_outs: KickOuts,
    /// Whether the record is too short to say much: fewer than five roofs with conditions.
    pub thin: bool,
}

/// Reads the record of a year, or of all years, as it stands at the end of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn condition_history(
    desk: &Desk,
    year: Option<i16>,
    through: Month,
) -> Result<ConditionHistory, OfficeError> {
    desk.books().in_one_read(|books| {
        let Gathered { names: _, years, roofs, all } = gather(books, year, through)?;
        let of_all = group(String::new(), all.iter());
        Ok(ConditionHistory {
            year,
            years: years.into_iter().collect(),
            roofs: roofs.len(),
            by_place: grouped(&all, By::Place),
            by_cause: grouped(&all, By::Cause),
            by_age: grouped(&all, By::Age),
            by_crew: grouped(&all, By::Crew),
            by_month: in_order(grouped(&all, By::Month)),
            unrecovered: unrecovered(&all),
            kick_outs: kick_outs::kick_outs(books, desk.clock.today(), &all, roofs.len())?,
            thin: of_all.jobs < THIN_BELOW,
            all: of_all,
        })
    })
}

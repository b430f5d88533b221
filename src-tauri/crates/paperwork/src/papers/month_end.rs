//! The owner's month-end pack: which jobs made money, which did not, and where it went.

use jiff::civil::Date;
use serde::Serialize;
use trade::{Money, Rate};

use super::press::{self, Kind};
use super::{Bars, Firm, Walk};
use crate::PaperError;

/// The month on paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MonthEndPack {
    /// The firm.
    pub firm: Firm,
    /// The month's last day.
    pub date: Date,
    /// The entry that closed the month, with the beginning of its hash; until then the pack says that it is open.
    pub closed_by: Option<String>,
    /// The firm's figures of the month, in order.
    pub figures: Vec<MonthFigure>,
    /// The jobs, in the order of their rank.
    pub ranking: Vec<JobRank>,
    /// The firm's walk from the margin sold to the margin made.
    pub walk: Walk,
    /// A walk for each job that lost or slipped.
    pub job_walks: Vec<JobWalk>,
    /// Hidden conditions: spent, billed, and unrecovered.
    pub recovery: Vec<RecoveryLine>,
    /// Billed against earned, by job.
    pub billing: Vec<BillingLine>,
    /// What is owed to the firm, by days past due.
    pub aging: Vec<AgeBucket>,
    /// Cost by kind or other bars that the owner asked for.
    pub bars: Vec<Bars>,
    /// What must be settled.
    pub loose_ends: Vec<LooseEnd>,
    /// What changed since the last month.
    pub changes: Vec<ForecastChange>,
    /// Every job.
    pub jobs: Vec<JobRow>,
}

/// One of the firm's figures.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MonthFigure {
    /// What it is.
    pub label: String,
    /// This month.
    pub month: Money,
    /// What was meant for it; absent where it has no budget, or none of this figure.
    pub month_budget: Option<Money>,
    /// The year so far.
    pub year: Money,
    /// What was meant for it; absent too where some month of it has no budget.
    pub year_budget: Option<Money>,
}

/// A job in the ranking.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JobRank {
    /// The job.
    pub job: String,
    /// Its price with approved changes.
    pub sold: Money,
    /// What it is forecast to cost.
    pub forecast: Money,
    /// The difference.
    pub margin: Money,
    /// As a share of what was sold, where anything was.
    pub share: Option<Rate>,
}

/// The walk of one job, with the reason it is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JobWalk {
    /// The job.
    pub job: String,
    /// Why it is here, in a sentence.
    pub why: String,
    /// The walk.
    pub walk: Walk,
}

/// Hidden conditions of a job, a crew or the firm.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RecoveryLine {
    /// Of what.
    pub label: String,
    /// Spent.
    pub spent: Money,
    /// Billed.
    pub billed: Money,
    /// Spent and never to be billed.
    pub unrecovered: Money,
    /// Billed ÷ spent, where anything was spent.
    pub recovery: Option<Rate>,
}

/// Billed against earned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BillingLine {
    /// The job.
    pub job: String,
    /// Earned to date.
    pub earned: Money,
    /// Billed to date.
    pub billed: Money,
    /// Billed less earned: above zero is over-billed.
    pub difference: Money,
}

/// One column of the aging.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AgeBucket {
    /// The days, in words.
    pub label: String,
    /// What is owed.
    pub amount: Money,
}

/// One loose end.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LooseEnd {
    /// What is loose.
    pub what: String,
    /// The job; may be empty.
    pub job: String,
    /// What to do.
    pub to_do: String,
}

/// What changed since the last month.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ForecastChange {
    /// The job.
    pub job: String,
    /// What changed.
    pub what: String,
    /// Then.
    pub before: Money,
    /// Now.
    pub after: Money,
}

/// A job's line in the table of all.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JobRow {
    /// The job.
    pub job: String,
    /// Its state, in a word.
    pub state: String,
    /// Contract with approved changes.
    pub contract: Money,
    /// Cost to date.
    pub cost: Money,
    /// What it is forecast to cost.
    pub forecast: Money,
    /// Contract less forecast.
    pub margin: Money,
    /// Earned to date.
    pub earned: Money,
    /// Billed to date.
    pub billed: Money,
}

impl MonthEndPack {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::MonthEnd, &self.firm, self, &[])
    }
}

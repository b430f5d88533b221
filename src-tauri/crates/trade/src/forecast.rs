//! Where a cost code stands, and what it will have cost when it is done.

use crate::closed_list;
use crate::money::{Money, Qty};

/// All that is known of one cost code of one job on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CodeStanding {
    /// Cost in the contract.
    pub contracted: Money,
    /// Cost in approved change orders.
    pub changes: Money,
    /// Posted facts.
    pub actual: Money,
    /// Of the posted facts, material on site and not installed.
    pub uninstalled: Money,
    /// Ordered and not yet received.
    pub committed: Money,
    /// The owner's own forecast of the whole cost.
    pub own_forecast: Option<Money>,
    /// Units in the contract with its changes, where the code is measured.
    pub units_contracted: Option<Qty>,
    /// Units done so far.
    pub units_done: Qty,
    /// Whether nothing more is to come but what is committed.
    pub finished: bool,
}

impl CodeStanding {
    /// The revised budget: contract + approved change orders.
    #[must_use]
    pub fn revised(&self) -> Money {
        self.contracted + self.changes
    }
}

/// Which rule gave a forecast; shown with it, so that the figure can be opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum ForecastRule {
    /// The owner's own figure, never below what is already spent.
    Own,
    /// What a unit has cost so far, times all units.
    Units,
    /// The code is finished: spent and committed.
    Spent,
    /// The larger of spent and committed, and the revised budget.
    LargerOf,
}

closed_list!(ForecastRule, "forecast rule", {
    Own => "own": "Own forecast",
    Units => "units": "Pace of the work",
    Spent => "spent": "Spent",
    LargerOf => "larger-of": "Larger of spent and budget",
});

/// What a code will have cost when it is done, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Forecast {
    /// The whole cost at the end.
    pub amount: Money,
    /// The rule that gave it.
    pub rule: ForecastRule,
}

/// Forecasts a code's whole cost. The first rule that fits decides (company rules):
///
/// 1. Finished: actual + committed.
/// 2. The owner's own figure; where more is spent already, what is spent, for a forecast below the facts is
///    no forecast.
/// 3. Measured, and some of it done: actual without what is stacked on site ÷ units done × units contracted, rounded
///    once, and at least actual + committed. With units as earned value this is EAC = BAC ÷ CPI. Where more units
///    are done than were contracted the measure has lost its meaning and the rule does not apply.
/// 4. Otherwise the larger of actual + committed and the revised budget: money not yet spent is not saved.
#[must_use]
pub fn forecast(code: &CodeStanding) -> Forecast {
    let spent = code.actual + code.committed;
    if code.finished {
        return Forecast { amount: spent, rule: ForecastRule::Spent };
    }
    if let Some(own) = code.own_forecast {
        return Forecast { amount: own.max(code.actual), rule: ForecastRule::Own };
    }
    if let Some(units) = code.units_contracted
        && code.units_done.is_positive()
        && code.units_done <= units
    {
        let installed = code.actual - code.uninstalled;
        let at_this_pace = installed.decimal() * units.decimal() / code.units_done.decimal();
        return Forecast { amount: Money::rounded(at_this_pace).max(spent), rule: ForecastRule::Units };
    }
    Forecast { amount: spent.max(code.revised()), rule: ForecastRule::LargerOf }
}

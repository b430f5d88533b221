//! The figures of the firm's budget: each line in each time that is looked at, and what it takes to break even.

use super::measure::MeasuredIn;
use crate::month::budget::{BudgetRow, BudgetedLine, FirmBudget};
use rust_decimal::Decimal;
use trade::Money;

/// Of which time a line is, and from which side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    /// What was meant for the month.
    Month,
    /// What became of it, less that.
    LessMonth,
    /// What became of the budgeted months so far.
    SoFar,
    /// What was meant for them.
    SoFarBudget,
    /// The one less the other.
    SoFarLess,
    /// What is meant for the year.
    Year,
    /// What it takes to break even.
    BreakEven,
    /// What of that is still to be sold.
    StillToBreakEven,
    /// What of the year's budget is still to be sold.
    StillToSell,
}

macro_rules! budget_figures {
    ($( $figure:ident = $word:literal, $of:ident, $line:ident: $label:literal; )+) => {
        /// A figure of the firm's budget.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
        pub enum BudgetFigure { $( #[doc = $label] $figure, )+ }

        trade::closed_list!(BudgetFigure, "figure of the budget", { $( $figure => $word: $label ),+ });

        impl BudgetFigure {
            /// Of which time it is and which line.
            pub(super) const fn parts(self) -> (Of, BudgetedLine) {
                match self { $( BudgetFigure::$figure => (Of::$of, BudgetedLine::$line), )+ }
            }
        }
    };
}

budget_figures! {
    BudgetEarned = "budget-earned", Month, Earned: "Earned by the month's budget";
    BudgetCost = "budget-cost", Month, Cost: "Cost of jobs by the month's budget";
    BudgetProfit = "budget-profit", Month, Profit: "Gross profit by the month's budget";
    BudgetOverhead = "budget-overhead", Month, Overhead: "Overhead by the month's budget";
    BudgetNetProfit = "budget-net-profit", Month, NetProfit: "Net profit by the month's budget";
    BudgetCrewDays = "budget-crew-days", Month, CrewDays: "Crew-days by the month's budget";
    EarnedLessBudget = "earned-less-budget", LessMonth, Earned: "Earned less the month's budget";
    CostLessBudget = "cost-less-budget", LessMonth, Cost: "Cost of jobs less the month's budget";
    ProfitLessBudget = "profit-less-budget", LessMonth, Profit: "Gross profit less the month's budget";
    OverheadLessBudget = "overhead-less-budget", LessMonth, Overhead: "Overhead less the month's budget";
    NetProfitLessBudget = "net-profit-less-budget", LessMonth, NetProfit: "Net profit less the month's budget";
    CrewDaysLessBudget = "crew-days-less-budget", LessMonth, CrewDays: "Crew-days less the month's budget";
    SoFarEarned = "so-far-earned", SoFar, Earned: "Earned in the budgeted months so far";
    SoFarCost = "so-far-cost", SoFar, Cost: "Cost of jobs in the budgeted months so far";
    SoFarProfit = "so-far-profit", SoFar, Profit: "Gross profit in the budgeted months so far";
    SoFarOverhead = "so-far-overhead", SoFar, Overhead: "Overhead in the budgeted months so far";
    SoFarNetProfit = "so-far-net-profit", SoFar, NetProfit: "Net profit in the budgeted months so far";
    SoFarCrewDays = "so-far-crew-days", SoFar, CrewDays: "Crew-days in the budgeted months so far";
    SoFarBudgetEarned = "so-far-budget-earned", SoFarBudget, Earned: "Earned by the budget so far";
    SoFarBudgetCost = "so-far-budget-cost", SoFarBudget, Cost: "Cost of jobs by the budget so far";
    SoFarBudgetProfit = "so-far-budget-profit", SoFarBudget, Profit: "Gross profit by the budget so far";
    SoFarBudgetOverhead = "so-far-budget-overhead", SoFarBudget, Overhead: "Overhead by the budget so far";
    SoFarBudgetNetProfit = "so-far-budget-net-profit", SoFarBudget, NetProfit: "Net profit by the budget so far";
    SoFarBudgetCrewDays = "so-far-budget-crew-days", SoFarBudget, CrewDays: "Crew-days by the budget so far";
    SoFarEarnedLessBudget = "so-far-earned-less-budget", SoFarLess, Earned: "Earned less the budget so far";
    SoFarCostLessBudget = "so-far-cost-less-budget", SoFarLess, Cost: "Cost of jobs less the budget so far";
    SoFarProfitLessBudget = "so-far-profit-less-budget", SoFarLess, Profit: "Gross profit less the budget so far";
    SoFarOverheadLessBudget = "so-far-overhead-less-budget", SoFarLess, Overhead: "Overhead less the budget so far";
    SoFarNetProfitLessBudget = "so-far-net-profit-less-budget", SoFarLess, NetProfit:
        "Net profit less the budget so far";
    SoFarCrewDaysLessBudget = "so-far-crew-days-less-budget", SoFarLess, CrewDays: "Crew-days less the budget so far";
    YearBudgetEarned = "year-budget-earned", Year, Earned: "Earned by the year's budget";
    YearBudgetCost = "year-budget-cost", Year, Cost: "Cost of jobs by the year's budget";
    YearBudgetProfit = "year-budget-profit", Year, Profit: "Gross profit by the year's budget";
    YearBudgetOverhead = "year-budget-overhead", Year, Overhead: "Overhead by the year's budget";
    YearBudgetNetProfit = "year-budget-net-profit", Year, NetProfit: "Net profit by the year's budget";
    YearBudgetCrewDays = "year-budget-crew-days", Year, CrewDays: "Crew-days by the year's budget";
    BreakEvenSales = "break-even-sales", BreakEven, Earned: "Sales to break even";
    BreakEvenCrewDays = "break-even-crew-days", BreakEven, CrewDays: "Crew-days to break even";
    StillToBreakEven = "still-to-break-even", StillToBreakEven, Earned: "Still to be sold to break even";
    StillToSell = "still-to-sell", StillToSell, Earned: "Still to be sold for the year's budget";
}

const BESIDE: &str = "budget against actual (OpenStax, Principles of Accounting, volume 2, chapter 7)";
const POINT: &str = "break-even point (OpenStax, Principles of Accounting, volume 2, chapter 3)";
const COMMON: &str = "common practice";

impl BudgetFigure {
    /// The figure of this time and line, if there is one.
    pub(super) fn at(of: Of, line: BudgetedLine) -> Option<BudgetFigure> {
        BudgetFigure::ALL.iter().copied().find(|figure| figure.parts() == (of, line))
    }

    /// What it is measured in.
    #[must_use]
    pub const fn measure(self) -> MeasuredIn {
        match self.parts().1 {
            BudgetedLine::CrewDays => MeasuredIn::CrewDays,
            _ => MeasuredIn::Money,
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub const fn rule(self) -> &'static str {
        match self.parts() {
            (Of::Month, BudgetedLine::Profit) => "Budgeted sales less the budgeted cost of jobs.",
            (Of::Month, BudgetedLine::NetProfit) => "Budgeted gross profit less budgeted overhead.",
            (Of::Month, _) => {
                "What the owner set for the month; of several the newest. Once the month is closed its budget stays."
            }
            (Of::LessMonth, _) => "What became of the month, less its budget.",
            (Of::SoFar, _) => "What became of the months of the year so far that have a budget.",
            (Of::SoFarBudget, _) => "The budgets of the months of the year so far.",
            (Of::SoFarLess, _) => "What became of the budgeted months so far, less their budgets.",
            (Of::Year, _) => "The budgets of the year's months together.",
            (Of::BreakEven, BudgetedLine::CrewDays) => {
                "Budgeted crew-days × budgeted overhead ÷ budgeted gross profit, all of the year: overhead is taken \
                 as fixed, and the cost of jobs as rising with sales."
            }
            (Of::BreakEven, _) => {
                "Budgeted sales × budgeted overhead ÷ budgeted gross profit, all of the year, rounded once: overhead \
                 is taken as fixed, and the cost of jobs as rising with sales."
            }
            (Of::StillToBreakEven, _) => {
                "Sales to break even, less what the year has earned so far and what signed work will bring; never \
                 below zero."
            }
            (Of::StillToSell, _) => {
                "Budgeted sales of the year, less what it has earned so far and what signed work will bring; never \
                 below zero."
            }
        }
    }

    /// Where the rule comes from.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self.parts().0 {
            Of::BreakEven => POINT,
            Of::StillToBreakEven | Of::StillToSell => COMMON,
            _ => BESIDE,
        }
    }

    /// Its value; absent where there is no budget of that time, or nothing to divide by.
    pub(super) fn value(self, budget: &FirmBudget) -> Option<Decimal> {
        let (of, line) = self.parts();
        let row: &BudgetRow = budget.rows.iter().find(|row| row.line == line)?;
        let point = budget.break_even.as_ref();
        match of {
            Of::Month => row.month.as_ref().map(|beside| beside.budget),
            Of::LessMonth => row.month.as_ref().map(|beside| beside.difference),
            Of::SoFar => row.so_far.as_ref().map(|beside| beside.actual),
            Of::SoFarBudget => row.so_far.as_ref().map(|beside| beside.budget),
            Of::SoFarLess => row.so_far.as_ref().map(|beside| beside.difference),
            Of::Year => row.year,
            Of::BreakEven if line == BudgetedLine::CrewDays => point?.crew_days,
            Of::BreakEven => point?.sales.map(Money::decimal),
            Of::StillToBreakEven => point?.still_to_break_even.map(Money::decimal),
            Of::StillToSell => point.map(|point| point.still_to_sell.decimal()),
        }
    }
}

//! What the firm means to do in a year, month by month, and what became of it: actual beside budget, the sales and
//! crew-days that it takes to break even, and what is still to be sold.

use crate::job::page::Source;
use crate::month::end::month_end_of;
use crate::month::result::{Made, MonthMade, firm_year_of, january};
use desk::names::Names;
use desk::{Desk, OfficeError};
use ledger::facts::Budget;
use ledger::{Books, Entered, Entry};
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{Money, Month};

/// A line of the budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum BudgetedLine {
    /// Sales, and what jobs earned.
    Earned,
    /// Cost of jobs.
    Cost,
    /// Earned less cost.
    Profit,
    /// What the firm costs beside its jobs.
    Overhead,
    /// Gross profit less overhead.
    NetProfit,
    /// Days of crews.
    CrewDays,
}

trade::closed_list!(BudgetedLine, "line of the budget", {
    Earned => "earned": "Earned",
    Cost => "cost": "Cost of jobs",
    Profit => "profit": "Gross profit",
    Overhead => "overhead": "Overhead",
    NetProfit => "net-profit": "Net profit",
    CrewDays => "crew-days": "Crew-days",
});

/// What is meant for some time, or what became of it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Planned {
    /// Sales, or what was earned.
    pub earned: Money,
    /// Cost of jobs.
    pub cost: Money,
    /// Sales less that; of what became, less the losses newly foreseen too.
    pub gross_profit: Money,
    /// What the firm costs beside its jobs.
    pub overhead_cost: Money,
    /// Gross profit less that.
    pub net_profit: Money,
    /// Days of crews.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: Decimal,
}

impl Planned {
    pub(crate) fn of(budget: &Budget) -> Planned {
        let gross_profit = budget.sales - budget.cost;
        Planned {
            earned: budget.sales,
            cost: budget.cost,
            gross_profit,
            overhead_cost: budget.overhead,
            net_profit: trade::net_profit(gross_profit, budget.overhead),
            crew_days: budget.crew_days.decimal().normalize(),
        }
    }

    fn became(made: &Made) -> Planned {
        Planned {
            earned: made.earned,
            cost: made.cost,
            gross_profit: made.gross_profit,
            overhead_cost: made.overhead_cost,
            net_profit: made.net_profit,
            crew_days: made.crew_days.normalize(),
        }
    }

    fn and(self, more: &Planned) -> Planned {
        Planned {
            earned: self.earned + more.earned,
            cost: self.cost + more.cost,
            gross_profit: self.gross_profit + more.gross_profit,
            overhead_cost: self.overhead_cost + more.overhead_cost,
            net_profit: self.net_profit + more.net_profit,
            crew_days: self.crew_days + more.crew_days,
        }
    }

    /// One line of it.
    #[must_use]
    pub const fn line(&self, line: BudgetedLine) -> Decimal {
        match line {
            BudgetedLine::Earned => self.earned.decimal(),
            BudgetedLine::Cost => self.cost.decimal(),
            BudgetedLine::Profit => self.gross_profit.decimal(),
            BudgetedLine::Overhead => self.overhead_cost.decimal(),
            BudgetedLine::NetProfit => self.net_profit.decimal(),
            BudgetedLine::CrewDays => self.crew_days,
        }
    }
}

/// A month of the year and what is meant for it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BudgetMonth {
    /// The month.
    pub month: Month,
    /// Whether it is closed: its budget stays.
    pub closed: bool,
    /// Its budget, where it has one.
    pub budget: Option<Planned>,
    /// The fact that says so.
    pub source: Option<Source>,
    /// What became of it; absent after the month that is looked at.
    pub actual: Option<Planned>,
}

/// Actual and budget side by side.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BesideBudget {
    /// What became of it.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub actual: Decimal,
    /// What was meant.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub budget: Decimal,
    /// Actual less budget.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub difference: Decimal,
    /// Which share of the budget that is; absent where the budget is nothing.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub share: Option<Decimal>,
}

/// One line of the budget in every time that is looked at.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BudgetRow {
    /// Which.
    pub line: BudgetedLine,
    /// The month; absent where it has no budget.
    pub month: Option<BesideBudget>,
    /// The months so far that have a budget; absent where none has.
    pub so_far: Option<BesideBudget>,
    /// The budget of the year's months together; absent where none has one.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub year: Option<Decimal>,
}

/// What it takes to break even in the year, by its budget.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BreakEven {
    /// In sales; absent where the budgeted sales leave nothing towards overhead.
    pub sales: Option<Money>,
    /// In crew-days; absent where the budgeted sales leave nothing towards overhead.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub crew_days: Option<Decimal>,
    /// Earned in the year so far.
    pub earned: Money,
    /// Signed and still to be earned.
    pub backlog: Money,
    /// What is still to be sold to break even.
    pub still_to_break_even: Option<Money>,
    /// What is still to be sold to come to the year's budget.
    pub still_to_sell: Money,
}

/// The firm's budget of a year, looked at from the end of a month.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FirmBudget {
    /// The firm's name.
    pub name: String,
    /// The month.
    pub month: Month,
    /// The twelve months of its year.
    pub months: Vec<BudgetMonth>,
    /// Line by line.
    pub rows: Vec<BudgetRow>,
    /// What it takes to break even; absent where no month has a budget.
    pub break_even: Option<BreakEven>,
}

impl FirmBudget {
    /// What is meant for the month that is looked at.
    #[must_use]
    pub fn of_month(&self) -> Option<&BudgetMonth> {
        self.months.iter().find(|each| each.month == self.month && each.budget.is_some())
    }

    /// The months so far that have a budget.
    pub fn so_far(&self) -> impl Iterator<Item = &BudgetMonth> {
        self.months.iter().filter(|each| each.month <= self.month && each.budget.is_some())
    }

    /// Every month of the year that has one.
    pub fn budgeted(&self) -> impl Iterator<Item = &BudgetMonth> {
        self.months.iter().filter(|each| each.budget.is_some())
    }
}

/// The firm's budget of a year, looked at from the end of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn firm_budget(desk: &Desk, month: Month) -> Result<FirmBudget, OfficeError> {
    desk.books().in_one_read(|books| firm_budget_of(books, month))
}

fn firm_budget_of(books: Books<'_>, month: Month) -> Result<FirmBudget, OfficeError> {
    let names = Names::read(books)?;
    let closed_through = books.calendar()?.closed_through();
    let year = firm_year_of(books, month)?;
    let budgets = budgets_of(books, month.year(), |_| true)?;
    let actual: BTreeMap<Month, Planned> =
        year.months.iter().map(|MonthMade { month, made }| (*month, Planned::became(made))).collect();
    let months = std::iter::successors(Some(january(month)), |month| Some(month.next())).take(12);
    let months: Vec<BudgetMonth> = months
        .map(|of| BudgetMonth {
            month: of,
            closed: closed_through.is_some_and(|closed| of <= closed),
            budget: budgets.get(&of).map(|held| Planned::of(&held.fact)),
            source: budgets.get(&of).map(|held| Source::of(&held.entry, &names)),
            actual: actual.get(&of).cloned(),
        })
        .collect();
    let mut budget = FirmBudget { name: year.name, month, months, rows: Vec::new(), break_even: None };
    budget.rows = rows(&budget);
    if let Some(planned) = sum(budget.budgeted().filter_map(|each| each.budget.as_ref())) {
        let backlog = month_end_of(books, month)?.firm.backlog;
        budget.break_even = Some(break_even(&planned, year.so_far.earned, backlog));
    }
    Ok(budget)
}

/// The budget that counts of each month of a year, going by what was in: of several the newest. One that came in after
/// the month was closed does not count, and one that was taken back after that still does.
pub(crate) fn budgets_of(
    books: Books<'_>,
    year: i16,
    was_in: impl Fn(&Entry) -> bool,
) -> Result<BTreeMap<Month, Entered<Budget>>, OfficeError> {
    let calendar = books.calendar()?;
    let mut held = books.all_with_reversed::<Budget>()?;
    held.retain(|held| held.fact.month.year() == year && was_in(&held.entry));
    held.sort_by_cached_key(|held| (held.fact.date, held.entry.recorded_at.clone(), held.entry.id));
    let mut budgets = BTreeMap::new();
    for held in held {
        let month = held.fact.month;
        let span = books.span(&calendar, &held, month.first_day())?;
        let reversal = held.reversed_by.map(|by| books.fact(by)).transpose()?.flatten();
        let reversed = reversal.is_some_and(|reversal| was_in(&reversal.entry));
        if span.from <= month && (!reversed || span.until.is_none_or(|until| month < until)) {
            budgets.insert(month, held);
        }
    }
    Ok(budgets)
}

fn sum<'a>(planned: impl Iterator<Item = &'a Planned>) -> Option<Planned> {
    planned.fold(None, |sum, planned| Some(sum.unwrap_or_default().and(planned)))
}

fn rows(budget: &FirmBudget) -> Vec<BudgetRow> {
    let beside = |budget: &Planned, actual: &Planned, line: BudgetedLine| {
        let (actual, budget) = (actual.line(line), budget.line(line));
        let (difference, share) = trade::beside_budget(actual, budget);
        BesideBudget { actual, budget, difference, share }
    };
    let month = budget.of_month().and_then(|each| each.budget.clone().zip(each.actual.clone()));
    let so_far = sum(budget.so_far().filter_map(|each| each.budget.as_ref()))
        .zip(sum(budget.so_far().filter_map(|each| each.actual.as_ref())));
    let year = sum(budget.budgeted().filter_map(|each| each.budget.as_ref()));
    let row = |line: &BudgetedLine| BudgetRow {
        line: *line,
        month: month.as_ref().map(|(budget, actual)| beside(budget, actual, *line)),
        so_far: so_far.as_ref().map(|(budget, actual)| beside(budget, actual, *line)),
        year: year.as_ref().map(|year| year.line(*line)),
    };
    BudgetedLine::ALL.iter().map(row).collect()
}

fn break_even(planned: &Planned, earned: Money, backlog: Money) -> BreakEven {
    let (sales, cost, overhead) = (planned.earned, planned.cost, planned.overhead_cost);
    let point = trade::sales_for_profit(sales, cost, overhead, Money::ZERO);
    BreakEven {
        sales: point,
        crew_days: trade::units_for_profit(planned.crew_days, sales, cost, overhead, Money::ZERO),
        earned,
        backlog,
        still_to_break_even: point.map(|point| trade::still_to_sell(point, earned, backlog)),
        still_to_sell: trade::still_to_sell(sales, earned, backlog),
    }
}

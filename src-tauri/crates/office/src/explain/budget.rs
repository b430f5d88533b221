//! Opening a figure of the firm's budget.

use super::budget_figure::{BudgetFigure, Of};
use super::figure::{Figure, MeasuredIn};
use super::working::{Explanation, FactLine, Opens, Term, Working};
use crate::month::budget::{BudgetMonth, BudgetedLine, FirmBudget, firm_budget};
use desk::{Desk, OfficeError};
use rust_decimal::Decimal;
use trade::{Money, Month, Rounding};

/// The firm's budget of a year, ready to be opened.
pub struct BudgetOpenings {
    /// The budget.
    pub budget: FirmBudget,
}

impl BudgetOpenings {
    /// Gathers it.
    ///
    /// # Errors
    /// When the facts cannot be read.
    pub fn of(desk: &Desk, month: Month) -> Result<BudgetOpenings, OfficeError> {
        Ok(BudgetOpenings { budget: firm_budget(desk, month)? })
    }

    /// Opens a figure.
    ///
    /// # Errors
    /// When there is no budget that it comes of.
    pub fn open(&self, figure: BudgetFigure) -> Result<Explanation, OfficeError> {
        let budget = &self.budget;
        let Some(value) = figure.value(budget) else {
            let month = trade::shown::month(budget.month);
            return Err(OfficeError::not_found(
                format!("There is no “{}” in {month}: what it comes of has no budget.", figure.label()),
                "Record a budget for the month; budgeted sales must be above their cost.",
            ));
        };
        let working = working(budget, figure);
        Ok(Explanation::of(
            (Figure::Budget(figure), None),
            (&budget.name, budget.month),
            Some(value),
            working,
        ))
    }
}

fn term(label: &str, month: Month, figure: Figure, value: Option<Decimal>) -> Term {
    let opens = Opens { of: "firm".to_owned(), month, figure, code: None };
    Term::figure(label, value.unwrap_or_default(), opens)
}

/// The figure of what became of a line in a month.
const fn became(line: BudgetedLine) -> Figure {
    match line {
        BudgetedLine::Earned => Figure::MonthEarned,
        BudgetedLine::Cost => Figure::MonthCost,
        BudgetedLine::Profit => Figure::MonthProfit,
        BudgetedLine::Overhead => Figure::MonthOverheadCost,
        BudgetedLine::NetProfit => Figure::MonthNetProfit,
        BudgetedLine::CrewDays => Figure::MonthCrewDays,
    }
}

fn working(budget: &FirmBudget, figure: BudgetFigure) -> Working {
    let (of, line) = figure.parts();
    let own = |figure: BudgetFigure| {
        term(figure.label(), budget.month, Figure::Budget(figure), figure.value(budget))
    };
    let less = |from: BudgetFigure, less: BudgetFigure| Working::sum(vec![own(from), own(less).less()]);
    let still = |wanted: BudgetFigure| still_to_sell(budget, own(wanted));
    match of {
        Of::Month => match line {
            BudgetedLine::Profit => less(BudgetFigure::BudgetEarned, BudgetFigure::BudgetCost),
            BudgetedLine::NetProfit => less(BudgetFigure::BudgetProfit, BudgetFigure::BudgetOverhead),
            _ => set(budget, figure),
        },
        Of::LessMonth => {
            let actual = budget.of_month().and_then(|each| each.actual.as_ref());
            let figure = became(line);
            let actual = term(figure.label(), budget.month, figure, actual.map(|made| made.line(line)));
            let meant = BudgetFigure::at(Of::Month, line).map(own);
            Working::sum(std::iter::once(actual).chain(meant.map(Term::less)).collect())
        }
        Of::SoFar => {
            by_month(budget.so_far(), became(line), |each| each.actual.as_ref().map(|made| made.line(line)))
        }
        Of::SoFarBudget => meant(budget.so_far(), line),
        Of::Year => meant(budget.budgeted(), line),
        Of::SoFarLess => {
            let terms = [Of::SoFar, Of::SoFarBudget].map(|of| BudgetFigure::at(of, line).map(own));
            let [actual, meant] = terms;
            Working::sum(actual.into_iter().chain(meant.map(Term::less)).collect())
        }
        Of::BreakEven => {
            let rounding = if line == BudgetedLine::CrewDays { Rounding::None } else { Rounding::Cent };
            let amount = BudgetFigure::at(Of::Year, line).unwrap_or(BudgetFigure::YearBudgetEarned);
            let (overhead, profit) = (BudgetFigure::YearBudgetOverhead, BudgetFigure::YearBudgetProfit);
            Working::proportion(own(amount), own(overhead), own(profit), rounding)
        }
        Of::StillToBreakEven => still(BudgetFigure::BreakEvenSales),
        Of::StillToSell => still(BudgetFigure::YearBudgetEarned),
    }
}

/// What the owner set.
fn set(budget: &FirmBudget, figure: BudgetFigure) -> Working {
    let facts = budget.of_month().map(|each| FactLine {
        source: each.source.clone(),
        date: None,
        text: format!("budget of {}", trade::shown::month(each.month)),
        amount: figure.value(budget).unwrap_or_default(),
    });
    Working::sum(vec![Term::facts(figure.label(), figure.measure(), facts.into_iter().collect())])
}

fn by_month<'a>(
    months: impl Iterator<Item = &'a BudgetMonth>,
    figure: Figure,
    of: impl Fn(&BudgetMonth) -> Option<Decimal>,
) -> Working {
    let one = |each: &BudgetMonth| term(&trade::shown::month(each.month), each.month, figure, of(each));
    Working::sum(months.map(one).collect())
}

fn meant<'a>(months: impl Iterator<Item = &'a BudgetMonth>, line: BudgetedLine) -> Working {
    let figure = BudgetFigure::at(Of::Month, line).unwrap_or(BudgetFigure::BudgetEarned);
    by_month(months, Figure::Budget(figure), |each| each.budget.as_ref().map(|budget| budget.line(line)))
}

fn still_to_sell(budget: &FirmBudget, wanted: Term) -> Working {
    let point = budget.break_even.as_ref();
    let figure = |figure: Figure, value: Option<Money>| {
        term(figure.label(), budget.month, figure, value.map(Money::decimal)).less()
    };
    let terms = vec![
        wanted,
        figure(Figure::YearEarned, point.map(|point| point.earned)),
        figure(Figure::Backlog, point.map(|point| point.backlog)),
    ];
    Working::above_zero("what is wanted less what is earned and signed", MeasuredIn::Money, terms)
}

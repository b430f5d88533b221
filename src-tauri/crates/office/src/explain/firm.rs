//! Opening a figure by its word, of a job or of the firm: the firm's is that of each of its jobs.

use super::budget::BudgetOpenings;
use super::figure::{Figure, MeasuredIn};
use super::opened::Openings;
use super::working::{Explanation, FactLine, Opens, Term, Working};
use crate::job::result::JobResult;
use crate::month::end::{MonthEnd, month_end};
use crate::month::overhead::facts_of;
use crate::month::result::{Made, firm_year, january, jobs_of_year};
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use ledger::closed_lists::OverheadBy;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use trade::{Money, Month, Rounding};

/// Opens a figure of a job: its word, or where it is worked out by code, word and code as in `cost/deck`.
///
/// # Errors
/// When there is no such job, figure or code.
pub fn explain_job(
    desk: &Desk,
    number: &str,
    month: Month,
    figure: &str,
) -> Result<Explanation, OfficeError> {
    let (figure, code) = Figure::parse(figure)?;
    if !Figure::all_of_jobs().any(|of_jobs| of_jobs == figure) {
        return Err(OfficeError::not_found(
            format!("“{figure}” is a figure of the firm, and no job has it."),
            "Open it for the firm's month.",
        ));
    }
    let openings = Openings::of_job(desk, number, month)?;
    match code {
        Some(code) => openings.open_code(figure, &code),
        None => Ok(openings.open(figure)),
    }
}

/// Opens a figure of the firm: the same figure of each of its jobs.
///
/// # Errors
/// When there is no such figure, or the firm's month does not have it.
pub fn explain_firm(desk: &Desk, month: Month, figure: &str) -> Result<Explanation, OfficeError> {
    let (figure, code) = Figure::parse(figure)?;
    if let (Figure::Budget(figure), None) = (figure, &code) {
        return BudgetOpenings::of(desk, month)?.open(figure);
    }
    if Figure::all_of_year().any(|of_year| of_year == figure) && code.is_none() {
        return explain_year(desk, month, figure);
    }
    let report = month_end(desk, month)?;
    let value = figure.of_firm(&report.firm).filter(|_| code.is_none());
    let Some(value) = value else {
        let known = Figure::all_of_firm().chain(Figure::all_of_year()).chain(Figure::all_of_budget());
        let known = known.map(Figure::as_str);
        let known: Vec<&str> = known.collect();
        return Err(OfficeError::not_found(
            format!("The firm's month has no figure “{figure}” of its own."),
            format!("Open it for a job, or use one of {}.", known.join(", ")),
        ));
    };
    let working = match figure {
        Figure::MonthOverheadCost => overhead_cost(desk, month)?,
        Figure::MonthUnderAbsorbed | Figure::MonthNetProfit => {
            let (from, less) = if figure == Figure::MonthNetProfit {
                (Figure::MonthProfit, Figure::MonthOverheadCost)
            } else {
                (Figure::MonthOverheadCost, Figure::MonthOverhead)
            };
            let term = |figure: Figure| {
                let value = figure.of_firm(&report.firm).flatten();
                firm_term(figure.label(), month, figure, value)
            };
            Working::sum(vec![term(from), term(less).less()])
        }
        _ => firm_working(&report, figure),
    };
    Ok(Explanation::of((figure, None), (&report.firm.name, month), value, working))
}

/// A figure of the firm as a term.
fn firm_term(label: &str, month: Month, figure: Figure, value: Option<Decimal>) -> Term {
    let opens = Opens { of: "firm".to_owned(), month, figure, code: None };
    Term::figure(label, value.unwrap_or_default(), opens)
}

/// What the firm cost beside its jobs in a month, account by account, fact by fact.
fn overhead_cost(desk: &Desk, month: Month) -> Result<Working, OfficeError> {
    let facts = desk.books().in_one_read(|books| facts_of(books, &Names::read(books)?, month))?;
    let mut by_account: BTreeMap<(Option<String>, String), Vec<FactLine>> = BTreeMap::new();
    for fact in facts {
        let who = if fact.who.is_empty() { String::new() } else { format!("{}: ", fact.who) };
        by_account.entry((fact.account, fact.name)).or_default().push(FactLine {
            source: Some(fact.source),
            date: Some(fact.date),
            text: format!("{who}{}", fact.text),
            amount: fact.amount.decimal(),
        });
    }
    let terms = by_account.into_iter().map(|((_, name), facts)| Term::facts(&name, MeasuredIn::Money, facts));
    Ok(Working::sum(terms.collect()))
}

/// Opens a figure of the firm's year so far.
fn explain_year(desk: &Desk, month: Month, figure: Figure) -> Result<Explanation, OfficeError> {
    let year = firm_year(desk, month)?;
    let value = figure.of_year(&year).flatten();
    let term = |figure: Figure| firm_term(figure.label(), month, figure, figure.of_year(&year).flatten());
    let by_month = |figure: Figure, of: fn(&Made) -> Money| {
        let months = year.months.iter();
        let terms = months.map(|month| {
            let label = trade::shown::month(month.month);
            firm_term(&label, month.month, figure, Some(of(&month.made).decimal()))
        });
        Working::sum(terms.collect())
    };
    let working = match figure {
        Figure::YearEarned => by_month(Figure::MonthEarned, |made| made.earned),
        Figure::YearProfit => by_month(Figure::MonthProfit, |made| made.gross_profit),
        Figure::YearOverheadCost => by_month(Figure::MonthOverheadCost, |made| made.overhead_cost),
        Figure::YearOverhead => by_month(Figure::MonthOverhead, |made| made.absorbed),
        Figure::YearUnderAbsorbed => {
            Working::sum(vec![term(Figure::YearOverheadCost), term(Figure::YearOverhead).less()])
        }
        Figure::YearOverheadRate => {
            let base = base_of_year(desk, month, year.overhead_by)?;
            Working::quotient(vec![term(Figure::YearOverheadCost), base]).nearest(Rounding::Millionth)
        }
        _ => Working::sum(vec![term(Figure::YearProfit), term(Figure::YearOverheadCost).less()]),
    };
    Ok(Explanation::of((figure, None), (&year.name, month), value, working))
}

/// How much of what overhead is spread by the year's jobs took, job by job.
fn base_of_year(desk: &Desk, month: Month, by: OverheadBy) -> Result<Term, OfficeError> {
    let jobs = desk.books().in_one_read(|books| jobs_of_year(books, month))?;
    let (figure, label) = match by {
        OverheadBy::LaborHours => (Figure::Hours, "hours of the year so far"),
        OverheadBy::LaborCost => (Figure::LaborCost, "labor cost of the year so far"),
        OverheadBy::CrewDays => (Figure::CrewDays, "crew-days of the year so far"),
    };
    let value = |result: &JobResult| match by {
        OverheadBy::LaborHours => result.hours.decimal(),
        OverheadBy::LaborCost => result.labor.decimal(),
        OverheadBy::CrewDays => result.crew_days,
    };
    let mut terms = Vec::new();
    for job in jobs {
        let term = |result: &JobResult, month: Month| {
            let opens = Opens { of: result.number.clone(), month, figure, code: None };
            Term::figure(
                &format!("job {} through {}", result.number, trade::shown::month(month)),
                value(result),
                opens,
            )
        };
        terms.push(term(&job.now, month));
        if !value(&job.before).is_zero() {
            terms.push(term(&job.before, january(month).prev()).less());
        }
    }
    Ok(Term::working(label, figure.measure(), Working::sum(terms)))
}

fn firm_working(report: &MonthEnd, figure: Figure) -> Working {
    if figure == Figure::Recovery {
        return recovery(report);
    }
    let of_job = |job: &crate::month::end::JobMonth| {
        let opens = Opens { of: job.result.number.clone(), month: report.month, figure, code: None };
        let label = format!("{} {}", job.result.number, job.result.title);
        Term::figure(&label, figure.of_job(job).unwrap_or_default(), opens)
    };
    Working::sum(report.jobs.iter().map(of_job).collect())
}

/// The one figure of the firm that is no sum: all its jobs' billed ÷ all their spent.
fn recovery(report: &MonthEnd) -> Working {
    let of_firm = |figure: Figure| {
        let opens = Opens { of: "firm".to_owned(), month: report.month, figure, code: None };
        Term::figure(figure.label(), figure.of_firm(&report.firm).flatten().unwrap_or_default(), opens)
    };
    let spent = of_firm(Figure::HiddenSpent);
    let spent = if spent.value < Decimal::ZERO {
        let zero = Term::rule("nothing", Figure::HiddenSpent.measure(), Decimal::ZERO);
        Term::working(
            Figure::HiddenSpent.label(),
            Figure::HiddenSpent.measure(),
            Working::larger(vec![spent, zero]),
        )
    } else {
        spent
    };
    Working::quotient(vec![of_firm(Figure::HiddenBilled), spent])
}

//! Opening a figure of cash ahead: what it begins with, and each week's facts.

use super::cash_figure::CashFigure;
use super::figure::{Figure, MeasuredIn};
use super::working::{Explanation, FactLine, Term, Working};
use crate::cash::view::{CashAhead, CashFor, ExpectedCash};
use desk::OfficeError;
use trade::Month;

/// Opens a figure of cash ahead by its word, with the week behind it, as in `cash-out/3`; the lowest needs none.
///
/// # Errors
/// When there is no such figure or week.
pub fn explain_cash(ahead: &CashAhead, figure: &str) -> Result<Explanation, OfficeError> {
    let (word, week) = figure.split_once('/').map_or((figure, None), |(word, week)| (word, Some(week)));
    let known = || CashFigure::ALL.iter().map(|figure| figure.as_str()).collect::<Vec<_>>().join(", ");
    let found = CashFigure::ALL.iter().copied().find(|figure| figure.as_str() == word).ok_or_else(|| {
        OfficeError::not_found(
            format!("Cash ahead has no figure “{word}”."),
            format!("Use one of {}.", known()),
        )
    })?;
    open(ahead, found, week.and_then(|week| week.parse().ok()))
}

/// Opens a figure of a week.
///
/// # Errors
/// When there is no such week.
fn open(ahead: &CashAhead, figure: CashFigure, week: Option<usize>) -> Result<Explanation, OfficeError> {
    let Some(of) = figure.week(ahead, week) else {
        let weeks = ahead.weeks.len();
        return Err(OfficeError::not_found(
            format!("“{}” is of one week of {weeks}.", figure.label()),
            format!("Put its number behind it, as in {}/1.", figure.as_str()),
        ));
    };
    let before = |one: &ExpectedCash| one.week.is_some_and(|week| week < of.week);
    let working = match figure {
        CashFigure::CashIn => sides(ahead, |one| one.week == Some(of.week) && !one.cause.goes_out()),
        CashFigure::CashOut => sides(ahead, |one| one.week == Some(of.week) && one.cause.goes_out()),
        CashFigure::CashOpening => Working::sum(vec![
            began(ahead),
            part(ahead, "came in before the week", |one| before(one) && !one.cause.goes_out()),
            part(ahead, "went out before the week", |one| before(one) && one.cause.goes_out()).less(),
        ]),
        CashFigure::CashClosing | CashFigure::CashLowest => Working::sum(vec![
            Term::working(
                CashFigure::CashOpening.label(),
                MeasuredIn::Money,
                open(ahead, CashFigure::CashOpening, Some(of.week))?.working,
            ),
            part(ahead, CashFigure::CashIn.label(), |one| one.week == Some(of.week) && !one.cause.goes_out()),
            part(ahead, CashFigure::CashOut.label(), |one| one.week == Some(of.week) && one.cause.goes_out())
                .less(),
        ]),
    };
    let code = (figure != CashFigure::CashLowest).then(|| format!("week {}", of.week));
    Ok(Explanation::of(
        (Figure::Cash(figure), code.as_deref()),
        (&ahead.name, Month::of(of.begins)),
        figure.value(ahead, week),
        working,
    ))
}

/// What it begins with.
fn began(ahead: &CashAhead) -> Term {
    let facts = ahead.start.iter().map(|part| FactLine {
        source: part.source.clone(),
        date: Some(part.date),
        text: part.text.clone(),
        amount: part.amount.decimal(),
    });
    Term::facts(ahead.from.label(), MeasuredIn::Money, facts.collect())
}

/// What moves in some weeks on one side.
fn part(ahead: &CashAhead, label: &str, wanted: impl Fn(&ExpectedCash) -> bool) -> Term {
    let facts = ahead.expected.iter().filter(|one| wanted(one)).map(fact);
    Term::facts(label, MeasuredIn::Money, facts.collect())
}

fn fact(one: &ExpectedCash) -> FactLine {
    let job = one.job.as_deref().map(|job| format!("job {job}"));
    let who = Some(one.who.clone()).filter(|who| !who.is_empty());
    let named: Vec<String> = [job, who].into_iter().flatten().collect();
    let named = if named.is_empty() { String::new() } else { format!("{}: ", named.join(", ")) };
    FactLine {
        source: one.source.clone(),
        date: Some(one.date),
        text: format!("{named}{}", one.text),
        amount: one.of_its_side().decimal(),
    }
}

/// What moves in a week, by what it is for.
fn sides(ahead: &CashAhead, wanted: impl Fn(&ExpectedCash) -> bool) -> Working {
    let causes = CashFor::ALL
        .iter()
        .filter(|cause| ahead.expected.iter().any(|one| one.cause == **cause && wanted(one)));
    Working::sum(
        causes.map(|cause| part(ahead, cause.label(), |one| one.cause == *cause && wanted(one))).collect(),
    )
}

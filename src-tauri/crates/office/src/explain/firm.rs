//! Opening a figure by its word, of a job or of the firm: the firm's is that of each of its jobs.

use super::figure::Figure;
use super::opened::Openings;
use super::working::{Explanation, Opens, Term, Working};
use crate::month::end::{MonthEnd, month_end};
use desk::Desk;
use desk::OfficeError;
use rust_decimal::Decimal;
use trade::Month;

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
    let report = month_end(desk, month)?;
    let value = figure.of_firm(&report.firm).filter(|_| code.is_none());
    let Some(value) = value else {
        let known: Vec<&str> = Figure::all_of_firm().map(Figure::as_str).collect();
        return Err(OfficeError::not_found(
            format!("The firm's month has no figure “{figure}” of its own."),
            format!("Open it for a job, or use one of {}.", known.join(", ")),
        ));
    };
    let working = firm_working(&report, figure);
    Ok(Explanation::of((figure, None), (&report.firm.name, month), value, working))
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

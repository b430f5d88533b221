//! Closing a month: its figures are frozen and never change; what comes late is booked in the open month.

use crate::month::end::{MonthEnd, is_over, month_end_of};
use crate::month::loose_ends::{LooseEnd, loose_ends_of};
use desk::Code;
use desk::Desk;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{ClosedJob, ClosedLabor, ClosedThrough, MonthClosed};
use ledger::{Books, Id};
use serde::Serialize;
use trade::{Money, Month, shown};

/// What closing did.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Closed {
    /// The month.
    pub month: Month,
    /// The fact that closed it.
    pub id: String,
    /// Loose ends that were accepted as they are.
    pub accepted: Vec<LooseEnd>,
    /// The month as it was closed.
    pub report: MonthEnd,
}

/// Closes a month. Where loose ends are left, it does so only when the person accepts them.
///
/// # Errors
/// `loose-ends` when there are any and they were not accepted; `refused` when the month cannot be closed now.
pub fn close(
    desk: &mut Desk,
    month: Month,
    date: Date,
    accept_loose_ends: bool,
) -> Result<Closed, OfficeError> {
    let books = desk.books();
    if books.calendar()?.closed_through().is_some_and(|closed| month <= closed) {
        return Err(OfficeError::refused(
            "month",
            &format!("{} is already closed", shown::month(month)),
            "Nothing needs doing",
        ));
    }
    let accepted = loose_ends_of(books, month)?;
    if !accepted.is_empty() && !accept_loose_ends {
        let count = accepted.len();
        return Err(OfficeError {
            code: Code::LooseEnds,
            field: None,
            message: format!(
                "{} has {count} loose end{}; nothing was closed.",
                shown::month(month),
                if count == 1 { "" } else { "s" }
            ),
            remedy: "Settle them, or close again and accept them as they are.".to_owned(),
        });
    }
    if !is_over(month, date) {
        return Err(OfficeError::refused(
            "date",
            &format!("{} is not over on {}", shown::month(month), shown::day(date)),
            "Close it on a later day",
        ));
    }
    let report = month_end_of(books, month)?;
    let fact = MonthClosed {
        date,
        month,
        devices: books
            .device_ends()?
            .into_iter()
            .map(|(device, through_seq)| ClosedThrough { device, through_seq })
            .collect(),
        labor: frozen_labor(books, month)?,
        jobs: report.jobs.iter().map(frozen_job).collect::<Result<_, _>>()?,
    };
    let ids = desk.record(vec![fact.into()])?;
    let id = ids.first().map(ToString::to_string).unwrap_or_default();
    Ok(Closed { month, id, accepted, report: MonthEnd { closed: true, ..report } })
}

fn frozen_labor(books: Books<'_>, month: Month) -> Result<Vec<ClosedLabor>, OfficeError> {
    let booked = books.booked_labor(month)?;
    Ok(booked
        .into_iter()
        .map(|((job, code, condition), pay)| ClosedLabor {
            job,
            code,
            condition,
            straight: pay.straight,
            premium: pay.premium,
            burden: pay.burden,
        })
        .collect())
}

fn frozen_job(job: &crate::month::end::JobMonth) -> Result<ClosedJob, OfficeError> {
    let result = &job.result;
    let id = Id::parse(&result.id).map_err(|problem| OfficeError::refused("job", &problem, ""))?;
    Ok(ClosedJob {
        job: id,
        contract: result.contract,
        cost: result.cost,
        forecast: result.forecast,
        earned: result.earned,
        billed: result.billed,
        loss_provision: result.loss_provision,
    })
}

/// A figure of a closed month that no longer comes out as it was frozen.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Drift {
    /// The month.
    pub month: Month,
    /// The job's number.
    pub job: String,
    /// Which figure.
    pub figure: &'static str,
    /// As frozen.
    pub frozen: Money,
    /// As it comes out now.
    pub now: Money,
}

/// Works every closed month out again and compares it with what was frozen: the second of a pair of checks.
///
/// # Errors
/// When the facts cannot be read.
pub fn drifts(books: Books<'_>) -> Result<Vec<Drift>, OfficeError> {
    let mut drifts = Vec::new();
    for close in books.closes()? {
        let month = close.fact.month;
        let report = month_end_of(books, month)?;
        for job in &report.jobs {
            let frozen = close.fact.jobs.iter().find(|frozen| frozen.job.to_string() == job.result.id);
            let Some(frozen) = frozen else {
                drifts.push(drift(month, &job.result.number, "cost", Money::ZERO, job.result.cost));
                continue;
            };
            let figures = [
                ("contract", frozen.contract, job.result.contract),
                ("cost", frozen.cost, job.result.cost),
                ("forecast", frozen.forecast, job.result.forecast),
                ("earned", frozen.earned, job.result.earned),
                ("billed", frozen.billed, job.result.billed),
                ("loss_provision", frozen.loss_provision, job.result.loss_provision),
            ];
            for (figure, frozen, now) in figures.into_iter().filter(|(_, frozen, now)| frozen != now) {
                drifts.push(drift(month, &job.result.number, figure, frozen, now));
            }
        }
    }
    Ok(drifts)
}

fn drift(month: Month, job: &str, figure: &'static str, frozen: Money, now: Money) -> Drift {
    Drift { month, job: job.to_owned(), figure, frozen, now }
}

//! The year: every job as a bar.

use crate::job::result::{JobResult, Stage, job_result};
use crate::job::snapshot::JobSnapshot;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use jiff::civil::Date;
use ledger::facts::Job;
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::BTreeSet;
use trade::{Money, Month};

/// A job as a bar of the year.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobBar {
    /// Number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// For whom.
    pub customer: String,
    /// Where.
    pub site: String,
    /// Where it is in its life.
    pub stage: Stage,
    /// The day it was taken on.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Price in the contract.
    pub price: Money,
    /// Price and approved changes.
    pub contract: Money,
    /// Cost to date.
    pub cost: Money,
    /// Forecast cost at completion.
    pub forecast: Money,
    /// Margin made or forecast.
    pub margin: Money,
    /// That ÷ contract.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub margin_ratio: Option<Decimal>,
    /// Margin sold ÷ price.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub margin_sold_ratio: Option<Decimal>,
    /// Margin per crew-day.
    pub margin_per_crew_day: Option<Money>,
    /// Unrecovered cost of hidden conditions.
    pub unrecovered: Money,
    /// Billed beyond what is earned.
    pub over_billed: Money,
    /// Earned beyond what is billed.
    pub under_billed: Money,
    /// Percent complete as a share.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub complete: Decimal,
}

/// The year.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Year {
    /// The firm's name.
    pub firm: String,
    /// The year shown; absent when all are.
    pub year: Option<i16>,
    /// The years there are.
    pub years: Vec<i16>,
    /// As it stands at the end of this month.
    pub month: Month,
    /// Its jobs, by number.
    pub jobs: Vec<JobBar>,
}

/// The jobs taken on in a year (or all of them), as they stand at the end of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn year(desk: &Desk, year: Option<i16>, month: Month) -> Result<Year, OfficeError> {
    desk.books().in_one_read(|books| {
        let calendar = books.calendar()?;
        let names = Names::read(books)?;
        let settings = Settings::read(books, &calendar)?;
        let firm = settings.firm(month.last_day()).fact.name.clone();
        let years: BTreeSet<i16> = names.jobs.values().map(|job| job.date.year()).collect();
        let mut jobs = Vec::new();
        let of_year = names.jobs.iter().filter(|(_, job)| year.is_none_or(|year| job.date.year() == year));
        JobSnapshot::gather_each(books, &calendar, of_year.map(|(id, _)| *id), month, |standing| {
            let result = job_result(&standing, &names, &settings)?;
            jobs.extend(names.jobs.get(&standing.job).map(|job| bar(result, job)));
            Ok(())
        })?;
        jobs.sort_by(|left: &JobBar, right| left.number.cmp(&right.number));
        Ok(Year { firm, year, years: years.into_iter().collect(), month, jobs })
    })
}

fn bar(result: JobResult, job: &Job) -> JobBar {
    JobBar {
        number: result.number,
        title: result.title,
        customer: result.customer,
        site: job.site.clone(),
        stage: result.stage,
        date: job.date,
        price: result.price,
        contract: result.contract,
        cost: result.cost,
        forecast: result.forecast,
        margin: result.margin,
        margin_ratio: result.margin_ratio,
        margin_sold_ratio: result.margin_sold_ratio,
        margin_per_crew_day: result.margin_per_crew_day,
        unrecovered: result.hidden.unrecovered,
        over_billed: result.over_billed,
        under_billed: result.under_billed,
        complete: result.complete,
    }
}

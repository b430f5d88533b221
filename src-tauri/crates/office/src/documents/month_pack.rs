//! The owner's month-end pack: the month on paper, with the same pictures as the window.

use super::change_order::rate;
use super::document::Document;
use super::shared::{age_buckets, document, firm};
use crate::explain::Figure;
use crate::file::mark::closed_by;
use crate::month::budget::{BesideBudget, BudgetedLine, FirmBudget, firm_budget};
use crate::month::end::{FirmMonth, JobMonth, MonthEnd, month_end};
use crate::month::loose_ends::loose_ends;
use crate::month::owed::Owed;
use crate::month::result::{FirmYear, Made, firm_year};
use desk::Desk;
use desk::OfficeError;
use desk::settings::firm_on;
use paperwork::papers::{
    AgeBucket, BillingLine, ForecastChange, JobRank, JobRow, JobWalk, LooseEnd, MonthEndPack, MonthFigure,
    RecoveryLine, Walk,
};
use std::collections::BTreeMap;
use trade::{Money, Month};

/// The pack of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn month_pack(desk: &Desk, month: Month) -> Result<Document, OfficeError> {
    let report = month_end(desk, month)?;
    let before = month_end(desk, month.prev())?;
    let firm_fact = firm_on(desk.books(), month.last_day())?;
    let mut ranking: Vec<JobRank> = report.jobs.iter().map(rank).collect();
    ranking.sort_by(|left, right| left.margin.cmp(&right.margin).then_with(|| left.job.cmp(&right.job)));
    let paper = MonthEndPack {
        firm: firm(desk, &firm_fact),
        date: month.last_day(),
        closed_by: closed_by(desk.books(), month)?.map(|mark| mark.to_string()),
        figures: figures(&firm_year(desk, month)?, &firm_budget(desk, month)?),
        ranking,
        walk: firm_walk(&report.firm),
        job_walks: report.jobs.iter().filter_map(job_walk).collect(),
        recovery: recovery(&report),
        billing: report.jobs.iter().filter_map(billing).collect(),
        aging: aging(&report.owed),
        bars: Vec::new(),
        loose_ends: loose_ends(desk, month)?
            .into_iter()
            .map(|end| LooseEnd { what: end.text, job: end.job.unwrap_or_default(), to_do: end.remedy })
            .collect(),
        changes: changes(&before, &report),
        jobs: report.jobs.iter().map(row).collect(),
    };
    document(&format!("Month end {month}.pdf"), paper.render())
}

fn named(job: &JobMonth) -> String {
    format!("{} {}", job.result.number, job.result.customer)
}

/// A line of what the firm made: its figure, how it is read, and its line in the budget.
type MadeLine = (Figure, fn(&Made) -> Money, Option<BudgetedLine>);

/// What the month brought, and the year until its end, each beside its budget: what was earned down to what the firm
/// made, then what was billed and what overhead the jobs bore.
fn figures(year: &FirmYear, budget: &FirmBudget) -> Vec<MonthFigure> {
    const LINES: [MadeLine; 9] = [
        (Figure::Earned, |made| made.earned, Some(BudgetedLine::Earned)),
        (Figure::Cost, |made| made.cost, Some(BudgetedLine::Cost)),
        (Figure::MonthLossProvision, |made| made.losses, None),
        (Figure::MonthProfit, |made| made.gross_profit, Some(BudgetedLine::Profit)),
        (Figure::MonthOverheadCost, |made| made.overhead_cost, Some(BudgetedLine::Overhead)),
        (Figure::MonthNetProfit, |made| made.net_profit, Some(BudgetedLine::NetProfit)),
        (Figure::Billed, |made| made.billed, None),
        (Figure::Overhead, |made| made.absorbed, None),
        (Figure::MonthUnderAbsorbed, |made| made.under_absorbed, None),
    ];
    let month = year.months.last().map(|month| month.made.clone()).unwrap_or_default();
    // A year of which some month has no budget is not held against those that have one.
    let all_meant = year
        .months
        .iter()
        .all(|each| each.made == Made::default() || budget.so_far().any(|meant| meant.month == each.month));
    let line = |(figure, of, line): MadeLine| {
        let row = budget.rows.iter().find(|row| Some(row.line) == line);
        let meant = |beside: Option<&BesideBudget>| beside.and_then(|of| Money::exact(of.budget).ok());
        MonthFigure {
            label: name_of(figure).to_owned(),
            month: of(&month),
            month_budget: meant(row.and_then(|row| row.month.as_ref())),
            year: of(&year.so_far),
            year_budget: meant(row.and_then(|row| row.so_far.as_ref()).filter(|_| all_meant)),
        }
    };
    LINES.into_iter().map(line).collect()
}

/// A name that is read beside a month and a year alike.
fn name_of(figure: Figure) -> &'static str {
    match figure {
        Figure::Cost => "Cost of jobs",
        Figure::MonthLossProvision => "More losses foreseen",
        Figure::MonthOverheadCost => "Overhead cost",
        Figure::Overhead => "Overhead that jobs bore",
        Figure::MonthUnderAbsorbed => "Overhead under-absorbed, or over (−)",
        figure => figure.label(),
    }
}

fn rank(job: &JobMonth) -> JobRank {
    JobRank {
        job: named(job),
        sold: job.result.contract,
        forecast: job.result.forecast,
        margin: job.result.margin,
        share: rate(job.result.margin_ratio),
    }
}

fn firm_walk(firm: &FirmMonth) -> Walk {
    Walk {
        from_label: Figure::MarginSold.label().to_owned(),
        from: firm.margin_sold,
        steps: firm.walk.iter().map(|step| (step.title.clone(), step.amount)).collect(),
        to_label: Figure::Margin.label().to_owned(),
        to: firm.margin,
    }
}

/// The walk of a job that loses, or that has slipped from what it was sold to make.
fn job_walk(job: &JobMonth) -> Option<JobWalk> {
    let result = &job.result;
    let why = if result.margin.is_negative() {
        "It loses.".to_owned()
    } else if result.margin < result.margin_sold {
        format!("It has slipped by ${}.", (result.margin_sold - result.margin).grouped())
    } else {
        return None;
    };
    let walk = Walk {
        from_label: Figure::MarginSold.label().to_owned(),
        from: result.margin_sold,
        steps: result
            .walk
            .steps
            .iter()
            .filter(|step| !step.amount.is_zero())
            .map(|step| (step.title.clone(), step.amount))
            .collect(),
        to_label: Figure::Margin.label().to_owned(),
        to: result.margin,
    };
    Some(JobWalk { job: named(job), why, walk })
}

fn recovery(report: &MonthEnd) -> Vec<RecoveryLine> {
    let jobs = report.jobs.iter().filter(|job| job.result.hidden.conditions > 0);
    let lines = jobs.map(|job| (named(job), &job.result.hidden));
    lines
        .chain(std::iter::once(("The firm".to_owned(), &report.firm.hidden)))
        .map(|(label, hidden)| RecoveryLine {
            label,
            spent: hidden.spent,
            billed: hidden.billed,
            unrecovered: hidden.unrecovered,
            recovery: rate(hidden.recovery),
        })
        .collect()
}

fn billing(job: &JobMonth) -> Option<BillingLine> {
    let result = &job.result;
    let difference = result.over_billed - result.under_billed;
    (!difference.is_zero()).then(|| BillingLine {
        job: named(job),
        earned: result.earned,
        billed: result.billed,
        difference,
    })
}

fn aging(owed: &Owed) -> Vec<AgeBucket> {
    let beside = [(Figure::RetainageHeld.label(), owed.retainage), ("To customers’ credit", -owed.credits)];
    let mut buckets = age_buckets(&owed.ages);
    buckets.extend(beside.map(|(label, amount)| AgeBucket { label: label.to_owned(), amount }));
    buckets
}

/// What is foreseen otherwise than a month ago.
fn changes(before: &MonthEnd, now: &MonthEnd) -> Vec<ForecastChange> {
    let earlier: BTreeMap<&str, &JobMonth> =
        before.jobs.iter().map(|job| (job.result.number.as_str(), job)).collect();
    let mut changes = Vec::new();
    for job in &now.jobs {
        let Some(earlier) = earlier.get(job.result.number.as_str()) else { continue };
        let pairs = [
            (Figure::Contract.label(), earlier.result.contract, job.result.contract),
            (Figure::Forecast.label(), earlier.result.forecast, job.result.forecast),
        ];
        for (what, before, after) in pairs.into_iter().filter(|(_, before, after)| before != after) {
            changes.push(ForecastChange { job: named(job), what: what.to_owned(), before, after });
        }
    }
    changes
}

fn row(job: &JobMonth) -> JobRow {
    let result = &job.result;
    JobRow {
        job: named(job),
        state: result.stage.label().to_owned(),
        contract: result.contract,
        cost: result.cost,
        forecast: result.forecast,
        margin: result.margin,
        earned: result.earned,
        billed: result.billed,
    }
}

//! What the books say: the year, the month end, a job, a figure opened, the firm's lists.

use office::{
    AsIf, CashAhead, Closed, ConditionHistory, Explanation, FirmBudget, FirmYear, JobName, JobPage, Lists,
    LooseEnd, MonthEnd, OpenedRecord, Overhead, Question, SiteDay, Which, Workmanship, Year,
};

use super::call::{InRoom, month_or_last};
use crate::refusal::Refusal;
use office::Act;

#[tauri::command]
pub(crate) async fn year(room: InRoom<'_>, year: Option<i16>) -> Result<Year, Refusal> {
    room.read(Act::SeeJobs, move |desk| Ok(office::year(desk, year, month_or_last(desk, None)?)?)).await
}

#[tauri::command]
pub(crate) async fn condition_history(
    room: InRoom<'_>,
    year: Option<i16>,
) -> Result<ConditionHistory, Refusal> {
    room.read(Act::SeeHistory, move |desk| {
        Ok(office::condition_history(desk, year, month_or_last(desk, None)?)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn open_history(
    room: InRoom<'_>,
    year: Option<i16>,
    which: Which,
) -> Result<OpenedRecord, Refusal> {
    room.read(Act::SeeHistory, move |desk| {
        Ok(office::opened(desk, year, month_or_last(desk, None)?, &which)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn month_end(room: InRoom<'_>, month: String) -> Result<MonthEnd, Refusal> {
    room.read(Act::SeeMonthEnd, move |desk| Ok(office::month_end(desk, crate::page_value::month(&month)?)?))
        .await
}

#[tauri::command]
pub(crate) async fn firm_year(room: InRoom<'_>, month: String) -> Result<FirmYear, Refusal> {
    room.read(Act::SeeMargin, move |desk| Ok(office::firm_year(desk, crate::page_value::month(&month)?)?))
        .await
}

#[tauri::command]
pub(crate) async fn firm_budget(room: InRoom<'_>, month: String) -> Result<FirmBudget, Refusal> {
    room.read(Act::SeeMargin, move |desk| Ok(office::firm_budget(desk, crate::page_value::month(&month)?)?))
        .await
}

#[tauri::command]
pub(crate) async fn cash_ahead(room: InRoom<'_>, asked: AsIf) -> Result<CashAhead, Refusal> {
    room.read(Act::SeeMargin, move |desk| Ok(office::cash(desk, desk.clock.today(), &asked)?)).await
}

#[tauri::command]
pub(crate) async fn explain_cash(
    room: InRoom<'_>,
    asked: AsIf,
    figure: String,
) -> Result<Explanation, Refusal> {
    room.read(Act::OpenFigure, move |desk| {
        let ahead = office::cash(desk, desk.clock.today(), &asked)?;
        Ok(office::explain_cash(&ahead, &figure)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn overhead(room: InRoom<'_>, month: String) -> Result<Overhead, Refusal> {
    room.read(Act::SeeOverhead, move |desk| Ok(office::overhead(desk, crate::page_value::month(&month)?)?))
        .await
}

#[tauri::command]
pub(crate) async fn loose_ends(room: InRoom<'_>, month: String) -> Result<Vec<LooseEnd>, Refusal> {
    room.read(Act::SeeLooseEnds, move |desk| Ok(office::loose_ends(desk, crate::page_value::month(&month)?)?))
        .await
}

/// Where devices contradict each other, with every side.
#[tauri::command]
pub(crate) async fn questions(room: InRoom<'_>, month: String) -> Result<Vec<Question>, Refusal> {
    room.read(Act::SeeQuestions, move |desk| Ok(office::questions(desk, crate::page_value::month(&month)?)?))
        .await
}

#[tauri::command]
pub(crate) async fn close_month(room: InRoom<'_>, month: String, accept: bool) -> Result<Closed, Refusal> {
    room.write(Act::CloseMonth, move |writing| {
        let today = writing.desk.clock.today();
        Ok(office::close(&mut writing.desk, crate::page_value::month(&month)?, today, accept)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn job_page(
    room: InRoom<'_>,
    number: String,
    month: Option<String>,
) -> Result<JobPage, Refusal> {
    room.read(Act::SeeJobs, move |desk| {
        Ok(office::job_page(desk, &number, month_or_last(desk, month.as_deref())?)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn explain(
    room: InRoom<'_>,
    of: String,
    month: String,
    figure: String,
) -> Result<Explanation, Refusal> {
    room.read(Act::OpenFigure, move |desk| {
        let at = crate::page_value::month(&month)?;
        Ok(match of.as_str() {
            "firm" => office::explain_firm(desk, at, &figure)?,
            number => office::explain_job(desk, number, at, &figure)?,
        })
    })
    .await
}

#[tauri::command]
pub(crate) async fn job_names(room: InRoom<'_>) -> Result<Vec<JobName>, Refusal> {
    room.read(Act::SeeJobNames, |desk| Ok(office::job_names(desk)?)).await
}

#[tauri::command]
pub(crate) async fn lists(room: InRoom<'_>) -> Result<Lists, Refusal> {
    room.read(Act::SeeLists, |desk| Ok(office::lists(desk)?)).await
}

#[tauri::command]
pub(crate) async fn site_day(room: InRoom<'_>) -> Result<SiteDay, Refusal> {
    room.read(Act::SeeSite, |desk| Ok(office::site_day(desk, desk.clock.today())?)).await
}

#[tauri::command]
pub(crate) async fn workmanship(room: InRoom<'_>, job: String) -> Result<Workmanship, Refusal> {
    room.read(Act::SeeWorkmanship, move |desk| Ok(office::workmanship(desk, &job)?)).await
}

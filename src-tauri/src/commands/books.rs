//! What the books say: the year, the month end, a job, a figure opened, the firm's lists.

use office::month::end::FirmMonth;
use office::{
    Closed, ConditionHistory, Explanation, JobName, JobPage, Lists, LooseEnd, MonthEnd, OpenedRecord, Role,
    SiteDay, Which, Workmanship, Year,
};

use super::{InRoom, month, month_or_last};
use crate::refusal::Refusal;
use crate::room::For;

#[tauri::command]
pub(crate) async fn year(room: InRoom<'_>, year: Option<i16>) -> Result<Year, Refusal> {
    room.admit(For::Owner, "The jobs with their cost")?;
    room.read(move |desk| Ok(office::year(desk, year, month_or_last(desk, None)?)?)).await
}

#[tauri::command]
pub(crate) async fn condition_history(
    room: InRoom<'_>,
    year: Option<i16>,
) -> Result<ConditionHistory, Refusal> {
    room.admit(For::Owner, "What the record says")?;
    room.read(move |desk| Ok(office::condition_history(desk, year, month_or_last(desk, None)?)?)).await
}

#[tauri::command]
pub(crate) async fn open_history(
    room: InRoom<'_>,
    year: Option<i16>,
    which: Which,
) -> Result<OpenedRecord, Refusal> {
    room.admit(For::Owner, "What the record says")?;
    room.read(move |desk| Ok(office::opened(desk, year, month_or_last(desk, None)?, &which)?)).await
}

#[tauri::command]
pub(crate) async fn month_end(room: InRoom<'_>, month: String) -> Result<MonthEnd, Refusal> {
    let seat = room.admit(For::OwnerAndBooks, "The month end")?;
    room.read(move |desk| {
        let whole = office::month_end(desk, super::month(&month)?)?;
        Ok(if seat.role == Role::Owner { whole } else { owed_only(whole) })
    })
    .await
}

/// What the bookkeeper sees of a month end: what is owed, and whether the month is closed.
fn owed_only(whole: MonthEnd) -> MonthEnd {
    let firm = FirmMonth { name: whole.firm.name, ..FirmMonth::default() };
    MonthEnd { firm, jobs: Vec::new(), ..whole }
}

#[tauri::command]
pub(crate) async fn loose_ends(room: InRoom<'_>, month: String) -> Result<Vec<LooseEnd>, Refusal> {
    room.admit(For::Owner, "The list of loose ends")?;
    room.read(move |desk| Ok(office::loose_ends(desk, super::month(&month)?)?)).await
}

#[tauri::command]
pub(crate) async fn close_month(room: InRoom<'_>, month: String, accept: bool) -> Result<Closed, Refusal> {
    room.admit(For::Owner, "Closing a month")?;
    room.write(move |writing| {
        let today = writing.desk.clock.today();
        Ok(office::close(&mut writing.desk, super::month(&month)?, today, accept)?)
    })
    .await
}

#[tauri::command]
pub(crate) async fn job_page(
    room: InRoom<'_>,
    number: String,
    month: Option<String>,
) -> Result<JobPage, Refusal> {
    room.admit(For::Owner, "A job with its cost")?;
    room.read(move |desk| Ok(office::job_page(desk, &number, month_or_last(desk, month.as_deref())?)?)).await
}

#[tauri::command]
pub(crate) async fn explain(
    room: InRoom<'_>,
    of: String,
    month: String,
    figure: String,
) -> Result<Explanation, Refusal> {
    room.admit(For::Owner, "How a figure came about")?;
    room.read(move |desk| {
        let at = self::month(&month)?;
        Ok(match of.as_str() {
            "firm" => office::explain_firm(desk, at, &figure)?,
            number => office::explain_job(desk, number, at, &figure)?,
        })
    })
    .await
}

#[tauri::command]
pub(crate) async fn job_names(room: InRoom<'_>) -> Result<Vec<JobName>, Refusal> {
    room.admit(For::Anyone, "The list of jobs")?;
    room.read(|desk| Ok(office::job_names(desk)?)).await
}

#[tauri::command]
pub(crate) async fn lists(room: InRoom<'_>) -> Result<Lists, Refusal> {
    let seat = room.admit(For::OwnerAndBooks, "The firm's lists")?;
    room.read(move |desk| {
        let whole = office::lists(desk)?;
        Ok(if seat.role == Role::Owner { whole } else { without_pay(whole) })
    })
    .await
}

/// The lists without what anybody earns or costs.
fn without_pay(mut lists: Lists) -> Lists {
    for person in &mut lists.people {
        person.hourly = None;
    }
    lists.burden.clear();
    lists
}

#[tauri::command]
pub(crate) async fn site_day(room: InRoom<'_>) -> Result<SiteDay, Refusal> {
    room.admit(For::OwnerAndCrew, "The site view")?;
    room.read(|desk| Ok(office::site_day(desk, desk.clock.today())?)).await
}

#[tauri::command]
pub(crate) async fn workmanship(room: InRoom<'_>, job: String) -> Result<Workmanship, Refusal> {
    room.admit(For::Anyone, "How the work was done")?;
    room.read(move |desk| Ok(office::workmanship(desk, &job)?)).await
}

#[cfg(test)]
mod tests {
    use super::*;
    use office::{Clock, Desk, Month};

    #[test]
    fn the_bookkeeper_sees_what_is_owed_and_no_cost_no_margin_no_pay() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        drop(office::sample::write(&path, &mut |_, _| true).unwrap());
        let desk = Desk::read(&path, Clock::System).unwrap();
        let whole = office::month_end(&desk, Month::parse("2026-10").unwrap()).unwrap();
        assert!(whole.firm.cost.is_positive() && !whole.jobs.is_empty());
        let owed = whole.owed.clone();
        let seen = owed_only(whole);
        assert_eq!(seen.owed, owed);
        assert!(seen.jobs.is_empty());
        assert_eq!(seen.firm, FirmMonth { name: seen.firm.name.clone(), ..FirmMonth::default() });

        let lists = office::lists(&desk).unwrap();
        assert!(lists.people.iter().any(|person| person.hourly.is_some()) && !lists.burden.is_empty());
        let seen = without_pay(lists);
        assert!(seen.people.iter().all(|person| person.hourly.is_none()) && seen.burden.is_empty());
        assert!(!seen.vendors.is_empty());
    }
}

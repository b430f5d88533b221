//! Cash ahead from the month's end, with what it is worked out from: how each job is planned, when each customer pays.

use super::people::entry_stands;
use super::view::View;
use crate::billing::bank::Stands;
use crate::cash::ahead::cash_of;
use crate::cash::plan::{JobPlan, plans};
use crate::cash::view::{AsIf, CashAhead, CashFor, HabitOf};
use crate::paper_error::AddRow;
use desk::OfficeError;
use ledger::Books;
use paperwork::{Cell, Column, Kind, Table};

const CAUSES: &[&str] = &[
    "invoice",
    "retainage",
    "to-bill",
    "credit",
    "bill",
    "worked",
    "crew",
    "to-buy",
    "recurring",
    "overhead",
];

/// The four files.
pub(super) fn tables(books: Books<'_>, view: &View<'_>) -> Result<Vec<Table>, OfficeError> {
    let marks = &view.part.window.to;
    let stands: Stands<'_> = &|entry, reversed_by| entry_stands(books, entry, reversed_by, marks);
    let (names, as_if) = (&view.people.names, AsIf::default());
    let on = view.month.month.last_day();
    let ahead = cash_of(books, names, (on, stands), &as_if)?;
    let plans = plans(books, names, &view.month.settings, &view.month.report, (on, stands), &as_if)?;
    Ok(vec![planned(view, &plans)?, weeks(&ahead)?, expected(&ahead)?, habits(&ahead)?])
}

/// How the work on each job is planned.
fn planned(view: &View<'_>, plans: &[JobPlan]) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("job", Kind::Text, "Job", "The job's number.").required(),
        Column::new("begun", Kind::Date, "Begun", "The day on which work began."),
        Column::new("begins", Kind::Date, "Begins", "The day on which work is planned to begin."),
        Column::new("ends", Kind::Date, "Ends", "The last day of work, where it is planned."),
        Column::new("finished", Kind::Date, "Finished", "The day on which work was finished."),
        Column::new("crew", Kind::Text, "Crew", "The crew that is planned, else the job's own."),
        Column::new("people", Kind::Integer, "People", "How many are in the crew.").required(),
        Column::new("hours_a_day", Kind::Quantity, "Hours a day", "Hours of the crew's usual day.")
            .required(),
        Column::new(
            "hour_costs",
            Kind::Rate,
            "Hour costs",
            "Pay with burden of an hour, on the average of its people.",
        ),
        Column::new("crew_days", Kind::Quantity, "Crew-days", "Days of the crew, where they are planned."),
        Column::new(
            "days_left",
            Kind::Quantity,
            "Days left",
            "Of them, or of what the contract's hours take, those that are not worked yet.",
        )
        .required(),
    ];
    let mut table = Table::new(
        "planned_work",
        "Planned work",
        "One row for each signed job of the month-end report that was not canceled: the newest plan by the month's \
         end.",
        &["job"],
        &[],
        columns,
    );
    for plan in plans {
        let planned = plan.plan.as_ref().map(|held| &held.fact);
        let date = |date: Option<jiff::civil::Date>| date.map_or(Cell::Empty, Cell::Date);
        table.add(vec![
            Cell::text(plan.number.clone()),
            date(plan.begun),
            date(planned.map(|plan| plan.begins)),
            date(planned.and_then(|plan| plan.ends)),
            date(plan.finished),
            Cell::of(plan.crew.map(|crew| view.people.names.crew(crew))),
            Cell::Integer(plan.people),
            plan.hours_a_day.into(),
            plan.loaded.map_or(Cell::Empty, |rate| Cell::Rate(rate.decimal())),
            planned.and_then(|plan| plan.crew_days).map_or(Cell::Empty, Cell::from),
            plan.days_left.into(),
        ])?;
    }
    Ok(table)
}

/// The thirteen weeks.
fn weeks(ahead: &CashAhead) -> Result<Table, OfficeError> {
    let money = |name: &'static str, title: &'static str, what| {
        Column::new(name, Kind::Money, title, what).required()
    };
    let columns = vec![
        Column::new("week", Kind::Integer, "Week", "Which, from 1.").required(),
        Column::new("begins", Kind::Date, "Begins", "Its first day.").required(),
        Column::new("ends", Kind::Date, "Ends", "Its last day.").required(),
        money("opening", "Opening", "What is there before."),
        money("cash_in", "In", "What comes in."),
        money("cash_out", "Out", "What goes out."),
        money("closing", "Closing", "Opening and in, less out."),
    ];
    let mut table = Table::new(
        "cash_ahead",
        "Cash ahead",
        "One row for each of the thirteen weeks after the month. It begins with the bank's last statement and what the \
         books moved that it does not show, or with nothing where no statement was taken in.",
        &["week"],
        &[],
        columns,
    );
    for week in &ahead.weeks {
        table.add(vec![
            Cell::Integer(i64::try_from(week.week).unwrap_or(i64::MAX)),
            week.begins.into(),
            week.ends.into(),
            week.opening.into(),
            week.cash_in.into(),
            week.cash_out.into(),
            week.closing.into(),
        ])?;
    }
    Ok(table)
}

/// What is expected in them.
fn expected(ahead: &CashAhead) -> Result<Table, OfficeError> {
    let columns = vec![
        Column::new("row", Kind::Integer, "Row", "Place of the row, from 1.").required(),
        Column::new("week", Kind::Integer, "Week", "In which week; empty where it comes after the thirteen."),
        Column::new("cause", Kind::Text, "Cause", "What for.").required().one_of(CAUSES),
        Column::new("date", Kind::Date, "Date", "The day on which it is expected.").required(),
        Column::new("due", Kind::Date, "Due", "The day on which it is due, or billed."),
        Column::new("job", Kind::Text, "Job", "The job's number."),
        Column::new("who", Kind::Text, "Who", "The customer, the vendor, the crew or the account."),
        Column::new("text", Kind::Text, "What", "What it is.").required(),
        Column::new("amount", Kind::Money, "Amount", "How much; below zero where it goes out.").required(),
        Column::new("source", Kind::Text, "Source", "The ledger's number of what says so, such as A-123."),
    ];
    let mut table = Table::new(
        "cash_expected",
        "Cash expected",
        "One row for each amount that is expected to come in or go out.",
        &["row"],
        &[],
        columns,
    );
    for one in &ahead.expected {
        table.add(vec![
            Cell::Integer(i64::try_from(table.rows().len() + 1).unwrap_or(i64::MAX)),
            one.week.and_then(|week| i64::try_from(week).ok()).map_or(Cell::Empty, Cell::Integer),
            one.cause.as_str().into(),
            one.date.into(),
            one.due.map_or(Cell::Empty, Cell::Date),
            Cell::of(one.job.clone()),
            Cell::text(one.who.clone()),
            Cell::text(one.text.clone()),
            one.amount.into(),
            Cell::of(one.source.as_ref().map(|source| source.entry.clone())),
        ])?;
    }
    Ok(table)
}

/// When customers are taken to pay.
fn habits(ahead: &CashAhead) -> Result<Table, OfficeError> {
    const BY: &[&str] = &["own", "everybody", "nobody"];
    let columns = vec![
        Column::new("customer_id", Kind::Id, "Customer's id", "The id of the customer.").required(),
        Column::new("customer", Kind::Text, "Customer", "Who pays.").required(),
        Column::new("paid", Kind::Integer, "Paid", "How many invoices they have paid.").required(),
        Column::new("days", Kind::Integer, "Days", "How many days past due they are taken to pay.")
            .required(),
        Column::new("by", Kind::Text, "By", "Whose invoices show it: too few of their own show nothing.")
            .required()
            .one_of(BY),
    ];
    let mut table = Table::new(
        "cash_habits",
        "When customers pay",
        "One row for each customer of whom anything is expected.",
        &["customer_id"],
        &[],
        columns,
    );
    for habit in &ahead.habits {
        table.add(vec![
            Cell::Id(habit.customer_id.clone()),
            Cell::text(habit.customer.clone()),
            Cell::Integer(i64::try_from(habit.paid).unwrap_or(i64::MAX)),
            Cell::Integer(i64::from(habit.days)),
            habit.by.as_str().into(),
        ])?;
    }
    debug_assert_eq!(BY.len(), HabitOf::ALL.len());
    debug_assert_eq!(CAUSES.len(), CashFor::ALL.len());
    Ok(table)
}

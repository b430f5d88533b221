//! What goes out: vendors' bills, pay, what is still to be bought, overhead.

use super::looking::{Comes, Looking};
use super::view::CashFor;
use crate::billing::payables::open_bills;
use crate::job::page::Source;
use crate::month::budget::budgets_of;
use crate::month::overhead::recurring_of;
use crate::rates::loaded_on;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::OwedFrom;
use ledger::facts::{RecurringCost, TimeEntry};
use ledger::{Books, Entry, Id};
use std::collections::BTreeMap;
use trade::shown::{day, month, with_unit};
use trade::{
    Money, Month, Qty, bought_paid_on, crew_pay, line_amount, overhead_left, pay_day, still_to_buy,
    week_start, weeks_later,
};

pub(super) fn gather(looking: &mut Looking<'_>) -> Result<(), OfficeError> {
    bills(looking)?;
    worked(looking)?;
    jobs(looking);
    overhead(looking)
}

/// Vendors' bills on their due days; credits lower what is paid first.
fn bills(looking: &mut Looking<'_>) -> Result<(), OfficeError> {
    for bill in open_bills(looking.books, looking.names, looking.month, looking.on)? {
        let what = if bill.credit { "credit" } else { "bill" };
        looking.add(Comes {
            cause: CashFor::Bill,
            date: bill.due,
            due: Some(bill.due),
            job: None,
            who: &bill.vendor,
            text: format!("{what} {}", bill.number),
            amount: -bill.open,
            source: Some(bill.source),
        });
    }
    Ok(())
}

/// Hours that are worked and are paid after the day that it is looked from, at what an hour of their crew costs: what
/// overtime a week comes to is known when it is over.
fn worked(looking: &mut Looking<'_>) -> Result<(), OfficeError> {
    let (books, on, begins) = (looking.books, looking.on, looking.week_begins);
    let people = books.people(&books.calendar()?)?;
    let mut hours: BTreeMap<(Date, Option<Id>), Qty> = BTreeMap::new();
    for held in books.dated_between::<TimeEntry>(weeks_later(week_start(on, begins), -1), on)? {
        let time = &held.fact;
        if pay_day(time.date, begins) > on && (looking.stands)(&held.entry, held.reversed_by)? {
            let crew = people.get(&time.person).and_then(|versions| versions.on(on)?.fact.crew);
            *hours.entry((week_start(time.date, begins), crew)).or_default() += time.hours;
        }
    }
    let loaded = loaded_on(books, on)?;
    for ((week, crew), hours) in hours {
        let of_crew = loaded.iter().find(|row| row.crew == crew).or(loaded.last());
        let Some(rate) = of_crew.map(|row| row.loaded) else { continue };
        let date = pay_day(week, begins);
        let who = crew.map(|crew| looking.names.crew(crew)).unwrap_or_default();
        looking.add(Comes {
            cause: CashFor::Worked,
            date,
            due: Some(date),
            job: None,
            who: &who,
            text: format!("{} of the week of {}", with_unit(hours, "hours"), day(week)),
            amount: -line_amount(rate, hours),
            source: None,
        });
    }
    Ok(())
}

/// The pay of planned crews, and what is still to be bought for their jobs.
fn jobs(looking: &mut Looking<'_>) {
    let plans = std::mem::take(&mut looking.plans);
    for plan in plans.iter().filter(|plan| plan.is_planned()) {
        let source = plan.plan.as_ref().map(|held| &held.entry).unwrap_or(&plan.contract);
        let source = Source::of(source, looking.names);
        if plan.is_overdue(looking.on) && looking.slips(&plan.number) == 0 {
            looking.cautions.push(format!(
                "Work on job {} was to have begun, and nobody said that it did: it is taken to begin on {}.",
                plan.number,
                plan.work.map(|(begins, _)| day(begins)).unwrap_or_default()
            ));
        }
        let mut by_pay_day: BTreeMap<Date, Qty> = BTreeMap::new();
        for (date, part) in &plan.days {
            *by_pay_day.entry(pay_day(*date, looking.week_begins)).or_default() += *part;
        }
        let mut planned_pay = Money::ZERO;
        let crew = plan.crew.map(|crew| looking.names.crew(crew)).unwrap_or_default();
        match plan.loaded {
            Some(loaded) => {
                for (date, days) in by_pay_day {
                    let amount = crew_pay(days, plan.people, plan.hours_a_day, loaded);
                    planned_pay += amount;
                    looking.add(Comes {
                        cause: CashFor::Crew,
                        date,
                        due: Some(date),
                        job: Some(&plan.number),
                        who: &crew,
                        text: format!("{} of {}", with_unit(days, "crew-days"), plan.title),
                        amount: -amount,
                        source: Some(source.clone()),
                    });
                }
            }
            None if !plan.days_left.is_zero() || plan.crew.is_none() => looking.cautions.push(format!(
                "Job {} has no crew whose pay is known: what its crew is paid stands in no week.",
                plan.number
            )),
            None => {}
        }
        let Some((begins, _)) = plan.work else { continue };
        looking.add(Comes {
            cause: CashFor::ToBuy,
            date: bought_paid_on(begins),
            due: None,
            job: Some(&plan.number),
            who: "",
            text: format!("material and other cost of {} beyond what is booked", plan.title),
            amount: -still_to_buy(plan.forecast, plan.cost, planned_pay),
            source: Some(Source::of(&plan.contract, looking.names)),
        });
    }
    looking.plans = plans;
}

/// The entry that says what a recurring cost is now.
fn said_by(books: Books<'_>) -> Result<BTreeMap<Id, Entry>, OfficeError> {
    let mut newest: BTreeMap<Id, Entry> = BTreeMap::new();
    for held in books.all::<RecurringCost>()? {
        let of = held.fact.revises.unwrap_or(held.entry.id);
        let known = newest.entry(of).or_insert_with(|| held.entry.clone());
        if (&known.recorded_at, known.id) < (&held.entry.recorded_at, held.entry.id) {
            *known = held.entry;
        }
    }
    Ok(newest)
}

/// Overhead: what comes again on its day, and the rest of each month's budget on the month's last.
fn overhead(looking: &mut Looking<'_>) -> Result<(), OfficeError> {
    let Some((_, last)) = looking.times.last().copied() else { return Ok(()) };
    let entries = said_by(looking.books)?;
    let months = std::iter::successors(Some(looking.month), |month| Some(month.next()));
    let mut without = Vec::new();
    for of in months.take_while(|of| of.first_day() <= last) {
        let mut known = Money::ZERO;
        for cost in recurring_of(looking.books, looking.names, of)? {
            let Some(due) =
                cost.due.filter(|due| !cost.recorded && (*due > looking.on || of == looking.month))
            else {
                continue;
            };
            known += cost.amount;
            // What is set aside, as for a truck's wear, leaves no bank.
            if cost.owed_from == Some(OwedFrom::SetAside) {
                continue;
            }
            let id = Id::parse(&cost.id).ok();
            let source = id.and_then(|id| entries.get(&id)).map(|entry| Source::of(entry, looking.names));
            looking.add(Comes {
                cause: CashFor::Recurring,
                date: due,
                due: Some(due),
                job: None,
                who: &cost.name,
                text: cost.description,
                amount: -cost.amount,
                source,
            });
        }
        rest_of_budget(looking, of, known, &mut without)?;
    }
    if !without.is_empty() {
        looking.cautions.push(format!(
            "No budget of overhead is set for {}: only what comes again counts.",
            without.join(", ")
        ));
    }
    Ok(())
}

fn rest_of_budget(
    looking: &mut Looking<'_>,
    of: Month,
    known: Money,
    without: &mut Vec<String>,
) -> Result<(), OfficeError> {
    let on = looking.on;
    let budgets = budgets_of(looking.books, of.year(), |_| true)?;
    let Some(held) = budgets.get(&of).filter(|held| held.fact.date <= on) else {
        without.push(month(of));
        return Ok(());
    };
    let booked: Money = looking.books.overhead(of, of)?.into_values().sum();
    looking.add(Comes {
        cause: CashFor::Overhead,
        date: of.last_day(),
        due: None,
        job: None,
        who: "",
        text: format!("the rest of the budget of {}", month(of)),
        amount: -overhead_left(held.fact.overhead, booked, known),
        source: Some(Source::of(&held.entry, looking.names)),
    });
    Ok(())
}

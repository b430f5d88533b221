//! Cash ahead week by week: what stands at the bank, what is expected of it, and how low it gets; as it is, and as if a
//! job slipped or a customer paid late.

use super::habit::{self, PaysAfter};
use super::looking::Looking;
use super::view::{AsIf, CashAhead, CashFor, CustomerHabit, ExpectedCash, LowestWeek, Undated, WeekAhead};
use super::{plan, receipts, spending, start};
use crate::billing::bank::Stands;
use crate::month::end::month_end_of;
use desk::names::Names;
use desk::policy::Act;
use desk::settings::{Settings, firm_on};
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::{CashWeek, Flow, Month, cash_ahead, lowest, short_of, weeks_ahead};

/// Cash ahead from the end of a day.
///
/// # Errors
/// When a job or customer that is to be late is not known, or the facts cannot be read.
pub fn cash(desk: &Desk, on: Date, as_if: &AsIf) -> Result<CashAhead, OfficeError> {
    let mut ahead = desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        cash_of(books, &names, (on, &|_, reversed| Ok(reversed.is_none())), as_if)
    })?;
    if !desk.may(Act::SeePay)? {
        ahead.expected = without_pay(ahead.expected);
    }
    Ok(ahead)
}

/// The pay of each week as a single amount: by job, crew and days it would say what an hour of them costs.
fn without_pay(expected: Vec<ExpectedCash>) -> Vec<ExpectedCash> {
    let mut told: Vec<ExpectedCash> = Vec::with_capacity(expected.len());
    for one in expected {
        let is_pay = matches!(one.cause, CashFor::Worked | CashFor::Crew);
        let same = told.iter_mut().find(|told| told.week == one.week && told.cause == CashFor::Crew);
        match same.filter(|_| is_pay) {
            Some(sum) => sum.amount += one.amount,
            None if is_pay => told.push(ExpectedCash {
                cause: CashFor::Crew,
                job: None,
                who: String::new(),
                text: "pay of all crews, with burden".to_owned(),
                source: None,
                ..one
            }),
            None => told.push(one),
        }
    }
    told
}

/// The same by what stood.
pub(crate) fn cash_of(
    books: Books<'_>,
    names: &Names,
    at: (Date, Stands<'_>),
    as_if: &AsIf,
) -> Result<CashAhead, OfficeError> {
    let mut ahead = looked(books, names, at, as_if)?;
    if as_if.changes_anything() {
        let plain = AsIf { slips: Vec::new(), late: Vec::new(), ..as_if.clone() };
        ahead.lowest_as_is = looked(books, names, at, &plain)?.lowest;
    }
    Ok(ahead)
}

fn looked(
    books: Books<'_>,
    names: &Names,
    at: (Date, Stands<'_>),
    as_if: &AsIf,
) -> Result<CashAhead, OfficeError> {
    let (on, stands) = at;
    let month = Month::of(on);
    let calendar = books.calendar()?;
    let settings = Settings::read(books, &calendar)?;
    let firm = firm_on(books, on)?;
    let report = month_end_of(books, month)?;
    let (habits, everybody) = habit::habits(books, month)?;
    let week_begins = firm.week_begins.civil();
    let mut looking = Looking {
        books,
        names,
        on,
        stands,
        month,
        as_if,
        week_begins,
        times: weeks_ahead(on, week_begins),
        habits,
        everybody,
        plans: plan::plans(books, names, &settings, &report, at, as_if)?,
        expected: Vec::new(),
        undated: Vec::new(),
        cautions: Vec::new(),
    };
    are_known(&looking)?;
    receipts::gather(&mut looking, &report)?;
    spending::gather(&mut looking)?;
    let began = start::start(books, names, at, as_if.cash)?;
    let Looking { times, mut expected, plans, undated, cautions, habits, everybody, .. } = looking;
    expected.sort_by(|left, right| {
        let key =
            |one: &ExpectedCash| (one.week.is_none(), one.week, one.cause.goes_out(), one.date, one.cause);
        key(left).cmp(&key(right)).then_with(|| (&left.who, &left.text).cmp(&(&right.who, &right.text)))
    });
    let flow =
        |one: &ExpectedCash| Flow { date: one.date, amount: one.of_its_side(), out: one.cause.goes_out() };
    let flows: Vec<Flow> = expected.iter().map(flow).collect();
    let weeks = cash_ahead(began.opening, &times, &flows);
    let keep = as_if.keep.unwrap_or_default();
    let jobs = plans.iter().filter(|plan| plan.is_planned()).map(|plan| plan.number.clone()).collect();
    Ok(CashAhead {
        name: firm.name,
        on,
        opening: began.opening,
        from: began.from,
        statement: began.statement,
        start: began.parts,
        lowest: lowest(&weeks).and_then(|at| Some((at, weeks.get(at)?))).map(|(at, week)| LowestWeek {
            week: at + 1,
            closing: week.closing,
            short: short_of(week.closing, keep),
        }),
        lowest_as_is: None,
        weeks: (1..).zip(&times).zip(&weeks).map(|((week, time), moves)| shown(week, *time, moves)).collect(),
        habits: habits_shown(&expected, &undated, names, (&habits, everybody)),
        expected,
        undated,
        cautions,
        jobs,
        as_if: as_if.clone(),
    })
}

fn shown(week: usize, (begins, ends): (Date, Date), moves: &CashWeek) -> WeekAhead {
    WeekAhead {
        week,
        begins,
        ends,
        opening: moves.opening,
        cash_in: moves.cash_in,
        cash_out: moves.cash_out,
        closing: moves.closing,
    }
}

/// Refuses what is said of a job or a customer that is not there: a misspelt name would change nothing, and silently.
fn are_known(looking: &Looking<'_>) -> Result<(), OfficeError> {
    for slip in &looking.as_if.slips {
        if !looking.plans.iter().any(|plan| plan.number == slip.job && plan.is_planned()) {
            return Err(OfficeError::refused(
                "slips",
                &format!("no work is planned on job “{}”", slip.job),
                "Plan it first, or check the number",
            ));
        }
    }
    for late in &looking.as_if.late {
        if !looking.names.customers.values().any(|customer| customer.name == late.customer) {
            return Err(OfficeError::refused(
                "late",
                &format!("there is no customer “{}”", late.customer),
                "Check the name",
            ));
        }
    }
    Ok(())
}

/// The habits of those of whom anything is expected.
fn habits_shown(
    expected: &[ExpectedCash],
    undated: &[Undated],
    names: &Names,
    (habits, everybody): (&BTreeMap<Id, PaysAfter>, Option<i32>),
) -> Vec<CustomerHabit> {
    let wanted = |name: &str| {
        let waits = [CashFor::Invoice, CashFor::Retainage, CashFor::ToBill];
        expected.iter().any(|one| waits.contains(&one.cause) && one.who == name)
            || undated.iter().any(|one| one.customer == name)
    };
    let customers = names.customers.iter().filter(|(_, customer)| wanted(&customer.name));
    let mut shown: Vec<CustomerHabit> = customers
        .map(|(id, customer)| {
            let own = habits.get(id);
            let (days, by) = habit::of(own, everybody);
            let paid = own.map_or(0, |own| own.days.len());
            CustomerHabit { customer_id: id.to_string(), customer: customer.name.clone(), paid, days, by }
        })
        .collect();
    shown.sort_by(|left, right| {
        (&left.customer, &left.customer_id).cmp(&(&right.customer, &right.customer_id))
    });
    shown
}

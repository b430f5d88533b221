//! Cash ahead: what comes in and what goes out, week by week, from what is known today.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use rust_decimal::Decimal;

use crate::crew::{crew_days, crew_hours};
use crate::money::{Money, Qty, Rate, line_amount};
use crate::week::week_start;

/// How many weeks are looked ahead: a quarter of a year (common practice).
pub const WEEKS_AHEAD: usize = 13;

/// How many paid invoices show a habit at the least (company rule): two may both have been a chance.
pub const HABIT_FROM: usize = 3;

/// How many of the last ones are looked at (company rule): people change.
const HABIT_OF: usize = 8;

/// In how many days after work begins what is bought for it is paid (company rule: terms of thirty days are common).
const BOUGHT_PAID_AFTER: i32 = 30;

/// How many days after a week's first day the pay of the week before is paid: on its fifth day (company rule).
const PAID_ON_DAY: i32 = 4;

/// Money that is expected. What lowers its side is below zero: a customer's credit what comes in, a vendor's what goes
/// out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flow {
    /// On which day.
    pub date: Date,
    /// How much.
    pub amount: Money,
    /// Whether it goes out.
    pub out: bool,
}

/// A time and what money does in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CashWeek {
    /// What is there before.
    pub opening: Money,
    /// What comes in.
    pub cash_in: Money,
    /// What goes out, above zero.
    pub cash_out: Money,
    /// What is there after.
    pub closing: Money,
}

/// The weeks that are looked ahead from the end of a day, each by its first and last day. The first is the work week
/// in which the next day lies.
#[must_use]
pub fn weeks_ahead(after: Date, week_begins: Weekday) -> Vec<(Date, Date)> {
    let first = week_start(after.saturating_add(1.day()), week_begins);
    let weeks = (0_i32..).take(WEEKS_AHEAD);
    let week = |week: i32| {
        let begins = weeks_later(first, week);
        (begins, begins.saturating_add(6.days()))
    };
    weeks.map(week).collect()
}

/// The same day so many weeks later.
#[must_use]
pub fn weeks_later(date: Date, weeks: i32) -> Date {
    date.saturating_add(weeks.weeks())
}

/// In which of some times in a row a day counts, from 0: what was to come before them counts in the first, since it is
/// still to come; what comes after them in none.
#[must_use]
pub fn counts_in(times: &[(Date, Date)], date: Date) -> Option<usize> {
    times.iter().position(|(_, ends)| date <= *ends)
}

/// Opening + in − out = closing, time by time, each beginning with what the one before ended with (cash budget;
/// OpenStax, Principles of Accounting, volume 2, chapter 7).
#[must_use]
pub fn cash_ahead(opening: Money, times: &[(Date, Date)], flows: &[Flow]) -> Vec<CashWeek> {
    let mut opening = opening;
    let week = |at: usize| {
        let of_time = flows.iter().filter(|flow| counts_in(times, flow.date) == Some(at));
        let (cash_in, cash_out) = of_time.fold((Money::ZERO, Money::ZERO), |(cash_in, cash_out), flow| {
            if flow.out { (cash_in, cash_out + flow.amount) } else { (cash_in + flow.amount, cash_out) }
        });
        let closing = opening + cash_in - cash_out;
        let week = CashWeek { opening, cash_in, cash_out, closing };
        opening = closing;
        week
    };
    (0..times.len()).map(week).collect()
}

/// The time with the lowest closing, from 0; of several the earliest.
#[must_use]
pub fn lowest(weeks: &[CashWeek]) -> Option<usize> {
    let lowest = weeks.iter().map(|week| week.closing).min()?;
    weeks.iter().position(|week| week.closing == lowest)
}

/// What a balance lacks to the least that is to be kept: what would have to be borrowed (cash budget; OpenStax,
/// Principles of Accounting, volume 2, chapter 7).
#[must_use]
pub fn short_of(balance: Money, keep: Money) -> Money {
    (keep - balance).max(Money::ZERO)
}

/// After how many days past due somebody pays: the median of their last paid invoices, given from the oldest to the
/// newest; of two middle ones the later, since hope pays no wages (company rule). `None` where too few were paid to
/// show a habit.
#[must_use]
pub fn habit(days_past_due: &[i32]) -> Option<i32> {
    if days_past_due.len() < HABIT_FROM {
        return None;
    }
    let mut last: Vec<i32> = days_past_due.iter().rev().take(HABIT_OF).copied().collect();
    last.sort_unstable();
    last.get(last.len() / 2).copied()
}

/// The day so many days later, or earlier where somebody pays before an invoice is due.
#[must_use]
pub fn paid_on(due: Date, days: i32) -> Date {
    due.saturating_add(days.days())
}

/// Which days a crew works, with the part of its day that it works on each: Monday to Friday from the first day on
/// (company rule; holidays and rain are for whoever plans).
#[must_use]
pub fn work_days(begins: Date, crew_days: Qty) -> Vec<(Date, Qty)> {
    let (mut left, mut date) = (crew_days, begins);
    let mut days = Vec::new();
    while left.is_positive() && date < Date::MAX {
        if !matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday) {
            let part = left.min(Qty::whole(1));
            days.push((date, part));
            left -= part;
        }
        date = date.saturating_add(1.day());
    }
    days
}

/// On which day work is paid: on the fifth day of the week after (company rule).
#[must_use]
pub fn pay_day(worked: Date, week_begins: Weekday) -> Date {
    weeks_later(week_start(worked, week_begins), 1).saturating_add(PAID_ON_DAY.days())
}

/// What days of a crew cost: days × people × hours of its day × pay with burden, rounded once (company rule).
#[must_use]
pub fn crew_pay(days: Qty, people: i64, hours_a_day: Qty, loaded: Rate) -> Money {
    let hours = crew_hours(people, hours_a_day).decimal() * days.decimal();
    line_amount(loaded, Qty::rounded(hours))
}

/// How many days of a crew are left of a job: as many as are planned, or where nobody planned, as many as the hours in
/// the contract take; less those that it worked (company rule).
#[must_use]
pub fn crew_days_left(planned: Option<Qty>, contracted: Qty, crew: (i64, Qty), worked: Decimal) -> Qty {
    let (people, hours_a_day) = crew;
    let people = u32::try_from(people).unwrap_or_default();
    let whole = planned.map_or_else(|| crew_days(contracted, people, hours_a_day), Qty::decimal);
    Qty::rounded((whole - worked).max(Decimal::ZERO))
}

/// On which days the payments of a schedule are billed: the first where the contract is signed, the last where work
/// ends, those between at even steps of the work; a single one at its end (company rule).
#[must_use]
pub fn payment_days(count: usize, signed: Date, begins: Date, ends: Date) -> Vec<Date> {
    let steps = i32::try_from(count.saturating_sub(1)).unwrap_or(i32::MAX);
    let long = (ends - begins).get_days().max(0);
    let day = |at: i32| match at {
        at if at == steps => ends,
        0 => signed,
        at => begins.saturating_add((long.saturating_mul(at) / steps.max(1)).days()),
    };
    (0..).take(count).map(day).collect()
}

/// What of each payment of a schedule is still to be billed: what is billed already is taken as its first ones, and
/// what changed as the last (company rule).
#[must_use]
pub fn still_to_bill(payments: &[Money], contract: Money, billed: Money) -> Vec<Money> {
    let scheduled: Money = payments.iter().copied().sum();
    let mut left = payments.to_vec();
    if let Some(last) = left.last_mut() {
        *last += contract - scheduled;
    }
    // A deduct that is larger than the last payment lowers those before it.
    let mut carried = Money::ZERO;
    for payment in left.iter_mut().rev() {
        let due = *payment + carried;
        carried = due.min(Money::ZERO);
        *payment = due.max(Money::ZERO);
    }
    let mut billed = billed;
    for payment in &mut left {
        let taken = billed.max(Money::ZERO).min(*payment);
        *payment -= taken;
        billed -= taken;
    }
    left
}

/// What is still to be bought for a job: what is forecast beyond its cost and beyond the pay that is planned (company
/// rule).
#[must_use]
pub fn still_to_buy(forecast: Money, cost: Money, planned_pay: Money) -> Money {
    (forecast - cost - planned_pay).max(Money::ZERO)
}

/// On which day what is bought for a job is paid: thirty days after its work begins (company rule).
#[must_use]
pub fn bought_paid_on(begins: Date) -> Date {
    begins.saturating_add(BOUGHT_PAID_AFTER.days())
}

/// What a month's budget of overhead leaves beside what is booked already and what is known to come (company rule).
#[must_use]
pub fn overhead_left(budget: Money, booked: Money, known: Money) -> Money {
    (budget - booked.max(Money::ZERO) - known).max(Money::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn cents(amounts: &[i64]) -> Vec<Money> {
        amounts.iter().map(|amount| Money::from_minor(*amount)).collect()
    }

    #[test]
    fn a_habit_is_the_median_of_the_last_eight_and_needs_three() {
        assert_eq!(habit(&[]), None);
        assert_eq!(paid_on(date(2026, 11, 28), 5), date(2026, 12, 3));
        assert_eq!(paid_on(date(2026, 11, 28), -3), date(2026, 11, 25));
        assert_eq!(habit(&[30, 30]), None);
        assert_eq!(habit(&[-2, 40, 5]), Some(5));
        assert_eq!(habit(&[1, 9, 3, 7]), Some(7), "the later of the two middle ones");
        assert_eq!(habit(&[90, 90, 90, 1, 2, 3, 4, 5, 6, 7, 8]), Some(5));
    }

    #[test]
    fn weeks_follow_on_each_other_and_what_is_late_comes_in_the_first() {
        // The last of October 2026 is a Saturday.
        let weeks = weeks_ahead(date(2026, 10, 31), Weekday::Monday);
        assert_eq!(weeks.len(), WEEKS_AHEAD);
        assert_eq!(weeks[0], (date(2026, 10, 26), date(2026, 11, 1)));
        assert_eq!(weeks[12].1, date(2027, 1, 24));
        assert_eq!(weeks_ahead(date(2026, 11, 1), Weekday::Monday)[0].0, date(2026, 11, 2));
        assert_eq!(counts_in(&weeks, date(2025, 1, 1)), Some(0));
        assert_eq!(counts_in(&weeks, date(2026, 11, 2)), Some(1));
        assert_eq!(counts_in(&weeks, date(2027, 1, 25)), None);
    }

    #[test]
    fn each_week_begins_with_what_the_one_before_ended_with_and_the_lowest_says_what_is_lacking() {
        let times = [(date(2026, 11, 2), date(2026, 11, 8)), (date(2026, 11, 9), date(2026, 11, 15))];
        let flow = |day: i8, amount: i64, out: bool| Flow {
            date: date(2026, 11, day),
            amount: Money::from_minor(amount),
            out,
        };
        let flows = [
            flow(3, 500, false),
            flow(4, 900, true),
            flow(9, 700, false),
            flow(10, 50, true),
            flow(16, 1, true),
        ];
        let weeks = cash_ahead(Money::from_minor(1_000), &times, &flows);
        let told: Vec<Vec<Money>> =
            weeks.iter().map(|week| vec![week.opening, week.cash_in, week.cash_out, week.closing]).collect();
        assert_eq!(told, [cents(&[1_000, 500, 900, 600]), cents(&[600, 700, 50, 1_250])]);
        assert_eq!(lowest(&weeks), Some(0));
        assert_eq!(lowest(&[weeks[1], weeks[0], weeks[0]]), Some(1), "the earliest of those alike");
        assert_eq!(lowest(&[]), None);
        assert_eq!(short_of(Money::from_minor(600), Money::from_minor(1_000)), Money::from_minor(400));
        assert_eq!(short_of(Money::from_minor(600), Money::from_minor(100)), Money::ZERO);
    }

    #[test]
    fn a_crew_works_from_monday_to_friday_and_is_paid_in_the_week_after() {
        // Thursday the 5th of November 2026.
        let days = work_days(date(2026, 11, 5), Qty::from_e4(25_000));
        let days: Vec<(i8, i64)> = days.iter().map(|(day, part)| (day.day(), part.e4())).collect();
        assert_eq!(days, [(5, 10_000), (6, 10_000), (9, 5_000)]);
        assert!(work_days(date(2026, 11, 5), Qty::ZERO).is_empty());
        assert!(work_days(Date::MAX, Qty::whole(5)).is_empty(), "the calendar ends");
        assert_eq!(pay_day(date(2026, 11, 5), Weekday::Monday), date(2026, 11, 13));
        assert_eq!(pay_day(date(2026, 11, 9), Weekday::Monday), date(2026, 11, 20));
        // 2.5 days × 3 people × 8 hours × 31.25.
        let pay = crew_pay(Qty::from_e4(25_000), 3, Qty::whole(8), Rate::parse("31.25").expect("a rate"));
        assert_eq!(pay, Money::from_minor(187_500));
    }

    #[test]
    fn what_is_left_of_a_job_is_planned_or_follows_from_its_hours() {
        let crew = (4, Qty::whole(8));
        let left = |planned: Option<i64>, worked: i64| {
            crew_days_left(planned.map(Qty::whole), Qty::whole(112), crew, Decimal::from(worked)).e4()
        };
        assert_eq!(left(Some(5), 2), 30_000);
        assert_eq!(left(None, 1), 25_000);
        assert_eq!(left(Some(1), 3), 0);
        assert_eq!(crew_days_left(None, Qty::whole(8), (0, Qty::whole(8)), Decimal::ZERO), Qty::ZERO);
    }

    #[test]
    fn payments_fall_from_the_signing_to_the_end_and_billed_ones_are_the_first() {
        let (signed, begins, ends) = (date(2026, 11, 2), date(2026, 11, 9), date(2026, 11, 19));
        assert_eq!(payment_days(1, signed, begins, ends), [ends]);
        assert_eq!(payment_days(3, signed, begins, ends), [signed, date(2026, 11, 14), ends]);
        let schedule = cents(&[300, 400, 300]);
        assert_eq!(still_to_bill(&schedule, Money::from_minor(1_000), Money::ZERO), schedule);
        let left = still_to_bill(&schedule, Money::from_minor(1_150), Money::from_minor(450));
        assert_eq!(left, cents(&[0, 250, 450]), "a change comes with the last");
        let left = still_to_bill(&schedule, Money::from_minor(650), Money::from_minor(100));
        assert_eq!(left, cents(&[200, 350, 0]), "a deduct takes from the last");
        let left = still_to_bill(&schedule, Money::from_minor(1_000), Money::from_minor(1_200));
        assert_eq!(left, cents(&[0, 0, 0]), "billed beyond the contract");
    }

    #[test]
    fn what_is_left_is_never_below_nothing() {
        let money = Money::from_minor;
        assert_eq!(still_to_buy(money(1_000), money(300), money(200)), money(500));
        assert_eq!(still_to_buy(money(1_000), money(900), money(200)), Money::ZERO);
        assert_eq!(bought_paid_on(date(2026, 11, 5)), date(2026, 12, 5));
        assert_eq!(overhead_left(money(700), money(300), money(150)), money(250));
        assert_eq!(overhead_left(money(700), money(-50), money(800)), Money::ZERO);
        assert_eq!(lowest(&[]), None);
    }
}

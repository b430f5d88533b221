//! Work weeks over a change of the day on which they begin, and what is paid then.

use crate::typed::m;
use jiff::ToSpan;
use jiff::civil::{Date, Weekday, date};
use proptest::prelude::*;
use trade::{
    FEDERAL_WEEK, Money, Overlap, OvertimeRule, PremiumSpread, Qty, Rate, Week, WeekPay, WorkLine, WorkWeeks,
    week_pay,
};

fn line(day: Date, hours: &str, rate: &str) -> WorkLine {
    WorkLine {
        date: day,
        hours: Qty::parse(hours).unwrap(),
        rate: Rate::parse(rate).unwrap(),
        caused_overtime: false,
    }
}

fn rule(first_weekday: Weekday) -> OvertimeRule {
    OvertimeRule { weekly_over: FEDERAL_WEEK, daily_over: None, first_weekday }
}

/// Five days of eight hours from the week's first day, at 5.00.
fn forty(first: Date) -> Vec<WorkLine> {
    (0..5).map(|day| line(first + day.days(), "8", "5")).collect()
}

/// What both weeks pay: the old one whole, and the short one after it.
fn both(old: &[WorkLine], from: Date, short: &[WorkLine]) -> (Money, Money) {
    let old_rule = rule(Weekday::Monday);
    let spread = PremiumSpread::ByHours;
    let whole = Week { work: old, bonus: Money::ZERO, rule: old_rule, spread, overlap: None };
    let first = week_pay(&whole).unwrap();
    let overlap = Overlap { from, work: old, bonuses: &[], rule: old_rule };
    let second = week_pay(&Week {
        work: short,
        bonus: Money::ZERO,
        rule: rule(from.weekday()),
        spread: PremiumSpread::ByHours,
        overlap: Some(overlap),
    });
    (first.total, second.unwrap().total)
}

/// 29 CFR 778.302, the rule read, the figures of its example from memory: 5.00 an hour; 40 hours from Monday 1 March
/// 1965 on and 5 on Sunday the 7th, with which the new week begins; 35 more in that week. The Sunday in the old week
/// pays more: 237.50 and 175.00.
#[test]
fn the_days_of_both_weeks_count_where_they_pay_more() {
    let sunday = date(1965, 3, 7);
    let mut old = forty(date(1965, 3, 1));
    old.push(line(sunday, "5", "5"));
    let short: Vec<WorkLine> = (8..=12).map(|day| line(date(1965, 3, day), "7", "5")).collect();
    assert_eq!(both(&old, sunday, &short), (m("237.50"), m("175.00")));
}

/// The other way around, computed: 35 and 5 hours make no overtime in the old week; 5 and 43 make 8 hours in the new
/// one, where 43 alone make 3. The short week is paid 43 × 5.00 + 8 × 2.50.
#[test]
fn the_short_week_carries_what_the_new_week_pays_more() {
    let sunday = date(1965, 3, 7);
    let mut old: Vec<WorkLine> = (1..=5).map(|day| line(date(1965, 3, day), "7", "5")).collect();
    old.push(line(sunday, "5", "5"));
    let mut short: Vec<WorkLine> = (8..=12).map(|day| line(date(1965, 3, day), "7", "5")).collect();
    short.push(line(date(1965, 3, 13), "8", "5"));
    assert_eq!(both(&old, sunday, &short), (m("200.00"), m("235.00")));
}

const SUNDAY: Date = date(1965, 3, 7);

/// Weekdays of so many hours at 5.00 and 5 more on the Sunday with which weeks begin from then on.
fn old_week(hours: &str) -> Vec<WorkLine> {
    let mut old: Vec<WorkLine> = (1..=5).map(|day| line(date(1965, 3, day), hours, "5")).collect();
    old.push(line(SUNDAY, "5", "5"));
    old
}

/// What the short week after it is paid: 43 hours at 5.00, beside these bonuses of the old week.
fn short_week(old: &[WorkLine], bonuses: &[(Date, Money)]) -> WeekPay {
    let mut work: Vec<WorkLine> = (8..=12).map(|day| line(date(1965, 3, day), "7", "5")).collect();
    work.push(line(date(1965, 3, 13), "8", "5"));
    let overlap = Overlap { from: SUNDAY, work: old, bonuses, rule: rule(Weekday::Monday) };
    let rule = rule(Weekday::Sunday);
    let spread = PremiumSpread::ByHours;
    week_pay(&Week { work: &work, bonus: Money::ZERO, rule, spread, overlap: Some(overlap) }).unwrap()
}

/// Computed: a bonus goes with its day. With the Sunday's 12.00 the new week's 48 hours earn 252.00, of which the
/// premium on 8 hours is 21.00; Friday's 40.00 stays in the old week, which has no overtime without the Sunday.
#[test]
fn a_bonus_of_the_days_of_both_weeks_goes_with_its_day() {
    let bonuses = [(date(1965, 3, 5), m("40.00")), (SUNDAY, m("12.00"))];
    let pay = short_week(&old_week("7"), &bonuses);
    assert_eq!((pay.premium_total, pay.total), (m("21.00"), m("236.00")));
    assert_eq!(pay.overtime_hours, Qty::whole(8), "3 of its own and 5 that the Sunday adds");
    // With 45 hours the old week pays more as it is: 52.00 of bonus, and 15.39 beside the short week's 7.50.
    let pay = short_week(&old_week("8"), &bonuses);
    assert_eq!((pay.premium_total, pay.total), (m("7.50"), m("222.50")));
    assert_eq!(pay.overtime_hours, Qty::whole(3));
}

/// Computed: the old week of 41 hours was paid an hour of overtime, 2.50; with the Sunday in the new week 8 hours are,
/// 20.00. The short week is paid 17.50, its own 3 hours and the 4 that the second way has more.
#[test]
fn the_hours_that_the_old_week_was_paid_are_not_paid_again() {
    let pay = short_week(&old_week("7.2"), &[]);
    assert_eq!((pay.premium_total, pay.total), (m("17.50"), m("232.50")));
    assert_eq!(pay.overtime_hours, Qty::whole(7));
}

/// Company rule: without work in the short week there is nothing that could carry the difference.
#[test]
fn a_short_week_without_work_pays_nothing() {
    let old = [line(SUNDAY, "12", "5")];
    let overlap = Overlap { from: SUNDAY, work: &old, bonuses: &[], rule: rule(Weekday::Monday) };
    let rule = OvertimeRule { daily_over: Some(Qty::whole(8)), ..rule(Weekday::Sunday) };
    let spread = PremiumSpread::ByHours;
    let week = Week { work: &[], bonus: Money::ZERO, rule, spread, overlap: Some(overlap) };
    let pay = week_pay(&week).unwrap();
    assert_eq!((pay.total, pay.overtime_hours), (Money::ZERO, Qty::ZERO));
}

#[test]
fn a_week_holds_its_first_day_and_its_last_and_none_beside_them() {
    let week = WorkWeeks::new(Weekday::Monday, &[]).week(date(2026, 12, 2));
    let held = [(11, 29), (11, 30), (12, 3), (12, 6), (12, 7)]
        .map(|(month, day)| week.holds(date(2026, month, day)));
    assert_eq!(held, [false, true, true, true, false]);
}

/// Company rule: a change begins with the first week of the new order on or after its day.
#[test]
fn a_change_takes_effect_with_a_week_of_the_new_order() {
    let weeks = WorkWeeks::new(Weekday::Monday, &[(date(2026, 12, 1), Weekday::Sunday)]);
    let last_old = weeks.week(date(2026, 12, 6));
    assert_eq!((last_old.first, last_old.last), (date(2026, 11, 30), date(2026, 12, 6)));
    let short = weeks.week(date(2026, 12, 7));
    assert_eq!((short.first, short.last), (date(2026, 12, 7), date(2026, 12, 12)));
    assert_eq!(short.overlaps_from, Some(date(2026, 12, 6)));
    assert_eq!(short.begins_on(), Weekday::Sunday);
    let new = weeks.after(&short);
    assert_eq!((new.first, new.last, new.overlaps_from), (date(2026, 12, 13), date(2026, 12, 19), None));
    assert_eq!(weeks.before(&short), last_old);
}

#[test]
fn a_change_that_is_taken_back_in_time_changes_nothing() {
    let back = [(date(2026, 12, 1), Weekday::Sunday), (date(2026, 12, 4), Weekday::Monday)];
    assert_eq!(WorkWeeks::new(Weekday::Monday, &back), WorkWeeks::new(Weekday::Monday, &[]));
    let same = [(date(2026, 12, 1), Weekday::Monday)];
    assert_eq!(WorkWeeks::new(Weekday::Monday, &same), WorkWeeks::new(Weekday::Monday, &[]));
}

fn weekday() -> impl Strategy<Value = Weekday> {
    (1..=7_i8).prop_map(|day| Weekday::from_monday_one_offset(day).unwrap())
}

proptest! {
    #[test]
    fn every_day_lies_in_one_week_however_often_the_order_changes(
        at_first in weekday(),
        changes in proptest::collection::vec((0..400_i32, weekday()), 0..6),
    ) {
        let mut changes: Vec<(Date, Weekday)> =
            changes.into_iter().map(|(day, weekday)| (date(2026, 1, 1) + day.days(), weekday)).collect();
        changes.sort_by_key(|(day, _)| *day);
        let weeks = WorkWeeks::new(at_first, &changes);
        let mut week = weeks.week(date(2025, 12, 20));
        while week.first < date(2027, 6, 1) {
            let mut day = week.first;
            while day <= week.last {
                prop_assert_eq!(weeks.week(day), week);
                day = day.tomorrow().unwrap();
            }
            let next = weeks.after(&week);
            prop_assert_eq!(next.first, week.last.tomorrow().unwrap());
            let whole = week.first + 6.days();
            match week.overlaps_from {
                None => prop_assert_eq!(week.last, whole),
                Some(from) => {
                    prop_assert!(week.last < whole && from < week.first);
                    prop_assert_eq!(from + 6.days(), week.last);
                    // No week begins on another day before a change says so.
                    let said = changes.iter().any(|(day, weekday)| *day <= from && *weekday == from.weekday());
                    prop_assert!(said);
                }
            }
            week = next;
        }
    }
}

//! The homeowner's right to cancel a sale made at home, 16 CFR Part 429.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday, date};

/// A holiday's name, and its name on the weekday on which it is kept when it falls on a weekend.
struct Holiday {
    name: &'static str,
    kept: &'static str,
}

macro_rules! holiday {
    ($name:literal) => {
        Holiday { name: $name, kept: concat!($name, " (kept)") }
    };
}

const NEW_YEAR: Holiday = holiday!("New Year's Day");

/// The federal holidays on fixed days, with the first year of those that are recent (5 U.S.C. 6103(a)).
const FIXED: [(i8, i8, i16, Holiday); 5] = [
    (1, 1, 0, NEW_YEAR),
    (6, 19, 2021, holiday!("Juneteenth")),
    (7, 4, 0, holiday!("Independence Day")),
    (11, 11, 0, holiday!("Veterans Day")),
    (12, 25, 0, holiday!("Christmas Day")),
];

/// The federal holidays on the nth weekday of a month, −1 for the last (5 U.S.C. 6103(a)).
const MOVING: [(i8, i8, Weekday, &str); 6] = [
    (1, 3, Weekday::Monday, "Birthday of Martin Luther King, Jr."),
    (2, 3, Weekday::Monday, "Washington's Birthday"),
    (5, -1, Weekday::Monday, "Memorial Day"),
    (9, 1, Weekday::Monday, "Labor Day"),
    (10, 2, Weekday::Monday, "Columbus Day"),
    (11, 4, Weekday::Thursday, "Thanksgiving Day"),
];

/// The federal holidays of a year in order of time, each with its name.
///
/// A holiday on a Saturday is kept on the Friday before, and one on a Sunday on the Monday after (5 U.S.C.
/// 6103(b) and the order made under it). Both the day itself and the day on which it is kept are listed: the
/// rule does not say which counts, and counting neither as a business day gives the buyer the longer time
/// (company rule). So the 31st of December is listed where the next New Year's Day is a Saturday.
#[must_use]
pub fn federal_holidays(year: i16) -> Vec<(Date, &'static str)> {
    let mut days: Vec<(Date, &'static str)> = Vec::with_capacity(16);
    for (month, nth, weekday, name) in MOVING {
        // Every month has a first to fourth and a last of each weekday; a year outside the calendar has none.
        let first = Date::new(year, month, 1);
        if let Ok(day) = first.and_then(|first| first.nth_weekday_of_month(nth, weekday)) {
            days.push((day, name));
        }
    }
    for (month, day, since, holiday) in &FIXED {
        if year < *since {
            continue;
        }
        if let Ok(day) = Date::new(year, *month, *day) {
            days.push((day, holiday.name));
            days.extend(total_on(day).map(|kept| (kept, holiday.kept)));
        }
    }
    if let Ok(next) = Date::new(year.saturating_add(1), 1, 1) {
        days.extend(total_on(next).map(|kept| (kept, NEW_YEAR.kept)));
    }
    days.retain(|(day, _)| day.year() == year);
    days.sort_unstable();
    days.dedup();
    days
}

/// The weekday on which a holiday is kept, where it falls on a weekend.
fn total_on(day: Date) -> Option<Date> {
    match day.weekday() {
        Weekday::Saturday => Some(day.saturating_sub(1.day())),
        Weekday::Sunday => Some(day.saturating_add(1.day())),
        _ => None,
    }
}

/// Whether a day is a business day of the rule: any day but a Sunday or a federal holiday. A Saturday counts
/// (16 CFR 429.0(f)).
#[must_use]
pub fn is_business_day(day: Date) -> bool {
    day.weekday() != Weekday::Sunday
        && !federal_holidays(day.year()).iter().any(|(holiday, _)| *holiday == day)
}

/// The last day on which the buyer may cancel, until midnight: the third business day after the day of
/// signing (16 CFR 429.1). Signed on Tuesday 24 November 2026, that is Saturday the 28th.
#[must_use]
pub fn cancel_by(signed: Date) -> Date {
    let mut day = signed;
    let mut business_days = 0;
    // Three business days never lie more than a fortnight ahead; the end of the calendar also stops the walk.
    while business_days < 3 && day < date(9999, 12, 31) {
        day = day.saturating_add(1.day());
        if is_business_day(day) {
            business_days += 1;
        }
    }
    day
}

/// The last day on which the buyer may cancel, where work is to begin before that day is over: what is torn off by then
/// cannot be taken back, and what was delivered must be fetched again (16 CFR 429.1(b)). The rule forbids no work; that
/// a careful firm waits is common practice.
#[must_use]
pub fn begins_while_cancelable(signed: Date, begins: Date) -> Option<Date> {
    let last = cancel_by(signed);
    (begins <= last).then_some(last)
}

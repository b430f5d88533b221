//! The work week, the span that overtime is calculated over, and what becomes of it when the firm begins its weeks on
//! another day.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// The first day of the work week that `date` lies in, where weeks begin on `first`.
///
/// A work week is seven days in a row that begin on the same weekday every time; which weekday is the firm's
/// to fix (29 CFR 778.105).
#[must_use]
pub fn week_start(date: Date, first: Weekday) -> Date {
    let days_in = date.weekday().since(first);
    date.saturating_sub(days_in.days())
}

/// One work week of the firm: seven days, or the fewer that are left between the last week of an old order and the
/// second week of a new one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkWeek {
    /// Its first day.
    pub first: Date,
    /// Its last day.
    pub last: Date,
    /// Where the first week of a new order begins inside the last week of the old one: that day. The days from then to
    /// the day before [`WorkWeek::first`] belong to both weeks (29 CFR 778.301).
    pub overlaps_from: Option<Date>,
}

impl WorkWeek {
    /// The weekday on which weeks of its order begin.
    #[must_use]
    pub fn begins_on(&self) -> Weekday {
        self.overlaps_from.unwrap_or(self.first).weekday()
    }

    /// Whether a day lies in it.
    #[must_use]
    pub fn holds(&self, day: Date) -> bool {
        self.first <= day && day <= self.last
    }
}

/// A change of the day on which weeks begin, that took effect.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Turn {
    /// The first day of the first week of the new order.
    from: Date,
    /// The last day of the last week of the old order.
    old_last: Date,
}

/// The firm's work weeks over all time: every day lies in exactly one of them.
///
/// A change takes effect with the first week of the new order that begins on or after its day, and not before the one
/// before it is through. The last week of the old order stays whole, so that no earlier day is paid anew; what is left
/// of the new order's first week is a short week ([`WorkWeek::overlaps_from`]) whose pay looks at both
/// (29 CFR 778.105, .301 and .302). A change that is taken back before it takes effect changes nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkWeeks {
    at_first: Weekday,
    turns: Vec<Turn>,
}

impl WorkWeeks {
    /// The weeks of a firm that begins them on `at_first`, and from each of these days, in order of time, on another
    /// weekday.
    #[must_use]
    pub fn new(at_first: Weekday, changes: &[(Date, Weekday)]) -> WorkWeeks {
        debug_assert!(changes.is_sorted_by_key(|(day, _)| *day), "changes come in order of time");
        let mut weeks = WorkWeeks { at_first, turns: Vec::new() };
        for (place, (day, weekday)) in changes.iter().enumerate() {
            let old = weeks.turns.last().map_or(at_first, |turn| turn.from.weekday());
            if *weekday == old {
                continue;
            }
            let through = weeks.turns.last().map(|turn| turn.from.saturating_add(7.days()));
            let earliest = through.map_or(*day, |through| through.max(*day));
            let from = week_start(earliest.saturating_add(6.days()), *weekday);
            if changes.get(place + 1).is_some_and(|(next, _)| *next <= from) {
                continue;
            }
            let old_last = week_start(from, old).saturating_add(6.days());
            debug_assert!(
                old_last > from.saturating_sub(1.day()) && earliest <= from,
                "the two weeks overlap"
            );
            weeks.turns.push(Turn { from, old_last });
        }
        weeks
    }

    /// The week that a day lies in.
    #[must_use]
    pub fn week(&self, day: Date) -> WorkWeek {
        let turn = self.turns.iter().rev().find(|turn| turn.old_last < day);
        let weekday = match turn {
            None => self.at_first,
            Some(turn) => {
                let last = turn.from.saturating_add(6.days());
                if day <= last {
                    let first = turn.old_last.saturating_add(1.day());
                    return WorkWeek { first, last, overlaps_from: Some(turn.from) };
                }
                turn.from.weekday()
            }
        };
        let first = week_start(day, weekday);
        WorkWeek { first, last: first.saturating_add(6.days()), overlaps_from: None }
    }

    /// The week after one.
    #[must_use]
    pub fn after(&self, week: &WorkWeek) -> WorkWeek {
        self.week(week.last.saturating_add(1.day()))
    }

    /// The week before one.
    #[must_use]
    pub fn before(&self, week: &WorkWeek) -> WorkWeek {
        self.week(week.first.saturating_sub(1.day()))
    }
}

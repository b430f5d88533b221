//! Costs that come again: on which day of a month one is due.

use jiff::civil::Date;

use crate::month::Month;

/// The day in a month on which a cost is due that was first due on `first` and comes each so many months: the same day
/// of the month, or the last day of a month that is shorter (company rule). `None` where it is not due in that month.
#[must_use]
pub fn due_in(first: Date, months_apart: i32, month: Month) -> Option<Date> {
    let begins = Month::of(first);
    let apart = (i32::from(month.year()) - i32::from(begins.year())) * 12
        + i32::from(month.first_day().month())
        - i32::from(begins.first_day().month());
    let due = months_apart > 0 && apart >= 0 && apart % months_apart == 0;
    due.then(|| {
        let last = month.last_day();
        month.first_day().with().day(first.day().min(last.day())).build().unwrap_or(last)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_cost_comes_on_its_day_or_on_the_last_of_a_shorter_month() {
        let month = |year, month| Month::of(date(year, month, 1));
        let first = date(2026, 1, 31);
        assert_eq!(due_in(first, 1, month(2026, 1)), Some(first));
        assert_eq!(due_in(first, 1, month(2026, 2)), Some(date(2026, 2, 28)));
        assert_eq!(due_in(first, 1, month(2026, 3)), Some(date(2026, 3, 31)));
        assert_eq!(due_in(first, 3, month(2026, 3)), None);
        assert_eq!(due_in(first, 3, month(2026, 4)), Some(date(2026, 4, 30)));
        assert_eq!(due_in(first, 12, month(2027, 1)), Some(date(2027, 1, 31)));
        assert_eq!(due_in(first, 1, month(2025, 12)), None);
        assert_eq!(due_in(first, 0, month(2026, 1)), None);
    }
}

//! Words out of the page, read or refused at their field.

use jiff::civil::Date;
use office::{Id, Month};

use crate::refusal::Refusal;

/// An id out of the page.
pub(crate) fn id(text: &str) -> Result<Id, Refusal> {
    Id::parse(text).map_err(|problem| {
        Refusal::of_field("id", format!("{problem}."), "Open the page again: it shows what is there now.")
    })
}

/// A day out of the page.
pub(crate) fn day(text: &str) -> Result<Date, Refusal> {
    text.parse()
        .map_err(|_| Refusal::of_field("date", format!("“{text}” is no day."), "Choose a day from the list."))
}

/// A month out of the page.
pub(crate) fn month(text: &str) -> Result<Month, Refusal> {
    Month::parse(text)
        .map_err(|error| Refusal::of_field("month", error.to_string(), "Choose a month from the list."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_are_no_id_day_or_month_are_refused_at_their_field() {
        assert_eq!(id("7").unwrap_err().field.as_deref(), Some("id"));
        assert_eq!(month("October").unwrap_err().field.as_deref(), Some("month"));
        assert_eq!(day("31.10.2026").unwrap_err().field.as_deref(), Some("date"));
        assert_eq!(day("2026-10-31").map(|day| day.to_string()).ok().as_deref(), Some("2026-10-31"));
        assert_eq!(month("2026-10").map(|month| month.to_string()).ok().as_deref(), Some("2026-10"));
    }
}

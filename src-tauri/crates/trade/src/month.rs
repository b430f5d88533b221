//! A calendar month, the span that is closed and handed off.

use std::fmt;

use jiff::civil::Date;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

/// Why a month was refused.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum MonthError {
    /// Not of the form year-month.
    #[error("The month \"{text}\" was not understood. Type the year and the month, such as 2026-10.")]
    NotAMonth {
        /// The text as typed.
        text: String,
    },
    /// A stored number that is no month.
    #[error("The number {key} is not a month. A month is kept as year and month together, such as 202610.")]
    NotAKey {
        /// The number as found.
        key: i32,
    },
}

/// One month of one year, in order of time. Years run from 1 to 9999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Month {
    year: i16,
    month: i8,
}

const FIRST_YEAR: i16 = 1;
const LAST_YEAR: i16 = 9999;

impl Month {
    /// The month that a date lies in.
    #[must_use]
    pub fn of(date: Date) -> Month {
        // Dates before year 1 are not dates of a business; they count as its first January.
        if date.year() < FIRST_YEAR {
            return Month { year: FIRST_YEAR, month: 1 };
        }
        Month { year: date.year(), month: date.month() }
    }

    /// Reads `2026-10`.
    ///
    /// # Errors
    /// If the text is not four digits, a hyphen and a month from 01 to 12.
    pub fn parse(text: &str) -> Result<Month, MonthError> {
        let refused = || MonthError::NotAMonth { text: text.to_owned() };
        let (year, month) = text.trim().split_once('-').ok_or_else(refused)?;
        let digits =
            |part: &str, wanted: usize| part.len() == wanted && part.bytes().all(|b| b.is_ascii_digit());
        if !digits(year, 4) || !digits(month, 2) {
            return Err(refused());
        }
        let year: i16 = year.parse().map_err(|_| refused())?;
        let month: i8 = month.parse().map_err(|_| refused())?;
        Month::checked(year, month).ok_or_else(refused)
    }

    fn checked(year: i16, month: i8) -> Option<Month> {
        let fits = (FIRST_YEAR..=LAST_YEAR).contains(&year) && (1..=12).contains(&month);
        fits.then_some(Month { year, month })
    }

    /// The month as one number that sorts in order of time: 202610 for October 2026.
    #[must_use]
    pub fn key(self) -> i32 {
        i32::from(self.year) * 100 + i32::from(self.month)
    }

    /// The month back from its number.
    ///
    /// # Errors
    /// If the number is not a year followed by a month from 01 to 12.
    pub fn from_key(key: i32) -> Result<Month, MonthError> {
        let refused = MonthError::NotAKey { key };
        match (i16::try_from(key.div_euclid(100)), i8::try_from(key.rem_euclid(100))) {
            (Ok(year), Ok(month)) => Month::checked(year, month).ok_or(refused),
            _ => Err(refused),
        }
    }

    /// The year.
    #[must_use]
    pub const fn year(self) -> i16 {
        self.year
    }

    /// The month of the year, 1 to 12.
    #[must_use]
    pub const fn month(self) -> i8 {
        self.month
    }

    /// The first day.
    #[must_use]
    pub const fn first_day(self) -> Date {
        jiff::civil::date(self.year, self.month, 1)
    }

    /// The last day, in leap years too.
    #[must_use]
    pub fn last_day(self) -> Date {
        self.first_day().last_of_month()
    }

    /// Whether a date lies in this month.
    #[must_use]
    pub fn contains(self, date: Date) -> bool {
        Month::of(date) == self
    }

    /// The month after. The last month there is stays where it is.
    #[must_use]
    pub fn next(self) -> Month {
        match (self.year, self.month) {
            (LAST_YEAR, 12) => self,
            (year, 12) => Month { year: year + 1, month: 1 },
            (year, month) => Month { year, month: month + 1 },
        }
    }

    /// The month before. The first month there is stays where it is.
    #[must_use]
    pub fn prev(self) -> Month {
        match (self.year, self.month) {
            (FIRST_YEAR, 1) => self,
            (year, 1) => Month { year: year - 1, month: 12 },
            (year, month) => Month { year, month: month - 1 },
        }
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}", self.year, self.month)
    }
}

impl std::str::FromStr for Month {
    type Err = MonthError;
    fn from_str(text: &str) -> Result<Month, MonthError> {
        Month::parse(text)
    }
}

impl Serialize for Month {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Month {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Month::parse(&text).map_err(serde::de::Error::custom)
    }
}

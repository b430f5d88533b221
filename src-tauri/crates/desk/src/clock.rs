//! The clock on the wall.

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use ledger::{Id, Salts};

/// Where the time and new ids come from.
#[derive(Clone, Debug)]
pub enum Clock {
    /// This machine's.
    System,
    /// A given moment, one millisecond later at each fact, so that the same input gives the same bytes.
    Fixed {
        /// The moment of the next fact.
        at: Timestamp,
        /// Facts made so far.
        made: u64,
    },
}

impl Clock {
    /// A clock that starts at a moment and is the same every time.
    #[must_use]
    pub fn fixed(at: Timestamp) -> Clock {
        Clock::Fixed { at, made: 0 }
    }

    /// Sets a fixed clock to the morning of a day; the system's own clock is left alone.
    pub fn set_day(&mut self, day: Date) {
        if let Clock::Fixed { at, .. } = self
            && let Ok(morning) = day.at(13, 0, 0, 0).to_zoned_datetime(TimeZone::UTC)
            && morning.timestamp() > *at
        {
            *at = morning.timestamp();
        }
    }

    /// The moment, and a new id made at it.
    pub fn tick(&mut self) -> (Timestamp, Id) {
        match self {
            Clock::System => (Timestamp::now(), Id::now()),
            Clock::Fixed { at, made } => {
                let moment = *at;
                *at = Timestamp::from_millisecond(moment.as_millisecond() + 1).unwrap_or(moment);
                *made += 1;
                (moment, Id::made_of(u64::try_from(moment.as_millisecond()).unwrap_or(0), *made))
            }
        }
    }

    /// Where the salts of sealed parts come from: with a fixed clock they too are the same every time.
    #[must_use]
    pub fn salts(&self) -> Salts {
        match self {
            Clock::System => Salts::Random,
            Clock::Fixed { .. } => Salts::OfId,
        }
    }

    /// Today, where the firm is.
    #[must_use]
    pub fn today(&self) -> Date {
        match self {
            Clock::System => ZonedDateTime::now().date(),
            Clock::Fixed { at, .. } => at.to_zoned_datetime(TimeZone::UTC).date(),
        }
    }
}

//! In which month a fact is booked: that of its own date, unless that month was closed before the fact came in.

use crate::error::LedgerError;
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::BTreeMap;
use trade::Month;

/// The months from which and until which a fact counts: it is booked in the first and its reversal in the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Booked in.
    pub from: Month,
    /// Its reversal is booked in.
    pub until: Option<Month>,
}

impl Span {
    /// Whether the fact is live at the end of a month: booked by then, and not reversed by then.
    #[must_use]
    pub fn is_live(&self, through: Month) -> bool {
        self.from <= through && self.until.is_none_or(|until| through < until)
    }
}

/// The closed months and how far each device's facts were in at each close.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Calendar {
    closes: BTreeMap<Month, BTreeMap<String, i64>>,
}

impl Calendar {
    /// Reads the closes of a ledger.
    ///
    /// # Errors
    /// When SQLite cannot read.
    pub fn read(conn: &Connection) -> Result<Calendar, LedgerError> {
        let mut calendar = Calendar::default();
        let mut months = conn.prepare_cached("SELECT month FROM month_closed")?;
        for key in months.query_map([], |row| row.get::<_, i32>(0))? {
            calendar.closes.entry(month(key?)?).or_default();
        }
        let mut marks = conn.prepare_cached(
            "SELECT c.month, d.device, d.through_seq FROM month_closed_device d JOIN month_closed c ON c.id = d.fact",
        )?;
        let rows = marks.query_map([], |row| {
            Ok((row.get::<_, i32>(0)?, row.get::<_, String>(1)?, row.get::<_, i64>(2)?))
        })?;
        for row in rows {
            let (key, device, through) = row?;
            calendar.closes.entry(month(key)?).or_default().insert(device, through);
        }
        Ok(calendar)
    }

    /// Adds a close that was just written.
    pub fn close(&mut self, month: Month, marks: impl IntoIterator<Item = (String, i64)>) {
        self.closes.insert(month, marks.into_iter().collect());
    }

    /// The last month that is closed.
    #[must_use]
    pub fn closed_through(&self) -> Option<Month> {
        self.closes.keys().next_back().copied()
    }

    /// Every closed month, earliest first.
    pub fn closed(&self) -> impl Iterator<Item = Month> + '_ {
        self.closes.keys().copied()
    }

    /// The first month in which an entry of this device and number may be booked, when months are closed to it.
    #[must_use]
    pub fn floor(&self, device: &str, device_seq: i64) -> Option<Month> {
        self.closes
            .iter()
            .rev()
            .find(|(_, marks)| marks.get(device).copied().unwrap_or(0) < device_seq)
            .map(|(month, _)| month.next())
    }

    /// The month in which a fact of this date is booked.
    #[must_use]
    pub fn booked(&self, date: Date, device: &str, device_seq: i64) -> Month {
        let own = Month::of(date);
        self.floor(device, device_seq).map_or(own, |floor| own.max(floor))
    }
}

fn month(key: i32) -> Result<Month, LedgerError> {
    Month::from_key(key).map_err(|error| LedgerError::Damaged {
        place: "month_closed.month".to_owned(),
        problem: error.to_string(),
    })
}

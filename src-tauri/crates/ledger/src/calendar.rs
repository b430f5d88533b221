//! In which month a fact is booked: that of its own date, unless that month was closed before the fact came in.

use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, damaged};
use crate::facts::MonthClosed;
use crate::id::Id;
use crate::read::{Books, Entered};
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet, HashMap};
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
        let counting = counting(conn)?;
        for month in counting.values() {
            calendar.closes.entry(*month).or_default();
        }
        let mut marks = conn.prepare_cached("SELECT fact, device, through_seq FROM month_closed_device")?;
        let mut rows = marks.query([])?;
        while let Some(row) = rows.next()? {
            let close = Id::load(row.get_ref(0)?).map_err(damaged("month_closed_device.fact"))?;
            let Some(month) = counting.get(&close) else { continue };
            calendar.closes.entry(*month).or_default().insert(row.get(1)?, row.get(2)?);
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

    /// Whether a month was closed when an entry of this device and number was in.
    #[must_use]
    pub fn closed_with(&self, month: Month, device: &str, device_seq: i64) -> bool {
        let mark = self.closes.get(&month).and_then(|marks| marks.get(device));
        mark.is_some_and(|mark| device_seq <= *mark)
    }

    /// How far a device's facts were in at the closes of a month and of all later ones: what it wrote up to there is
    /// not booked later than its own date on account of these.
    pub(crate) fn least_mark(&self, from: Month, device: &str) -> i64 {
        let marks = self.closes.range(from..).map(|(_, marks)| marks.get(device).copied().unwrap_or(0));
        marks.min().unwrap_or(0)
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

/// The closes that count. Two devices may each have closed a month before they knew of each other: the one first in
/// the order of devices counts everywhere, whichever came first, and that there are two is a question.
fn counting(conn: &Connection) -> Result<HashMap<Id, Month>, LedgerError> {
    let mut statement = conn.prepare_cached(&format!(
        "SELECT c.id, c.month FROM month_closed c CROSS JOIN entry e ON e.id = c.id ORDER BY {}",
        device::IN_ORDER
    ))?;
    let mut rows = statement.query([])?;
    let (mut months, mut counting) = (BTreeSet::new(), HashMap::new());
    while let Some(row) = rows.next()? {
        let month = Month::load(row.get_ref(1)?).map_err(damaged("month_closed.month"))?;
        if months.insert(month) {
            counting.insert(Id::load(row.get_ref(0)?).map_err(damaged("month_closed.id"))?, month);
        }
    }
    Ok(counting)
}

impl Books<'_> {
    /// The close of each closed month; where two devices closed one, the one that counts.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn closes(&self) -> Result<Vec<Entered<MonthClosed>>, LedgerError> {
        let counting = counting(self.conn)?;
        let mut closes = self.all::<MonthClosed>()?;
        closes.retain(|close| counting.contains_key(&close.entry.id));
        Ok(closes)
    }
}

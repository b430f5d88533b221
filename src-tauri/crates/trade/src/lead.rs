//! When the pamphlet on lead-based paint is in time, and how long its record is kept: 40 CFR 745.84 and 745.86.

use jiff::ToSpan;
use jiff::civil::Date;

/// The pamphlet is given at most so many days before the work begins.
const AT_MOST_DAYS_BEFORE: i64 = 60;

/// Where it is mailed, at least so many days before.
const MAILED_DAYS_BEFORE: i64 = 7;

/// How the day on which the pamphlet was given stands to the day on which the work begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PamphletStanding {
    /// As the rule asks.
    InTime,
    /// More than 60 days before: it has to be given again.
    TooEarly {
        /// How many days before.
        days: i64,
    },
    /// Mailed less than 7 days before.
    MailedTooLate {
        /// How many days before.
        days: i64,
    },
    /// Given once the work had begun.
    AfterTheBeginning,
}

/// Whether a pamphlet is in time. It is given no more than 60 days before the work begins; a receipt may be signed on
/// the day itself, before work, while a certificate of mailing is from at least 7 days before (40 CFR 745.84(a)(1)).
/// A receipt 60 days before is in time, 61 is not; mailed 7 days before is in time, 6 is not.
#[must_use]
pub fn pamphlet_standing(given: Date, mailed: bool, begins: Date) -> PamphletStanding {
    let days = i64::from((begins - given).get_days());
    match days {
        ..0 => PamphletStanding::AfterTheBeginning,
        days if days > AT_MOST_DAYS_BEFORE => PamphletStanding::TooEarly { days },
        days if mailed && days < MAILED_DAYS_BEFORE => PamphletStanding::MailedTooLate { days },
        _ => PamphletStanding::InTime,
    }
}

/// For work that begins on a day: the first day on which the pamphlet may be given, and the last on which it may be
/// mailed (40 CFR 745.84(a)(1)).
#[must_use]
pub fn pamphlet_days(begins: Date) -> (Date, Date) {
    (begins.saturating_sub(AT_MOST_DAYS_BEFORE.days()), begins.saturating_sub(MAILED_DAYS_BEFORE.days()))
}

/// Until when the record is kept: 3 years from the completion of the work (40 CFR 745.86(a)). A state may ask for more.
#[must_use]
pub fn lead_record_until(completed: Date) -> Date {
    completed.saturating_add(3.years())
}

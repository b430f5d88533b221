//! Dates that may be a slip of the year. A fact of 1926 or 2062 would stretch the books over a century of months, and
//! what other facts rest on cannot be taken back: so a person is asked first.

use crate::code::Code;
use crate::error::OfficeError;
use jiff::ToSpan;
use jiff::civil::Date;
use ledger::Fact;
use ledger::kind::Value;
use ledger::kinds::kind_spec;

/// How many years from today a date is taken without asking: far enough for a job's warranty file typed in later, near
/// enough for the slips that keys and optical readers make (*common practice, no source*).
const YEARS: i64 = 5;

/// Refuses a fact with a day that may be a slip, unless its field is among those that somebody is sure of.
pub(crate) fn check(fact: &Fact, today: Date, sure_of: &[String]) -> Result<(), OfficeError> {
    let Some(spec) = kind_spec(fact.kind()) else { return Ok(()) };
    let record = fact.record();
    let near = today.saturating_sub(YEARS.years())..=today.saturating_add(YEARS.years());
    let columns = spec.own.columns.iter().zip(&spec.own.days).zip(&record.own);
    for ((column, _), value) in columns.filter(|((column, is_day), _)| **is_day && !sure_of.contains(column))
    {
        let Value::Text(text) = value else { continue };
        let Ok(day) = text.parse::<Date>() else { continue };
        if !near.contains(&day) {
            let problem = format!("{} is more than {YEARS} years from today", trade::shown::day(day));
            let refused = OfficeError::refused(
                column.as_str(),
                &problem,
                format!("Correct the year; if it is right, record the fact with \"sure_of\": [\"{column}\"]"),
            );
            return Err(OfficeError { code: Code::UnusualDate, ..refused });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use serde_json::json;

    fn cost(day: &str) -> Fact {
        let id = ledger::Id::now().to_string();
        let body = json!({"date": day, "account": id, "description": "Yard", "amount": "1.00",
            "owed_from": "set-aside"});
        Fact::from_json("overhead-cost", body).unwrap()
    }

    #[test]
    fn a_slip_of_the_year_is_asked_about_and_a_late_paper_is_not() {
        let today = date(2026, 11, 28);
        for day in ["2021-11-28", "2024-02-29", "2031-11-28"] {
            assert_eq!(check(&cost(day), today, &[]), Ok(()), "{day}");
        }
        for day in ["1926-11-28", "2062-11-28", "2999-01-01", "2021-11-27", "2031-11-29"] {
            let refused = check(&cost(day), today, &[]).unwrap_err();
            assert_eq!((refused.code, refused.field.as_deref()), (Code::UnusualDate, Some("date")), "{day}");
            assert_eq!(check(&cost(day), today, &["date".to_owned()]), Ok(()), "{day}");
            assert!(check(&cost(day), today, &["due".to_owned()]).is_err(), "{day}");
        }
    }
}

//! What a year's payments to a subcontractor ask to be reported: which count, and from which sum on.

use crate::money::Money;

/// From which sum of a calendar year payments for work are reported to whoever was paid and to the tax office:
/// 2,000.00 for payments from 2026 on, 600.00 before (IRC 6041(a) as amended by P.L. 119-21, section 70433). From 2027
/// on the sum is indexed: whoever files looks up that year's.
#[must_use]
pub fn reported_from(year: i16) -> Money {
    Money::from_minor(if year >= 2026 { 200_000 } else { 60_000 })
}

/// Whether a year's payments to one payee are reported: the sum or more of it, by the day of payment. What was paid by
/// card is left out: whoever settles cards reports that.
#[must_use]
pub fn is_reported(year: i16, paid: Money, of_it_by_card: Money) -> bool {
    paid - of_it_by_card >= reported_from(year)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m(dollars: i64) -> Money {
        Money::from_minor(dollars * 100)
    }

    /// Examples worked out by hand from the thresholds of the law and “or more”.
    #[test]
    fn a_years_payments_are_reported_from_the_sum_of_its_own_year_on() {
        assert!(is_reported(2026, m(2_000), Money::ZERO));
        assert!(!is_reported(2026, m(2_000) - Money::from_minor(1), Money::ZERO));
        assert!(is_reported(2025, m(600), Money::ZERO) && !is_reported(2025, m(599), Money::ZERO));
        // 1,200 at the end of one year and 900 at the beginning of the next: neither year.
        assert!(!is_reported(2026, m(1_200), Money::ZERO) && !is_reported(2027, m(900), Money::ZERO));
        // 2,000 of which 500 by card: 1,500 count.
        assert!(!is_reported(2026, m(2_000), m(500)));
    }
}

//! Why a code came out dearer or cheaper than its standard: the price paid, or the amount used.
//!
//! Every variance here is signed by what it does to the margin: positive is favorable, negative is not.

use crate::money::Money;

/// The two halves of a variance: from the price (or pay) and from the quantity (or hours). They sum exactly to standard
/// − actual.
///
/// `used_at_standard` is what the quantity really used would have cost at the standard price, so that the first half is
/// (standard price − actual price) × actual quantity and the second (standard quantity − actual quantity) × standard
/// price (the formulas as in OpenStax vol. 2 ch. 8). Each amount is rounded once, and what is lost to rounding lies in
/// none of the halves (company rule).
#[must_use]
pub fn two_way(actual: Money, used_at_standard: Money, standard: Money) -> (Money, Money) {
    (used_at_standard - actual, standard - used_at_standard)
}

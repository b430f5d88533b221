//! How a figure is worked out from its terms: the few ways in which terms join, and how the result is rounded.

use rust_decimal::Decimal;

use crate::closed_list;
use crate::money::{Money, Qty, Rate};
use crate::split::split;

/// How the terms of a working join.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Join {
    /// Added up, each with its sign.
    Sum,
    /// Multiplied.
    Product,
    /// The first, divided by each that follows.
    Quotient,
    /// The first × the second ÷ the third, divided last.
    Proportion,
    /// The largest counts.
    Larger,
    /// The smallest counts.
    Smaller,
    /// One part of the first, which is split in proportion to the others so that no cent is lost.
    Share,
}

closed_list!(Join, "way to join terms", {
    Sum => "sum",
    Product => "product",
    Quotient => "quotient",
    Proportion => "proportion",
    Larger => "larger",
    Smaller => "smaller",
    Share => "share",
});

/// How what comes out is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Rounding {
    /// Not at all.
    None,
    /// To the cent, half away from zero.
    Cent,
    /// To the ten-thousandth that quantities are kept in, half away from zero.
    TenThousandth,
    /// To the millionth that rates are kept in, half away from zero.
    Millionth,
}

closed_list!(Rounding, "rounding", {
    None => "none",
    Cent => "cent",
    TenThousandth => "ten-thousandth",
    Millionth => "millionth",
});

/// Joins the terms and rounds once. `part` is the share that is taken, counted from 1, and says nothing elsewhere.
///
/// `None` where something is divided by nothing, a proportion has not three terms, or a share no such part.
#[must_use]
pub fn join_terms(join: Join, rounding: Rounding, part: usize, terms: &[Decimal]) -> Option<Decimal> {
    let (first, rest) = terms.split_first().map_or((Decimal::ZERO, &[][..]), |(first, rest)| (*first, rest));
    let joined = match join {
        Join::Sum => terms.iter().sum(),
        Join::Product => rest.iter().try_fold(first, |product, factor| product.checked_mul(*factor))?,
        Join::Quotient => rest.iter().try_fold(first, |quotient, divisor| quotient.checked_div(*divisor))?,
        Join::Proportion => match rest {
            [factor, divisor] => first.checked_mul(*factor)?.checked_div(*divisor)?,
            _ => return None,
        },
        Join::Larger => rest.iter().fold(first, |largest, term| largest.max(*term)),
        Join::Smaller => rest.iter().fold(first, |smallest, term| smallest.min(*term)),
        Join::Share => split(Money::rounded(first), rest).ok()?.get(part.checked_sub(1)?)?.decimal(),
    };
    Some(match rounding {
        Rounding::None => joined,
        Rounding::Cent => Money::rounded(joined).decimal(),
        Rounding::TenThousandth => Qty::rounded(joined).decimal(),
        Rounding::Millionth => Rate::rounded(joined).decimal(),
    })
}

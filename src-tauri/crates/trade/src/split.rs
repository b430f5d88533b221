//! Splitting an amount over lines without losing or making a cent.

use rust_decimal::Decimal;
use thiserror::Error;

use crate::money::Money;

/// Why an amount could not be split.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SplitError {
    /// A weight below zero.
    #[error(
        "Line {line} has the weight {weight}, which is below zero. Give every line a weight of zero or more."
    )]
    NegativeWeight {
        /// Which line, counted from 1.
        line: usize,
        /// The weight given.
        weight: Decimal,
    },
    /// An amount, but no line to carry it.
    #[error("There is {total} to split but no line to put it on. Add a line first.")]
    NoLines {
        /// What was to be split.
        total: Money,
    },
}

/// Splits `total` over lines in proportion to `weights`; the parts always sum to `total`.
///
/// Each line first gets its share cut down to whole cents, and the cents left over go one each to the lines
/// with the largest remainder, ties to the earlier line. Weights that are all zero say nothing about shares,
/// so the split is then equal. A negative total is split as its positive and negated, so that a reversal
/// splits into the exact negatives (largest remainder; company rule).
///
/// # Errors
/// If a weight is negative, or there is an amount but no line.
pub fn split(total: Money, weights: &[Decimal]) -> Result<Vec<Money>, SplitError> {
    if let Some((at, weight)) = weights.iter().enumerate().find(|(_, weight)| **weight < Decimal::ZERO) {
        return Err(SplitError::NegativeWeight { line: at + 1, weight: *weight });
    }
    if weights.is_empty() {
        return if total.is_zero() { Ok(Vec::new()) } else { Err(SplitError::NoLines { total }) };
    }
    let cents = i128::from(total.abs().minor());
    let parts = whole_parts(cents, &whole_weights(weights));
    let parts: Vec<Money> = parts.into_iter().map(|part| signed(part, total.is_negative())).collect();
    debug_assert_eq!(parts.iter().sum::<Money>(), total, "a split keeps its sum");
    Ok(parts)
}

fn signed(cents: i128, negative: bool) -> Money {
    let cents = i64::try_from(cents).unwrap_or(i64::MAX);
    Money::from_minor(if negative { -cents } else { cents })
}

/// The largest whole weight: its product with any amount of cents still fits an i128.
const MOST_WEIGHT: i128 = 1_000_000_000_000_000_000;

/// The weights as whole numbers in the same proportion.
///
/// Amounts, quantities and their products become whole exactly, at the finest scale among them. Weights so
/// fine or so large that this would not fit are measured against the heaviest, to eighteen decimals.
fn whole_weights(weights: &[Decimal]) -> Vec<i128> {
    let heaviest = weights.iter().copied().max().unwrap_or(Decimal::ZERO);
    if heaviest.is_zero() {
        return vec![1; weights.len()];
    }
    let scale = weights.iter().map(|weight| weight.normalize().scale()).max().unwrap_or(0);
    let exact: Option<Vec<i128>> = weights.iter().map(|weight| whole_at(*weight, scale)).collect();
    exact.unwrap_or_else(|| {
        let shares = weights.iter().map(|weight| (*weight / heaviest).round_dp(18));
        shares.map(|share| whole_at(share, 18).unwrap_or(0)).collect()
    })
}

fn whole_at(weight: Decimal, scale: u32) -> Option<i128> {
    let weight = weight.normalize();
    let factor = 10_i128.checked_pow(scale.checked_sub(weight.scale())?)?;
    weight.mantissa().checked_mul(factor).filter(|whole| *whole <= MOST_WEIGHT)
}

/// Shares of `cents`, cut down and then topped up a cent at a time by largest remainder.
fn whole_parts(cents: i128, weights: &[i128]) -> Vec<i128> {
    let all: i128 = weights.iter().sum();
    let mut parts: Vec<i128> = weights.iter().map(|weight| cents * weight / all).collect();
    let left = cents - parts.iter().sum::<i128>();
    let mut by_remainder: Vec<usize> = (0..weights.len()).collect();
    // The sort is stable, so lines with the same remainder stay in their order.
    by_remainder.sort_by_key(|at| std::cmp::Reverse(cents * weights[*at] % all));
    for at in by_remainder.into_iter().take(usize::try_from(left).unwrap_or(0)) {
        parts[at] += 1;
    }
    parts
}

//! Exact amounts: money, quantities and rates, and the one place where a line is rounded.
//!
//! All three are decimals with a fixed number of places, because a dollar that has been a binary
//! fraction once can no longer be trusted to the cent. Money has two places (only currencies with two
//! minor digits are kept, see [`Currency`](crate::currency::Currency)), a quantity four, a rate six.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

/// What is wrong with a typed or computed amount, and what to type instead.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum AmountError {
    /// Nothing was typed.
    #[error("The {what} is empty. Type a number such as {example}.")]
    Empty {
        /// What was being read: amount, quantity or rate.
        what: &'static str,
        /// A number of the right shape.
        example: &'static str,
    },
    /// Commas, spaces or apostrophes between the digits.
    #[error(
        "The {what} \"{text}\" has a comma or a space in it. Type it without grouping, with a point before \
         the decimals, such as {example}."
    )]
    Grouped {
        /// What was being read.
        what: &'static str,
        /// The text as typed.
        text: String,
        /// A number of the right shape.
        example: &'static str,
    },
    /// Anything else that is not a plain decimal number.
    #[error(
        "The {what} \"{text}\" is not a plain number. Type only digits, a point and a leading minus, such as {example}."
    )]
    NotANumber {
        /// What was being read.
        what: &'static str,
        /// The text as typed.
        text: String,
        /// A number of the right shape.
        example: &'static str,
    },
    /// More decimal places than the amount can hold.
    #[error(
        "The {what} {text} has more than {most} decimals. Type it with at most {most}, such as {example}."
    )]
    TooFine {
        /// What was being read.
        what: &'static str,
        /// The text as typed.
        text: String,
        /// The most decimals allowed.
        most: u32,
        /// A number of the right shape.
        example: &'static str,
    },
    /// Outside the range that the ledger keeps.
    #[error("The {what} {text} is too large. The most that can be kept is {most}; check for extra digits.")]
    TooLarge {
        /// What was being read.
        what: &'static str,
        /// The text as typed.
        text: String,
        /// The largest size allowed, in words a person would type.
        most: &'static str,
    },
}

/// The shape of one of the three kinds of number.
struct Shape {
    what: &'static str,
    example: &'static str,
    places: u32,
    most: Decimal,
    most_text: &'static str,
}

// A roofer's largest line is far below this, and 92 million lines at the limit still add up within an i64 of cents.
const MONEY: Shape = Shape {
    what: "amount",
    example: "1234.50",
    places: 2,
    most: fixed(99_999_999_999, 2),
    most_text: "999999999.99",
};

// The limits of quantities and rates are chosen so that any product of the two still fits an i64 of cents.
const QTY: Shape = Shape {
    what: "quantity",
    example: "12.5",
    places: 4,
    most: fixed(999_999_999_999, 4),
    most_text: "99999999.9999",
};

const RATE: Shape = Shape {
    what: "rate",
    example: "0.062",
    places: 6,
    most: fixed(9_999_999_999_999, 6),
    most_text: "9999999.999999",
};

/// A decimal of `units` at `places` decimal places, usable in constants.
const fn fixed(units: i64, places: u32) -> Decimal {
    let [a, b, c, d, e, f, g, h] = units.unsigned_abs().to_le_bytes();
    let low = u32::from_le_bytes([a, b, c, d]);
    let middle = u32::from_le_bytes([e, f, g, h]);
    Decimal::from_parts(low, middle, 0, units < 0, places)
}

impl Shape {
    fn parse(&self, text: &str) -> Result<Decimal, AmountError> {
        let (what, example) = (self.what, self.example);
        let text = text.trim();
        if text.is_empty() {
            return Err(AmountError::Empty { what, example });
        }
        let digits = text.strip_prefix('-').unwrap_or(text);
        let plain = digits.chars().all(|c| c.is_ascii_digit() || c == '.');
        if !plain {
            let is_group = |c: char| matches!(c, ',' | '\'' | '\u{2019}') || c.is_whitespace();
            let grouped = digits.chars().any(is_group)
                && digits.chars().all(|c| c.is_ascii_digit() || c == '.' || is_group(c));
            let text = text.to_owned();
            return Err(if grouped {
                AmountError::Grouped { what, text, example }
            } else {
                AmountError::NotANumber { what, text, example }
            });
        }
        let (whole, fraction) = match digits.split_once('.') {
            Some((whole, fraction)) => (whole, Some(fraction)),
            None => (digits, None),
        };
        let fraction_ok = fraction.is_none_or(|f| !f.is_empty() && !f.contains('.'));
        if whole.is_empty() || !fraction_ok {
            return Err(AmountError::NotANumber { what, text: text.to_owned(), example });
        }
        if fraction.is_some_and(|f| f.len() > usize::try_from(self.places).unwrap_or(0)) {
            return Err(AmountError::TooFine { what, text: text.to_owned(), most: self.places, example });
        }
        // A digit string too long for a decimal is simply too large.
        let value = text.parse::<Decimal>().map_err(|_| self.too_large(text))?;
        self.check(value, text)
    }

    fn exact(&self, value: Decimal) -> Result<Decimal, AmountError> {
        if value.normalize().scale() > self.places {
            return Err(AmountError::TooFine {
                what: self.what,
                text: value.to_string(),
                most: self.places,
                example: self.example,
            });
        }
        self.check(value, &value.to_string())
    }

    fn check(&self, value: Decimal, text: &str) -> Result<Decimal, AmountError> {
        if value.abs() > self.most { Err(self.too_large(text)) } else { Ok(value) }
    }

    fn too_large(&self, text: &str) -> AmountError {
        AmountError::TooLarge { what: self.what, text: text.to_owned(), most: self.most_text }
    }

    /// The value as a whole number of its smallest unit. Values outside an i64 stop at its ends, so that a
    /// caller that compares after reading back sees the difference instead of a wrapped number.
    fn units(&self, mut value: Decimal) -> i64 {
        value.rescale(self.places);
        i64::try_from(value.mantissa()).unwrap_or(if value.is_sign_negative() { i64::MIN } else { i64::MAX })
    }
}

/// Zero has no sign: `-0.00` must never be shown or hashed.
fn unsigned_zero(value: Decimal) -> Decimal {
    if value.is_zero() { Decimal::ZERO } else { value }
}

/// An amount of money in the ledger's currency, exact to the cent.
///
/// Sums and differences of amounts are exact; anything that multiplies or divides goes through
/// [`Money::rounded`], once, at the line (company rule).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Money(Decimal);

impl Money {
    /// Nothing.
    pub const ZERO: Money = Money::from_minor(0);

    /// The largest amount that [`Money::parse`] takes, 999,999,999.99.
    pub const MOST: Money = Money(MONEY.most);

    /// An amount from whole cents.
    #[must_use]
    pub const fn from_minor(cents: i64) -> Money {
        Money(fixed(cents, 2))
    }

    /// The amount in whole cents.
    #[must_use]
    pub fn minor(self) -> i64 {
        MONEY.units(self.0)
    }

    /// Rounds to the cent, half away from zero. The one rounding a line gets; half away from zero makes the
    /// reversal of a line round to the line's exact negative (company rule).
    #[must_use]
    pub fn rounded(value: Decimal) -> Money {
        Money::of(value.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero))
    }

    /// Takes a decimal that already is a whole number of cents.
    ///
    /// # Errors
    /// If a third decimal is not zero, or the size is over [`Money::MOST`].
    pub fn exact(value: Decimal) -> Result<Money, AmountError> {
        MONEY.exact(value).map(Money::of)
    }

    /// Reads a plain amount such as `-1234.50`: at most two decimals, no grouping, no currency sign.
    ///
    /// # Errors
    /// Says what was wrong with the text and what to type.
    pub fn parse(text: &str) -> Result<Money, AmountError> {
        MONEY.parse(text).map(Money::of)
    }

    fn of(value: Decimal) -> Money {
        let mut value = unsigned_zero(value);
        value.rescale(2);
        Money(value)
    }

    /// The amount as a decimal with two places.
    #[must_use]
    pub const fn decimal(self) -> Decimal {
        self.0
    }

    /// The same amount as the price of one thing; exact, since a rate has more places.
    #[must_use]
    pub fn as_rate(self) -> Rate {
        Rate::of(self.0)
    }

    /// The size without the sign.
    #[must_use]
    pub fn abs(self) -> Money {
        Money(self.0.abs())
    }

    /// Whether this is exactly nothing.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.0.is_zero()
    }

    /// Whether this is below zero.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0 < Decimal::ZERO
    }

    /// Whether it is above zero.
    #[must_use]
    pub fn is_positive(self) -> bool {
        self > Money::ZERO
    }

    /// The larger of the two.
    #[must_use]
    pub fn max(self, other: Money) -> Money {
        Ord::max(self, other)
    }

    /// The smaller of the two.
    #[must_use]
    pub fn min(self, other: Money) -> Money {
        Ord::min(self, other)
    }

    /// For people: thousands grouped with commas and a true minus (U+2212), `−1,234.50`.
    #[must_use]
    pub fn grouped(self) -> String {
        let plain = self.abs().to_string();
        let (whole, cents) = plain.split_once('.').unwrap_or((&plain, "00"));
        let mut out = String::new();
        if self.is_negative() {
            out.push('\u{2212}');
        }
        for (at, digit) in whole.chars().enumerate() {
            if at > 0 && (whole.len() - at).is_multiple_of(3) {
                out.push(',');
            }
            out.push(digit);
        }
        out.push('.');
        out.push_str(cents);
        out
    }
}

/// A count, an area, a length, a weight or hours: exact, at most four decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Qty(Decimal);

impl Qty {
    /// None.
    pub const ZERO: Qty = Qty::from_e4(0);

    /// A quantity from whole ten-thousandths.
    #[must_use]
    pub const fn from_e4(units: i64) -> Qty {
        Qty(fixed(units, 4))
    }

    /// So many whole ones.
    #[must_use]
    pub fn whole(number: i64) -> Qty {
        Qty::of(Decimal::from(number))
    }

    /// The same number as a rate; exact, since a rate has more places.
    #[must_use]
    pub fn as_rate(self) -> Rate {
        Rate::of(self.0)
    }

    /// The size without the sign.
    #[must_use]
    pub fn abs(self) -> Qty {
        Qty::of(self.0.abs())
    }

    /// The quantity in whole ten-thousandths.
    #[must_use]
    pub fn e4(self) -> i64 {
        QTY.units(self.0)
    }
}

/// A price per unit, pay per hour, or a share: exact, at most six decimals. A percentage is kept as a
/// fraction, so 6.2 % is 0.062.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(type = "string"))]
pub struct Rate(Decimal);

impl Rate {
    /// Nothing.
    pub const ZERO: Rate = Rate::from_e6(0);

    /// A rate from whole millionths.
    #[must_use]
    pub const fn from_e6(units: i64) -> Rate {
        Rate(fixed(units, 6))
    }

    /// The rate in whole millionths.
    #[must_use]
    pub fn e6(self) -> i64 {
        RATE.units(self.0)
    }
}

/// The price of a line: unit price times quantity, multiplied exactly and rounded once, half away from
/// zero, at the line (company rule).
#[must_use]
pub fn line_amount(unit_price: Rate, quantity: Qty) -> Money {
    Money::rounded(unit_price.0 * quantity.0)
}

/// What money, quantities and rates have in common: exact sums, a plain text form, and that text in serde.
macro_rules! exact_arithmetic {
    ($name:ident) => {
        impl Default for $name {
            fn default() -> Self {
                $name::ZERO
            }
        }

        impl Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name::of(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = $name;
            fn sub(self, other: $name) -> $name {
                $name::of(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = $name;
            fn neg(self) -> $name {
                $name::of(-self.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: $name) {
                *self = *self + other;
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: $name) {
                *self = *self - other;
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = $name>>(iter: I) -> $name {
                iter.fold($name::ZERO, Add::add)
            }
        }

        impl<'a> Sum<&'a $name> for $name {
            fn sum<I: Iterator<Item = &'a $name>>(iter: I) -> $name {
                iter.copied().sum()
            }
        }

        impl std::str::FromStr for $name {
            type Err = AmountError;
            fn from_str(text: &str) -> Result<$name, AmountError> {
                $name::parse(text)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
                $name::parse(&text).map_err(serde::de::Error::custom)
            }
        }
    };
}

/// What quantities and rates share beyond that: reading, and a text form without trailing zeros.
macro_rules! exact_number {
    ($name:ident, $shape:ident) => {
        impl $name {
            /// Reads a plain number, with no grouping and no unit.
            ///
            /// # Errors
            /// Says what was wrong with the text and what to type.
            pub fn parse(text: &str) -> Result<$name, AmountError> {
                $shape.parse(text).map($name::of)
            }

            /// Takes a decimal that already is exact at this number of places.
            ///
            /// # Errors
            /// If it has more decimals than can be kept, or is too large.
            pub fn exact(value: Decimal) -> Result<$name, AmountError> {
                $shape.exact(value).map($name::of)
            }

            /// The value, rounded half away from zero to the places that can be kept; for figures that are
            /// worked out (a division) and not typed.
            #[must_use]
            pub fn rounded(value: Decimal) -> $name {
                $name::of(value.round_dp_with_strategy($shape.places, RoundingStrategy::MidpointAwayFromZero))
            }

            fn of(value: Decimal) -> $name {
                $name(unsigned_zero(value).normalize())
            }

            /// The value as a decimal.
            #[must_use]
            pub const fn decimal(self) -> Decimal {
                self.0
            }

            /// Whether this is exactly zero.
            #[must_use]
            pub fn is_zero(self) -> bool {
                self.0.is_zero()
            }

            /// Whether this is below zero.
            #[must_use]
            pub fn is_negative(self) -> bool {
                self.0 < Decimal::ZERO
            }

            /// Whether this is above zero.
            #[must_use]
            pub fn is_positive(self) -> bool {
                self.0 > Decimal::ZERO
            }

            /// The larger of the two.
            #[must_use]
            pub fn max(self, other: $name) -> $name {
                Ord::max(self, other)
            }

            /// The smaller of the two.
            #[must_use]
            pub fn min(self, other: $name) -> $name {
                Ord::min(self, other)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0.normalize(), f)
            }
        }

        exact_arithmetic!($name);
    };
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

exact_arithmetic!(Money);
exact_number!(Qty, QTY);
exact_number!(Rate, RATE);

//! Figures as a test types them.

use rust_decimal::Decimal;
use trade::{Money, Qty, Rate};

pub(crate) fn m(text: &str) -> Money {
    Money::parse(text).unwrap()
}

pub(crate) fn q(text: &str) -> Qty {
    Qty::parse(text).unwrap()
}

pub(crate) fn r(text: &str) -> Rate {
    Rate::parse(text).unwrap()
}

pub(crate) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

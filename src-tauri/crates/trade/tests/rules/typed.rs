//! Figures as a test types them.

use rust_decimal::Decimal;
use trade::{CostKind, Money, Qty, Rate, WalkCode};

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

/// A code of a margin walk of which nothing is counted.
pub(crate) fn code(name: &str, kind: CostKind, contracted: &str, actual: &str, forecast: &str) -> WalkCode {
    WalkCode {
        code: name.to_owned(),
        kind,
        contracted: m(contracted),
        contracted_quantity: None,
        contracted_hours: Qty::ZERO,
        actual: m(actual),
        actual_quantity: None,
        used_by_part: None,
        actual_hours: Qty::ZERO,
        forecast: m(forecast),
        units_contracted: None,
        units_done: Qty::ZERO,
        finished: true,
    }
}

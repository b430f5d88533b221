//! A bill held against what was ordered and what came.

use crate::money::{Money, Qty};

/// How many, and for how much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amounted {
    /// How many; none where nothing is counted.
    pub quantity: Option<Qty>,
    /// For how much, before tax.
    pub amount: Money,
}

/// What of a billed line is to be paid as it stands; the rest of it is a question to the vendor.
///
/// Contract, receiving report and invoice must agree before it is paid (5 CFR 1315.9). No more is paid than came, and
/// no more for one than was ordered; a lower price on the bill holds. Where either is not counted, the smaller amount
/// of the two is paid. 30 ordered for 3,300.00, 28 came, 30 billed for 3,360.00: 3,080.00 is paid and 280.00 asked
/// about (computed).
#[must_use]
pub fn to_pay(ordered: Amounted, came: Option<Qty>, billed: Amounted) -> Money {
    let (Some(of), Some(on_bill)) = (above_zero(ordered.quantity), above_zero(billed.quantity)) else {
        return ordered.amount.min(billed.amount);
    };
    let counted = came.unwrap_or(on_bill).min(on_bill).decimal();
    let at = |amount: Money, quantity: Qty| amount.decimal() * counted / quantity.decimal();
    Money::rounded(at(ordered.amount, of).min(at(billed.amount, on_bill)))
}

fn above_zero(quantity: Option<Qty>) -> Option<Qty> {
    quantity.filter(|quantity| *quantity > Qty::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(quantity: Option<i64>, cents: i64) -> Amounted {
        Amounted {
            quantity: quantity.map(|count| Qty::from_e4(count * 10_000)),
            amount: Money::from_minor(cents),
        }
    }

    #[test]
    fn no_more_is_paid_than_came_and_no_more_for_one_than_was_ordered() {
        let came = |count: i64| Some(Qty::from_e4(count * 10_000));
        let (ordered, billed) = (of(Some(30), 330_000), of(Some(30), 336_000));
        assert_eq!(to_pay(ordered, came(28), billed), Money::from_minor(308_000));
        assert_eq!(
            to_pay(ordered, None, billed),
            Money::from_minor(330_000),
            "nobody counted: the price alone"
        );
        assert_eq!(to_pay(ordered, came(31), billed), Money::from_minor(330_000), "more came than is billed");
        assert_eq!(
            to_pay(ordered, None, of(Some(30), 300_000)),
            Money::from_minor(300_000),
            "a lower price holds"
        );
        assert_eq!(to_pay(ordered, came(0), billed), Money::ZERO);
        assert_eq!(to_pay(of(None, 50_000), None, of(None, 55_000)), Money::from_minor(50_000));
        assert_eq!(to_pay(of(Some(0), 0), None, of(Some(2), 55_000)), Money::ZERO, "never ordered");
    }
}

//! A vendor's statement held against the books: what the two say of each bill, and why their balances differ.

use crate::money::Money;
use serde::Serialize;
use std::collections::BTreeMap;

/// A bill as one side has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListedBill {
    /// The number on it.
    pub number: String,
    /// What is open of it; below zero on a credit.
    pub open: Money,
}

/// How the two sides differ about a bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub enum StatementGap {
    /// The vendor lists it, and the books hold no bill of that number.
    NotInBooks,
    /// The vendor lists it as open, and by the books it is settled.
    SettledInBooks,
    /// Open on both sides, with different amounts.
    OtherAmount,
    /// Open by the books, and the vendor does not list it.
    NotListed,
}

/// A bill of which the two sides say different things.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differing {
    /// How.
    pub gap: StatementGap,
    /// The place of the bill among those of the books, where they hold it.
    pub booked: Option<usize>,
    /// The number as the vendor writes it; else as the books have it.
    pub number: String,
    /// Open by the statement.
    pub theirs: Money,
    /// Open by the books.
    pub ours: Money,
}

impl Differing {
    /// By how much the statement asks for more than the books.
    #[must_use]
    pub fn amount(&self) -> Money {
        self.theirs - self.ours
    }
}

/// What both are compared by: “TF 7983”, “tf-7983” and “TF7983” are one number.
fn same(number: &str) -> String {
    number.chars().filter(|sign| sign.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Holds the lines of a vendor's statement against the vendor's bills in the books, settled ones among them, number by
/// number (common practice, no source). Lines of one number count together. What the differences come to is exactly the
/// statement's balance less that of the books.
#[must_use]
pub fn compare_statement(listed: &[ListedBill], booked: &[ListedBill]) -> Vec<Differing> {
    let mut sides: BTreeMap<String, Differing> = BTreeMap::new();
    let none = |number: &str| Differing {
        gap: StatementGap::NotInBooks,
        booked: None,
        number: number.trim().to_owned(),
        theirs: Money::ZERO,
        ours: Money::ZERO,
    };
    for line in listed {
        sides.entry(same(&line.number)).or_insert_with(|| none(&line.number)).theirs += line.open;
    }
    let mut is_listed: Vec<String> = sides.keys().cloned().collect();
    is_listed.sort();
    for (place, bill) in booked.iter().enumerate() {
        let side = sides.entry(same(&bill.number)).or_insert_with(|| none(&bill.number));
        side.ours += bill.open;
        side.booked = side.booked.or(Some(place));
    }
    let differing = sides.into_iter().filter(|(_, side)| side.theirs != side.ours).map(|(key, side)| {
        let gap = match (is_listed.binary_search(&key).is_ok(), side.booked) {
            (false, _) => StatementGap::NotListed,
            (true, None) => StatementGap::NotInBooks,
            (true, Some(_)) if side.ours == Money::ZERO => StatementGap::SettledInBooks,
            (true, Some(_)) => StatementGap::OtherAmount,
        };
        Differing { gap, ..side }
    });
    let mut differing: Vec<Differing> = differing.collect();
    differing.sort_by(|left, right| (left.gap, &left.number).cmp(&(right.gap, &right.number)));
    differing
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bill(number: &str, cents: i64) -> ListedBill {
        ListedBill { number: number.to_owned(), open: Money::from_minor(cents) }
    }

    #[test]
    fn every_way_in_which_two_sides_differ_is_told_and_comes_to_what_their_balances_differ_by() {
        let listed = [
            bill("TF 1", 10_000),
            bill("tf-2", 5_000),
            bill("TF-3", 7_000),
            bill("TF-9", 900),
            bill("C-1", -300),
        ];
        let booked = [
            bill("TF-1", 10_000),
            bill("TF-2", 4_000),
            bill("TF-3", 0),
            bill("TF-4", 2_500),
            bill("C-1", -300),
        ];
        let found = compare_statement(&listed, &booked);
        let told: Vec<_> = found.iter().map(|each| (each.gap, each.number.as_str(), each.booked)).collect();
        assert_eq!(
            told,
            [
                (StatementGap::NotInBooks, "TF-9", None),
                (StatementGap::SettledInBooks, "TF-3", Some(2)),
                (StatementGap::OtherAmount, "tf-2", Some(1)),
                (StatementGap::NotListed, "TF-4", Some(3)),
            ]
        );
        let sum = |side: &[ListedBill]| -> Money { side.iter().map(|each| each.open).sum() };
        let differences: Money = found.iter().map(Differing::amount).sum();
        assert_eq!(differences, sum(&listed) - sum(&booked));
        assert_eq!(differences, Money::from_minor(900 + 7_000 + 1_000 - 2_500));
    }

    #[test]
    fn lines_of_one_number_count_together_and_a_settled_bill_that_nobody_lists_is_no_difference() {
        let listed = [bill("77", 6_000), bill("77", 4_000)];
        assert_eq!(compare_statement(&listed, &[bill("77", 10_000), bill("76", 0)]), []);
        assert_eq!(compare_statement(&[], &[]), []);
        let twice = compare_statement(&listed, &[bill("77", 6_000)]);
        assert_eq!((twice.len(), twice[0].amount()), (1, Money::from_minor(4_000)));
    }
}

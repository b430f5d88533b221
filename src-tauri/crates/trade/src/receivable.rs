//! What customers owe: by age, what may not come in, payments applied, and retainage held.

use jiff::civil::Date;
use serde::Serialize;

use crate::closed_list;
use crate::money::{Money, Rate};

/// How long past its due date an amount is (common practice).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Age {
    /// Not yet past due.
    Current,
    /// 1 to 30 days past due.
    #[cfg_attr(feature = "ts", ts(rename = "1-30"))]
    D1To30,
    /// 31 to 60 days past due.
    #[cfg_attr(feature = "ts", ts(rename = "31-60"))]
    D31To60,
    /// 61 to 90 days past due.
    #[cfg_attr(feature = "ts", ts(rename = "61-90"))]
    D61To90,
    /// More than 90 days past due.
    #[cfg_attr(feature = "ts", ts(rename = "over-90"))]
    Over90,
}

closed_list!(Age, "span of days past due", {
    Current => "current": "Not yet due",
    D1To30 => "1-30": "1–30 days",
    D31To60 => "31-60": "31–60 days",
    D61To90 => "61-90": "61–90 days",
    Over90 => "over-90": "Over 90 days",
});

/// The age of an amount by its days past due; due today, or later, is current.
#[must_use]
pub const fn age_bucket(days_past_due: i32) -> Age {
    match days_past_due {
        ..=0 => Age::Current,
        1..=30 => Age::D1To30,
        31..=60 => Age::D31To60,
        61..=90 => Age::D61To90,
        91.. => Age::Over90,
    }
}

/// One invoice's open amount, retainage apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenItem {
    /// When it falls due.
    pub due: Date,
    /// What is still open. What a customer has to their credit is no open item: it never grows old.
    pub open: Money,
}

/// Open amounts by age. The five sum to all that is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AgeTable {
    /// Not yet past due.
    pub current: Money,
    /// 1 to 30 days past due.
    pub days_1_to_30: Money,
    /// 31 to 60 days past due.
    pub days_31_to_60: Money,
    /// 61 to 90 days past due.
    pub days_61_to_90: Money,
    /// More than 90 days past due.
    pub over_90: Money,
}

impl AgeTable {
    /// The open amount of one age.
    #[must_use]
    pub const fn get(&self, age: Age) -> Money {
        match age {
            Age::Current => self.current,
            Age::D1To30 => self.days_1_to_30,
            Age::D31To60 => self.days_31_to_60,
            Age::D61To90 => self.days_61_to_90,
            Age::Over90 => self.over_90,
        }
    }

    /// Adds an amount to one age.
    pub fn add(&mut self, age: Age, amount: Money) {
        let cell = match age {
            Age::Current => &mut self.current,
            Age::D1To30 => &mut self.days_1_to_30,
            Age::D31To60 => &mut self.days_31_to_60,
            Age::D61To90 => &mut self.days_61_to_90,
            Age::Over90 => &mut self.over_90,
        };
        *cell += amount;
    }

    /// Each age with its amount.
    pub fn rows(&self) -> impl Iterator<Item = (Age, Money)> {
        Age::ALL.iter().map(|age| (*age, self.get(*age)))
    }

    /// All that is open.
    #[must_use]
    pub fn total(&self) -> Money {
        self.rows().map(|(_, amount)| amount).sum()
    }

    /// Of that, what is past due.
    #[must_use]
    pub fn past_due(&self) -> Money {
        self.total() - self.current
    }
}

/// Days from `due` to `as_of`; below zero while it is not yet due.
#[must_use]
pub fn days_past_due(due: Date, as_of: Date) -> i32 {
    // Between dates a span is given in days alone, so nothing hides in months or years.
    (as_of - due).get_days()
}

/// The open amounts by age on a day.
#[must_use]
pub fn aging(items: &[OpenItem], as_of: Date) -> AgeTable {
    let mut table = AgeTable::default();
    for item in items {
        table.add(age_bucket(days_past_due(item.due, as_of)), item.open);
    }
    table
}

/// Applies a payment to open invoices, the oldest due date first, earlier in the list where dates are equal.
///
/// Gives what goes to each invoice, in the order of the list, and what is left over. The two sum to `amount`;
/// no invoice gets more than is open on it. A payment of nothing or less applies to nothing (oldest
/// first unless told: company rule).
#[must_use]
pub fn apply_oldest_first(amount: Money, open: &[(Date, Money)]) -> (Vec<Money>, Money) {
    let mut applied = vec![Money::ZERO; open.len()];
    let mut left = amount;
    let mut by_due: Vec<usize> = (0..open.len()).collect();
    by_due.sort_by_key(|at| open[*at].0);
    for at in by_due {
        let part = left.min(open[at].1).max(Money::ZERO);
        applied[at] = part;
        left -= part;
    }
    (applied, left)
}

/// The part of a bill that the customer holds back until the work is accepted, rounded once.
///
/// 10 % of 10,000 holds 1,000 and pays 9,000 (FAR 32.103 for the rule, computed).
#[must_use]
pub fn retainage(amount: Money, rate: Rate) -> Money {
    Money::rounded(amount.decimal() * rate.decimal())
}

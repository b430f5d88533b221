//! Hidden conditions: what the price already covers, what is billed beyond it, and what is never recovered.

use rust_decimal::Decimal;

use crate::money::{Money, Qty, Rate};
use crate::price::price_at_markup;
use crate::split::split;

/// How one condition was met: so much by what the price includes, the rest beyond it. In the condition's own unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct IncludedUse {
    /// Covered by the included sheets (or feet of board).
    pub covered: Qty,
    /// Beyond them, to be priced by a change order.
    pub beyond: Qty,
}

/// Uses up the included sheets on the conditions in the order given.
///
/// Included sheets come first, then the change order's unit price (company
/// rule). For every condition, covered + beyond is its count, and all covered together never exceed `included`.
#[must_use]
pub fn use_included(included: Qty, counts: &[Qty]) -> Vec<IncludedUse> {
    let mut left = included.max(Qty::ZERO);
    let meet = |count: Qty| {
        let covered = count.min(left).max(Qty::ZERO);
        left -= covered;
        IncludedUse { covered, beyond: count - covered }
    };
    counts.iter().copied().map(meet).collect()
}

/// A condition's cost, split the way its count was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CostOfCondition {
    /// The part that the price already pays for.
    pub covered: Money,
    /// The part to set against what is billed.
    pub beyond: Money,
}

/// Splits what a condition cost into the covered part and the part beyond, by count; the two sum to `cost`.
///
/// A condition without a count (a lump of work) is covered by nothing, so all of it is beyond (company rule).
#[must_use]
pub fn beyond_share(cost: Money, used: IncludedUse) -> CostOfCondition {
    if !used.covered.is_positive() {
        return CostOfCondition { covered: Money::ZERO, beyond: cost };
    }
    let weights = [used.covered.decimal(), used.beyond.decimal().max(Decimal::ZERO)];
    match split(cost, &weights).as_deref() {
        Ok([covered, beyond]) => CostOfCondition { covered: *covered, beyond: *beyond },
        // Two weights that are not negative always split in two; were it otherwise, nothing is covered.
        _ => CostOfCondition { covered: Money::ZERO, beyond: cost },
    }
}

/// The part of a quantity that is beyond the included sheets, split by count as the cost is (company rule). Where
/// nothing is covered, all of it.
#[must_use]
pub fn beyond_quantity(quantity: Qty, used: IncludedUse) -> Qty {
    let count = used.covered + used.beyond;
    if used.covered.is_zero() || count.is_zero() {
        return quantity;
    }
    Qty::rounded(quantity.decimal() * used.beyond.decimal() / count.decimal())
}

/// Recovery: billed ÷ spent, unrounded. `None` where nothing was spent (company rule).
#[must_use]
pub fn recovery(billed: Money, spent: Money) -> Option<Decimal> {
    (spent > Money::ZERO).then(|| billed.decimal() / spent.decimal())
}

/// Unrecovered cost: what was spent and never billed, where nothing more will be billed. Never below zero, because a
/// condition that paid for itself does not make up for one that was given away (company rule).
#[must_use]
pub fn unrecovered(spent: Money, billed: Money, will_be_billed: bool) -> Money {
    if will_be_billed { Money::ZERO } else { (spent - billed).max(Money::ZERO) }
}

/// What hidden conditions will have cost: what is spent once the job has ended; until then the larger of that and the
/// cost that is approved for them (company rule).
#[must_use]
pub fn forecast_of_conditions(spent: Money, approved_cost: Money, ended: bool) -> Money {
    if ended { spent } else { spent.max(approved_cost) }
}

/// What is owed for a change by time and material: what the work came to, once it is done; until then what was
/// expected, or what it has come to where that is more (company rule).
#[must_use]
pub fn owed_so_far(come_to: Money, expected: Money, done: bool) -> Money {
    if done { come_to } else { come_to.max(expected) }
}

/// The part of what is owed or billed of a change order that is for its work: the lines with a price. A deduct
/// never lowers what was billed for the work beside it.
///
/// Of an order of 180.00 for work less a deduct of 100.00, 80.00 is owed; once that is billed, the work is billed with
/// 180.00, and with half of it once half is. What is billed beyond the whole is for the work, and so is what pulls the
/// other way than the whole. Where work and deduct are the same, the one has paid for the other (company rule).
#[must_use]
pub fn part_for_work(amount: Money, owed: Money, deducts: Money) -> Money {
    let work = owed - deducts;
    match billed_as(amount, owed, deducts) {
        BilledAs::Work => amount,
        BilledAs::PartOfWhole => Money::rounded(work.decimal() * amount.decimal() / owed.decimal()),
        BilledAs::Beyond => work + (amount - owed).max(Money::ZERO),
    }
}

/// How an amount billed of a change order stands to the whole of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BilledAs {
    /// All of it is for the work: there is no deduct, or it pulls the other way than the whole.
    Work,
    /// It is a part of the whole, or all of it: the same part of the work.
    PartOfWhole,
    /// It is beyond the whole: all of the work, and what is beyond.
    Beyond,
}

/// How an amount stands to the whole of a change order with these deducts (company rule).
#[must_use]
pub fn billed_as(amount: Money, owed: Money, deducts: Money) -> BilledAs {
    let pulls_the_other_way =
        (owed > Money::ZERO && amount.is_negative()) || (owed.is_negative() && amount > Money::ZERO);
    if deducts.is_zero() || pulls_the_other_way {
        BilledAs::Work
    } else if owed.is_zero() || amount.abs() > owed.abs() {
        BilledAs::Beyond
    } else {
        BilledAs::PartOfWhole
    }
}

/// What is owed or billed of a change order's work, dealt to its conditions and its other work by their prices; the
/// parts sum to the amount (largest remainder; company rule).
#[must_use]
pub fn deal_to_work(amount: Money, prices: &[Money]) -> Vec<Money> {
    let weights: Vec<Decimal> = prices.iter().map(|price| (*price).max(Money::ZERO).decimal()).collect();
    // No weight is below zero, so the split fails only where there is nothing to deal to.
    split(amount, &weights).unwrap_or_default()
}

/// What a change order by time and material comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Priced {
    /// What is billed.
    pub price: Money,
    /// Whether the agreed most held the price down.
    pub capped: bool,
    /// What cost and markup come to beyond the agreed most: work that is not billed.
    pub unrecovered: Money,
}

/// Prices work by time and material: cost marked up and rounded once, but never above what was agreed as the most.
///
/// Price + unrecovered cost is always the marked-up cost. Cost at or below zero (returns outweigh what was used) is
/// not held to the most.
#[must_use]
pub fn time_and_material(cost: Money, markup: Rate, not_to_exceed: Option<Money>) -> Priced {
    let full = price_at_markup(cost, markup);
    // A most below zero would have the firm pay for its own work.
    let price = not_to_exceed.map_or(full, |most| most.max(Money::ZERO).min(full));
    Priced { price, capped: price < full, unrecovered: full - price }
}

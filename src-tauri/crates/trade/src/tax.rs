//! Sales tax on what is billed or bought.

use crate::closed_list;
use crate::money::{Money, Rate};

/// Where the tax is rounded: the seller's choice, item by item or on the invoice as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TaxBy {
    /// Once, on the sum of the taxable lines.
    Invoice,
    /// On each line, and the lines' taxes added.
    Item,
}

closed_list!(TaxBy, "way of calculation tax", { Invoice => "invoice", Item => "item" });

/// The sales tax on the taxable `lines` at `rate` (a fraction: 8.25 % is 0.0825).
///
/// The tax is carried to the third decimal by cutting the rest off, and goes up to the next cent where that
/// third decimal is more than four; rounding at the third decimal first would round twice and make 1.03 at
/// 7.25 % eight cents where it is seven. The seller may do so by item or by invoice (Streamlined Sales and
/// Use Tax Agreement §324, as enacted in N.D.C.C. 57-39.4-25). A credit memo's tax is the exact negative of
/// the invoice's (company rule).
#[must_use]
pub fn sales_tax(lines: &[Money], rate: Rate, by: TaxBy) -> Money {
    match by {
        TaxBy::Invoice => tax_on(lines.iter().sum(), rate),
        TaxBy::Item => lines.iter().map(|line| tax_on(*line, rate)).sum(),
    }
}

fn tax_on(amount: Money, rate: Rate) -> Money {
    Money::rounded((amount.decimal() * rate.decimal()).trunc_with_scale(3))
}

/// The sales tax that is foreseen on a purchase at `rate`, rounded once to the cent, half up. What a vendor then really
/// charges stands on the bill, and that counts (company rule).
#[must_use]
pub fn tax_foreseen(amount: Money, rate: Rate) -> Money {
    Money::rounded(amount.decimal() * rate.decimal())
}

/// The rate behind taxes that were already rounded, bill by bill: tax ÷ base to four places (company rule: a rate has
/// few decimals, and more of them would only show the rounding of the bills). Zero where there is no base.
#[must_use]
pub fn rate_behind(tax: Money, base: Money) -> Rate {
    if base.is_zero() { Rate::ZERO } else { Rate::rounded((tax.decimal() / base.decimal()).round_dp(4)) }
}

//! What an hour of labor costs beyond the pay: employer taxes, workers' compensation, liability, benefits.

use rust_decimal::Decimal;

use crate::labor::{LaborError, OvertimeRule, PremiumSpread, WeekPay, WorkLine, week_pay};
use crate::money::{Money, Qty, Rate};
use crate::split::split;

/// What one part of the burden is calculated on. Rates are data with dates and never constants of this crate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BurdenBasis {
    /// A share of pay, such as an employer tax.
    PercentOfPay {
        /// A fraction: 6.2 % is 0.062.
        rate: Rate,
        /// The pay of one person in one year above which nothing more is due.
        wage_base: Option<Money>,
    },
    /// So many dollars for each hundred of pay, such as workers' compensation or liability.
    PerHundredOfPay {
        /// Dollars for each hundred.
        rate: Rate,
        /// The work class that it is for; for every class where `None`.
        class: Option<String>,
        /// Whether the overtime premium counts as pay here. Most carriers leave it out.
        premium_included: bool,
    },
    /// So much an hour worked, such as benefits.
    PerHour {
        /// Dollars an hour.
        amount: Rate,
    },
}

/// One named part of the burden.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BurdenPart {
    /// The firm's name for it.
    pub name: String,
    /// What it is calculated on.
    pub basis: BurdenBasis,
}

/// The burden of one person's week: one amount for each part, in order, each rounded once.
///
/// `straight` is straight time with any bonus, `premium` the overtime premium, `paid_before_in_year` what the
/// person was paid in the year before this week. A tax with a wage base is due only on the part of this week's
/// pay that still fits below it, so that the base runs out during the year. A part for a work class is due
/// only where the person works in that class. (rates as in OpenStax vol. 1, read;
/// overtime premium outside workers' compensation: common practice, and the firm's carrier decides.)
#[must_use]
pub fn week_burden(
    parts: &[BurdenPart],
    class: Option<&str>,
    straight: Money,
    premium: Money,
    hours: Qty,
    paid_before_in_year: Money,
) -> Vec<Money> {
    let of_part = |part: &BurdenPart| match &part.basis {
        BurdenBasis::PercentOfPay { rate, wage_base } => {
            let pay = straight + premium;
            let taxed = match wage_base {
                Some(base) => pay.min((*base - paid_before_in_year).max(Money::ZERO)),
                None => pay,
            };
            Money::rounded(taxed.decimal() * rate.decimal())
        }
        BurdenBasis::PerHundredOfPay { rate, class: only, premium_included } => {
            if !applies(only.as_deref(), class) {
                return Money::ZERO;
            }
            let pay = if *premium_included { straight + premium } else { straight };
            Money::rounded(pay.decimal() * rate.decimal() / Decimal::ONE_HUNDRED)
        }
        BurdenBasis::PerHour { amount } => Money::rounded(hours.decimal() * amount.decimal()),
    };
    parts.iter().map(of_part).collect()
}

fn applies(only: Option<&str>, class: Option<&str>) -> bool {
    only.is_none_or(|only| class == Some(only))
}

/// What one line of work costs the firm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LoadedLine {
    /// Straight time with the line's share of any bonus.
    pub straight: Money,
    /// The line's share of the overtime premium.
    pub premium: Money,
    /// The line's share of the burden.
    pub burden: Money,
}

impl LoadedLine {
    /// All that the line costs.
    #[must_use]
    pub fn total(&self) -> Money {
        self.straight + self.premium + self.burden
    }
}

/// What one person's week costs the firm, line by line and in total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadedWeek {
    /// One for each line of work, in order.
    pub lines: Vec<LoadedLine>,
    /// The pay it came from, with the regular rate and the overtime hours.
    pub pay: WeekPay,
    /// The burden of the week by part, in the order of the parts.
    pub parts: Vec<Money>,
    /// Each part spread over the lines: by part, then by line.
    pub parts_by_line: Vec<Vec<Money>>,
    /// Straight time and bonus of the week.
    pub straight: Money,
    /// Overtime premium of the week.
    pub premium: Money,
    /// Burden of the week.
    pub burden: Money,
    /// All together.
    pub total: Money,
}

/// The loaded cost of one person's week: pay by [`week_pay`], burden by [`week_burden`], and each part of the
/// burden spread over the lines of work by the pay that it is calculated on, or by hours where it is so much an
/// hour. Spreading keeps sums, so the lines sum to the week to the cent (company rule).
///
/// # Errors
/// As [`week_pay`].
pub fn loaded_week(
    work: &[WorkLine],
    bonus: Money,
    rule: &OvertimeRule,
    spread: PremiumSpread,
    parts: &[BurdenPart],
    class: Option<&str>,
    paid_before_in_year: Money,
) -> Result<LoadedWeek, LaborError> {
    let pay = week_pay(work, bonus, rule, spread)?;
    let mut lines: Vec<LoadedLine> = pay
        .straight
        .iter()
        .zip(&pay.bonus)
        .zip(&pay.premium)
        .map(|((straight, bonus), premium)| LoadedLine {
            straight: *straight + *bonus,
            premium: *premium,
            burden: Money::ZERO,
        })
        .collect();
    let straight: Money = lines.iter().map(|line| line.straight).sum();
    let premium = pay.premium_total;
    let burden = week_burden(parts, class, straight, premium, pay.hours, paid_before_in_year);

    let mut parts_by_line = Vec::with_capacity(parts.len());
    for (part, amount) in parts.iter().zip(&burden) {
        // A week without lines has no pay and no hours, so every part is zero and splits into nothing.
        let shares = split(*amount, &weights(part, work, &lines))?;
        for (line, share) in lines.iter_mut().zip(&shares) {
            line.burden += *share;
        }
        parts_by_line.push(shares);
    }
    let burden_total: Money = burden.iter().sum();
    Ok(LoadedWeek {
        lines,
        pay,
        parts: burden,
        parts_by_line,
        straight,
        premium,
        burden: burden_total,
        total: straight + premium + burden_total,
    })
}

fn weights(part: &BurdenPart, work: &[WorkLine], lines: &[LoadedLine]) -> Vec<Decimal> {
    let straight = |line: &LoadedLine| line.straight.decimal();
    let with_premium = |line: &LoadedLine| (line.straight + line.premium).decimal();
    match &part.basis {
        BurdenBasis::PerHour { .. } => work.iter().map(|line| line.hours.decimal()).collect(),
        BurdenBasis::PerHundredOfPay { premium_included: false, .. } => lines.iter().map(straight).collect(),
        BurdenBasis::PerHundredOfPay { .. } | BurdenBasis::PercentOfPay { .. } => {
            lines.iter().map(with_premium).collect()
        }
    }
}

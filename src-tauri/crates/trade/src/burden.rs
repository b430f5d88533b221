//! What an hour of labor costs beyond the pay: employer taxes, workers' compensation, liability, benefits.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::labor::{LaborError, Week, WeekPay, week_pay};
use crate::money::{Money, Qty, Rate};
use crate::split::split;

/// What one part of the burden is calculated on. Rates are data with dates and never constants of this crate. A part by
/// the hour knows no pay, so that it has neither a premium to count nor a wage base to run out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BurdenBasis {
    /// A share of pay, such as an employer tax.
    PercentOfPay {
        /// A fraction: 6.2 % is 0.062.
        rate: Rate,
        /// Which pay.
        pay: PayCounted,
    },
    /// So many dollars for each hundred of pay, such as workers' compensation or liability.
    PerHundredOfPay {
        /// Dollars for each hundred.
        rate: Rate,
        /// Which pay.
        pay: PayCounted,
    },
    /// So much an hour worked, such as benefits.
    PerHour {
        /// Dollars an hour.
        amount: Rate,
    },
}

/// Which pay a part of the burden counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PayCounted {
    /// Whether the overtime premium counts as pay here. Payroll taxes count it; most carriers leave it out of workers'
    /// compensation.
    pub premium: bool,
    /// The pay of one person in one year above which nothing more is due.
    pub wage_base: Option<Money>,
}

impl PayCounted {
    /// The part of this week's pay that still counts.
    fn of(self, week: Earned, before: Earned) -> Money {
        let pay = |earned: Earned| earned.straight + if self.premium { earned.premium } else { Money::ZERO };
        match self.wage_base {
            Some(base) => pay(week).min((base - pay(before)).max(Money::ZERO)),
            None => pay(week),
        }
    }
}

/// One named part of the burden.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BurdenPart {
    /// The firm's name for it.
    pub name: String,
    /// The work class that it is for; for every class where `None`.
    pub class: Option<String>,
    /// What it is calculated on.
    pub basis: BurdenBasis,
}

/// What one person earned and worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Earned {
    /// Straight time with any bonus.
    pub straight: Money,
    /// Overtime premium.
    pub premium: Money,
    /// Hours.
    pub hours: Qty,
}

impl Earned {
    fn and(self, more: Earned) -> Earned {
        Earned {
            straight: self.straight + more.straight,
            premium: self.premium + more.premium,
            hours: self.hours + more.hours,
        }
    }
}

/// The burden of one person's week: one amount for each part, in order, each rounded once.
///
/// `before` is what the person earned in the year before this week. A part with a wage base is due only on the part of
/// this week's pay that still fits below it, so that the base runs out during the year; what was earned before counts
/// towards the base as this week does, with the premium or without it. A part for a work class is due only where the
/// person works in that class, whatever it is calculated on. (Rates as in OpenStax vol. 1, read; overtime premium
/// outside workers' compensation: common practice, and the firm's carrier decides.)
#[must_use]
pub fn week_burden(parts: &[BurdenPart], class: Option<&str>, week: Earned, before: Earned) -> Vec<Money> {
    let of_part = |part: &BurdenPart| {
        if !applies(part.class.as_deref(), class) {
            return Money::ZERO;
        }
        match &part.basis {
            BurdenBasis::PercentOfPay { rate, pay } => {
                Money::rounded(pay.of(week, before).decimal() * rate.decimal())
            }
            BurdenBasis::PerHundredOfPay { rate, pay } => {
                Money::rounded(pay.of(week, before).decimal() * rate.decimal() / Decimal::ONE_HUNDRED)
            }
            BurdenBasis::PerHour { amount } => Money::rounded(week.hours.decimal() * amount.decimal()),
        }
    };
    parts.iter().map(of_part).collect()
}

fn applies(only: Option<&str>, class: Option<&str>) -> bool {
    only.is_none_or(|only| class == Some(only))
}

/// What is due on pay from a day on, until the next such spell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BurdenSpell {
    /// From this day.
    pub from: Date,
    /// The parts of the burden.
    pub parts: Vec<BurdenPart>,
    /// The person's work class.
    pub class: Option<String>,
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
    /// The burden of the week by part, spell by spell, in the order of the parts.
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
/// Where rates or the person's class change inside the week, or a month begins, the burden of each day goes by its own:
/// the pay of the days before is settled by itself, and counts towards the wage bases of the days after it (company
/// rule).
/// The first spell holds for every day before the second.
///
/// # Errors
/// As [`week_pay`].
pub fn loaded_week(
    week: &Week<'_>,
    spells: &[BurdenSpell],
    paid_before: Earned,
) -> Result<LoadedWeek, LaborError> {
    debug_assert!(spells.is_sorted_by_key(|spell| spell.from), "spells come in order of time");
    let pay = week_pay(week)?;
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
    let (mut parts, mut parts_by_line) = (Vec::new(), Vec::new());
    let mut before = paid_before;
    for (at, spell) in spells.iter().enumerate() {
        let until = spells.get(at + 1).map(|next| next.from);
        let holds = |day: Date| (at == 0 || spell.from <= day) && until.is_none_or(|until| day < until);
        let inside: Vec<bool> = week.work.iter().map(|line| holds(line.date)).collect();
        let earned = earned_inside(week, &lines, &inside);
        for (part, amount) in
            spell.parts.iter().zip(week_burden(&spell.parts, spell.class.as_deref(), earned, before))
        {
            let shares = split_inside(amount, &weights(part, week, &lines), &inside)?;
            for (line, share) in lines.iter_mut().zip(&shares) {
                line.burden += *share;
            }
            parts.push(amount);
            parts_by_line.push(shares);
        }
        before = before.and(earned);
    }
    let burden: Money = parts.iter().sum();
    let total = straight + premium + burden;
    Ok(LoadedWeek { lines, pay, parts, parts_by_line, straight, premium, burden, total })
}

fn earned_inside(week: &Week<'_>, lines: &[LoadedLine], inside: &[bool]) -> Earned {
    let those = week.work.iter().zip(lines).zip(inside).filter(|(_, inside)| **inside);
    those.fold(Earned::default(), |sum, ((work, line), _)| {
        sum.and(Earned { straight: line.straight, premium: line.premium, hours: work.hours })
    })
}

/// Splits over the lines that are inside; the others get nothing.
fn split_inside(amount: Money, weights: &[Decimal], inside: &[bool]) -> Result<Vec<Money>, LaborError> {
    let those: Vec<Decimal> =
        weights.iter().zip(inside).filter(|(_, inside)| **inside).map(|(weight, _)| *weight).collect();
    // Without lines there is no pay and there are no hours, so every part is zero and splits into nothing.
    let mut shares = split(amount, &those)?.into_iter();
    Ok(inside
        .iter()
        .map(|inside| if *inside { shares.next().unwrap_or_default() } else { Money::ZERO })
        .collect())
}

fn weights(part: &BurdenPart, week: &Week<'_>, lines: &[LoadedLine]) -> Vec<Decimal> {
    match &part.basis {
        BurdenBasis::PerHour { .. } => week.work.iter().map(|line| line.hours.decimal()).collect(),
        BurdenBasis::PerHundredOfPay { pay, .. } | BurdenBasis::PercentOfPay { pay, .. } => lines
            .iter()
            .map(|line| {
                line.straight.decimal() + if pay.premium { line.premium.decimal() } else { Decimal::ZERO }
            })
            .collect(),
    }
}

//! One person's pay for one work week: straight time, bonus and the overtime premium.
//!
//! The rules are those of 29 CFR Part 778. They are calculated a week and a person at a time, because overtime
//! is: two jobs of thirty hours each make a week of sixty.

use jiff::civil::{Date, Weekday};
use rust_decimal::Decimal;
use thiserror::Error;

use crate::closed_list;
use crate::money::{Money, Qty, Rate};
use crate::split::{SplitError, split};
use crate::week::week_start;

/// Why a week could not be calculated.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LaborError {
    /// Lines from more than one work week.
    #[error(
        "The hours of {date} are not in the work week that begins on {week}. Calculate each week on its own."
    )]
    AnotherWeek {
        /// The day that does not belong.
        date: Date,
        /// The first day of the week of the first line.
        week: Date,
    },
    /// Hours below zero.
    #[error("The hours of {date} are {hours}, below zero. Reverse the time entry that was wrong instead.")]
    NegativeHours {
        /// The day.
        date: Date,
        /// The hours as given.
        hours: Qty,
    },
    /// Pay an hour below zero.
    #[error("The pay rate of {date} is {rate}, below zero. Enter the pay an hour as zero or more.")]
    NegativeRate {
        /// The day.
        date: Date,
        /// The rate as given.
        rate: Rate,
    },
    /// A bonus below zero.
    #[error("The bonus is {bonus}, below zero. Enter a bonus of zero or more.")]
    NegativeBonus {
        /// The bonus as given.
        bonus: Money,
    },
    /// An overtime threshold below zero.
    #[error("The overtime rule begins after {hours} hours, below zero. Set it to zero hours or more.")]
    NegativeThreshold {
        /// The threshold as given.
        hours: Qty,
    },
    /// A bonus in a week without a line of work to carry it.
    #[error("There is a bonus of {bonus} but no work in the week to carry it. Enter the hours first.")]
    BonusWithoutWork {
        /// The bonus as given.
        bonus: Money,
    },
    /// An amount that could not be spread over the lines.
    #[error(transparent)]
    Split(#[from] SplitError),
}

/// Hours of one person on one job and code on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkLine {
    /// The day worked.
    pub date: Date,
    /// The hours.
    pub hours: Qty,
    /// The pay an hour for this work.
    pub rate: Rate,
    /// Whether the person says that this work is what made the week run over.
    pub caused_overtime: bool,
}

/// The hours a week above which overtime begins under federal law, which knows no overtime by the day (29 U.S.C.
/// 207(a)(1)).
pub const FEDERAL_WEEK: Qty = Qty::from_e4(400_000);

/// When overtime begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OvertimeRule {
    /// Hours a week above which overtime begins; [`FEDERAL_WEEK`] where nothing else is set.
    pub weekly_over: Qty,
    /// Hours a day above which it begins, where the firm's state has such a rule.
    pub daily_over: Option<Qty>,
    /// The weekday on which the firm's work week begins.
    pub first_weekday: Weekday,
}

/// Which lines of work carry the week's overtime premium.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PremiumSpread {
    /// All of them, by hours: no job is dear only because it came on a Friday.
    ByHours,
    /// Those that caused it, by hours. Where none is said to have, all of them.
    ToCause,
}

closed_list!(PremiumSpread, "way to spread the overtime premium", { ByHours => "by-hours", ToCause => "to-cause" });

/// A week's pay, line by line. Every list is in the order of the lines of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeekPay {
    /// Hours × rate over the week, rounded once as payroll does, and split over the lines by what each earned.
    pub straight: Vec<Money>,
    /// The bonus, spread by hours.
    pub bonus: Vec<Money>,
    /// The week's premium, rounded once and spread.
    pub premium: Vec<Money>,
    /// Pay an hour over the whole week, unrounded; zero in a week without hours.
    pub regular_rate: Decimal,
    /// All hours of the week.
    pub hours: Qty,
    /// The hours paid at half as much again.
    pub overtime_hours: Qty,
    /// The week's premium.
    pub premium_total: Money,
    /// Straight time, bonus and premium together.
    pub total: Money,
}

/// The old week beside a short one, where the firm's weeks begin on another day from now on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Overlap<'a> {
    /// The day on which the first week of the new order begins, inside the old week.
    pub from: Date,
    /// The work of the old week, all seven days.
    pub work: &'a [WorkLine],
    /// The bonuses of the old week, by their day.
    pub bonuses: &'a [(Date, Money)],
    /// The rule of the old week.
    pub rule: OvertimeRule,
}

/// One person's work week, as its pay is calculated from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Week<'a> {
    /// The work.
    pub work: &'a [WorkLine],
    /// The bonus of the week.
    pub bonus: Money,
    /// When overtime begins.
    pub rule: OvertimeRule,
    /// Which lines carry the premium.
    pub spread: PremiumSpread,
    /// In a short week, the old week before it.
    pub overlap: Option<Overlap<'a>>,
}

/// One person's pay for one work week.
///
/// The regular rate is all straight-time pay and bonus ÷ all hours, so that work at two rates is paid at their
/// weighted average (29 CFR 778.109, .110, .115). Overtime hours earn half of it more. The regular rate is not
/// rounded on the way. The week's straight pay is rounded once, as payroll does, and split over the lines by what each
/// earned (company rule); so is its premium.
///
/// Where a daily rule is set as well, overtime hours are the larger of the week's excess and the sum of the
/// days' excesses, so that no hour counts twice (company rule). The premium is spread over the lines as
/// `spread` says, and the bonus by hours (company rule).
///
/// When the firm begins its weeks on another day, some days lie in the last week of the old order and in the first of
/// the new one ([`Week::overlap`]). Overtime is worked out with those days in the old week alone, and once more with
/// them in the new week alone, and the greater is paid (29 CFR 778.302(a)). The old week keeps what it was paid; where
/// the second way comes to more, the short week carries the difference (company rule: no earlier day is paid anew).
///
/// # Errors
/// If the lines do not lie in one work week, a day has more than 24 hours, or an input is below zero.
pub fn week_pay(week: &Week<'_>) -> Result<WeekPay, LaborError> {
    let &Week { work: lines, bonus, rule, spread, overlap } = week;
    let own = overtime_of(lines, bonus, &rule)?;
    let more = match overlap {
        Some(overlap) if !lines.is_empty() => more_by_new_week(week, &overlap, own)?,
        _ => Overtime::default(),
    };
    let premium_total = own.premium + more.premium;
    let hours: Qty = lines.iter().map(|line| line.hours).sum();
    let straight_total = Money::rounded(earned(lines));
    let straight = split(straight_total, &lines.iter().map(earned_on).collect::<Vec<_>>())?;
    let by_hours: Vec<Decimal> = lines.iter().map(|line| line.hours.decimal()).collect();
    let bonus_parts = split(bonus, &by_hours)?;
    let premium = split(premium_total, &premium_weights(lines, spread))?;
    Ok(WeekPay {
        straight,
        bonus: bonus_parts,
        premium,
        regular_rate: or_zero(earned(lines) + bonus.decimal(), hours.decimal()),
        hours,
        overtime_hours: own.hours + more.hours,
        premium_total,
        total: straight_total + bonus + premium_total,
    })
}

/// Overtime of some work: its hours and the premium on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Overtime {
    hours: Qty,
    premium: Money,
}

fn overtime_of(lines: &[WorkLine], bonus: Money, rule: &OvertimeRule) -> Result<Overtime, LaborError> {
    check_lines(lines, rule)?;
    if bonus.is_negative() {
        return Err(LaborError::NegativeBonus { bonus });
    }
    if lines.is_empty() && !bonus.is_zero() {
        return Err(LaborError::BonusWithoutWork { bonus });
    }
    let hours: Qty = lines.iter().map(|line| line.hours).sum();
    let overtime = overtime_hours(lines, rule);
    let remuneration = earned(lines) + bonus.decimal();
    // Divided last, so that a repeating decimal cannot cost a cent.
    let premium = or_zero(remuneration * overtime.decimal(), Decimal::TWO * hours.decimal());
    Ok(Overtime { hours: overtime, premium: Money::rounded(premium) })
}

/// By how much the pay of both weeks is greater with the days of both in the new week; nothing where it is not.
fn more_by_new_week(week: &Week<'_>, overlap: &Overlap<'_>, own: Overtime) -> Result<Overtime, LaborError> {
    let (mut early, mut late) = (Vec::new(), Vec::new());
    for line in overlap.work {
        if line.date < overlap.from { early.push(*line) } else { late.push(*line) }
    }
    let paid = |in_both: bool| -> Money {
        let those = overlap.bonuses.iter().filter(|(day, _)| (*day >= overlap.from) == in_both);
        those.map(|(_, amount)| *amount).sum()
    };
    // A bonus stays with the week that has the work for it.
    let with_work = |lines: &[WorkLine], bonus: Money| if lines.is_empty() { Money::ZERO } else { bonus };
    let whole = overtime_of(overlap.work, with_work(overlap.work, paid(true) + paid(false)), &overlap.rule)?;
    let cut = overtime_of(&early, with_work(&early, paid(false)), &overlap.rule)?;
    let bonus = week.bonus + with_work(&late, paid(true));
    late.extend(week.work);
    let new = overtime_of(&late, bonus, &week.rule)?;
    let (in_old, in_new) = (whole.premium + own.premium, cut.premium + new.premium);
    if in_new <= in_old {
        return Ok(Overtime::default());
    }
    let hours = (cut.hours + new.hours - whole.hours - own.hours).max(Qty::ZERO);
    Ok(Overtime { hours, premium: in_new - in_old })
}

fn earned_on(line: &WorkLine) -> Decimal {
    line.rate.decimal() * line.hours.decimal()
}

fn earned(lines: &[WorkLine]) -> Decimal {
    lines.iter().map(earned_on).sum()
}

/// Straight time does not say how much a rule costs; this does: the hours that earn half as much again.
fn overtime_hours(lines: &[WorkLine], rule: &OvertimeRule) -> Qty {
    let hours: Qty = lines.iter().map(|line| line.hours).sum();
    let weekly = (hours - rule.weekly_over).max(Qty::ZERO);
    let daily: Qty = match rule.daily_over {
        Some(over) => days(lines).into_iter().map(|(_, hours)| (hours - over).max(Qty::ZERO)).sum(),
        None => Qty::ZERO,
    };
    weekly.max(daily)
}

fn premium_weights(lines: &[WorkLine], spread: PremiumSpread) -> Vec<Decimal> {
    let caused = |line: &WorkLine| line.caused_overtime && line.hours.is_positive();
    let to_cause = spread == PremiumSpread::ToCause && lines.iter().any(caused);
    let weight = |line: &WorkLine| {
        if to_cause && !line.caused_overtime { Decimal::ZERO } else { line.hours.decimal() }
    };
    lines.iter().map(weight).collect()
}

/// The hours of each day that has any line, in order of time.
fn days(lines: &[WorkLine]) -> Vec<(Date, Qty)> {
    let mut by_day = std::collections::BTreeMap::new();
    for line in lines {
        *by_day.entry(line.date).or_insert(Qty::ZERO) += line.hours;
    }
    by_day.into_iter().collect()
}

fn check_lines(lines: &[WorkLine], rule: &OvertimeRule) -> Result<(), LaborError> {
    for hours in std::iter::once(rule.weekly_over).chain(rule.daily_over) {
        if hours.is_negative() {
            return Err(LaborError::NegativeThreshold { hours });
        }
    }
    let Some(first) = lines.first() else { return Ok(()) };
    let week = week_start(first.date, rule.first_weekday);
    for line in lines {
        if week_start(line.date, rule.first_weekday) != week {
            return Err(LaborError::AnotherWeek { date: line.date, week });
        }
        if line.hours.is_negative() {
            return Err(LaborError::NegativeHours { date: line.date, hours: line.hours });
        }
        if line.rate.is_negative() {
            return Err(LaborError::NegativeRate { date: line.date, rate: line.rate });
        }
    }
    // More hours than a day has are not refused here: two devices may each have written a day down, and until a person
    // has said which is right, both count as they stand.
    Ok(())
}

fn or_zero(over: Decimal, under: Decimal) -> Decimal {
    if under > Decimal::ZERO { over / under } else { Decimal::ZERO }
}

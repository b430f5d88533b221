//! How many deck sheets the next roof will need, going by the firm's own finished jobs.
//!
//! Sheets per square of roof are taken to be Gamma-distributed from roof to roof, and the sheets of one roof to be
//! Poisson about its rate. Then the finished jobs update the rate, and the next job's count is negative-binomial
//! (Johnson, Ott, Dogucu, *Bayes Rules!*, ch. 5, for the update and its example).
//!
//! Which jobs are alike (age band, state of the roof) is the caller's choice; [`prior_from`] lends weight from all
//! jobs where few are alike.

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::closed_list;
use crate::money::{Qty, Rate};

/// A job of more sheets or squares than this is a slip of the thumb.
const MOST_OF_A_JOB: Qty = Qty::from_e4(1_000_000_000);

/// The most counts that are worked out one by one.
const MOST_TERMS: usize = 20_000;

/// Fewer jobs than this do not tell how much roofs differ.
const JOBS_FOR_SCATTER: usize = 5;

/// Decimal places at which a shape and a rate are kept.
const PLACES: u32 = 12;

/// A finished job: the sheets that it needed, included ones among them, and how large the roof was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PastJob {
    /// Deck sheets.
    pub sheets: Qty,
    /// Squares of roof.
    pub squares: Qty,
}

/// What is thought of the sheets per square: a Gamma distribution of mean shape ÷ rate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Prior {
    /// As if so many sheets had been seen.
    pub shape: Decimal,
    /// On so many squares.
    pub rate: Decimal,
}

impl Prior {
    /// Sheets per square to be expected, unrounded; `None` for a rate that is not above zero.
    #[must_use]
    pub fn mean(&self) -> Option<Decimal> {
        (self.rate > Decimal::ZERO).then(|| self.shape / self.rate)
    }
}

/// Why nothing can be expected.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ExpectedError {
    /// No record.
    #[error(
        "No finished job is on record. Type the included sheets yourself; each finished job makes this better."
    )]
    NoJobs,
    /// A count below zero or a size that is not above it.
    #[error("{field} is {value}. Put the job's figures right: sheets are zero or more, squares above zero.")]
    OutOfRange {
        /// The field, such as `jobs[2].squares`.
        field: String,
        /// Its value.
        value: Decimal,
    },
    /// A distribution too wide to be of use.
    #[error(
        "The record is too scattered, or too small, for a roof of {squares} squares. Type the included sheets yourself."
    )]
    TooWide {
        /// The size of the roof.
        squares: Qty,
    },
    /// A level that no count reaches or that every count does.
    #[error("level is {level}. Choose a share between 0 and 1; 0.8 covers 8 jobs in 10.")]
    Level {
        /// What was asked for.
        level: Rate,
    },
}

/// Adds finished jobs to what is thought: shape + Σ sheets, rate + Σ squares.
///
/// Gamma(10, 2) with counts 6, 2, 2, 1 becomes Gamma(21, 6) (*Bayes Rules!* ch. 5, read).
///
/// # Errors
/// Names the figure of a job that cannot be, or of the prior that is not above zero.
pub fn update(prior: Prior, jobs: &[PastJob]) -> Result<Prior, ExpectedError> {
    check_prior(prior)?;
    let (sheets, squares) = sums(jobs)?;
    Ok(Prior { shape: prior.shape + sheets, rate: prior.rate + squares })
}

/// What the firm's jobs as a whole say of any roof, to begin from where few jobs are alike. Company rule.
///
/// By moments: with m = Σ sheets ÷ Σ squares over n jobs, what is left of the scatter of sheets after chance is
/// τ² = (n ÷ (n − 1) × Σ (sheets − m × squares)² − m × Σ squares) ÷ Σ squares², and so the shape is m² ÷ τ² and the
/// rate m ÷ τ². The rate is never above Σ squares: the jobs cannot weigh more than they are.
///
/// With fewer than five jobs, or where roofs differ no more than by chance, the firm's mean is taken with the
/// weight of one job of its usual size. Where no sheet was ever needed, half a sheet on one such job is.
///
/// # Errors
/// If there is no job, or the figures of one cannot be.
pub fn prior_from(jobs: &[PastJob]) -> Result<Prior, ExpectedError> {
    let (sheets, squares) = sums(jobs)?;
    if jobs.is_empty() {
        return Err(ExpectedError::NoJobs);
    }
    let n = Decimal::from(jobs.len());
    let usual_size = squares / n;
    if sheets.is_zero() {
        return Ok(kept(Decimal::new(5, 1), usual_size));
    }
    let mean = sheets / squares;
    let weak = kept(mean * usual_size, usual_size);
    if jobs.len() < JOBS_FOR_SCATTER {
        return Ok(weak);
    }
    let off = |job: &PastJob| {
        let off = job.sheets.decimal() - mean * job.squares.decimal();
        off * off
    };
    let scatter: Decimal = jobs.iter().map(off).sum::<Decimal>() * n / (n - Decimal::ONE);
    let of_squares: Decimal = jobs.iter().map(|job| job.squares.decimal() * job.squares.decimal()).sum();
    let beyond_chance = (scatter - mean * squares) / of_squares;
    if beyond_chance <= Decimal::ZERO {
        return Ok(weak);
    }
    // Compared without dividing first: the scatter may be next to nothing.
    let rate = if mean >= squares * beyond_chance { squares } else { mean / beyond_chance };
    Ok(kept(mean * rate, rate))
}

/// What is to be expected of the next job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NextJob {
    /// Sheets on the average, unrounded: squares × shape ÷ rate.
    pub mean: Decimal,
    /// How likely each count is, from none up; all but less than 10⁻¹⁸ of what can happen.
    pub chances: Vec<Decimal>,
}

/// How many sheets a roof of `squares` will need: negative-binomial, with shape r and q = squares ÷ (rate + squares).
///
/// From one count to the next the chance changes by (r + n) ÷ (n + 1) × q. So the chances are taken relative to the
/// likeliest count, outwards both ways, and divided by their sum: no power, logarithm or float is needed, and a chance
/// of no sheet that is too small to write down does no harm.
///
/// # Errors
/// If the size or the prior is not above zero, or the counts that can happen are too many.
pub fn next_job(prior: Prior, squares: Qty) -> Result<NextJob, ExpectedError> {
    check_prior(prior)?;
    checked("squares", squares, false)?;
    let Prior { shape, rate } = prior;
    let size = squares.decimal();
    let of_mean = size.checked_mul(shape).and_then(|product| product.checked_div(rate));
    let Some(mean) = of_mean.filter(|mean| *mean <= Decimal::from(MOST_TERMS)) else {
        return Err(ExpectedError::TooWide { squares });
    };
    let q = size / (rate + size);
    let step = |n: usize| {
        let n = Decimal::from(n);
        (shape + n) / (n + Decimal::ONE) * q
    };
    // The likeliest count: the last to which a step still goes up.
    let top = ((shape - Decimal::ONE) * size / rate).floor().max(Decimal::ZERO);
    let top = usize::try_from(top).map_err(|_| ExpectedError::TooWide { squares })?;
    let mut below = vec![Decimal::ONE];
    for n in (0..top).rev() {
        let next = below[below.len() - 1] / step(n);
        below.push(next);
    }
    below.reverse();
    let mut chances = below;
    let mut sum: Decimal = chances.iter().sum();
    let left_out = Decimal::new(1, 18);
    for n in top.. {
        if n > MOST_TERMS {
            return Err(ExpectedError::TooWide { squares });
        }
        let (last, ratio) = (chances[n], step(n));
        // All later steps are at the most this one (shape ≥ 1: they fall) or q (else they rise towards it).
        let most = ratio.max(q);
        if most < Decimal::ONE && last * most < left_out * sum * (Decimal::ONE - most) {
            break;
        }
        let next = last * ratio;
        sum += next;
        chances.push(next);
    }
    for chance in &mut chances {
        *chance /= sum;
    }
    Ok(NextJob { mean, chances })
}

impl NextJob {
    /// The fewest sheets that are enough with a chance of at least `level`: 0.8 covers 8 jobs in 10.
    ///
    /// # Errors
    /// If the level is not between 0 and 1.
    pub fn covers(&self, level: Rate) -> Result<usize, ExpectedError> {
        if !level.is_positive() || level.decimal() >= Decimal::ONE {
            return Err(ExpectedError::Level { level });
        }
        let mut reached = Decimal::ZERO;
        let enough = self.chances.iter().position(|chance| {
            reached += chance;
            reached >= level.decimal()
        });
        Ok(enough.unwrap_or(self.chances.len()))
    }
}

/// What the record of like jobs holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Record {
    /// Finished jobs.
    pub jobs: usize,
    /// Their squares of roof.
    pub squares: Qty,
}

/// How much a record can say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum RecordStrength {
    /// No job: nothing.
    None,
    /// Fewer than 5 jobs: not much.
    Thin,
    /// Fewer than 15.
    Fair,
    /// 15 or more.
    Good,
}

closed_list!(RecordStrength, "strength of a record", {
    None => "none": "No history yet",
    Thin => "thin": "Little history: take it as a hint",
    Fair => "fair": "Some history",
    Good => "good": "A good history",
});

impl Record {
    /// The record of some jobs.
    #[must_use]
    pub fn of(jobs: &[PastJob]) -> Record {
        Record { jobs: jobs.len(), squares: jobs.iter().map(|job| job.squares).sum() }
    }

    /// How much it can say, by the number of jobs (company rule; the limits are ours).
    #[must_use]
    pub fn strength(&self) -> RecordStrength {
        match self.jobs {
            0 => RecordStrength::None,
            1..5 => RecordStrength::Thin,
            5..15 => RecordStrength::Fair,
            _ => RecordStrength::Good,
        }
    }
}

/// Roofs whose age makes them alike (company rule).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum AgeBand {
    /// Under 10 years.
    #[cfg_attr(feature = "ts", ts(rename = "under-10"))]
    Under10,
    /// 10 to 19 years.
    Teens,
    /// 20 to 29 years.
    Twenties,
    /// 30 years or more.
    ThirtyOrMore,
}

closed_list!(AgeBand, "age of a roof", {
    Under10 => "under-10": "Under 10 years",
    Teens => "teens": "10 to 19 years",
    Twenties => "twenties": "20 to 29 years",
    ThirtyOrMore => "thirty-or-more": "30 years and more",
});

/// The band of a roof that was laid so many whole years ago; one that is not laid yet counts as new.
#[must_use]
pub fn age_band(years: i64) -> AgeBand {
    match years {
        ..10 => AgeBand::Under10,
        10..20 => AgeBand::Teens,
        20..30 => AgeBand::Twenties,
        _ => AgeBand::ThirtyOrMore,
    }
}

fn kept(shape: Decimal, rate: Decimal) -> Prior {
    let keep = |value: Decimal| value.round_dp_with_strategy(PLACES, RoundingStrategy::AwayFromZero);
    Prior { shape: keep(shape), rate: keep(rate) }
}

fn check_prior(prior: Prior) -> Result<(), ExpectedError> {
    let most = MOST_OF_A_JOB.decimal() * MOST_OF_A_JOB.decimal();
    for (field, value) in [("prior.shape", prior.shape), ("prior.rate", prior.rate)] {
        if value <= Decimal::ZERO || value > most {
            return Err(ExpectedError::OutOfRange { field: field.to_owned(), value });
        }
    }
    Ok(())
}

fn checked(field: &str, value: Qty, may_be_zero: bool) -> Result<(), ExpectedError> {
    let ok = value.is_positive() || (may_be_zero && value.is_zero());
    if ok && value <= MOST_OF_A_JOB {
        return Ok(());
    }
    Err(ExpectedError::OutOfRange { field: field.to_owned(), value: value.decimal() })
}

/// All sheets and all squares of some jobs, each job's figures checked.
fn sums(jobs: &[PastJob]) -> Result<(Decimal, Decimal), ExpectedError> {
    for (index, job) in jobs.iter().enumerate() {
        checked(&format!("jobs[{index}].sheets"), job.sheets, true)?;
        checked(&format!("jobs[{index}].squares"), job.squares, false)?;
    }
    let sheets = jobs.iter().map(|job| job.sheets.decimal()).sum();
    Ok((sheets, jobs.iter().map(|job| job.squares.decimal()).sum()))
}

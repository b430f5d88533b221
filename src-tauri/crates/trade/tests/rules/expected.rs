//! What the next roof is expected to need, against published figures and worked ones.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot read its own figures should stop")]

use crate::typed::d;
use proptest::prelude::*;
use rstest::rstest;
use rust_decimal::Decimal;
use trade::expected::NextJob;
use trade::{
    AgeBand, ExpectedError, PastJob, Prior, Qty, Rate, Record, RecordStrength, age_band, next_job,
    prior_from, update,
};

fn prior(shape: &str, rate: &str) -> Prior {
    Prior { shape: d(shape), rate: d(rate) }
}

fn job(sheets: &str, squares: &str) -> PastJob {
    PastJob { sheets: Qty::parse(sheets).unwrap(), squares: Qty::parse(squares).unwrap() }
}

fn one() -> Qty {
    Qty::from_e4(10_000)
}

fn near(found: Decimal, expected: &str, within: &str) {
    assert!((found - d(expected)).abs() <= d(within), "{found} is not {expected}");
}

/// *Bayes Rules!* ch. 5, read: Gamma(10, 2) with 6, 2, 2, 1 is Gamma(21, 6). The next unit's mean 3.5 and chances are
/// computed from it; scipy agrees.
#[test]
fn a_record_of_jobs_gives_the_published_mean_and_chances() {
    let jobs = ["6", "2", "2", "1"].map(|count| job(count, "1"));
    let after = update(prior("10", "2"), &jobs).unwrap();
    assert_eq!(after, prior("21", "6"));
    assert_eq!(after.mean(), Some(d("3.5")));
    let next = next_job(after, one()).unwrap();
    assert_eq!(next.mean, d("3.5"));
    for (chance, published) in
        next.chances.iter().zip([".039275", ".117825", ".185154", ".202788", ".173818"])
    {
        near(*chance, &format!("0{published}"), "0.0000005");
    }
    // .039275 + .117825 + .185154 + .202788 + .173818 = .71886, under 0.8; P(5) = .124156 takes it over.
    assert_eq!(next.covers(Rate::parse("0.8").unwrap()).unwrap(), 5);
    assert_eq!(next.covers(Rate::parse("0.7").unwrap()).unwrap(), 4);
    near(within(&next, 4), "0.71886", "0.000001");
}

/// The chance that so many sheets are enough.
fn within(next: &NextJob, included: usize) -> Decimal {
    next.chances.iter().take(included + 1).sum()
}

/// With shape 1 the chances are plain: p = rate ÷ (rate + squares) and each is q times the one before.
#[test]
fn a_shape_of_one_falls_by_a_fixed_share() {
    let next = next_job(prior("1", "3"), one()).unwrap();
    near(next.chances[0], "0.75", "0.00000000000000001");
    near(next.chances[1], "0.1875", "0.00000000000000001");
    near(next.chances[2], "0.046875", "0.00000000000000001");
}

/// (2 ÷ 6)^200 is about 4e-96, far below what a decimal holds: the rest must come out all the same. The mean is 400 and
/// the variance 400 × (1 + 2) = 1,200, so half lies near 400 and eight in ten under 400 + 0.84 × 34.6 = 429.
#[test]
fn a_chance_too_small_to_write_does_no_harm() {
    let next = next_job(prior("200", "2"), Qty::from_e4(40_000)).unwrap();
    assert!(next.chances[0].is_zero());
    let eight = next.covers(Rate::parse("0.8").unwrap()).unwrap();
    assert!((427..=431).contains(&eight), "{eight}");
    let variance: Decimal =
        next.chances.iter().enumerate().map(|(n, p)| p * (Decimal::from(n) - d("400")).powi_two()).sum();
    near(variance, "1200", "0.0001");
}

trait PowiTwo {
    fn powi_two(self) -> Self;
}

impl PowiTwo for Decimal {
    fn powi_two(self) -> Decimal {
        self * self
    }
}

/// Six jobs of 10 squares with 0, 2, 4, 6, 8, 10 sheets: mean 30 ÷ 60 = 0.5 a square; scatter 70 × 6 ÷ 5 = 84; by
/// chance 0.5 × 60 = 30; (84 − 30) ÷ 600 = 0.09. Rate 0.5 ÷ 0.09 = 5.5555…, shape 0.25 ÷ 0.09 = 2.7777….
#[test]
fn all_jobs_give_the_prior_by_moments() {
    let jobs = ["0", "2", "4", "6", "8", "10"].map(|sheets| job(sheets, "10"));
    let from = prior_from(&jobs).unwrap();
    near(from.rate, "5.5555555556", "0.000000001");
    near(from.shape, "2.7777777778", "0.000000001");
    near(from.mean().unwrap(), "0.5", "0.00000001");
}

/// Computed: five jobs of 20 squares are enough. With 10, 4, 2, 2, 2 sheets the mean is 0.2 a square, the scatter
/// 48 × 5 ÷ 4 = 60, by chance 20; 40 ÷ 2,000 = 0.02. Rate 0.2 ÷ 0.02, shape 0.04 ÷ 0.02. With hardly more scatter
/// than chance gives (16.82 × 5 ÷ 4 = 21.025) the rate would be 390 and is held to the squares there are.
#[rstest]
#[case(["10", "4", "2", "2", "2"], "2", "10")]
#[case(["1.9", "2", "4", "6", "6.1"], "20", "100")]
fn five_jobs_are_enough_and_weigh_no_more_than_they_are(
    #[case] sheets: [&str; 5],
    #[case] shape: &str,
    #[case] rate: &str,
) {
    let from = prior_from(&sheets.map(|sheets| job(sheets, "20"))).unwrap();
    assert_eq!((from.shape.normalize(), from.rate.normalize()), (d(shape), d(rate)));
    let four = prior_from(&sheets[..4].iter().map(|sheets| job(sheets, "20")).collect::<Vec<_>>()).unwrap();
    assert_eq!(four.rate.normalize(), d("20"), "four weigh as one job");
}

/// Few jobs, or no more scatter than chance gives: the firm's mean with the weight of one job.
#[rstest]
#[case(&[("3", "10"), ("9", "20")], "6", "15")] // 12 sheets on 30 squares, two jobs of 15
#[case(&[("5", "10"); 6], "5", "10")] // no scatter at all
#[case(&[("0", "10"); 6], "0.5", "10")] // no sheet ever
#[case(&[("4", "20")], "4", "20")]
fn a_weak_prior_weighs_one_job(#[case] jobs: &[(&str, &str)], #[case] shape: &str, #[case] rate: &str) {
    let jobs: Vec<_> = jobs.iter().map(|(sheets, squares)| job(sheets, squares)).collect();
    let from = prior_from(&jobs).unwrap();
    assert_eq!((from.shape.normalize(), from.rate.normalize()), (d(shape), d(rate)));
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    assert_eq!(prior_from(&[]), Err(ExpectedError::NoJobs));
    let said = |jobs: &[PastJob]| update(prior("1", "1"), jobs).unwrap_err().to_string();
    assert!(said(&[job("1", "1"), job("1", "0")]).starts_with("jobs[1].squares is 0"));
    assert!(said(&[job("-1", "1")]).starts_with("jobs[0].sheets is -1"));
    assert!(said(&[job("1", "100001")]).starts_with("jobs[0].squares is 100001"));
    let said = |prior, squares| next_job(prior, squares).unwrap_err().to_string();
    assert!(said(prior("0", "1"), one()).starts_with("prior.shape is 0"));
    assert!(said(prior("1", "-1"), one()).starts_with("prior.rate is -1"));
    assert!(said(prior("1", "1"), Qty::ZERO).starts_with("squares is 0"));
    assert!(said(prior("10000000001", "1"), one()).starts_with("prior.shape is 10000000001"));
    assert!(said(prior("1", "10000000001"), one()).starts_with("prior.rate is 10000000001"));
    assert!(update(prior("10000000000", "10000000000"), &[]).is_ok(), "as much as that is still taken");
    assert_eq!(prior("1", "0").mean(), None);
    assert!(said(prior("1", "0.000000000001"), one()).contains("too scattered"));
    assert!(said(prior("9999999999", "0.0000000000000000000000000001"), one()).contains("too scattered"));
    assert!(said(prior("0.001", "0.00001"), one()).contains("too scattered"));
    let next = next_job(prior("1", "1"), one()).unwrap();
    for level in ["0", "1", "-0.5", "1.5"] {
        let message = next.covers(Rate::parse(level).unwrap()).unwrap_err().to_string();
        assert!(message.contains("8 jobs in 10"), "{message}");
    }
}

/// Company rules: fewer than 5 jobs thin, fewer than 15 fair; ages by tens of years.
#[test]
fn records_and_ages_have_words() {
    let strength = |jobs| Record { jobs, squares: Qty::ZERO }.strength();
    assert_eq!(
        [0, 1, 4, 5, 14, 15].map(strength).map(RecordStrength::as_str),
        ["none", "thin", "thin", "fair", "fair", "good"]
    );
    let record = Record::of(&[job("1", "20"), job("0", "12.5")]);
    assert_eq!((record.jobs, record.squares.to_string()), (2, "32.5".to_owned()));
    let bands = [-1, 0, 9, 10, 19, 20, 29, 30, 90].map(age_band);
    use AgeBand::{Teens, ThirtyOrMore, Twenties, Under10};
    assert_eq!(
        bands,
        [Under10, Under10, Under10, Teens, Teens, Twenties, Twenties, ThirtyOrMore, ThirtyOrMore]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The chances sum to one, their mean is squares × shape ÷ rate, and a larger level never needs fewer sheets.
    #[test]
    fn chances_are_chances(shape in 1_i64..5000, rate in 10_i64..5000, squares in 1_i64..60) {
        let prior = Prior { shape: Decimal::new(shape, 2), rate: Decimal::new(rate, 1) };
        let next = next_job(prior, Qty::from_e4(squares * 10_000)).unwrap();
        let sum: Decimal = next.chances.iter().sum();
        prop_assert!((sum - Decimal::ONE).abs() < Decimal::new(1, 15));
        let mean: Decimal = next.chances.iter().enumerate().map(|(n, p)| p * Decimal::from(n)).sum();
        prop_assert!((mean - next.mean).abs() < Decimal::new(1, 9), "{} {}", mean, next.mean);
        let covers = |percent: i64| next.covers(Rate::from_e6(percent * 10_000)).unwrap();
        prop_assert!(covers(50) <= covers(80) && covers(80) <= covers(95));
        prop_assert!(within(&next, covers(80)) >= Decimal::new(8, 1));
        let fewer = covers(80).checked_sub(1);
        prop_assert!(fewer.is_none_or(|fewer| within(&next, fewer) < Decimal::new(8, 1)));
    }

    /// Any record gives a prior that can be used.
    #[test]
    fn every_record_gives_a_prior(jobs in prop::collection::vec((0_i64..40, 1_i64..800), 1..30)) {
        let jobs: Vec<_> = jobs.iter().map(|&(sheets, tenths)| PastJob {
            sheets: Qty::from_e4(sheets * 10_000), squares: Qty::from_e4(tenths * 1000),
        }).collect();
        let from = prior_from(&jobs).unwrap();
        let squares: Decimal = jobs.iter().map(|job| job.squares.decimal()).sum();
        prop_assert!(from.shape > Decimal::ZERO && from.rate > Decimal::ZERO);
        prop_assert!(from.rate <= squares + Decimal::new(1, 9));
        prop_assert!(update(from, &jobs).is_ok());
    }
}

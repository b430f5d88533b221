//! Hours, the spread of what work took, the price of an offer, and what setbacks do to it.

use crate::typed::{m, q, r};
use rstest::rstest;
use trade::roof::{Recipe, spread};
use trade::{AtStake, PricedAt, Setback, Steepness, offer_price, sensitivity};

#[rstest]
#[case("3.9", Steepness::Low)]
#[case("4", Steepness::Walkable)]
#[case("7.9", Steepness::Walkable)]
#[case("8", Steepness::Steep)]
#[case("12", Steepness::VerySteep)]
fn each_slope_belongs_to_one_steepness(#[case] slope: &str, #[case] wanted: Steepness) {
    assert_eq!(Recipe::usual().steepness(q(slope)), wanted);
}

/// A crew that walks 9 in 12: the limit is the firm's own.
#[test]
fn what_is_walkable_is_the_firms_to_say() {
    let bold = Recipe { steep_from: q("9.5"), ..Recipe::usual() };
    assert_eq!(bold.steepness(q("9")), Steepness::Walkable);
    assert_eq!(Recipe::usual().steepness(q("9")), Steepness::Steep);
}

/// By hand: rates 1, 2, 3, 4, 10 of one unit each: quartiles at the 2nd, 3rd and 4th. Of 1, 2, 3, 4: at 1¾, 2½, 3¼.
#[test]
fn the_spread_of_finished_jobs_is_their_quartiles() {
    let each = |rates: &[&str]| spread(&rates.iter().map(|rate| (q(rate), q("1"))).collect::<Vec<_>>());
    let five = each(&["10", "3", "1", "4", "2"]).unwrap();
    assert_eq!(
        (five.jobs, five.low, five.median, five.high, five.pooled),
        (5, r("2"), r("3"), r("4"), r("4"))
    );
    let four = each(&["1", "2", "3", "4"]).unwrap();
    assert_eq!((four.low, four.median, four.high), (r("1.75"), r("2.5"), r("3.25")));
    let one = each(&["7"]).unwrap();
    assert_eq!((one.jobs, one.low, one.median, one.high), (1, r("7"), r("7"), r("7")));
    // 30 hours for 10 and 10 for 10: the median of 3 and 1 is 2, and pooled 40 ÷ 20. A job without units says nothing.
    let two = spread(&[(q("30"), q("10")), (q("10"), q("10")), (q("5"), q("0"))]).unwrap();
    assert_eq!((two.jobs, two.median, two.pooled), (2, r("2"), r("2")));
    assert_eq!(spread(&[(q("5"), q("0"))]), None);
    assert_eq!(spread(&[]), None);
}

/// Margin 30 % on cost 100 is 142.86, not 130; cost 8 at 20 % is 9.60 (OpenStax, read). With overhead inside.
#[test]
fn an_offer_sums_exactly() {
    let offer = offer_price(m("70"), m("30"), PricedAt::Margin(r("0.3"))).unwrap();
    assert_eq!((offer.full_cost, offer.price, offer.profit), (m("100"), m("142.86"), m("42.86")));
    assert_eq!(offer.cost + offer.overhead + offer.profit, offer.price);
    assert_eq!(offer.margin, Some(r("0.300014")), "what the rounded price leaves");
    let offer = offer_price(m("6"), m("2"), PricedAt::Markup(r("0.2"))).unwrap();
    assert_eq!((offer.price, offer.markup), (m("9.60"), Some(r("0.2"))));
    assert!(offer_price(m("6"), m("2"), PricedAt::Margin(r("1"))).is_err());
    let nothing = offer_price(m("0"), m("0"), PricedAt::Margin(r("0.3"))).unwrap();
    assert_eq!((nothing.price, nothing.margin, nothing.markup), (m("0"), None, None));
}

/// By hand: price 20,000, cost 14,000: margin 6,000, 30 %. Two sheets at 95: 190 less. A crew day at 1,400. Shingles of
/// 3,000.10 dearer by 5 %: 150.005, to the cent 150.01.
#[test]
fn each_setback_is_taken_from_the_margin() {
    let stake = AtStake { sheet_cost: m("95"), crew_day_cost: m("1400"), shingle_cost: m("3000.10") };
    let all = sensitivity(m("20000"), m("14000"), &stake);
    let left: Vec<_> = all.iter().map(|s| (s.setback, s.added, s.margin)).collect();
    assert_eq!(
        left,
        [
            (Setback::TwoSheets, m("190"), m("5810")),
            (Setback::RainDay, m("1400"), m("4600")),
            (Setback::DearerShingles, m("150.01"), m("5849.99")),
        ]
    );
    assert_eq!((all[1].share, all[1].share_lost), (Some(r("0.23")), Some(r("0.07"))));
    assert_eq!(sensitivity(m("0"), m("10"), &stake)[0].share, None);
}

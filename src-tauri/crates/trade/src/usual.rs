//! What the trade usually pays, takes and covers, part by part: wide ranges outside which a figure was most likely
//! typed for another measure, such as hours for a square where a square foot is asked, or one nail where a box is
//! meant.
//!
//! The ranges are common practice and have no source. Nothing is calculated from them, and nothing is refused by
//! them: what lies outside is asked about.

use rust_decimal::Decimal;

use crate::money::{Qty, Rate};
use crate::roof::Item;

/// A square is 100 sq ft of roof: so roofers count.
const SQ_FT_IN_A_SQUARE: i64 = 100;

/// What one square takes, where a square foot takes so much.
#[must_use]
pub fn of_a_square(of_a_square_foot: Rate) -> Decimal {
    of_a_square_foot.decimal() * Decimal::from(SQ_FT_IN_A_SQUARE)
}

/// What is usual: from the least to the most, both in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsualRange {
    least: i64,
    most: i64,
}

impl UsualRange {
    const fn of(least: i64, most: i64) -> UsualRange {
        UsualRange { least, most }
    }

    /// The least that is usual.
    #[must_use]
    pub fn least(self) -> Decimal {
        Decimal::new(self.least, 3).normalize()
    }

    /// The most that is usual.
    #[must_use]
    pub fn most(self) -> Decimal {
        Decimal::new(self.most, 3).normalize()
    }

    /// The same of a square, where it is of a square foot.
    #[must_use]
    pub const fn of_a_square(self) -> UsualRange {
        UsualRange { least: self.least * SQ_FT_IN_A_SQUARE, most: self.most * SQ_FT_IN_A_SQUARE }
    }

    /// Whether a figure lies within it.
    #[must_use]
    pub fn holds(self, figure: Decimal) -> bool {
        self.least() <= figure && figure <= self.most()
    }
}

/// Hours for one measure of a part; none where hours are not usual.
#[must_use]
pub const fn usual_hours(item: Item) -> Option<UsualRange> {
    Some(match item {
        Item::TearOff => UsualRange::of(200, 6_000),
        Item::CleanUp => UsualRange::of(20, 1_500),
        Item::DeckSheet | Item::SkylightFlashing => UsualRange::of(200, 10_000),
        Item::Barrier | Item::RollRoofing => UsualRange::of(1, 60),
        Item::Underlayment => UsualRange::of(1, 40),
        Item::Shingles => UsualRange::of(4, 100),
        Item::Insulation => UsualRange::of(1, 60),
        Item::DripEdge | Item::Starter | Item::RidgeCap | Item::Covering => UsualRange::of(2, 250),
        Item::DeckBoard
        | Item::ValleyMetal
        | Item::Apron
        | Item::CounterFlashing
        | Item::RidgeVent
        | Item::Intake
        | Item::Gutter
        | Item::Downspout => UsualRange::of(5, 600),
        Item::StepFlashing | Item::Baffle => UsualRange::of(10, 600),
        Item::KickOut | Item::PipeBoot | Item::BoxVent | Item::TurbineVent | Item::PowerVent => {
            UsualRange::of(50, 6_000)
        }
        Item::ChimneyFlashing | Item::Cricket => UsualRange::of(500, 24_000),
        Item::Haul
        | Item::Fasteners
        | Item::Permit
        | Item::Machine
        | Item::SetUp
        | Item::Driving
        | Item::Other => return None,
    })
}

/// Dollars for one measure of a part, before tax.
#[must_use]
pub const fn usual_price(item: Item) -> Option<UsualRange> {
    Some(match item {
        Item::Haul => UsualRange::of(15_000, 600_000),
        Item::DeckSheet => UsualRange::of(8_000, 250_000),
        Item::DeckBoard | Item::DripEdge | Item::Starter | Item::RidgeCap => UsualRange::of(150, 15_000),
        Item::Barrier | Item::RollRoofing => UsualRange::of(150, 4_000),
        Item::Underlayment => UsualRange::of(15, 2_000),
        Item::Shingles => UsualRange::of(400, 15_000),
        Item::Insulation => UsualRange::of(200, 10_000),
        Item::ValleyMetal
        | Item::Apron
        | Item::CounterFlashing
        | Item::RidgeVent
        | Item::Intake
        | Item::Gutter
        | Item::Downspout => UsualRange::of(400, 60_000),
        Item::StepFlashing | Item::Baffle => UsualRange::of(200, 30_000),
        Item::KickOut | Item::PipeBoot => UsualRange::of(2_000, 200_000),
        Item::BoxVent | Item::TurbineVent | Item::PowerVent => UsualRange::of(8_000, 1_200_000),
        Item::ChimneyFlashing | Item::SkylightFlashing | Item::Cricket => UsualRange::of(15_000, 2_500_000),
        Item::Fasteners => UsualRange::of(1, 150),
        _ => return None,
    })
}

/// How many measures one package of a part covers.
#[must_use]
pub const fn usual_coverage(item: Item) -> Option<UsualRange> {
    Some(match item {
        Item::Haul => UsualRange::of(500, 40_000),
        Item::Barrier | Item::RollRoofing => UsualRange::of(50_000, 450_000),
        Item::Underlayment => UsualRange::of(100_000, 2_500_000),
        Item::Shingles => UsualRange::of(10_000, 110_000),
        Item::Starter => UsualRange::of(20_000, 350_000),
        Item::RidgeCap => UsualRange::of(8_000, 150_000),
        Item::Insulation => UsualRange::of(5_000, 250_000),
        Item::Fasteners => UsualRange::of(100_000, 30_000_000),
        Item::DeckSheet => UsualRange::of(1_000, 100_000),
        _ => return None,
    })
}

/// The parts that are bought for every shingle roof, however small (common practice).
pub const BOUGHT_FOR_EVERY_ROOF: &[Item] = &[
    Item::Haul,
    Item::Barrier,
    Item::Underlayment,
    Item::DripEdge,
    Item::Starter,
    Item::Shingles,
    Item::RidgeCap,
    Item::Fasteners,
];

/// The parts of the work that every shingle roof takes hours for (common practice).
pub const WORKED_ON_EVERY_ROOF: &[Item] = &[
    Item::TearOff,
    Item::Barrier,
    Item::Underlayment,
    Item::DripEdge,
    Item::Starter,
    Item::Shingles,
    Item::RidgeCap,
];

/// The price of one measure, from that of a package and what it covers, where both are known and it is far from usual.
#[must_use]
pub fn unusual_price(item: Item, package: Rate, covers: Qty) -> Option<(Rate, UsualRange)> {
    let one = crate::unit::price_of_one(package, covers)?;
    let range = usual_price(item)?;
    (!one.decimal().is_zero() && !range.holds(one.decimal())).then_some((one, range))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rate(text: &str) -> Rate {
        text.parse().unwrap()
    }

    #[test]
    fn what_was_typed_for_another_measure_lies_outside() {
        // 1.2 hours are usual for a square of shingles; for a square foot they are a hundred times too many.
        let hours = usual_hours(Item::Shingles).unwrap();
        assert!(!hours.holds(rate("1.2").decimal()));
        assert!(hours.holds(rate("0.012").decimal()));
        // As roofers say it: 0.4 to 10 hours a square.
        let square = hours.of_a_square();
        assert_eq!([square.least(), square.most()].map(|most| most.to_string()), ["0.4", "10"]);
        assert_eq!(of_a_square(rate("0.0231")).normalize().to_string(), "2.31");
        // A box of nails at 49.00 that covers one nail; and one that covers 7,200.
        let (one, range) = unusual_price(Item::Fasteners, rate("49"), Qty::from_e4(10_000)).unwrap();
        assert_eq!((one, range.most().to_string().as_str()), (rate("49"), "0.15"));
        assert_eq!(unusual_price(Item::Fasteners, rate("49"), Qty::from_e4(72_000_000)), None);
    }

    /// Arithmetic: what comes in one package of many measures can be typed by the wrong one; a piece can't.
    #[test]
    fn what_is_sold_by_the_package_has_a_usual_coverage() {
        let has = |item: &&Item| usual_coverage(**item).is_some();
        let package: Vec<&str> = Item::ALL.iter().filter(has).map(|item| item.as_str()).collect();
        assert_eq!(
            package,
            [
                "haul",
                "deck-sheet",
                "barrier",
                "underlayment",
                "starter",
                "shingles",
                "roll-roofing",
                "ridge-cap",
                "fasteners",
                "insulation",
            ]
        );
    }

    #[test]
    fn every_range_has_room() {
        for item in Item::ALL {
            let ranges = [usual_hours(*item), usual_price(*item), usual_coverage(*item)];
            for range in ranges.into_iter().flatten() {
                assert!(range.least() < range.most(), "{item:?}");
                assert!(range.least() > Decimal::ZERO, "{item:?}");
            }
        }
    }
}

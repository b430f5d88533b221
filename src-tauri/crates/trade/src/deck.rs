//! What a deck takes: whether a new roof may go over what was found, and how many sheets cover a whole roof.

use crate::money::Qty;
use rust_decimal::Decimal;

/// A deck sheet of 4 × 8 ft.
const SHEET_SQFT: Decimal = Decimal::from_parts(32, 0, 0, false, 0);

/// Sheets that cover a roof from eave to ridge, begun sheets counted: a crew that counts more of them than that has
/// typed a digit too many, and is asked.
///
/// Source: 32 sq ft a sheet is its own size; that more is asked about: common practice, no source.
#[must_use]
pub fn sheets_of_whole_roof(area_sqft: Qty) -> Qty {
    Qty::rounded((area_sqft.decimal() / SHEET_SQFT).ceil())
}

/// Whether work stops at a hidden condition: shingles go on a solid, sound deck alone, so that where the homeowner
/// declines the repair of the deck, or of what carries it, nothing is laid over it until it is repaired after all, be
/// it at the firm's own cost. What does not carry the roof stops nothing.
///
/// Source: IRC R908.3 for roofs put over what is there; of it R908.3.1.1, which lets nothing be laid over what is
/// soaked, was read. The local code governs. That the rest of the roof goes on: common practice, no source.
#[must_use]
pub const fn work_stops(bears_the_roof: bool, declined: bool, firm_repairs: bool, repaired: bool) -> bool {
    bears_the_roof && declined && !firm_repairs && !repaired
}

/// Whether whoever is on site may say that the damage is repaired: where work stops only others repair it, and that is
/// what ends the stop.
///
/// Common practice, no source: follows from [`work_stops`], since the firm repairs nothing that it is not to touch.
#[must_use]
pub const fn may_be_repaired(stops: bool, by_others: bool, repaired: bool) -> bool {
    !repaired && (!stops || by_others)
}

#[cfg(test)]
mod tests {
    use super::{may_be_repaired, sheets_of_whole_roof, work_stops};
    use crate::money::Qty;

    #[test]
    fn where_work_stops_only_others_repair() {
        assert!(may_be_repaired(false, false, false), "work goes on");
        assert!(!may_be_repaired(true, false, false), "stopped");
        assert!(may_be_repaired(true, true, false), "the homeowner has others do it");
        assert!(!may_be_repaired(false, false, true), "done already");
        assert!(!may_be_repaired(false, true, true), "done already, by others");
    }

    #[test]
    fn a_roof_of_1900_square_feet_takes_sixty_sheets() {
        let sheets = |area| sheets_of_whole_roof(Qty::parse(area).unwrap()).to_string();
        assert_eq!(sheets("1900"), "60", "59.375, and the last one is begun");
        assert_eq!(sheets("32"), "1");
        assert_eq!(sheets("0"), "0");
    }

    #[test]
    fn declined_rot_is_never_roofed_over() {
        assert!(work_stops(true, true, false, false), "declined");
        assert!(!work_stops(true, false, false, false), "not declined");
        assert!(!work_stops(true, true, true, false), "the firm repairs it");
        assert!(!work_stops(true, true, false, true), "repaired after all");
        assert!(!work_stops(false, true, false, false), "insulation carries no roof");
    }
}

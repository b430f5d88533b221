//! What the packing of a part says, and which parts have such a thing.

use super::kinds::Item;
use crate::closed_list;

/// Something that a part's packing says of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "snake_case"))]
pub enum PartFact {
    /// What its shingles are.
    Shingle,
    /// Pieces in a square.
    PiecesPerSquare,
    /// Inches of a piece that the weather sees; of starter, inches of the edge that a piece runs along.
    ExposureIn,
    /// Nails in each piece; of underlayment, in each square.
    NailsEach,
    /// Net free area of a vent in square inches.
    FreeAreaSqin,
    /// Cubic feet of air a minute that a power vent moves.
    Cfm,
}
closed_list!(PartFact, "fact of a part", {
    Shingle => "shingle",
    PiecesPerSquare => "pieces_per_square",
    ExposureIn => "exposure_in",
    NailsEach => "nails_each",
    FreeAreaSqin => "free_area_sqin",
    Cfm => "cfm",
});

impl Item {
    /// Whether a part for this item has such a thing. A power vent is rated by the air it moves and not by its free
    /// area. Common practice, no source.
    #[must_use]
    pub const fn has(self, fact: PartFact) -> bool {
        let by_piece = matches!(self, Item::Shingles | Item::Starter | Item::RidgeCap);
        match fact {
            PartFact::Shingle | PartFact::PiecesPerSquare => matches!(self, Item::Shingles),
            PartFact::ExposureIn => by_piece,
            PartFact::NailsEach => by_piece || matches!(self, Item::Underlayment),
            PartFact::FreeAreaSqin => self.is_vent() && !matches!(self, Item::PowerVent),
            PartFact::Cfm => matches!(self, Item::PowerVent),
        }
    }

    /// What a part for this item says of itself.
    #[must_use]
    pub fn part_facts(self) -> Vec<PartFact> {
        PartFact::ALL.iter().copied().filter(|fact| self.has(*fact)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_power_vent_moves_air_and_a_box_vent_has_an_area() {
        assert_eq!(Item::PowerVent.part_facts(), [PartFact::Cfm]);
        assert_eq!(Item::BoxVent.part_facts(), [PartFact::FreeAreaSqin]);
        assert_eq!(Item::Shingles.part_facts().len(), 4);
        assert_eq!(Item::Permit.part_facts(), []);
    }
}

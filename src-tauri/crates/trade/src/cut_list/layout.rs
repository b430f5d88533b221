//! Where pieces lie on a sheet, as both ways of laying them say it.

/// A piece or a sheet with a kerf added each way, in ten-thousandths of an inch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) w: i64,
    pub(super) h: i64,
}

impl Block {
    pub(super) fn area(self) -> i128 {
        i128::from(self.w) * i128::from(self.h)
    }

    /// Whether two can come from one sheet: side by side or one above the other.
    pub(super) fn shares(self, other: Block, bed: Block) -> bool {
        self.w + other.w <= bed.w || self.h + other.h <= bed.h
    }
}

/// A block where it lies on its sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) block: usize,
    pub(super) x: i64,
    pub(super) y: i64,
}

/// What is cut from one sheet.
pub(super) type Layout = Vec<Spot>;

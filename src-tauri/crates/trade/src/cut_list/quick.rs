//! Quick rules for many pieces: each piece goes into the free rectangle that suits it best, which one straight
//! cut then divides. Several orders and ways of dividing are run, and the list with the fewest sheets is kept.

use std::cmp::Reverse;

use crate::cut_list::layout::{Block, Layout, Spot};

/// A free rectangle of a sheet.
#[derive(Debug, Clone, Copy)]
struct Free {
    sheet: usize,
    x: i64,
    y: i64,
    w: i64,
    h: i64,
}

/// In which order the pieces are laid, the first of each being the largest.
#[derive(Debug, Clone, Copy)]
enum By {
    Area,
    Length,
    Height,
    Outline,
}

/// Which free rectangle suits a piece best.
#[derive(Debug, Clone, Copy)]
enum Suits {
    /// The one of least area.
    Area,
    /// The one that leaves the narrowest strip.
    Strip,
    /// The first that takes it.
    First,
}

/// Which way the cut runs that divides what is left of a free rectangle.
#[derive(Debug, Clone, Copy)]
enum Divide {
    /// Along the eave, the whole length: what is above stays in one piece.
    Along,
    /// Up the slope, the whole height: what is beside stays in one piece.
    Up,
    /// So that the larger rectangle stays as large as can be.
    KeepLargest,
}

/// Lays the blocks at `chosen`; the fewest sheets of all rules, and the first rule where several are as good.
pub(super) fn pack(chosen: &[usize], blocks: &[Block], bed: Block) -> Vec<Layout> {
    let mut best: Option<Vec<Layout>> = None;
    for by in [By::Area, By::Length, By::Height, By::Outline] {
        let order = ordered(chosen, blocks, by);
        for suits in [Suits::Area, Suits::Strip, Suits::First] {
            for divide in [Divide::KeepLargest, Divide::Along, Divide::Up] {
                let found = run(&order, blocks, bed, suits, divide);
                if best.as_ref().is_none_or(|best| found.len() < best.len()) {
                    best = Some(found);
                }
            }
        }
    }
    best.unwrap_or_default()
}

fn ordered(chosen: &[usize], blocks: &[Block], by: By) -> Vec<usize> {
    let mut order = chosen.to_vec();
    order.sort_by_key(|&at| {
        let Block { w, h } = blocks[at];
        let first = match by {
            By::Area => blocks[at].area(),
            By::Length => i128::from(w),
            By::Height => i128::from(h),
            By::Outline => i128::from(w + h),
        };
        (Reverse(first), Reverse(w), Reverse(h))
    });
    order
}

fn run(order: &[usize], blocks: &[Block], bed: Block, suits: Suits, divide: Divide) -> Vec<Layout> {
    let mut layouts: Vec<Layout> = Vec::new();
    let mut free: Vec<Free> = Vec::new();
    for &block in order {
        let Block { w, h } = blocks[block];
        let fitting = free.iter().enumerate().filter(|(_, spot)| w <= spot.w && h <= spot.h);
        let found = fitting.min_by_key(|(_, spot)| match suits {
            Suits::Area => i128::from(spot.w) * i128::from(spot.h),
            Suits::Strip => i128::from((spot.w - w).min(spot.h - h)),
            Suits::First => 0,
        });
        let spot = match found.map(|(at, _)| at) {
            Some(at) => free.remove(at),
            None => {
                layouts.push(Layout::new());
                Free { sheet: layouts.len() - 1, x: 0, y: 0, w: bed.w, h: bed.h }
            }
        };
        layouts[spot.sheet].push(Spot { block, x: spot.x, y: spot.y });
        free.extend(divided(spot, blocks[block], divide).into_iter().filter(|left| left.w > 0 && left.h > 0));
    }
    layouts
}

/// The two rectangles left of a free one when a block lies in its lower left corner.
fn divided(spot: Free, block: Block, divide: Divide) -> [Free; 2] {
    let (over_w, over_h) = (spot.w - block.w, spot.h - block.h);
    let area = |w: i64, h: i64| i128::from(w) * i128::from(h);
    let along = match divide {
        Divide::Along => true,
        Divide::Up => false,
        Divide::KeepLargest => {
            let along = area(spot.w, over_h).max(area(over_w, block.h));
            let up = area(over_w, spot.h).max(area(block.w, over_h));
            along >= up
        }
    };
    let (beside_h, above_w) = if along { (block.h, spot.w) } else { (spot.h, block.w) };
    [
        Free { x: spot.x + block.w, w: over_w, h: beside_h, ..spot },
        Free { y: spot.y + block.h, w: above_w, h: over_h, ..spot },
    ]
}

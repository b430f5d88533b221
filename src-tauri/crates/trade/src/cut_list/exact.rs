//! Every way of straight cuts for a few pieces, so that the number of sheets is the least.
//!
//! A set of pieces that straight cuts can give is one piece, or two smaller sets side by side, or one above the
//! other. For each set the outlines are kept that no other outline of the set beats in both directions; then
//! the sets that fit a sheet are combined. Branches that are beaten or do not fit are cut off at once, and the work
//! is counted in comparisons, so that it ends at the same place on every machine.

use crate::cut_list::layout::{Block, Layout, Spot};

/// The most pieces that are tried in every way.
pub(super) const MOST_BLOCKS: usize = 9;

/// The most pairs of outlines that are compared before giving up.
const MOST_WORK: usize = 1_000_000;

/// Which pieces, a bit for each.
type Set = usize;

/// How an outline is made.
#[derive(Debug, Clone, Copy)]
enum Made {
    /// One piece.
    Piece(usize),
    /// Two outlines side by side: the set and the place in its list, twice.
    Beside((Set, usize), (Set, usize)),
    /// The second above the first.
    Above((Set, usize), (Set, usize)),
}

/// The rectangle that a set of pieces takes when laid in one way.
#[derive(Debug, Clone, Copy)]
struct Outline {
    w: i64,
    h: i64,
    made: Made,
}

/// The least number of sheets for the blocks at `chosen`, laid out; `None` if there are too many to be sure.
pub(super) fn pack(chosen: &[usize], blocks: &[Block], bed: Block) -> Option<Vec<Layout>> {
    if chosen.len() > MOST_BLOCKS {
        return None;
    }
    let outlines = outlines(chosen, blocks, bed)?;
    let all: Set = (1 << chosen.len()) - 1;
    // For each set the least number of sheets, and what the sheet of its first piece holds.
    let mut least = vec![(0_usize, 0_usize); all + 1];
    for set in 1..=all {
        let mut best = (usize::MAX, 0);
        for part in parts_with_first(set) {
            if outlines[part].is_empty() {
                continue;
            }
            let sheets = least[set ^ part].0.saturating_add(1);
            if sheets < best.0 {
                best = (sheets, part);
            }
        }
        least[set] = best;
    }
    let mut layouts = Vec::new();
    let mut left = all;
    while left != 0 {
        let part = least[left].1;
        let mut layout = Layout::new();
        place(&outlines, chosen, (part, 0), (0, 0), &mut layout);
        layouts.push(layout);
        left ^= part;
    }
    Some(layouts)
}

/// The parts of a set that hold its first piece, the whole set among them and first.
fn parts_with_first(set: Set) -> impl Iterator<Item = Set> {
    let first = set & set.wrapping_neg();
    let others = set ^ first;
    let mut next = Some(others);
    std::iter::from_fn(move || {
        let part = next?;
        next = part.checked_sub(1).map(|less| less & others);
        Some(part | first)
    })
}

/// The outlines of every set that fit the sheet; `None` when the work is too much.
fn outlines(chosen: &[usize], blocks: &[Block], bed: Block) -> Option<Vec<Vec<Outline>>> {
    let mut lists: Vec<Vec<Outline>> = vec![Vec::new(); 1 << chosen.len()];
    let mut work = 0;
    for set in 1..lists.len() {
        let mut list = Vec::new();
        if set.is_power_of_two() {
            let block = set.ilog2() as usize;
            let Block { w, h } = blocks[chosen[block]];
            keep(&mut list, Outline { w, h, made: Made::Piece(block) }, bed);
        }
        for part in parts_with_first(set).filter(|&part| part != set) {
            let rest = set ^ part;
            for (i, a) in lists[part].iter().enumerate() {
                for (j, b) in lists[rest].iter().enumerate() {
                    work += 1;
                    if work > MOST_WORK {
                        return None;
                    }
                    let (a_at, b_at) = ((part, i), (rest, j));
                    let made = Made::Beside(a_at, b_at);
                    keep(&mut list, Outline { w: a.w + b.w, h: a.h.max(b.h), made }, bed);
                    let made = Made::Above(a_at, b_at);
                    keep(&mut list, Outline { w: a.w.max(b.w), h: a.h + b.h, made }, bed);
                }
            }
        }
        lists[set] = list;
    }
    Some(lists)
}

/// Keeps an outline that fits and that none beats; drops those that it beats.
fn keep(list: &mut Vec<Outline>, new: Outline, bed: Block) {
    let fits = new.w <= bed.w && new.h <= bed.h;
    if !fits || list.iter().any(|old| old.w <= new.w && old.h <= new.h) {
        return;
    }
    list.retain(|old| old.w < new.w || old.h < new.h);
    list.push(new);
}

/// Writes down where the pieces of an outline lie.
fn place(
    lists: &[Vec<Outline>],
    chosen: &[usize],
    (set, at): (Set, usize),
    (x, y): (i64, i64),
    layout: &mut Layout,
) {
    match lists[set][at].made {
        Made::Piece(block) => layout.push(Spot { block: chosen[block], x, y }),
        Made::Beside(a, b) => {
            place(lists, chosen, a, (x, y), layout);
            place(lists, chosen, b, (x + lists[a.0][a.1].w, y), layout);
        }
        Made::Above(a, b) => {
            place(lists, chosen, a, (x, y), layout);
            place(lists, chosen, b, (x, y + lists[a.0][a.1].h), layout);
        }
    }
}

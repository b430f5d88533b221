//! The cut list: which piece is sawn from which deck sheet, and so how many sheets are bought.
//!
//! A piece is never turned: its long side and the sheet's grain lie along the eave. Every layout can be sawn with
//! straight cuts from edge to edge of what is left, which is how sheets are cut on a roof; so a layout that only
//! stopped cuts could give is not counted on. Between two pieces lies at least the width of the saw's cut.
//!
//! The same pieces give the same list, in whatever order they come: nothing here is random or timed.

mod exact;
mod layout;
mod quick;

use serde::{Deserialize, Serialize};

use crate::cut_list::layout::{Block, Layout, Spot};
use crate::money::Qty;
use crate::patch::{Grown, Patch, PatchError, Piece, SheetSize, check_sheet, grow, size};

/// The width of a saw's cut where the firm has set no other: ⅛ in (common practice, no source).
pub const USUAL_KERF: Qty = Qty::from_e4(1250);

/// More pieces than this are a new deck and not patches.
const MOST_PIECES: usize = 1000;

/// A piece to be cut, and whose it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Wanted {
    /// The patch, counted from 0 in the order given.
    pub patch: usize,
    /// The piece of that patch, counted from 0.
    pub piece: usize,
    /// Its size.
    pub size: Piece,
}

/// A piece where it lies on its sheet; inches from the sheet's lower left corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Placed {
    /// The patch, counted from 0 in the order given.
    pub patch: usize,
    /// The piece of that patch, counted from 0.
    pub piece: usize,
    /// Its left edge, along the sheet's long side.
    pub x: Qty,
    /// Its lower edge.
    pub y: Qty,
    /// Along the sheet's long side.
    pub width: Qty,
    /// Along the sheet's short side.
    pub height: Qty,
}

/// One sheet with what is cut from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Sheet {
    /// Its pieces, from the lower edge up and from the left.
    pub pieces: Vec<Placed>,
}

/// All sheets, the fullest first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CutList {
    /// The sheets.
    pub sheets: Vec<Sheet>,
    /// How many are bought: the number of `sheets`.
    pub bought: usize,
    /// The pieces' area ÷ a sheet's, rounded up: no list can do with fewer.
    pub area_bound: usize,
    /// Whether it is shown that no list of straight cuts needs fewer. Else it is the best that was found.
    pub proven_least: bool,
}

/// Patches grown, cut and counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Count {
    /// Patch by patch, in the order given.
    pub grown: Vec<Grown>,
    /// What is cut from what.
    pub cut_list: CutList,
    /// Sheets to buy.
    pub sheets: Qty,
}

/// Counts the deck sheets for some patches: each grown to its rafters, all cut from as few sheets as found.
///
/// # Errors
/// Names the field that is zero, below zero, over 100 ft, or that no sheet can serve; else as [`cut_list`].
pub fn count_sheets(
    patches: &[Patch],
    rafter_spacing: Qty,
    sheet: SheetSize,
    kerf: Qty,
) -> Result<Count, PatchError> {
    check_sheet(rafter_spacing, sheet)?;
    let mut grown = Vec::new();
    let mut wanted = Vec::new();
    for (index, &patch) in patches.iter().enumerate() {
        let one = grow(&format!("patches[{index}]."), patch, rafter_spacing, Some(sheet))?;
        let pieces = one.pieces.iter().enumerate();
        wanted.extend(pieces.map(|(piece, &size)| Wanted { patch: index, piece, size }));
        grown.push(one);
        if wanted.len() > MOST_PIECES {
            return Err(PatchError::TooMany { most: MOST_PIECES });
        }
    }
    let cut_list = cut_list(&wanted, sheet, kerf)?;
    let sheets = Qty::from_e4(10_000 * i64::try_from(cut_list.bought).unwrap_or(i64::MAX / 10_000));
    Ok(Count { grown, cut_list, sheets })
}

/// Lays pieces on sheets.
///
/// A piece that can share a sheet with no other takes one. If few enough are left, every way of straight cuts is
/// tried and the number is the least. Else several quick rules are run, the best is kept, and its emptiest sheets
/// are laid again in every way.
///
/// # Errors
/// Names the piece that no sheet can give, or the kerf if it is not from 0 to 1 in.
pub fn cut_list(wanted: &[Wanted], sheet: SheetSize, kerf: Qty) -> Result<CutList, PatchError> {
    size("sheet.along_eave", sheet.along_eave)?;
    size("sheet.up_slope", sheet.up_slope)?;
    if kerf.is_negative() || kerf > Qty::from_e4(10_000) {
        return Err(PatchError::Kerf { value: kerf });
    }
    if wanted.len() > MOST_PIECES {
        return Err(PatchError::TooMany { most: MOST_PIECES });
    }
    let mut sorted = wanted.to_vec();
    for want in wanted {
        let field = format!("patches[{}].pieces[{}]", want.patch, want.piece);
        size(&format!("{field}.along_eave"), want.size.along_eave)?;
        size(&format!("{field}.up_slope"), want.size.up_slope)?;
        if want.size.along_eave > sheet.along_eave || want.size.up_slope > sheet.up_slope {
            return Err(PatchError::LargerThanSheet { field });
        }
    }
    // One order for all, so that the order of typing cannot change the number.
    sorted.sort_by_key(|w| (-w.size.along_eave.e4(), -w.size.up_slope.e4(), w.patch, w.piece));
    // Every piece and the sheet itself are taken a kerf larger: pieces that then do not overlap lie a kerf apart.
    let cut = kerf.e4();
    let with_kerf = |along: Qty, up: Qty| Block { w: along.e4() + cut, h: up.e4() + cut };
    let blocks: Vec<Block> = sorted.iter().map(|w| with_kerf(w.size.along_eave, w.size.up_slope)).collect();
    let bed = with_kerf(sheet.along_eave, sheet.up_slope);

    let (layouts, proven_least) = lay(&blocks, bed);
    let whole = i128::from(sheet.along_eave.e4()) * i128::from(sheet.up_slope.e4());
    let area: i128 =
        sorted.iter().map(|w| i128::from(w.size.along_eave.e4()) * i128::from(w.size.up_slope.e4())).sum();
    let area_bound = usize::try_from((area + whole - 1) / whole).unwrap_or(usize::MAX);
    let mut sheets: Vec<Sheet> = layouts.iter().map(|layout| named(layout, &sorted)).collect();
    sheets.sort_by_key(|sheet| {
        let used: i128 =
            sheet.pieces.iter().map(|p| i128::from(p.width.e4()) * i128::from(p.height.e4())).sum();
        (-used, sheet.pieces.iter().map(|p| (p.patch, p.piece)).min())
    });
    Ok(CutList { bought: sheets.len(), sheets, area_bound, proven_least })
}

/// Lays the blocks, and says whether the number of sheets is shown to be the least.
fn lay(blocks: &[Block], bed: Block) -> (Vec<Layout>, bool) {
    let alone = |at: usize| {
        let mut others = blocks.iter().enumerate().filter(|(other, _)| *other != at);
        !others.any(|(_, other)| blocks[at].shares(*other, bed))
    };
    let (single, rest): (Vec<usize>, Vec<usize>) = (0..blocks.len()).partition(|&at| alone(at));
    let mut layouts: Vec<Layout> = single.into_iter().map(|block| vec![Spot { block, x: 0, y: 0 }]).collect();
    if rest.is_empty() {
        return (layouts, true);
    }
    if let Some(least) = exact::pack(&rest, blocks, bed) {
        layouts.extend(least);
        return (layouts, true);
    }
    let bound = least_thinkable(&rest, blocks, bed);
    let mut found = quick::pack(&rest, blocks, bed);
    while found.len() > bound && tighten(&mut found, blocks, bed) {}
    let proven = found.len() == bound;
    layouts.extend(found);
    (layouts, proven)
}

/// No fewer sheets can do: by area with the saw's cuts, or because large pieces cannot share a sheet pairwise.
fn least_thinkable(rest: &[usize], blocks: &[Block], bed: Block) -> usize {
    let area: i128 = rest.iter().map(|&at| blocks[at].area()).sum();
    let by_area = usize::try_from((area + bed.area() - 1) / bed.area()).unwrap_or(usize::MAX);
    let large = |&&at: &&usize| 2 * blocks[at].w > bed.w && 2 * blocks[at].h > bed.h;
    by_area.max(rest.iter().filter(large).count())
}

/// Lays the emptiest sheets again in every way; true if that saved one.
fn tighten(found: &mut Vec<Layout>, blocks: &[Block], bed: Block) -> bool {
    found.sort_by_key(|layout| -> i128 { layout.iter().map(|spot| blocks[spot.block].area()).sum() });
    let mut group: Vec<usize> = Vec::new();
    let mut best = None;
    for (at, layout) in found.iter().enumerate() {
        if group.len() + layout.len() > exact::MOST_BLOCKS {
            break;
        }
        group.extend(layout.iter().map(|spot| spot.block));
        let better = exact::pack(&group, blocks, bed).filter(|better| better.len() <= at);
        if better.is_some() {
            best = better.map(|better| (at + 1, better));
            break;
        }
    }
    let Some((replaced, better)) = best else { return false };
    found.drain(..replaced);
    found.extend(better);
    true
}

/// A layout with the pieces' own names and sizes.
fn named(layout: &[Spot], wanted: &[Wanted]) -> Sheet {
    let mut spots = layout.to_vec();
    spots.sort_by_key(|spot| (spot.y, spot.x));
    let place = |spot: &Spot| {
        let want = &wanted[spot.block];
        Placed {
            patch: want.patch,
            piece: want.piece,
            x: Qty::from_e4(spot.x),
            y: Qty::from_e4(spot.y),
            width: want.size.along_eave,
            height: want.size.up_slope,
        }
    };
    Sheet { pieces: spots.iter().map(place).collect() }
}

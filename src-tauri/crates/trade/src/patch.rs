//! Patches of damaged deck: how far each is cut out, so that what replaces it has rafters to be nailed to.
//!
//! Deck sheets lie with their long side across the rafters, that is along the eave. So a patch grows along the
//! eave and not up the slope. None of it is in a code: *common practice, no source*.

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::money::Qty;

/// The largest patch, rafter spacing or sheet that is believed: 100 ft. More is a slip of the thumb.
const MOST_IN: Qty = Qty::from_e4(12_000_000);

/// A replaced piece covers at least this many spaces between rafters (common practice, no source).
const LEAST_SPANS: i64 = 2;

/// Damage as it was seen, measured in inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Patch {
    /// Its length along the eave, inches.
    pub along_eave: Qty,
    /// Its height up the slope, inches.
    pub up_slope: Qty,
    /// How far its near edge lies past a rafter's center, inches; absent where nobody could see the rafters.
    pub from_rafter: Option<Qty>,
}

/// A deck sheet as it is bought, in inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetSize {
    /// Along the eave, across the rafters: the long side.
    pub along_eave: Qty,
    /// Up the slope: the short side.
    pub up_slope: Qty,
}

impl SheetSize {
    /// The sheet of 4 × 8 ft.
    pub const FOUR_BY_EIGHT: SheetSize =
        SheetSize { along_eave: Qty::from_e4(960_000), up_slope: Qty::from_e4(480_000) };
}

/// Why a patch is cut out longer or higher than the damage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
#[serde(rename_all = "kebab-case")]
pub enum GrowReason {
    /// Both ends were moved out to the rafters that they must land on.
    ToRafters,
    /// Nobody saw where the rafters are, so one more space is taken: the damage may lie across a rafter more.
    RaftersUnseen,
    /// Widened to the least number of spaces between rafters.
    LeastSpans,
    /// One space more, because joints on rafters would leave a piece of one space alone.
    NoLoneSpan,
    /// The height was rounded up to a whole inch.
    WholeInch,
}

/// One piece to cut for a patch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Piece {
    /// Along the eave, inches.
    pub along_eave: Qty,
    /// Up the slope, inches.
    pub up_slope: Qty,
}

/// A patch as it is cut out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Grown {
    /// Along the eave, from rafter center to rafter center, inches.
    pub along_eave: Qty,
    /// Up the slope, whole inches.
    pub up_slope: Qty,
    /// The spaces between rafters that it covers.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub spans: i64,
    /// Every reason for which it is larger than the damage, in the order applied.
    pub why: Vec<GrowReason>,
    /// What to cut: rows from the eave up, in each row from the near end on.
    pub pieces: Vec<Piece>,
}

/// Why patches could not be counted.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PatchError {
    /// A measure that is nothing or less.
    #[error("It is {value} in. Measure it again and type a figure above zero.")]
    NotPositive {
        /// The field, such as `patches[0].up_slope`.
        field: String,
        /// What was typed, inches.
        value: Qty,
    },
    /// A distance that points the wrong way.
    #[error("It is {value} in. Measure from the rafter before the damage, so that it is zero or more.")]
    Negative {
        /// The field.
        field: String,
        /// What was typed, inches.
        value: Qty,
    },
    /// Beyond 100 ft.
    #[error("It is {value} in, over 100 ft. Check the figure: it is in inches.")]
    TooLarge {
        /// The field.
        field: String,
        /// What was typed, inches.
        value: Qty,
    },
    /// Two spaces between rafters are longer than a sheet.
    #[error(
        "Rafters are {spacing} in apart, so a sheet of {sheet} in does not reach over two spaces. Check the \
         spacing, or count this deck in boards."
    )]
    SheetTooShort {
        /// Inches from rafter center to rafter center.
        spacing: Qty,
        /// The sheet's length, inches.
        sheet: Qty,
    },
    /// A piece that no sheet can give.
    #[error("It is larger than a sheet. Divide it over rafters, or type the size of a larger sheet.")]
    LargerThanSheet {
        /// The piece.
        field: String,
    },
    /// A saw's cut that is none.
    #[error("The saw's cut is {value} in wide. Type a width from 0 to 1 in; 0.125 is usual.")]
    Kerf {
        /// What was typed, inches.
        value: Qty,
    },
    /// More pieces than patches of damage come to.
    #[error("The patches come to over {most} pieces. Replace the deck by its area instead.")]
    TooMany {
        /// The most that is worked out.
        most: usize,
    },
}

impl PatchError {
    /// The field that is wrong, such as `patches[0].up_slope`.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            PatchError::NotPositive { field, .. }
            | PatchError::Negative { field, .. }
            | PatchError::TooLarge { field, .. }
            | PatchError::LargerThanSheet { field } => field,
            PatchError::SheetTooShort { .. } => "rafter_spacing",
            PatchError::Kerf { .. } => "kerf",
            PatchError::TooMany { .. } => "patches",
        }
    }
}

/// Grows a patch to what is cut out, and divides it into pieces that a sheet can give.
///
/// - Along the eave the cut runs from rafter center to rafter center. With the near edge `o` past a rafter (less
///   whole spaces), damage of length `L` touches ⌈(o + L) ÷ spacing⌉ spaces.
/// - Where `o` is not known the worst place is taken: as `o` nears a whole space the count nears
///   ⌈L ÷ spacing⌉ + 1, and it can never be more.
/// - At least two spaces are covered.
/// - Up the slope it keeps its height, rounded up to a whole inch (company rule).
/// - What is longer than a sheet is joined over rafters only; full lengths first, but no piece of a single space
///   is left. What is higher than a sheet is laid in rows, full rows first.
///
/// `name` is what the patch is called in messages. Without a sheet it is not divided into pieces; whether a sheet can
/// be used at all is for `check_sheet` to say.
///
/// # Errors
/// Names the field that is zero, below zero, or over 100 ft.
pub(crate) fn grow(
    name: &str,
    patch: Patch,
    spacing: Qty,
    sheet: Option<SheetSize>,
) -> Result<Grown, PatchError> {
    size(&format!("{name}along_eave"), patch.along_eave)?;
    size(&format!("{name}up_slope"), patch.up_slope)?;
    size("rafter_spacing", spacing)?;
    let (length, gap) = (patch.along_eave.e4(), spacing.e4());
    let mut why = Vec::new();
    let mut spans = if let Some(offset) = patch.from_rafter {
        let field = format!("{name}from_rafter");
        if offset.is_negative() {
            return Err(PatchError::Negative { field, value: offset });
        }
        if offset > MOST_IN {
            return Err(PatchError::TooLarge { field, value: offset });
        }
        let past = offset.e4() % gap;
        let spans = ceil_div(past + length, gap);
        if spans * gap != length {
            why.push(GrowReason::ToRafters);
        }
        spans
    } else {
        why.push(GrowReason::RaftersUnseen);
        ceil_div(length, gap) + 1
    };
    if spans < LEAST_SPANS {
        why.push(GrowReason::LeastSpans);
        spans = LEAST_SPANS;
    }
    let most = sheet.map(|sheet| sheet.along_eave.e4() / gap);
    // Pieces of two spaces at the most cannot make up an odd number without a lone one.
    if most == Some(LEAST_SPANS) && spans % LEAST_SPANS != 0 {
        why.push(GrowReason::NoLoneSpan);
        spans += 1;
    }
    let up_slope = whole_inches(patch.up_slope);
    if up_slope != patch.up_slope {
        why.push(GrowReason::WholeInch);
    }
    let pieces = sheet.map_or_else(Vec::new, |sheet| pieces(spans, up_slope, spacing, sheet));
    Ok(Grown { along_eave: Qty::from_e4(spans * gap), up_slope, spans, why, pieces })
}

/// Whether a sheet of that size can be used at that spacing.
pub(crate) fn check_sheet(spacing: Qty, sheet: SheetSize) -> Result<(), PatchError> {
    size("rafter_spacing", spacing)?;
    size("sheet.along_eave", sheet.along_eave)?;
    size("sheet.up_slope", sheet.up_slope)?;
    if sheet.along_eave.e4() < LEAST_SPANS * spacing.e4() {
        return Err(PatchError::SheetTooShort { spacing, sheet: sheet.along_eave });
    }
    Ok(())
}

/// Square inches in a square foot.
const SQIN_A_SQFT: Decimal = Decimal::from_parts(144, 0, 0, false, 0);

/// The area of some patches in square feet, rounded up to whole ones once for all of them (company rule).
///
/// # Errors
/// Names the size that is not above zero, or over 100 ft.
pub fn area_sqft(patches: &[Patch]) -> Result<Qty, PatchError> {
    let mut sqin = Decimal::ZERO;
    for (index, patch) in patches.iter().enumerate() {
        size(&format!("patches[{index}].along_eave"), patch.along_eave)?;
        size(&format!("patches[{index}].up_slope"), patch.up_slope)?;
        sqin += patch.along_eave.decimal() * patch.up_slope.decimal();
    }
    Ok(Qty::rounded((sqin / SQIN_A_SQFT).round_dp_with_strategy(0, RoundingStrategy::AwayFromZero)))
}

/// Refuses a size that is not above zero or not believed.
pub(crate) fn size(field: &str, value: Qty) -> Result<(), PatchError> {
    if !value.is_positive() {
        return Err(PatchError::NotPositive { field: field.to_owned(), value });
    }
    if value > MOST_IN {
        return Err(PatchError::TooLarge { field: field.to_owned(), value });
    }
    Ok(())
}

/// Divides a grown patch; see [`grow`].
fn pieces(spans: i64, height: Qty, spacing: Qty, sheet: SheetSize) -> Vec<Piece> {
    let most = sheet.along_eave.e4() / spacing.e4();
    let mut lengths = Vec::new();
    let mut left = spans;
    while left > 0 {
        let take = if left - most == 1 { most - 1 } else { most.min(left) };
        lengths.push(Qty::from_e4(take * spacing.e4()));
        left -= take;
    }
    let mut out = Vec::new();
    let mut height_left = height;
    while height_left.is_positive() {
        let up_slope = height_left.min(sheet.up_slope);
        out.extend(lengths.iter().map(|&along_eave| Piece { along_eave, up_slope }));
        height_left -= up_slope;
    }
    out
}

fn whole_inches(value: Qty) -> Qty {
    Qty::rounded(value.decimal().round_dp_with_strategy(0, RoundingStrategy::AwayFromZero))
}

/// `a ÷ b` rounded up, for `a` and `b` above zero.
fn ceil_div(a: i64, b: i64) -> i64 {
    (a + b - 1) / b
}

/// The deck boards for some patches.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Boards {
    /// Patch by patch, in the order given.
    pub runs: Vec<BoardRun>,
    /// All of them, lineal feet.
    pub feet: Qty,
}

/// The boards for one patch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BoardRun {
    /// What is cut out; a board is as long as this, and may be joined over any rafter.
    pub grown: Grown,
    /// Boards one above the other.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub rows: i64,
    /// Whole feet in a row.
    pub feet_a_row: Qty,
    /// Rows times feet.
    pub feet: Qty,
}

/// Lineal feet of deck board for some patches: rows × length, each row rounded up to a whole foot (company rule).
///
/// Boards are nailed to the same rafters as sheets, so their length is that of the grown patch; the rows are what
/// covers the damage's own height. `board_width` is the width that a board covers, in inches.
///
/// # Errors
/// As `grow`; the width of the board is checked the same way.
pub fn feet_of_board(patches: &[Patch], rafter_spacing: Qty, board_width: Qty) -> Result<Boards, PatchError> {
    size("board_width", board_width)?;
    let mut runs = Vec::new();
    for (index, &patch) in patches.iter().enumerate() {
        let grown = grow(&format!("patches[{index}]."), patch, rafter_spacing, None)?;
        let rows = ceil_div(patch.up_slope.e4(), board_width.e4());
        let length = grown.along_eave.decimal() / Decimal::from(12);
        let feet_a_row = Qty::rounded(length.round_dp_with_strategy(0, RoundingStrategy::AwayFromZero));
        let feet = Qty::rounded(feet_a_row.decimal() * Decimal::from(rows));
        runs.push(BoardRun { grown, rows, feet_a_row, feet });
    }
    let feet = runs.iter().map(|run| run.feet).sum();
    Ok(Boards { runs, feet })
}

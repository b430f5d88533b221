//! The points that a firm's workmanship checklist may begin with.

use desk::Desk;
use desk::OfficeError;
use ledger::facts::CheckPoint;
use trade::Item;

/// A point that a checklist may begin with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsualPoint {
    /// The part of the roof it belongs to; absent for the job as a whole.
    pub item: Option<Item>,
    /// What is looked at.
    pub words: &'static str,
    /// Whether the completion packet waits for it.
    pub blocks: bool,
}

const fn waits(item: Item, words: &'static str) -> UsualPoint {
    UsualPoint { item: Some(item), words, blocks: true }
}

const fn noted(item: Item, words: &'static str) -> UsualPoint {
    UsualPoint { item: Some(item), words, blocks: false }
}

const fn of_the_job(words: &'static str, blocks: bool) -> UsualPoint {
    UsualPoint { item: None, words, blocks }
}

/// Common practice, no source, in the order of the work. The firm adds, words anew and retires as it likes.
const USUAL: &[UsualPoint] = &[
    of_the_job("Fall protection in place before anybody is on the roof", true),
    noted(Item::TearOff, "Beds, walks and air units covered before the tear-off"),
    waits(Item::TearOff, "Old roof off down to the deck, and no nail left standing"),
    waits(Item::DeckSheet, "Every soft or split sheet replaced, and its photo taken"),
    waits(Item::DeckSheet, "Sheets nailed to every rafter, with a gap at their joints"),
    waits(Item::DripEdge, "Drip edge at eaves lies under the membrane, at rakes over the underlayment"),
    waits(Item::Barrier, "Membrane at eaves reaches as far inside the wall line as asked"),
    waits(Item::Barrier, "Membrane in valleys, round penetrations and along walls as specified"),
    noted(Item::Underlayment, "Underlayment flat and lapped with the fall of the water"),
    noted(Item::Starter, "Starter at eaves and rakes, with its seal at the edge"),
    noted(Item::ValleyMetal, "Valley metal centered, and not nailed through its open part"),
    waits(Item::Shingles, "Nails on the line, as many as specified, flush and straight"),
    noted(Item::Shingles, "Courses straight, joints offset, exposure even"),
    waits(Item::StepFlashing, "Step flashing new, one piece to each course"),
    waits(Item::KickOut, "A kick-out wherever an eave ends at a wall, sending water into the gutter"),
    waits(Item::Cricket, "A cricket behind each wide chimney, shedding water to both sides"),
    waits(Item::ChimneyFlashing, "Chimney flashed on all sides, with counter-flashing let into the joints"),
    waits(Item::PipeBoot, "Pipe boots new, and tight round their pipes"),
    waits(Item::RidgeVent, "Deck cut open at the ridge, and insulation held clear of the intake"),
    noted(Item::RidgeVent, "No other kind of exhaust vent open into the same attic"),
    noted(Item::RidgeCap, "Ridge cap laid against the prevailing wind, its last nails sealed"),
    of_the_job("Lawn, beds and drive swept with a magnet", true),
    of_the_job("Gutters cleared of granules and nails", false),
    of_the_job("Attic looked at from inside for daylight and dropped nails", false),
    of_the_job("Photos of every side of the finished roof", true),
];

/// The points that a checklist may begin with.
#[must_use]
pub fn usual_points() -> &'static [UsualPoint] {
    USUAL
}

/// Puts those of the usual points on the checklist that are not on it, after those that are. Answers how many.
///
/// # Errors
/// When they cannot be recorded.
pub fn begin_checklist(desk: &mut Desk) -> Result<usize, OfficeError> {
    let known = desk.books().current(|point: &CheckPoint| point.revises)?;
    let last = known.values().map(|point| point.position).max().unwrap_or(0);
    let missing = USUAL.iter().filter(|usual| known.values().all(|point| point.words != usual.words));
    let facts: Vec<ledger::Fact> = missing
        .zip(last + 1..)
        .map(|(usual, position)| {
            CheckPoint {
                revises: None,
                item: usual.item,
                words: usual.words.to_owned(),
                blocks: usual.blocks,
                position,
                retired: false,
            }
            .into()
        })
        .collect();
    let count = facts.len();
    if count > 0 {
        desk.record(facts)?;
    }
    Ok(count)
}

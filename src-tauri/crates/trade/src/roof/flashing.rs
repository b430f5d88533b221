//! Flashings: valley metal, step, apron and counter-flashing, kick-outs, sets and boots.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, edges, pieces_along, running, short, step};
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Topic};
use crate::roof::line::{Line, Takeoff, Warning, WarningCode};
use crate::roof::measured::MeasuredEdge;
use crate::roof::shape::Feature;
use crate::roof::valley;

pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    valley::metal_and_roll(given, out);
    let measured = given.shingled;
    let against_walls = measured.wall_ft.is_positive() || measured.headwall_ft.is_positive();
    let openings = given.count(FeatureKind::Chimney) + given.count(FeatureKind::Skylight);
    if given.asked.wants(Topic::NewFlashings) {
        step_flashing(given, out);
        wall_flashing(given, out);
        for (kind, item) in
            [(FeatureKind::Chimney, Item::ChimneyFlashing), (FeatureKind::Skylight, Item::SkylightFlashing)]
        {
            pieces(given, out, kind, item, "A set each (common practice).");
        }
    } else if against_walls || openings > 0 {
        out.warn(
            WarningCode::FlashingsKept,
            "Old flashings at walls, chimneys and skylights stay, as new ones are not asked for.",
            "Look at each before the price is given; ask for new flashings where any is rusted, bent or short.",
        );
    }
    kick_outs(given, out);
    crickets(given, out);
    pieces(given, out, FeatureKind::Pipe, Item::PipeBoot, "A new boot for each pipe (common practice).");
}

fn pieces(given: &Given<'_>, out: &mut Takeoff, kind: FeatureKind, item: Item, rule: &str) {
    let count = Decimal::from(given.count(kind));
    out.add(Line::new(item, count, vec![step("counted on the roof", count, "pieces")], rule).of(kind));
}

/// Pieces of step flashing along a wall of so many feet up the slope: one a course, which is length ÷ exposure, and one
/// more at the end.
#[must_use]
pub fn step_pieces(length_ft: Qty, exposure_in: Qty) -> Decimal {
    if !exposure_in.is_positive() || !length_ft.is_positive() {
        return Decimal::ZERO;
    }
    pieces_along(length_ft.decimal(), exposure_in.decimal()) + Decimal::ONE
}

fn step_flashing(given: &Given<'_>, out: &mut Takeoff) {
    let exposure = given.recipe.exposure_in;
    let mut net = Decimal::ZERO;
    let mut steps = Vec::new();
    for (section, edge) in edges(given.shingled, EdgeKind::Wall) {
        let pieces = step_pieces(edge.counted_ft, exposure);
        let words = format!(
            "{}: {} ft ÷ {exposure} in, and one more",
            section.name,
            short(edge.counted_ft.decimal())
        );
        steps.push(step(words, pieces, "pieces"));
        net += pieces;
    }
    let rule = format!(
        "One a course, and one more, for each wall ({}).",
        given.asked.source(Topic::StepFlashingSide)
    );
    out.add(Line::new(Item::StepFlashing, net, steps, rule).at(EdgeKind::Wall));
    let (least, side) = (given.asked.value(Topic::StepFlashingSide), given.recipe.step_flashing_side_in);
    if net > Decimal::ZERO && side < least {
        out.warn(
            WarningCode::StepFlashingSmall,
            format!(
                "Step flashing of {side} × {side} in is used; {least} × {least} in are asked for ({}).",
                given.asked.source(Topic::StepFlashingSide)
            ),
            format!("Use pieces with {least} in or more on the roof and up the wall."),
        );
    }
}

fn wall_flashing(given: &Given<'_>, out: &mut Takeoff) {
    let (piece, lap) = (given.recipe.flashing_piece_ft, given.recipe.flashing_lap_in);
    let apron = "Length, with laps (common practice).";
    out.add(running(given.shingled, Item::Apron, EdgeKind::Headwall, piece, lap, apron));
    if given.recipe.masonry_walls {
        let rule =
            "Over step and apron flashing where walls are of masonry: length, with laps (common practice).";
        for kind in [EdgeKind::Wall, EdgeKind::Headwall] {
            out.add(running(given.shingled, Item::CounterFlashing, kind, piece, lap, rule));
        }
    }
}

/// One wherever an eave ends at a side wall; without it the wall below takes the water of the whole roof edge.
fn kick_outs(given: &Given<'_>, out: &mut Takeoff) {
    let ends = Decimal::from(given.shingled.wall_ends);
    typed_walls(given, out);
    if given.asked.wants(Topic::KickOut) {
        let steps = vec![step("eaves that end at a side wall", ends, "pieces")];
        let rule = format!("One for each ({}).", given.asked.source(Topic::KickOut));
        out.add(Line::new(Item::KickOut, ends, steps, rule).at(EdgeKind::Wall));
    } else if ends > Decimal::ZERO {
        out.warn(
            WarningCode::KickOutMissing,
            format!("Eaves that end at a side wall: {ends}, and no kick-out diverter is asked for."),
            "Ask for a kick-out at every one of them (IRC R903.2.1).",
        );
    }
}

/// A typed wall has no corners that would show where an eave ends at it, so that nothing counts its diverters: it is
/// said, unless a person has noted how many ends there are.
fn typed_walls(given: &Given<'_>, out: &mut Takeoff) {
    if given.features.iter().any(|feature| feature.kind == FeatureKind::WallEnd) {
        return;
    }
    for section in &given.shingled.sections {
        let typed = |edge: &MeasuredEdge| edge.kind == EdgeKind::Wall && edge.from.is_none();
        if section.edges.iter().any(typed) {
            out.warnings.push(Warning {
                code: WarningCode::KickOutMissing,
                section: Some(section.name.clone()),
                words: format!(
                    "The wall of section \"{}\" was typed, and nothing says how many eaves end at it: no kick-out \
                     is counted there.",
                    section.name
                ),
                remedy: "Note how many eaves end at a side wall (IRC R903.2.1).".to_owned(),
            });
        }
    }
}

/// Whether something so wide across the slope is asked to have a cricket or saddle on its high side: what is wider than
/// 30 in is, so that 30 in is not and 30.25 in is (IRC R903.2.2; R1003.20 asks the same of masonry chimneys, and of
/// none that the ridge line runs into).
pub(crate) fn is_wide(given: &Given<'_>, feature: &Feature) -> bool {
    let (over, width) = (given.asked.value(Topic::CricketOver), width_of(given, feature));
    over.is_positive() && feature.count > 0 && width > over
}

/// How wide a chimney or skylight is, or is taken to be where nobody measured it.
pub(crate) fn width_of(given: &Given<'_>, feature: &Feature) -> Qty {
    feature.width_in.unwrap_or(given.recipe.opening_in)
}

/// A cricket behind each chimney that is wide; a skylight has its curb and its maker's flashing, and is looked at.
fn crickets(given: &Given<'_>, out: &mut Takeoff) {
    let (mut net, mut steps) = (Decimal::ZERO, Vec::new());
    let chimneys = given.in_shingles.iter().filter(|feature| feature.kind == FeatureKind::Chimney);
    for chimney in chimneys.filter(|chimney| is_wide(given, chimney)) {
        let count = Decimal::from(chimney.count);
        let words = format!(
            "chimney {} in wide, over {}",
            width_of(given, chimney),
            given.asked.value(Topic::CricketOver)
        );
        steps.push(step(words, count, "pieces"));
        net += count;
    }
    let rule = format!(
        "One behind each; {}. A chimney that the ridge line runs into needs none: leave it out.",
        given.who_asks(Topic::CricketOver)
    );
    out.add(Line::new(Item::Cricket, net, steps, rule).of(FeatureKind::Chimney));
}

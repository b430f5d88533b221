//! Valleys: metal, roll roofing, and the membrane that lies under them, each for whoever asks for it.

use rust_decimal::Decimal;

use crate::roof::given::{Given, TWELVE, cover, running, short, step};
use crate::roof::kinds::{EdgeKind, Item, Topic, ValleyLining, ValleyMethod};
use crate::roof::line::{Line, Takeoff, WarningCode};

/// The two plies of mineral-surfaced roll roofing that may stand for metal: inches across the lower and the upper one
/// (IRC R905.2.8.2).
const PLIES_IN: [i64; 2] = [18, 36];

/// Open valleys have metal, which the code asks to be 24 in wide and under which it asks for nothing, or two plies of
/// roll roofing. Closed ones have a lining: smooth roll roofing 36 in wide, self-adhered membrane in its place, or what
/// an open one has (IRC R905.2.8.2). Membrane under metal is the company's to ask, or part of the method with three
/// layers.
const fn has_metal(method: ValleyMethod, lining: ValleyLining) -> bool {
    match method {
        ValleyMethod::Open | ValleyMethod::OpenThreeLayer => true,
        ValleyMethod::OpenRoll => false,
        ValleyMethod::ClosedCut => matches!(lining, ValleyLining::Metal),
    }
}

/// Inches across the plies of roll roofing in a valley; none where it has none.
fn plies_in(given: &Given<'_>) -> Vec<Decimal> {
    match (given.recipe.valley, given.recipe.valley_lining) {
        (ValleyMethod::OpenRoll, _) | (ValleyMethod::ClosedCut, ValleyLining::MineralRoll) => {
            PLIES_IN.map(Decimal::from).to_vec()
        }
        (ValleyMethod::ClosedCut, ValleyLining::SmoothRoll) => {
            vec![given.asked.value(Topic::ValleyLining).decimal()]
        }
        _ => Vec::new(),
    }
}

/// Inches across the centered strip of membrane, and why it lies there.
fn center_strip(given: &Given<'_>) -> (Decimal, String) {
    let asked = given.asked.value(Topic::BarrierValley);
    let lining = given.asked.value(Topic::ValleyLining);
    let lines_it = given.recipe.valley == ValleyMethod::ClosedCut
        && given.recipe.valley_lining == ValleyLining::Membrane;
    if lines_it && lining >= asked {
        (lining.decimal(), format!("in place of roll roofing, {}", given.who_asks(Topic::ValleyLining)))
    } else if asked.is_positive() {
        (asked.decimal(), given.who_asks(Topic::BarrierValley))
    } else if given.recipe.valley == ValleyMethod::OpenThreeLayer {
        (given.recipe.barrier_roll_in.decimal(), "by the method alone".to_owned())
    } else {
        (Decimal::ZERO, String::new())
    }
}

/// The membrane of valleys, and what of each section it covers.
pub(crate) fn membrane(given: &Given<'_>, out: &mut Takeoff, covered: &mut [Decimal]) {
    let recipe = given.recipe;
    let feet = given.shingled.valley_ft.decimal();
    let (center, why) = center_strip(given);
    let strips = recipe.valley == ValleyMethod::OpenThreeLayer
        || (recipe.valley == ValleyMethod::Open && given.asked.wants(Topic::ValleyEdgeStrips));
    let edge_strip = if strips { recipe.valley_edge_strip_in.decimal() } else { Decimal::ZERO };
    let mut steps = vec![step("all valleys together", feet, "ft")];
    if !center.is_zero() {
        steps.push(step(
            format!("× centered strip of {} in", short(center)),
            feet * center / TWELVE,
            "sq ft",
        ));
    }
    if strips {
        let both = feet * edge_strip * Decimal::TWO / TWELVE;
        steps.push(step(
            format!("and a strip of {} in over each edge of the metal", short(edge_strip)),
            both,
            "sq ft",
        ));
    }
    let why = if why.is_empty() { given.who_asks(Topic::ValleyEdgeStrips) } else { why };
    let rule = format!("By the method {}; {why}.", recipe.valley);
    let net = feet * (center + edge_strip * Decimal::TWO) / TWELVE;
    out.add(Line::new(Item::Barrier, net, steps, rule).at(EdgeKind::Valley));
    // The strips lie on the metal's edges, so half of each reaches beyond the metal.
    let reach = if strips && !center.is_zero() {
        center.max(recipe.valley_metal_width_in.decimal() + edge_strip)
    } else {
        center + edge_strip * Decimal::TWO
    };
    cover(given, EdgeKind::Valley, reach, covered);
}

/// Metal for the whole length, with laps, and roll roofing by its plies.
pub(crate) fn metal_and_roll(given: &Given<'_>, out: &mut Takeoff) {
    let recipe = given.recipe;
    if !given.shingled.valley_ft.is_positive() {
        return;
    }
    if has_metal(recipe.valley, recipe.valley_lining) {
        let (least, width) = (given.asked.value(Topic::ValleyMetalWidth), recipe.valley_metal_width_in);
        let who = given.who_asks(Topic::ValleyMetalWidth);
        let rule = format!("Length, with laps, {width} in wide; {who}.");
        let (piece, lap) = (recipe.flashing_piece_ft, recipe.flashing_lap_in);
        out.add(running(given.shingled, Item::ValleyMetal, EdgeKind::Valley, piece, lap, &rule));
        if width < least {
            out.warn(
                WarningCode::ValleyMetalNarrow,
                format!("The metal of the valleys is {width} in wide; {least} in are {who}."),
                format!("Use metal of {least} in or more, or make the valleys closed-cut."),
            );
        }
    }
    let feet = given.shingled.valley_ft.decimal();
    let (mut net, mut steps) = (Decimal::ZERO, vec![step("all valleys together", feet, "ft")]);
    for width in plies_in(given) {
        let ply = feet * width / TWELVE;
        steps.push(step(format!("a ply {} in wide", short(width)), ply, "sq ft"));
        net += ply;
    }
    let rule = "Length × width of each ply (IRC R905.2.8.2).";
    out.add(Line::new(Item::RollRoofing, net, steps, rule).at(EdgeKind::Valley));
}

/// Says where a valley has been left with nothing in it.
pub(crate) fn bare(given: &Given<'_>, out: &mut Takeoff) {
    let lines =
        |item: Item| out.lines.iter().any(|line| line.item == item && line.place == Some(EdgeKind::Valley));
    let closed = given.recipe.valley == ValleyMethod::ClosedCut;
    let lined = lines(Item::ValleyMetal) || lines(Item::RollRoofing) || (closed && lines(Item::Barrier));
    let asked = if closed { Topic::ValleyLining } else { Topic::ValleyMetalWidth };
    if given.shingled.valley_ft.is_positive() && !lined && given.asked.wants(asked) {
        out.warn(
            WarningCode::ValleyBare,
            format!(
                "Nothing lines the valleys; {} in wide is {}.",
                given.asked.value(asked),
                given.who_asks(asked)
            ),
            "Take in what was left out: metal or roll roofing for open valleys, membrane or roll roofing for closed \
             ones.",
        );
    }
}

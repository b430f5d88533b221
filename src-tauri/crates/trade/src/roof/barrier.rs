//! Membrane: where it lies, how wide, and how much of the deck it covers.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, TWELVE, cover, short, step, up};
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Topic};
use crate::roof::line::{Line, Takeoff, Warning, WarningCode};
use crate::roof::measured::MeasuredSection;
use crate::roof::plane::slope_factor;
use crate::roof::recipe::Recipe;
use crate::roof::shape::{Feature, House};
use crate::roof::standard::Asked;
use crate::roof::valley;
use crate::shown::unit_behind;

const SQIN_A_FOOT: Decimal = Decimal::from_parts(144, 0, 0, false, 0);

/// More rows than any eave has: a roll typed a hair wider than its lap asks for no more.
const MOST_ROWS: Decimal = Decimal::ONE_HUNDRED;

/// Adds the lines, and gives the square feet of each section that barrier covers.
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) -> Vec<Decimal> {
    let mut covered = vec![Decimal::ZERO; given.shingled.sections.len()];
    eaves(given, out, &mut covered);
    valley::membrane(given, out, &mut covered);
    for (kind, topic) in [
        (EdgeKind::Rake, Topic::BarrierRake),
        (EdgeKind::Hip, Topic::BarrierHip),
        (EdgeKind::Ridge, Topic::BarrierRidge),
        (EdgeKind::Wall, Topic::BarrierWall),
        (EdgeKind::Headwall, Topic::BarrierWall),
    ] {
        let width = given.asked.value(topic);
        if !width.is_positive() {
            continue;
        }
        let feet = given.shingled.length_ft(kind).decimal();
        let net = feet * width.decimal() / TWELVE;
        let steps = vec![
            step(format!("all {kind} edges together"), feet, "ft"),
            step(format!("× strip of {width} in"), net, "sq ft"),
        ];
        let rule = format!("Length × strip width ({}).", given.asked.source(topic));
        out.add(Line::new(Item::Barrier, net, steps, rule).at(kind));
        cover(given, kind, width.decimal(), &mut covered);
    }
    penetrations(given, out, &mut covered);
    for (covered, section) in covered.iter_mut().zip(&given.shingled.sections) {
        *covered = (*covered).min(section.area_sqft.decimal());
    }
    covered
}

/// Inches up the slope that the barrier at an eave of this slope has to reach: (overhang + wall thickness + distance
/// inside the wall) × slope factor, and no less than the least width along a steep slope where one is asked for.
///
/// With 12 in of overhang, a 6 in wall and 24 in inside: 47 in at 6 in 12, and 59⅜ in at 12 in 12 (a builders' magazine
/// on IRC 2018 R905.1.2, read).
#[must_use]
pub fn eave_width_in(house: &House, asked: &Asked, slope: Qty) -> Decimal {
    let inside = asked.value(Topic::BarrierEaveInside);
    let level = (house.overhang_in + house.wall_thickness_in + inside).decimal();
    let width = level * slope_factor(slope);
    let along = asked.value(Topic::BarrierEaveAlong);
    if along.is_positive() && slope >= asked.value(Topic::BarrierEaveAlongFrom) {
        width.max(along.decimal())
    } else {
        width
    }
}

/// How many rows of barrier reach `width_in` up the slope, each lapping the one below; 100 at the most.
#[must_use]
pub fn eave_rows(recipe: &Recipe, width_in: Decimal) -> Decimal {
    let (roll, lap) = roll_and_lap(recipe);
    if roll > Decimal::ZERO {
        up((width_in - lap) / (roll - lap)).clamp(Decimal::ONE, MOST_ROWS)
    } else {
        Decimal::ONE
    }
}

fn roll_and_lap(recipe: &Recipe) -> (Decimal, Decimal) {
    let (roll, lap) = (recipe.barrier_roll_in.decimal(), recipe.barrier_lap_in.decimal());
    // A lap as wide as the roll would never get on.
    (roll, if lap > Decimal::ZERO && lap < roll { lap } else { Decimal::ZERO })
}

fn eaves(given: &Given<'_>, out: &mut Takeoff, covered: &mut [Decimal]) {
    if !given.asked.wants(Topic::BarrierEave) {
        return;
    }
    let (roll, lap) = roll_and_lap(given.recipe);
    let mut net = Decimal::ZERO;
    let mut steps = Vec::new();
    for (section, covered) in given.shingled.sections.iter().zip(covered) {
        let eaves = section.edges.iter().filter(|edge| edge.kind == EdgeKind::Eave);
        let feet = eaves.map(|edge| edge.counted_ft).sum::<Qty>().decimal();
        if feet.is_zero() {
            continue;
        }
        let width = eave_width_in(given.house, given.asked, section.slope);
        let needed = eave_rows(given.recipe, width);
        let rows = given.recipe.eave_rows.map_or(needed, |rows| Decimal::from(rows.max(0)).min(MOST_ROWS));
        let laid = (rows * roll - (rows - Decimal::ONE).max(Decimal::ZERO) * lap).max(Decimal::ZERO);
        let words = format!(
            "{}: {} ft × rows of {} in: {rows}, to reach {} in up the slope",
            section.name,
            short(feet),
            given.recipe.barrier_roll_in,
            short(width)
        );
        // A porch may be less deep than the barrier is wide.
        let area = (feet * rows * roll / TWELVE).min(section.area_sqft.decimal());
        steps.push(step(words, area, "sq ft"));
        net += area;
        *covered += feet * laid / TWELVE;
        if laid < width {
            out.warnings.push(too_short(given, section, laid, width, needed));
        }
    }
    let rule = format!(
        "(Overhang {} in + wall {} in + {} in inside) × slope factor, in whole rows ({}).",
        given.house.overhang_in,
        given.house.wall_thickness_in,
        given.asked.value(Topic::BarrierEaveInside),
        given.asked.source(Topic::BarrierEaveInside)
    );
    out.add(Line::new(Item::Barrier, net, steps, rule).at(EdgeKind::Eave));
}

fn too_short(
    given: &Given<'_>,
    section: &MeasuredSection,
    laid: Decimal,
    width: Decimal,
    needed: Decimal,
) -> Warning {
    Warning {
        code: WarningCode::BarrierShort,
        section: Some(section.name.clone()),
        words: format!(
            "At the eaves of section \"{}\" the barrier reaches {} in up the slope; {} in are asked for ({}).",
            section.name,
            short(laid),
            short(width),
            given.asked.source(Topic::BarrierEaveInside)
        ),
        remedy: format!("Lay {needed} {}.", unit_behind(needed, "rows")),
    }
}

/// A piece each: what comes through, and so much more on every side. A pipe's piece is slit over it, so nothing is
/// saved; a chimney or skylight is left open.
fn penetrations(given: &Given<'_>, out: &mut Takeoff, covered: &mut [Decimal]) {
    let side = given.asked.value(Topic::BarrierPenetration).decimal();
    for kind in [FeatureKind::Pipe, FeatureKind::Chimney, FeatureKind::Skylight] {
        let mut net = Decimal::ZERO;
        let mut steps = Vec::new();
        for feature in given.in_shingles.iter().filter(|feature| feature.kind == kind && feature.count > 0) {
            let (width, length) = size(given, feature, out);
            if side.is_zero() {
                continue;
            }
            let around = side * Decimal::TWO;
            let mut piece = (width + around) * (length + around);
            if kind != FeatureKind::Pipe {
                piece -= width * length;
            }
            let area = piece / SQIN_A_FOOT * Decimal::from(feature.count);
            let words = format!(
                "{} × {kind} of {} × {} in, with {} in on each side",
                feature.count,
                short(width),
                short(length),
                short(side)
            );
            steps.push(step(words, area, "sq ft"));
            net += area;
            let at = given
                .shingled
                .sections
                .iter()
                .position(|section| Some(&section.name) == feature.section.as_ref());
            if let Some(covered) = at.and_then(|at| covered.get_mut(at)) {
                *covered += area;
            }
        }
        let rule = format!("A piece each ({}).", given.asked.source(Topic::BarrierPenetration));
        out.add(Line::new(Item::Barrier, net, steps, rule).of(kind));
    }
}

fn size(given: &Given<'_>, feature: &Feature, out: &mut Takeoff) -> (Decimal, Decimal) {
    let pipe = feature.kind == FeatureKind::Pipe;
    let usual = if pipe { given.recipe.pipe_in } else { given.recipe.opening_in };
    let width = feature.width_in.or(if pipe { feature.length_in } else { None });
    let length = feature.length_in.or(if pipe { feature.width_in } else { None });
    if !pipe && (width.is_none() || length.is_none()) {
        out.warn(
            WarningCode::SizeMissing,
            format!("A {} has no size; it is calculated with sides of {usual} in.", feature.kind),
            "Measure its width and its length up the slope, and type both.",
        );
    }
    (width.unwrap_or(usual).decimal(), length.unwrap_or(usual).decimal())
}

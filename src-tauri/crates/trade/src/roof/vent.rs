//! Attic vents: how much free area is asked for, and what gives it.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::money::Qty;
use crate::roof::given::{Given, short, step, up};
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Topic, VentSide};
use crate::roof::line::{Line, Takeoff, WarningCode};
use crate::roof::measured::WorkStep;
use crate::roof::recipe::VentChoice;
use crate::roof::shape::House;
use crate::roof::standard::Asked;

const SQIN_A_FOOT: Decimal = Decimal::from_parts(144, 0, 0, false, 0);

/// The free area that every attic may be given, as a ratio to its floor: 1/150.
const FULL_RATIO: i64 = 150;

/// How much net free area an attic asks for, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FreeArea {
    /// Square feet of attic floor for each square foot of free area.
    pub ratio: Qty,
    /// Square inches in all.
    pub total_sqin: Qty,
    /// Square inches at the ridge or near it: half.
    pub high_sqin: Qty,
    /// Square inches at the eaves: half.
    pub low_sqin: Qty,
    /// Why it is that ratio.
    pub why: String,
}

/// The net free area of an attic whose vents are so much high: its floor ÷ 300 where the conditions hold for that, else
/// ÷ 150 (IRC R806.2).
///
/// From 2012 on both have to hold: in climate zones 6 to 8 a class I or II vapor retarder lies below, and 40 to 50 % of
/// the free area is high. Older editions took 50 to 80 % high, or the retarder in its place. Which edition holds is
/// what is asked: [`Topic::VentBoth`] and its neighbors. A zone that nobody has looked up counts for a cold one.
///
/// 1,200 sq ft in zone 6 without a retarder, half high: 1,152 sq in by the new editions, 576 by the old; in zone 5: 576
/// (computed).
#[must_use]
pub fn free_area(floor_sqft: Qty, house: &House, asked: &Asked, high_share: Decimal) -> FreeArea {
    let full = Qty::from_e4(FULL_RATIO * 10_000);
    let wanted = asked.value(Topic::VentRatio);
    let (ratio, why) = if !wanted.is_positive() || wanted <= full {
        let ratio = if wanted.is_positive() { wanted } else { full };
        (ratio, format!("1/{ratio} is asked for"))
    } else {
        match unmet(house, asked, high_share) {
            None => (wanted, format!("the conditions for 1/{wanted} hold")),
            Some(reason) => (full, format!("not 1/{wanted}: {reason}")),
        }
    };
    let total = floor_sqft.decimal() * SQIN_A_FOOT / ratio.decimal();
    let half = Qty::rounded(total / Decimal::TWO);
    FreeArea { ratio, total_sqin: Qty::rounded(total), high_sqin: half, low_sqin: half, why }
}

/// The condition for the smaller free area that does not hold; none where they do.
fn unmet(house: &House, asked: &Asked, high_share: Decimal) -> Option<String> {
    let (least, most) = (asked.value(Topic::VentUpperLeast), asked.value(Topic::VentUpperMost));
    let percent_high = high_share * Decimal::ONE_HUNDRED;
    let share = (percent_high < least.decimal() || percent_high > most.decimal()).then(|| {
        format!(
            "{} % of the vents' free area is high, and {least} to {most} % is asked for",
            short(percent_high)
        )
    });
    let from = asked.value(Topic::VentRetarderZone);
    let retarder = match house.climate_zone.map(|zone| Qty::from_e4(zone * 10_000)) {
        _ if house.vapor_retarder => None,
        Some(zone) if from.is_positive() && zone >= from => {
            Some(format!("climate zone {zone} asks for a class I or II vapor retarder"))
        }
        None if from.is_positive() => {
            Some("without a climate zone or a class I or II vapor retarder nothing says so".to_owned())
        }
        Some(_) | None => None,
    };
    if asked.wants(Topic::VentBoth) {
        retarder.or(share)
    } else if house.vapor_retarder {
        None
    } else {
        share
    }
}

/// What there is, and what is put in, on one level of the attic.
struct Level {
    /// Square inches asked for.
    wanted: Decimal,
    /// Square inches so far.
    given: Decimal,
    /// How the need was found.
    steps: Vec<WorkStep>,
}

/// Vents by free area, half of it high and half low; and those that a fan drives by the air that they move.
///
/// Whether 1/300 may hold depends on the vents that are put in, and how many those are on the ratio. So they are put in
/// for 1/300 first; where they then don't meet its conditions, for 1/150.
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let (old_high, old_low, old_kinds) = old_vents(given, out);
    let powered = given.recipe.exhaust.iter().any(|choice| choice.vent == Item::PowerVent);
    if powered {
        return by_fan(given, (old_low, old_kinds), out);
    }
    let even = Decimal::ONE / Decimal::TWO;
    let mut need = free_area(given.measured.attic_floor_sqft, given.house, given.asked, even);
    let mut laid = put_all_in(given, &need, (old_high, old_low, &old_kinds));
    if need.ratio > Qty::from_e4(FULL_RATIO * 10_000) {
        let all = laid.high + laid.low;
        let high_share = if all.is_zero() { Decimal::ZERO } else { laid.high / all };
        need = free_area(given.measured.attic_floor_sqft, given.house, given.asked, high_share);
        if need.ratio == Qty::from_e4(FULL_RATIO * 10_000) {
            laid = put_all_in(given, &need, (old_high, old_low, &old_kinds));
        }
    }
    out.lines.append(&mut laid.out.lines);
    out.warnings.append(&mut laid.out.warnings);
}

/// The vents of one attempt.
struct Laid {
    high: Decimal,
    low: Decimal,
    out: Takeoff,
}

fn put_all_in(given: &Given<'_>, need: &FreeArea, old: (Decimal, Decimal, &BTreeSet<Item>)) -> Laid {
    let (old_high, old_low, old_kinds) = old;
    let mut out = Takeoff::default();
    let rule = format!(
        "Attic floor ÷ {}, half high and half low; {} ({}).",
        need.ratio,
        need.why,
        given.asked.source(Topic::VentRatio)
    );
    let first = step(
        format!("attic floor of {} sq ft ÷ {}; {}", given.measured.attic_floor_sqft, need.ratio, need.why),
        need.total_sqin.decimal(),
        "sq in of free area",
    );
    let half = given.measured.attic_floor_sqft.decimal() * SQIN_A_FOOT / need.ratio.decimal() / Decimal::TWO;
    // Whole feet and pieces come to more than half. What is put in second makes up for that, so that rounding moves the
    // balance to neither side of what is asked: no more high than low from 2012 on, no less by the older editions.
    let level = |side: &str, other: Decimal, old: Decimal| {
        let wanted = half.max(other);
        let words = if other > half { "as much as on the other side" } else { "half of it" };
        let mut steps = vec![first.clone(), step(format!("{words}, {side}"), wanted, "sq in")];
        if old > Decimal::ZERO {
            let left = (wanted - old).max(Decimal::ZERO);
            steps.push(step(format!("less {} of vents that stay", short(old)), left, "sq in"));
        }
        Level { wanted, given: old, steps }
    };
    let (mut high, mut low);
    if given.asked.value(Topic::VentUpperLeast).decimal() < Decimal::from(50) {
        high = level("high", Decimal::ZERO, old_high);
        exhaust(given, &mut high, old_kinds.clone(), &rule, &mut out);
        low = level("low", high.given, old_low);
        intake(given, &mut low, &rule, &mut out);
    } else {
        low = level("low", Decimal::ZERO, old_low);
        intake(given, &mut low, &rule, &mut out);
        high = level("high", low.given, old_high);
        exhaust(given, &mut high, old_kinds.clone(), &rule, &mut out);
    }
    Laid { high: high.given, low: low.given, out }
}

/// Power vents are rated by the air that they move, which is no free area: so many cubic feet a minute for the attic
/// floor, and so much free area low to let that air in (common practice, no source).
fn by_fan(given: &Given<'_>, (old_low, old_kinds): (Decimal, BTreeSet<Item>), out: &mut Takeoff) {
    let (recipe, floor) = (given.recipe, given.measured.attic_floor_sqft);
    let air = floor.decimal() * recipe.power_cfm_per_sqft.decimal();
    let first = step(
        format!("attic floor of {floor} sq ft × {} cu ft a minute", recipe.power_cfm_per_sqft),
        air,
        "cu ft a minute",
    );
    let rule = "Power vents by the air that they move; they stand apart from free area (common practice).";
    let mut moved = Decimal::ZERO;
    let mut kinds = old_kinds;
    for choice in recipe.exhaust.iter().filter(|choice| is_exhaust(choice.vent)) {
        let each = choice.cfm.unwrap_or_default().decimal();
        if choice.vent != Item::PowerVent {
            kinds.insert(choice.vent);
            continue;
        }
        if each <= Decimal::ZERO {
            out.warn(
                WarningCode::VentUnknown,
                "The power vent has no rating in cubic feet a minute; none is calculated.",
                "Type its rating, from its packing or its data sheet.",
            );
            continue;
        }
        kinds.insert(Item::PowerVent);
        let mut steps = vec![first.clone()];
        let count = match choice.fixed {
            Some(fixed) => fixed.decimal().max(Decimal::ZERO),
            None => up((air - moved).max(Decimal::ZERO) / each),
        };
        steps.push(step(format!("÷ {} cu ft a minute each, rounded up", short(each)), count, "pieces"));
        moved += count * each;
        out.add(Line::new(Item::PowerVent, count, steps, rule));
    }
    if moved < air && moved > Decimal::ZERO {
        let missing = format!("The power vents move {} cu ft a minute of {}.", short(moved), short(air));
        out.warn(WarningCode::LittleExhaust, missing, "Add a power vent, or take a larger one.");
    }
    mixed(&kinds, out);
    let lets_in = recipe.intake_cfm_per_sqft.decimal();
    let wanted = if lets_in > Decimal::ZERO { moved / lets_in * SQIN_A_FOOT } else { Decimal::ZERO };
    let words =
        format!("{} cu ft a minute ÷ {} a square foot of free area low", short(moved), short(lets_in));
    let mut low = Level { wanted, given: old_low, steps: vec![first, step(words, wanted, "sq in")] };
    intake(given, &mut low, rule, out);
}

const fn is_exhaust(vent: Item) -> bool {
    matches!(vent.vent_side(), Some(VentSide::Exhaust))
}

/// Square inches high and low of the vents that stay, and the kinds of exhaust among them.
fn old_vents(given: &Given<'_>, out: &mut Takeoff) -> (Decimal, Decimal, BTreeSet<Item>) {
    let (mut high, mut low, mut kinds) = (Decimal::ZERO, Decimal::ZERO, BTreeSet::new());
    let stay = given.features.iter().filter(|f| f.kind == FeatureKind::OldVent && f.count > 0);
    for feature in stay {
        let known = feature.vent.filter(|vent| is_exhaust(*vent) || *vent == Item::Intake);
        // A fan moves air, which is no free area.
        let rated = feature.free_area_sqin.filter(|_| known != Some(Item::PowerVent));
        let (Some(vent), Some(rating)) = (known, rated) else {
            kinds.extend(known.filter(|vent| is_exhaust(*vent)));
            out.warn(
                WarningCode::VentUnknown,
                "An old vent that stays has no kind or no net free area; it counts for nothing.",
                "Say whether it is a ridge, box or turbine vent or intake, and type its net free area. A power vent \
                 has none: plan the exhaust anew.",
            );
            continue;
        };
        let area = rating.decimal() * Decimal::from(feature.count);
        if vent == Item::Intake {
            low += area;
        } else {
            high += area;
            kinds.insert(vent);
        }
    }
    (high, low, kinds)
}

/// Adds a line for one choice of vent: so many as the person fixed, or as many as are still wanted, rounded up.
fn put_in(
    choice: &VentChoice,
    level: &mut Level,
    most: Option<Decimal>,
    rule: &str,
    out: &mut Takeoff,
) -> Decimal {
    let rating = choice.free_area_sqin.decimal();
    if rating <= Decimal::ZERO {
        out.warn(
            WarningCode::VentUnknown,
            format!("The new {} has no net free area; none is calculated.", choice.vent),
            "Type its rating in square inches, from its packing or its data sheet.",
        );
        return Decimal::ZERO;
    }
    let left = (level.wanted - level.given).max(Decimal::ZERO);
    let by_foot = matches!(choice.vent, Item::RidgeVent | Item::Intake);
    let unit = if by_foot { "ft" } else { "pieces" };
    let mut steps = level.steps.clone();
    let mut count = if let Some(fixed) = choice.fixed {
        let fixed = fixed.decimal().max(Decimal::ZERO);
        steps.push(step("as the person says", fixed, unit));
        fixed
    } else {
        let count = up(left / rating);
        steps.push(step(format!("÷ {} sq in each, rounded up", short(rating)), count, unit));
        count
    };
    if let Some(most) = most.filter(|most| count > *most) {
        let place = if choice.vent == Item::Intake { "eave that can be vented" } else { "ridge" };
        steps.push(step(format!("but no more than there is {place}"), most, unit));
        count = most;
    }
    level.given += count * rating;
    let line = Line::new(choice.vent, count, steps, rule);
    out.add(match choice.vent {
        Item::RidgeVent => line.at(EdgeKind::Ridge),
        Item::Intake => line.at(EdgeKind::Eave),
        _ => line,
    });
    count
}

fn exhaust(given: &Given<'_>, level: &mut Level, mut kinds: BTreeSet<Item>, rule: &str, out: &mut Takeoff) {
    let ridge = given.shingled.ridge_ft.decimal();
    let mut ridge_left = ridge;
    let choices = given.recipe.exhaust.iter().filter(|choice| is_exhaust(choice.vent));
    let (fixed, open): (Vec<&VentChoice>, Vec<&VentChoice>) =
        choices.partition(|choice| choice.fixed.is_some());
    // Only one choice can take what is left to do; of several, the first.
    let mut by_ridge = false;
    for choice in fixed.into_iter().chain(open.into_iter().take(1)) {
        let is_ridge = choice.vent == Item::RidgeVent;
        let count = put_in(choice, level, is_ridge.then_some(ridge_left), rule, out);
        if count > Decimal::ZERO {
            kinds.insert(choice.vent);
        }
        if is_ridge {
            ridge_left -= count;
            by_ridge = true;
        }
    }
    let short_by = level.wanted - level.given;
    if short_by > Decimal::ZERO {
        if by_ridge && ridge_left <= Decimal::ZERO {
            out.warn(
                WarningCode::LittleRidge,
                format!(
                    "The ridge of {} ft is too short: {} sq in of free area are missing high in the attic.",
                    short(ridge),
                    short(short_by)
                ),
                "Use a ridge vent of a higher rating, or vents of one other kind in its place; do not add a \
                 second kind.",
            );
        } else {
            out.warn(
                WarningCode::LittleExhaust,
                format!("{} sq in of free area are missing high in the attic.", short(short_by)),
                "Add exhaust of the one kind that is there.",
            );
        }
    }
    mixed(&kinds, out);
}

fn mixed(kinds: &BTreeSet<Item>, out: &mut Takeoff) {
    if kinds.len() > 1 {
        let names: Vec<&str> = kinds.iter().map(|kind| kind.as_str()).collect();
        out.warn(
            WarningCode::MixedExhaust,
            format!(
                "Exhaust of more than one kind in one attic: {}. One draws air in through the other in place of \
                 the eaves.",
                names.join(", ")
            ),
            "Keep one kind; close the openings of the others.",
        );
    }
}

/// Intake runs along eaves: by the foot of eave that can be vented, and no further than that.
fn intake(given: &Given<'_>, level: &mut Level, rule: &str, out: &mut Takeoff) {
    let eave = given.vented_eave_ft();
    if let Some(choice) = given.recipe.intake.filter(|choice| choice.vent == Item::Intake) {
        put_in(&choice, level, Some(eave), rule, out);
    }
    let short_by = level.wanted - level.given;
    if short_by > Decimal::ZERO {
        out.warn(
            WarningCode::LittleIntake,
            format!(
                "{} sq in of free area are missing at the eaves, of which {} ft can be vented.",
                short(short_by),
                short(eave)
            ),
            "Use intake of a higher rating, or open what is painted shut or covered by insulation; exhaust without \
             intake draws from the rooms.",
        );
    }
}

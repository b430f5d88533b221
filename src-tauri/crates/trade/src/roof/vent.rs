//! Attic vents: how much free area is asked for, and what gives it.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::money::Qty;
use crate::roof::given::{Given, short, step, up};
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Topic, VentSide};
use crate::roof::line::{Line, Takeoff, WarningCode};
use crate::roof::measured::WorkStep;
use crate::roof::recipe::{VentChoice, whole};
use crate::roof::shape::House;
use crate::roof::standard::Asked;

const SQIN_A_FOOT: Decimal = Decimal::from_parts(144, 0, 0, false, 0);

/// How much net free area an attic asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
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
}

/// The net free area: attic floor ÷ 150, or ÷ 300 where the vents are balanced and the conditions for it are met
/// (IRC R806.2); half of it high and half low. A standard that asks for more never gives way to the balance.
///
/// 1,200 sq ft at 1/300 is 576 sq in, 288 high and 288 low; 2,000 sq ft at 1/150 is 1,920 (computed).
#[must_use]
pub fn free_area(house: &House, asked: &Asked) -> FreeArea {
    let by_company = whole(if house.balanced_vents { 300 } else { 150 });
    let wanted = asked.value(Topic::VentRatio);
    let ratio = if wanted.is_positive() { wanted.min(by_company) } else { by_company };
    let total = house.attic_floor_sqft.decimal() * SQIN_A_FOOT / ratio.decimal();
    let half = Qty::rounded(total / Decimal::TWO);
    FreeArea { ratio, total_sqin: Qty::rounded(total), high_sqin: half, low_sqin: half }
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

pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let need = free_area(given.house, given.asked);
    let rule = format!(
        "Attic floor ÷ {}, half high and half low ({}).",
        need.ratio,
        given.asked.source(Topic::VentRatio)
    );
    let first = step(
        format!("attic floor of {} sq ft ÷ {}", given.house.attic_floor_sqft, need.ratio),
        need.total_sqin.decimal(),
        "sq in of free area",
    );
    let (old_high, old_low, old_kinds) = old_vents(given, out);
    let level = |wanted: Qty, old: Decimal, where_: &str| {
        let mut steps = vec![first.clone(), step(format!("half of it {where_}"), wanted.decimal(), "sq in")];
        if old > Decimal::ZERO {
            let left = (wanted.decimal() - old).max(Decimal::ZERO);
            steps.push(step(format!("less {} of vents that stay", short(old)), left, "sq in"));
        }
        Level { wanted: wanted.decimal(), given: old, steps }
    };
    exhaust(given, level(need.high_sqin, old_high, "high"), old_kinds, &rule, out);
    intake(given, level(need.low_sqin, old_low, "low"), &rule, out);
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
        let (Some(vent), Some(rating)) = (known, feature.free_area_sqin) else {
            kinds.extend(known.filter(|vent| is_exhaust(*vent)));
            out.warn(
                WarningCode::VentUnknown,
                "An old vent that stays has no kind or no rating; it counts for nothing.",
                "Say whether it is a ridge, box, turbine or power vent or intake, and type its net free area.",
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
    let unit = if choice.vent == Item::RidgeVent { "ft" } else { "pieces" };
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
        steps.push(step("but no more than there is ridge", most, unit));
        count = most;
    }
    level.given += count * rating;
    let line = Line::new(choice.vent, count, steps, rule);
    out.add(if choice.vent == Item::RidgeVent { line.at(EdgeKind::Ridge) } else { line });
    count
}

fn exhaust(given: &Given<'_>, mut level: Level, mut kinds: BTreeSet<Item>, rule: &str, out: &mut Takeoff) {
    let ridge = given.measured.ridge_ft.decimal();
    let mut ridge_left = ridge;
    let choices = given.recipe.exhaust.iter().filter(|choice| is_exhaust(choice.vent));
    let (fixed, open): (Vec<&VentChoice>, Vec<&VentChoice>) =
        choices.partition(|choice| choice.fixed.is_some());
    // Only one choice can take what is left to do; of several, the first.
    let mut by_ridge = false;
    for choice in fixed.into_iter().chain(open.into_iter().take(1)) {
        let is_ridge = choice.vent == Item::RidgeVent;
        let count = put_in(choice, &mut level, is_ridge.then_some(ridge_left), rule, out);
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

fn intake(given: &Given<'_>, mut level: Level, rule: &str, out: &mut Takeoff) {
    if let Some(choice) = given.recipe.intake.filter(|choice| choice.vent == Item::Intake) {
        put_in(&choice, &mut level, None, rule, out);
    }
    let short_by = level.wanted - level.given;
    if short_by > Decimal::ZERO {
        out.warn(
            WarningCode::LittleIntake,
            format!("{} sq in of free area are missing at the eaves.", short(short_by)),
            "Add intake, or open what is painted shut or covered by insulation; exhaust without intake draws \
             from the rooms.",
        );
    }
}

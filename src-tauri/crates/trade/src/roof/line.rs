//! What a takeoff gives: lines of work and material with their working, and what to buy for them.

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::closed_list;
use crate::money::{Qty, Rate};
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Measure};
use crate::roof::measured::WorkStep;
use crate::shown::{in_sentence, percent, with_unit};

/// So much of an item in one place, before waste and packages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Line {
    /// The part of the roof system.
    pub item: Item,
    /// The kind of edge it lies at; absent in the field and at features.
    pub place: Option<EdgeKind>,
    /// The kind of feature it belongs to.
    pub feature: Option<FeatureKind>,
    /// How much, in `measure`.
    pub net: Qty,
    /// The measure of `net`.
    pub measure: Measure,
    /// Whole packages that are needed whatever the net comes to: a container may be full before it is heavy.
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub least_packages: Option<i64>,
    /// How `net` was found.
    pub steps: Vec<WorkStep>,
    /// The rule and where it comes from.
    pub rule: String,
}

/// Something about the takeoff that is missing or doubtful.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Warning {
    /// Which of the warnings it is.
    pub code: WarningCode,
    /// The section it is about.
    pub section: Option<String>,
    /// What is wrong.
    pub words: String,
    /// What would put it right.
    pub remedy: String,
}

/// The kinds of warning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum WarningCode {
    /// A section is flatter than shingles may be laid on.
    SlopeUnderLeast,
    /// An eave ends at a side wall and no kick-out is asked for.
    KickOutMissing,
    /// The barrier at eaves does not reach as far as asked.
    BarrierShort,
    /// The metal of open valleys is narrower than asked.
    ValleyMetalNarrow,
    /// Nothing lines a valley.
    ValleyBare,
    /// Step flashing is smaller than asked.
    StepFlashingSmall,
    /// Exhaust vents of more than one kind in one attic.
    MixedExhaust,
    /// The ridge is too short for the ridge vent wanted.
    LittleRidge,
    /// Less exhaust than asked.
    LittleExhaust,
    /// Less intake than asked.
    LittleIntake,
    /// An old vent that stays has no rating or no kind.
    VentUnknown,
    /// Boards laid apart do not carry shingles.
    OpenDeck,
    /// A chimney or skylight has no size.
    SizeMissing,
    /// Old flashings stay.
    FlashingsKept,
    /// The firm has no rate for setting up, covering, cleaning up or driving.
    HoursUncounted,
}
closed_list!(WarningCode, "kind of warning", {
    SlopeUnderLeast => "slope-under-least", KickOutMissing => "kick-out-missing", BarrierShort => "barrier-short",
    ValleyMetalNarrow => "valley-metal-narrow", ValleyBare => "valley-bare", StepFlashingSmall => "step-flashing-small",
    MixedExhaust => "mixed-exhaust", LittleRidge => "little-ridge", LittleExhaust => "little-exhaust",
    LittleIntake => "little-intake", VentUnknown => "vent-unknown", OpenDeck => "open-deck",
    SizeMissing => "size-missing", FlashingsKept => "flashings-kept",
    HoursUncounted => "hours-uncounted",
});

/// Where the work can hurt, or what a figure does not free anyone from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Caution {
    /// What to mind.
    pub words: String,
    /// Where it is written, if anywhere.
    pub source: Option<String>,
}

/// All that a roof asks for.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Takeoff {
    /// Line by line, in the order of work.
    pub lines: Vec<Line>,
    /// What is missing or doubtful.
    pub warnings: Vec<Warning>,
    /// Where the work can hurt.
    pub cautions: Vec<Caution>,
}

impl Takeoff {
    /// Whether a section is too flat for shingles, so that none are counted on it (IRC R905.2.2).
    #[must_use]
    pub fn is_bare(&self, section: &str) -> bool {
        self.flat().any(|warning| warning.section.as_deref() == Some(section))
    }

    /// The sections too flat for shingles that none of the items priced beside the takeoff names. Nothing is priced to
    /// keep the rain out there, so that such a choice is not to be taken (that the item names it: company rule).
    #[must_use]
    pub fn uncovered(&self, items: &[&str]) -> Vec<&Warning> {
        let covered = |section: &str| items.iter().any(|item| names_section(item, section));
        self.flat().filter(|warning| !warning.section.as_deref().is_some_and(covered)).collect()
    }

    fn flat(&self) -> impl Iterator<Item = &Warning> {
        self.warnings.iter().filter(|warning| warning.code == WarningCode::SlopeUnderLeast)
    }

    /// The net quantity of an item over all its lines.
    #[must_use]
    pub fn net(&self, item: Item) -> Qty {
        self.lines.iter().filter(|line| line.item == item).map(|line| line.net).sum()
    }

    /// The items that the roof asks for, each once, in the order of work.
    #[must_use]
    pub fn items(&self) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        for line in &self.lines {
            if !items.contains(&line.item) {
                items.push(line.item);
            }
        }
        items
    }
}

/// Whether the words of an item priced beside the takeoff name a section, in capitals or not (company rule).
#[must_use]
pub fn names_section(item: &str, section: &str) -> bool {
    !section.is_empty() && item.to_lowercase().contains(&section.to_lowercase())
}

/// What is bought of an item for the whole job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Bought {
    /// The item.
    pub item: Item,
    /// The sum of its lines, in the item's measure.
    pub net: Qty,
    /// Waste as a share of the net.
    pub waste: Rate,
    /// Net and waste together.
    pub gross: Qty,
    /// How much one package covers, in the item's measure.
    pub covers: Qty,
    /// Whole packages.
    pub packages: Qty,
    /// How the packages were found.
    pub steps: Vec<WorkStep>,
}

/// Why packages could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum BuyError {
    /// A package that covers nothing.
    #[error(
        "A package of {} covers {covers}. Type how much of it one package covers, above zero.",
        in_sentence(item.label())
    )]
    CoversNothing {
        /// The item.
        item: Item,
        /// What was given.
        covers: Qty,
    },
    /// Waste below zero, or several times what is needed.
    #[error(
        "The waste for {} is {waste}. Type it as a share from 0 to 2; 0.1 stands for 10 %.",
        in_sentence(item.label())
    )]
    OddWaste {
        /// The item.
        item: Item,
        /// What was given.
        waste: Rate,
    },
}

/// A third cannot be typed: 33.33 stands for 33⅓. An excess of one in ten thousand is that, and no further package.
const THIRDS: Decimal = Decimal::from_parts(10_001_001, 0, 0, false, 7);

/// The packages to buy of `item` for the whole job: the lines' sum, with waste, over what a package covers, rounded
/// **up** once. Rounding each section or place up by itself would buy a package too many for each of them.
///
/// An excess of one in ten thousand is forgiven, because 33⅓ sq ft a bundle is typed as 33.33 (company rule).
/// `None` where no line asks for the item.
///
/// # Errors
/// If a package covers nothing, or the waste is below zero or above 2.
pub fn buy(lines: &[Line], item: Item, waste: Rate, covers: Qty) -> Result<Option<Bought>, BuyError> {
    if !covers.is_positive() {
        return Err(BuyError::CoversNothing { item, covers });
    }
    if waste.is_negative() || waste.decimal() > Decimal::TWO {
        return Err(BuyError::OddWaste { item, waste });
    }
    let of_item: Vec<&Line> = lines.iter().filter(|line| line.item == item).collect();
    if of_item.is_empty() {
        return Ok(None);
    }
    let net: Qty = of_item.iter().map(|line| line.net).sum();
    let exact = net.decimal() * (Decimal::ONE + waste.decimal());
    let mut packages =
        (exact / covers.decimal() / THIRDS).round_dp_with_strategy(0, RoundingStrategy::ToPositiveInfinity);
    let unit = item.measure().label();
    let gross = Qty::rounded(exact);
    let mut steps = vec![
        WorkStep::new(net_of(of_item.len()), net, unit),
        WorkStep::new(format!("with {} % waste", percent(waste.decimal())), gross, unit),
        WorkStep::new(
            format!("÷ {} a package, rounded up", with_unit(covers, unit)),
            Qty::rounded(packages),
            "",
        ),
    ];
    let least: i64 = of_item.iter().filter_map(|line| line.least_packages).sum();
    if Decimal::from(least) > packages {
        packages = Decimal::from(least);
        steps.push(WorkStep::new("but by volume", Qty::rounded(packages), ""));
    }
    Ok(Some(Bought { item, net, waste, gross, covers, packages: Qty::rounded(packages), steps }))
}

fn net_of(lines: usize) -> String {
    if lines == 1 { "net".to_owned() } else { format!("net, {lines} lines together") }
}

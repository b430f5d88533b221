//! Damage as it was seen, calculated into what is cut out, what is bought, and what the homeowner would pay.
//!
//! The crew may see all of it: no cost and no margin stands here.

use crate::change::allowance::further_price;
use crate::change::allowance::price_of;
use crate::job::roof::measured_roof;
use crate::job::snapshot::JobSnapshot;
use desk::Code;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::working_month::working_month;
use ledger::closed_lists::{CountedIn, Damaged};
use ledger::facts::Contract;
use ledger::{Books, Id};
use serde::{Deserialize, Serialize};
use trade::patch::{GrowReason, Grown, Patch, PatchError, SheetSize, area_sqft, feet_of_board};
use trade::roof::Roof;
use trade::{CutList, Money, Qty, USUAL_KERF, count_sheets};

/// Rafters stand so far apart where the roof's own spacing is not known, inches (common practice, no source).
pub(crate) const USUAL_SPACING: Qty = Qty::from_e4(240_000);
/// What a nominal 1 × 6 deck board covers, inches (common practice, no source).
const USUAL_BOARD: Qty = Qty::from_e4(55_000);

/// Damage on a job, as the crew measured it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Damage {
    /// What is damaged.
    pub damaged: Damaged,
    /// What it is counted in.
    pub counted_in: CountedIn,
    /// Its patches; none where it is only counted.
    pub patches: Vec<Patch>,
    /// Inches from rafter to rafter; the measured roof's where it is left out, else 24.
    #[serde(default)]
    pub rafter_spacing: Option<Qty>,
    /// The width of the saw's cut, inches; ⅛ where it is left out.
    #[serde(default)]
    pub kerf: Option<Qty>,
    /// What a deck board covers, inches; 5½ where it is left out.
    #[serde(default)]
    pub board_width: Option<Qty>,
    /// The crew's own count, where it is another.
    #[serde(default)]
    pub own_count: Option<Qty>,
}

/// A patch as it is cut out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CutOut {
    /// Along the eave, inches.
    pub along_eave: Qty,
    /// Up the slope, inches.
    pub up_slope: Qty,
    /// Why it is larger than the damage, in sentences.
    pub why: Vec<String>,
}

/// What the damage comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Calculation {
    /// Patch by patch, in the order given.
    pub cut_outs: Vec<CutOut>,
    /// What is sawn from what; absent where it is not counted in sheets.
    pub cut_list: Option<CutList>,
    /// A sheet's size.
    pub sheet: SheetSize,
    /// Inches from rafter to rafter, as calculated with.
    pub rafter_spacing: Qty,
    /// What the patches come to; absent where nothing can be calculated from them.
    pub calculated: Option<Qty>,
    /// What counts: the crew's own where it is given.
    pub count: Qty,
    /// The crew's own count less the calculated one, where they differ.
    pub difference: Option<Qty>,
    /// Counted in.
    pub unit: CountedIn,
    /// Of it, covered by what the price includes.
    pub covered: Qty,
    /// Beyond.
    pub beyond: Qty,
    /// What one costs the homeowner; absent where the contract has no price for it.
    pub unit_price: Option<Money>,
    /// What the homeowner pays for what is beyond, at that price.
    pub price: Option<Money>,
    /// The working, in sentences.
    pub words: Vec<String>,
}

/// The roof of a job as the crew needs it: to tap on.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteRoof {
    /// The roof as it was measured.
    pub roof: Roof,
    /// How many degrees clockwise from up the sheet north lies.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub north_deg: i64,
    /// Inches from rafter to rafter.
    pub rafter_spacing: Qty,
}

/// The measured roof of a job, if it has one.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn site_roof(desk: &Desk, job: &str) -> Result<Option<SiteRoof>, OfficeError> {
    desk.books().in_one_read(|books| {
        let id = Names::read(books)?.job(job)?;
        let measured = measured_roof(books, id)?;
        Ok(measured.map(|(roof, north_deg)| SiteRoof {
            rafter_spacing: roof.house.rafter_spacing_in,
            roof,
            north_deg,
        }))
    })
}

/// Calculates damage on a job: patches grown to their rafters, cut from as few sheets as found, included ones used
/// first, and the price of the rest at the contract's unit price.
///
/// # Errors
/// Names the field that cannot be: a patch, the rafters, the saw's cut, the count; or says that there is no such job.
pub fn calculate_damage(desk: &Desk, job: &str, damage: &Damage) -> Result<Calculation, OfficeError> {
    desk.books().in_one_read(|books| {
        let id = Names::read(books)?.job(job)?;
        let spacing = match damage.rafter_spacing {
            Some(spacing) => spacing,
            None => measured_roof(books, id)?.map_or(USUAL_SPACING, |(roof, _)| roof.house.rafter_spacing_in),
        };
        let mut calculation = count(damage, spacing)?;
        let calendar = books.calendar()?;
        let standing = JobSnapshot::gather(books, &calendar, id, working_month(desk, &calendar))?;
        price(&mut calculation, damage, &standing)?;
        Ok(calculation)
    })
}

/// Counts what the patches come to, and sets the crew's own count beside it.
fn count(damage: &Damage, spacing: Qty) -> Result<Calculation, OfficeError> {
    let mut calculation = Calculation {
        cut_outs: Vec::new(),
        cut_list: None,
        sheet: SheetSize::FOUR_BY_EIGHT,
        rafter_spacing: spacing,
        calculated: None,
        count: Qty::ZERO,
        difference: None,
        unit: damage.counted_in,
        covered: Qty::ZERO,
        beyond: Qty::ZERO,
        unit_price: None,
        price: None,
        words: Vec::new(),
    };
    if !damage.patches.is_empty() {
        patches(&mut calculation, damage, spacing)?;
    }
    if let Some(own) = damage.own_count
        && own.is_negative()
    {
        return Err(OfficeError::refused("own_count", "it is below zero", "Count what is there"));
    }
    calculation.count = damage.own_count.or(calculation.calculated).unwrap_or(Qty::ZERO);
    if let (Some(own), Some(calculated)) = (damage.own_count, calculation.calculated)
        && own != calculated
    {
        let difference = own - calculated;
        calculation.difference = Some(difference);
        let more = if difference.is_negative() { "fewer" } else { "more" };
        let by = if difference.is_negative() { -difference } else { difference };
        calculation.words.push(format!(
            "The crew counts {own}, {by} {more} than the patches come to. The crew’s count stands; say why."
        ));
    }
    Ok(calculation)
}

fn patches(calculation: &mut Calculation, damage: &Damage, spacing: Qty) -> Result<(), OfficeError> {
    let grown = |grown: &Grown| CutOut {
        along_eave: grown.along_eave,
        up_slope: grown.up_slope,
        why: grown.why.iter().map(|why| because(*why, spacing)).collect(),
    };
    match damage.counted_in {
        CountedIn::Sheet => {
            let kerf = damage.kerf.unwrap_or(USUAL_KERF);
            let count = count_sheets(&damage.patches, spacing, calculation.sheet, kerf)
                .map_err(|error| refusal(&error))?;
            calculation.cut_outs = count.grown.iter().map(grown).collect();
            calculation.words.push(sheets_in_words(&count.cut_list, damage.patches.len(), spacing));
            calculation.cut_list = Some(count.cut_list);
            calculation.calculated = Some(count.sheets);
        }
        CountedIn::Foot if damage.damaged == Damaged::DeckBoard => {
            let width = damage.board_width.unwrap_or(USUAL_BOARD);
            let boards = feet_of_board(&damage.patches, spacing, width).map_err(|error| refusal(&error))?;
            calculation.cut_outs = boards.runs.iter().map(|run| grown(&run.grown)).collect();
            calculation.words.extend(boards.runs.iter().enumerate().map(|(index, run)| {
                format!(
                    "Patch {}: {} rows of {} ft, with boards that cover {width} in.",
                    index + 1,
                    run.rows,
                    run.feet_a_row
                )
            }));
            calculation.calculated = Some(boards.feet);
        }
        CountedIn::SquareFoot => {
            let feet = square_feet(&damage.patches)?;
            calculation.words.push(format!("The patches cover {feet} sq ft, rounded up to whole ones."));
            calculation.calculated = Some(feet);
        }
        CountedIn::Foot | CountedIn::Each => {
            calculation.words.push("Patches say where it is; it is counted by hand.".to_owned());
        }
    }
    Ok(())
}

fn square_feet(patches: &[Patch]) -> Result<Qty, OfficeError> {
    area_sqft(patches).map_err(|error| match error {
        PatchError::NotPositive { field, value } | PatchError::TooLarge { field, value } => {
            OfficeError::refused(
                field,
                &format!("{value} in is no length of damage"),
                "Measure it again, in inches up to 100 ft",
            )
        }
        other => refusal(&other),
    })
}

fn sheets_in_words(list: &CutList, patches: usize, spacing: Qty) -> String {
    let of = if patches == 1 { "The patch is".to_owned() } else { format!("The {patches} patches are") };
    let sheets = if list.bought == 1 { "1 sheet".to_owned() } else { format!("{} sheets", list.bought) };
    let least = if list.proven_least { "; fewer can’t do" } else { "" };
    format!("{of} cut out to rafters {spacing} in apart and sawn from {sheets} of 4 × 8 ft{least}.")
}

fn because(why: GrowReason, spacing: Qty) -> String {
    match why {
        GrowReason::ToRafters => "Both ends go on to a rafter to be nailed to.".to_owned(),
        GrowReason::RaftersUnseen => {
            format!("Nobody saw where the rafters are, so one space of {spacing} in more is taken.")
        }
        GrowReason::LeastSpans => "A piece covers at least two spaces between rafters.".to_owned(),
        GrowReason::NoLoneSpan => "One space more, so that no piece covers a single space.".to_owned(),
        GrowReason::WholeInch => "The height is rounded up to a whole inch.".to_owned(),
    }
}

fn refusal(error: &PatchError) -> OfficeError {
    // The sentence says already what to do.
    let field = Some(error.field().to_owned());
    OfficeError { code: Code::Refused, field, message: error.to_string(), remedy: String::new() }
}

/// Uses the included ones first, then prices the rest.
fn price(calculation: &mut Calculation, damage: &Damage, standing: &JobSnapshot) -> Result<(), OfficeError> {
    let contract = standing.contract.as_ref().map(|held| &held.fact);
    let earlier = standing
        .conditions
        .iter()
        .map(|condition| &condition.condition)
        .filter(|condition| condition.damaged == damage.damaged && condition.counted_in == damage.counted_in)
        .map(|condition| condition.count);
    let counts: Vec<Qty> = earlier.chain([calculation.count]).collect();
    let used = trade::use_included(included(contract, damage.damaged, damage.counted_in), &counts).pop();
    (calculation.covered, calculation.beyond) =
        used.map_or((Qty::ZERO, calculation.count), |used| (used.covered, used.beyond));
    calculation.unit_price = unit_price(contract, damage.damaged, damage.counted_in);
    if let Some(price) = calculation.unit_price
        && calculation.beyond.is_positive()
    {
        calculation.price = Some(further_price(price, calculation.beyond)?);
    }
    Ok(())
}

/// What the contract includes of a kind.
fn included(contract: Option<&Contract>, damaged: Damaged, counted_in: CountedIn) -> Qty {
    match (damaged, counted_in, contract) {
        (Damaged::DeckSheet, CountedIn::Sheet, Some(contract)) => contract.included_sheets,
        (Damaged::DeckBoard, CountedIn::Foot, Some(contract)) => contract.included_feet,
        _ => Qty::ZERO,
    }
}

/// What one costs the homeowner, if the contract says.
pub(crate) fn unit_price(
    contract: Option<&Contract>,
    damaged: Damaged,
    counted_in: CountedIn,
) -> Option<Money> {
    let prices = contract.map(|contract| contract.unit_prices.as_slice()).unwrap_or_default();
    price_of(prices, damaged, counted_in)
}

/// The patches of a condition, as the trade calculates with them.
pub(crate) fn patches_of(condition: &ledger::facts::Condition) -> Vec<Patch> {
    let patch = |patch: &ledger::facts::ConditionPatch| Patch {
        along_eave: patch.along_eave_in,
        up_slope: patch.up_slope_in,
        from_rafter: patch.from_rafter_in,
    };
    condition.patches.iter().map(patch).collect()
}

/// The cut list of a condition that was logged, without prices: what the homeowner and the crew are shown of it.
pub(crate) fn cut_list_of(
    books: Books<'_>,
    job: Id,
    condition: &ledger::facts::Condition,
) -> Option<Calculation> {
    if condition.patches.is_empty() {
        return None;
    }
    let spacing = measured_roof(books, job)
        .ok()
        .flatten()
        .map_or(USUAL_SPACING, |(roof, _)| roof.house.rafter_spacing_in);
    let damage = Damage {
        damaged: condition.damaged,
        counted_in: condition.counted_in,
        patches: patches_of(condition),
        rafter_spacing: None,
        kerf: None,
        board_width: None,
        own_count: Some(condition.count),
    };
    // Patches that were taken once can be calculated again; were it otherwise, the count alone is shown.
    count(&damage, spacing).ok()
}

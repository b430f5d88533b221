//! The margin walk: from the margin sold to the margin made, one cause at a time, to the cent.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::closed_list;
use crate::kind::CostKind;
use crate::money::{Money, Qty};
use crate::variance::two_way;

/// Why a walk could not be made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum WalkError {
    /// The codes do not hold the cost that was sold.
    #[error(
        "The cost codes hold {by_codes} of contracted cost, but {sold} was sold with the job and its changes. \
         Put the whole contract and every change on codes."
    )]
    CodesDoNotMatch {
        /// Contracted cost, summed over the codes.
        by_codes: Money,
        /// Cost sold + cost of changes.
        sold: Money,
    },
}

/// One cost code in a walk, without anything of hidden conditions that are billed apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WalkCode {
    /// The firm's code.
    pub code: String,
    /// Its kind of cost; it decides which steps the code takes part in.
    pub kind: CostKind,
    /// Contracted cost, with approved changes.
    pub contracted: Money,
    /// Contracted quantity of material in the code's unit, where it has one.
    pub contracted_quantity: Option<Qty>,
    /// Contracted hours of labor; zero where none were planned.
    pub contracted_hours: Qty,
    /// Cost to date.
    pub actual: Money,
    /// Material used to date in the code's unit, where it is counted.
    pub actual_quantity: Option<Qty>,
    /// What the material used costs at the contract's prices, where it is told part by part.
    pub used_by_part: Option<Money>,
    /// Hours worked to date.
    pub actual_hours: Qty,
    /// Forecast of the whole cost.
    pub forecast: Money,
    /// Units of work contracted, where progress is measured.
    pub units_contracted: Option<Qty>,
    /// Units of work done.
    pub units_done: Qty,
    /// Whether the code is finished.
    pub finished: bool,
}

impl WalkCode {
    /// How much of the code's work is done: all where it is finished; by units where it is measured; else actual ÷
    /// forecast (company rule). It is a fraction, 0 ≤ done ≤ whole and whole > 0, so that division can come last.
    #[must_use]
    pub fn done_of_whole(&self) -> (Decimal, Decimal) {
        let (done, whole) = match self.units_contracted {
            _ if self.finished => (Decimal::ONE, Decimal::ONE),
            Some(units) if units.is_positive() => (self.units_done.decimal(), units.decimal()),
            _ => (self.actual.decimal(), self.forecast.decimal()),
        };
        if whole > Decimal::ZERO {
            (done.clamp(Decimal::ZERO, whole), whole)
        } else {
            (Decimal::ZERO, Decimal::ONE)
        }
    }

    /// The contracted cost of the work really done: contracted × done share, rounded once.
    #[must_use]
    pub fn standard_done(&self) -> Money {
        let (done, whole) = self.done_of_whole();
        Money::rounded(self.contracted.decimal() * done / whole)
    }

    /// What the quantity or hours used would have cost at the contracted price.
    #[must_use]
    pub fn used_at_standard(&self, used: Qty, contracted: Qty) -> Money {
        Money::rounded(self.contracted.decimal() * used.decimal() / contracted.decimal())
    }

    /// The code's part in each step, in the order of the steps. They sum to contracted − forecast.
    fn parts(&self) -> Vec<(StepKind, Money)> {
        let standard = self.standard_done();
        let so_far = standard - self.actual;
        let still_to_come = (self.contracted - self.forecast) - so_far;
        let mut parts = match self.kind {
            CostKind::Material => self.material_parts(standard),
            CostKind::Labor if self.contracted_hours.is_positive() => {
                let taken = self.used_at_standard(self.actual_hours, self.contracted_hours);
                let (rate, hours) = two_way(self.actual, taken, standard);
                vec![(StepKind::LaborRate, rate), (StepKind::LaborHours, hours)]
            }
            CostKind::Labor => vec![(StepKind::LaborHours, so_far)],
            CostKind::Subcontract => vec![(StepKind::Subcontract, so_far)],
            CostKind::Equipment | CostKind::Disposal | CostKind::Permit | CostKind::Other => {
                vec![(StepKind::EquipmentAndOther, so_far)]
            }
        };
        parts.push((StepKind::StillToCome, still_to_come));
        parts
    }

    fn material_parts(&self, standard: Money) -> Vec<(StepKind, Money)> {
        match (self.contracted_quantity, self.actual_quantity) {
            (Some(contracted), Some(used)) if contracted.is_positive() => {
                let used = self.used_by_part.unwrap_or_else(|| self.used_at_standard(used, contracted));
                let (price, quantity) = two_way(self.actual, used, standard);
                vec![(StepKind::MaterialPrice, price), (StepKind::MaterialQuantity, quantity)]
            }
            _ => vec![(StepKind::MaterialUnsplit, standard - self.actual)],
        }
    }
}

/// One part of a code's counted material.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountedPart {
    /// Its cost in the contract.
    pub contracted: Money,
    /// How much that is.
    pub contracted_quantity: Qty,
    /// How much was used.
    pub used: Qty,
}

/// What the quantities used cost at the contract's prices, part by part, each rounded once: so that a long piece and a
/// short one, both counted in pieces of one code, are not held against one mean price (common practice).
/// `None` where something was used that the contract has no price for.
#[must_use]
pub fn used_by_part(parts: &[CountedPart]) -> Option<Money> {
    let at_contract = |part: &CountedPart| {
        if part.used.is_zero() {
            return Some(Money::ZERO);
        }
        let whole = part.contracted.decimal() * part.used.decimal();
        part.contracted_quantity
            .is_positive()
            .then(|| Money::rounded(whole / part.contracted_quantity.decimal()))
    };
    parts.iter().map(at_contract).sum()
}

/// A job as the walk sees it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WalkInput {
    /// The price in the contract.
    pub price_sold: Money,
    /// The cost in the contract.
    pub cost_sold: Money,
    /// The price of approved changes other than hidden conditions.
    pub change_price: Money,
    /// The cost of those changes.
    pub change_cost: Money,
    /// The job's codes. Together they hold all contracted cost, changes included.
    pub codes: Vec<WalkCode>,
    /// Billed, or to be billed, for hidden conditions.
    pub hidden_billed: Money,
    /// Spent on hidden conditions beyond what the price includes.
    pub hidden_spent: Money,
}

/// A cause for which the margin moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum StepKind {
    /// Approved changes: their price less their contracted cost.
    #[cfg_attr(feature = "ts", ts(rename = "margin-on-changes"))]
    Changes,
    /// Material bought dearer or cheaper than contracted.
    MaterialPrice,
    /// More or less material used than the work should take.
    MaterialQuantity,
    /// Material whose quantities are not counted, so price and quantity cannot be told apart.
    MaterialUnsplit,
    /// Hours paid dearer or cheaper than contracted.
    LaborRate,
    /// More or fewer hours than the work should take.
    LaborHours,
    /// Work done by other firms.
    Subcontract,
    /// Equipment, disposal, permits and the rest.
    EquipmentAndOther,
    /// Hidden conditions: billed less spent.
    HiddenConditions,
    /// What the forecast expects of work not yet done.
    StillToCome,
}

closed_list!(StepKind, "step of the margin walk", {
    Changes => "margin-on-changes": "Margin on changes",
    MaterialPrice => "material-price": "Price of materials",
    MaterialQuantity => "material-quantity": "Amount of materials",
    MaterialUnsplit => "material-unsplit": "Materials, not counted",
    LaborRate => "labor-rate": "Pay an hour",
    LaborHours => "labor-hours": "Hours of work",
    Subcontract => "subcontract": "Subcontractors",
    EquipmentAndOther => "equipment-and-other": "Equipment, disposal and other",
    HiddenConditions => "hidden-conditions": "Hidden conditions",
    StillToCome => "still-to-come": "Still to come",
});

/// One step of the walk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// The cause.
    pub kind: StepKind,
    /// What it did to the margin: positive added to it.
    pub amount: Money,
    /// The codes that it came from, those that moved. They sum to `amount`; empty for changes and hidden
    /// conditions, which are opened by their own facts.
    pub by_code: Vec<(String, Money)>,
}

/// The whole walk. `sold` and all steps sum exactly to `made`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Walk {
    /// The margin sold: price − cost in the contract.
    pub sold: Money,
    /// Every step, in the order of [`StepKind::ALL`], those of nothing included.
    pub steps: Vec<Step>,
    /// The margin made, or forecast while work is still to come.
    pub made: Money,
}

impl Walk {
    /// What one cause did to the margin.
    #[must_use]
    pub fn amount(&self, kind: StepKind) -> Money {
        self.steps.iter().filter(|step| step.kind == kind).map(|step| step.amount).sum()
    }
}

/// Walks from the margin sold to the margin made (company rule, from the standard
/// variances of OpenStax vol. 2 ch. 8).
///
/// For each code the standard is the contracted cost of the work really done. Material counted in units and
/// labor planned in hours are told apart into price and quantity, or rate and hours; the second of each pair
/// is what is left of standard − actual, so nothing is lost to rounding. What the forecast expects of work
/// not yet done is a step of its own. Hidden conditions stand apart from the codes: billed less spent.
///
/// # Errors
/// If the codes do not together hold the cost sold and the cost of changes: the walk would not arrive.
pub fn walk(job: &WalkInput) -> Result<Walk, WalkError> {
    let by_codes: Money = job.codes.iter().map(|code| code.contracted).sum();
    let cost = job.cost_sold + job.change_cost;
    if by_codes != cost {
        return Err(WalkError::CodesDoNotMatch { by_codes, sold: cost });
    }
    let mut steps: Vec<Step> = StepKind::ALL
        .iter()
        .map(|kind| Step { kind: *kind, amount: apart_from_codes(job, *kind), by_code: Vec::new() })
        .collect();
    for code in &job.codes {
        for (kind, amount) in code.parts() {
            let moved = steps.iter_mut().find(|step| step.kind == kind && !amount.is_zero());
            if let Some(step) = moved {
                step.amount += amount;
                step.by_code.push((code.code.clone(), amount));
            }
        }
    }
    let sold = job.price_sold - job.cost_sold;
    let forecast: Money = job.codes.iter().map(|code| code.forecast).sum();
    let made = job.price_sold + job.change_price + job.hidden_billed - forecast - job.hidden_spent;
    debug_assert_eq!(
        sold + steps.iter().map(|step| step.amount).sum::<Money>(),
        made,
        "the steps lead from the margin sold to the margin made"
    );
    Ok(Walk { sold, steps, made })
}

fn apart_from_codes(job: &WalkInput, kind: StepKind) -> Money {
    match kind {
        StepKind::Changes => job.change_price - job.change_cost,
        StepKind::HiddenConditions => job.hidden_billed - job.hidden_spent,
        _ => Money::ZERO,
    }
}

/// Shares what a code is still to cost among its cells: by what is left of each cell's budget, else by budget, else
/// by what was spent (company rule). The sum is the code's forecast to the cent.
pub fn spread_forecast(cells: &mut [WalkCode], forecast: Money) {
    let actual: Money = cells.iter().map(|cell| cell.actual).sum();
    if let Ok(parts) = crate::split::split(forecast - actual, &forecast_weights(cells)) {
        for (cell, part) in cells.iter_mut().zip(parts) {
            cell.forecast = cell.actual + part;
        }
    }
}

/// What [`spread_forecast`] shares by: one weight a cell.
#[must_use]
pub fn forecast_weights(cells: &[WalkCode]) -> Vec<Decimal> {
    let left = |cell: &WalkCode| (cell.contracted - cell.actual).max(Money::ZERO).decimal();
    let candidates: [Vec<Decimal>; 3] = [
        cells.iter().map(left).collect(),
        cells.iter().map(|cell| cell.contracted.max(Money::ZERO).decimal()).collect(),
        cells.iter().map(|cell| cell.actual.max(Money::ZERO).decimal()).collect(),
    ];
    let even = vec![Decimal::ONE; cells.len()];
    candidates.into_iter().find(|weights| weights.iter().any(|weight| !weight.is_zero())).unwrap_or(even)
}

//! What a job came to: every figure of the month end for one job, from its standing.

use crate::job::own_day::{cost_of, crew_days, overhead};
use crate::job::snapshot::JobSnapshot;
use desk::Code;
use desk::OfficeError;
use desk::names::Names;
use desk::settings::Settings;
use ledger::Id;
use ledger::closed_lists::JobStatusWord;
use ledger::totals::{CodeTotals, ConditionTotals, PartTotals};
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{
    CodeStanding, CostKind, CountedPart, ForecastRule, Money, ProgressInput, Qty, StepKind, Walk, WalkCode,
    WalkInput,
};

/// Where a job is in its life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum Stage {
    /// Contracted, not begun.
    Contracted,
    /// At work.
    Begun,
    /// Done.
    Finished,
    /// Will not be done.
    Canceled,
    /// No contract yet.
    Uncontracted,
}
trade::closed_list!(Stage, "stage of a job", {
    Contracted => "contracted": "Contracted",
    Begun => "begun": "At work",
    Finished => "finished": "Finished",
    Canceled => "canceled": "Canceled",
    Uncontracted => "uncontracted": "No contract yet",
});

/// One code of a job.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CodeResult {
    /// The code's word.
    pub code: String,
    /// Budget in the contract.
    pub contracted: Money,
    /// Budget in approved changes of the customer's own.
    pub changed: Money,
    /// Spent to date, without hidden conditions beyond the included sheets.
    pub cost: Money,
    /// Ordered, not yet received.
    pub committed: Money,
    /// Forecast at completion.
    pub forecast: Money,
    /// The rule that gave the forecast: `own`, `units`, `spent` or `larger-of`.
    pub forecast_rule: ForecastRule,
    /// Hours contracted.
    pub hours_contracted: Qty,
    /// Hours worked.
    pub hours: Qty,
    /// Measured work contracted.
    pub units_contracted: Qty,
    /// Measured work done.
    pub units: Qty,
    /// The unit of that measure.
    pub unit: Option<String>,
}

/// Hidden conditions of a job (or of the firm).
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct HiddenResult {
    /// How many were found.
    pub conditions: usize,
    /// Price approved for them.
    pub approved: Money,
    /// Billed for them.
    pub billed: Money,
    /// Spent on them beyond the included sheets.
    pub spent: Money,
    /// Billed ÷ spent; absent when nothing was spent.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub recovery: Option<Decimal>,
    /// Spent and never to be billed.
    pub unrecovered: Money,
}

/// One step of the margin walk.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StepResult {
    /// Which step.
    pub step: StepKind,
    /// The step in plain words.
    pub title: String,
    /// What it added to the margin; negative took from it.
    pub amount: Money,
    /// The same by code.
    pub codes: Vec<CodeAmount>,
}

/// An amount on a code.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CodeAmount {
    /// The code's word.
    pub code: String,
    /// The amount.
    pub amount: Money,
}

/// The margin walk.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WalkResult {
    /// The margin sold.
    pub sold: Money,
    /// Its steps, in order.
    pub steps: Vec<StepResult>,
    /// The margin made, or forecast while the job is open.
    pub made: Money,
}

/// A job at the end of a month.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobResult {
    /// The job's id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// For whom.
    pub customer: String,
    /// The crew that is to do it.
    pub crew: Option<String>,
    /// Where it is in its life.
    pub stage: Stage,
    /// Price in the contract.
    pub price: Money,
    /// Approved changes of the customer's own.
    pub changes: Money,
    /// Approved for hidden conditions.
    pub hidden_price: Money,
    /// Price and approved changes: what the customer is to pay before tax.
    pub contract: Money,
    /// Cost to date.
    pub cost: Money,
    /// Of it, labor: pay with its burden.
    pub labor: Money,
    /// Ordered, not yet received.
    pub committed: Money,
    /// Forecast cost at completion.
    pub forecast: Money,
    /// Material on site, not installed, at cost.
    pub uninstalled: Money,
    /// Percent complete as an unrounded share, 0 to 1.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub complete: Decimal,
    /// Earned to date.
    pub earned: Money,
    /// Contract less earned: what is still to be earned of it.
    pub backlog: Money,
    /// The gross profit that the backlog will bring.
    pub backlog_profit: Money,
    /// Billed to date, before tax.
    pub billed: Money,
    /// Billed beyond what is earned.
    pub over_billed: Money,
    /// Earned beyond what is billed.
    pub under_billed: Money,
    /// Loss foreseen beyond what is already booked.
    pub loss_provision: Money,
    /// Retainage held.
    pub retainage_held: Money,
    /// Payments applied.
    pub received: Money,
    /// Margin sold.
    pub margin_sold: Money,
    /// Margin sold ÷ price.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub margin_sold_ratio: Option<Decimal>,
    /// Margin made, or forecast while the job is open.
    pub margin: Money,
    /// That ÷ contract.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub margin_ratio: Option<Decimal>,
    /// Hours worked.
    pub hours: Qty,
    /// Crew-days worked, unrounded.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: Decimal,
    /// Margin ÷ crew-days; for an open job, of what is earned so far.
    pub margin_per_crew_day: Option<Money>,
    /// Overhead absorbed to date.
    pub overhead: Money,
    /// Margin less overhead.
    pub margin_after_overhead: Money,
    /// Hidden conditions.
    pub hidden: HiddenResult,
    /// The margin walk.
    pub walk: WalkResult,
    /// By code.
    pub codes: Vec<CodeResult>,
}

/// A code with its hidden-condition cost taken out.
pub(crate) struct Base {
    pub(crate) id: Id,
    pub(crate) totals: CodeTotals,
    /// Its counted material by part, as bought; empty where not every bill says its part.
    pub(crate) parts: Vec<(Id, CountedPart)>,
    /// Of its material, what is on site and not installed.
    pub(crate) stored: Money,
    pub(crate) forecast: Money,
    pub(crate) rule: ForecastRule,
}

/// Works out a job.
///
/// # Errors
/// When its figures do not fit together, which would be our own mistake and is said as such.
pub fn job_result(
    standing: &JobSnapshot,
    names: &Names,
    settings: &Settings,
) -> Result<JobResult, OfficeError> {
    let bases = bases(standing);
    let ended = standing.is_ended();
    let hidden = hidden(standing);
    let hidden_forecast = hidden_forecast(standing, hidden.spent);
    let money = &standing.money;
    let changes = money.change_price + cancellation(standing);
    let contract = money.price + changes + money.hidden_price;
    let cost: Money = standing.codes.values().map(CodeTotals::spent).sum();
    let forecast = bases.iter().map(|base| base.forecast).sum::<Money>() + hidden_forecast;
    let uninstalled = standing.uninstalled();
    let progress = trade::progress(&ProgressInput {
        contract,
        cost_to_date: cost,
        forecast_cost: forecast,
        uninstalled,
        billed: money.billed,
        ended,
    });
    let backlog = trade::backlog(contract, progress.earned);
    let walk = trade::walk(&walk_input(standing, names, &bases, hidden_forecast)).map_err(|problem| {
        OfficeError {
            code: Code::Damaged,
            field: None,
            message: format!(
                "The margin walk of job {} does not add up: {problem}.",
                names.job_number(standing.job)
            ),
            remedy: "Run verify; if it finds nothing, this is a fault of Tearoff's own.".to_owned(),
        }
    })?;
    let cost_sold: Money = standing.codes.values().map(|code| code.budget() - code.changed).sum();
    let hours: Qty = standing.codes.values().map(|code| code.hours).sum();
    let crew_days = crew_days(standing, settings);
    let margin = contract - forecast;
    let overhead = overhead(standing, settings);
    let job = names.jobs.get(&standing.job);
    let earned_margin = if ended { margin } else { progress.profit };
    Ok(JobResult {
        id: standing.job.to_string(),
        number: names.job_number(standing.job),
        title: job.map(|job| job.title.clone()).unwrap_or_default(),
        customer: job.map(|job| names.customer(job.customer)).unwrap_or_default(),
        crew: crew_then(standing).map(|crew| names.crew(crew)),
        stage: stage(standing),
        price: money.price,
        changes,
        hidden_price: money.hidden_price,
        contract,
        cost,
        labor: standing.labor.values().map(cost_of).sum(),
        committed: standing.codes.values().map(|code| code.committed).sum(),
        forecast,
        uninstalled,
        complete: progress.share,
        earned: progress.earned,
        backlog,
        backlog_profit: trade::profit_in_backlog(backlog, forecast - cost, progress.loss_provision),
        billed: money.billed,
        over_billed: progress.over_billed,
        under_billed: progress.under_billed,
        loss_provision: progress.loss_provision,
        retainage_held: money.held - money.released,
        received: money.received,
        margin_sold: money.price - cost_sold,
        margin_sold_ratio: trade::margin(money.price, cost_sold),
        margin,
        margin_ratio: trade::margin(contract, forecast),
        hours,
        crew_days,
        margin_per_crew_day: trade::margin_per_crew_day(earned_margin, crew_days),
        overhead,
        margin_after_overhead: margin - overhead,
        hidden,
        walk: walk_result(walk),
        codes: code_results(standing, names, &bases),
    })
}

/// The crew that was to do the job at the month's end.
fn crew_then(standing: &JobSnapshot) -> Option<ledger::Id> {
    standing.versions.on(standing.month.last_day())?.fact.crew
}

/// By how much a cancellation changed the contract: what was billed for a canceled job, less what was given back, is
/// all that it will bring (company rule). It is shown among the changes, so that the contract is still their sum.
fn cancellation(standing: &JobSnapshot) -> Money {
    let money = &standing.money;
    if stage(standing) == Stage::Canceled {
        money.billed - (money.price + money.change_price + money.hidden_price)
    } else {
        Money::ZERO
    }
}

fn stage(standing: &JobSnapshot) -> Stage {
    match (standing.ended, standing.begun) {
        (Some((JobStatusWord::Canceled, _)), _) => Stage::Canceled,
        (Some(_), _) => Stage::Finished,
        (None, Some(_)) => Stage::Begun,
        (None, None) if standing.contract.is_some() => Stage::Contracted,
        (None, None) => Stage::Uncontracted,
    }
}

/// What hidden conditions will have cost beyond the included sheets.
pub(crate) fn hidden_forecast(standing: &JobSnapshot, spent: Money) -> Money {
    let budget: Money = standing.codes.values().map(|code| code.hidden_budget).sum();
    trade::forecast_of_conditions(spent, budget, standing.is_ended())
}

fn hidden(standing: &JobSnapshot) -> HiddenResult {
    let spent = standing.conditions.iter().map(|condition| condition.spent).sum();
    let billed = standing.conditions.iter().map(|condition| condition.billed).sum();
    HiddenResult {
        conditions: standing.conditions.len(),
        approved: standing.money.hidden_price,
        billed,
        spent,
        recovery: trade::recovery(billed, spent),
        unrecovered: standing.conditions.iter().map(|condition| condition.unrecovered).sum(),
    }
}

/// Takes the hidden conditions beyond the included sheets out of each code and forecasts what is left.
pub(crate) fn bases(standing: &JobSnapshot) -> Vec<Base> {
    let mut beyond: BTreeMap<Id, ConditionTotals> = BTreeMap::new();
    for condition in &standing.conditions {
        for (code, totals) in &condition.beyond {
            let sum = beyond.entry(*code).or_default();
            sum.material += totals.material;
            sum.labor += totals.labor;
            sum.subcontract += totals.subcontract;
            sum.rest += totals.rest;
            sum.counted += totals.counted;
            sum.quantity += totals.quantity;
            sum.hours += totals.hours;
        }
    }
    let base = |(id, totals): (&Id, &CodeTotals)| {
        let mut totals = totals.clone();
        if let Some(out) = beyond.get(id) {
            totals.material -= out.material;
            totals.labor -= out.labor;
            totals.subcontract -= out.subcontract;
            totals.other -= out.rest;
            totals.counted -= out.counted;
            totals.quantity -= out.quantity;
            totals.hours -= out.hours;
        }
        let units = (!totals.budget_units.is_zero()).then_some(totals.budget_units);
        let counted_on_site = standing.stored.get(id).copied().unwrap_or_default();
        let stored = if standing.is_ended() {
            Money::ZERO
        } else {
            trade::stored_material(counted_on_site, totals.material)
        };
        let forecast = trade::forecast(&CodeStanding {
            contracted: totals.budget() - totals.changed,
            changes: totals.changed,
            actual: totals.spent(),
            uninstalled: stored,
            committed: totals.committed,
            own_forecast: standing.forecasts.get(id).copied(),
            units_contracted: units,
            units_done: totals.units,
            finished: standing.is_ended(),
        });
        let hidden = beyond.get(id).is_some_and(|out| !out.quantity.is_zero());
        let parts = standing.parts.get(id).filter(|_| !hidden).map(by_part).unwrap_or_default();
        Base { id: *id, totals, parts, stored, forecast: forecast.amount, rule: forecast.rule }
    };
    standing.codes.iter().map(base).collect()
}

/// A code's counted material by part, where every bill says which part it is. What hidden conditions took does not say
/// its part, so a code that they count in is held against the contract as a whole (company rule).
fn by_part(parts: &BTreeMap<Option<Id>, PartTotals>) -> Vec<(Id, CountedPart)> {
    if parts.get(&None).is_some_and(|rest| !rest.quantity.is_zero()) {
        return Vec::new();
    }
    let told = parts.iter().filter_map(|(part, sums)| {
        let counted = CountedPart {
            contracted: sums.budget_counted,
            contracted_quantity: sums.budget_quantity,
            used: sums.quantity,
        };
        Some(((*part)?, counted))
    });
    told.collect()
}

fn code_results(standing: &JobSnapshot, names: &Names, bases: &[Base]) -> Vec<CodeResult> {
    let mut results: Vec<(i64, CodeResult)> = bases
        .iter()
        .filter(|base| base.totals != CodeTotals::default() || standing.codes.contains_key(&base.id))
        .map(|base| {
            let code = names.codes.get(&base.id);
            let result = CodeResult {
                code: names.code(base.id),
                contracted: base.totals.budget() - base.totals.changed,
                changed: base.totals.changed,
                cost: base.totals.spent(),
                committed: base.totals.committed,
                forecast: base.forecast,
                forecast_rule: base.rule,
                hours_contracted: base.totals.budget_hours,
                hours: base.totals.hours,
                units_contracted: base.totals.budget_units,
                units: base.totals.units,
                unit: code.and_then(|code| code.unit.clone()),
            };
            (code.map_or(i64::MAX, |code| code.position), result)
        })
        .collect();
    results.sort_by(|left, right| (left.0, &left.1.code).cmp(&(right.0, &right.1.code)));
    results.into_iter().map(|(_, result)| result).collect()
}

/// A code's cells for the walk: counted material, other material, labor, subcontract, the rest. What is stacked on
/// site is not yet work done: it is left to what is still to come.
pub(crate) fn cells(base: &Base, name: &str, ended: bool) -> [WalkCode; 5] {
    let totals = &base.totals;
    let cell = |kind: CostKind, contracted: Money, actual: Money| WalkCode {
        code: name.to_owned(),
        kind,
        contracted,
        contracted_quantity: None,
        contracted_hours: Qty::ZERO,
        actual,
        actual_quantity: None,
        used_by_part: None,
        actual_hours: Qty::ZERO,
        forecast: actual,
        units_contracted: (!totals.budget_units.is_zero()).then_some(totals.budget_units),
        units_done: totals.units,
        finished: ended,
    };
    let counted_on_site = base.stored.min(totals.counted.max(Money::ZERO));
    let counted_in = totals.counted - counted_on_site;
    let other_in = totals.material - totals.counted - (base.stored - counted_on_site);
    let quantity_in = trade::quantity_used(totals.quantity, counted_in, totals.counted);
    let mut counted = cell(CostKind::Material, totals.budget_counted, counted_in);
    // Without a contracted quantity there is nothing to hold the bought one against.
    if !totals.budget_quantity.is_zero() {
        counted.contracted_quantity = Some(totals.budget_quantity);
        counted.actual_quantity = Some(quantity_in);
        counted.used_by_part = used_by_part(base, counted_in);
    }
    let mut labor = cell(CostKind::Labor, totals.budget_labor, totals.labor);
    labor.contracted_hours = totals.budget_hours;
    labor.actual_hours = totals.hours;
    let mut cells = [
        counted,
        cell(CostKind::Material, totals.budget_material - totals.budget_counted, other_in),
        labor,
        cell(CostKind::Subcontract, totals.budget_subcontract, totals.subcontract),
        cell(CostKind::Other, totals.budget_rest, totals.rest()),
    ];
    trade::spread_forecast(&mut cells, base.forecast);
    cells
}

/// What the counted material of a code that is built in costs at the contract's prices of its parts; `None` where it
/// is not told by part, or something was bought that the contract has no price for.
fn used_by_part(base: &Base, counted_in: Money) -> Option<Money> {
    let built_in = |(_, part): &(Id, CountedPart)| CountedPart {
        used: trade::quantity_used(part.used, counted_in, base.totals.counted),
        ..*part
    };
    let parts: Vec<CountedPart> = base.parts.iter().map(built_in).collect();
    trade::used_by_part(&parts).filter(|_| !parts.is_empty())
}

fn walk_input(standing: &JobSnapshot, names: &Names, bases: &[Base], hidden_forecast: Money) -> WalkInput {
    let ended = standing.is_ended();
    let mut change_cost: Money = standing.codes.values().map(|code| code.changed).sum();
    let cost: Money = standing.codes.values().map(CodeTotals::budget).sum();
    let cost_sold = cost - change_cost;
    let mut codes: Vec<WalkCode> =
        bases.iter().flat_map(|base| cells(base, &names.code(base.id), ended)).collect();
    codes.retain(|cell| !(cell.contracted.is_zero() && cell.actual.is_zero() && cell.forecast.is_zero()));
    if stage(standing) == Stage::Canceled {
        // What was contracted and will not be done is no saving: the cancellation took it out with its price.
        for code in &mut codes {
            code.contracted = code.forecast;
            (code.contracted_quantity, code.used_by_part) = (None, None);
            code.contracted_hours = Qty::ZERO;
        }
        change_cost = codes.iter().map(|code| code.contracted).sum::<Money>() - cost_sold;
    }
    WalkInput {
        price_sold: standing.money.price,
        cost_sold,
        change_price: standing.money.change_price + cancellation(standing),
        change_cost,
        codes,
        hidden_billed: standing.money.hidden_price,
        hidden_spent: hidden_forecast,
    }
}

fn walk_result(walk: Walk) -> WalkResult {
    let steps = walk
        .steps
        .into_iter()
        .map(|step| {
            let mut codes: Vec<CodeAmount> = Vec::new();
            for (code, amount) in step.by_code {
                match codes.iter_mut().find(|known| known.code == code) {
                    Some(known) => known.amount += amount,
                    None => codes.push(CodeAmount { code, amount }),
                }
            }
            StepResult { step: step.kind, title: step.kind.label().to_owned(), amount: step.amount, codes }
        })
        .collect();
    WalkResult { sold: walk.sold, steps, made: walk.made }
}

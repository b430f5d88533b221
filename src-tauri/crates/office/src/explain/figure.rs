//! Every figure that opens: its word, label, measure, rule and source, written once for window, papers, CSV and command
//! line.

use super::budget_figure::BudgetFigure;
use super::cash_figure::CashFigure;
use crate::job::result::{CodeResult, JobResult};
use crate::month::budget::FirmBudget;
use crate::month::end::{FirmMonth, JobMonth};
use crate::month::result::FirmYear;
use desk::OfficeError;
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use trade::{Money, Qty, StepKind};

pub use super::measure::MeasuredIn;

const COMPANY: &str = "company rule";
const COMMON: &str = "common practice";
const BACKLOG: &str = "contract less revenue earned (26 CFR 1.460-4(h), examples 2, 3 and 5)";
const REVENUE: &str = "ASC 606-10-55-187 ff., Example 19";
const LOSS: &str = "ASC 605-35-25-45 ff.";
const OVERTIME: &str = "29 CFR 778 for overtime; the spread over jobs is a company rule";
const OVERHEAD: &str = "actual overhead (OpenStax, Principles of Accounting, volume 2, chapter 4)";
const PROFIT: &str = "profit after common costs (OpenStax, Principles of Accounting, volume 2, chapter 10)";
const VARIANCES: &str = "standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)";

/// A figure is one row of this table; a row without one of its parts does not compile. The rows stand in groups: those
/// of jobs, those that the firm's month has beside them, and those of its year, which no job has. A match names a group
/// of the firm's by its pattern: a new row of it is in there, and for a new row of the others the compiler asks. The
/// steps of the margin walk are figures too, with their own words and labels.
macro_rules! figures {
    (jobs { $($job:tt)+ } firm_month { $($month:tt)+ } firm_year { $($year:tt)+ }) => {
        figures! { @all $($job)+ $($month)+ $($year)+ }
        figures! { @group OF_JOBS $($job)+ }
        figures! { @group OF_YEAR $($year)+ }
        figures! { @pattern firm_month $($month)+ }
        figures! { @pattern firm_year $($year)+ }
    };
    (@group $group:ident $( $figure:ident = $w:literal, $m:ident, $l:literal, $s:ident: $r:literal; )+) => {
        impl Figure {
            const $group: &'static [Figure] = &[$( Figure::$figure ),+];
        }
    };
    (@pattern $group:ident $( $figure:ident = $w:literal, $m:ident, $l:literal, $s:ident: $r:literal; )+) => {
        macro_rules! $group {
            () => { $( Figure::$figure )|+ };
        }
    };
    (@all $( $figure:ident = $word:literal, $measure:ident, $label:literal, $source:ident: $rule:literal; )+) => {
        /// A figure of a job or of the firm that can be opened.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS))]
        #[serde(rename_all = "kebab-case")]
        pub enum Figure {
            $( #[doc = $rule] $figure, )+
            /// A step of the margin walk.
            #[serde(untagged)]
            Step(StepKind),
            /// A figure of the firm's budget.
            #[serde(untagged)]
            Budget(BudgetFigure),
            /// A figure of cash ahead.
            #[serde(untagged)]
            Cash(CashFigure),
        }

        impl Figure {
            const OF_ROWS: &'static [Figure] = &[$( Figure::$figure ),+];

            /// Its word, as it is typed and stands in JSON.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self {
                    $( Figure::$figure => $word, )+
                    Figure::Step(step) => step.as_str(),
                    Figure::Budget(of) => of.as_str(),
                    Figure::Cash(of) => of.as_str(),
                }
            }

            /// What people call it.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self {
                    $( Figure::$figure => $label, )+
                    Figure::Step(step) => step.label(),
                    Figure::Budget(of) => of.label(),
                    Figure::Cash(of) => of.label(),
                }
            }

            /// What it is measured in.
            #[must_use]
            pub const fn measure(self) -> MeasuredIn {
                match self {
                    $( Figure::$figure => MeasuredIn::$measure, )+
                    Figure::Step(_) => MeasuredIn::Money,
                    Figure::Budget(of) => of.measure(),
                    Figure::Cash(of) => of.measure(),
                }
            }

            /// What it is, in a sentence.
            #[must_use]
            pub const fn rule(self) -> &'static str {
                match self {
                    $( Figure::$figure => $rule, )+
                    Figure::Step(step) => rule_of_step(step),
                    Figure::Budget(of) => of.rule(),
                    Figure::Cash(of) => of.rule(),
                }
            }

            /// Where the rule comes from.
            #[must_use]
            pub const fn source(self) -> &'static str {
                match self {
                    $( Figure::$figure => $source, )+
                    Figure::Step(step) => source_of_step(step),
                    Figure::Budget(of) => of.source(),
                    Figure::Cash(of) => of.source(),
                }
            }
        }
    };
}

const fn rule_of_step(step: StepKind) -> &'static str {
    match step {
        StepKind::Changes => {
            "A step of the margin walk: approved changes of the customer's own, their price less their contracted cost."
        }
        StepKind::MaterialPrice => {
            "A step of the margin walk: what the material used would have cost at the contracted price, less what it \
             cost."
        }
        StepKind::MaterialQuantity => {
            "A step of the margin walk: the contracted cost of the work really done, less what the material used would \
             have cost at the contracted price."
        }
        StepKind::MaterialUnsplit => {
            "A step of the margin walk: material without counted quantities, the contracted cost of the work really \
             done less what it cost."
        }
        StepKind::LaborRate => {
            "A step of the margin walk: what the hours worked would have cost at the contracted pay, less what they \
             cost."
        }
        StepKind::LaborHours => {
            "A step of the margin walk: the contracted cost of the work really done, less what the hours worked would \
             have cost at the contracted pay."
        }
        StepKind::Subcontract => {
            "A step of the margin walk: work of other firms, the contracted cost of what is really done less what it \
             cost."
        }
        StepKind::EquipmentAndOther => {
            "A step of the margin walk: equipment, disposal, permits and the rest, the contracted cost of what is \
             really done less what it cost."
        }
        StepKind::HiddenConditions => {
            "A step of the margin walk: approved for hidden conditions, less what they cost or are expected to cost \
             beyond the included sheets."
        }
        StepKind::StillToCome => {
            "A step of the margin walk: what the forecast expects of work not yet done, against its contracted cost."
        }
    }
}

const fn source_of_step(step: StepKind) -> &'static str {
    match step {
        StepKind::Changes => COMMON,
        StepKind::HiddenConditions | StepKind::StillToCome => COMPANY,
        _ => VARIANCES,
    }
}

figures! { jobs {
    Price = "price", Money, "Price", COMMON: "The price in the contract, before sales tax.";
    Changes = "changes", Money, "Changes", COMMON:
        "Approved changes of the customer's own and deducts, at their price. Once a job is canceled, what was \
         billed is all that it will bring; the difference stands here.";
    HiddenPrice = "hidden-price", Money, "Approved for hidden conditions", COMMON:
        "Approved change orders for hidden conditions, at their price; by time and material, at what the work came to.";
    Contract = "contract", Money, "Contract", COMMON: "Price and every approved change.";
    Cost = "cost", Money, "Cost", OVERTIME:
        "Bills with their tax where the firm bears it, direct costs, and hours with pay, overtime and burden. Of one \
         code, without hidden conditions beyond the included sheets.";
    LaborCost = "labor-cost", Money, "Labor cost", OVERTIME: "Hours with pay, overtime and burden, as they are booked.";
    Committed = "committed", Money, "Committed cost", COMPANY:
        "Ordered less received before tax, code by code, never below zero; nothing once an order is complete.";
    Forecast = "forecast", Money, "Forecast cost", COMPANY:
        "By code: spent and committed when the job has ended; the owner's own forecast; the pace of measured work; or \
         the larger of spent and committed, and budget. Hidden conditions beyond the included sheets apart: the larger \
         of spent and approved cost.";
    Uninstalled = "uninstalled", Money, "Uninstalled material", REVENUE:
        "Material counted on site and not installed, at cost, code by code; never more than was bought and not \
         returned. Nothing once the job has ended.";
    Complete = "complete", Share, "Percent complete", REVENUE:
        "(Cost − uninstalled) ÷ (forecast − uninstalled), never rounded and never above 1.";
    Earned = "earned", Money, "Earned", REVENUE:
        "(Contract − uninstalled) × percent complete + uninstalled, rounded once; of the uninstalled no more than the \
         contract holds.";
    Backlog = "backlog", Money, "Backlog", BACKLOG:
        "Contract less earned: what is still to be earned of signed work.";
    BacklogProfit = "backlog-profit", Money, "Gross profit in the backlog", COMMON:
        "Backlog less the cost still to come, and with it what of a loss is already booked: what is booked and this \
         together are the margin.";
    Billed = "billed", Money, "Billed", COMMON: "Invoices less credit memos, before sales tax.";
    OverBilled = "over-billed", Money, "Over-billed", COMMON:
        "Billed less earned, where that is above zero; never netted across jobs.";
    UnderBilled = "under-billed", Money, "Under-billed", COMMON:
        "Earned less billed, where that is above zero; never netted across jobs.";
    LossProvision = "loss-provision", Money, "Loss provision", LOSS:
        "Where the forecast is above the contract, the whole loss less what is already booked.";
    RetainageHeld = "retainage-held", Money, "Retainage held", COMMON:
        "Entered on invoices, less what credit memos took off and what was released.";
    Received = "received", Money, "Received", COMMON:
        "Payments and credits applied to this job's invoices, less what its credit memos gave to other invoices or \
         back to the customer.";
    MarginSold = "margin-sold", Money, "Margin sold", COMMON: "Price less the cost in the contract.";
    MarginSoldRatio = "margin-sold-ratio", Share, "Margin % sold", COMMON:
        "Margin sold ÷ price, never rounded but when shown.";
    Margin = "margin", Money, "Margin", COMMON: "Contract less forecast; the margin made once the job has ended.";
    MarginRatio = "margin-ratio", Share, "Margin %", COMMON: "Margin ÷ contract, never rounded but when shown.";
    Hours = "hours", Hours, "Hours", COMMON:
        "Hours worked. Of one code, without hidden conditions beyond the included sheets.";
    HoursContracted = "hours-contracted", Hours, "Hours contracted", COMMON:
        "Hours in the contract and in approved changes of the customer's own.";
    CrewDays = "crew-days", CrewDays, "Crew-days", COMPANY:
        "Crew hours ÷ (crew size × hours in its day), crew by crew, each day by the crew as it was that day; hours \
         without a crew, by eight a day.";
    MarginPerCrewDay = "margin-per-crew-day", Money, "Margin per crew-day", COMPANY:
        "Margin made ÷ crew-days; for an open job, what is earned less what it cost so far.";
    Overhead = "overhead", Money, "Overhead", COMMON:
        "The firm's overhead rate on its chosen base, each day by the settings of that day.";
    MarginAfterOverhead = "margin-after-overhead", Money, "Margin after overhead", COMMON:
        "Margin less the overhead that the job bears.";
    HiddenSpent = "hidden-spent", Money, "Spent on hidden conditions", COMPANY:
        "Cost tied to conditions, less the share of the included sheets by count.";
    HiddenBilled = "hidden-billed", Money, "Billed for hidden conditions", COMPANY:
        "Billed of change orders, dealt to conditions by the price of their lines; a deduct lowers none.";
    Recovery = "recovery", Share, "Recovery", COMPANY: "Billed ÷ spent on hidden conditions.";
    Unrecovered = "unrecovered", Money, "Unrecovered cost", COMPANY:
        "Spent less billed, condition by condition, where nothing more will be billed. Never below zero.";
    MonthEarned = "month-earned", Money, "Earned in the month", COMMON:
        "Earned by the month's end, less earned by the end of the month before.";
    MonthSigned = "month-signed", Money, "Signed in the month", COMMON:
        "Price by the month's end, less price by the end of the month before.";
    MonthChanged = "month-changed", Money, "Changes of contracts in the month", COMMON:
        "Approved changes by the month's end, those for hidden conditions among them, less those by the end of the \
         month before.";
    BacklogBefore = "backlog-before", Money, "Backlog at the month's beginning", BACKLOG:
        "Backlog at the end of the month before. With what was signed and what changed, less what was earned, it is \
         the backlog at the month's end.";
    MonthCost = "month-cost", Money, "Cost of the month", COMMON:
        "Cost by the month's end, less cost by the end of the month before.";
    MonthProfit = "month-profit", Money, "Gross profit", COMMON:
        "Earned less cost, less the change in losses foreseen.";
    MonthBilled = "month-billed", Money, "Billed in the month", COMMON:
        "Billed by the month's end, less billed by the end of the month before.";
    MonthOverBilled = "month-over-billed", Money, "Change in over-billed", COMMON:
        "Over-billed at the month's end, less over-billed at the end of the month before.";
    MonthUnderBilled = "month-under-billed", Money, "Change in under-billed", COMMON:
        "Under-billed at the month's end, less under-billed at the end of the month before.";
    MonthLossProvision = "month-loss-provision", Money, "Change in loss provision", COMMON:
        "Loss provision at the month's end, less the one at the end of the month before.";
    MonthOverhead = "month-overhead", Money, "Overhead absorbed in the month", COMMON:
        "Overhead by the month's end, less overhead by the end of the month before.";
    MonthCrewDays = "month-crew-days", CrewDays, "Crew-days of the month", COMPANY:
        "Crew-days by the month's end, less crew-days by the end of the month before.";
} firm_month {
    MonthOverheadCost = "month-overhead-cost", Money, "Overhead cost of the month", COMMON:
        "Bills that are no job's with their tax, and costs without a bill, less the firm's own equipment that jobs \
         were charged with and what vendors let off for being paid early.";
    MonthUnderAbsorbed = "month-under-absorbed", Money, "Under-absorbed in the month", OVERHEAD:
        "Overhead cost less the overhead that jobs bore; below zero where they bore more. It is never laid on jobs \
         afterwards.";
    MonthNetProfit = "month-net-profit", Money, "Net profit", PROFIT: "Gross profit less overhead cost.";
} firm_year {
    YearEarned = "year-earned", Money, "Earned in the year so far", COMMON: "Earned in each month from January on.";
    YearProfit = "year-profit", Money, "Gross profit of the year so far", COMMON:
        "Gross profit of each month from January on.";
    YearOverheadCost = "year-overhead-cost", Money, "Overhead cost of the year so far", COMMON:
        "Overhead cost of each month from January on.";
    YearOverhead = "year-overhead", Money, "Overhead absorbed in the year so far", COMMON:
        "Overhead that jobs bore in each month from January on.";
    YearUnderAbsorbed = "year-under-absorbed", Money, "Under-absorbed in the year so far", OVERHEAD:
        "Overhead cost less the overhead that jobs bore, from January on; below zero where they bore more.";
    YearNetProfit = "year-net-profit", Money, "Net profit of the year so far", PROFIT:
        "Gross profit less overhead cost, from January on.";
    YearOverheadRate = "year-overhead-rate", Count, "Overhead rate that the year so far would have asked for", OVERHEAD:
        "Overhead cost ÷ what overhead is spread by (hours, dollars of labor, or crew-days), both from January on; \
         kept at six decimals.";
}}

pub(super) use {firm_month, firm_year};

impl std::fmt::Display for Figure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(self.as_str())
    }
}

fn list(figures: impl Iterator<Item = Figure>) -> String {
    figures.map(Figure::as_str).collect::<Vec<_>>().join(", ")
}

impl Figure {
    /// Every figure, in the order in which they are listed.
    pub fn all() -> impl Iterator<Item = Figure> {
        Figure::OF_ROWS
            .iter()
            .copied()
            .chain(Figure::steps())
            .chain(Figure::all_of_budget())
            .chain(Figure::all_of_cash())
    }

    fn steps() -> impl Iterator<Item = Figure> {
        StepKind::ALL.iter().copied().map(Figure::Step)
    }

    /// Reads what is typed: a figure's word, or one with a code as in `cost/deck`.
    ///
    /// # Errors
    /// When there is no such figure, or it is not worked out by code; the remedy lists those that are.
    pub fn parse(text: &str) -> Result<(Figure, Option<String>), OfficeError> {
        let (word, code) = text.split_once('/').map_or((text, None), |(word, code)| (word, Some(code)));
        let Some(figure) = Figure::all().find(|figure| figure.as_str() == word.trim()) else {
            return Err(OfficeError::not_found(
                format!("There is no figure “{word}”."),
                format!("Use one of {}; with a code as in cost/deck.", list(Figure::all())),
            ));
        };
        if code.is_some() && !figure.is_by_code() {
            return Err(OfficeError::not_found(
                format!("“{figure}” is not worked out by code."),
                format!(
                    "Leave the code out, or use one of {}.",
                    list(Figure::all().filter(|figure| figure.is_by_code()))
                ),
            ));
        }
        Ok((figure, code.map(|code| code.trim().to_owned())))
    }

    /// Whether it is worked out for each code of a job.
    #[must_use]
    pub const fn is_by_code(self) -> bool {
        match self {
            Figure::Step(step) => !matches!(step, StepKind::Changes | StepKind::HiddenConditions),
            Figure::Cost | Figure::Committed | Figure::Forecast | Figure::Hours | Figure::HoursContracted => {
                true
            }
            _ => false,
        }
    }

    /// Its value for a job in the month-end report. `None` where there is nothing to divide by.
    #[must_use]
    pub fn of_job(self, job: &JobMonth) -> Option<Decimal> {
        let (result, month) = (&job.result, &job.month);
        let money = match self {
            Figure::Price => result.price,
            Figure::Changes => result.changes,
            Figure::HiddenPrice => result.hidden_price,
            Figure::Contract => result.contract,
            Figure::Cost => result.cost,
            Figure::LaborCost => result.labor,
            Figure::Committed => result.committed,
            Figure::Forecast => result.forecast,
            Figure::Uninstalled => result.uninstalled,
            Figure::Complete => return Some(result.complete),
            Figure::Earned => result.earned,
            Figure::Backlog => result.backlog,
            Figure::BacklogProfit => result.backlog_profit,
            Figure::BacklogBefore => job.backlog_before,
            Figure::Billed => result.billed,
            Figure::OverBilled => result.over_billed,
            Figure::UnderBilled => result.under_billed,
            Figure::LossProvision => result.loss_provision,
            Figure::RetainageHeld => result.retainage_held,
            Figure::Received => result.received,
            Figure::MarginSold => result.margin_sold,
            Figure::MarginSoldRatio => return result.margin_sold_ratio,
            Figure::Margin => result.margin,
            Figure::MarginRatio => return result.margin_ratio,
            Figure::Hours => return Some(result.hours.decimal()),
            Figure::HoursContracted => {
                return Some(result.codes.iter().map(|code| code.hours_contracted).sum::<Qty>().decimal());
            }
            Figure::CrewDays => return Some(result.crew_days),
            Figure::MarginPerCrewDay => return result.margin_per_crew_day.map(Money::decimal),
            Figure::Overhead => result.overhead,
            Figure::MarginAfterOverhead => result.margin_after_overhead,
            Figure::HiddenSpent => result.hidden.spent,
            Figure::HiddenBilled => result.hidden.billed,
            Figure::Recovery => return result.hidden.recovery,
            Figure::Unrecovered => result.hidden.unrecovered,
            Figure::MonthEarned => month.earned,
            Figure::MonthSigned => month.signed,
            Figure::MonthChanged => month.changed,
            Figure::MonthCost => month.cost,
            Figure::MonthProfit => month.profit,
            Figure::MonthBilled => month.billed,
            Figure::MonthOverBilled => month.over_billed,
            Figure::MonthUnderBilled => month.under_billed,
            Figure::MonthLossProvision => month.loss_provision,
            Figure::MonthOverhead => month.overhead,
            Figure::MonthCrewDays => return Some(month.crew_days),
            firm_month!() | firm_year!() | Figure::Budget(_) | Figure::Cash(_) => return None,
            Figure::Step(step) => of_step(step, result),
        };
        Some(money.decimal())
    }

    /// Its value for one code of a job; `None` where it is not worked out by code.
    #[must_use]
    pub fn of_code(self, result: &JobResult, code: &CodeResult) -> Option<Decimal> {
        match self {
            Figure::Cost => Some(code.cost.decimal()),
            Figure::Committed => Some(code.committed.decimal()),
            Figure::Forecast => Some(code.forecast.decimal()),
            Figure::Hours => Some(code.hours.decimal()),
            Figure::HoursContracted => Some(code.hours_contracted.decimal()),
            Figure::Step(of) if self.is_by_code() => {
                let steps = result.walk.steps.iter().filter(|step| step.step == of);
                let amounts = steps.flat_map(|step| &step.codes).filter(|amount| amount.code == code.code);
                Some(amounts.map(|amount| amount.amount).sum::<Money>().decimal())
            }
            _ => None,
        }
    }

    /// Its value for the firm in the month-end report: absent where the report has no such figure, and within that
    /// absent where there is nothing to divide by.
    #[must_use]
    pub fn of_firm(self, firm: &FirmMonth) -> Option<Option<Decimal>> {
        let month = &firm.month;
        let money = match self {
            Figure::Price => firm.price,
            Figure::Changes => firm.changes,
            Figure::HiddenPrice => firm.hidden_price,
            Figure::Contract => firm.contract,
            Figure::Cost => firm.cost,
            Figure::Committed => firm.committed,
            Figure::Forecast => firm.forecast,
            Figure::Uninstalled => firm.uninstalled,
            Figure::Earned => firm.earned,
            Figure::Backlog => firm.backlog,
            Figure::BacklogProfit => firm.backlog_profit,
            Figure::BacklogBefore => firm.backlog_before,
            Figure::Billed => firm.billed,
            Figure::OverBilled => firm.over_billed,
            Figure::UnderBilled => firm.under_billed,
            Figure::LossProvision => firm.loss_provision,
            Figure::RetainageHeld => firm.retainage_held,
            Figure::MarginSold => firm.margin_sold,
            Figure::Margin => firm.margin,
            Figure::Hours => return Some(Some(firm.hours.decimal())),
            Figure::CrewDays => return Some(Some(firm.crew_days)),
            Figure::Overhead => firm.overhead,
            Figure::MarginAfterOverhead => firm.margin_after_overhead,
            Figure::HiddenSpent => firm.hidden.spent,
            Figure::HiddenBilled => firm.hidden.billed,
            Figure::Recovery => return Some(firm.hidden.recovery),
            Figure::Unrecovered => firm.hidden.unrecovered,
            Figure::MonthEarned => month.earned,
            Figure::MonthSigned => month.signed,
            Figure::MonthChanged => month.changed,
            Figure::MonthCost => month.cost,
            Figure::MonthProfit => month.profit,
            Figure::MonthBilled => month.billed,
            Figure::MonthOverBilled => month.over_billed,
            Figure::MonthUnderBilled => month.under_billed,
            Figure::MonthLossProvision => month.loss_provision,
            Figure::MonthOverhead => month.overhead,
            Figure::MonthCrewDays => return Some(Some(month.crew_days)),
            Figure::MonthOverheadCost => firm.overhead_cost,
            Figure::MonthUnderAbsorbed => firm.under_absorbed,
            Figure::MonthNetProfit => firm.net_profit,
            firm_year!()
            | Figure::Budget(_)
            | Figure::Cash(_)
            | Figure::LaborCost
            | Figure::Complete
            | Figure::Received
            | Figure::MarginSoldRatio
            | Figure::MarginRatio
            | Figure::HoursContracted
            | Figure::MarginPerCrewDay => return None,
            Figure::Step(of) => firm.walk.iter().filter(|step| step.step == of).map(|step| step.amount).sum(),
        };
        Some(Some(money.decimal()))
    }

    /// Its value in the firm's year so far: absent where the year has no such figure, and within that absent where
    /// there is nothing to divide by.
    #[must_use]
    pub fn of_year(self, year: &FirmYear) -> Option<Option<Decimal>> {
        let made = &year.so_far;
        let money = match self {
            Figure::YearEarned => made.earned,
            Figure::YearProfit => made.gross_profit,
            Figure::YearOverheadCost => made.overhead_cost,
            Figure::YearOverhead => made.absorbed,
            Figure::YearUnderAbsorbed => made.under_absorbed,
            Figure::YearNetProfit => made.net_profit,
            Figure::YearOverheadRate => return Some(year.rate_needed.map(trade::Rate::decimal)),
            _ => return None,
        };
        Some(Some(money.decimal()))
    }

    /// The figures that the firm's year has.
    pub fn all_of_year() -> impl Iterator<Item = Figure> {
        Figure::OF_YEAR.iter().copied()
    }

    /// Its value in the firm's budget; absent where there is no budget of that time, or nothing to divide by.
    #[must_use]
    pub fn of_budget(self, budget: &FirmBudget) -> Option<Decimal> {
        match self {
            Figure::Budget(figure) => figure.value(budget),
            _ => None,
        }
    }

    /// The figures that the firm's budget has.
    pub fn all_of_budget() -> impl Iterator<Item = Figure> {
        BudgetFigure::ALL.iter().copied().map(Figure::Budget)
    }

    /// The figures that cash ahead has.
    pub fn all_of_cash() -> impl Iterator<Item = Figure> {
        CashFigure::ALL.iter().copied().map(Figure::Cash)
    }

    /// The figures that a job has.
    pub fn all_of_jobs() -> impl Iterator<Item = Figure> {
        Figure::OF_JOBS.iter().copied().chain(Figure::steps())
    }

    /// The figures that the firm's month has.
    pub fn all_of_firm() -> impl Iterator<Item = Figure> {
        let firm = FirmMonth::default();
        Figure::all().filter(move |figure| figure.of_firm(&firm).is_some())
    }

    /// What the month-end report leads with: what the month added, down to what the firm made.
    pub const IN_MONTH: [Figure; 8] = [
        Figure::MonthEarned,
        Figure::MonthCost,
        Figure::MonthProfit,
        Figure::MonthOverheadCost,
        Figure::MonthNetProfit,
        Figure::MonthBilled,
        Figure::MonthOverhead,
        Figure::MonthUnderAbsorbed,
    ];

    /// How the backlog rolls through the month, and what it will bring.
    pub const BACKLOG: [Figure; 6] = [
        Figure::BacklogBefore,
        Figure::MonthSigned,
        Figure::MonthChanged,
        Figure::MonthEarned,
        Figure::Backlog,
        Figure::BacklogProfit,
    ];

    /// Where the firm stands at a month's end, over the jobs of the month.
    pub const TO_DATE: [Figure; 17] = [
        Figure::Contract,
        Figure::HiddenPrice,
        Figure::Cost,
        Figure::Committed,
        Figure::Forecast,
        Figure::Uninstalled,
        Figure::Earned,
        Figure::Billed,
        Figure::OverBilled,
        Figure::UnderBilled,
        Figure::MarginSold,
        Figure::Margin,
        Figure::LossProvision,
        Figure::RetainageHeld,
        Figure::Overhead,
        Figure::MarginAfterOverhead,
        Figure::Hours,
    ];
}

fn of_step(of: StepKind, result: &JobResult) -> Money {
    result.walk.steps.iter().filter(|step| step.step == of).map(|step| step.amount).sum()
}

/// Every figure's label, measure, rule and source, as the page reads them.
#[must_use]
pub fn figure_words() -> String {
    let mut text = String::from(
        "import type { Figure } from './Figure';\nimport type { FirmMonth } from './FirmMonth';\nimport type \
         { MeasuredIn } from './MeasuredIn';\n\n\
         /** What each figure is called, what it is measured in, its rule and where the rule comes from. */\n\
         export const FIGURES: Readonly<\n  \
         Record<Figure, { label: string; measure: MeasuredIn; rule: string; source: string }>\n> = {\n",
    );
    for figure in Figure::all() {
        let words = serde_json::json!({
            "label": figure.label(),
            "measure": figure.measure(),
            "rule": figure.rule(),
            "source": figure.source(),
        });
        text.push_str(&format!("  '{figure}': {words},\n"));
    }
    text.push_str("};\n");
    let field = |figure: &Figure| figure.as_str().replace('-', "_");
    let rows = Figure::TO_DATE.iter();
    let rows = rows.map(|figure| format!("  {{ figure: '{figure}', field: '{}' }},\n", field(figure)));
    text.push_str(&format!(
        "\n/** Where the firm stands, over the jobs of the month. */\nexport const TO_DATE = [\n{}] as const satisfies \
         readonly {{ figure: Figure; field: keyof FirmMonth }}[];\n",
        rows.collect::<String>()
    ));
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_reads_and_writes_its_own_word() {
        for figure in Figure::all() {
            assert_eq!(serde_json::to_value(figure).unwrap(), figure.as_str());
            assert_eq!(serde_json::from_value::<Figure>(figure.as_str().into()).unwrap(), figure);
            assert_eq!(Figure::parse(figure.as_str()).unwrap(), (figure, None));
            assert!(figure.rule().ends_with('.') && !figure.label().is_empty());
        }
    }

    #[test]
    fn an_unknown_figure_is_refused_with_those_that_exist() {
        let error = Figure::parse("luck").unwrap_err();
        for figure in Figure::all() {
            assert!(error.remedy.contains(figure.as_str()), "{figure}");
        }
        assert!(Figure::parse("earned/deck").unwrap_err().remedy.contains("cost"));
        assert_eq!(Figure::parse("cost/deck").unwrap(), (Figure::Cost, Some("deck".to_owned())));
    }
}

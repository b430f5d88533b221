//! Opening a figure: the rule it follows, its source, its steps and the facts behind it.

use crate::job::page::{JobPage, Source, SpendLine, job_page};
use crate::month::end::{MonthEnd, month_end};
use desk::Desk;
use desk::OfficeError;
use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::Serialize;
use trade::{Money, Month};

/// A step of the working.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WorkingStep {
    /// What it is.
    pub label: String,
    /// Its value as text.
    pub value: String,
}

/// A fact behind a figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FactLine {
    /// Where it comes from; absent for what a close carries over.
    pub source: Option<Source>,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// What it says.
    pub text: String,
    /// What it adds.
    pub amount: Option<Money>,
}

/// A figure, opened.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Explanation {
    /// The figure's word.
    pub figure: String,
    /// Whose it is: a job's number, or the firm's name.
    pub of: String,
    /// The month.
    pub month: Month,
    /// Its value as text.
    pub value: String,
    /// The rule, in a sentence.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// The working.
    pub steps: Vec<WorkingStep>,
    /// The facts. Their amounts sum to the figure where it is a sum of facts.
    pub facts: Vec<FactLine>,
}

/// A figure that can be opened: its word, its rule and where the rule comes from.
struct Rule {
    figure: &'static str,
    rule: &'static str,
    source: &'static str,
}

const HOUSE: &str = "company rule";
const COMMON: &str = "common practice";

/// Every figure of a job that opens.
const RULES: &[Rule] = &[
    Rule { figure: "price", rule: "The price in the contract, before sales tax.", source: COMMON },
    Rule {
        figure: "changes",
        rule: "Approved changes of the customer's own, at their price.",
        source: COMMON,
    },
    Rule {
        figure: "hidden-price",
        rule: "Approved change orders for hidden conditions, at their price.",
        source: COMMON,
    },
    Rule { figure: "contract", rule: "Price and every approved change.", source: COMMON },
    Rule {
        figure: "cost",
        rule: "Bills with their tax where the firm bears it, direct costs, and hours with pay, overtime and burden.",
        source: "29 CFR 778 for overtime; the spread over jobs is a company rule",
    },
    Rule {
        figure: "committed",
        rule: "Ordered less received before tax, code by code, never below zero; nothing once an order is complete.",
        source: HOUSE,
    },
    Rule {
        figure: "forecast",
        rule: "By code: spent and committed when the job has ended; the owner's own forecast; \
               the pace of measured work; or the larger of spent and committed, and budget. \
               Hidden conditions beyond the included sheets apart: the larger of spent and approved cost.",
        source: HOUSE,
    },
    Rule {
        figure: "uninstalled",
        rule: "Material counted on site and not installed, at cost.",
        source: "ASC 606-10-55-187 ff., Example 19",
    },
    Rule {
        figure: "complete",
        rule: "(Cost − uninstalled) ÷ (forecast − uninstalled), never rounded and never above 1.",
        source: "ASC 606-10-55-187 ff., Example 19",
    },
    Rule {
        figure: "earned",
        rule: "(Contract − uninstalled) × percent complete + uninstalled, rounded once.",
        source: "ASC 606-10-55-187 ff., Example 19",
    },
    Rule { figure: "billed", rule: "Invoices less credit memos, before sales tax.", source: COMMON },
    Rule {
        figure: "over-billed",
        rule: "Billed less earned, where that is above zero; never netted across jobs.",
        source: COMMON,
    },
    Rule {
        figure: "under-billed",
        rule: "Earned less billed, where that is above zero; never netted across jobs.",
        source: COMMON,
    },
    Rule {
        figure: "loss-provision",
        rule: "Where the forecast is above the contract, the whole loss less what is already booked.",
        source: "ASC 605-35-25-45 ff.",
    },
    Rule { figure: "retainage-held", rule: "Held on invoices less released.", source: COMMON },
    Rule { figure: "received", rule: "Payments put to this job's invoices.", source: COMMON },
    Rule { figure: "margin-sold", rule: "Price less the cost in the contract.", source: COMMON },
    Rule {
        figure: "margin",
        rule: "Contract less forecast; the margin made once the job has ended.",
        source: COMMON,
    },
    Rule {
        figure: "crew-days",
        rule: "Crew hours ÷ (crew size × hours in its day), crew by crew.",
        source: HOUSE,
    },
    Rule {
        figure: "margin-per-crew-day",
        rule: "Margin made ÷ crew-days; for an open job, what is earned less what it cost so far.",
        source: HOUSE,
    },
    Rule { figure: "overhead", rule: "The firm's overhead rate on its chosen base.", source: COMMON },
    Rule {
        figure: "margin-after-overhead",
        rule: "Margin less the overhead that the job bears.",
        source: COMMON,
    },
    Rule {
        figure: "hidden-spent",
        rule: "Cost tied to conditions, less the share of the included sheets by count.",
        source: HOUSE,
    },
    Rule {
        figure: "hidden-billed",
        rule: "Billed of change orders, by the price of their lines for conditions.",
        source: HOUSE,
    },
    Rule { figure: "recovery", rule: "Billed ÷ spent on hidden conditions.", source: HOUSE },
    Rule {
        figure: "unrecovered",
        rule: "Spent less billed, condition by condition, where nothing more will be billed.",
        source: HOUSE,
    },
    Rule { figure: "hours", rule: "Hours worked.", source: COMMON },
];

const STEP_RULE: &str = "A step of the margin walk. Standard is the contract for the work really done: \
    price (AP − SP) × AQ, quantity (AQ − SQ) × SP, rate (AR − SR) × AH, \
    hours (AH − SH) × SR; above zero adds to the margin.";
const STEP_SOURCE: &str = "standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)";

/// The words of every figure of a job that opens, besides the steps of its margin walk.
#[must_use]
pub fn figures() -> Vec<&'static str> {
    RULES.iter().map(|rule| rule.figure).collect()
}

/// Opens a figure of a job. `figure` is a word of [`figures`], a walk step, or either with a code: `cost/deck`.
///
/// # Errors
/// When there is no such job or figure.
pub fn explain_job(
    desk: &Desk,
    number: &str,
    month: Month,
    figure: &str,
) -> Result<Explanation, OfficeError> {
    let page = job_page(desk, number, month)?;
    let (word, code) = figure.split_once('/').map_or((figure, None), |(word, code)| (word, Some(code)));
    if let Some(step) = page.figures.result.walk.steps.iter().find(|step| step.step == word) {
        return Ok(explain_step(&page, number, month, &step.step, code));
    }
    let rule = RULES.iter().find(|rule| rule.figure == word).ok_or_else(|| unknown(figure, &page))?;
    Ok(Explanation {
        figure: figure.to_owned(),
        of: number.to_owned(),
        month,
        value: value(&page, word, code),
        rule: rule.rule.to_owned(),
        source: rule.source.to_owned(),
        steps: steps(&page, word, code),
        facts: facts(&page, word, code),
    })
}

fn unknown(figure: &str, page: &JobPage) -> OfficeError {
    let steps = page.figures.result.walk.steps.iter().map(|step| step.step.as_str());
    let known: Vec<&str> = figures().into_iter().chain(steps).collect();
    OfficeError::not_found(
        format!("There is no figure “{figure}”."),
        format!("Use one of {}; with a code as in cost/deck.", known.join(", ")),
    )
}

/// Opens a figure of the firm: the same figure of each of its jobs.
///
/// # Errors
/// When there is no such figure.
pub fn explain_firm(desk: &Desk, month: Month, figure: &str) -> Result<Explanation, OfficeError> {
    let report = month_end(desk, month)?;
    let value_of = |json: &serde_json::Value| figure_in(json, figure);
    let firm = serde_json::to_value(&report.firm).unwrap_or_default();
    let found = value_of(&firm).or_else(|| step_in(&firm["walk"], figure));
    let Some(found) = found else {
        return Err(OfficeError::not_found(
            format!("The firm's month has no figure “{figure}”."),
            format!("Use one of {}, or a walk step.", figures().join(", ")),
        ));
    };
    let rule = RULES.iter().find(|rule| rule.figure == figure);
    Ok(Explanation {
        figure: figure.to_owned(),
        of: report.firm.name.clone(),
        month,
        value: found,
        rule: rule.map_or(STEP_RULE, |rule| rule.rule).to_owned(),
        source: rule.map_or(STEP_SOURCE, |rule| rule.source).to_owned(),
        steps: firm_steps(&report, figure),
        facts: firm_facts(desk, &report, figure)?,
    })
}

/// The facts behind a figure of the firm: those of each job, with its number before them.
fn firm_facts(desk: &Desk, report: &MonthEnd, figure: &str) -> Result<Vec<FactLine>, OfficeError> {
    let mut all = Vec::new();
    for job in &report.jobs {
        let number = &job.result.number;
        let page = job_page(desk, number, report.month)?;
        let is_step = page.figures.result.walk.steps.iter().any(|step| step.step == figure);
        let of_job = if is_step {
            explain_step(&page, number, report.month, figure, None).facts
        } else {
            facts(&page, figure, None)
        };
        all.extend(
            of_job.into_iter().map(|fact| FactLine { text: format!("{number}: {}", fact.text), ..fact }),
        );
    }
    Ok(all)
}

fn firm_steps(report: &MonthEnd, figure: &str) -> Vec<WorkingStep> {
    let of_job = |job: &crate::month::end::JobMonth| {
        let json = serde_json::to_value(&job.result).unwrap_or_default();
        let value = figure_in(&json, figure).or_else(|| step_in(&json["walk"]["steps"], figure))?;
        Some(WorkingStep { label: format!("{} {}", job.result.number, job.result.title), value })
    };
    report.jobs.iter().filter_map(of_job).collect()
}

/// The value of a figure's word in a serialized report: `hidden-…` words and recovery stand under `hidden`.
fn figure_in(json: &serde_json::Value, figure: &str) -> Option<String> {
    let field = figure.replace('-', "_");
    let place = match figure {
        "hidden-spent" | "hidden-billed" => &json["hidden"][field.trim_start_matches("hidden_")],
        "recovery" | "unrecovered" => &json["hidden"][&field],
        _ => &json[&field],
    };
    place.as_str().map(str::to_owned)
}

fn step_in(steps: &serde_json::Value, figure: &str) -> Option<String> {
    let found = steps.as_array()?.iter().find(|step| step["step"] == figure)?;
    found["amount"].as_str().map(str::to_owned)
}

fn share(value: Option<Decimal>) -> String {
    value.map_or_else(|| "none".to_owned(), |value| value.normalize().to_string())
}

fn value(page: &JobPage, word: &str, code: Option<&str>) -> String {
    let result = &page.figures.result;
    if let Some(code) = code {
        let of_code = result.codes.iter().find(|result| result.code == code);
        let amount = of_code.map(|of_code| match word {
            "committed" => of_code.committed.to_string(),
            "forecast" => of_code.forecast.to_string(),
            "hours" => of_code.hours.to_string(),
            _ => {
                facts(page, word, Some(code)).iter().filter_map(|fact| fact.amount).sum::<Money>().to_string()
            }
        });
        return amount.unwrap_or_else(|| Money::ZERO.to_string());
    }
    let json = serde_json::to_value(result).unwrap_or_default();
    figure_in(&json, word).unwrap_or_else(|| "none".to_owned())
}

fn step<T: std::fmt::Display>(label: &str, value: T) -> WorkingStep {
    WorkingStep { label: label.to_owned(), value: value.to_string() }
}

fn steps(page: &JobPage, word: &str, code: Option<&str>) -> Vec<WorkingStep> {
    let r = &page.figures.result;
    match word {
        "contract" => vec![
            step("price", r.price),
            step("changes", r.changes),
            step("hidden conditions approved", r.hidden_price),
        ],
        "forecast" | "committed" | "cost" | "hours" => by_code(page, word, code),
        "complete" => vec![
            step("cost to date", r.cost),
            step("less uninstalled", r.uninstalled),
            step("forecast", r.forecast),
            step("less uninstalled", r.uninstalled),
        ],
        "earned" => vec![
            step("contract", r.contract),
            step("less uninstalled", r.uninstalled),
            step("percent complete", r.complete.normalize()),
            step("plus uninstalled", r.uninstalled),
        ],
        "over-billed" | "under-billed" => vec![step("billed", r.billed), step("earned", r.earned)],
        "loss-provision" => vec![
            step("forecast", r.forecast),
            step("contract", r.contract),
            step("earned less cost so far", r.earned - r.cost),
        ],
        "margin-sold" => vec![step("price", r.price), step("cost in the contract", r.price - r.margin_sold)],
        "margin" => vec![step("contract", r.contract), step("forecast", r.forecast)],
        "margin-per-crew-day" => vec![step("margin", r.margin), step("crew-days", r.crew_days.normalize())],
        "margin-after-overhead" => vec![step("margin", r.margin), step("less overhead", r.overhead)],
        "overhead" => vec![step("hours", r.hours), step("crew-days", r.crew_days.normalize())],
        "crew-days" => vec![step("hours", r.hours)],
        "recovery" | "unrecovered" => vec![
            step("spent beyond the included sheets", r.hidden.spent),
            step("billed", r.hidden.billed),
            step("recovery", share(r.hidden.recovery)),
        ],
        _ => Vec::new(),
    }
}

fn by_code(page: &JobPage, word: &str, only: Option<&str>) -> Vec<WorkingStep> {
    let codes = page.figures.result.codes.iter().filter(|code| only.is_none_or(|only| code.code == only));
    codes
        .map(|code| match word {
            "forecast" => step(&format!("{} ({})", code.code, code.forecast_rule), code.forecast),
            "committed" => step(&code.code, code.committed),
            "hours" => step(&format!("{} of {} contracted", code.code, code.hours_contracted), code.hours),
            _ => step(&format!("{} of {} contracted", code.code, code.contracted + code.changed), code.cost),
        })
        .collect()
}

fn spend_fact(line: &SpendLine) -> FactLine {
    let quantity = match (&line.quantity, &line.unit) {
        (Some(quantity), Some(unit)) => format!(" ({quantity} {unit})"),
        _ => String::new(),
    };
    let who = if line.who.is_empty() { String::new() } else { format!("{}, ", line.who) };
    FactLine {
        source: line.source.clone(),
        date: line.date,
        text: format!("{who}{}{quantity}, {} {}", line.text, line.code, line.cost_kind),
        amount: Some(line.amount),
    }
}

fn facts(page: &JobPage, word: &str, code: Option<&str>) -> Vec<FactLine> {
    let line = |source: &Source, date: Date, text: String, amount: Option<Money>| FactLine {
        source: Some(source.clone()),
        date: Some(date),
        text,
        amount,
    };
    let of_code = |other: &str| code.is_none_or(|code| code == other);
    let contract = page.contract.as_ref();
    match word {
        "price" => contract
            .map(|contract| {
                line(&contract.source, contract.date, "contract".to_owned(), Some(contract.price))
            })
            .into_iter()
            .collect(),
        "margin-sold" => contract
            .map(|contract| {
                let amount = page.figures.result.margin_sold;
                line(&contract.source, contract.date, "contract: price less cost".to_owned(), Some(amount))
            })
            .into_iter()
            .collect(),
        "cost" => page.spend.iter().filter(|spend| of_code(&spend.code)).map(spend_fact).collect(),
        "hours" | "crew-days" => {
            let hours = page.spend.iter().filter(|spend| spend.cost_kind == trade::CostKind::Labor);
            hours.filter(|spend| of_code(&spend.code)).map(spend_fact).collect()
        }
        "hidden-spent" | "recovery" | "unrecovered" => {
            page.spend.iter().filter(|spend| spend.condition.is_some()).map(spend_fact).collect()
        }
        "committed" => page
            .orders
            .iter()
            .map(|order| {
                let text = format!(
                    "order {} from {}: received {} of it",
                    order.number, order.vendor, order.received
                );
                line(&order.source, order.date, text, Some(order.ordered))
            })
            .collect(),
        "forecast" => page
            .forecasts
            .iter()
            .filter(|fact| of_code(&fact.code))
            .map(|fact| {
                line(&fact.source, fact.date, format!("owner's forecast for {}", fact.code), fact.amount)
            })
            .collect(),
        "uninstalled" => page
            .stored
            .iter()
            .map(|fact| line(&fact.source, fact.date, format!("counted on site: {}", fact.code), fact.amount))
            .collect(),
        "billed" | "retainage-held" => page
            .invoices
            .iter()
            .map(|bill| {
                let amount = if word == "billed" { bill.net } else { bill.retainage - bill.released };
                line(
                    &bill.source,
                    bill.date,
                    format!("invoice {} ({})", bill.number, bill.purpose),
                    Some(amount),
                )
            })
            .collect(),
        "received" => page
            .payments
            .iter()
            .map(|paid| {
                line(
                    &paid.source,
                    paid.date,
                    format!("{} for {}", paid.method, paid.invoice),
                    Some(paid.amount),
                )
            })
            .collect(),
        "changes" | "hidden-price" | "hidden-billed" => change_facts(page, word),
        // A figure made of others opens to what those are made of.
        "contract" => {
            ["price", "changes", "hidden-price"].iter().flat_map(|part| facts(page, part, None)).collect()
        }
        "margin" | "margin-after-overhead" => {
            ["contract", "cost", "forecast"].iter().flat_map(|part| facts(page, part, None)).collect()
        }
        "over-billed" | "under-billed" => facts(page, "billed", None),
        "complete" | "earned" | "loss-provision" | "overhead" | "margin-per-crew-day" => {
            facts(page, "cost", None)
        }
        _ => Vec::new(),
    }
}

fn change_facts(page: &JobPage, word: &str) -> Vec<FactLine> {
    let mut facts = Vec::new();
    let result = &page.figures.result;
    if word == "changes" && result.stage == crate::job::result::Stage::Canceled {
        let own = page.changes.iter().flat_map(|change| &change.lines);
        let own: Money =
            own.filter(|line| line.approved && line.condition.is_none()).map(|line| line.price).sum();
        facts.push(FactLine {
            source: None,
            date: None,
            text: "the cancellation: what was billed is all that the job will bring".to_owned(),
            amount: Some(result.changes - own),
        });
    }
    for change in &page.changes {
        for of in
            change.lines.iter().filter(|of| of.approved && of.condition.is_some() == (word != "changes"))
        {
            let who = change.decided_by.as_deref().unwrap_or("nobody");
            facts.push(FactLine {
                source: None,
                date: change.decided_on,
                text: format!("change order {} approved by {who}: {}", change.number, of.description),
                amount: Some(of.price),
            });
        }
        if word != "changes" && change.owed != change.approved {
            facts.push(FactLine {
                source: None,
                date: change.decided_on,
                text: format!(
                    "change order {} by time and material: what the work came to, less what was expected",
                    change.number
                ),
                amount: Some(change.owed - change.approved),
            });
        }
    }
    facts
}

fn explain_step(page: &JobPage, number: &str, month: Month, word: &str, code: Option<&str>) -> Explanation {
    let result = &page.figures.result;
    let found = result.walk.steps.iter().find(|step| step.step == word);
    let codes = found.map(|found| found.codes.as_slice()).unwrap_or_default();
    let of_code = |other: &str| code.is_none_or(|code| code == other);
    let amount = match (code, found) {
        (None, Some(found)) => found.amount,
        _ => codes.iter().filter(|amount| of_code(&amount.code)).map(|amount| amount.amount).sum(),
    };
    let mut steps: Vec<WorkingStep> = codes
        .iter()
        .filter(|amount| of_code(&amount.code))
        .map(|amount| step(&amount.code, amount.amount))
        .collect();
    if word == "hidden-conditions" {
        steps.push(step("approved for hidden conditions", result.hidden_price));
        steps.push(step("spent on them beyond the included sheets", result.hidden.spent));
    }
    let kinds: &[trade::CostKind] = match word {
        "material-price" | "material-quantity" | "material-unsplit" => &[trade::CostKind::Material],
        "labor-rate" | "labor-hours" => &[trade::CostKind::Labor],
        "subcontract" => &[trade::CostKind::Subcontract],
        "equipment-and-other" => {
            use trade::CostKind::{Disposal, Equipment, Other, Permit};
            &[Equipment, Disposal, Permit, Other]
        }
        _ => &[],
    };
    let touched = |spend: &&SpendLine| {
        let by_condition = word == "hidden-conditions" && spend.condition.is_some();
        by_condition
            || (kinds.contains(&spend.cost_kind) && codes.iter().any(|amount| amount.code == spend.code))
    };
    let facts =
        page.spend.iter().filter(touched).filter(|spend| of_code(&spend.code)).map(spend_fact).collect();
    Explanation {
        figure: code.map_or_else(|| word.to_owned(), |code| format!("{word}/{code}")),
        of: number.to_owned(),
        month,
        value: amount.to_string(),
        rule: STEP_RULE.to_owned(),
        source: STEP_SOURCE.to_owned(),
        steps,
        facts,
    }
}

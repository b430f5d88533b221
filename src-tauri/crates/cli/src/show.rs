//! Answers of the office as text for a terminal.

use crate::table::{Cell, Table, percent};
use office::explain::{Behind, Explanation, FactLine, MeasuredIn, Working, shown};
use office::job::page::JobPage;
use office::month::end::{FirmMonth, MonthEnd};
use office::month::loose_ends::LooseEnd;
use office::{Figure, Money, Owed, Question, count_of};

fn word<T: std::fmt::Display>(text: T) -> Cell {
    Cell::Word(text.to_string())
}

/// The jobs of a month, a line each.
fn jobs(report: &MonthEnd) -> Vec<String> {
    let mut table = Table::new(&[
        "Job",
        "Title",
        "Stage",
        "Contract",
        "Cost",
        "Forecast",
        "Done",
        "Earned",
        "Billed",
        "Over",
        "Under",
        "Margin sold",
        "Margin",
        "of it",
        "Crew-day",
    ]);
    for job in &report.jobs {
        let r = &job.result;
        table.row(vec![
            word(&r.number),
            word(short(&r.title, 26)),
            word(r.stage.label()),
            Cell::money(r.contract),
            Cell::money(r.cost),
            Cell::money(r.forecast),
            percent(Some(r.complete)),
            Cell::money(r.earned),
            Cell::money(r.billed),
            Cell::money(r.over_billed),
            Cell::money(r.under_billed),
            Cell::money(r.margin_sold),
            Cell::money(r.margin),
            percent(r.margin_ratio),
            r.margin_per_crew_day.map_or_else(|| Cell::Figure("–".to_owned()), Cell::money),
        ]);
    }
    table.lines()
}

fn of_firm(figure: Figure, firm: &FirmMonth) -> Option<String> {
    let value = figure.of_firm(firm)??;
    Some(format!("  {:<34}{:>16}", figure.label(), shown(figure.measure(), value)))
}

/// The month-end report.
pub(crate) fn month_end(report: &MonthEnd) -> Vec<String> {
    let firm = &report.firm;
    let state = if report.closed { "closed" } else { "open" };
    let mut lines = vec![format!("{} · month end {} ({state})", firm.name, report.month), String::new()];
    lines.extend(jobs(report));
    lines.push(String::new());
    let pair = |label: &str, amount: Money| format!("  {label:<34}{:>16}", amount.grouped());
    lines.push(format!("The firm, {}", count_of(firm.jobs, "job")));
    lines.extend(Figure::TO_DATE.into_iter().filter_map(|figure| of_firm(figure, firm)));
    lines.push(String::new());
    lines.push(format!("In {}", report.month));
    lines.extend(Figure::IN_MONTH.into_iter().filter_map(|figure| of_firm(figure, firm)));
    lines.push(String::new());
    lines.push("Backlog".to_owned());
    lines.extend(Figure::BACKLOG.into_iter().filter_map(|figure| of_firm(figure, firm)));
    lines.push(String::new());
    lines.push("From the margin sold to the margin made".to_owned());
    lines.extend(of_firm(Figure::MarginSold, firm));
    for step in firm.walk.iter().filter(|step| !step.amount.is_zero()) {
        lines.push(pair(&format!("  {}", step.title), step.amount));
    }
    lines.extend(of_firm(Figure::Margin, firm));
    lines.push(String::new());
    let recovery = match percent(firm.hidden.recovery) {
        Cell::Word(text) | Cell::Figure(text) => text,
    };
    lines.push(format!(
        "Hidden conditions: {} found, {} spent, {} billed ({recovery}), {} unrecovered",
        firm.hidden.conditions,
        firm.hidden.spent.grouped(),
        firm.hidden.billed.grouped(),
        firm.hidden.unrecovered.grouped()
    ));
    let owed = &report.owed;
    lines.push(format!(
        "Owed: {} current, {} 1–30 days, {} 31–60, {} 61–90, {} over 90; {} retainage held; {} to customers’ credit",
        owed.ages.current.grouped(),
        owed.ages.days_1_to_30.grouped(),
        owed.ages.days_31_to_60.grouped(),
        owed.ages.days_61_to_90.grouped(),
        owed.ages.over_90.grouped(),
        owed.retainage.grouped(),
        owed.credits.grouped()
    ));
    if !owed.customers.is_empty() {
        lines.push(String::new());
        lines.push("What customers owe".to_owned());
        lines.extend(customers(owed));
    }
    lines
}

/// What customers owe, a line each.
fn customers(owed: &Owed) -> Vec<String> {
    let mut table = Table::new(&[
        "Customer",
        "Not yet due",
        "1–30",
        "31–60",
        "61–90",
        "Over 90",
        "Retainage",
        "Credits",
        "Balance",
    ]);
    for owes in &owed.customers {
        table.row(vec![
            word(short(&owes.customer, 30)),
            Cell::money(owes.ages.current),
            Cell::money(owes.ages.days_1_to_30),
            Cell::money(owes.ages.days_31_to_60),
            Cell::money(owes.ages.days_61_to_90),
            Cell::money(owes.ages.over_90),
            Cell::money(owes.retainage),
            Cell::money(owes.credits),
            Cell::money(owes.balance),
        ]);
    }
    table.lines()
}

fn short(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    format!("{kept}…")
}

/// A job on one page.
pub(crate) fn job(page: &JobPage) -> Vec<String> {
    let r = &page.figures.result;
    let mut lines = vec![
        format!("Job {} · {} · {} · {}", r.number, r.title, r.customer, page.site),
        format!(
            "sold {} → changes {} → forecast cost {} → margin {}",
            r.price.grouped(),
            (r.changes + r.hidden_price).grouped(),
            r.forecast.grouped(),
            r.margin.grouped()
        ),
        String::new(),
        "Contract".to_owned(),
    ];
    let mut codes =
        Table::new(&["Code", "Contracted", "Changes", "Cost", "Committed", "Forecast", "by", "Hours", "of"]);
    for code in &r.codes {
        codes.row(vec![
            word(&code.code),
            Cell::money(code.contracted),
            Cell::money(code.changed),
            Cell::money(code.cost),
            Cell::money(code.committed),
            Cell::money(code.forecast),
            word(code.forecast_rule.label()),
            Cell::Figure(code.hours.to_string()),
            Cell::Figure(code.hours_contracted.to_string()),
        ]);
    }
    lines.extend(codes.lines());
    lines.push(String::new());
    lines.push("Changes".to_owned());
    for condition in &page.conditions {
        lines.push(format!(
            "  {} {} {} {} at the {} ({}): {} within the price, {} beyond, spent {}, billed {}, unrecovered {}",
            condition.date,
            condition.number,
            condition.count,
            condition.damaged,
            condition.place,
            condition.cause,
            condition.covered,
            condition.beyond,
            condition.spent.grouped(),
            condition.billed.grouped(),
            condition.unrecovered.grouped()
        ));
    }
    for change in &page.changes {
        lines.push(format!(
            "  {} change order {} {}: {} of {} approved, {} billed, {:?}",
            change.date,
            change.number,
            change.title,
            change.approved.grouped(),
            change.price.grouped(),
            change.billed.grouped(),
            change.state
        ));
    }
    lines.push(String::new());
    lines.push("Costs".to_owned());
    let mut costs = Table::new(&["Date", "Entry", "Who", "What", "Code", "Kind", "How much", "Cost"]);
    for line in &page.costs {
        costs.row(vec![
            word(line.date.map(|date| date.to_string()).unwrap_or_default()),
            word(line.source.as_ref().map(|source| source.entry.clone()).unwrap_or_default()),
            word(short(&line.who, 22)),
            word(short(&line.text, 40)),
            word(&line.code),
            word(line.cost_kind.label()),
            Cell::Figure(line.quantity.map(|quantity| quantity.to_string()).unwrap_or_default()),
            Cell::money(line.amount),
        ]);
    }
    lines.extend(costs.lines());
    lines.push(String::new());
    lines.push("Billed".to_owned());
    for bill in &page.invoices {
        lines.push(format!(
            "  {} {} {}: {} and {} tax, {} held, {} paid",
            bill.date,
            bill.number,
            bill.purpose,
            bill.net.grouped(),
            bill.tax.grouped(),
            (bill.retainage - bill.released).grouped(),
            bill.paid.grouped()
        ));
    }
    lines.push(String::new());
    lines.push("Result".to_owned());
    lines.push(format!("  {:<34}{:>16}", Figure::MarginSold.label(), r.walk.sold.grouped()));
    for step in r.walk.steps.iter().filter(|step| !step.amount.is_zero()) {
        lines.push(format!("  {:<34}{:>16}", step.title, step.amount.grouped()));
    }
    lines.push(format!("  {:<34}{:>16}", Figure::Margin.label(), r.walk.made.grouped()));
    lines
}

/// Loose ends.
pub(crate) fn loose_ends(ends: &[LooseEnd]) -> Vec<String> {
    if ends.is_empty() {
        return vec!["No loose ends.".to_owned()];
    }
    ends.iter().map(|end| format!("• {} {}", end.text, end.remedy)).collect()
}

/// Questions, each with its sides and the facts that answer it.
pub(crate) fn questions(found: &[Question]) -> Vec<String> {
    if found.is_empty() {
        return vec!["The firm's devices contradict each other in nothing.".to_owned()];
    }
    let mut lines = Vec::new();
    for question in found {
        lines.push(format!("• {} {}", question.text, question.remedy));
        for side in &question.sides {
            let device = side.device_name.as_deref().unwrap_or(&side.device);
            lines.push(format!("    {}, by {} on {device}: {}", side.says, side.recorded_by, side.fact));
        }
    }
    lines
}

/// A figure, opened.
pub(crate) fn explanation(open: &Explanation) -> Vec<String> {
    let value = open.value.map_or_else(|| "none".to_owned(), |value| shown(open.measure, value));
    let mut lines = vec![
        format!("{} of {} in {}: {value}", open.label, open.of, open.month),
        format!("Rule: {}", open.rule),
        format!("Source: {}", open.source),
        format!("Working: {}", open.sentence),
    ];
    behind(&open.working, 1, &mut lines);
    lines
}

/// A working, term by term, each with what stands behind it further in.
fn behind(working: &Working, depth: usize, lines: &mut Vec<String>) {
    let indent = "  ".repeat(depth);
    for term in &working.terms {
        let label = if term.minus { format!("less {}", term.label) } else { term.label.clone() };
        let width = 56_usize.saturating_sub(indent.len());
        let value = shown(term.measure, term.value);
        match &term.behind {
            Behind::Figure { opens } => {
                let code = opens.code.as_ref().map(|code| format!("/{code}")).unwrap_or_default();
                lines.push(format!("{indent}{label:<width$}{value:>18}  ({}{code})", opens.figure));
            }
            Behind::Rule => lines.push(format!("{indent}{label:<width$}{value:>18}  (by the rule)")),
            Behind::Facts { facts } => {
                lines.push(format!("{indent}{label:<width$}{value:>18}"));
                lines.extend(facts.iter().map(|line| format!("{indent}  {}", fact(term.measure, line))));
            }
            Behind::Working { working: inner } => {
                lines.push(format!("{indent}{label:<width$}{value:>18}"));
                lines.push(format!("{indent}  {}", inner.sentence()));
                behind(inner, depth + 1, lines);
            }
        }
    }
}

fn fact(measure: MeasuredIn, fact: &FactLine) -> String {
    format!(
        "{:<11}{:<8}{:>18}  {}",
        fact.date.map(|date| date.to_string()).unwrap_or_default(),
        fact.source.as_ref().map(|source| source.entry.clone()).unwrap_or_default(),
        shown(measure, fact.amount),
        fact.text
    )
}

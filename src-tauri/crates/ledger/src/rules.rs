//! What the books refuse, and why. Checked inside the transaction that would write the fact.
//!
//! What a fact must be by itself, and beside the facts that it names, is asked of every fact ([`check`]): those never
//! change, so that it is right everywhere or nowhere. What it must be beside the rest of the books is asked only where
//! it is written ([`state::check`]): another device could not know that rest, and what the two then say against each
//! other is a question for a person.

use crate::closed_lists::{CountedIn, Verdict};
use crate::device;
use crate::error::refuse;
use crate::facts::{
    Answer, Attachment, ChangeCost, ChangeOrder, Condition, Contract, CostCode, Decision, Device, Fact, Firm,
    Forecast, PurchaseOrder, Reversal, StoredMaterial, TimeEntry, UnitsDone,
};
use crate::id::Id;
use crate::kind::{KindSpec, Record};
use crate::read;
use crate::schema::schema;
use crate::shape;
use ask::{Check, condition_of_job, day_as_kept, exists, not_labor, not_negative, value};
use jiff::civil::Date;
use rusqlite::Connection;
use trade::{CostKind, Money, Qty, shown};

mod ask;
mod bank;
mod billing;
mod chosen;
mod law;
mod recipe;
mod roof;
pub(crate) mod state;
mod vendor;

/// What is checked of every fact, wherever it was written.
pub(crate) fn check(conn: &Connection, fact: &Fact, spec: &KindSpec, record: &Record) -> Check {
    shape::check(fact, spec, record)?;
    match fact {
        Fact::Firm(firm) => check_firm(firm),
        Fact::Device(device) => check_device(device),
        Fact::Attachment(attachment) => check_attachment(attachment),
        Fact::CostCode(code) => check_code(conn, code),
        Fact::Schedule(schedule) => law::check_schedule(schedule),
        Fact::Notice(notice) => law::check_notice(notice),
        Fact::InsulationReceipt(receipt) => law::check_insulation(receipt),
        Fact::Contract(contract) => check_contract(contract),
        Fact::PurchaseOrder(order) => check_order(order),
        Fact::Bill(bill) => vendor::check_bill(conn, bill),
        Fact::VendorPayment(payment) => vendor::check_payment(conn, payment),
        Fact::VendorPapers(papers) => vendor::check_papers(papers),
        Fact::RecurringCost(cost) => vendor::check_recurring(cost),
        Fact::Budget(budget) => vendor::check_budget(budget),
        Fact::DirectCost(cost) => {
            not_labor("cost_kind", cost.cost_kind)?;
            condition_of_job(conn, "condition", cost.condition, cost.job)
        }
        Fact::TimeEntry(time) => check_time(conn, time),
        Fact::StoredMaterial(StoredMaterial { amount, .. }) | Fact::Forecast(Forecast { amount, .. }) => {
            not_negative("amount", *amount)
        }
        Fact::UnitsDone(UnitsDone { code, .. }) => check_units(conn, *code),
        Fact::Condition(condition) => check_condition(condition),
        Fact::ChangeOrder(order) => check_change_order(conn, order),
        Fact::ChangeCost(cost) => check_change_cost(conn, cost),
        Fact::Decision(decision) => check_decision(conn, decision),
        Fact::Invoice(invoice) => billing::check_invoice(conn, invoice),
        Fact::RetainageRelease(release) => billing::check_release(release),
        Fact::Allocation(allocation) => billing::check_allocation(conn, allocation),
        Fact::Refund(refund) => billing::check_refund(conn, refund),
        Fact::BankStatement(statement) => bank::check_statement(statement),
        Fact::BankCleared(cleared) => bank::check_cleared(conn, cleared),
        Fact::Reversal(reversal) => check_reversal(conn, reversal),
        Fact::Answer(answer) => check_answer(conn, answer),
        Fact::Part(part) => roof::check_part(conn, part),
        Fact::PartPrice(price) => roof::check_price(price),
        Fact::ProductionRate(rate) => roof::check_production(rate),
        Fact::Standard(standard) => roof::check_standard(standard),
        Fact::Recipe(kept) => recipe::check_recipe(kept),
        Fact::Roof(measured) => roof::check_roof(measured),
        Fact::Installed(installed) => roof::check_installed(installed),
        Fact::Warranty(warranty) => roof::check_warranty(warranty),
        Fact::PayRate(rate) if rate.hourly.decimal().is_sign_negative() => {
            refuse("hourly", format!("{} is below zero", rate.hourly), "Type the hourly pay in dollars")
        }
        Fact::BurdenRate(burden) => burden.check(),
        Fact::Job(job) => job.state.as_deref().map_or(Ok(()), law::check_state),
        Fact::Crew(crew) => check_version("crew", crew.revises, crew.date),
        Fact::Person(person) => check_version("person", person.revises, person.date),
        _ => Ok(()),
    }
}

fn check_firm(firm: &Firm) -> Check {
    if let Err(error) = trade::Currency::parse(&firm.currency) {
        return refuse(
            "currency",
            error.to_string(),
            "Use the three-letter code of your currency, such as USD",
        );
    }
    law::check_state(&firm.state)?;
    if firm.overtime_over_week <= Qty::ZERO {
        return refuse("overtime_over_week", "it must be above zero", "Under 29 CFR 778 it is 40 hours");
    }
    if firm.sales_tax.decimal().is_sign_negative() || firm.sales_tax.decimal() >= rust_decimal::Decimal::ONE {
        return refuse(
            "sales_tax",
            format!("{} is not a fraction", firm.sales_tax),
            "For 8.25 % type 0.0825",
        );
    }
    Ok(())
}

/// A later version of a crew or a person counts from a day, so that earlier days keep what held on them.
fn check_version(what: &str, revises: Option<Id>, date: Option<Date>) -> Check {
    if revises.is_some() && date.is_none() {
        return refuse(
            "date",
            format!("a later version of a {what} counts from a day, and none is given"),
            "Type the day from which it is so; days before it stay as they were",
        );
    }
    Ok(())
}

fn check_attachment(attachment: &Attachment) -> Check {
    if attachment.bytes < 0 {
        return refuse(
            "bytes",
            format!("{} is not a size", attachment.bytes),
            "Type the size of the file in bytes",
        );
    }
    Ok(())
}

fn check_device(device: &Device) -> Check {
    if !device::are_letters(&device.letter) {
        let problem = format!("“{}” is not a device's letters", device.letter);
        return refuse("letter", problem, "Use A to Z, then AA and on");
    }
    Ok(())
}

fn check_code(conn: &Connection, code: &CostCode) -> Check {
    if let Some(first) = code.revises {
        let (unit, bought_in): (Option<String>, Option<String>) =
            conn.query_row("SELECT unit, bought_in FROM cost_code WHERE id = ?1", [first.bytes()], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })?;
        if unit != code.unit || bought_in != code.bought_in {
            return refuse(
                "unit",
                "a code's units cannot change, since quantities already stand in them",
                "Open a new code with the other unit",
            );
        }
    }
    Ok(())
}

/// Material quantities of a code can be added up only when they are all in the unit in which the code is bought; a
/// quantity in that unit is counted, any other stands for itself.
fn check_line(field: &str, kind: CostKind, hours: Option<Qty>, amount: Money) -> Check {
    if hours.is_some() && kind != CostKind::Labor {
        return refuse(
            format!("{field}.hours"),
            "only labor has hours",
            "Leave it out, or make the kind labor",
        );
    }
    if kind == CostKind::Labor && amount > Money::ZERO && hours.is_none_or(|hours| hours <= Qty::ZERO) {
        return refuse(
            format!("{field}.hours"),
            "contracted labor needs its hours, or the margin walk cannot tell rate from hours",
            "Type the hours",
        );
    }
    Ok(())
}

fn check_contract(contract: &Contract) -> Check {
    not_negative("price", contract.price)?;
    if contract.lines.is_empty() {
        return refuse(
            "lines",
            "a contract without costs cannot be held against anything",
            "Type the cost by code",
        );
    }
    for (index, line) in contract.lines.iter().enumerate() {
        let field = format!("lines[{index}]");
        not_negative(&format!("{field}.amount"), line.amount)?;
        check_line(&field, line.cost_kind, line.hours, line.amount)?;
    }
    let scheduled: Money = contract.payments.iter().map(|payment| payment.amount).sum();
    if !contract.payments.is_empty() && scheduled != contract.price {
        return refuse(
            "payments",
            format!("the scheduled payments come to {scheduled}, the price is {}", contract.price),
            "Make the two the same",
        );
    }
    roof::check_contracted_parts(contract)
}

fn check_order(order: &PurchaseOrder) -> Check {
    if order.lines.is_empty() {
        return refuse("lines", "an order needs at least one line", "Type what is ordered");
    }
    for (index, line) in order.lines.iter().enumerate() {
        not_labor(format!("lines[{index}].cost_kind"), line.cost_kind)?;
        not_negative(&format!("lines[{index}].amount"), line.amount)?;
    }
    Ok(())
}

fn check_time(conn: &Connection, time: &TimeEntry) -> Check {
    if time.hours <= Qty::ZERO {
        return refuse(
            "hours",
            format!("{} is not a number of hours above zero", time.hours),
            "Type the hours worked",
        );
    }
    if time.hours > Qty::from_e4(240_000) {
        return refuse("hours", format!("a day has no {} hours", time.hours), "Type the hours of one day");
    }
    condition_of_job(conn, "condition", time.condition, time.job)
}

fn check_units(conn: &Connection, code: Id) -> Check {
    let unit: Option<String> = value(conn, "SELECT unit FROM cost_code WHERE id = ?1", &[code.bytes()])?;
    if unit.is_none() {
        return refuse("code", "work on this code is not measured in units", "Choose a code that has a unit");
    }
    Ok(())
}

fn check_condition(condition: &Condition) -> Check {
    if condition.count <= Qty::ZERO {
        return refuse("count", format!("{} is not a count above zero", condition.count), "Type how many");
    }
    let sheet_counted_otherwise = condition.counted_in == CountedIn::Sheet
        && condition.damaged != crate::closed_lists::Damaged::DeckSheet;
    if sheet_counted_otherwise {
        return refuse(
            "counted_in",
            "only deck sheets are counted in sheets",
            "Count it in feet, square feet or pieces",
        );
    }
    check_words("note", condition.note.as_deref())?;
    check_words("for_homeowner", condition.for_homeowner.as_deref())?;
    roof::check_damage(condition)
}

/// What is written on a roof stands on a sheet that is signed, and in a crew's list: it is kept short.
fn check_words(field: &str, words: Option<&str>) -> Check {
    let length = words.map_or(0, |words| words.chars().count());
    if length > MOST_WORDS {
        return refuse(
            field,
            format!("it has {length} characters, and {MOST_WORDS} are the most"),
            "Say it shorter",
        );
    }
    Ok(())
}

/// The most characters of a note on a condition: common practice, no source.
const MOST_WORDS: usize = 500;

fn check_change_order(conn: &Connection, order: &ChangeOrder) -> Check {
    if order.lines.is_empty() {
        return refuse("lines", "a change order needs at least one line", "Type what changes and its price");
    }
    for (index, line) in order.lines.iter().enumerate() {
        let field = format!("lines[{index}]");
        condition_of_job(conn, format!("{field}.condition"), line.condition, order.job)?;
        if line.cost.is_none() {
            not_labor(format!("{field}.cost_kind"), line.cost_kind)?;
        }
        check_line(&field, line.cost_kind, line.hours, line.cost.unwrap_or_default())?;
    }
    let price: Money = order.lines.iter().map(|line| line.price).sum();
    if let Some(most) = order.not_to_exceed
        && price > most
    {
        return refuse(
            "not_to_exceed",
            format!("the lines come to {}, above {}", price.grouped(), most.grouped()),
            "Raise it or lower the lines",
        );
    }
    Ok(())
}

/// What an order leaves open is filled in whole, each line once, so that it is known or not known.
fn check_change_cost(conn: &Connection, cost: &ChangeCost) -> Check {
    let Some(Fact::ChangeOrder(order)) =
        read::Books::over(conn).fact(cost.change_order)?.map(|held| held.fact)
    else {
        return Ok(());
    };
    if cost.date < order.date {
        return refuse(
            "date",
            format!("the change order is of {}, after this day", shown::day(order.date)),
            "Check the day",
        );
    }
    let mut open: Vec<i64> =
        (1i64..).zip(&order.lines).filter(|(_, line)| line.cost.is_none()).map(|(place, _)| place).collect();
    for (index, line) in cost.lines.iter().enumerate() {
        let Some(at) = open.iter().position(|place| *place == line.change_line) else {
            return refuse(
                format!("lines[{index}].change_line"),
                "the change order has no such line, or its cost is known",
                "Name each line whose cost is open, counted from 1, once",
            );
        };
        open.remove(at);
    }
    if let Some(place) = open.first() {
        return refuse(
            "lines",
            format!("line {place} of the change order has no cost yet"),
            "Fill in what each line should cost",
        );
    }
    Ok(())
}

fn check_decision(conn: &Connection, decision: &Decision) -> Check {
    let (date, lines): (String, i64) = conn.query_row(
        "SELECT c.date, (SELECT count(*) FROM change_order_line l WHERE l.fact = c.id)
         FROM change_order c WHERE c.id = ?1",
        [decision.change_order.bytes()],
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    if decision.date.to_string() < date {
        return refuse(
            "date",
            format!("the change order is of {}, after this decision", day_as_kept(&date)),
            "Check the day of the decision",
        );
    }
    for (index, line) in decision.lines.iter().enumerate() {
        let field = format!("lines[{index}].change_line");
        if line.change_line < 1 || line.change_line > lines {
            return refuse(
                field,
                format!("the change order has {lines} lines"),
                "Name one of them, counted from 1",
            );
        }
        if decision.lines[..index].iter().any(|other| other.change_line == line.change_line) {
            return refuse(field, "this line is decided twice", "Decide each line once");
        }
    }
    if decision.verdict != Verdict::Withdrawn {
        if decision.method.is_none() {
            return refuse("method", "nobody says how the homeowner's decision came", "Say how it came");
        }
        return Ok(());
    }
    if !decision.lines.is_empty() {
        return refuse("lines", "a change order is withdrawn whole", "Leave the lines out");
    }
    if decision.method.is_some() || decision.signature.is_some() {
        return refuse(
            "method",
            "a withdrawal is the firm's own: the homeowner neither sent nor signed it",
            "Leave out how it came, and name who withdrew it",
        );
    }
    if !exists(conn, "SELECT 1 FROM person WHERE name = ?1", &[&decision.decided_by])? {
        return refuse(
            "decided_by",
            format!("“{}” is nobody of this firm, and a withdrawal is the firm's own", decision.decided_by),
            "Name who withdrew it, or record the homeowner's decision as declined",
        );
    }
    Ok(())
}

fn check_reversal(conn: &Connection, reversal: &Reversal) -> Check {
    let Some(target) = read::entry_of(conn, reversal.reverses)? else {
        return refuse(
            "reverses",
            format!("there is no fact {}", reversal.reverses),
            "Name the fact by its id",
        );
    };
    if target.kind == "reversal" {
        return refuse(
            "reverses",
            "a reversal is not reversed",
            "Record the fact that it canceled once more, as a new one",
        );
    }
    if schema()?.for_good.contains(&target.kind) {
        return refuse(
            "reverses",
            format!("a fact of kind {} stands for good", target.kind),
            "Record a newer one; a late correction is booked in the open month",
        );
    }
    if read::Books::over(conn).first_firm()? == Some(reversal.reverses) {
        return refuse(
            "reverses",
            "with these settings the books were begun, and every day before the next ones rests on them",
            "Record new settings from the day on which they change",
        );
    }
    Ok(())
}

/// An answer is about two facts at least: one alone contradicts nothing.
fn check_answer(conn: &Connection, answer: &Answer) -> Check {
    for (index, line) in answer.about.iter().enumerate() {
        let field = format!("about[{index}].about");
        if read::entry_of(conn, line.about)?.is_none() {
            return refuse(field, format!("there is no fact {}", line.about), "Name the fact by its id");
        }
        if answer.about[..index].contains(line) {
            return refuse(field, "this fact is named twice", "Name each once");
        }
    }
    if answer.about.len() < 2 {
        return refuse("about", "a question is about two facts at least", "Name every fact that it is about");
    }
    Ok(())
}

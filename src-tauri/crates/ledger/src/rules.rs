//! What the books refuse, and why. Checked inside the transaction that would write the fact.

use crate::calendar::Calendar;
use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, refuse};
use crate::facts::{
    Allocation, Attachment, Bill, ChangeOrder, Condition, Contract, CostCode, Decision, Device, Fact, Firm,
    Forecast, Invoice, Job, JobStatus, MonthClosed, PurchaseOrder, Repair, RetainageRelease, Reversal,
    StoredMaterial, TimeEntry, UnitsDone,
};
use crate::id::Id;
use crate::kind::{KindSpec, Record};
use crate::links;
use crate::live::{any_live, live, live_sum};
use crate::new_fact::NewFact;
use crate::read;
use crate::schema::schema;
use crate::shape;
use crate::totals::LaborTotals;
use crate::words::{CountedIn, InvoiceFor, JobStatusWord, RepairStage, Verdict};
use ask::{Check, cents, exists, not_negative, value};
use rusqlite::{Connection, ToSql};
use trade::{CostKind, Money, Qty};

mod ask;
mod roof;

/// Everything that is checked of a fact before it is written.
pub(crate) fn check(
    conn: &Connection,
    calendar: &Calendar,
    new: &NewFact,
    spec: &KindSpec,
    record: &Record,
    found: &mut links::Found,
) -> Check {
    shape::check(&new.fact, spec, record)?;
    links::check(conn, new, spec, record, found)?;
    match &new.fact {
        Fact::Firm(firm) => check_firm(firm),
        Fact::Device(device) => check_device(conn, device),
        Fact::Attachment(attachment) => check_attachment(conn, attachment),
        Fact::CostCode(code) => check_code(conn, code),
        Fact::Job(job) => check_job(conn, job),
        Fact::JobStatus(step) => check_job_status(conn, step),
        Fact::Contract(contract) => check_contract(conn, contract),
        Fact::PurchaseOrder(order) => check_order(conn, order),
        Fact::Bill(bill) => check_bill(conn, bill),
        Fact::DirectCost(charge) => {
            not_labor("cost_kind", charge.cost_kind)?;
            condition_of_job(conn, "condition", charge.condition, charge.job)
        }
        Fact::TimeEntry(time) => check_time(conn, time),
        Fact::StoredMaterial(StoredMaterial { amount, .. }) | Fact::Forecast(Forecast { amount, .. }) => {
            not_negative("amount", *amount)
        }
        Fact::UnitsDone(UnitsDone { quantity, job, code, .. }) => check_units(conn, *quantity, *job, *code),
        Fact::Condition(condition) => check_condition(conn, condition),
        Fact::Repair(step) => check_repair(conn, step),
        Fact::ChangeOrder(order) => check_change_order(conn, order),
        Fact::Decision(decision) => check_decision(conn, decision),
        Fact::Invoice(invoice) => check_invoice(conn, invoice),
        Fact::RetainageRelease(release) => check_release(conn, release),
        Fact::Allocation(allocation) => check_allocation(conn, allocation),
        Fact::MonthClosed(close) => check_close(conn, calendar, close),
        Fact::Reversal(reversal) => check_reversal(conn, reversal),
        Fact::Part(part) => roof::check_part(conn, part),
        Fact::PartPrice(price) => roof::check_price(price),
        Fact::ProductionRate(rate) => roof::check_production(rate),
        Fact::Standard(standard) => roof::check_standard(standard),
        Fact::Roof(measured) => roof::check_roof(measured),
        Fact::CheckPoint(point) => roof::check_point(conn, point),
        Fact::Installed(installed) => roof::check_installed(installed),
        Fact::Warranty(warranty) => roof::check_warranty(warranty),
        Fact::PayRate(rate) if rate.hourly.decimal().is_sign_negative() => {
            refuse("hourly", format!("{} is below zero", rate.hourly), "Type the hourly pay in dollars")
        }
        Fact::BurdenRate(burden) if burden.rate.decimal().is_sign_negative() => refuse(
            "rate",
            format!("{} is below zero", burden.rate),
            "Type a fraction or an amount of zero or more",
        ),
        _ => Ok(()),
    }
}

fn not_labor(field: impl Into<String>, kind: CostKind) -> Check {
    if kind == CostKind::Labor {
        return refuse(field, "labor cost comes from hours and pay", "Record the hours as time instead");
    }
    Ok(())
}

fn check_firm(firm: &Firm) -> Check {
    if let Err(error) = trade::Currency::parse(&firm.currency) {
        return refuse(
            "currency",
            error.to_string(),
            "Use the three-letter code of your currency, such as USD",
        );
    }
    let state_is_two_capitals =
        firm.state.len() == 2 && firm.state.bytes().all(|byte| byte.is_ascii_uppercase());
    if !state_is_two_capitals {
        return refuse("state", format!("“{}” is not a state", firm.state), "Use the two capital letters");
    }
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

fn check_attachment(conn: &Connection, attachment: &Attachment) -> Check {
    if attachment.bytes < 0 {
        return refuse(
            "bytes",
            format!("{} is not a size", attachment.bytes),
            "Type the size of the file in bytes",
        );
    }
    if exists(conn, "SELECT 1 FROM attachment WHERE hash = ?1", &[&attachment.hash.0])? {
        return refuse(
            "hash",
            "this file is already attached",
            "Name the file by its hash; it need not be attached again",
        );
    }
    Ok(())
}

fn check_device(conn: &Connection, device: &Device) -> Check {
    if !device::are_letters(&device.letter) {
        let problem = format!("“{}” is not a device's letters", device.letter);
        return refuse("letter", problem, "Use A to Z, then AA and on");
    }
    if exists(conn, "SELECT 1 FROM device WHERE letter = ?1", &[&device.letter])? {
        return refuse(
            "letter",
            format!("{} is already another device's", device.letter),
            "Choose a free letter",
        );
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
        return Ok(());
    }
    if any_live(conn, "cost_code", "code = ?1 AND revises IS NULL", &[&code.code])? {
        return refuse(
            "code",
            format!("“{}” is already a code", code.code),
            "Use it, or choose another word",
        );
    }
    Ok(())
}

fn check_job(conn: &Connection, job: &Job) -> Check {
    let first = job.revises.map(|id| *id.bytes());
    if any_live(
        conn,
        "job",
        "f.number = ?1 AND f.revises IS NULL AND f.id IS NOT ?2",
        &[&job.number, &first],
    )? {
        return refuse(
            "number",
            format!("job {} already exists", job.number),
            "Give this one another number",
        );
    }
    Ok(())
}

fn stages(conn: &Connection, job: Id) -> Result<Vec<(JobStatusWord, String)>, LedgerError> {
    let sql = format!("SELECT stage, date FROM job_status s WHERE job = ?1 AND {}", live("s.id"));
    let mut statement = conn.prepare_cached(&sql)?;
    let mut rows = statement.query([job.bytes()])?;
    let mut stages = Vec::new();
    while let Some(row) = rows.next()? {
        let stage =
            JobStatusWord::load(row.get_ref(0)?).map_err(crate::error::damaged("job_status.stage"))?;
        stages.push((stage, row.get(1)?));
    }
    Ok(stages)
}

fn check_job_status(conn: &Connection, step: &JobStatus) -> Check {
    let stages = stages(conn, step.job)?;
    if let Some((_, date)) = stages.iter().find(|(stage, _)| *stage == step.stage) {
        return refuse(
            "stage",
            format!("the job already is {} (on {date})", step.stage),
            "Reverse that step first",
        );
    }
    if let Some((ended, date)) = stages.iter().find(|(stage, _)| *stage != JobStatusWord::Begun) {
        return refuse("stage", format!("the job was {ended} on {date}"), "Reverse that step first");
    }
    let begun = stages.iter().find(|(stage, _)| *stage == JobStatusWord::Begun);
    if let (JobStatusWord::Finished, Some((_, date))) = (step.stage, begun)
        && step.date.to_string() < *date
    {
        return refuse(
            "date",
            format!("the job began on {date}, after this day"),
            "Check the day of finishing",
        );
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

fn check_contract(conn: &Connection, contract: &Contract) -> Check {
    not_negative("price", contract.price)?;
    if any_live(conn, "contract", "job = ?1", &[contract.job.bytes()])? {
        return refuse(
            "job",
            "this job already has its contract",
            "Change it by a change order, or reverse it first",
        );
    }
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

fn check_order(conn: &Connection, order: &PurchaseOrder) -> Check {
    if order.lines.is_empty() {
        return refuse("lines", "an order needs at least one line", "Type what is ordered");
    }
    for (index, line) in order.lines.iter().enumerate() {
        not_labor(format!("lines[{index}].cost_kind"), line.cost_kind)?;
        not_negative(&format!("lines[{index}].amount"), line.amount)?;
    }
    if any_live(conn, "purchase_order", "number = ?1", &[&order.number])? {
        return refuse(
            "number",
            format!("order {} already exists", order.number),
            "Give this one another number",
        );
    }
    Ok(())
}

fn condition_of_job(conn: &Connection, field: impl Into<String>, condition: Option<Id>, job: Id) -> Check {
    let Some(condition) = condition else { return Ok(()) };
    if exists(conn, "SELECT 1 FROM condition WHERE id = ?1 AND job = ?2", &[condition.bytes(), job.bytes()])?
    {
        return Ok(());
    }
    refuse(field, "that hidden condition was found on another job", "Choose one of this job's, or none")
}

fn check_bill(conn: &Connection, bill: &Bill) -> Check {
    if bill.lines.is_empty() {
        return refuse(
            "lines",
            "a bill needs at least one line",
            "Type what was bought, for which job and code",
        );
    }
    let total: Money = bill.lines.iter().map(|line| line.amount + line.tax).sum();
    if bill.credit && total > Money::ZERO {
        return refuse(
            "credit",
            format!("a credit lowers cost, but its lines come to {total}"),
            "Type the amounts below zero",
        );
    }
    if !bill.credit && total.is_negative() {
        return refuse(
            "lines",
            format!("the lines come to {total}"),
            "Mark it as a credit, or correct the signs",
        );
    }
    if bill.completes_order && bill.purchase_order.is_none() {
        return refuse(
            "completes_order",
            "no order is named",
            "Name the purchase order that is now complete",
        );
    }
    for (index, line) in bill.lines.iter().enumerate() {
        not_labor(format!("lines[{index}].cost_kind"), line.cost_kind)?;
        condition_of_job(conn, format!("lines[{index}].condition"), line.condition, line.job)?;
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
    let others = Qty::from_e4(live_sum(
        conn,
        "time_entry",
        "hours_e4",
        "person = ?1 AND date = ?2",
        &[time.person.bytes(), &time.date.to_string()],
    )?);
    let day = others + time.hours;
    if day > Qty::from_e4(240_000) {
        return refuse(
            "hours",
            format!("with these, the day {} would have {day} hours for this person", time.date),
            "Check the day and the person, or reverse the hours typed before",
        );
    }
    condition_of_job(conn, "condition", time.condition, time.job)
}

fn check_units(conn: &Connection, quantity: Qty, job: Id, code: Id) -> Check {
    let unit: Option<String> = value(conn, "SELECT unit FROM cost_code WHERE id = ?1", &[code.bytes()])?;
    if unit.is_none() {
        return refuse("code", "work on this code is not measured in units", "Choose a code that has a unit");
    }
    let done = Qty::from_e4(live_sum(
        conn,
        "units_done",
        "quantity_e4",
        "job = ?1 AND code = ?2",
        &[job.bytes(), code.bytes()],
    )?) + quantity;
    if done < Qty::ZERO {
        return refuse(
            "quantity",
            format!("it would make the work done {done}"),
            "Type what was done since the last entry",
        );
    }
    Ok(())
}

fn check_condition(conn: &Connection, condition: &Condition) -> Check {
    if condition.count <= Qty::ZERO {
        return refuse("count", format!("{} is not a count above zero", condition.count), "Type how many");
    }
    let sheet_counted_otherwise =
        condition.counted_in == CountedIn::Sheet && condition.damaged != crate::words::Damaged::DeckSheet;
    if sheet_counted_otherwise {
        return refuse(
            "counted_in",
            "only deck sheets are counted in sheets",
            "Count it in feet, square feet or pieces",
        );
    }
    if any_live(conn, "condition", "job = ?1 AND number = ?2", &[condition.job.bytes(), &condition.number])? {
        return refuse(
            "number",
            format!("{} is already a condition of this job", condition.number),
            "Take the next number",
        );
    }
    roof::check_damage(condition)
}

fn check_repair(conn: &Connection, step: &Repair) -> Check {
    let with: &[&dyn ToSql] = &[step.condition.bytes(), &step.stage.as_str(), &RepairStage::Done.as_str()];
    if any_live(conn, "repair", "condition = ?1 AND (stage = ?2 OR stage = ?3)", with)? {
        return refuse(
            "stage",
            "this step of the condition is already recorded",
            "Reverse it first, if it was wrong",
        );
    }
    Ok(())
}

fn check_change_order(conn: &Connection, order: &ChangeOrder) -> Check {
    if order.lines.is_empty() {
        return refuse("lines", "a change order needs at least one line", "Type what changes and its price");
    }
    for (index, line) in order.lines.iter().enumerate() {
        let field = format!("lines[{index}]");
        condition_of_job(conn, format!("{field}.condition"), line.condition, order.job)?;
        check_line(&field, line.cost_kind, line.hours, line.cost)?;
    }
    let price: Money = order.lines.iter().map(|line| line.price).sum();
    if let Some(most) = order.not_to_exceed
        && price > most
    {
        return refuse(
            "not_to_exceed",
            format!("the lines come to {price}, above {most}"),
            "Raise it or lower the lines",
        );
    }
    if any_live(conn, "change_order", "job = ?1 AND number = ?2", &[order.job.bytes(), &order.number])? {
        return refuse(
            "number",
            format!("{} is already a change order of this job", order.number),
            "Take the next number",
        );
    }
    if !any_live(conn, "contract", "job = ?1", &[order.job.bytes()])? {
        return refuse("job", "this job has no contract to change yet", "Record its contract first");
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
            format!("the change order is of {date}, after this decision"),
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
    if decision.verdict == Verdict::Withdrawn && !decision.lines.is_empty() {
        return refuse("lines", "a change order is withdrawn whole", "Leave the lines out");
    }
    Ok(())
}

fn check_invoice(conn: &Connection, invoice: &Invoice) -> Check {
    if invoice.lines.is_empty() {
        return refuse("lines", "an invoice needs at least one line", "Type what is billed");
    }
    let net: Money = invoice.lines.iter().map(|line| line.amount).sum();
    let is_credit = invoice.purpose == InvoiceFor::Credit;
    if is_credit && (net > Money::ZERO || invoice.tax > Money::ZERO) {
        return refuse(
            "lines",
            format!("a credit memo lowers what is owed, but its lines come to {net}"),
            "Type them below zero",
        );
    }
    if !is_credit && (net.is_negative() || invoice.tax.is_negative()) {
        return refuse(
            "lines",
            format!("the lines come to {net}"),
            "Make it a credit memo, or correct the signs",
        );
    }
    if invoice.due < invoice.date {
        return refuse(
            "due",
            format!("{} is before the invoice's own date", invoice.due),
            "Check both dates",
        );
    }
    if invoice.retainage.is_negative() || (!is_credit && invoice.retainage > net + invoice.tax) {
        return refuse(
            "retainage",
            format!("{} cannot be held of {}", invoice.retainage, net + invoice.tax),
            "Check the share held",
        );
    }
    if invoice.credits.is_some() && !is_credit {
        return refuse(
            "credits",
            "only a credit memo names an invoice it lowers",
            "Make it a credit memo, or leave it out",
        );
    }
    if let Some(lowered) = invoice.credits {
        // What is open on an invoice is worked out within its job.
        let of_job = "SELECT 1 FROM invoice WHERE id = ?1 AND job = ?2";
        if !exists(conn, of_job, &[lowered.bytes(), invoice.job.bytes()])? {
            return refuse("credits", "that invoice is of another job", "Choose one of this job's");
        }
        let itself_a_credit = "SELECT 1 FROM invoice WHERE id = ?1 AND purpose = 'credit'";
        if exists(conn, itself_a_credit, &[lowered.bytes()])? {
            return refuse("credits", "that is a credit memo itself", "Name the invoice that is lowered");
        }
    }
    if is_credit && !invoice.retainage.is_zero() {
        return refuse("retainage", "a credit memo holds no retainage", "Leave it out");
    }
    if any_live(conn, "invoice", "number = ?1", &[&invoice.number])? {
        return refuse(
            "number",
            format!("invoice {} already exists", invoice.number),
            "Take the next number",
        );
    }
    for (index, line) in invoice.lines.iter().enumerate() {
        let Some(order) = line.change_order else { continue };
        let of_job = "SELECT 1 FROM change_order WHERE id = ?1 AND job = ?2";
        if !exists(conn, of_job, &[order.bytes(), invoice.job.bytes()])? {
            return refuse(
                format!("lines[{index}].change_order"),
                "that change order is of another job",
                "Choose one of this job's",
            );
        }
    }
    Ok(())
}

fn check_release(conn: &Connection, release: &RetainageRelease) -> Check {
    let held = cents(conn, "SELECT retainage_cents FROM invoice WHERE id = ?1", release.invoice)?;
    let released = Money::from_minor(live_sum(
        conn,
        "retainage_release",
        "amount_cents",
        "invoice = ?1",
        &[release.invoice.bytes()],
    )?);
    let left = held - released;
    if release.amount <= Money::ZERO || release.amount > left {
        return refuse(
            "amount",
            format!("{} cannot be released of {left} still held", release.amount),
            "Check the amount",
        );
    }
    Ok(())
}

fn check_allocation(conn: &Connection, allocation: &Allocation) -> Check {
    let paid = cents(conn, "SELECT amount_cents FROM payment WHERE id = ?1", allocation.payment)?;
    let applied = Money::from_minor(live_sum(
        conn,
        "allocation",
        "amount_cents",
        "payment = ?1",
        &[allocation.payment.bytes()],
    )?);
    let left = paid - applied;
    if allocation.amount <= Money::ZERO || allocation.amount > left {
        return refuse(
            "amount",
            format!("{} cannot be applied: {left} of the payment is left", allocation.amount),
            "Apply no more than is left",
        );
    }
    let open = invoice_open(conn, allocation.invoice)?;
    if allocation.amount > open {
        return refuse(
            "amount",
            format!("{} is more than the {open} open on this invoice", allocation.amount),
            "Apply the rest to another invoice, or leave it unapplied",
        );
    }
    let same_customer = "SELECT 1 FROM payment p JOIN invoice i ON i.id = ?2 JOIN job j ON j.id = i.job
                         WHERE p.id = ?1 AND p.customer = j.customer";
    if !exists(conn, same_customer, &[allocation.payment.bytes(), allocation.invoice.bytes()])? {
        return refuse("invoice", "it is another customer's invoice", "Choose one of the payer's own");
    }
    Ok(())
}

/// What is due now on an invoice: billed with tax, less held, released back in, less credit memos and payments.
fn invoice_open(conn: &Connection, invoice: Id) -> Result<Money, LedgerError> {
    let sql = format!(
        "SELECT coalesce((SELECT sum(l.amount_cents) FROM invoice_line l WHERE l.fact = i.id), 0)
                + i.tax_cents - i.retainage_cents
         + coalesce((SELECT sum(s.amount_cents) FROM retainage_release s WHERE s.invoice = i.id AND {}), 0)
         - coalesce((SELECT sum(a.amount_cents) FROM allocation a WHERE a.invoice = i.id AND {}), 0)
         + coalesce((SELECT sum(c.tax_cents
                       + (SELECT sum(l.amount_cents) FROM invoice_line l WHERE l.fact = c.id))
               FROM invoice c WHERE c.job = i.job AND c.credits = i.id AND {}), 0)
         FROM invoice i WHERE i.id = ?1",
        live("s.id"),
        live("a.id"),
        live("c.id"),
    );
    cents(conn, &sql, invoice)
}

/// What a close freezes must be what the books say at this moment, or the stored totals could not be worked out again.
fn check_frozen(conn: &Connection, close: &MonthClosed) -> Check {
    let books = read::Books::over(conn);
    let mut marks: Vec<(String, i64)> =
        close.devices.iter().map(|mark| (mark.device.clone(), mark.through_seq)).collect();
    marks.sort_by(|left, right| device::order(&left.0, left.1).cmp(&device::order(&right.0, right.1)));
    let ends = books.device_ends()?;
    if marks != ends {
        let ends: Vec<String> = ends.iter().map(|(device, seq)| format!("{device} {seq}")).collect();
        return refuse(
            "devices",
            format!("the books end at {}, which is not what this close names", ends.join(", ")),
            "Close again: something was recorded in between",
        );
    }
    let booked = books.booked_labor(close.month)?;
    let mut frozen = std::collections::BTreeMap::new();
    for (index, line) in close.labor.iter().enumerate() {
        let totals = LaborTotals { straight: line.straight, premium: line.premium, burden: line.burden };
        if totals != LaborTotals::default()
            && frozen.insert((line.job, line.code, line.condition), totals).is_some()
        {
            return refuse(
                format!("labor[{index}]"),
                "this job, code and condition stand twice",
                "Add the two lines up",
            );
        }
    }
    if frozen != booked {
        return refuse(
            "labor",
            format!("it is not the labor booked in {}", close.month),
            "Close again: something was recorded in between",
        );
    }
    Ok(())
}

fn check_close(conn: &Connection, calendar: &Calendar, close: &MonthClosed) -> Check {
    check_order_of_closes(conn, calendar, close)?;
    check_frozen(conn, close)
}

fn check_order_of_closes(conn: &Connection, calendar: &Calendar, close: &MonthClosed) -> Check {
    if let Some(last) = calendar.closed_through() {
        if close.month <= last {
            return refuse(
                "month",
                format!("{} is already closed (through {last})", close.month),
                "Nothing needs doing",
            );
        }
        if close.month != last.next() {
            return refuse(
                "month",
                format!("{} is still open", last.next()),
                "Close the months in their order",
            );
        }
        return Ok(());
    }
    let earliest: Option<i32> = value(conn, "SELECT min(month) FROM total_job", &[])?;
    if let Some(earliest) = earliest.filter(|key| *key < close.month.key()) {
        return refuse(
            "month",
            format!("facts are booked in {}-{:02}, which is still open", earliest / 100, earliest % 100),
            "Close the months in their order, from the first",
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
    if let Some(by) = read::reversal_of(conn, reversal.reverses)? {
        return refuse("reverses", format!("that fact is already reversed (by {by})"), "Nothing needs doing");
    }
    if reversal.reason.trim().is_empty() {
        return refuse("reason", "a reversal needs its reason", "Say in a few words why");
    }
    if let Some((kind, count)) = links::dependents(conn, &target.kind, reversal.reverses)? {
        return refuse(
            "reverses",
            format!("{count} other fact(s) rest on it, the first of kind {kind}"),
            "Reverse those first",
        );
    }
    Ok(())
}

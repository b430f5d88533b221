//! What a fact must be beside the rest of the books as they stand. Asked only of what is written here: what comes from
//! another device was right where it was written, and what it says against these books becomes a question.

use super::ask::{Check, day_as_kept, exists, value};
use super::{bank, billing, chosen, vendor};
use crate::calendar::Calendar;
use crate::closed_lists::{JobStatusWord, RepairStage};
use crate::column::Column;
use crate::device;
use crate::error::{LedgerError, refuse};
use crate::facts::{
    Attachment, Budget, ChangeOrder, CheckPoint, CostCode, Device, Fact, Job, JobStatus, MonthClosed,
    OverheadAccount, Part, Repair, Reversal, TimeEntry, UnitsDone,
};
use crate::id::Id;
use crate::links;
use crate::live::{any_live, live, live_sum};
use crate::read;
use crate::totals::LaborTotals;
use rusqlite::{Connection, ToSql};
use trade::{Month, Qty, shown};

/// Everything that is checked of a fact beside the books as they stand.
pub(crate) fn check(conn: &Connection, calendar: &Calendar, fact: &Fact) -> Check {
    match fact {
        Fact::Device(device) => check_device(conn, device),
        Fact::Attachment(attachment) => check_attachment(conn, attachment),
        Fact::CostCode(code) => check_code(conn, code),
        Fact::Job(job) => check_job(conn, job),
        Fact::JobStatus(step) => check_job_status(conn, step),
        Fact::Contract(contract) => {
            let of_job: &[&dyn ToSql] = &[contract.job.bytes()];
            let remedy = "Change it by a change order, or reverse it first";
            none_yet(conn, "contract", "job = ?1", of_job, "job", "this job already has its contract", remedy)
        }
        Fact::PurchaseOrder(order) => {
            let problem = format!("order {} already exists", order.number);
            let number: &[&dyn ToSql] = &[&order.number];
            let remedy = "Give this one another number";
            none_yet(conn, "purchase_order", "number = ?1", number, "number", &problem, remedy)?;
            chosen::order_beside(conn, order)
        }
        Fact::Bill(bill) => vendor::bill_beside(conn, bill),
        Fact::VendorPayment(payment) => vendor::payment_beside(conn, payment),
        Fact::OverheadAccount(account) => check_overhead_account(conn, account),
        Fact::Budget(budget) => check_budget(calendar, budget),
        Fact::TimeEntry(time) => check_time(conn, time),
        Fact::UnitsDone(units) => check_units(conn, units),
        Fact::Condition(condition) => {
            let problem = format!("{} is already a condition of this job", condition.number);
            let number: &[&dyn ToSql] = &[condition.job.bytes(), &condition.number];
            let wanted = "job = ?1 AND number = ?2";
            none_yet(conn, "condition", wanted, number, "number", &problem, "Take the next number")
        }
        Fact::Repair(step) => check_repair(conn, step),
        Fact::DeclinedRepair(decided) => chosen::check_declined(conn, decided),
        Fact::ColorChoice(chosen) => chosen::check_color(conn, chosen),
        Fact::ChangeOrder(order) => check_change_order(conn, order),
        Fact::ChangeCost(cost) => {
            let of_order: &[&dyn ToSql] = &[cost.change_order.bytes()];
            let problem = "what this change order should cost is already filled in";
            let remedy = "Reverse that first, if it was wrong";
            none_yet(conn, "change_cost", "change_order = ?1", of_order, "change_order", problem, remedy)
        }
        Fact::Invoice(invoice) => billing::invoice_beside(conn, invoice),
        Fact::RetainageRelease(release) => billing::release_beside(conn, release),
        Fact::Allocation(allocation) => billing::allocation_beside(conn, allocation),
        Fact::Refund(refund) => billing::refund_beside(conn, refund),
        Fact::BankStatement(statement) => bank::statement_beside(conn, statement),
        Fact::BankCleared(cleared) => bank::cleared_beside(conn, cleared),
        Fact::MonthClosed(close) => check_close(conn, calendar, close),
        Fact::Reversal(reversal) => check_reversal(conn, reversal),
        Fact::Part(part) => check_part(conn, part),
        Fact::CheckPoint(point) => check_point(conn, point),
        _ => Ok(()),
    }
}

/// Refuses what a live fact of a table already is.
fn none_yet(
    conn: &Connection,
    table: &str,
    wanted: &str,
    with: &[&dyn ToSql],
    field: &str,
    problem: &str,
    remedy: &str,
) -> Check {
    if any_live(conn, table, wanted, with)? { refuse(field, problem, remedy) } else { Ok(()) }
}

/// A device that wrote here alone may be given its key later, by a further fact.
fn check_device(conn: &Connection, device: &Device) -> Check {
    let taken = "SELECT 1 FROM device WHERE letter = ?1 AND (signs_with IS NOT NULL OR ?2)";
    if exists(conn, taken, &[&device.letter, &device.signs_with.is_none()])? {
        return refuse(
            "letter",
            format!("{} is already another device's", device.letter),
            "Choose a free letter",
        );
    }
    Ok(())
}

fn check_attachment(conn: &Connection, attachment: &Attachment) -> Check {
    if exists(conn, "SELECT 1 FROM attachment WHERE hash = ?1", &[&attachment.hash.0])? {
        return refuse(
            "hash",
            "this file is already attached",
            "Name the file by its hash; it need not be attached again",
        );
    }
    Ok(())
}

/// What was meant for a month that is closed stands beside what became of it.
fn check_budget(calendar: &Calendar, budget: &Budget) -> Check {
    match calendar.closed_through().filter(|closed| budget.month <= *closed) {
        Some(_) => refuse(
            "month",
            format!("{} is closed, and its budget stays", shown::month(budget.month)),
            "Set the budget of a month that is open",
        ),
        None => Ok(()),
    }
}

fn check_code(conn: &Connection, code: &CostCode) -> Check {
    if code.revises.is_none() && any_live(conn, "cost_code", "code = ?1 AND revises IS NULL", &[&code.code])?
    {
        return refuse(
            "code",
            format!("“{}” is already a code", code.code),
            "Use it, or choose another word",
        );
    }
    Ok(())
}

fn check_part(conn: &Connection, part: &Part) -> Check {
    if part.revises.is_none() && any_live(conn, "part", "name = ?1 AND revises IS NULL", &[&part.name])? {
        return refuse(
            "name",
            format!("“{}” is already a part", part.name),
            "Choose another word, or record a new price for that one",
        );
    }
    Ok(())
}

fn check_point(conn: &Connection, point: &CheckPoint) -> Check {
    let first = point.revises.map(|id| *id.bytes());
    if any_live(
        conn,
        "check_point",
        "words = ?1 AND revises IS NULL AND id IS NOT ?2",
        &[&point.words, &first],
    )? {
        return refuse("words", "this is already on the checklist", "Word it otherwise, or leave it");
    }
    Ok(())
}

fn check_overhead_account(conn: &Connection, account: &OverheadAccount) -> Check {
    let first = account.revises.map(|id| *id.bytes());
    let wanted = "f.name = ?1 AND f.revises IS NULL AND f.id IS NOT ?2";
    if any_live(conn, "overhead_account", wanted, &[&account.name, &first])? {
        return refuse(
            "name",
            format!("“{}” is already an overhead account", account.name),
            "Use it, or choose another name",
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
            format!("the job already is {} (on {})", step.stage, day_as_kept(date)),
            "Reverse that step first",
        );
    }
    if let Some((ended, date)) = stages.iter().find(|(stage, _)| *stage != JobStatusWord::Begun) {
        return refuse(
            "stage",
            format!("the job was {ended} on {}", day_as_kept(date)),
            "Reverse that step first",
        );
    }
    let begun = stages.iter().find(|(stage, _)| *stage == JobStatusWord::Begun);
    if let (JobStatusWord::Finished, Some((_, date))) = (step.stage, begun)
        && step.date.to_string() < *date
    {
        return refuse(
            "date",
            format!("the job began on {}, after this day", day_as_kept(date)),
            "Check the day of finishing",
        );
    }
    Ok(())
}

fn check_time(conn: &Connection, time: &TimeEntry) -> Check {
    let others = Qty::from_e4(live_sum(
        conn,
        "time_entry",
        "hours_e4",
        "person = ?1 AND date = ?2",
        &[time.person.bytes(), &time.date.to_string()],
    )?);
    let hours = others + time.hours;
    if hours > Qty::from_e4(240_000) {
        return refuse(
            "hours",
            format!("with these, {} would have {hours} hours for this person", shown::day(time.date)),
            "Check the day and the person, or reverse the hours typed before",
        );
    }
    Ok(())
}

fn check_units(conn: &Connection, units: &UnitsDone) -> Check {
    let done = Qty::from_e4(live_sum(
        conn,
        "units_done",
        "quantity_e4",
        "job = ?1 AND code = ?2",
        &[units.job.bytes(), units.code.bytes()],
    )?) + units.quantity;
    if done < Qty::ZERO {
        return refuse(
            "quantity",
            format!("it would make the work done {done}"),
            "Type what was done since the last entry",
        );
    }
    Ok(())
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
            format!("it is not the labor booked in {}", shown::month(close.month)),
            "Close again: something was recorded in between",
        );
    }
    Ok(())
}

fn check_close(conn: &Connection, calendar: &Calendar, close: &MonthClosed) -> Check {
    check_order_of_closes(conn, calendar, close)?;
    check_frozen(conn, close)
}

const FIRST_MONTH: &str = "SELECT min(month) FROM (SELECT month FROM total_job WHERE facts <> 0
    UNION SELECT month FROM total_overhead WHERE amount_cents <> 0)";

fn check_order_of_closes(conn: &Connection, calendar: &Calendar, close: &MonthClosed) -> Check {
    if let Some(last) = calendar.closed_through() {
        if close.month <= last {
            return refuse(
                "month",
                format!("{} is already closed (through {})", shown::month(close.month), shown::month(last)),
                "Nothing needs doing",
            );
        }
        if close.month != last.next() {
            return refuse(
                "month",
                format!("{} is still open", shown::month(last.next())),
                "Close the months in their order",
            );
        }
        return Ok(());
    }
    let earliest: Option<i32> = value(conn, FIRST_MONTH, &[])?;
    if let Some(earliest) =
        earliest.and_then(|key| Month::from_key(key).ok()).filter(|month| *month < close.month)
    {
        return refuse(
            "month",
            format!("facts are booked in {}, which is still open", shown::month(earliest)),
            "Close the months in their order, from the first",
        );
    }
    Ok(())
}

fn check_reversal(conn: &Connection, reversal: &Reversal) -> Check {
    if let Some(by) = read::reversal_of(conn, reversal.reverses)? {
        return refuse("reverses", format!("that fact is already reversed (by {by})"), "Nothing needs doing");
    }
    let Some(target) = read::entry_of(conn, reversal.reverses)? else { return Ok(()) };
    if let Some((kind, count)) = links::dependents(conn, &target.kind, reversal.reverses)? {
        return refuse(
            "reverses",
            format!("{count} other fact(s) rest on it, the first of kind {kind}"),
            "Reverse those first",
        );
    }
    Ok(())
}

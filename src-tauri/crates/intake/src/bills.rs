//! Planning bills: lines with the same vendor, reference and date form one bill, known by vendor and reference.

use crate::choices::RepeatedLines;
use crate::known::{Thing, fold};
use crate::planner::{Duplicate, Planner};
use crate::problem::{About, Answer, Note, Question, on_lines};
use crate::rows::BillRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Bill, BillLine};
use ledger::{Entered, Id};
use std::collections::{BTreeSet, HashMap};
use trade::Money;
use trade::shown::day;

/// A line with its names found.
#[derive(Clone, Copy)]
struct Named {
    job: Id,
    code: Id,
}

/// The rows of one bill.
struct Group {
    vendor: Id,
    date: Date,
    lines: Vec<(usize, Named)>,
    /// Whether each of its rows was found sound.
    is_whole: bool,
}

type Recorded = HashMap<(Id, String), Vec<Entered<Bill>>>;

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[BillRow]) -> Result<(), OfficeError> {
    let mut bills: Vec<Group> = Vec::new();
    let mut places: HashMap<(Id, String), usize> = HashMap::new();
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        let vendor = planner.vendor(place, row.line, &row.vendor);
        let job = planner.look(Thing::Job, place, row.line, "job", &row.job);
        let code = planner.look(Thing::Code, place, row.line, "code", &row.code);
        let Some(vendor) = vendor else { continue };
        let at = *places.entry((vendor, fold(&row.reference))).or_insert_with(|| {
            bills.push(Group { vendor, date: row.date, lines: vec![], is_whole: true });
            bills.len() - 1
        });
        let Some(bill) = bills.get_mut(at) else { continue };
        match (job, code) {
            (Some(job), Some(code)) if bill.date == row.date => bill.lines.push((place, Named { job, code })),
            _ => bill.is_whole = false,
        }
        if bill.date != row.date {
            let message = format!(
                "{} {} is in the file with the date {} too.",
                row.vendor,
                row.reference,
                day(bill.date)
            );
            planner.refuse(
                place,
                row.line,
                "date",
                message,
                "Give both lines one date, or the bills two references.",
            );
        }
    }
    let recorded = recorded(planner, rows, &bills)?;
    let (mut repeated, mut credits) = (Vec::new(), Vec::new());
    for bill in &mut bills {
        take_repeats_out(planner, rows, bill, &mut repeated);
        if bill.is_whole {
            settle(planner, rows, bill, &recorded, &mut credits);
        }
    }
    if !credits.is_empty() {
        let message = "The lines of a bill come to less than zero, so that it is read as a vendor's credit.";
        planner.notes.push(Note::new(credits, message));
    }
    repeated.sort_unstable();
    planner.ask(question(repeated));
    Ok(())
}

/// What the ledger holds of the file's vendors under the file's references.
fn recorded(planner: &Planner<'_>, rows: &[BillRow], bills: &[Group]) -> Result<Recorded, OfficeError> {
    let mut wanted: HashMap<Id, BTreeSet<String>> = HashMap::new();
    for bill in bills.iter().filter(|bill| !planner.is_made(bill.vendor)) {
        let first = bill.lines.first().and_then(|(place, _)| rows.get(*place));
        wanted.entry(bill.vendor).or_default().extend(first.map(|row| fold(&row.reference)));
    }
    let mut recorded = Recorded::new();
    for (vendor, references) in wanted {
        for held in planner.books.by(Bill::vendor, vendor)? {
            let reference = fold(&held.fact.reference);
            if references.contains(&reference) {
                recorded.entry((vendor, reference)).or_default().push(held);
            }
        }
    }
    Ok(recorded)
}

/// Lines that are the same in every column may be meant or may be the file's mistake: asked, kept or passed over.
fn take_repeats_out(planner: &mut Planner<'_>, rows: &[BillRow], bill: &mut Group, repeated: &mut Vec<u64>) {
    let mut seen: HashMap<BillLineKey<'_>, u64> = HashMap::new();
    let mut kept = Vec::with_capacity(bill.lines.len());
    for (place, named) in &bill.lines {
        let Some(row) = rows.get(*place) else { continue };
        let first = *seen.entry(key(row, *named)).or_insert(row.line);
        if first == row.line {
            kept.push((*place, *named));
            continue;
        }
        match planner.parsed.choices.repeated_lines {
            Some(RepeatedLines::Keep) => kept.push((*place, *named)),
            Some(RepeatedLines::Skip) => {
                let duplicate = Duplicate {
                    lines: vec![row.line],
                    same_as_line: Some(first),
                    same_as: None,
                    message: format!("{} {}: line {first} says the same.", row.vendor, row.reference),
                };
                planner.pass_over(&[*place], duplicate);
            }
            None => {
                planner.hold(*place);
                repeated.push(row.line);
            }
        }
    }
    bill.lines = kept;
}

type BillLineKey<'a> = (Named2, [Option<&'a str>; 2], trade::CostKind, [Option<i64>; 4]);
type Named2 = (Id, Id);

fn key(row: &BillRow, named: Named) -> BillLineKey<'_> {
    (
        (named.job, named.code),
        [row.description.as_deref(), row.unit.as_deref()],
        row.cost_kind,
        [
            row.quantity.map(trade::Qty::e4),
            row.unit_price.map(trade::Rate::e6),
            Some(row.amount.minor()),
            Some(row.tax.minor()),
        ],
    )
}

fn question(lines: Vec<u64>) -> Question {
    Question {
        about: About::RepeatedLines,
        field: None,
        column: None,
        message: format!(
            "In one bill, what stands on {} stands there before in every column. Is it on the bill that often?",
            on_lines(&lines)
        ),
        answers: vec![
            Answer::new("keep", "The bill has the same line more than once: record each."),
            Answer::new("skip", "The file repeats itself: record each line once."),
        ],
        lines,
    }
}

/// Whether a bill is a credit: as the file says, or by its sum where the file says nothing.
fn is_credit(planner: &mut Planner<'_>, rows: &[&BillRow], places: &[usize], total: Money) -> Option<bool> {
    let (first, at) = (rows.first()?, *places.first()?);
    let mixed = rows.iter().zip(places).find(|(row, _)| row.credit != first.credit);
    let (line, place, message, remedy) = match (mixed, first.credit) {
        (Some((row, place)), _) => (
            row.line,
            *place,
            format!("{} {} is a credit on one line and none on another.", row.vendor, row.reference),
            "Say the same on each of its lines.",
        ),
        (None, Some(true)) if total > Money::ZERO => (
            first.line,
            at,
            format!(
                "{} {} is a credit, but its lines come to {}.",
                first.vendor,
                first.reference,
                total.grouped()
            ),
            "Write the amounts and the tax of a credit below zero.",
        ),
        (None, Some(false)) if total.is_negative() => (
            first.line,
            at,
            format!(
                "{} {} comes to {} and is not marked as a credit.",
                first.vendor,
                first.reference,
                total.grouped()
            ),
            "Mark it as a credit, or correct the signs.",
        ),
        (None, says) => return Some(says.unwrap_or_else(|| total.is_negative())),
    };
    planner.refuse(place, line, "credit", message, remedy);
    None
}

/// Records a bill, or passes it over when it is there already.
fn settle(
    planner: &mut Planner<'_>,
    rows: &[BillRow],
    bill: &Group,
    recorded: &Recorded,
    credits: &mut Vec<u64>,
) {
    let places: Vec<usize> = bill.lines.iter().map(|(place, _)| *place).collect();
    let own: Vec<&BillRow> = places.iter().filter_map(|place| rows.get(*place)).collect();
    let Some(first) = own.first() else { return };
    let lines: Vec<BillLine> =
        bill.lines.iter().filter_map(|(place, named)| line(rows.get(*place)?, *named)).collect();
    let total: Money = lines.iter().map(|line| line.amount + line.tax).sum();
    let Some(credit) = is_credit(planner, &own, &places, total) else { return };
    let bill = Bill {
        date: bill.date,
        vendor: bill.vendor,
        reference: first.reference.clone(),
        purchase_order: None,
        completes_order: false,
        credit,
        note: None,
        due: None,
        picture: None,
        lines,
        overhead: Vec::new(),
    };
    let there = recorded.get(&(bill.vendor, fold(&first.reference))).map(Vec::as_slice).unwrap_or_default();
    let is_same = |held: &&Entered<Bill>| held.fact.date == bill.date && held.fact.total() == total;
    if let Some(held) = there.iter().find(is_same) {
        let split = if costs(&held.fact) == costs(&bill) {
            ""
        } else {
            " Its lines are split otherwise there, which is left as it was."
        };
        let duplicate = Duplicate {
            lines: own.iter().map(|row| row.line).collect(),
            same_as_line: None,
            same_as: Some(held.entry.id),
            message: format!(
                "{} {} of {} is recorded already.{split}",
                first.vendor,
                first.reference,
                day(first.date)
            ),
        };
        planner.pass_over(&places, duplicate);
    } else if let Some(held) = there.first() {
        let message = format!(
            "{} {} is recorded already with the date {} and the sum {}; here it is {} and {}.",
            first.vendor,
            first.reference,
            day(held.fact.date),
            held.fact.total().grouped(),
            day(first.date),
            total.grouped()
        );
        let remedy = "Reverse the recorded bill first if this one is right, or leave it out.";
        for (place, row) in places.iter().zip(&own) {
            planner.refuse(*place, row.line, "reference", message.clone(), remedy);
        }
    } else {
        if first.credit.is_none() && credit {
            credits.extend(own.iter().map(|row| row.line));
        }
        planner.record(bill);
    }
}

fn line(row: &BillRow, named: Named) -> Option<BillLine> {
    Some(BillLine {
        job: named.job,
        code: named.code,
        cost_kind: row.cost_kind,
        description: row.description.clone(),
        quantity: row.quantity,
        unit: row.unit.clone(),
        unit_price: row.unit_price,
        amount: row.amount,
        tax: row.tax,
        condition: None,
        came: None,
        part: None,
    })
}

/// What a bill costs which job and code, in an order of its own.
fn costs(bill: &Bill) -> Vec<(Id, Id, trade::CostKind, Money, Money)> {
    let mut costs: Vec<_> =
        bill.lines.iter().map(|line| (line.job, line.code, line.cost_kind, line.amount, line.tax)).collect();
    costs.sort_unstable();
    costs
}

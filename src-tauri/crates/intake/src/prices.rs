//! Planning prices: what a supplier's list changes of the prices the firm knows.

use crate::known::{Thing, fold};
use crate::planner::{Duplicate, Planner, PriceChange};
use crate::problem::Note;
use crate::rows::PriceListRow;
use desk::OfficeError;
use desk::rates::RateBook;
use jiff::civil::Date;
use ledger::Id;
use ledger::facts::{Part, PartPrice};
use rust_decimal::Decimal;
use std::collections::HashMap;
use trade::Rate;

/// A change by more than this share is pointed out: a misplaced decimal looks like it (company rule).
const STARTLING: Rate = Rate::from_e6(500_000);

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[PriceListRow]) -> Result<(), OfficeError> {
    let book = RateBook::read(planner.books)?;
    let parts = planner.books.current(|part: &Part| part.revises)?;
    let mut seen: HashMap<(Id, Id, Date), (u64, Rate)> = HashMap::new();
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        let part = planner.look(Thing::Part, place, row.line, "part", &row.part);
        let part = part.and_then(|id| parts.get(&id).map(|part| (id, part)));
        // Looked up even where the part is not known, so that one look at the file shows everything that is wrong.
        let vendor = planner.vendor(place, row.line, &row.vendor);
        let (Some((id, part)), Some(vendor)) = (part, vendor) else { continue };
        if !is_the_same_package(planner, place, row, part) {
            continue;
        }
        if let Some((line, price)) = seen.get(&(id, vendor, row.date)).copied() {
            if price == row.price {
                planner.pass_over(&[place], already(row, part, Some(line), None));
            } else {
                let message = format!("Line {line} has another price for it of the same day: {price}.");
                planner.refuse(place, row.line, "price", message, "Leave one of the two lines out.");
            }
            continue;
        }
        seen.insert((id, vendor, row.date), (row.line, row.price));
        let known = book.prices(id, row.date).into_iter().find(|price| price.vendor == Some(vendor));
        if let Some(known) = known.filter(|known| known.price == row.price) {
            planner.pass_over(&[place], already(row, part, None, Some(known.fact)));
            continue;
        }
        let change = PriceChange {
            line: row.line,
            part: part.title.clone(),
            vendor: row.vendor.clone(),
            package: part.package.clone(),
            old: known.map(|known| known.price),
            new: row.price,
            change: known.and_then(|known| trade::price_change(known.price, row.price)),
            since: row.date,
        };
        note_startling(planner, &change);
        planner.price_changes.push(change);
        planner.record(PartPrice { date: row.date, part: id, vendor: Some(vendor), price: row.price });
    }
    Ok(())
}

fn already(row: &PriceListRow, part: &Part, same_as_line: Option<u64>, same_as: Option<Id>) -> Duplicate {
    let message = match same_as_line {
        Some(line) => format!("{} at {} is on line {line} already.", part.title, row.vendor),
        None => format!("{} costs {} at {} already.", part.title, row.price, row.vendor),
    };
    Duplicate { lines: vec![row.line], same_as_line, same_as, message }
}

/// A price is of a package: where the file names another one, or one that covers another amount, it is not this
/// part's price.
fn is_the_same_package(planner: &mut Planner<'_>, place: usize, row: &PriceListRow, part: &Part) -> bool {
    let remedy = "Correct the line, or record a part of its own for that package.";
    if let Some(package) = row.package.as_ref().filter(|package| fold(package) != fold(&part.package)) {
        let message = format!(
            "{} is bought by the {}, and this is the price of a {package}.",
            part.title, part.package
        );
        planner.refuse(place, row.line, "package", message, remedy);
        return false;
    }
    if let Some(covers) = row.covers.filter(|covers| *covers != part.covers) {
        let message =
            format!("A {} of {} covers {}, and here {covers}.", part.package, part.title, part.covers);
        planner.refuse(place, row.line, "covers", message, remedy);
        return false;
    }
    true
}

fn note_startling(planner: &mut Planner<'_>, change: &PriceChange) {
    let (Some(old), Some(by)) = (change.old, change.change) else { return };
    if by.decimal().abs() > STARTLING.decimal() {
        let way = if by.decimal() < Decimal::ZERO { "falls" } else { "rises" };
        let message = format!(
            "{} at {} {way} from {old} to {}: see that this is right.",
            change.part, change.vendor, change.new
        );
        planner.notes.push(Note::new(vec![change.line], message));
    }
}

//! What missing kick-outs cost on the firm's own record, beside what the pieces would cost.

use super::gathered::{ConditionGroup, JobCondition, THIN_BELOW, group};
use crate::job::roof::measured_roof;
use crate::rates::RateBook;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::Cause;
use ledger::facts::Part;
use ledger::{Books, Id};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{Item, Money, Qty, Rate};

/// What missing kick-outs cost on the roofs that the firm tore off, beside what the pieces would cost. A record of
/// what was, not a forecast: nobody knows how many roofs without one stayed sound.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct KickOuts {
    /// Conditions whose cause was a missing kick-out, and their money.
    pub found: ConditionGroup,
    /// Roofs opened in all.
    pub roofs: usize,
    /// The roofs with such conditions.
    pub without: Vec<RoofWithout>,
    /// Kick-outs at every wall end of those roofs, one for each roof at the least.
    pub pieces: i64,
    /// Of those roofs, how many were measured, so that their wall ends are counted.
    pub measured: usize,
    /// What one kick-out costs the firm now, where a price is known.
    pub price_each: Option<Rate>,
    /// What all of them would cost at that price: the pieces, without setting them.
    pub pieces_cost: Option<Money>,
    /// What repairing came to on a roof where one was missing: spent ÷ jobs.
    pub spent_a_job: Option<Money>,
    /// Whether there are too few such roofs to say much: fewer than five.
    pub thin: bool,
}

/// A roof on which a missing kick-out was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RoofWithout {
    /// The job's number.
    pub job: String,
    /// Its wall ends, where it was measured.
    pub wall_ends: Option<i64>,
    /// Kick-outs that it would take: one at each wall end, one at the least.
    pub pieces: i64,
}

pub(super) fn kick_outs(
    books: Books<'_>,
    on: Date,
    all: &[JobCondition],
    roofs: usize,
) -> Result<KickOuts, OfficeError> {
    let missing: Vec<&JobCondition> =
        all.iter().filter(|found| found.condition.condition.cause == Cause::MissingKickOut).collect();
    let jobs: BTreeMap<&str, Id> = missing.iter().map(|found| (found.number.as_str(), found.job)).collect();
    let mut without = Vec::with_capacity(jobs.len());
    for (number, id) in jobs {
        let wall_ends = wall_ends(books, id)?;
        // One was missing, so that there is at least one wall end, whatever the plan shows.
        let pieces = wall_ends.unwrap_or(1).max(1);
        without.push(RoofWithout { job: number.to_owned(), wall_ends, pieces });
    }
    let found = group(Cause::MissingKickOut.as_str().to_owned(), missing.into_iter());
    let pieces = without.iter().map(|roof| roof.pieces).sum();
    let price_each = price_each(books, on)?;
    Ok(KickOuts {
        roofs,
        pieces,
        measured: without.iter().filter(|roof| roof.wall_ends.is_some()).count(),
        price_each,
        pieces_cost: price_each.map(|each| trade::line_amount(each, Qty::whole(pieces))),
        spent_a_job: trade::mean_amount(found.spent, found.jobs),
        thin: found.jobs < THIN_BELOW,
        without,
        found,
    })
}

/// How many eaves end at a side wall, where the roof was measured and its shape is possible.
fn wall_ends(books: Books<'_>, job: Id) -> Result<Option<i64>, OfficeError> {
    let roof = measured_roof(books, job)?;
    Ok(roof.and_then(|(roof, _)| trade::roof::measure(&roof).ok()).map(|measured| measured.wall_ends))
}

/// The lowest price of one kick-out on a day, among the parts on offer.
fn price_each(books: Books<'_>, on: Date) -> Result<Option<Rate>, OfficeError> {
    let rates = RateBook::read(books)?;
    let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let on_offer = parts.iter().filter(|(_, part)| part.item == Item::KickOut && !part.retired);
    let each =
        on_offer.filter_map(|(id, part)| trade::price_of_one(rates.price(*id, on)?.price, part.covers));
    Ok(each.min())
}

//! Which offers are complete: all that they name is here, or comes with them. In a copy for the site an entry may
//! be here without its fact; what names that comes as an entry too.

use super::offer::Offer;
use super::report::TakenIn;
use crate::chain_part::Checked;
use crate::error::LedgerError;
use crate::id::Id;
use crate::links;
use crate::read;
use crate::spine;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::{BTreeMap, HashSet};

/// Keeps the offers that can be taken together and says what the others wait for.
pub(super) fn keep_complete(
    conn: &Connection,
    offers: &mut Vec<Offer>,
    report: &mut TakenIn,
) -> Result<(), LedgerError> {
    loop {
        leave_out_what_has_no_entry(conn, offers)?;
        let lacking = first_lacking(conn, offers)?;
        let Some((place, lacks)) = lacking else { return Ok(()) };
        let (device, seq) = (offers[place].head.device.clone(), offers[place].head.device_seq);
        report.waiting.insert(device.clone(), lacks);
        offers.retain(|offer| offer.head.device != device || offer.head.device_seq < seq);
    }
}

/// A part may fill in facts whose entries come with another part of the same device. Where that one is left out, they
/// wait with it.
fn leave_out_what_has_no_entry(conn: &Connection, offers: &mut Vec<Offer>) -> Result<(), LedgerError> {
    let fresh = offers.iter().flat_map(|offer| &offer.checked);
    let fresh: HashSet<Id> = fresh.map(|checked| checked.header.id).collect();
    let mut held = conn.prepare_cached("SELECT 1 FROM entry WHERE id = ?1")?;
    for offer in offers.iter_mut() {
        let mut filled = Vec::new();
        for checked in std::mem::take(&mut offer.filled) {
            let id = checked.header.id;
            if fresh.contains(&id) || held.exists([id.bytes()])? {
                filled.push(checked);
            }
        }
        offer.filled = filled;
    }
    offers.retain(|offer| !offer.checked.is_empty() || !offer.filled.is_empty());
    Ok(())
}

/// The first offer that names what is neither here nor offered.
fn first_lacking(conn: &Connection, offers: &[Offer]) -> Result<Option<(usize, String)>, LedgerError> {
    let mut offered: HashSet<Id> = HashSet::new();
    let mut ends: BTreeMap<&str, i64> = BTreeMap::new();
    for offer in offers {
        offered.extend(offer.checked.iter().map(|checked| checked.header.id));
        let end = ends.entry(offer.device()).or_insert(0);
        *end = offer.head.device_seq.max(*end);
    }
    let mut held = conn.prepare_cached("SELECT 1 FROM entry WHERE id = ?1")?;
    for (place, offer) in offers.iter().enumerate() {
        for checked in offer.checked.iter().chain(&offer.filled) {
            let at = || format!("its entry {} names", checked.header.device_seq);
            let mut names = match &checked.record {
                Some(record) => links::named(checked.spec, record)?,
                None => Vec::new(),
            };
            names.push(checked.header.person);
            for id in names {
                if !offered.contains(&id) && !held.exists([id.bytes()])? {
                    return Ok(Some((place, format!("{} a fact that has not come", at()))));
                }
            }
            for (device, through) in marks(checked) {
                let end = ends.get(device.as_str()).copied().unwrap_or(0);
                if through > end && through > spine::end_of(conn, &device)?.seq {
                    return Ok(Some((place, format!("{} entries of {device} that have not come", at()))));
                }
            }
        }
    }
    Ok(None)
}

/// Sets the facts aside that name what a copy for the site holds the entry of alone: their job has left it, or is not
/// planned yet as far as whoever sent it knows. They are filled in when they are offered again once that is here.
pub(super) fn set_aside(
    conn: &Connection,
    offers: &mut Vec<Offer>,
    report: &mut TakenIn,
) -> Result<(), LedgerError> {
    loop {
        let whole = |offer: &Offer| -> Vec<Id> {
            let all = offer.checked.iter().chain(&offer.filled);
            all.filter(|checked| checked.record.is_some()).map(|checked| checked.header.id).collect()
        };
        let offered: HashSet<Id> = offers.iter().flat_map(whole).collect();
        let before = report.aside.len();
        for checked in offers.iter_mut().flat_map(|offer| offer.checked.iter_mut().chain(&mut offer.filled)) {
            let Some(record) = &checked.record else { continue };
            let names = links::named(checked.spec, record)?;
            let mut lacks = false;
            for id in names.into_iter().filter(|id| !offered.contains(id)) {
                lacks |= match read::entry_of(conn, id)? {
                    Some(entry) => !read::has_fact(conn, &entry)?,
                    None => true,
                };
            }
            if lacks {
                (checked.record, checked.is_withheld) = (None, true);
                report.aside.insert((checked.header.device.clone(), checked.header.device_seq));
            }
        }
        // What was set aside now may have been named by others.
        if report.aside.len() == before {
            break;
        }
    }
    for offer in offers.iter_mut() {
        offer.filled.retain(|checked| checked.record.is_some());
    }
    offers.retain(|offer| !offer.checked.is_empty() || !offer.filled.is_empty());
    Ok(())
}

/// How far each device's facts were in, for a kind that writes down figures as they stood.
fn marks(checked: &Checked) -> Vec<(String, i64)> {
    let Some(record) = &checked.record else { return Vec::new() };
    let lists = checked.spec.lists.iter().zip(&record.lists);
    let marks = lists.filter(|(list, _)| checked.spec.marks().is_some_and(|marks| marks.table == list.table));
    marks
        .flat_map(|(_, lines)| lines)
        .filter_map(|line| match &line[..] {
            [Value::Text(device), Value::Integer(through)] => Some((device.clone(), *through)),
            _ => None,
        })
        .collect()
}

//! Parts as they were offered, checked by themselves and laid end to end on what is already here.

use super::report::{Fork, RefusedPart, TakenIn};
use crate::chain_part::{ChainPart, Checked};
use crate::device;
use crate::error::LedgerError;
use crate::id::Id;
use crate::read;
use crate::signing::SignedHead;
use crate::spine::{self, ChainEnd};
use rusqlite::Connection;
use std::collections::{BTreeMap, HashSet};

/// A part without what is already here.
#[derive(Debug)]
pub(super) struct Offer {
    pub(super) head: SignedHead,
    /// Entries that are not here yet.
    pub(super) checked: Vec<Checked>,
    /// Facts of which a copy for the site has held the entry alone.
    pub(super) filled: Vec<Checked>,
}

impl Offer {
    pub(super) fn device(&self) -> &str {
        &self.head.device
    }
}

/// Checks the parts and lays them end to end. What is already here is left out; what does not reach is waited for.
pub(super) fn read(
    conn: &Connection,
    parts: &[ChainPart],
    (own, is_site_copy): (&str, bool),
    report: &mut TakenIn,
) -> Result<Vec<Offer>, LedgerError> {
    let mut sorted: Vec<&ChainPart> = parts.iter().collect();
    sorted.sort_by(|left, right| {
        let key = |part: &ChainPart| (part.first_seq(), std::cmp::Reverse(part.head.device_seq));
        device::order(&left.head.device, 0)
            .cmp(&device::order(&right.head.device, 0))
            .then_with(|| key(left).cmp(&key(right)))
    });
    let mut offers = Vec::new();
    let mut ends: BTreeMap<String, ChainEnd> = BTreeMap::new();
    for part in sorted {
        let device = &part.head.device;
        let end = match ends.get(device) {
            Some(end) => end.clone(),
            None => spine::end_of(conn, device)?,
        };
        if part.first_seq() > end.seq + 1 {
            report.waiting.insert(device.clone(), format!("its entry {} has not come", end.seq + 1));
            continue;
        }
        let checked = match check(part, is_site_copy && device != own) {
            Ok(checked) => checked,
            Err(problem) => {
                let (device, device_seq) = (device.clone(), part.head.device_seq);
                report.refused.push(RefusedPart { device, device_seq, problem });
                continue;
            }
        };
        if let Some(fork) = fork(conn, &checked, &offers, &end)? {
            report.forks.push(fork);
            continue;
        }
        let (fresh, held): (Vec<Checked>, Vec<Checked>) =
            checked.into_iter().partition(|checked| checked.header.device_seq > end.seq);
        if let Some(last) = fresh.last() {
            let end = ChainEnd { seq: last.header.device_seq, hash: last.digests.hash };
            ends.insert(device.clone(), end);
            report.waiting.remove(device);
        }
        let filled = if is_site_copy { to_be_filled(conn, held, &offers)? } else { Vec::new() };
        if !fresh.is_empty() || !filled.is_empty() {
            offers.push(Offer { head: part.head.clone(), checked: fresh, filled });
        }
    }
    Ok(offers)
}

/// A job that is planned now brings facts that were only entries here, or are only entries in what is offered before.
fn to_be_filled(
    conn: &Connection,
    held: Vec<Checked>,
    offers: &[Offer],
) -> Result<Vec<Checked>, LedgerError> {
    let all = || offers.iter().flat_map(|offer| offer.checked.iter().chain(&offer.filled));
    let offered: HashSet<Id> = all().map(|checked| checked.header.id).collect();
    let whole = all().filter(|checked| checked.record.is_some());
    let whole: HashSet<Id> = whole.map(|checked| checked.header.id).collect();
    let mut filled = Vec::new();
    for checked in held.into_iter().filter(|checked| checked.record.is_some()) {
        let id = checked.header.id;
        let is_lacking = match read::entry_of(conn, id)? {
            Some(entry) => !read::has_fact(conn, &entry)?,
            None => offered.contains(&id),
        };
        if is_lacking && !whole.contains(&id) {
            filled.push(checked);
        }
    }
    Ok(filled)
}

/// A copy for the site takes no sealed part of another device in, whoever sends it one.
fn check(part: &ChainPart, is_open_only: bool) -> Result<Vec<Checked>, String> {
    if !is_open_only || part.entries.iter().all(|sent| sent.sealed.is_none()) {
        return part.check();
    }
    let mut open = part.clone();
    for sent in &mut open.entries {
        sent.sealed = None;
    }
    open.check()
}

/// The first entry that is here with another hash than was offered, or that does not follow on what is here.
fn fork(
    conn: &Connection,
    checked: &[Checked],
    offers: &[Offer],
    end: &ChainEnd,
) -> Result<Option<Fork>, LedgerError> {
    for next in checked {
        let (device, seq) = (&next.header.device, next.header.device_seq);
        let differs = if seq <= end.seq {
            let offered = offers.iter().filter(|offer| offer.device() == device);
            let offered = offered.flat_map(|offer| &offer.checked).find(|held| held.header.device_seq == seq);
            let held = match offered {
                Some(held) => Some(held.digests.hash),
                None => spine::hash_at(conn, device, seq)?,
            };
            held != Some(next.digests.hash)
        } else {
            seq == end.seq + 1 && next.header.prev_hash != end.hash
        };
        if differs {
            return Ok(Some(Fork { device: device.clone(), device_seq: seq }));
        }
    }
    Ok(None)
}

/// Leaves a part out, with whatever of its device follows on it.
pub(super) fn drop_from(offers: &mut Vec<Offer>, place: usize, problem: &str, report: &mut TakenIn) {
    let (device, device_seq) = (offers[place].head.device.clone(), offers[place].head.device_seq);
    report.refused.push(RefusedPart { device: device.clone(), device_seq, problem: problem.to_owned() });
    offers.retain(|offer| offer.head.device != device || offer.head.device_seq < device_seq);
}

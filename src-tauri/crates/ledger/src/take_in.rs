//! Taking in what other devices wrote: checked, in one transaction, whatever the order in which it comes. Whether a
//! fact is taken never depends on what the books here happen to say: it was right where it was written, and what two
//! devices say against each other is a question for a person.
//!
//! What has to be there before a part of a chain can be taken: the entries before it, the device on the roster, the
//! facts that it names, and for a close the entries that its marks name. Until then the part waits.

mod belief;
mod offer;
mod order;
mod report;

pub use report::{FOUNDER_KEY, Fork, MayRecord, RefusedPart, TakenIn};

use crate::append::{self, Ledger};
use crate::calendar::Calendar;
use crate::chain_part::{ChainPart, Checked};
use crate::error::LedgerError;
use crate::facts::{DeviceLeft, Fact};
use crate::id::{Digest, Id};
use crate::links;
use crate::new_fact::NewFact;
use crate::rules;
use crate::site_copy;
use crate::spine;
use crate::totals;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use offer::Offer;
use rusqlite::{Connection, TransactionBehavior, params};
use std::collections::HashSet;

/// Why writing stopped.
enum Stop {
    /// A part says what no fact can say.
    At {
        offer: usize,
        problem: String,
    },
    Error(LedgerError),
}

impl<E: Into<LedgerError>> From<E> for Stop {
    fn from(error: E) -> Stop {
        Stop::Error(error.into())
    }
}

impl Ledger {
    /// Takes in parts of other devices' chains: all that can be taken, in one transaction. Parts may come in any
    /// order, more than once, and overlap.
    ///
    /// # Errors
    /// When the disk refuses. What is wrong with a part is no error but stands in the answer.
    pub fn take_in(
        &mut self,
        parts: &[ChainPart],
        at: Timestamp,
        may_record: MayRecord<'_>,
    ) -> Result<TakenIn, LedgerError> {
        let mut report = TakenIn::default();
        let is_site_copy = site_copy::is_site_copy(&self.conn)?;
        let mut offers = offer::read(&self.conn, parts, (&self.device, is_site_copy), &mut report)?;
        loop {
            belief::keep_believed(&self.reading(), &mut offers, may_record, &mut report)?;
            order::keep_complete(&self.conn, &mut offers, &mut report)?;
            if is_site_copy {
                order::set_aside(&self.conn, &mut offers, &mut report)?;
            }
            if offers.is_empty() {
                break;
            }
            let before = (self.end.clone(), self.calendar.clone());
            match self.write_offers(&offers, is_site_copy) {
                Ok(()) => {
                    for offer in &offers {
                        let count = u64::try_from(offer.checked.len() + offer.filled.len()).unwrap_or(0);
                        *report.taken.entry(offer.device().to_owned()).or_default() += count;
                    }
                    break;
                }
                Err(Stop::At { offer, problem }) => {
                    (self.end, self.calendar) = before;
                    self.totals.forget();
                    offer::drop_from(&mut offers, offer, &problem, &mut report);
                }
                Err(Stop::Error(error)) => {
                    (self.end, self.calendar) = before;
                    self.totals.forget();
                    return Err(error);
                }
            }
        }
        self.keep_ends_of(report.taken.keys().map(String::as_str))?;
        self.raise_marks(at)?;
        Ok(report)
    }

    fn write_offers(&mut self, offers: &[Offer], is_site_copy: bool) -> Result<(), Stop> {
        self.identity.still_at(&self.path)?;
        let tx = rusqlite::Transaction::new_unchecked(&self.conn, TransactionBehavior::Immediate)?;
        // Two devices' facts may name each other's, so that in no order each finds what it names already there.
        tx.execute_batch("PRAGMA defer_foreign_keys = ON")?;
        let facts = facts(offers, is_site_copy)?;
        let is_filled = offers.iter().any(|offer| !offer.filled.is_empty());
        let anew = is_filled || needs_rebuild(&tx, &facts)?;
        if !anew {
            for (_, new) in &facts {
                self.totals.before(&tx, &self.calendar, new)?;
            }
        }
        for (place, offer) in offers.iter().enumerate() {
            for checked in &offer.checked {
                insert(&tx, place, checked)?;
            }
            for checked in &offer.filled {
                if let Some(record) = &checked.record {
                    spine::insert_rows(&tx, checked.spec, checked.header.id, record)?;
                }
            }
            keep_head(&tx, offer)?;
        }
        for (place, offer) in offers.iter().enumerate() {
            check_form(&tx, place, offer)?;
        }
        if anew {
            totals::rebuild(&tx, &mut |_| true)?;
            self.calendar = Calendar::read(&tx)?;
        } else {
            for (checked, new) in &facts {
                let floor = self.calendar.floor(&checked.header.device, checked.header.device_seq);
                self.totals.after(&tx, &self.calendar, new, floor)?;
            }
            self.totals.settle(&tx, &self.calendar)?;
            self.totals.flush(&tx)?;
        }
        self.end = spine::end_of(&tx, &self.device)?;
        append::commit(tx)?;
        self.identity.still_at(&self.path)?;
        Ok(())
    }

    /// Where a device left, and more of it was taken in here before that was known, says so: what rests on it must not
    /// be lost on the others.
    fn raise_marks(&mut self, at: Timestamp) -> Result<(), LedgerError> {
        let roster = self.reading().roster()?;
        let Some(person) =
            roster.member(&self.device).filter(|me| me.last_seq.is_none()).and_then(|me| me.person)
        else {
            return Ok(());
        };
        let mut batch = Vec::new();
        for member in roster.members() {
            let held = spine::end_of(&self.conn, &member.letter)?.seq;
            if member.last_seq.is_some_and(|last| last < held) {
                let fact = DeviceLeft {
                    date: at.to_zoned_datetime(TimeZone::UTC).date(),
                    device: member.id,
                    last_seq: held,
                    reason: None,
                };
                batch.push(NewFact { id: Id::now(), person, fact: fact.into() });
            }
        }
        if !batch.is_empty() {
            self.append(&batch, at)?;
        }
        Ok(())
    }
}

/// The facts of offers as the stored totals see them. In a copy for the site what is withheld counts as nothing.
fn facts(offers: &[Offer], is_site_copy: bool) -> Result<Vec<(&Checked, NewFact)>, Stop> {
    let mut facts = Vec::new();
    for (place, offer) in offers.iter().enumerate() {
        for checked in &offer.checked {
            if checked.is_withheld && !is_site_copy {
                return Err(at_offer(place, checked, "it is withheld, and these books hold all of it"));
            }
            let Some(record) = &checked.record else { continue };
            let fact = Fact::from_record(checked.spec.kind, record)
                .map_err(|problem| at_offer(place, checked, problem))?;
            facts.push((checked, NewFact { id: checked.header.id, person: checked.header.person, fact }));
        }
    }
    Ok(facts)
}

/// Whether the totals are worked out anew rather than carried on: where facts that are already booked move to another
/// month or count otherwise, and where more comes than is there.
fn needs_rebuild(conn: &Connection, facts: &[(&Checked, NewFact)]) -> Result<bool, LedgerError> {
    let held: i64 = conn.query_row("SELECT count(*) FROM entry", [], |row| row.get(0))?;
    if usize::try_from(held).unwrap_or(usize::MAX) < facts.len() {
        return Ok(true);
    }
    let mut taken_back = HashSet::new();
    let mut reversed = conn.prepare_cached("SELECT 1 FROM reversal WHERE reverses = ?1")?;
    for (_, new) in facts {
        match &new.fact {
            Fact::MonthClosed(_) | Fact::HandOff(_) | Fact::Firm(_) => return Ok(true),
            Fact::Reversal(reversal) => {
                let again = !taken_back.insert(reversal.reverses);
                if again || reversed.exists([reversal.reverses.bytes()])? {
                    return Ok(true);
                }
            }
            _ => {}
        }
    }
    Ok(false)
}

fn at_offer(offer: usize, checked: &Checked, problem: impl std::fmt::Display) -> Stop {
    let problem = format!("entry {} {}: {problem}", checked.header.device, checked.header.device_seq);
    Stop::At { offer, problem }
}

fn insert(conn: &Connection, place: usize, checked: &Checked) -> Result<(), Stop> {
    let mut known = conn.prepare_cached("SELECT 1 FROM entry WHERE id = ?1")?;
    if known.exists([checked.header.id.bytes()])? {
        return Err(at_offer(place, checked, "its fact is already here under another number"));
    }
    let record = checked.record.as_ref();
    spine::insert(conn, checked.spec, &checked.header, &checked.digests, record).map_err(
        |error| match error {
            // What a table's own CHECK refuses is no fact, whoever wrote it.
            LedgerError::Sqlite(error)
                if error.sqlite_error_code() == Some(rusqlite::ErrorCode::ConstraintViolation) =>
            {
                at_offer(place, checked, error)
            }
            other => Stop::Error(other),
        },
    )
}

/// What is asked of every fact, wherever it was written. Where a part of it is withheld there is nothing to ask.
fn check_form(conn: &Connection, place: usize, offer: &Offer) -> Result<(), Stop> {
    let mut found = links::Found::default();
    for checked in offer.checked.iter().filter(|checked| !checked.is_withheld) {
        let Some(record) = &checked.record else { continue };
        let fact = Fact::from_record(checked.spec.kind, record)
            .map_err(|problem| at_offer(place, checked, problem))?;
        let written = links::Written::Elsewhere;
        let form = links::check(conn, checked.header.id, written, checked.spec, record, &mut found)
            .and_then(|()| rules::check(conn, &fact, checked.spec, record));
        match form {
            Ok(()) => {}
            Err(refused @ LedgerError::Refused { .. }) => return Err(at_offer(place, checked, refused)),
            Err(other) => return Err(Stop::Error(other)),
        }
    }
    Ok(())
}

/// Keeps the newest head that a device signed, so that this device can hand its entries on.
/// The head of a part whose entries did not all come says nothing of what is here.
fn keep_head(conn: &Connection, offer: &Offer) -> Result<(), LedgerError> {
    let head = &offer.head;
    if spine::end_of(conn, &head.device)?.seq < head.device_seq {
        return Ok(());
    }
    conn.prepare_cached(
        "INSERT INTO signed_head (device, device_seq, hash, signature) VALUES (?1, ?2, ?3, ?4)
         ON CONFLICT (device) DO UPDATE SET device_seq = excluded.device_seq, hash = excluded.hash,
         signature = excluded.signature WHERE excluded.device_seq > device_seq",
    )?
    .execute(params![head.device, head.device_seq, head.hash, head.signature])?;
    Ok(())
}

impl Ledger {
    /// This device's last entry and that entry's hash: what it signs.
    #[must_use]
    pub fn own_end(&self) -> (i64, Digest) {
        (self.end.seq, self.end.hash)
    }
}

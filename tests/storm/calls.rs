//! The n-th call fails, of the disk, of the store and of the clock, each in its turn. What was to be done is done or
//! refused in words; nothing falls over, nothing is called damaged that only could not be read just then, and
//! afterwards the ledger is whole.

use crate::books::{direct_cost, holds, now, place};
use crate::disk::Disk;
use crate::firm::{exchange, firm, same, settle};
use crate::liar::Liar;
use crate::nth::{Nth, each_call_fails};
use acceptance::is_soak;
use exchange::{ExchangeError, Store};
use jiff::Timestamp;
use ledger::{Id, Ledger, LedgerError, Reader};
use office::{Clock, Desk, OfficeError, Recorder};
use serde_json::json;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Something that is done to a ledger. What was acknowledged goes into the map, and what went wrong is answered.
type Deed = fn(&Path, &mut BTreeMap<i64, Id>) -> Result<(), OfficeError>;

/// Three batches; one that fails is tried again at once, as a person would.
fn append(path: &Path, said: &mut BTreeMap<i64, Id>) -> Result<(), OfficeError> {
    let mut ledger = Ledger::open(path)?;
    let mut trouble = None;
    for (first, size) in [(500, 1), (600, 20), (700, 1)] {
        let batch: Vec<_> = (first..first + size).map(direct_cost).collect();
        if let Err(error) = ledger.append(&batch, now()) {
            ledger.append(&batch, now()).expect("the second time nothing fails");
            trouble = Some(error);
        }
        for (place, new) in (1..).zip(batch.iter().rev()) {
            said.insert(ledger.last_seq() + 1 - place, new.id);
        }
    }
    trouble.map_or(Ok(()), |error| Err(error.into()))
}

fn read(path: &Path, _: &mut BTreeMap<i64, Id>) -> Result<(), OfficeError> {
    let reader = Reader::open(path)?;
    reader.books().all::<ledger::facts::DirectCost>()?;
    let desk = Desk::read(path, Clock::System)?;
    office::month_end(&desk, office::Month::parse("2026-03").expect("a month")).map(|_| ())
}

fn rebuild(path: &Path, _: &mut BTreeMap<i64, Id>) -> Result<(), OfficeError> {
    Ok(Ledger::open(path)?.rebuild(&mut |_| true)?)
}

/// What could not be read is not what was written otherwise.
fn verify(path: &Path, _: &mut BTreeMap<i64, Id>) -> Result<(), OfficeError> {
    let verdict = ledger::verify(path, &mut |_| true)?;
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    Ok(())
}

fn copies(path: &Path, _: &mut BTreeMap<i64, Id>) -> Result<(), OfficeError> {
    let beside = |name: &str| path.with_file_name(name);
    let made = ledger::back_up(path, &beside("safe.tearoff"), &mut |_| true);
    if made.is_ok() {
        let again = ledger::restore(&beside("safe.tearoff"), &beside("again.tearoff"), &mut |_| true)?;
        assert!(again.is_good(), "{:?}", again.problems);
    }
    let names = std::fs::read_dir(path.parent().expect("a folder")).expect("the folder");
    let left = names.filter_map(|name| name.expect("a name").file_name().into_string().ok());
    let half: Vec<String> = left.filter(|name| name.starts_with(".tearoff")).collect();
    assert!(half.is_empty(), "half-made copies are left: {half:?}");
    let verdict = made?;
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    Ok(())
}

const DEEDS: [(&str, Deed); 5] =
    [("append", append), ("read", read), ("rebuild", rebuild), ("verify", verify), ("copies", copies)];

#[test]
fn whichever_call_of_the_disk_fails_it_is_said_and_nothing_is_lost() {
    let disk = Disk::here();
    for (name, deed) in DEEDS {
        let mut told = 0;
        let tried = each_call_fails(9, is_soak(), |nth| {
            let at = place(3);
            let mut said = BTreeMap::new();
            disk.fails(at.folder.path(), nth);
            let outcome = deed(&at.path, &mut said);
            disk.clears(at.folder.path());
            if let Err(error) = outcome {
                told += 1;
                // The machine's own trouble, and neither damage nor a foreign file.
                assert_eq!(error.code, office::Code::Io, "{name}: {error}");
                assert!(error.message.contains("Nothing was half-written."), "{name}: {error}");
            }
            let end = holds(&at.path, &said);
            let whole = 5 + 3 + i64::try_from(said.len()).expect("a count");
            assert_eq!(end, whole, "{name}");
        });
        assert!(told * 3 > tried, "{name}: of {tried} failed calls only {told} were told of");
    }
}

/// A line to a store that fails once.
struct Line<'a> {
    store: &'a dyn Store,
    nth: &'a Arc<Nth>,
}

impl Line<'_> {
    fn call(&self) -> Result<(), ExchangeError> {
        if self.nth.fails_now() { Err(ExchangeError::Store("the line was cut".to_owned())) } else { Ok(()) }
    }
}

impl Store for Line<'_> {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.call()?;
        self.store.put(name, bytes)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        self.call()?;
        self.store.get(name)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.call()?;
        self.store.list(folder)
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.call()?;
        self.store.delete(name)
    }
}

#[test]
fn whichever_call_of_the_store_fails_all_come_to_the_same() {
    Disk::here();
    let tried = each_call_fails(4, is_soak(), |nth| {
        let dice = Liar::new(3);
        let store = dice.honest();
        let mut devices = firm();
        settle(&mut devices, &store);
        let mut recorded = devices.iter_mut().map(|device| device.takes_a_photo(&dice)).sum::<i64>();
        let line = Line { store: &store, nth };
        for _ in 0..2 {
            recorded += devices.iter_mut().map(|device| device.something_happens(&dice)).sum::<i64>();
            for device in &mut devices {
                exchange(device, &line);
            }
        }
        settle(&mut devices, &store);
        same(&devices, recorded, 3);
    });
    assert!(tried >= 3, "only {tried}");
}

/// Clocks that cannot be right, in their turn.
const WRONG: [&str; 3] = ["1969-12-31T23:59:59Z", "2019-06-01T00:00:00Z", "9999-12-30T00:00:00Z"];

#[test]
fn whenever_the_clock_jumps_nothing_is_stamped_with_it() {
    Disk::here();
    for wrong in WRONG {
        each_call_fails(4, is_soak(), |nth| {
            let at = place(0);
            let right: Timestamp = "2026-05-04T07:30:00Z".parse().expect("a moment");
            let mut desk = Desk::open(&at.path, Clock::fixed(right)).expect("a desk");
            for n in 0..8 {
                let fact = json!({"kind": "direct-cost", "date": "2026-03-05", "job": "26-001", "code": "haul",
                    "cost_kind": "disposal", "description": format!("load {n}"), "amount": "1.00"});
                if nth.fails_now() {
                    let kept = desk.clock.clone();
                    desk.clock = Clock::fixed(wrong.parse().expect("a moment"));
                    let refused = Recorder::default().record(&mut desk, fact.clone()).expect_err(wrong);
                    // By a clock that is wrong by years, the day of the fact is asked about first.
                    let field = refused.field.as_deref();
                    assert!(matches!(field, Some("clock" | "date")), "{wrong}: {refused}");
                    desk.clock = kept;
                }
                Recorder::default().record(&mut desk, fact).expect("the clock is right again");
            }
            drop(desk);
            assert_eq!(holds(&at.path, &BTreeMap::new()), 5 + 8);
        });
    }
}

/// A folder that cannot be written is called that, and no other program's file.
#[test]
fn a_ledger_that_cannot_be_opened_is_not_called_foreign() {
    let disk = Disk::here();
    let at = place(0);
    disk.fails(at.folder.path(), &Nth::at(1));
    let error = Ledger::open(&at.path).expect_err("it cannot be opened");
    disk.clears(at.folder.path());
    assert!(matches!(error, LedgerError::Io { .. }), "{error:?}");
    assert!(error.to_string().contains("see who may write there"), "{error}");
    holds(&at.path, &BTreeMap::new());
}

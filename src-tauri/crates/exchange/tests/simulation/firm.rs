//! A small firm on three devices: the owner's, the bookkeeper's, and a tablet for the site.

use crate::liar::Liar;
use desk::record::Recorder;
use desk::{Clock, Desk, NewFirm, OfficeError};
use exchange::{DeviceSecrets, ExchangeError, Round, Store, round};
use jiff::Timestamp;
use jiff::civil::date;
use ledger::coming::PIECE_BYTES;
use ledger::draft::DEVICE;
use ledger::facts::{Attachment, Bill, Condition};
use ledger::site_copy::{COPY, SITE};
use ledger::take_in::FOUNDER_KEY;
use ledger::{Digest, Ledger};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// A device with its file and its keys.
pub(crate) struct Device {
    _home: tempfile::TempDir,
    pub(crate) desk: Desk,
    pub(crate) secrets: DeviceSecrets,
    pub(crate) letter: &'static str,
    made: u32,
}

fn clock(letter: &str) -> Clock {
    // Clocks that are wrong by hours against each other.
    let hour = i8::try_from(letter.as_bytes()[0] - b'A').expect("a small number") * 7;
    let at =
        date(2026, 3, 20).at(hour, 0, 0, 0).to_zoned_datetime(jiff::tz::TimeZone::UTC).expect("a moment");
    Clock::fixed(at.timestamp())
}

fn record(desk: &mut Desk, fact: Value) -> Result<(), OfficeError> {
    Recorder::default().record(desk, fact).map(|_| ())
}

/// The firm, with the roster on the owner's device and the founder's key on the others.
pub(crate) fn firm() -> Vec<Device> {
    let keys: Vec<DeviceSecrets> = (0..3).map(|_| DeviceSecrets::new().expect("keys")).collect();
    let home = tempfile::tempdir().expect("a folder");
    let said = json!({"name": "Gable and Eave", "town": "Otter Bend", "state": "LK"});
    let said = said.as_object().expect("an object").clone();
    let firm = NewFirm::usual("Olive Marsh", said, date(2026, 1, 1)).expect("a firm");
    let mut owner = Desk::make(&home.path().join("firm.tearoff"), &firm, clock("A")).expect("a desk");
    owner.rise();
    let mut facts = vec![
        json!({"kind": "crew", "name": "One", "size": 2, "hours_a_day": "8"}),
        json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "One"}),
        json!({"kind": "pay-rate", "date": "2026-01-01", "person": "Bo Finch", "hourly": "20.00"}),
        json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
        json!({"kind": "vendor", "name": "Yard"}),
        json!({"kind": "customer", "name": "Ada Birch"}),
        json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof", "customer": "Ada Birch",
            "site": "1 Mill Lane"}),
        json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "900.00", "included_sheets": "0",
            "included_feet": "0", "retainage": "0",
            "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "500.00"}]}),
    ];
    for ((letter, role), key) in [("A", "owner"), ("B", "books"), ("C", "crew")].into_iter().zip(&keys) {
        facts.push(json!({"kind": "device", "date": "2026-03-01", "letter": letter, "name": format!("device {letter}"),
            "role": role, "person": "Olive Marsh", "signs_with": key.signs_with(), "locks_with": key.locks_with()}));
    }
    for fact in facts {
        record(&mut owner, fact.clone()).unwrap_or_else(|refused| panic!("{fact}: {refused}"));
    }
    let founder = keys[0].signs_with().to_string();
    let mut desks = vec![(home, owner)];
    for letter in ["B", "C"] {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("firm.tearoff");
        let mut ledger = Ledger::create(&path).expect("a ledger");
        ledger.set_setting(DEVICE, letter).expect("a letter");
        ledger.set_setting(FOUNDER_KEY, &founder).expect("a key");
        if letter == "C" {
            ledger.set_setting(COPY, SITE).expect("a copy for the site");
        }
        drop(ledger);
        desks.push((home, Desk::open(&path, clock(letter)).expect("a desk")));
    }
    let letters = ["A", "B", "C"].into_iter().zip(desks).zip(keys);
    let device = |((letter, (home, desk)), secrets)| Device { _home: home, desk, secrets, letter, made: 0 };
    letters.map(device).collect()
}

impl Device {
    pub(crate) fn tick(&mut self) -> Timestamp {
        self.desk.clock.tick().0
    }

    pub(crate) fn ends(&self) -> Vec<(String, i64)> {
        self.desk.books().device_ends().expect("ends")
    }

    /// Something is recorded, such as each of them records. Answers how many facts.
    pub(crate) fn something_happens(&mut self, dice: &Liar) -> i64 {
        // What is refused, such as the same number twice, is no fact.
        self.tries_something(dice).unwrap_or(0)
    }

    /// As [`Device::something_happens`], where the machine may not do what it should.
    pub(crate) fn tries_something(&mut self, dice: &Liar) -> Result<i64, OfficeError> {
        self.made += 1;
        let day = format!("2026-03-{:02}", 3 + dice.chance(20));
        let amount = format!("{}.{:02}", 1 + dice.chance(90), dice.chance(100));
        let number = self.made.to_string();
        if dice.chance(12) == 0 {
            return self.tries_a_photo(dice);
        }
        let kind = dice.chance(4);
        let fact = match (self.letter, kind) {
            ("C", 0) | (_, 0) => json!({"kind": "condition", "date": day, "job": "26-001", "number": number,
                "place": "eave", "cause": "ice-dam", "damaged": "rafter", "counted_in": "each", "count": "1"}),
            ("C", 1..=3) | ("A", 1) => json!({"kind": "time-entry", "date": day, "person": "Bo Finch",
                "job": "26-001", "code": "tear", "hours": "1.5"}),
            ("B", 1) => json!({"kind": "payment", "date": day, "customer": "Ada Birch", "amount": amount,
                "method": "check"}),
            ("B", 2) => json!({"kind": "invoice", "date": day, "job": "26-001", "number": number,
                "purpose": "progress", "due": day, "lines": [{"description": "work", "amount": amount}]}),
            _ => json!({"kind": "direct-cost", "date": day, "job": "26-001", "code": "tear",
                "cost_kind": "disposal", "description": "load", "amount": amount}),
        };
        record(&mut self.desk, fact).map(|()| 1)
    }

    /// Keeps a file that no other fact names.
    pub(crate) fn keeps(&mut self, bytes: &[u8], media_type: &str) -> Digest {
        let kept = desk::attachments::attach(&mut self.desk, bytes, media_type, None).expect("a photo");
        Digest::parse(&kept.hash).expect("a hash")
    }

    pub(crate) fn has(&self, hash: Digest) -> bool {
        ledger::attachment::read(&self.desk.path(), hash).is_ok()
    }

    /// A hidden condition with its photo, or in the office a bill with its picture, which is no site's. Answers how
    /// many facts.
    pub(crate) fn takes_a_photo(&mut self, dice: &Liar) -> i64 {
        self.tries_a_photo(dice).expect("a photo")
    }

    fn tries_a_photo(&mut self, dice: &Liar) -> Result<i64, OfficeError> {
        self.made += 1;
        let (day, number) = ("2026-03-09", self.made.to_string());
        let length = 1 + dice.chance(3 * PIECE_BYTES);
        let seed = u8::try_from(dice.chance(251)).expect("a byte");
        let bytes: Vec<u8> = (0..length).map(|n| u8::try_from(n % 251).expect("a byte") ^ seed).collect();
        let named = self.desk.books().all::<Attachment>()?.len();
        let kept = desk::attachments::attach(&mut self.desk, &bytes, "image/jpeg", None)?;
        let is_new = self.desk.books().all::<Attachment>()?.len() > named;
        let fact = match self.letter {
            "B" => {
                json!({"kind": "bill", "date": day, "vendor": "Yard", "reference": number, "picture": kept.hash,
                "lines": [{"job": "26-001", "code": "tear", "cost_kind": "disposal", "description": "load",
                    "amount": "5.00"}]})
            }
            _ => json!({"kind": "condition", "date": day, "job": "26-001", "number": format!("P{number}"),
                "place": "eave", "cause": "ice-dam", "damaged": "rafter", "counted_in": "each", "count": "1",
                "photos": [{"photo": kept.hash}]}),
        };
        Ok(i64::from(is_new) + i64::from(record(&mut self.desk, fact).is_ok()))
    }

    pub(crate) fn says_that_c_left(&mut self, last_seq: i64) {
        let roster = self.desk.books().roster().expect("a roster");
        let tablet = roster.member("C").expect("C").id;
        let left =
            json!({"kind": "device-left", "date": "2026-03-21", "device": tablet, "last_seq": last_seq});
        record(&mut self.desk, left).expect("it left");
    }

    /// The photos and papers whose facts it holds.
    fn attached(&self) -> BTreeSet<Digest> {
        let attached = self.desk.books().all::<Attachment>().expect("photos");
        attached.into_iter().map(|held| held.fact.hash).collect()
    }

    fn hashes(&self) -> Vec<(String, i64, Option<Digest>)> {
        let books = self.desk.books();
        let of = |(device, seq): (String, i64)| {
            let hash = books.entry_hash(&device, seq).expect("a hash");
            (device, seq, hash)
        };
        self.ends().into_iter().map(of).collect()
    }
}

/// So many bytes of photos in an exchange: less than the longest of them has, so that they come bit by bit.
pub(crate) const AT_ONCE: u64 = 2 * PIECE_BYTES;

/// An exchange of one device; a store that cannot be reached is tried again the next time.
pub(crate) fn exchange(device: &mut Device, store: &dyn Store) -> Option<Round> {
    let at = device.tick();
    let ledger = device.desk.ledger().expect("a writer");
    let outcome = round(ledger, &device.secrets, store, at, AT_ONCE, &mut |_| true);
    match outcome {
        Ok(done) => {
            assert!(done.taken.refused.is_empty() && done.taken.forks.is_empty(), "{done:?}");
            Some(done)
        }
        Err(ExchangeError::Store(_)) => None,
        Err(other) => panic!("{other}"),
    }
}

/// Everybody exchanges until nothing moves.
pub(crate) fn settle(devices: &mut [Device], store: &dyn Store) {
    for _ in 0..90 {
        let mut moved = false;
        for device in devices.iter_mut() {
            let done = exchange(device, store).expect("an honest store");
            moved |= done.sent > 0 || !done.taken.taken.is_empty() || !done.taken.waiting.is_empty();
            moved |= done.files.is_more || done.files.bytes > 0 || done.files.to_come > 0;
        }
        if !moved {
            return;
        }
    }
    panic!("they never come to rest");
}

/// All hold the same entries, all that were recorded among them, and the same photos and no others.
pub(crate) fn same(devices: &[Device], recorded: i64, seed: u64) {
    // The firm's beginnings are thirteen.
    same_facts(devices, recorded + 13, seed);
    for device in devices {
        let expected = device.attached().len();
        let folder = ledger::open::attachment_folder(&device.desk.path());
        let shelves =
            std::fs::read_dir(&folder).into_iter().flatten().map(|shelf| shelf.expect("a shelf").path());
        let files = shelves.flat_map(|shelf| std::fs::read_dir(shelf).expect("a shelf"));
        assert_eq!(files.count(), expected, "seed {seed}, device {}", device.letter);
    }
}

/// All hold the same entries, so many, each one's totals are what its facts come to, and every photo is whole whose
/// fact it holds.
pub(crate) fn same_facts(devices: &[Device], all: i64, seed: u64) {
    let expected = devices[0].hashes();
    let entries: i64 = expected.iter().map(|(_, seq, _)| seq).sum();
    assert_eq!(entries, all, "seed {seed}");
    for device in devices {
        assert_eq!(device.hashes(), expected, "seed {seed}, device {}", device.letter);
        let verdict = ledger::verify(&device.desk.path(), &mut |_| true).expect("a verdict");
        assert!(verdict.is_good(), "seed {seed}, device {}: {:?}", device.letter, verdict.problems);
    }
    photos(devices, seed);
    let march = trade::Month::parse("2026-03").expect("a month");
    let totals = |of: &Device| {
        of.desk
            .books()
            .job_totals(&[job(of)].into(), march)
            .expect("totals")
            .remove(&job(of))
            .unwrap_or_default()
    };
    assert_eq!(totals(&devices[0]), totals(&devices[1]), "seed {seed}");
}

/// Every photo whose fact a device holds is there, whole; a bill's picture is on no tablet.
fn photos(devices: &[Device], seed: u64) {
    let bills = devices[0].desk.books().all::<Bill>().expect("bills");
    let pictures: BTreeSet<Digest> = bills.into_iter().filter_map(|held| held.fact.picture).collect();
    for device in devices {
        let (path, expected) = (device.desk.path(), device.attached());
        for hash in &expected {
            let read = ledger::attachment::read(&path, *hash);
            assert!(read.is_ok(), "seed {seed}, device {}: {read:?}", device.letter);
        }
        if device.letter == "C" {
            let conditions = device.desk.books().all::<Condition>().expect("conditions");
            let shown: BTreeSet<Digest> =
                conditions.iter().flat_map(|held| &held.fact.photos).map(|photo| photo.photo).collect();
            assert!(expected.is_superset(&shown), "seed {seed}");
            assert!(expected.is_disjoint(&pictures), "seed {seed}");
        } else {
            assert!(expected.is_superset(&pictures), "seed {seed}");
        }
    }
}

fn job(of: &Device) -> ledger::Id {
    of.desk.books().all::<ledger::facts::Job>().expect("jobs")[0].entry.id
}

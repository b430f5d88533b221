//! A tablet is sent facts of a job that it does not hold: one that has left it, or one that is not planned yet as
//! far as the office knows that opened it. Whoever sent them could not know. They come as entries, nothing stops
//! the exchange, and once what they name is there they are filled in.

use crate::firm::{AT_ONCE, Device, exchange, firm, settle};
use desk::record::Recorder;
use desk::{Clock, Desk};
use exchange::{DeviceSecrets, Kept, Store, leave_finished_jobs, round, some_job_has_left};
use ledger::NewFact;
use ledger::facts::{Contract, Job, Payment, Reversal, TimeEntry};
use serde_json::{Value, json};

fn records(device: &mut Device, fact: &Value) {
    Recorder::default()
        .record(&mut device.desk, fact.clone())
        .unwrap_or_else(|error| panic!("{fact}: {error}"));
}

fn hours(day: &str) -> Value {
    json!({"kind": "time-entry", "date": day, "person": "Bo Finch", "job": "26-001", "code": "tear", "hours": "8"})
}

fn finishes(office: &mut Device) {
    records(
        office,
        &json!({"kind": "job-status", "date": "2026-03-07", "job": "26-001", "stage": "finished"}),
    );
}

fn opens_the_porch(office: &mut Device, day: &str) {
    records(
        office,
        &json!({"kind": "job", "date": day, "number": "26-002", "title": "Porch", "customer": "Ada Birch",
            "site": "2 Mill Lane"}),
    );
}

fn contracts_the_porch(office: &mut Device, day: &str) {
    records(
        office,
        &json!({"kind": "contract", "date": day, "job": "26-002", "price": "90.00", "included_sheets": "0",
            "included_feet": "0", "retainage": "0",
            "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "50.00"}]}),
    );
}

/// The jobs, contracts and hours that a device holds.
fn held(device: &Device) -> (usize, usize, usize) {
    let books = device.desk.books();
    let jobs = books.all::<Job>().expect("jobs").len();
    let contracts = books.all::<Contract>().expect("contracts").len();
    (jobs, contracts, books.all::<TimeEntry>().expect("hours").len())
}

fn is_sound(device: &Device) {
    let verdict = ledger::verify(&device.desk.path(), &mut |_| true).expect("a verdict");
    assert!(verdict.is_good(), "{}: {:?}", device.letter, verdict.problems);
}

/// A firm whose devices know each other.
fn in_touch() -> (Kept, Vec<Device>) {
    let (store, mut devices) = (Kept::memory().expect("memory"), firm());
    settle(&mut devices, &store);
    (store, devices)
}

#[test]
fn a_contract_comes_to_the_tablet_before_the_job_that_another_office_opened() {
    let store = Kept::memory().expect("memory");
    let mut devices = firm();
    opens_the_porch(&mut devices[0], "2026-03-05");
    settle(&mut devices, &store);
    assert_eq!(held(&devices[2]), (1, 1, 0), "a job without a contract is not on site");
    contracts_the_porch(&mut devices[1], "2026-03-06");
    exchange(&mut devices[1], &store).expect("a store");
    // The office that opened the job does not know of its contract yet.
    exchange(&mut devices[2], &store).expect("a store");
    assert_eq!(held(&devices[2]), (1, 1, 0));
    is_sound(&devices[2]);
    settle(&mut devices, &store);
    assert_eq!(held(&devices[2]), (2, 2, 0));
    is_sound(&devices[2]);
}

/// It is told how the job ended, though nothing else of that job is for the site any more; and then the job leaves it.
#[test]
fn a_job_that_the_office_finishes_leaves_the_tablet() {
    let (store, mut devices) = in_touch();
    finishes(&mut devices[0]);
    assert_eq!(held(&devices[2]), (1, 1, 0));
    settle(&mut devices, &store);
    leaves(&mut devices[2], &store);
    assert_eq!(held(&devices[2]), (0, 0, 0));
    is_sound(&devices[2]);
    settle(&mut devices, &store);
    assert_eq!(devices[2].ends(), devices[0].ends());
    assert_eq!(held(&devices[2]), (0, 0, 0), "it does not come back");
}

#[test]
fn hours_come_to_a_tablet_for_a_job_that_has_left_it() {
    let (store, mut devices) = in_touch();
    finishes(&mut devices[0]);
    for device in [0, 2, 0] {
        exchange(&mut devices[device], &store).expect("a store");
    }
    leaves(&mut devices[2], &store);
    assert_eq!(held(&devices[2]), (0, 0, 0));
    // The bookkeeper has not heard of it, and goes on.
    Recorder::default().record(&mut devices[1].desk, hours("2026-03-09")).expect("the job is at work, there");
    exchange(&mut devices[1], &Blind(&store)).expect("a store");
    exchange(&mut devices[2], &store).expect("a store");
    assert_eq!(held(&devices[2]), (0, 0, 0));
    is_sound(&devices[2]);
    settle(&mut devices, &store);
    assert_eq!(devices[2].ends(), devices[0].ends());
    assert_eq!((held(&devices[0]).2, held(&devices[2])), (1, (0, 0, 0)));
    is_sound(&devices[2]);
}

/// The tablet has its hours as an entry alone then: sent by it they would be a part that no office takes, in the place
/// of the one that another office could hand on.
#[test]
fn what_has_left_the_tablet_is_handed_on_by_an_office_when_the_store_has_lost_it() {
    let (store, mut devices) = in_touch();
    records(&mut devices[2], &hours("2026-03-06"));
    for device in [2, 0] {
        exchange(&mut devices[device], &store).expect("a store");
    }
    finishes(&mut devices[0]);
    for device in [0, 2, 0] {
        exchange(&mut devices[device], &store).expect("a store");
    }
    leaves(&mut devices[2], &store);
    assert_eq!([0, 1, 2].map(|device| held(&devices[device]).2), [1, 0, 0]);
    let emptied = Kept::memory().expect("memory");
    for _ in 0..8 {
        // The tablet comes first: nobody has handed anything on.
        for device in devices.iter_mut().rev() {
            let done = exchange(device, &emptied).expect("a store");
            assert_eq!(done.taken.refused, [], "{}: {done:?}", device.letter);
        }
    }
    assert_eq!([0, 1, 2].map(|device| held(&devices[device]).2), [1, 1, 0]);
    assert_eq!([1, 2].map(|device| devices[device].ends()), [0, 0].map(|office| devices[office].ends()));
    // What the tablet writes from then on it sends itself.
    opens_the_porch(&mut devices[0], "2026-03-10");
    contracts_the_porch(&mut devices[0], "2026-03-10");
    settle(&mut devices, &emptied);
    let mut more = hours("2026-03-11");
    more["job"] = json!("26-002");
    records(&mut devices[2], &more);
    exchange(&mut devices[2], &emptied).expect("a store");
    let done = exchange(&mut devices[1], &emptied).expect("a store");
    assert_eq!((done.taken.taken.get("C"), held(&devices[1]).2), (Some(&1), 2), "{done:?}");
}

/// A tablet whose program was tampered with takes back what is not a crew's: it holds the entry, and so knows its id.
#[test]
fn what_a_tablet_takes_back_that_is_no_crews_is_refused() {
    let (store, mut devices) = in_touch();
    records(&mut devices[0], &hours("2026-03-09"));
    records(
        &mut devices[1],
        &json!({"kind": "payment", "date": "2026-03-09", "customer": "Ada Birch", "amount": "500.00",
            "method": "check"}),
    );
    settle(&mut devices, &store);
    let payment = devices[1].desk.books().all::<Payment>().expect("payments")[0].entry.id;
    let time = devices[0].desk.books().all::<TimeEntry>().expect("hours")[0].entry.id;
    for (reverses, is_believed) in [(time, true), (payment, false)] {
        let date = jiff::civil::date(2026, 3, 20);
        let reversal = Reversal { date, reverses, reason: "gone".to_owned() };
        let person = devices[2].desk.person().expect("somebody");
        let at = devices[2].tick();
        let new = NewFact { id: ledger::Id::now(), person, fact: reversal.into() };
        devices[2].desk.ledger().expect("a writer").append(&[new], at).expect("its own file takes it");
        exchange(&mut devices[2], &store).expect("a store");
        for office in [0, 1] {
            let at = devices[office].tick();
            let secrets = DeviceSecrets::read(&devices[office].secrets.written()).expect("keys");
            let ledger = devices[office].desk.ledger().expect("a writer");
            let done = round(ledger, &secrets, &store, at, AT_ONCE, &mut |_| true).expect("a round");
            assert_eq!(done.taken.refused.is_empty(), is_believed, "{done:?}");
        }
    }
    for office in &devices[..2] {
        let books = office.desk.books();
        let left =
            (books.all::<Payment>().expect("payments").len(), books.all::<TimeEntry>().expect("hours").len());
        assert_eq!(left, (1, 0), "{}", office.letter);
    }
}

/// The tablet's copy is made anew, as its window does after an exchange.
fn leaves(tablet: &mut Device, store: &Kept) {
    let done = exchange(tablet, store).expect("a store");
    assert!(done.is_all_known && some_job_has_left(tablet.desk.books()).expect("an answer"));
    let path = tablet.desk.path();
    tablet.secrets.keep(&path).expect("keys");
    let spare = tempfile::tempdir().expect("a folder");
    let spare = spare.path().join("spare.tearoff");
    drop(ledger::Ledger::create(&spare).expect("a file"));
    let clock = tablet.desk.clock.clone();
    tablet.desk = Desk::open(&spare, Clock::System).expect("another file");
    leave_finished_jobs(&path).expect("a new copy");
    tablet.desk = Desk::open(&path, clock).expect("its file");
}

/// A store whose heads are not seen: whoever looks learns nothing of the others, and can send.
struct Blind<'a>(&'a Kept);

impl Store for Blind<'_> {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), exchange::ExchangeError> {
        self.0.put(name, bytes)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, exchange::ExchangeError> {
        self.0.get(name)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, exchange::ExchangeError> {
        let names = self.0.list(folder)?;
        Ok(names
            .into_iter()
            .filter(|name| !name.starts_with("heads/A") && !name.starts_with("heads/C"))
            .collect())
    }

    fn delete(&self, name: &str) -> Result<(), exchange::ExchangeError> {
        self.0.delete(name)
    }
}

//! What devices cost each other: taking in what many wrote, a first joining of a large ledger, and the bytes that a
//! crew's day puts on the line. Beside raw SQLite and PostgreSQL with the same rows, and beside copying the whole file.

use crate::firm;
use crate::raw::Raw;
use crate::rows::Rows;
use crate::server;
use crate::times::ratio;
use desk::{Clock, Desk};
use jiff::Timestamp;
use ledger::draft::DEVICE;
use ledger::take_in::FOUNDER_KEY;
use ledger::{ChainPart, DeviceKey, Fact, HowMuch, Id, Ledger, NewFact, SignedHead};
use serde_json::json;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

const DEVICES: u32 = 50;
const FACTS_EACH: u32 = 2000;

fn at() -> Timestamp {
    Timestamp::from_millisecond(1_790_000_000_000).unwrap()
}

/// A, B, … Z, AA, …: the letters of the n-th device from 0.
fn letters(n: u32) -> String {
    let letter = |n: u32| char::from(b'A' + u8::try_from(n % 26).unwrap());
    if n < 26 { letter(n).to_string() } else { format!("A{}", letter(n)) }
}

fn key(n: u32) -> DeviceKey {
    DeviceKey::from_secret([u8::try_from(n + 1).unwrap(); 32])
}

/// All of a ledger's own chain, from an entry on, signed.
fn own_chain(ledger: &Ledger, n: u32, from: i64) -> ChainPart {
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&key(n), ledger.device(), seq, hash);
    ledger.reading().chain_part(&head, from, &mut |_, _, _| Ok(HowMuch::All)).unwrap()
}

/// What each of fifty devices wrote without the others, taken into the office's books in one transaction.
pub(crate) fn take_in_from_many(folder: &Path) {
    let mut office = firm::small(&folder.join("office.tearoff"));
    let owner = office.owner;
    let roster: Vec<NewFact> = (0..=DEVICES)
        .map(|n| {
            let device = json!({"date": "2026-01-02", "letter": letters(n), "name": format!("device {n}"),
                "role": "owner", "person": owner, "signs_with": key(n).public(), "locks_with": format!("age1{n}")});
            office.make(Fact::from_json("device", device).unwrap())
        })
        .collect();
    office.append(&roster);
    let beginnings = own_chain(office.ledger(), 0, 1);
    let (mut parts, mut facts) = (Vec::new(), Vec::new());
    for n in 1..=DEVICES {
        let batch: Vec<NewFact> = (0..FACTS_EACH).map(|at| office.time((n - 1) * FACTS_EACH + at)).collect();
        let mut device = Ledger::create(&folder.join(format!("{}.tearoff", letters(n)))).unwrap();
        device.set_setting(DEVICE, &letters(n)).unwrap();
        device.set_setting(FOUNDER_KEY, &key(0).public().to_string()).unwrap();
        drop(device);
        let mut device = Ledger::open(&folder.join(format!("{}.tearoff", letters(n)))).unwrap();
        let taken = device.take_in(std::slice::from_ref(&beginnings), at(), &|_, _| true).unwrap();
        assert!(taken.refused.is_empty() && taken.waiting.is_empty(), "{taken:?}");
        device.append(&batch, at()).unwrap();
        parts.push(own_chain(&device, n, 1));
        facts.extend(batch);
    }
    let began = Instant::now();
    let taken = office.ledger().take_in(&parts, at(), &|_, _| true).unwrap();
    let ours = began.elapsed();
    assert!(taken.refused.is_empty() && taken.waiting.is_empty() && taken.forks.is_empty(), "{taken:?}");
    let mut raw = Raw::of(&folder.join("many.raw"));
    let began = Instant::now();
    raw.insert(&facts);
    let raw = began.elapsed();
    println!(
        "{DEVICES} devices × {FACTS_EACH} facts    {ours:>10.1?}   raw SQLite {raw:>10.1?}   {:.2} of raw",
        ratio(ours, raw)
    );
    let Some(server) = server::postgresql() else { return };
    let mut rows = Rows::of(&server);
    let database = rows.insert(&facts);
    println!(
        "  the same rows          {ours:>10.1?}   PostgreSQL {database:>10.1?}   {:.2} of its speed",
        ratio(ours, database)
    );
}

/// Everything that lies in a folder, in bytes.
fn bytes_in(folder: &Path) -> u64 {
    let files = std::fs::read_dir(folder).unwrap().map(|file| file.unwrap());
    files
        .map(
            |file| if file.path().is_dir() { bytes_in(&file.path()) } else { file.metadata().unwrap().len() },
        )
        .sum()
}

/// A device that is added in the office and has joined, and what it took until it had everything.
struct Joined {
    desk: Desk,
    sent_in: Duration,
    fetched_in: Duration,
}

fn join(office: &mut Desk, person: Id, folder: &Path, name: &str) -> Joined {
    let file = folder.join(format!("{name}.joining"));
    let added = exchange::add_device(office, name, person, None, &file).unwrap();
    let began = Instant::now();
    let sent = exchange::exchange(office, &mut |_| true).unwrap();
    let sent_in = began.elapsed();
    assert!(sent.is_reached && sent.troubles.is_empty(), "{sent:?}");
    let path = folder.join(format!("{name}.tearoff"));
    let began = Instant::now();
    exchange::join(&file, &added.passphrase, &path).unwrap();
    let mut desk = Desk::open(&path, Clock::System).unwrap();
    let came = exchange::exchange(&mut desk, &mut |_| true).unwrap();
    let fetched_in = began.elapsed();
    assert!(came.is_reached && came.troubles.is_empty(), "{came:?}");
    Joined { desk, sent_in, fetched_in }
}

fn store(folder: &Path, name: &str) -> PathBuf {
    let store = folder.join(name);
    std::fs::create_dir(&store).unwrap();
    store
}

/// A new machine fetches the whole of a large ledger, checks it and works its totals out; beside it the file is copied
/// and read through, which is what one would do to believe it.
pub(crate) fn first_joining(folder: &Path, big: &Path, facts: u32) {
    let (path, store) = (folder.join("big office.tearoff"), store(folder, "big store"));
    let began = Instant::now();
    std::fs::copy(big, &path).unwrap();
    std::fs::File::open(&path).unwrap().sync_all().unwrap();
    let copied = began.elapsed();
    let verdict = ledger::verify::verify(&path, &mut |_| true).unwrap();
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    let read = began.elapsed();
    let mut office = Desk::open(&path, Clock::System).unwrap();
    office.rise();
    exchange::choose_store(&mut office, store.to_str().unwrap(), None).unwrap();
    let owner = office.books().all::<ledger::facts::Person>().unwrap()[0].entry.id;
    let joined = join(&mut office, owner, folder, "spare");
    let (on_line, whole) = (bytes_in(&store), std::fs::metadata(&path).unwrap().len());
    assert_eq!(joined.desk.books().device_ends().unwrap()[0].1, office.books().device_ends().unwrap()[0].1);
    println!(
        "first joining, {facts} facts: sent in {:.1?}, fetched, checked and taken in in {:.1?} ({:.0} facts a second)",
        joined.sent_in,
        joined.fetched_in,
        f64::from(facts) / joined.fetched_in.as_secs_f64()
    );
    println!(
        "  on the line            {:>7} MB   the file {} MB, {:.2} of it; copied in {copied:.1?}, copied and read \
         through in {read:.1?}: joining takes {:.2} times that",
        on_line / 1_000_000,
        whole / 1_000_000,
        mb(on_line) / mb(whole),
        joined.fetched_in.as_secs_f64() / read.as_secs_f64()
    );
}

fn mb(bytes: u64) -> f64 {
    f64::from(u32::try_from(bytes / 1000).unwrap()) / 1000.0
}

/// What four people of a crew write in a day, without photos: hours on two codes each, three finds, what was laid, and
/// the day's checks.
pub(crate) fn day_of_a_crew(folder: &Path) {
    let store = store(folder, "store");
    let mut office = office::sample::write(&folder.join("sample.tearoff"), &mut |_, _| true).unwrap();
    exchange::choose_store(&mut office, store.to_str().unwrap(), None).unwrap();
    let crew = office::people(&office).unwrap().into_iter().find(|person| person.role == office::Role::Crew);
    let person = Id::parse(&crew.unwrap().id).unwrap();
    let Joined { desk: mut tablet, .. } = join(&mut office, person, folder, "tablet");
    tablet.sit(person);
    let today = tablet.clock.today();
    let day = office::site_day(&tablet, today).unwrap();
    let job = &day.jobs[0];
    let mut facts = Vec::new();
    for person in day.people.iter().take(4) {
        for (code, _) in day.codes.iter().take(2) {
            facts.push(json!({"kind": "time-entry", "date": today, "person": person.name, "job": job.number,
                "code": code, "hours": "4"}));
        }
    }
    for (number, place) in [("D1", "eave"), ("D2", "valley"), ("D3", "rake")] {
        facts.push(
            json!({"kind": "condition", "date": today, "job": job.number, "number": number, "place": place,
            "cause": "old-leak", "damaged": "deck-sheet", "counted_in": "sheet", "count": "2",
            "note": "Soft along the edge, dry above it"}),
        );
    }
    facts.extend(job.measured.iter().take(2).map(|line| {
        json!({"kind": "units-done", "date": today, "job": job.number, "code": line.code, "quantity": "6"})
    }));
    let count = facts.len();
    office::Recorder::default().record_all(&mut tablet, facts).unwrap();
    let before = bytes_in(&store);
    let sent = exchange::exchange(&mut tablet, &mut |_| true).unwrap();
    assert!(sent.is_reached && sent.waiting == 0, "{sent:?}");
    let on_line = bytes_in(&store) - before;
    // A quiet look, when nothing is new, costs a listing and no file.
    let quiet = bytes_in(&store);
    exchange::exchange(&mut tablet, &mut |_| true).unwrap();
    assert_eq!(bytes_in(&store), quiet);
    let whole = std::fs::metadata(tablet.path()).unwrap().len();
    let all = std::fs::metadata(office.path()).unwrap().len();
    println!(
        "a crew's day, {count} facts  {on_line:>7} bytes more in the store   the tablet's file {whole}, the office's \
         {all}: copying either would carry {:.0} or {:.0} times as much",
        mb(whole) / mb(on_line.max(1000)),
        mb(all) / mb(on_line.max(1000))
    );
}

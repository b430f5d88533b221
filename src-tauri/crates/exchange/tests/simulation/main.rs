//! Three devices and a store that lies: it loses, delays, cuts, shows old lists, keeps what it was told to delete and
//! rolls back. Whatever it does, once it is honest all devices come to the same entries and totals, and no fact that a
//! device has recorded is lost.

#![cfg(test)]

mod firm;
mod liar;
mod on_site;
mod server;
mod servers;

use exchange::{ExchangeError, Kept, Store, open_store, round};
use firm::{AT_ONCE, Device, exchange, firm, same, settle};
use ledger::coming::PIECE_BYTES;
use liar::Liar;
use std::cell::Cell;
use std::io::Write;
use std::num::NonZero;
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};

fn soak() -> bool {
    std::env::var_os("TEAROFF_SOAK").is_some()
}

#[test]
fn three_devices_come_to_the_same_over_a_store_that_lies() {
    let (seeds, steps) = if soak() { (1000, 1500) } else { (20, 60) };
    let next = AtomicU64::new(1);
    let run = || loop {
        let seed = next.fetch_add(1, Ordering::Relaxed);
        if seed > seeds {
            return;
        }
        three_devices(seed, steps);
        if soak() {
            let words = format!("seed {seed} of {seeds}: all three hold the same\n");
            let _ = std::io::stderr().write_all(words.as_bytes());
        }
    };
    std::thread::scope(|scope| {
        let threads = std::thread::available_parallelism().map_or(1, NonZero::get);
        let at_work: Vec<_> = (0..threads).map(|_| scope.spawn(run)).collect();
        at_work.into_iter().for_each(|each| each.join().expect("every seed comes to the same"));
    });
}

fn three_devices(seed: u64, steps: u64) {
    let store = Liar::new(seed);
    let mut devices = firm();
    settle(&mut devices, &store.honest());
    let mut recorded = 0_i64;
    for _ in 0..steps {
        let (who, what) = (store.chance(3), store.chance(10));
        let device = &mut devices[usize::try_from(who).expect("a device")];
        if what < 6 {
            recorded += device.something_happens(&store);
        } else {
            exchange(device, &store);
        }
    }
    let (least_facts, least_lies) = if steps > 1000 { (500, 100) } else { (15, 10) };
    let lies = store.lies();
    assert!(recorded > least_facts && lies > least_lies, "seed {seed}: {recorded} facts, {lies} lies");
    settle(&mut devices, &store.honest());
    same(&devices, recorded, seed);
}

#[test]
fn over_a_folder_and_in_memory_it_is_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    for store in [Kept::folder(folder.path()).expect("a folder"), Kept::memory().expect("memory")] {
        keeps_a_firm(&store);
    }
}

/// Three devices come to the same through a store, and at rest nothing is written: the heads are those that were there.
fn keeps_a_firm(store: &dyn Store) {
    let mut devices = firm();
    settle(&mut devices, store);
    let dice = Liar::new(7);
    let facts: i64 = (0..30).map(|n| devices[n % 3].something_happens(&dice)).sum();
    let recorded = facts + devices.iter_mut().map(|device| device.takes_a_photo(&dice)).sum::<i64>();
    settle(&mut devices, store);
    same(&devices, recorded, 7);
    let sorted = || {
        let mut heads = store.list("heads/").expect("heads");
        heads.sort();
        heads
    };
    let before = sorted();
    assert_eq!(before.len(), 3, "{before:?}");
    settle(&mut devices, store);
    assert_eq!(sorted(), before);
}

/// What is asked of a store: whole bytes under a name, over and over, listed by folder, and gone when taken away.
fn keeps_files(store: &dyn Store) {
    assert_eq!(store.list("parcels/").expect("a list"), Vec::<String>::new());
    assert_eq!(store.get("parcels/none").expect("an answer"), None);
    let long: Vec<u8> = (0..3_000_000_u32).map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes()[1]).collect();
    for bytes in [b"one".to_vec(), long, b"\0\xff'\\".to_vec()] {
        store.put("parcels/abc", bytes.clone()).expect("it is put");
        assert!(store.get("parcels/abc").expect("it is there") == Some(bytes), "other bytes came back");
    }
    store.put("heads/A-1-x", b"x".to_vec()).expect("it is put");
    assert_eq!(store.list("parcels/").expect("a list"), ["parcels/abc"]);
    for name in ["parcels/abc", "heads/A-1-x", "heads/never"] {
        store.delete(name).expect("it is gone");
    }
    assert_eq!(store.get("parcels/abc").expect("an answer"), None);
    assert_eq!(store.list("heads/").expect("a list"), Vec::<String>::new());
}

fn serves(server: Option<server::Server>) {
    let Some(server) = server else { return };
    let wrong = if server.secret.contains("PRIVATE") { "no key at all" } else { "wrong" };
    for secret in [None, Some(wrong)] {
        let refused = open_store(&server.address, secret).and_then(|store| store.list("heads/"));
        assert!(matches!(refused, Err(ExchangeError::Denied(_))), "{refused:?}");
    }
    let store = open_store(&server.address, Some(&server.secret)).expect("a store");
    keeps_files(&*store);
    keeps_a_firm(&*store);
}

#[test]
fn over_webdav_it_is_the_same() {
    serves(servers::web_dav());
}

#[test]
fn over_sftp_it_is_the_same() {
    serves(servers::sftp());
}

#[test]
fn over_an_s3_type_store_it_is_the_same() {
    serves(Some(servers::s3()));
}

#[test]
fn over_postgresql_it_is_the_same() {
    serves(server::postgresql());
}

/// A server that does not answer is off line, which is the usual case and no refusal.
#[test]
fn a_server_that_is_not_there_is_off_line() {
    for address in [
        "http://nell@127.0.0.1:9/",
        "s3://AKEY@firm/x?endpoint=http://127.0.0.1:9",
        "postgresql://nell@127.0.0.1:9/firm",
        "sftp://nell@127.0.0.1:9/firm",
    ] {
        let address = exchange::Address::parse(address).expect("an address");
        let outcome = open_store(&address, Some("a secret")).and_then(|store| store.list("heads/"));
        assert!(matches!(outcome, Err(ExchangeError::Store(_))), "{address:?}: {outcome:?}");
    }
}

/// What lies in the store is locked: no text of a fact can be read there.
#[test]
fn whoever_keeps_the_store_reads_nothing() {
    let store = Liar::new(3);
    let mut devices = firm();
    settle(&mut devices, &store.honest());
    let bytes = store.everything();
    assert!(bytes.len() > 2000);
    for text in ["Gable and Eave", "Mill Lane", "Bo Finch", "time-entry", "tear"] {
        assert!(!bytes.windows(text.len()).any(|window| window == text.as_bytes()), "{text}");
    }
}

/// A device that left is sent nothing more, and what it goes on writing is taken by nobody.
#[test]
fn a_lost_tablet_is_dropped_and_what_it_sent_stays() {
    let store = Liar::new(5).honest();
    let mut devices = firm();
    settle(&mut devices, &store);
    let dice = Liar::new(5);
    devices[2].something_happens(&dice);
    settle(&mut devices, &store);
    let (_, had) = devices[0].ends().into_iter().find(|(device, _)| device == "C").expect("C");
    devices[0].says_that_c_left(had);
    devices[0].something_happens(&dice);
    for _ in 0..4 {
        for device in &mut devices[..2] {
            exchange(device, &store);
        }
    }
    let before = devices[2].ends();
    devices[2].something_happens(&dice);
    let at = devices[2].tick();
    let thief = &mut devices[2];
    let ledger = thief.desk.ledger().expect("a writer");
    let done = round(ledger, &thief.secrets, &store, at, AT_ONCE, &mut |_| true).expect("a round");
    assert_eq!(done.taken.taken.values().sum::<u64>(), 0, "{done:?}");
    for device in &mut devices[..2] {
        let ledger = device.desk.ledger().expect("a writer");
        let done = round(ledger, &device.secrets, &store, at, AT_ONCE, &mut |_| true).expect("a round");
        assert!(done.taken.taken.is_empty(), "{done:?}");
        assert!(device.ends().contains(&("C".to_owned(), had)));
    }
    assert!(devices[2].ends().iter().zip(&before).filter(|(now, then)| now != then).count() <= 1);
}

/// A store over a line that breaks after every few calls.
struct Breaking<'a> {
    store: &'a dyn Store,
    left: Cell<u32>,
    put: Cell<u64>,
    got: Cell<u64>,
}

impl Breaking<'_> {
    fn call(&self) -> Result<(), ExchangeError> {
        let Some(left) = self.left.get().checked_sub(1) else {
            return Err(ExchangeError::Store("the line was cut".to_owned()));
        };
        self.left.set(left);
        Ok(())
    }
}

impl Store for Breaking<'_> {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.call()?;
        self.put.set(self.put.get() + u64::from(bytes.len() as u64 >= PIECE_BYTES));
        self.store.put(name, bytes)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        self.call()?;
        let bytes = self.store.get(name)?;
        let length = bytes.as_ref().map_or(0, |bytes| bytes.len() as u64);
        self.got.set(self.got.get() + u64::from(length >= PIECE_BYTES));
        Ok(bytes)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.store.list(folder)
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.store.delete(name)
    }
}

/// On a line that breaks after every few calls a photo of twenty pieces comes, and no piece of it is carried twice.
/// Once all have it, it lies in the store no more.
#[test]
fn a_photo_on_a_breaking_line_goes_on_where_it_was() {
    let store = Kept::memory().expect("memory");
    let mut devices = firm();
    settle(&mut devices, &store);
    let dice = Liar::new(9);
    let bytes: Vec<u8> =
        (0..20 * PIECE_BYTES).map(|_| u8::try_from(dice.chance(256)).expect("a byte")).collect();
    let hash = devices[1].keeps(&bytes, "image/jpeg");
    let line = Breaking { store: &store, left: Cell::new(0), put: Cell::new(0), got: Cell::new(0) };
    for trial in 0..40 {
        for device in [1, 0] {
            line.left.set(9);
            exchange(&mut devices[device], &line);
        }
        if devices[0].has(hash) {
            assert!(trial > 4, "the line never broke");
            break;
        }
    }
    assert!(devices[0].has(hash) && !devices[2].has(hash), "no fact of the site names it");
    assert_eq!((line.put.get(), line.got.get()), (20, 20));
    settle(&mut devices, &store);
    let long =
        |name: &String| store.get(name).expect("it").is_some_and(|bytes| bytes.len() as u64 >= PIECE_BYTES);
    assert_eq!(store.list("parcels/").expect("a list").iter().filter(|name| long(name)).count(), 0);
}

/// A store that hands out half of every parcel that is no index.
struct Cutting<'a>(&'a Kept);

impl Store for Cutting<'_> {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.0.put(name, bytes)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        let is_index = self.0.list("heads/")?.iter().any(|head| name.ends_with(&head[head.len() - 64..]));
        let bytes = self.0.get(name)?;
        Ok(bytes.map(|bytes| if is_index { bytes } else { bytes[..bytes.len() / 2].to_vec() }))
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.0.list(folder)
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.0.delete(name)
    }
}

/// What came cut is asked for again, by a device that has nothing else to say.
#[test]
fn a_parcel_that_came_cut_is_sent_again_though_all_is_quiet() {
    let store = Kept::memory().expect("memory");
    let mut devices = firm();
    settle(&mut devices, &store);
    let dice = Liar::new(13);
    let recorded = devices[0].something_happens(&dice) + devices[0].something_happens(&dice);
    exchange(&mut devices[0], &store).expect("a store");
    for device in [1, 2] {
        let done = exchange(&mut devices[device], &Cutting(&store)).expect("a store");
        assert!(done.damaged > 0 && done.taken.taken.is_empty(), "{done:?}");
    }
    settle(&mut devices, &store);
    same(&devices, recorded, 13);
}

/// Puts every file of a folder that another lacks there, as something does that keeps folders the same.
fn throw_into(from: &Path, to: &Path) {
    for folder in ["firm", "heads", "parcels"] {
        std::fs::create_dir_all(to.join(folder)).expect("a folder");
        for file in std::fs::read_dir(from.join(folder)).into_iter().flatten() {
            let file = file.expect("a file");
            let there = to.join(folder).join(file.file_name());
            if !there.exists() {
                std::fs::copy(file.path(), there).expect("a copy");
            }
        }
    }
}

/// A folder that is kept the same on two machines, while the line between them was down for days: each went on in its
/// own, and then both are thrown together file by file, old heads and deleted parcels among them.
#[test]
fn two_folders_written_apart_and_thrown_together_come_to_the_same() {
    let homes = [tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder")];
    let [one, two] = [&homes[0], &homes[1]].map(|home| Kept::folder(home.path()).expect("a store"));
    let mut devices = firm();
    settle(&mut devices, &one);
    throw_into(homes[0].path(), homes[1].path());
    let dice = Liar::new(11);
    let mut recorded = 0;
    for _ in 0..12 {
        for (device, store) in devices.iter_mut().zip([&one, &two, &two]) {
            recorded += device.something_happens(&dice);
            exchange(device, store);
        }
    }
    recorded += devices.iter_mut().map(|device| device.takes_a_photo(&dice)).sum::<i64>();
    let apart: Vec<Vec<(String, i64)>> = devices.iter().map(Device::ends).collect();
    assert!(apart[0] != apart[1], "they never were apart");
    throw_into(homes[0].path(), homes[1].path());
    throw_into(homes[1].path(), homes[0].path());
    settle(&mut devices, &one);
    same(&devices, recorded, 11);
    // Whoever still looks into the other folder finds nothing there that takes anything back.
    settle(&mut devices, &two);
    same(&devices, recorded, 11);
}

//! Three devices and a store that lies: it loses, delays, cuts, shows old lists, keeps what it was told to delete and
//! rolls back. Whatever it does, once it is honest all devices come to the same entries and totals, and no fact that a
//! device has recorded is lost.

#![cfg(test)]

mod firm;
mod liar;

use exchange::{Kept, Round, Store, round};
use firm::{Device, firm, same};
use liar::Liar;

fn soak() -> bool {
    std::env::var_os("TEAROFF_SOAK").is_some()
}

/// An exchange of one device; a store that cannot be reached is tried again the next time.
fn exchange(device: &mut Device, store: &dyn Store) -> Option<Round> {
    let at = device.tick();
    let outcome = round(device.desk.ledger().expect("a writer"), &device.secrets, store, at);
    match outcome {
        Ok(done) => {
            assert!(done.taken.refused.is_empty() && done.taken.forks.is_empty(), "{done:?}");
            Some(done)
        }
        Err(exchange::ExchangeError::Store(_)) => None,
        Err(other) => panic!("{other}"),
    }
}

/// Everybody exchanges until nothing moves.
fn settle(devices: &mut [Device], store: &dyn Store) {
    for _ in 0..14 {
        let mut moved = false;
        for device in devices.iter_mut() {
            let done = exchange(device, store).expect("an honest store");
            moved |= done.sent > 0 || !done.taken.taken.is_empty() || !done.taken.waiting.is_empty();
        }
        if !moved {
            return;
        }
    }
    panic!("they never come to rest");
}

#[test]
fn three_devices_come_to_the_same_over_a_store_that_lies() {
    let (seeds, steps) = if soak() { (200, 1500) } else { (2, 150) };
    for seed in 1..=seeds {
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
        assert!(recorded > 50 && store.lies() > 20, "seed {seed}: {recorded} facts, {} lies", store.lies());
        settle(&mut devices, &store.honest());
        same(&devices, recorded, seed);
    }
}

#[test]
fn over_a_folder_and_in_memory_it_is_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    for store in [Kept::folder(folder.path()).expect("a folder"), Kept::memory().expect("memory")] {
        let mut devices = firm();
        settle(&mut devices, &store);
        let dice = Liar::new(7);
        let recorded = (0..30).map(|n| devices[n % 3].something_happens(&dice)).sum();
        settle(&mut devices, &store);
        same(&devices, recorded, 7);
        // At rest nothing is written: the heads are those that were there.
        let before = store.list("heads/").expect("heads");
        assert_eq!(before.len(), 3, "{before:?}");
        settle(&mut devices, &store);
        assert_eq!(store.list("heads/").expect("heads"), before);
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
    let done = round(thief.desk.ledger().expect("a writer"), &thief.secrets, &store, at).expect("a round");
    assert_eq!(done.taken.taken.values().sum::<u64>(), 0, "{done:?}");
    for device in &mut devices[..2] {
        let done =
            round(device.desk.ledger().expect("a writer"), &device.secrets, &store, at).expect("a round");
        assert!(done.taken.taken.is_empty(), "{done:?}");
        assert!(device.ends().contains(&("C".to_owned(), had)));
    }
    assert!(devices[2].ends().iter().zip(&before).filter(|(now, then)| now != then).count() <= 1);
}

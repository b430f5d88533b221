//! Everything at once: three devices and the people at them, a store that lies, disks that lose their power or fail,
//! clocks that jump. Once all is well again everybody holds the same, and nothing is lost that was once recorded.

use crate::disk::Disk;
use crate::firm::{AT_ONCE, Device, firm, same_facts, settle};
use crate::liar::Liar;
use crate::nth::Nth;
use acceptance::dice::Dice;
use acceptance::is_soak;
use acceptance::seed::{Seed, tell, wanted};
use exchange::round;
use office::{Clock, Code, Desk};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How long a soak goes on with new seeds.
const SOAK: Duration = Duration::from_secs(600);

#[test]
fn after_a_week_of_everything_all_hold_what_was_recorded() {
    if let Some(seed) = wanted() {
        let met = a_week(seed, 400);
        tell("storm", &format!("seed {seed}: {met:?}"));
        return;
    }
    if !is_soak() {
        for seed in 1..=3 {
            let met = a_week(seed, 60);
            assert!(met.cuts > 0 && met.failures > 0 && met.jumps > 0 && met.recorded > 8, "{met:?}");
        }
        return;
    }
    let began = Instant::now();
    // Another run goes on where no earlier one was.
    let first = u64::from(std::process::id()) * 1000;
    for seed in first.. {
        if began.elapsed() > SOAK {
            return;
        }
        let met = a_week(seed, 400);
        tell("storm", &format!("seed {seed}: {met:?}"));
    }
}

/// What a week brought.
#[derive(Debug, Default)]
struct Met {
    recorded: i64,
    exchanges: u32,
    cuts: u32,
    failures: u32,
    jumps: u32,
    copies: u32,
}

fn a_week(seed: u64, steps: u64) -> Met {
    let _seed = Seed { of: "storm", seed };
    let disk = Disk::here();
    let store = Liar::new(seed);
    let mut devices = firm();
    settle(&mut devices, &store.honest());
    let spare = tempfile::tempdir().expect("a folder");
    let spare = spare.path().join("spare.tearoff");
    drop(ledger::Ledger::create(&spare).expect("a file"));
    let mut met = Met::default();
    for step in 0..steps {
        let who = usize::try_from(store.chance(3)).expect("a device");
        let device = &mut devices[who];
        let had = own_end(device);
        match store.chance(8) {
            0 => power_goes(device, &disk, &store, &spare, seed * 1000 + step, &mut met),
            1 => a_call_fails(device, &disk, &store, &mut met),
            2 => the_clock_jumps(device, &store, step, &mut met),
            3 if store.chance(4) == 0 => makes_a_copy(device, &mut met),
            _ => {
                let well = does_something(device, &store, &mut met);
                well.unwrap_or_else(|error| panic!("step {step}, {}: {error}", device.letter));
            }
        }
        let has = own_end(device);
        assert!(has >= had, "step {step}: {} had {had} of its own entries and has {has}", device.letter);
        met.recorded += has - had;
    }
    settle(&mut devices, &store.honest());
    same_facts(&devices, met.recorded + 13, seed);
    met
}

/// How far a device's own chain goes.
fn own_end(device: &Device) -> i64 {
    let ends = device.ends();
    ends.into_iter().find(|(letter, _)| letter == device.letter).map_or(0, |(_, seq)| seq)
}

/// What the machine does not do; anything else is a rule's own answer.
const TROUBLE: [Code; 5] = [Code::Io, Code::Damaged, Code::Busy, Code::Alarm, Code::Missing];

/// Records something or exchanges. What is refused by a rule, or by a store out of reach, is no trouble.
fn does_something(device: &mut Device, store: &Liar, met: &mut Met) -> Result<(), String> {
    if store.chance(5) < 3 {
        return match device.tries_something(store) {
            Err(error) if TROUBLE.contains(&error.code) => Err(error.to_string()),
            _ => Ok(()),
        };
    }
    met.exchanges += 1;
    let at = device.tick();
    let ledger = device.desk.ledger().map_err(|error| error.to_string())?;
    match round(ledger, &device.secrets, store, at, AT_ONCE, &mut |_| true) {
        Ok(done) => {
            assert!(done.taken.refused.is_empty() && done.taken.forks.is_empty(), "{done:?}");
            Ok(())
        }
        Err(exchange::ExchangeError::Store(_)) => Ok(()),
        Err(error) => Err(error.to_string()),
    }
}

fn folder_of(device: &Device) -> PathBuf {
    device.desk.path().parent().map(Path::to_owned).expect("a folder")
}

/// The power goes somewhere in what is done next, and comes back.
fn power_goes(device: &mut Device, disk: &Disk, store: &Liar, spare: &Path, seed: u64, met: &mut Met) {
    let folder = folder_of(device);
    disk.power_goes(&folder, &Nth::at(store.chance(50) + 1), Dice::new(seed));
    let _ = does_something(device, store, met);
    let path = device.desk.path();
    let clock = device.desk.clock.clone();
    // The program ends with the power: what it had open is given up before the file is looked at again.
    device.desk = Desk::open(spare, Clock::System).expect("another file");
    if disk.power_is_back(&folder) {
        met.cuts += 1;
    }
    device.desk = Desk::open(&path, clock).unwrap_or_else(|error| panic!("{}: {error}", device.letter));
}

/// One call of the disk fails; the program goes on.
fn a_call_fails(device: &mut Device, disk: &Disk, store: &Liar, met: &mut Met) {
    let folder = folder_of(device);
    let nth = Nth::at(store.chance(80) + 1);
    disk.fails(&folder, &nth);
    let _ = does_something(device, store, met);
    met.failures += u32::from(nth.has_failed());
    disk.clears(&folder);
}

/// The clock is wrong for a moment, by hours, by years or by centuries.
fn the_clock_jumps(device: &mut Device, store: &Liar, step: u64, met: &mut Met) {
    let right = device.desk.clock.clone();
    let years = ["1969", "2026", "2027", "9999"];
    let year = years[usize::try_from(store.chance(4)).expect("a year")];
    let wrong = format!("{year}-01-01T00:{:02}:{:02}Z", step / 60 % 60, step % 60);
    device.desk.clock = Clock::fixed(wrong.parse().expect("a moment"));
    let _ = does_something(device, store, met);
    device.desk.clock = right;
    met.jumps += 1;
}

fn makes_a_copy(device: &Device, met: &mut Met) {
    let folder = tempfile::tempdir().expect("a folder");
    let (safe, again) = (folder.path().join("safe.tearoff"), folder.path().join("again.tearoff"));
    let made = ledger::back_up(&device.desk.path(), &safe, &mut |_| true).expect("a copy");
    assert!(made.is_good_but_for_files(), "{:?}", made.problems);
    let restored = ledger::restore(&safe, &again, &mut |_| true).expect("a ledger");
    assert!(restored.is_good_but_for_files(), "{:?}", restored.problems);
    met.copies += 1;
}

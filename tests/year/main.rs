//! A year of the made-up firm, dealt among two to five devices: each fact is written down by one whose role may
//! record it, in the order in which that one could. Clocks are wrong by hours and jump; the store between them
//! loses, repeats, delays, cuts, reorders and rolls back; the program ends in the midst of exchanges, at any call
//! of the store, and goes on with its file. Now and then somebody writes down what another device says otherwise.
//!
//! Once all are in touch over an honest store, every office device tells the same to the byte, whatever was
//! acknowledged is there, and every contradiction stands as a question at each of them.
//!
//! A seed takes a few jobs of the year; in a soak every tenth takes all of them. `TEAROFF_SEED` replays one.

#![cfg(test)]

mod contrary;
mod device;
mod line;
mod sample;
mod told;

// The store that lies: that of the devices' own simulation.
#[path = "../../src-tauri/crates/exchange/tests/simulation/liar.rs"]
#[allow(dead_code)]
mod liar;

use acceptance::dice::Dice;
use acceptance::is_soak;
use acceptance::seed::{Seed, tell, wanted};
use contrary::{Contradiction, contradict};
use device::Device;
use exchange::Store;
use ledger::closed_lists::QuestionKind;
use ledger::{Fact, Id};
use liar::Liar;
use line::Line;
use office::Role;
use sample::{Dealt, YEAR};
use std::collections::{BTreeMap, BTreeSet};
use std::num::NonZero;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

/// What a year brought, or all of them.
#[derive(Debug, Default)]
struct Met {
    devices: usize,
    facts: usize,
    exchanges: u32,
    ends: u32,
    lies: u64,
    left: u32,
    refused: usize,
    contradictions: BTreeMap<QuestionKind, u32>,
}

impl Met {
    fn and(&mut self, other: &Met) {
        self.devices = self.devices.max(other.devices);
        self.facts += other.facts;
        self.exchanges += other.exchanges;
        self.ends += other.ends;
        self.lies += other.lies;
        self.left += other.left;
        self.refused += other.refused;
        for (kind, count) in &other.contradictions {
            *self.contradictions.entry(*kind).or_default() += count;
        }
    }
}

#[test]
fn a_year_dealt_among_devices_comes_to_the_same_everywhere() {
    if let Some(seed) = wanted() {
        tell("year", &format!("seed {seed}: {:?}", a_year(seed)));
        return;
    }
    let seeds = if is_soak() { 1000 } else { 20 };
    let (next, all) = (AtomicU64::new(1), Mutex::new(Met::default()));
    let run = || loop {
        let seed = next.fetch_add(1, Ordering::Relaxed);
        if seed > seeds {
            return;
        }
        let met = a_year(seed);
        if is_soak() {
            tell("year", &format!("seed {seed} of {seeds}: {met:?}"));
        }
        all.lock().expect("no seed fell over").and(&met);
    };
    std::thread::scope(|scope| {
        let threads = std::thread::available_parallelism().map_or(1, NonZero::get);
        let at_work: Vec<_> = (0..threads).map(|_| scope.spawn(run)).collect();
        at_work.into_iter().for_each(|each| each.join().expect("every year comes to the same"));
    });
    let all = all.into_inner().expect("all of them");
    tell("year", &format!("{seeds} seeds: {all:?}"));
    // Were nothing met, nothing would have been tried.
    assert_eq!(all.devices, 5);
    assert!(all.ends > 20 && all.lies > 100 && all.left > 5 && all.facts > 5000, "{all:?}");
    for kind in DEALT {
        assert!(all.contradictions.get(&kind).is_some_and(|count| *count > 0), "{kind}: {all:?}");
    }
}

/// The contradictions that are dealt on purpose.
const DEALT: [QuestionKind; 8] = [
    QuestionKind::Decisions,
    QuestionKind::Number,
    QuestionKind::Allocation,
    QuestionKind::Repair,
    QuestionKind::Hours,
    QuestionKind::Finished,
    QuestionKind::Checks,
    QuestionKind::Month,
];

/// The firm's devices, the owner's first. Each has all that the firm is begun with.
fn devices(seed: u64, beginning: &[&'static Dealt], store: &Liar, dice: &mut Dice) -> Vec<Device> {
    let people: Vec<(Id, &str)> = beginning
        .iter()
        .filter_map(|dealt| match &dealt.fact {
            Fact::Person(person) => Some((dealt.id, person.name.as_str())),
            _ => None,
        })
        .collect();
    let person = |name: &str| people.iter().find(|(_, known)| *known == name).expect("somebody").0;
    let (owner, books) = (person("Ruth Quill"), person("Nell Abara"));
    let crews = [person("Ada Quill"), person("Dovid Marsh")];
    let first = Device::new("A", Role::Owner, owner, None, 0);
    let mut others = vec![
        ("B", Role::Books, books),
        ("C", Role::Crew, crews[0]),
        ("D", Role::Owner, owner),
        ("E", Role::Crew, crews[1]),
    ];
    // Two to five of them, and every seed of five other ones of these.
    while others.len() > usize::try_from(seed % 4).expect("a number") + 1 {
        others.remove(dice.place(others.len()));
    }
    let mut devices = vec![first];
    for (place, (letter, role, person)) in others.into_iter().enumerate() {
        let device = Device::new(letter, role, person, devices.first(), place as u64 + 1);
        devices.push(device);
    }
    devices[0].begins_with(beginning);
    let date = beginning[0].at.to_zoned_datetime(jiff::tz::TimeZone::UTC).date();
    let lines: Vec<Fact> = devices.iter().map(|device| device.roster_line(date)).collect();
    devices[0].adds_devices(lines, beginning[0].at);
    for device in &mut devices {
        device.it_is(beginning[0].at);
    }
    settle(&mut devices, store);
    devices
}

/// Everybody exchanges until nothing moves.
fn settle(devices: &mut [Device], store: &dyn Store) {
    let mut last = Vec::new();
    for _ in 0..90 {
        let mut moved = false;
        last.clear();
        for device in devices.iter_mut() {
            let done = device.exchanges(&Line::whole(store)).expect("an honest store");
            moved |= done.sent > 0 || !done.taken.taken.is_empty() || !done.taken.waiting.is_empty();
            moved |= done.files.is_more || done.files.bytes > 0 || done.files.to_come > 0;
            moved |= device.leaves_finished_jobs(&done);
            last.push(done);
        }
        if !moved {
            return;
        }
    }
    panic!("they never come to rest: {last:#?}");
}

/// Which jobs of the year a seed takes.
fn chosen(seed: u64, dice: &mut Dice) -> BTreeSet<usize> {
    if is_soak() && seed.is_multiple_of(10) {
        return (0..YEAR.jobs()).collect();
    }
    let many = 2 + dice.place(2);
    let mut chosen = BTreeSet::new();
    while chosen.len() < many {
        chosen.insert(dice.place(YEAR.jobs()));
    }
    chosen
}

/// The device that is to write a fact down: the crew's own and the bookkeeper's more often than the owner's.
fn dealt_to(devices: &[Device], fact: &Fact, dice: &mut Dice) -> usize {
    let mut lots = Vec::new();
    for (place, device) in devices.iter().enumerate().filter(|(_, device)| device.may_record(fact)) {
        lots.extend(std::iter::repeat_n(place, if device.role == Role::Owner { 1 } else { 3 }));
    }
    *dice.one_of(&lots)
}

fn a_year(seed: u64) -> Met {
    let _seed = Seed { of: "year", seed };
    let (mut dice, store) = (Dice::new(seed), Liar::new(seed));
    let (beginning, facts) = YEAR.of_jobs(&chosen(seed, &mut dice));
    let mut devices = devices(seed, &beginning, &store.honest(), &mut dice);
    let mut met = Met { devices: devices.len(), ..Met::default() };
    let mut contradictions = Vec::new();
    for dealt in facts {
        let is_close = matches!(dealt.fact, Fact::MonthClosed(_));
        if is_close {
            // Whoever closes a month looks for news first; so does the owner's other device, which may close it too.
            let owners = devices.iter_mut().filter(|device| device.role == Role::Owner);
            owners.for_each(|device| is_in_touch(device, &store, &mut dice, &mut met));
        }
        let to = dealt_to(&devices, &dealt.fact, &mut dice);
        devices[to].waiting.push_back(dealt);
        if is_close {
            works(&mut devices, to, &mut contradictions, &mut dice);
        }
        if dice.below(3) == 0 {
            let who = dice.place(devices.len());
            works(&mut devices, who, &mut contradictions, &mut dice);
        }
        if dice.below(17) == 0 {
            let who = dice.place(devices.len());
            is_in_touch(&mut devices[who], &store, &mut dice, &mut met);
        }
    }
    met.lies = store.lies();
    let left = all_come_together(&mut devices, &store.honest(), &mut contradictions, &mut dice);
    met.refused = left.len();
    // Only what was contradicted can stand in the way of a fact of the year.
    assert!(left.len() <= contradictions.len() * 3, "{} facts were never taken: {left:#?}", left.len());
    met.left = devices.iter().map(|device| device.left).sum();
    met.facts = devices.iter().map(|device| device.written.len()).sum();
    for contradiction in &contradictions {
        *met.contradictions.entry(contradiction.kind).or_default() += 1;
    }
    nothing_is_lost(&devices);
    all_tell_the_same(&devices);
    all_is_asked(&devices, &contradictions);
    met
}

/// Somebody writes down what waits at their device, as far as it can be; and now and then another device, which
/// does not know of it, says otherwise.
fn works(devices: &mut [Device], who: usize, contradictions: &mut Vec<Contradiction>, dice: &mut Dice) {
    let waiting = std::mem::take(&mut devices[who].waiting);
    for dealt in waiting {
        let Ok(id) = devices[who].takes_up(dealt) else {
            devices[who].waiting.push_back(dealt);
            continue;
        };
        let fact = devices[who].written[&id].clone();
        let of = match fact {
            Fact::TimeEntry(_) | Fact::WorkCheck(_) => 12,
            Fact::MonthClosed(_) | Fact::Decision(_) => 1,
            _ => 2,
        };
        let others: Vec<usize> =
            (0..devices.len()).filter(|other| *other != who && devices[*other].may_record(&fact)).collect();
        if !others.is_empty() && dice.below(of) == 0 {
            let other = *dice.one_of(&others);
            devices[other].it_is(dealt.at);
            contradictions.extend(contradict(&mut devices[other], (id, &fact)));
        }
    }
}

/// A device is in touch with the store, or tries to be; its clock may be set to another wrong time, and the program may
/// end in the midst of it.
fn is_in_touch(device: &mut Device, store: &Liar, dice: &mut Dice, met: &mut Met) {
    if dice.below(4) == 0 {
        device.hours_off = i64::try_from(dice.below(61)).expect("hours") - 30;
    }
    met.exchanges += 1;
    let line = if dice.below(2) == 0 {
        Line::that_ends(store, dice.below(25), dice.below(2) == 0)
    } else {
        Line::whole(store)
    };
    let done = device.exchanges(&line);
    met.ends += u32::from(line.has_ended());
    if let Some(done) = done {
        device.leaves_finished_jobs(&done);
    }
}

/// All are in touch over a store that is honest, and whatever waited is written down now that everybody knows of
/// everything; what cannot be at its own device is at the owner's. Answers what was refused, and why.
fn all_come_together(
    devices: &mut [Device],
    honest: &Liar,
    contradictions: &mut Vec<Contradiction>,
    dice: &mut Dice,
) -> Vec<String> {
    for _ in 0..4 {
        settle(devices, honest);
        if devices.iter().all(|device| device.waiting.is_empty()) {
            break;
        }
        for who in 0..devices.len() {
            works(devices, who, contradictions, dice);
        }
    }
    for who in 1..devices.len() {
        let left = std::mem::take(&mut devices[who].waiting);
        devices[0].waiting.extend(left);
    }
    devices[0].waiting.make_contiguous().sort_by_key(|dealt| dealt.at);
    for _ in 0..2 {
        works(devices, 0, contradictions, dice);
    }
    let left = std::mem::take(&mut devices[0].waiting);
    let why = left.iter().filter_map(|dealt| {
        let refused = devices[0].takes_up(dealt).err()?;
        Some(format!("{} of {}: {}", dealt.fact.kind(), dealt.at, refused.message))
    });
    let why = why.collect();
    // Whatever contradicts something else has been written by now.
    settle(devices, honest);
    let end = devices.iter().map(|device| device.desk().clock.today()).max().expect("a day");
    let end = end.at(12, 0, 0, 0).to_zoned_datetime(jiff::tz::TimeZone::UTC).expect("a moment").timestamp();
    for device in devices {
        device.hours_off = 0;
        device.it_is(end);
        device.rises();
    }
    why
}

/// All hold the same entries, and each office device every fact of which any device was told that it is in the books.
fn nothing_is_lost(devices: &[Device]) {
    let (ends, hashes) = (devices[0].ends(), devices[0].end_hashes());
    let written: usize = devices.iter().map(|device| device.written.len()).sum();
    let held: i64 = ends.iter().map(|(_, end)| *end).sum();
    assert_eq!(held, i64::try_from(written).expect("a number"), "{ends:?}");
    for device in devices {
        assert_eq!(device.end_hashes(), hashes, "device {}", device.letter);
        device.is_sound();
        if device.is_office() {
            let books = device.desk().books();
            for (id, fact) in devices.iter().flat_map(|writer| &writer.written) {
                let held = books.fact(*id).expect("an answer").map(|held| held.fact);
                assert_eq!(held.as_ref(), Some(fact), "{id} on device {}", device.letter);
            }
        }
    }
}

/// Every office device tells the same, to the byte.
fn all_tell_the_same(devices: &[Device]) {
    let mut offices = devices.iter().filter(|device| device.is_office());
    let first = told::told(offices.next().expect("the owner's"));
    // A year of two or three small jobs has some thirty; were there none, nothing would be compared.
    assert!(first.len() > 25, "{} reports", first.len());
    for other in offices {
        let told = told::told(other);
        assert!(told.keys().eq(first.keys()), "{:?}", told.keys());
        for (name, bytes) in &told {
            let text = String::from_utf8_lossy;
            assert!(first[name] == *bytes, "{name}:\n{}\n{}", text(&first[name]), text(bytes));
        }
    }
}

/// Every contradiction is a question with both sides, at every office device.
fn all_is_asked(devices: &[Device], contradictions: &[Contradiction]) {
    for device in devices.iter().filter(|device| device.is_office()) {
        let asked = told::asked(device);
        for contradiction in contradictions {
            let sides = contradiction.sides.map(|id| id.to_string());
            let is_it = asked.iter().any(|question| {
                let has = |side: &String| question.sides.iter().any(|other| other.fact == *side);
                question.kind == contradiction.kind && sides.iter().all(has)
            });
            assert!(is_it, "{contradiction:?} is not asked on device {}: {asked:#?}", device.letter);
        }
    }
}

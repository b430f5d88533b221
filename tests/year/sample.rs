//! The made-up firm's year as single facts, in the order in which they were written down.

use ledger::kind::{TableSpec, Value};
use ledger::kinds::kind_spec;
use ledger::{DeviceKey, Digest, Fact, HowMuch, Id, SignedHead};
use office::Desk;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// A fact of the year.
pub(crate) struct Dealt {
    pub(crate) id: Id,
    pub(crate) at: jiff::Timestamp,
    pub(crate) person: Id,
    pub(crate) fact: Fact,
    /// The facts that it names.
    names: Vec<Id>,
}

/// The year.
pub(crate) struct Year {
    /// Its first day: the firm, its people, codes and rates.
    pub(crate) beginning: Vec<Dealt>,
    /// All that came then.
    rest: Vec<Dealt>,
    jobs: Vec<Id>,
    papers: BTreeMap<Digest, Vec<u8>>,
}

pub(crate) static YEAR: LazyLock<Year> = LazyLock::new(Year::read);

/// No figure of a month hangs on them, and they are a third of the beginning.
const FOR_ESTIMATES_ALONE: &[&str] = &["production-rate", "part-price", "standard"];

impl Year {
    fn read() -> Year {
        let home = tempfile::tempdir().expect("a folder");
        let mut desk =
            office::sample::write(&home.path().join("firm.tearoff"), &mut |_, _| true).expect("the firm");
        let ids = ids_in_order(&mut desk);
        let books = desk.books();
        let all = ids.into_iter().map(|id| {
            let held = books.fact(id).expect("a fact").expect("it is there");
            let at = held.entry.recorded_at.parse().expect("a moment");
            Dealt { id, at, person: held.entry.person, names: named(&held.fact), fact: held.fact }
        });
        // The devices are those of the simulation.
        let all: Vec<Dealt> = all.filter(|dealt| dealt.fact.kind() != "device").collect();
        let kept = all.iter().filter_map(|dealt| match &dealt.fact {
            Fact::Attachment(kept) => Some(kept.hash),
            _ => None,
        });
        let read = |hash| (hash, ledger::attachment::read(&desk.path(), hash).expect("a paper"));
        let papers = kept.map(read).collect();
        let jobs =
            all.iter().filter(|dealt| matches!(dealt.fact, Fact::Job(_))).map(|dealt| dealt.id).collect();
        let first = day_of(all[0].at);
        let (beginning, rest) = all.into_iter().partition(|dealt| day_of(dealt.at) == first);
        Year { beginning, rest, jobs, papers }
    }

    /// The bytes of a paper.
    pub(crate) fn paper(&self, hash: Digest) -> &[u8] {
        &self.papers[&hash]
    }

    /// How many jobs it has.
    pub(crate) fn jobs(&self) -> usize {
        self.jobs.len()
    }

    /// What the firm is begun with, and then all that rests on nothing but that and the jobs chosen, by their places in
    /// the year. With every job it is the whole year.
    pub(crate) fn of_jobs(&self, chosen: &BTreeSet<usize>) -> (Vec<&Dealt>, Vec<&Dealt>) {
        let is_whole = chosen.len() == self.jobs.len();
        let is_needed = |dealt: &&Dealt| is_whole || !FOR_ESTIMATES_ALONE.contains(&dealt.fact.kind());
        let beginning: Vec<&Dealt> = self.beginning.iter().filter(is_needed).collect();
        let mut there: BTreeSet<Id> = beginning.iter().map(|dealt| dealt.id).collect();
        let mut part = Vec::new();
        for dealt in self.rest.iter().filter(is_needed) {
            let place = self.jobs.iter().position(|job| *job == dealt.id);
            let is_chosen = place.is_none_or(|place| chosen.contains(&place));
            if is_chosen && dealt.names.iter().all(|name| there.contains(name)) {
                there.insert(dealt.id);
                part.push(dealt);
            }
        }
        (beginning, part)
    }
}

fn day_of(at: jiff::Timestamp) -> jiff::civil::Date {
    at.to_zoned_datetime(jiff::tz::TimeZone::UTC).date()
}

/// The facts of the one device that there is, in the order of its chain.
fn ids_in_order(desk: &mut Desk) -> Vec<Id> {
    let ledger = desk.ledger().expect("a writer");
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&DeviceKey::from_secret([7; 32]), ledger.device(), seq, hash);
    let mut ids = Vec::new();
    let mut note = |_: &ledger::kind::KindSpec, _: &ledger::kind::Record, id| {
        ids.push(id);
        Ok(HowMuch::Nothing)
    };
    ledger.reading().chain_part(&head, 1, &mut note).expect("its chain");
    ids
}

/// What a fact names, in its own row and in its lines. A close names every job there was; it is made anew by whoever
/// closes the month, of what they hold.
fn named(fact: &Fact) -> Vec<Id> {
    if matches!(fact, Fact::MonthClosed(_)) {
        return Vec::new();
    }
    let (spec, record) = (kind_spec(fact.kind()).expect("a kind"), fact.record());
    let mut found = named_in(&spec.own, &record.own);
    for (list, lines) in spec.lists.iter().zip(&record.lists) {
        found.extend(lines.iter().flat_map(|line| named_in(list, line)));
    }
    found
}

fn named_in(table: &TableSpec, row: &[Value]) -> Vec<Id> {
    let names: Vec<&str> =
        ledger::links::named_by(table.table).expect("links").map(|(column, _)| column).collect();
    let mut found = Vec::new();
    for (column, value) in table.columns.iter().zip(row) {
        if (names.contains(&column.as_str()) || column == "reverses")
            && let Value::Blob(bytes) = value
        {
            let text: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
            found.push(Id::parse(&text).expect("an id"));
        }
    }
    found
}

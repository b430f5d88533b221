//! The made-up firm's copy for the site, as a tablet gets it over a store: no byte of its file, its log or its parcels
//! is a cost, a pay, a margin or a contract's price; and the crew's day on it is the one that the office sees.

#![cfg(test)]
#![allow(clippy::unwrap_used, clippy::panic)]

use desk::{Clock, Desk};
use exchange::{Audience, Content, DeviceSecrets, Kept, Store};
use ledger::kind::{KindSpec, Record, TableSpec};
use ledger::{HowMuch, Id, SignedHead};
use std::collections::{BTreeSet, HashMap, HashSet};
use std::path::{Path, PathBuf};

struct Places {
    home: tempfile::TempDir,
}

impl Places {
    fn at(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }
}

/// The sample on the office's machine, and a tablet that has joined and exchanged once.
fn office_and_tablet() -> (Places, Desk, Desk, Kept) {
    let places = Places { home: tempfile::tempdir().unwrap() };
    let mut office = office::sample::write(&places.at("office.tearoff"), &mut |_, _| true).unwrap();
    std::fs::create_dir(places.at("store")).unwrap();
    let store = Kept::folder(&places.at("store")).unwrap();
    exchange::choose_store(&mut office, places.at("store").to_str().unwrap(), None).unwrap();
    let crew = office::people(&office)
        .unwrap()
        .into_iter()
        .find(|person| person.role == office::Role::Crew)
        .unwrap();
    let person = Id::parse(&crew.id).unwrap();
    let file = places.at("tablet.joining");
    let added = exchange::add_device(&mut office, "A tablet", person, None, &file).unwrap();
    exchange::exchange(&mut office, &mut |_| true).unwrap();
    exchange::join(&file, &added.passphrase, &places.at("tablet.tearoff")).unwrap();
    let mut tablet = Desk::open(&places.at("tablet.tearoff"), office.clock.clone()).unwrap();
    let came = exchange::exchange(&mut tablet, &mut |_| true).unwrap();
    assert!(came.troubles.is_empty() && came.came.len() == 1, "{came:?}");
    (places, office, tablet, store)
}

/// How an integer lies in a row of SQLite: as few bytes as it needs, the greatest first.
fn stored(number: i64) -> Vec<u8> {
    let bytes = number.to_be_bytes();
    let length = [1, 2, 3, 4, 6, 8].into_iter().find(|length| {
        let bits = u32::try_from(length * 8 - 1).unwrap();
        *length == 8 || (-(1_i64 << bits)..(1_i64 << bits)).contains(&number)
    });
    if number == 0 || number == 1 { Vec::new() } else { bytes[8 - length.unwrap()..].to_vec() }
}

/// How an integer lies in an entry as it is sent: a one, which says that it is a number, and eight bytes. A short one
/// is left out, as it is of a row.
fn sent(number: i64) -> Vec<u8> {
    if stored(number).len() < 4 { Vec::new() } else { [&[1], &number.to_be_bytes()[..]].concat() }
}

/// What would give values away: texts, long numbers, and numbers that lie side by side; for one part of a fact.
fn traces(
    spec: &KindSpec,
    fact: &Record,
    is_open: bool,
    lies: fn(i64) -> Vec<u8>,
    out: &mut HashSet<Vec<u8>>,
) {
    use ledger::kind::Value as Cell;
    let mut of_row = |table: &TableSpec, values: &[Cell]| {
        let mut before: Vec<u8> = Vec::new();
        for (value, _) in values.iter().zip(&table.open).filter(|(_, open)| **open == is_open) {
            let here = match value {
                Cell::Integer(number) => lies(*number),
                // A number of a few digits stands in any longer one by chance.
                Cell::Text(text) if text.len() < 6 && text.bytes().all(|sign| sign.is_ascii_digit()) => {
                    Vec::new()
                }
                Cell::Text(text) => text.as_bytes().to_vec(),
                _ => Vec::new(),
            };
            let beside = [&before[..], &here[..]].concat();
            if here.len() >= 4 {
                out.insert(here.clone());
            }
            if beside.len() >= 5 && !before.is_empty() && !here.is_empty() {
                out.insert(beside);
            }
            before = here;
        }
    };
    of_row(&spec.own, &fact.own);
    for (list, lines) in spec.lists.iter().zip(&fact.lists) {
        lines.iter().for_each(|line| of_row(list, line));
    }
}

/// Values that stand in sealed parts of the office's facts and nowhere in an open one, nor among the words that every
/// ledger's own tables are made of.
fn secrets_of(office: &mut Desk, bare: &Path, lies: fn(i64) -> Vec<u8>) -> HashSet<Vec<u8>> {
    let (mut secrets, mut told, mut kinds) = (HashSet::new(), HashSet::new(), BTreeSet::new());
    let ledger = office.ledger().unwrap();
    let (seq, hash) = ledger.own_end();
    let head = SignedHead::of(&ledger::DeviceKey::from_secret([7; 32]), "A", seq, hash);
    let mut collect = |spec: &KindSpec, fact: &Record, _: Id| {
        traces(spec, fact, false, lies, &mut secrets);
        traces(spec, fact, true, lies, &mut told);
        kinds.insert(spec.kind);
        Ok(HowMuch::Nothing)
    };
    ledger.reading().chain_part(&head, 1, &mut collect).unwrap();
    drop(ledger::Ledger::create(bare).unwrap());
    // A value that is a part of what is told stands there too; and every entry says on which day it was recorded.
    let mut known: Vec<u8> = told.iter().flat_map(|told| [&told[..], &[0xff]].concat()).collect();
    known.extend(std::fs::read(bare).unwrap());
    let is_day =
        |text: &[u8]| std::str::from_utf8(text).is_ok_and(|text| text.parse::<jiff::civil::Date>().is_ok());
    let known: HashSet<Vec<u8>> =
        Search::of(&secrets).hits(&known).into_iter().map(|(_, hit)| hit.to_vec()).collect();
    secrets.retain(|secret| !known.contains(secret) && !is_day(secret));
    assert!(secrets.len() > 1000 && kinds.len() > 25, "{} secrets of {kinds:?}", secrets.len());
    secrets
}

/// Secrets by their first four bytes.
struct Search<'a>(HashMap<&'a [u8], Vec<&'a [u8]>>);

impl<'a> Search<'a> {
    fn of(secrets: &'a HashSet<Vec<u8>>) -> Search<'a> {
        let mut by_start: HashMap<&[u8], Vec<&[u8]>> = HashMap::new();
        for secret in secrets {
            by_start.entry(&secret[..4]).or_default().push(secret);
        }
        Search(by_start)
    }

    /// Every secret that stands in these bytes, and where.
    fn hits(&self, bytes: &[u8]) -> Vec<(usize, &'a [u8])> {
        let at_each = (0..bytes.len().saturating_sub(3)).map(|at| (at, self.0.get(&bytes[at..at + 4])));
        let starting =
            at_each.flat_map(|(at, secrets)| secrets.into_iter().flatten().map(move |secret| (at, *secret)));
        starting.filter(|(at, secret)| bytes[*at..].starts_with(secret)).collect()
    }

    /// The first of them, in words, and how many there are.
    fn found(&self, bytes: &[u8]) -> Option<String> {
        let hits = self.hits(bytes);
        let (at, first) = hits.first()?;
        Some(format!(
            "{} of them, the first {}, {first:?} at {at}",
            hits.len(),
            String::from_utf8_lossy(first)
        ))
    }
}

#[test]
fn no_byte_of_the_samples_copy_for_the_site_is_a_cost_a_pay_a_margin_or_a_contracts_price() {
    let (places, mut office, tablet, store) = office_and_tablet();
    let secrets = secrets_of(&mut office, &places.at("bare.tearoff"), stored);
    let search = Search::of(&secrets);
    let secrets_sent = secrets_of(&mut office, &places.at("bare-again.tearoff"), sent);
    let search_sent = Search::of(&secrets_sent);
    let mut read = 0;
    for suffix in ["", "-wal"] {
        let bytes = std::fs::read(format!("{}{suffix}", places.at("tablet.tearoff").display())).unwrap();
        assert_eq!(search.found(&bytes), None, "{suffix}");
        read += bytes.len();
    }
    let attached = tablet.books().all::<ledger::facts::Attachment>().unwrap();
    let shown: BTreeSet<ledger::Digest> = attached.into_iter().map(|held| held.fact.hash).collect();
    drop(tablet);
    assert_eq!(search.found(&std::fs::read(places.at("tablet.tearoff")).unwrap()), None);
    assert!(read > 200_000, "{read}");
    // Of what lies in the store, as it lies there and as the tablet's keys open it.
    let keys = DeviceSecrets::kept(&places.at("tablet.tearoff")).unwrap().unwrap();
    let (mut opened, mut closed) = (0, 0);
    for path in store.list("parcels/").unwrap() {
        let bytes = store.get(&path).unwrap().unwrap();
        assert_eq!(search.found(&bytes), None, "{path}");
        let name = path.trim_start_matches("parcels/");
        let roster = office.books().roster().unwrap();
        let key_of = |letter: &str| roster.member(letter).map(|member| member.signs_with);
        match exchange::unpack(name, &bytes, &keys, &key_of) {
            Ok((_, Content::Chain(part))) => {
                opened += part.entries.len();
                for sent in &part.entries {
                    assert!(sent.sealed.is_none(), "{}", sent.kind);
                    let open = sent.open.as_deref().unwrap_or_default();
                    assert_eq!(search_sent.found(open), None, "{}", sent.kind);
                }
            }
            Ok((from, Content::Index(index))) => {
                let is_for_site = |note: &exchange::Note| note.audience == Audience::Site;
                assert!(from != "A" || index.parcels.iter().any(is_for_site), "{index:?}");
            }
            // A file is locked to a tablet only where a fact that it holds names it.
            Ok((_, Content::Piece(piece))) => assert!(shown.contains(&piece.hash), "{}", piece.hash),
            Err(_) => closed += 1,
        }
    }
    assert!(opened > 500, "{opened} entries were opened, {closed} parcels are not the tablet's");
    // The office's own file gives itself away many times over, so that the search is no empty one.
    drop(office);
    assert!(search.hits(&std::fs::read(places.at("office.tearoff")).unwrap()).len() > 1000);
}

#[test]
fn the_crews_day_on_a_copy_for_the_site_is_the_one_that_the_office_sees() {
    let (places, office, tablet, _) = office_and_tablet();
    let today = office.clock.today();
    let at_the_office = serde_json::to_value(office::site_day(&office, today).unwrap()).unwrap();
    let on_site = serde_json::to_value(office::site_day(&tablet, today).unwrap()).unwrap();
    let jobs = |day: &serde_json::Value| day["jobs"].as_array().unwrap().clone();
    assert!(jobs(&on_site).len() > 1, "{on_site}");
    assert_eq!(jobs(&on_site).len(), jobs(&at_the_office).len());
    for (here, there) in jobs(&on_site).into_iter().zip(jobs(&at_the_office)) {
        let (here, there) = (here.as_object().unwrap(), there.as_object().unwrap());
        for (name, value) in there {
            // Numbers that come next carry the device's letter.
            if !name.starts_with("next") {
                assert_eq!(&here[name], value, "{}, {name}", here["number"]);
            }
        }
    }
    for name in ["people", "codes"] {
        assert_eq!(on_site[name], at_the_office[name], "{name}");
    }
    drop(tablet);
    let verdict = ledger::verify(&places.at("tablet.tearoff"), &mut |_| true).unwrap();
    let problems: Vec<String> = verdict.problems.iter().map(ToString::to_string).collect();
    assert!(
        verdict.withheld > 500 && problems.iter().all(|problem| problem.contains("ttachment")),
        "{problems:?}"
    );
    let again = Desk::read(&places.at("tablet.tearoff"), Clock::System).unwrap();
    assert!(office::workmanship(&again, jobs(&on_site)[0]["number"].as_str().unwrap()).is_ok());
}

#[test]
fn a_photo_goes_by_hand_too_and_what_is_left_is_told() {
    let (places, mut office, mut tablet, _) = office_and_tablet();
    let crew = tablet.books().all::<ledger::facts::Person>().unwrap();
    let crew = crew.into_iter().find(|held| held.fact.role == office::Role::Crew).unwrap();
    tablet.sit(crew.entry.id);
    let job = office::site_day(&tablet, office.clock.today()).unwrap().jobs.remove(0).number;
    let photo: Vec<u8> = (0..10_000_u32).flat_map(|n| ledger::Digest::of(&n.to_be_bytes()).0).collect();
    let kept = desk::attachments::attach(&mut tablet, &photo, "image/jpeg", None).unwrap();
    let fact = serde_json::json!({"kind": "condition", "date": office.clock.today(), "job": job, "number": "H1",
        "place": "rake", "cause": "ice-dam", "damaged": "deck-sheet", "counted_in": "sheet", "count": "1",
        "photos": [{"photo": kept.hash}]});
    desk::record::Recorder::default().record(&mut tablet, fact).unwrap();
    let saved = exchange::save_parcel(&mut tablet, &places.at("monday.parcel")).unwrap();
    assert_eq!(saved.photos.as_deref(), Some("1 photo or paper went"));
    let sent = std::fs::metadata(places.at("monday.parcel")).unwrap().len();
    assert!(sent > 300_000, "{sent}");
    let taken = exchange::take_parcel(&mut office, &places.at("monday.parcel")).unwrap();
    assert_eq!(taken.photos.as_deref(), Some("1 photo or paper came"), "{taken:?}");
    assert_eq!(desk::attachments::paper(&office, &kept.hash).unwrap().0, photo);
    // The office says that it has it, by hand as well: the next parcel is small.
    exchange::save_parcel(&mut office, &places.at("back.parcel")).unwrap();
    exchange::take_parcel(&mut tablet, &places.at("back.parcel")).unwrap();
    let saved = exchange::save_parcel(&mut tablet, &places.at("tuesday.parcel")).unwrap();
    let again = std::fs::metadata(places.at("tuesday.parcel")).unwrap().len();
    assert!(saved.photos.is_none() && again * 10 < sent, "{again}, {:?}", saved.photos);
}

/// What is asked on the roof is asked at the contract's price, signed there with no line to the office, and costs
/// nobody knows what until the office has said it. What the office says of it never comes back to the tablet.
#[test]
fn a_change_order_signed_off_line_comes_to_the_office_which_fills_its_cost_in() {
    let (places, mut office, mut tablet, _) = office_and_tablet();
    let today = office.clock.today();
    let crew = tablet.books().all::<ledger::facts::Person>().unwrap();
    let crew = crew.into_iter().find(|held| held.fact.role == office::Role::Crew).unwrap();
    tablet.sit(crew.entry.id);
    let is_priced = |job: &office::site::day::SiteJob| {
        job.prices.iter().any(|unit| unit.damaged == office::Damaged::DeckSheet)
    };
    let job = office::site_day(&tablet, today).unwrap().jobs.into_iter().find(is_priced).unwrap();
    // The line is down from here on.
    std::fs::rename(places.at("store"), places.at("out of reach")).unwrap();
    let count = job.sheets_left + trade::Qty::parse("2").unwrap();
    let mut recorder = desk::record::Recorder::default();
    let mut record = |desk: &mut Desk, fact: serde_json::Value| recorder.record(desk, fact).unwrap().id;
    let condition = record(
        &mut tablet,
        serde_json::json!({"kind": "condition", "date": today, "job": job.number, "number": job.next_condition,
            "place": "valley", "cause": "old-leak", "damaged": "deck-sheet", "counted_in": "sheet",
            "count": count.to_string()}),
    );
    let order = office::ask_for(&tablet, condition).unwrap();
    let price: trade::Money = order.lines.iter().map(|line| line.price).sum();
    assert!(price.is_positive() && order.lines.iter().all(|line| line.cost.is_none()), "{order:?}");
    let number = order.number.clone();
    let change = tablet.record(vec![order.into()]).unwrap()[0];
    let signature = desk::attachments::attach(&mut tablet, b"a name on glass", "image/png", None).unwrap();
    record(
        &mut tablet,
        serde_json::json!({"kind": "decision", "date": today, "change_order": change.to_string(),
            "verdict": "approved", "method": "signed", "decided_by": "Somebody at home",
            "signature": signature.hash}),
    );
    let told = exchange::exchange(&mut tablet, &mut |_| true).unwrap();
    assert!(!told.is_reached && told.waiting >= 3, "{told:?}");
    std::fs::rename(places.at("out of reach"), places.at("store")).unwrap();
    assert!(exchange::exchange(&mut tablet, &mut |_| true).unwrap().is_reached);
    let came = exchange::exchange(&mut office, &mut |_| true).unwrap();
    assert!(came.troubles.is_empty() && came.came[0].contains("change order"), "{came:?}");
    assert_eq!(desk::attachments::paper(&office, &signature.hash).unwrap().0, b"a name on glass");

    let month = trade::Month::of(today);
    let view = |office: &Desk| {
        let page = office::job_page(office, &job.number, month).unwrap();
        page.changes.into_iter().find(|view| view.number == number).unwrap()
    };
    let ends = |office: &Desk| {
        let ends = office::loose_ends(office, month).unwrap();
        let of_it = |end: &office::LooseEnd| {
            end.kind == office::LooseEndKind::ChangeWithoutCost && end.fact == Some(change.to_string())
        };
        ends.iter().filter(|end| of_it(end)).count()
    };
    let open = view(&office);
    assert!(open.lacks_cost && open.cost.is_none() && open.lines[0].usual_cost.is_some(), "{open:?}");
    assert_eq!((open.state, ends(&office)), (office::job::snapshot::ChangeState::Approved, 1));
    let forecast =
        |office: &Desk| office::job_page(office, &job.number, month).unwrap().figures.result.forecast;
    let before = forecast(&office);
    // An amount that nothing else in the firm comes to.
    let cents = 1_987_654_321_i64;
    // Both desks count ids from one clock here: this one is its own.
    record(
        &mut office,
        serde_json::json!({"id": Id::now().to_string(), "kind": "change-cost", "date": today, 
            "change_order": change.to_string(),
            "lines": [{"change_line": 1, "cost": trade::Money::from_minor(cents)}]}),
    );
    let known = view(&office);
    assert_eq!(
        (known.lacks_cost, known.cost, ends(&office)),
        (false, Some(trade::Money::from_minor(cents)), 0)
    );
    assert_ne!(forecast(&office), before);
    exchange::exchange(&mut office, &mut |_| true).unwrap();
    assert!(exchange::exchange(&mut tablet, &mut |_| true).unwrap().is_reached);
    assert!(tablet.books().all::<ledger::facts::ChangeCost>().unwrap().is_empty());
    drop(tablet);
    for suffix in ["", "-wal"] {
        let file = places.at(&format!("tablet.tearoff{suffix}"));
        let bytes = std::fs::read(file).unwrap_or_default();
        assert!(
            !bytes.windows(4).any(|at| at == &stored(cents)[..]),
            "the tablet's file{suffix} holds the cost"
        );
    }
}

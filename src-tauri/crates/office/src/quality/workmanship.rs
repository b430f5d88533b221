//! How the work was done on a job: the points of the checklist with who saw them and when, inspections, what was built
//! in with its lot, and what is warranted. The window, the site and the completion packet all read it here. No cost
//! stands in it: the crew reads it, and the homeowner.

use crate::job::page::Source;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use jiff::civil::Date;
use ledger::closed_lists::{CheckState, Place};
use ledger::facts::{
    CheckPoint, Contract, Inspection as InspectionFact, Installed, Part, Warranty as WarrantyFact, WorkCheck,
};
use ledger::{Books, Entered, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::{Item, Qty};

/// How a point was found when it was last looked at.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PointCheck {
    /// Where it comes from.
    pub source: Source,
    /// How it stands.
    pub state: CheckState,
    /// Who looked.
    pub who: String,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Note.
    pub note: Option<String>,
    /// Hashes of its photos.
    pub photos: Vec<String>,
}

/// A point of the checklist, as it stands on one job.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobPoint {
    /// The point's id.
    pub id: String,
    /// The part of the roof that it belongs to; absent for the job as a whole.
    pub item: Option<Item>,
    /// That part in words.
    pub part: String,
    /// What is looked at.
    pub words: String,
    /// Whether the completion packet waits for it while it is open.
    pub blocks: bool,
    /// Whether it is settled: good, or not on this roof.
    pub settled: bool,
    /// Its newest check that stands; absent while nobody has looked.
    pub check: Option<PointCheck>,
}

impl JobPoint {
    /// What is open about it, as a list of what is open says it.
    pub(crate) fn open_words(&self) -> String {
        match &self.check {
            None => format!("{} (not looked at)", self.words),
            Some(PointCheck { note: Some(note), .. }) => format!("{}: {note}", self.words),
            Some(_) => self.words.clone(),
        }
    }
}

/// An inspection.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobInspection {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What was inspected.
    pub title: String,
    /// By whom.
    pub inspector: String,
    /// Whether it passed.
    pub passed: bool,
    /// Note.
    pub note: Option<String>,
    /// Hashes of its photos.
    pub photos: Vec<String>,
}

/// A part built in.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobInstalled {
    /// Where it comes from.
    pub source: Source,
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The item of a roof.
    pub item: Item,
    /// That item in words.
    pub part: String,
    /// What it is, as the package says.
    pub description: String,
    /// Where on the roof; absent for all of it.
    pub place: Option<Place>,
    /// Which side.
    pub side: Option<String>,
    /// Place and side in words.
    pub where_words: String,
    /// Lot or batch.
    pub lot: Option<String>,
    /// How many packages.
    pub quantity: Option<Qty>,
    /// Hash of a photo.
    pub photo: Option<String>,
}

/// A part of the contract of which it is not recorded yet that it was built in.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ToInstall {
    /// The item of a roof.
    pub item: Item,
    /// That item in words.
    pub part: String,
    /// What the contract calls it.
    pub description: String,
    /// Packages contracted.
    pub packages: Qty,
    /// What one is bought in; empty where the firm's parts do not say.
    pub package: String,
    /// How many packages, as people write it: 8 rolls.
    pub packages_words: String,
}

/// The warranty that stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobWarranty {
    /// Where it comes from.
    pub source: Source,
    /// When it was given.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub begins: Date,
    /// Years of workmanship.
    pub years: i64,
    /// The terms, as the firm words them.
    pub terms: String,
    /// How to care for the roof.
    pub care: Option<String>,
}

/// The firm's last warranty on another job, to begin with.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct WarrantyBefore {
    /// The job's number.
    pub job: String,
    /// Years of workmanship.
    pub years: i64,
    /// The terms.
    pub terms: String,
    /// How to care for the roof.
    pub care: Option<String>,
}

/// How the work was done on a job.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Workmanship {
    /// The job's number.
    pub job: String,
    /// The firm's points for the parts of this roof, in the order of the list.
    pub points: Vec<JobPoint>,
    /// Inspections, oldest first.
    pub inspections: Vec<JobInspection>,
    /// What was built in, oldest first.
    pub installed: Vec<JobInstalled>,
    /// Parts of the contract of which nothing is recorded as built in.
    pub to_install: Vec<ToInstall>,
    /// The warranty that stands: the newest.
    pub warranty: Option<JobWarranty>,
    /// Where there is none, the words of the last one on another job.
    pub warranty_before: Option<WarrantyBefore>,
    /// What the completion packet waits for, in words.
    pub waiting: Vec<String>,
}

/// How the work was done on a job.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn workmanship(desk: &Desk, job: &str) -> Result<Workmanship, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let id = names.job(job)?;
        of_job(books, &names, id)
    })
}

pub(crate) fn of_job(books: Books<'_>, names: &Names, job: Id) -> Result<Workmanship, OfficeError> {
    let contract = books.by(Contract::job, job)?.into_iter().next().map(|held| held.fact);
    let points = points(books, names, job, contract.as_ref())?;
    let installed = books.by(Installed::job, job)?;
    let mut to_install = to_install(books, contract.as_ref())?;
    let built_in: BTreeSet<(Item, &str)> =
        installed.iter().map(|held| (held.fact.item, held.fact.description.as_str())).collect();
    to_install.retain(|part| !built_in.contains(&(part.item, part.description.as_str())));
    let warranty = newest_warranty(books.by(WarrantyFact::job, job)?);
    let waits = points.iter().filter(|point| point.blocks && !point.settled);
    Ok(Workmanship {
        job: names.job_number(job),
        waiting: waits.map(JobPoint::open_words).collect(),
        inspections: inspections(books, names, job)?,
        installed: in_order(installed, |part| part.date).into_iter().map(|held| built(held, names)).collect(),
        to_install,
        warranty_before: match warranty {
            Some(_) => None,
            None => warranty_before(books, names, job)?,
        },
        warranty: warranty.map(|held| JobWarranty {
            source: Source::of(&held.entry, names),
            date: held.fact.date,
            begins: held.fact.begins,
            years: held.fact.years,
            terms: held.fact.terms,
            care: held.fact.care,
        }),
        points,
    })
}

/// By their date; of one day, in the order in which they were recorded, on whichever device.
fn in_order<T>(mut held: Vec<Entered<T>>, date: impl Fn(&T) -> Date) -> Vec<Entered<T>> {
    held.sort_by(|left, right| age(left, date(&left.fact)).cmp(&age(right, date(&right.fact))));
    held
}

fn age<T>(held: &Entered<T>, date: Date) -> (Date, &str, i64) {
    (date, &held.entry.recorded_at, held.entry.device_seq)
}

fn newest_warranty(held: Vec<Entered<WarrantyFact>>) -> Option<Entered<WarrantyFact>> {
    in_order(held, |warranty| warranty.date).pop()
}

/// The firm's points for the parts of this roof, each with its newest check. Without parts in the contract the roof's
/// own are not known, and every point is asked. A point that the firm no longer asks stays where it was looked at: what
/// was seen on this roof is not forgotten with the list.
fn points(
    books: Books<'_>,
    names: &Names,
    job: Id,
    contract: Option<&Contract>,
) -> Result<Vec<JobPoint>, OfficeError> {
    let mut checks: BTreeMap<Id, Entered<WorkCheck>> = BTreeMap::new();
    for held in in_order(books.by(WorkCheck::job, job)?, |check| check.date) {
        checks.insert(held.fact.point, held);
    }
    let items: BTreeSet<Item> =
        contract.iter().flat_map(|contract| &contract.parts).map(|part| part.item).collect();
    let here = |point: &CheckPoint| point.item.is_none_or(|item| items.is_empty() || items.contains(&item));
    let listed: BTreeMap<Id, CheckPoint> = books.current(|point: &CheckPoint| point.revises)?;
    let asked = |id: &Id, point: &CheckPoint| checks.contains_key(id) || (!point.retired && here(point));
    let mut asked: Vec<(Id, CheckPoint)> =
        listed.into_iter().filter(|(id, point)| asked(id, point)).collect();
    asked.sort_by(|(_, left), (_, right)| (left.position, &left.words).cmp(&(right.position, &right.words)));
    Ok(asked
        .into_iter()
        .map(|(id, point)| {
            let check = checks.remove(&id).map(|held| PointCheck {
                source: Source::of(&held.entry, names),
                state: held.fact.state,
                who: names.person(held.fact.person),
                date: held.fact.date,
                note: held.fact.note,
                photos: held.fact.photos.iter().map(|kept| kept.photo.to_string()).collect(),
            });
            JobPoint {
                id: id.to_string(),
                item: point.item,
                part: point.item.map_or("The whole job", Item::label).to_owned(),
                words: point.words,
                blocks: point.blocks,
                settled: check.as_ref().is_some_and(|check| check.state != CheckState::Open),
                check,
            }
        })
        .collect())
}

fn inspections(books: Books<'_>, names: &Names, job: Id) -> Result<Vec<JobInspection>, OfficeError> {
    let held = in_order(books.by(InspectionFact::job, job)?, |inspection| inspection.date);
    Ok(held
        .into_iter()
        .map(|held| JobInspection {
            source: Source::of(&held.entry, names),
            date: held.fact.date,
            title: held.fact.title,
            inspector: held.fact.inspector,
            passed: held.fact.passed,
            note: held.fact.note,
            photos: held.fact.photos.iter().map(|kept| kept.photo.to_string()).collect(),
        })
        .collect())
}

fn built(held: Entered<Installed>, names: &Names) -> JobInstalled {
    let Entered { entry, fact, .. } = held;
    let place = fact.place.map(|place| place.label().to_owned());
    let words: Vec<String> = place.into_iter().chain(fact.side.clone()).collect();
    JobInstalled {
        source: Source::of(&entry, names),
        date: fact.date,
        item: fact.item,
        part: fact.item.label().to_owned(),
        description: fact.description,
        place: fact.place,
        where_words: if words.is_empty() { "The whole roof".to_owned() } else { words.join(", ") },
        side: fact.side,
        lot: fact.lot,
        quantity: fact.quantity,
        photo: fact.photo.map(|photo| photo.to_string()),
    }
}

/// What the contract buys and what stays on the roof: the tear-off, its haul, a permit and a machine do not.
fn to_install(books: Books<'_>, contract: Option<&Contract>) -> Result<Vec<ToInstall>, OfficeError> {
    let Some(contract) = contract else { return Ok(Vec::new()) };
    let known: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let stays =
        |item: Item| !matches!(item, Item::TearOff | Item::Haul | Item::Permit | Item::Machine | Item::Other);
    let bought = contract.parts.iter().filter(|part| stays(part.item) && part.packages.is_positive());
    Ok(bought
        .map(|part| {
            let bought_in = part.part.and_then(|id| known.get(&id)).map(|part| part.package.clone());
            let package = bought_in.unwrap_or_default();
            ToInstall {
                item: part.item,
                part: part.item.label().to_owned(),
                description: part.description.clone(),
                packages: part.packages,
                packages_words: trade::shown::with_unit(part.packages, &package),
                package,
            }
        })
        .collect())
}

fn warranty_before(books: Books<'_>, names: &Names, job: Id) -> Result<Option<WarrantyBefore>, OfficeError> {
    let others = books.all::<WarrantyFact>()?.into_iter();
    let others = others.filter(|held| held.fact.job != job).collect();
    Ok(newest_warranty(others).map(|held| WarrantyBefore {
        job: names.job_number(held.fact.job),
        years: held.fact.years,
        terms: held.fact.terms,
        care: held.fact.care,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use desk::Clock;
    use desk::record::Recorder;
    use serde_json::{Value, json};

    struct Shop {
        _home: tempfile::TempDir,
        desk: Desk,
        recorder: Recorder,
    }

    const JOB: &str = "26-900";

    impl Shop {
        /// The made-up firm with a job that contracted barrier and shingles.
        fn open() -> Shop {
            let home = tempfile::tempdir().unwrap();
            let path = home.path().join("firm.tearoff");
            drop(crate::file::sample::write(&path, &mut |_, _| true).unwrap());
            let desk = Desk::open(&path, Clock::fixed("2026-11-03T13:00:00Z".parse().unwrap())).unwrap();
            let mut shop = Shop { _home: home, desk, recorder: Recorder::default() };
            shop.record(json!({"kind": "customer", "name": "Ines Hollow"}));
            shop.record(json!({"kind": "job", "date": "2026-11-03", "number": JOB, "title": "Re-roof",
                "customer": "Ines Hollow", "site": "9 Weir Street"}));
            let part = |item: &str, description: &str, packages: &str| {
                json!({"item": item, "description": description, "net": "10", "waste": "0.1",
                    "packages": packages, "cost": "77.77"})
            };
            shop.record(
                json!({"kind": "contract", "date": "2026-11-03", "job": JOB, "price": "9000.00", "included_sheets": "3",
                "lines": [{"code": "shingle", "cost_kind": "material", "amount": "77.77"}],
                "parts": [part("tear-off", "One layer", "1"), part("barrier", "Membrane, 2 squares a roll", "5"),
                    part("shingles", "Laminated shingles", "62"), part("fasteners", "Nails", "0")]}),
            );
            shop
        }

        fn record(&mut self, fact: Value) -> Id {
            let told = fact.to_string();
            self.recorder.record(&mut self.desk, fact).unwrap_or_else(|error| panic!("{told}: {error}")).id
        }

        fn check(&mut self, point: &str, date: &str, state: &str, note: Option<&str>) -> Id {
            self.record(
                json!({"kind": "work-check", "date": date, "job": JOB, "point": point, "state": state,
                "person": "Ada Quill", "note": note}),
            )
        }

        fn now(&self) -> Workmanship {
            workmanship(&self.desk, JOB).unwrap()
        }

        fn point(&self, words: &str) -> JobPoint {
            self.now().points.into_iter().find(|point| point.words == words).unwrap()
        }
    }

    const NAILS: &str = "Six nails in each shingle, on the line, flush and straight";
    const MAGNET: &str = "Lawn, beds and drive swept with a magnet";

    #[test]
    fn points_are_those_of_this_roof_in_the_order_of_the_list() {
        let shop = Shop::open();
        let work = shop.now();
        let items: BTreeSet<Option<Item>> = work.points.iter().map(|point| point.item).collect();
        let here = [None, Some(Item::TearOff), Some(Item::Barrier), Some(Item::Shingles)];
        assert_eq!(items, here.into_iter().collect(), "no chimney is contracted, so none is asked for");
        assert_eq!(work.points.first().unwrap().part, "The whole job");
        assert!(work.points.iter().all(|point| point.check.is_none() && !point.settled));
        let blocking = work.points.iter().filter(|point| point.blocks).count();
        assert!(blocking > 0 && work.waiting.len() == blocking);
        assert!(work.waiting.contains(&format!("{MAGNET} (not looked at)")));
        assert_eq!(workmanship(&shop.desk, "99-999").unwrap_err().code, desk::Code::NotFound);
    }

    #[test]
    fn the_newest_check_that_stands_counts_and_a_reversal_brings_back_the_one_before() {
        let mut shop = Shop::open();
        shop.check(NAILS, "2026-11-02", "open", Some("two courses nailed high"));
        assert!(shop.now().waiting.contains(&format!("{NAILS}: two courses nailed high")));
        let repaired = shop.check(NAILS, "2026-11-03", "good", None);
        let point = shop.point(NAILS);
        let check = point.check.unwrap();
        assert_eq!((point.settled, check.state, check.who.as_str()), (true, CheckState::Good, "Ada Quill"));
        assert_eq!(check.source.id, repaired.to_string());
        assert!(shop.now().waiting.iter().all(|words| !words.starts_with(NAILS)));
        // Of one day, the last recorded counts.
        let again = shop.check(NAILS, "2026-11-03", "open", None);
        assert!(!shop.point(NAILS).settled);
        shop.desk.reverse(again, "looked at the wrong slope").unwrap();
        assert!(shop.point(NAILS).settled);
        shop.desk.reverse(repaired, "nobody looked").unwrap();
        assert_eq!(shop.point(NAILS).check.unwrap().note.as_deref(), Some("two courses nailed high"));
        shop.check(NAILS, "2026-11-04", "not-here", None);
        assert!(shop.point(NAILS).settled);
    }

    #[test]
    fn a_point_that_is_no_longer_asked_stays_where_it_was_looked_at() {
        let mut shop = Shop::open();
        shop.check(MAGNET, "2026-11-03", "good", None);
        let (asked, other) = (shop.point(MAGNET).id, shop.point(NAILS).id);
        for (id, words, item) in [(asked, MAGNET, None), (other, NAILS, Some("shingles"))] {
            shop.record(
                json!({"kind": "check-point", "revises": id, "words": words, "item": item, "blocks": true,
                "position": 1, "retired": true}),
            );
        }
        let words: Vec<String> = shop.now().points.into_iter().map(|point| point.words).collect();
        assert!(words.contains(&MAGNET.to_owned()) && !words.contains(&NAILS.to_owned()));
    }

    #[test]
    fn parts_of_the_contract_are_offered_until_they_are_recorded_and_no_cost_is_told() {
        let mut shop = Shop::open();
        let offered = |shop: &Shop| {
            let parts = shop.now().to_install.into_iter();
            parts.map(|part| (part.description, part.packages.to_string())).collect::<Vec<_>>()
        };
        let barrier = ("Membrane, 2 squares a roll".to_owned(), "5".to_owned());
        assert_eq!(offered(&shop), [barrier.clone(), ("Laminated shingles".to_owned(), "62".to_owned())]);
        let shingles =
            shop.record(json!({"kind": "installed", "date": "2026-11-03", "job": JOB, "item": "shingles",
            "description": "Laminated shingles", "place": "roof-to-wall", "side": "north", "lot": "L-7",
            "quantity": "62"}));
        assert_eq!(offered(&shop), [barrier]);
        let work = shop.now();
        assert_eq!(work.installed[0].where_words, "Roof to wall, north");
        let told = serde_json::to_string(&work).unwrap();
        assert!(!told.contains("77.77") && !told.contains("9000"), "the crew reads a cost: {told}");
        shop.desk.reverse(shingles, "another lot").unwrap();
        assert_eq!(offered(&shop).len(), 2);
    }

    #[test]
    fn the_last_warranty_of_the_firm_is_offered_until_this_job_has_its_own() {
        let mut shop = Shop::open();
        let before = shop.now().warranty_before.unwrap();
        assert_eq!((before.job.as_str(), before.years), ("26-018", 10));
        let give = |shop: &mut Shop, years: i64| {
            shop.record(json!({"kind": "warranty", "date": "2026-11-03", "job": JOB, "begins": "2026-11-03",
                "years": years, "terms": "We come back."}))
        };
        give(&mut shop, 5);
        let second = give(&mut shop, 7);
        assert_eq!(shop.now().warranty.unwrap().years, 7);
        assert_eq!(shop.now().warranty_before, None);
        shop.desk.reverse(second, "five years were agreed").unwrap();
        assert_eq!(shop.now().warranty.unwrap().years, 5);
    }

    #[test]
    fn the_made_up_firm_has_a_job_with_one_point_open() {
        let shop = Shop::open();
        let work = workmanship(&shop.desk, "26-018").unwrap();
        assert_eq!(work.points.iter().filter(|point| point.settled).count() + 1, work.points.len());
        assert_eq!((work.waiting.len(), work.installed.len(), work.inspections.len()), (1, 3, 1));
        assert!(work.waiting[0].starts_with("Photos of every side"));
    }
}

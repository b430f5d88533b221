//! Which price, rate and standard holds on a day, what a crew's hour costs, and what the lists begin with.

#![cfg(test)]

mod first_day;

use jiff::Timestamp;
use jiff::civil::Date;
use ledger::Id;
use ledger::facts::CheckPoint;
use office::rates::{self, loaded_on, observed, price_on, production_on, standards_on};
use office::{Clock, Desk, NewFirm, Recorder};
use serde_json::{Value, json};
use tempfile::TempDir;
use trade::{Item, Origin, Steepness, Topic};

struct Shop {
    desk: Desk,
    recorder: Recorder,
    _folder: TempDir,
}

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

impl Shop {
    fn open() -> Shop {
        let folder = tempfile::tempdir().unwrap();
        let firm = json!({"date": "2026-01-01", "name": "Quarrel & Daughter Roofing", "town": "Alder Falls",
            "state": "OH",
            "currency": "USD", "week_begins": "monday", "overtime_over_week": "40", "overtime_over_day": null,
            "premium_to": "hours", "sales_tax": "0", "sales_tax_rounding": "invoice", "material_tax_is_cost": true,
            "overhead_by": "labor-hours", "overhead_rate": "0"});
        let new = NewFirm { firm: serde_json::from_value(firm).unwrap(), owner: "Wren Quarrel".to_owned() };
        let clock = Clock::fixed("2026-01-05T13:00:00Z".parse::<Timestamp>().unwrap());
        let desk = Desk::make(&folder.path().join("firm.tearoff"), &new, clock).unwrap();
        let mut shop = Shop { desk, recorder: Recorder::default(), _folder: folder };
        shop.record(json!({"kind": "cost-code", "code": "shingle", "title": "Shingles", "unit": "square",
            "position": 1}));
        shop.record(json!({"kind": "vendor", "name": "Yard"}));
        shop.record(json!({"kind": "vendor", "name": "Barn"}));
        shop.record(
            json!({"kind": "part", "name": "laminated", "title": "Laminated shingles", "item": "shingles",
            "code": "shingle", "cost_kind": "material", "package": "bundle", "covers": "33.3333"}),
        );
        shop
    }

    fn record(&mut self, fact: Value) -> Id {
        self.recorder.record(&mut self.desk, fact).unwrap().id
    }

    fn price(&mut self, date: &str, vendor: &str, price: &str) -> Id {
        self.record(json!({"kind": "part-price", "date": date, "part": "laminated", "vendor": vendor, "price": price}))
    }

    fn costs(&self, part: Id, on: &str) -> Option<String> {
        price_on(self.desk.books(), part, day(on)).unwrap().map(|found| found.price.to_string())
    }

    fn part(&self) -> Id {
        let shown = office::rates(&self.desk, day("2026-12-31")).unwrap();
        Id::parse(&shown.parts[0].id).unwrap()
    }
}

#[test]
fn the_newest_price_of_each_vendor_counts_and_of_these_the_lowest() {
    let mut shop = Shop::open();
    let part = shop.part();
    assert_eq!(shop.costs(part, "2026-06-01"), None);
    shop.price("2026-02-01", "Yard", "34.50");
    assert_eq!(
        shop.costs(part, "2026-01-31").as_deref(),
        Some("34.5"),
        "the first counts from the beginning"
    );
    assert_eq!(shop.costs(part, "2026-02-01").as_deref(), Some("34.5"));
    shop.price("2026-03-01", "Barn", "33");
    assert_eq!(
        shop.costs(part, "2026-02-28").as_deref(),
        Some("34.5"),
        "what is dated later does not count yet"
    );
    assert_eq!(shop.costs(part, "2026-03-01").as_deref(), Some("33"));
    let rise = shop.price("2026-04-01", "Barn", "36");
    assert_eq!(shop.costs(part, "2026-04-01").as_deref(), Some("34.5"), "the barn's old price is gone");
    assert_eq!(shop.costs(part, "2026-03-31").as_deref(), Some("33"), "a past day keeps its price");
    shop.desk.reverse(rise, "typed at the wrong vendor").unwrap();
    assert_eq!(shop.costs(part, "2026-04-01").as_deref(), Some("33"), "what was reversed never counts");
    shop.price("2026-03-01", "Barn", "33.25");
    assert_eq!(shop.costs(part, "2026-04-01").as_deref(), Some("33.25"), "of one day, the last recorded");
}

#[test]
fn a_later_version_of_a_part_keeps_its_prices() {
    let mut shop = Shop::open();
    let part = shop.part();
    shop.price("2026-02-01", "Yard", "34.50");
    shop.record(json!({"kind": "part", "revises": part.to_string(), "name": "laminated",
        "title": "Laminated shingles, new wrap",
        "item": "shingles", "code": "shingle", "cost_kind": "material", "package": "bundle", "covers": "33.3333",
        "retired": true}));
    let shown = office::rates(&shop.desk, day("2026-06-01")).unwrap();
    let [row] = shown.parts.as_slice() else { panic!("{:?}", shown.parts) };
    assert_eq!(
        (row.id.clone(), row.title.as_str(), row.retired),
        (part.to_string(), "Laminated shingles, new wrap", true)
    );
    let best = row.best.clone().unwrap();
    assert_eq!((best.vendor.as_deref(), best.price.to_string()), (Some("Yard"), "34.5".to_owned()));
    assert_eq!((row.measure_word.as_str(), row.code.as_str(), row.history.len()), ("sq ft", "shingle", 1));
}

#[test]
fn a_production_rate_holds_for_its_height_and_above_and_for_its_steepness_alone() {
    let mut shop = Shop::open();
    for (date, stories, hours) in
        [("2026-02-01", 1, "0.015"), ("2026-02-01", 2, "0.018"), ("2026-05-01", 1, "0.014")]
    {
        shop.record(
            json!({"kind": "production-rate", "date": date, "item": "shingles", "steepness": "walkable",
            "stories": stories, "code": "shingle", "hours": hours}),
        );
    }
    let rate = |steepness, stories, on: &str| {
        let found = production_on(shop.desk.books(), Item::Shingles, steepness, stories, day(on)).unwrap();
        found.map(|rate| (rate.hours.to_string(), rate.stories))
    };
    assert_eq!(rate(Steepness::Walkable, 1, "2026-03-01"), Some(("0.015".to_owned(), 1)));
    assert_eq!(rate(Steepness::Walkable, 1, "2026-05-01"), Some(("0.014".to_owned(), 1)));
    assert_eq!(rate(Steepness::Walkable, 3, "2026-05-01"), Some(("0.018".to_owned(), 2)));
    assert_eq!(rate(Steepness::Steep, 1, "2026-05-01"), None);
    // The first rate counts from the beginning, a later one from its day.
    assert_eq!(rate(Steepness::Walkable, 1, "2026-01-31"), Some(("0.015".to_owned(), 1)));
    assert_eq!(rate(Steepness::Walkable, 1, "2026-04-30"), Some(("0.015".to_owned(), 1)));
    let shown = office::rates(&shop.desk, day("2026-06-01")).unwrap().production;
    assert_eq!(shown.iter().map(|row| row.hours.to_string()).collect::<Vec<_>>(), ["0.014", "0.018"]);
}

#[test]
fn the_usual_standards_and_points_are_added_once_and_never_over_the_firms_own() {
    let mut shop = Shop::open();
    shop.record(json!({"kind": "standard", "date": "2026-02-01", "topic": "nails-each", "origin": "company",
        "value": "5"}));
    let usual = trade::roof::usual().len();
    assert_eq!(rates::begin_standards(&mut shop.desk, day("2026-03-01")).unwrap(), usual - 1);
    assert_eq!(rates::begin_standards(&mut shop.desk, day("2026-03-02")).unwrap(), 0);
    let asked = standards_on(shop.desk.books(), day("2026-03-01")).unwrap();
    let nails =
        asked.iter().find(|one| one.topic == Topic::NailsEach && one.origin == Origin::Company).unwrap();
    assert_eq!((nails.value.to_string(), nails.setting().source.as_str()), ("5".to_owned(), "company rule"));
    assert_eq!(standards_on(shop.desk.books(), day("2026-02-28")).unwrap().len(), 1);
    let row = office::rates(&shop.desk, day("2026-03-01")).unwrap().standards;
    assert_eq!(row.len(), Topic::ALL.len());
    let inside = row.iter().find(|row| row.topic == Topic::BarrierEaveInside).unwrap();
    let value = |asked: &Option<rates::AskedOf>| asked.as_ref().map(|one| one.value.to_string());
    assert_eq!((value(&inside.code).as_deref(), value(&inside.company).as_deref()), (Some("24"), Some("48")));

    let points = rates::usual_points().len();
    assert_eq!(rates::begin_checklist(&mut shop.desk).unwrap(), points);
    assert_eq!(rates::begin_checklist(&mut shop.desk).unwrap(), 0);
    let shown = office::rates(&shop.desk, day("2026-03-01")).unwrap().check_points;
    let first = shown.first().unwrap();
    assert_eq!((shown.len(), first.position, first.item_title.as_str()), (points, 1, "The whole job"));
    shop.record(json!({"kind": "check-point", "revises": first.id, "words": first.words, "blocks": false,
        "position": 1, "retired": true}));
    let shown = office::rates(&shop.desk, day("2026-03-01")).unwrap().check_points;
    assert_eq!(shown.last().map(|point| (point.id.clone(), point.retired)), Some((first.id.clone(), true)));
    assert_eq!(shop.desk.books().current(|point: &CheckPoint| point.revises).unwrap().len(), points);
}

#[test]
fn a_crews_hour_is_its_pay_and_what_comes_on_top_of_it() {
    let mut shop = Shop::open();
    shop.record(json!({"kind": "crew", "name": "North", "size": 2, "hours_a_day": "9"}));
    for (name, hourly) in [("Ada Quill", "30"), ("Bo Marsh", "20")] {
        shop.record(
            json!({"kind": "person", "name": name, "role": "crew", "crew": "North", "class": "roofing"}),
        );
        shop.record(json!({"kind": "pay-rate", "date": "2026-01-05", "person": name, "hourly": hourly}));
    }
    shop.record(json!({"kind": "person", "name": "Cy Vale", "role": "crew", "crew": "North"}));
    for (name, on, rate, class) in [
        ("Social Security", "pay", "0.062", None),
        ("Workers' compensation", "hundred-of-pay", "15", Some("roofing")),
        ("Health", "hour", "1.25", None),
    ] {
        shop.record(
            json!({"kind": "burden-rate", "date": "2026-01-05", "name": name, "calculated_on": on, "rate": rate,
            "class": class}),
        );
    }
    // Two people, 40 hours each: pay (1,200 + 800) ÷ 80; on top 6.2 % + 15 % of that, and 1.25.
    let rows = loaded_on(shop.desk.books(), day("2026-02-01")).unwrap();
    assert_eq!(rows.len(), 2);
    for row in &rows {
        let shown = (row.people, row.pay.to_string(), row.burden.to_string(), row.loaded.to_string());
        assert_eq!(shown, (2, "25".to_owned(), "6.55".to_owned(), "31.55".to_owned()));
    }
    assert!(rows[0].crew.is_some() && rows[1].crew.is_none());
    // First pay and burden count from the beginning.
    assert_eq!(loaded_on(shop.desk.books(), day("2026-01-04")).unwrap(), rows);
}

#[test]
fn the_made_up_firms_finished_jobs_say_what_a_square_took() {
    let folder = tempfile::tempdir().unwrap();
    let desk = office::sample::write(&folder.path().join("firm.tearoff"), &mut |_, _| true).unwrap();
    let found = observed(desk.books()).unwrap();
    let tear = found.iter().find(|row| row.code == "tear").unwrap();
    assert!(tear.jobs >= 10 && tear.low <= tear.median && tear.median <= tear.high, "{tear:?}");
    assert_eq!(tear.rate, trade::Rate::rounded(tear.hours.decimal() / tear.units.decimal()));
    let offered = tear.offered.as_ref().unwrap();
    assert_eq!(
        (offered.item, offered.hours),
        (Item::TearOff, tear.rate),
        "its code holds one item, by the square"
    );
    let shingle = found.iter().find(|row| row.code == "shingle").unwrap();
    assert_eq!(shingle.offered, None, "its code holds starter too");

    let rates = office::rates(&desk, day("2026-11-03")).unwrap();
    assert_eq!((rates.parts.len(), rates.check_points.len(), rates.production.len()), (39, 20, 188));
    let laminated = rates.parts.iter().find(|part| part.name == "laminated").unwrap();
    let best = laminated.best.as_ref().unwrap();
    assert_eq!((best.price.to_string(), best.since), ("35.7".to_owned(), day("2026-07-01")));
    assert_eq!((laminated.prices.len(), laminated.history.len()), (2, 3));
    assert!(rates.loaded.len() > 2 && rates.loaded.iter().all(|row| row.loaded > row.pay));
}

//! A company's first day: the usual lists are taken as they are offered, and a roof has a price.

use jiff::Timestamp;
use jiff::civil::{Date, date};
use office::{Clock, Desk, NewFirm, Recorder, SetUp, SetUpStep, UsualFact};
use serde_json::{Value, json};
use tempfile::TempDir;

const TODAY: Date = date(2026, 3, 9);

struct FirstDay {
    desk: Desk,
    recorder: Recorder,
    _folder: TempDir,
}

impl FirstDay {
    fn begin() -> FirstDay {
        let folder = tempfile::tempdir().unwrap();
        let said = json!({"name": "Quarrel & Daughter Roofing", "town": "Alder Falls", "state": "LK"});
        let clock = Clock::fixed("2026-03-09T13:00:00Z".parse::<Timestamp>().unwrap());
        let new = NewFirm::usual("Wren Quarrel", said.as_object().unwrap().clone(), TODAY).unwrap();
        let desk = Desk::make(&folder.path().join("firm.tearoff"), &new, clock).unwrap();
        FirstDay { desk, recorder: Recorder::default(), _folder: folder }
    }

    /// Records a usual list at once; what is asked is answered alike.
    fn take(&mut self, step: SetUpStep) -> usize {
        let lists = office::usual_lists(&self.desk).unwrap();
        let facts: Vec<Value> = lists.of(step).iter().map(answered).collect();
        self.record(facts)
    }

    fn record(&mut self, facts: Vec<Value>) -> usize {
        self.recorder.record_all(&mut self.desk, facts).unwrap().len()
    }

    fn stands(&self) -> SetUp {
        office::what_is_set_up(&self.desk).unwrap()
    }

    fn says(&self, step: SetUpStep) -> (bool, String) {
        let line = self.stands().lines.into_iter().find(|line| line.step == step).unwrap();
        (line.done, line.says)
    }
}

fn answered(usual: &UsualFact) -> Value {
    let mut fact = usual.fact.clone();
    for field in &usual.asked {
        let answer = match field.as_str() {
            "rate" => "0.02",
            "wage_base" => "9000.00",
            "source" => "The state's notice for 2026",
            other => panic!("{other} of {} is asked, and nobody knows the answer", usual.title),
        };
        fact.insert(field.clone(), json!(answer));
    }
    Value::Object(fact)
}

/// A gable of 40 by 30 ft.
fn roof() -> Value {
    let side = |name: &str, corners: [(u32, u32); 4]| {
        let edges = ["eave", "rake", "ridge", "rake"].into_iter().zip(corners);
        let outline: Vec<Value> = edges
            .map(|(edge, (x, y))| json!({"edge": edge, "x_in": x.to_string(), "y_in": y.to_string()}))
            .collect();
        json!({"name": name, "slope": "6", "typed": null, "outline": outline})
    };
    json!([
        side("front", [(0, 0), (480, 0), (480, 180), (0, 180)]),
        side("back", [(480, 360), (0, 360), (0, 180), (480, 180)]),
    ])
}

#[test]
fn the_usual_lists_are_enough_for_a_price_and_each_says_what_is_left() {
    let mut firm = FirstDay::begin();
    let empty = firm.stands();
    assert_eq!((empty.before_price, empty.left), (6, 10), "{:?}", empty.lines);
    assert!(firm.take(SetUpStep::Codes) > 8);
    assert_eq!(firm.says(SetUpStep::Codes), (true, "12 codes.".to_owned()));
    assert_eq!(office::usual_lists(&firm.desk).unwrap().codes, []);

    firm.record(vec![json!({"kind": "crew", "name": "North", "size": 2, "hours_a_day": "8"})]);
    firm.record(vec![json!({"kind": "person", "name": "Ada Rill", "role": "crew", "crew": "North",
        "class": "roofing"})]);
    let (done, says) = firm.says(SetUpStep::People);
    assert!(!done && says.starts_with("No pay yet for Ada Rill"), "{says}");
    firm.record(vec![
        json!({"kind": "pay-rate", "date": "2026-03-09", "person": "Ada Rill", "hourly": "30"}),
    ]);
    assert_eq!(firm.says(SetUpStep::People), (true, "Pay for 1 on 1 crew.".to_owned()));

    assert_eq!(firm.take(SetUpStep::Burden), 6);
    assert!(firm.says(SetUpStep::Burden).0);
    assert!(firm.take(SetUpStep::Parts) > 20);
    let (done, says) = firm.says(SetUpStep::Parts);
    assert!(!done && says.starts_with("No price yet for haul-off and dump fees, membrane"), "{says}");
    let parts = office::rates(&firm.desk, TODAY).unwrap().parts;
    let price = |id: &str| json!({"kind": "part-price", "date": "2026-03-09", "part": id, "price": "40"});
    firm.record(parts.iter().map(|part| price(&part.id)).collect());
    let (done, says) = firm.says(SetUpStep::Parts);
    assert!(done && says.contains("cover what is usual, to be checked"), "{says}");

    assert!(firm.take(SetUpStep::Production) > 80);
    let (done, says) = firm.says(SetUpStep::Production);
    assert!(done && says.ends_with("are usual values, to be checked against your own."), "{says}");
    assert!(firm.take(SetUpStep::Standards) > 10);
    assert_eq!(firm.stands().before_price, 0);
    assert_eq!(firm.take(SetUpStep::Checklist), office::rates::usual_points().len());
    firm.take(SetUpStep::Accounts);
    let left = firm.stands();
    let open: Vec<SetUpStep> = left.lines.iter().filter(|line| !line.done).map(|line| line.step).collect();
    assert_eq!(open, [SetUpStep::Recipe, SetUpStep::Letterhead]);

    firm.record(vec![json!({"kind": "customer", "name": "Ines Hollow"})]);
    firm.record(vec![json!({"kind": "job", "date": "2026-03-09", "number": "26-001", "title": "Gable",
        "customer": "Ines Hollow", "site": "9 Weir Street"})]);
    let mut draft = serde_json::to_value(office::begin(&firm.desk, "26-001", None).unwrap()).unwrap();
    draft["roof"]["sections"] = roof();
    draft["roof"]["house"]["attic_floor_sqft"] = json!("1200");
    let estimate = serde_json::from_value(draft).unwrap();
    let calculated = office::calculate(&firm.desk, "26-001", &estimate).unwrap();
    assert!(calculated.problems.is_empty(), "{:?}", calculated.problems);
    for choice in &calculated.choices {
        assert!(choice.problems.is_empty(), "{}: {:?}", choice.letter, choice.problems);
        assert!(choice.price.is_positive(), "{} has no price", choice.letter);
    }
}

#[test]
fn an_own_figure_is_no_usual_value_and_its_list_is_offered_no_more() {
    let mut firm = FirstDay::begin();
    firm.take(SetUpStep::Codes);
    let lists = office::usual_lists(&firm.desk).unwrap();
    let mut of_shingles: Vec<Value> = lists.production.iter().map(answered).collect();
    of_shingles.retain(|fact| fact["item"] == "shingles");
    of_shingles[1]["hours"] = json!("0.0231");
    assert_eq!(firm.record(of_shingles), 4);
    let rows = office::rates(&firm.desk, TODAY).unwrap().production;
    assert_eq!(rows.iter().map(|row| row.usual).collect::<Vec<_>>(), [true, false, true, true]);
    let left = office::usual_lists(&firm.desk).unwrap().production;
    assert_eq!(left.len(), lists.production.len() - 4);
    assert!(left.iter().all(|usual| usual.fact["item"] != "shingles"));
}

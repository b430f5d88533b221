//! What the page's tests take for the program's answers: written from the made-up firm by the functions that the
//! commands call, and held by a test against what would be written. `TEAROFF_WRITE_FIXTURES=1 cargo test -p
//! tearoff-desktop fixtures` writes them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use intake::{Choices, DateOrder, Kind};
use office::{Clock, Desk, Estimate, Month, Recorder, Which};
use serde::Serialize;
use serde_json::{Value, json};
use tempfile::TempDir;

/// Set to write the answers instead of comparing them.
const WRITE: &str = "TEAROFF_WRITE_FIXTURES";

/// The day on which everything is asked.
const TODAY: &str = "2026-11-02";
/// The job that is looked at closely: a change order beyond the included sheets, and a bill still to come.
const LOOKED_AT: &str = "26-021";
/// The job whose roof is estimated.
const ESTIMATED: &str = "26-900";
/// The job whose work is looked at.
const WORKED: &str = "26-901";

/// Bills as another program wrote them: whether 3/4 is in March or in April can't be seen.
const BILLS: &str = "date,vendor,reference,job,code,description,quantity,unit,amount,tax
3/4/2026,Three Forks Roofing Wholesale,TF 901,26-020,shingle,Shingles,40,bundle,1140.00,62.70
3/4/2026,Three Forks Roofing Wholesal,TF 902,26-020,ridge,Cap,4,bundle,180.00,9.90
3/5/2026,Millrace Haulage,MH 77,26-021,haul,Container,1,each,410.00,0.00
";

type Files = BTreeMap<String, String>;

fn ours() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/tests/fixtures")
}

/// The made-up firm on the day on which its owner closes October, and what was written of it so far.
struct Firm {
    _home: TempDir,
    desk: Desk,
    recorder: Recorder,
    files: Files,
}

impl Firm {
    fn new() -> Self {
        let home = tempfile::tempdir().unwrap();
        let mut desk = office::sample::write(&home.path().join("firm.tearoff"), &mut |_, _| true).unwrap();
        desk.clock = Clock::fixed(format!("{TODAY}T13:00:00Z").parse().unwrap());
        Self { _home: home, desk, recorder: Recorder::default(), files: Files::new() }
    }

    fn record(&mut self, fact: Value) {
        let told = fact.to_string();
        self.recorder.record(&mut self.desk, fact).unwrap_or_else(|error| panic!("{told}: {error}"));
    }

    fn keep(&mut self, name: &str, answer: impl Serialize) {
        let text = laid_out(&serde_json::to_value(answer).unwrap());
        assert!(self.files.insert(format!("{name}.json"), text).is_none(), "{name} is kept twice");
    }

    fn books(&mut self) {
        let [august, september, october] =
            ["2026-08", "2026-09", "2026-10"].map(|month| Month::parse(month).unwrap());
        let folder = tempfile::tempdir().unwrap();
        office::hand_off::hand_off(&mut self.desk, august, folder.path(), &mut |_| true).unwrap();
        self.keep("people", office::people(&self.desk).unwrap());
        self.keep("year", office::year(&self.desk, Some(2026), october).unwrap());
        self.keep("month-end", office::month_end(&self.desk, october).unwrap());
        self.keep("firm-budget", office::firm_budget(&self.desk, october).unwrap());
        let cash = office::cash(&self.desk, self.desk.clock.today(), &office::AsIf::default()).unwrap();
        self.keep("explanation-cash-out", office::explain_cash(&cash, "cash-out/1").unwrap());
        self.keep("cash-ahead", cash);
        self.keep("firm-year", office::firm_year(&self.desk, october).unwrap());
        self.keep("overhead", office::overhead(&self.desk, october).unwrap());
        // Of whoever owes the longest.
        let owed = office::month_end(&self.desk, october).unwrap().owed.invoices;
        let late = owed.iter().find(|invoice| invoice.days_past_due.is_some_and(|days| days > 0)).unwrap();
        let day = self.desk.clock.today();
        self.keep("customer-statement", office::statement(&self.desk, &late.customer_id, day).unwrap());
        self.keep("payables", office::payables(&self.desk).unwrap());
        let listed = intake::vendor_statement("TF-7983 3,998.40\nTF-9001 210.00").unwrap();
        let vendor = "Three Forks Roofing Wholesale";
        self.keep("vendor-statement", office::vendor_statement(&self.desk, vendor, &listed).unwrap());
        self.keep("bank", office::bank(&self.desk, None).unwrap());
        self.keep("subcontractors", office::subcontractors(&self.desk, Some(2026)).unwrap());
        self.keep("bill-desk", office::bill_desk(&self.desk).unwrap());
        self.keep("job-billing", office::job_billing(&self.desk, "26-013").unwrap());
        self.keep("loose-ends", office::loose_ends(&self.desk, october).unwrap());
        self.keep("lists", office::lists(&self.desk).unwrap());
        self.parts();
        self.keep("rates", office::rates(&self.desk, self.desk.clock.today()).unwrap());
        self.keep("job-page", office::job_page(&self.desk, LOOKED_AT, october).unwrap());
        self.keep("to-bill", office::invoice::to_bill(&self.desk, LOOKED_AT).unwrap());
        for figure in ["cost/deck", "labor-hours", "margin"] {
            let explained = office::explain_job(&self.desk, LOOKED_AT, october, figure).unwrap();
            self.keep(&format!("explanation-{}", figure.replace('/', "-")), explained);
        }
        self.keep("hand-off-preview", office::hand_off::preview(&self.desk, september).unwrap());
        self.keep("condition-history", office::condition_history(&self.desk, None, october).unwrap());
        for (name, by, key, figure) in [
            ("record-unrecovered", "all", "", "unrecovered"),
            ("record-pieces", "cause", "missing-kick-out", "pieces-cost"),
        ] {
            let which: Which =
                serde_json::from_value(json!({"by": by, "key": key, "figure": figure})).unwrap();
            self.keep(name, office::opened(&self.desk, None, october, &which).unwrap());
        }
    }

    /// A part that has no price yet, and one that is bought no more.
    fn parts(&mut self) {
        for (name, title, retired) in
            [("slate", "Slate-look shingles", false), ("old-strip", "Strip shingles, old wrap", true)]
        {
            self.record(json!({"kind": "part", "name": name, "title": title, "item": "shingles",
                "code": "shingle", "cost_kind": "material", "package": "bundle", "covers": "33.3333",
                "retired": retired}));
        }
    }

    /// A company on its first day: nothing is set up, and the usual lists are whole.
    fn first_day(&mut self) {
        let home = tempfile::tempdir().unwrap();
        let clock = Clock::fixed(format!("{TODAY}T13:00:00Z").parse().unwrap());
        let said = json!({"name": "Alder & Daughter Roofing", "town": "Weir Bend", "state": "LK"});
        let Value::Object(said) = said else { panic!("{said} is no object") };
        let new = office::NewFirm::usual("Ines Alder", said, clock.today()).unwrap();
        let desk = Desk::make(&home.path().join("new.tearoff"), &new, clock).unwrap();
        self.keep("new-lists", office::lists(&desk).unwrap());
        self.keep("what-is-set-up", office::what_is_set_up(&desk).unwrap());
        self.keep("usual-lists", office::usual_lists(&desk).unwrap());
    }

    fn site(&mut self) {
        self.keep("site-day", office::site_day(&self.desk, self.desk.clock.today()).unwrap());
        self.job(WORKED);
        let part = |item: &str, description: &str, packages: &str| {
            json!({"item": item, "description": description, "net": "10", "waste": "0.1", "packages": packages,
                "cost": "77.77"})
        };
        let check = |point: &str, person: &str, state: &str, note: Option<&str>| {
            json!({"kind": "work-check", "date": TODAY, "job": WORKED, "point": point, "state": state,
                "person": person, "note": note})
        };
        self.record(json!({"kind": "contract", "date": TODAY, "job": WORKED, "price": "9000.00",
            "included_sheets": "3",
            "lines": [{"code": "shingle", "cost_kind": "material", "amount": "77.77"}],
            "parts": [part("tear-off", "One layer", "1"), part("barrier", "Membrane, 2 squares a roll", "5"),
                part("shingles", "Laminated shingles", "62")]}));
        self.record(check(
            "Fall protection in place before anybody is on the roof",
            "Ada Quill",
            "good",
            None,
        ));
        let short = Some("Strip along the porch wall is short");
        self.record(check(
            "Membrane in valleys, round penetrations and along walls",
            "Tomas Brandt",
            "open",
            short,
        ));
        self.record(json!({"kind": "inspection", "date": TODAY, "job": WORKED, "title": "Membrane",
            "inspector": "Building office", "passed": false, "note": "Porch wall"}));
        self.record(json!({"kind": "installed", "date": TODAY, "job": WORKED, "item": "drip-edge",
            "description": "Drip edge, 10 ft", "place": "eave", "lot": "D-44", "quantity": "12"}));
        self.keep("workmanship", office::workmanship(&self.desk, WORKED).unwrap());
    }

    fn job(&mut self, number: &str) {
        self.record(json!({"kind": "customer", "name": format!("Ines Hollow {number}")}));
        self.record(
            json!({"kind": "job", "date": TODAY, "number": number, "title": "Re-roof, L with a wall",
            "customer": format!("Ines Hollow {number}"), "site": "9 Weir Street", "crew": "North",
            "roof_age_years": 24, "roof_state": "worn"}),
        );
    }

    fn estimate(&mut self) {
        self.job(ESTIMATED);
        let mut draft = serde_json::to_value(office::begin(&self.desk, ESTIMATED, None).unwrap()).unwrap();
        draft["roof"]["sections"] = ell();
        draft["roof"]["features"] =
            json!([{"kind": "pipe", "section": "back", "at": {"x_in": "200", "y_in": "430"}, "count": 2}]);
        for (field, value) in [
            ("attic_floor_sqft", json!("1500")),
            ("built_before_1978", json!(true)),
            ("cut_up", json!("some")),
        ] {
            draft["roof"]["house"][field] = value;
        }
        let estimate: Estimate = serde_json::from_value(draft).unwrap();
        let calculated = office::calculate(&self.desk, ESTIMATED, &estimate).unwrap();
        assert!(calculated.problems.is_empty(), "{:?}", calculated.problems);
        let page = office::job_page(&self.desk, ESTIMATED, Month::parse("2026-11").unwrap()).unwrap();
        self.keep("estimate", json!({"estimate": estimate, "calculated": calculated, "page": page}));
    }

    fn imports(&mut self) {
        for (name, date_order) in [("import-preview", None), ("import-ready", Some(DateOrder::MonthFirst))] {
            let choices = Choices { date_order, make_missing: date_order.is_some(), ..Choices::default() };
            let parsed = intake::read(Kind::Bills, BILLS.as_bytes(), &choices);
            self.keep(name, intake::preview(&self.desk, &parsed).unwrap());
        }
    }
}

/// An L of two wings, one of them against a wall: eaves, rakes, ridges, a hip and a valley.
fn ell() -> Value {
    let section = |name: &str, corners: [(&str, u32, u32); 4]| {
        let outline =
            corners.map(|(edge, x, y)| json!({"edge": edge, "x_in": x.to_string(), "y_in": y.to_string()}));
        json!({"name": name, "slope": "6", "typed": null, "outline": outline})
    };
    json!([
        section("front", [("eave", 0, 192), ("valley", 312, 192), ("ridge", 468, 348), ("wall", 0, 348)]),
        section("back", [("eave", 624, 504), ("rake", 0, 504), ("ridge", 0, 348), ("hip", 468, 348)]),
        section(
            "leg inside",
            [("eave", 312, 192), ("rake", 312, 0), ("ridge", 468, 0), ("valley", 468, 348)]
        ),
        section("leg outside", [("eave", 624, 0), ("hip", 624, 504), ("ridge", 468, 348), ("rake", 468, 0)]),
    ])
}

/// JSON with a line for each field, and for each item of a field's list: a change is seen in its line.
fn laid_out(value: &Value) -> String {
    let lines = |items: Vec<String>, [open, close]: [char; 2], indent: &str| {
        format!("{open}\n{indent}  {}\n{indent}{close}", items.join(&format!(",\n{indent}  ")))
    };
    let list = |items: &[Value], indent: &str| {
        lines(items.iter().map(ToString::to_string).collect(), ['[', ']'], indent)
    };
    let field = |value: &Value| match value {
        Value::Array(items) if items.iter().any(Value::is_object) => list(items, "  "),
        other => other.to_string(),
    };
    let text = match value {
        Value::Object(fields) => lines(
            fields.iter().map(|(name, value)| format!("{}: {}", json!(name), field(value))).collect(),
            ['{', '}'],
            "",
        ),
        Value::Array(items) => list(items, ""),
        other => other.to_string(),
    };
    format!("{text}\n")
}

fn held() -> Files {
    let files = fs::read_dir(ours()).unwrap().map(|item| item.unwrap().path());
    files
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect()
}

#[test]
fn the_pages_tests_read_what_the_program_answers() {
    let mut firm = Firm::new();
    firm.first_day();
    firm.books();
    firm.imports();
    firm.site();
    firm.estimate();
    let wanted = firm.files;

    if std::env::var_os(WRITE).is_some() {
        let _ = fs::remove_dir_all(ours());
        fs::create_dir_all(ours()).unwrap();
        for (name, text) in &wanted {
            fs::write(ours().join(name), text).unwrap();
        }
    }
    let held = held();
    let differ: Vec<&String> =
        wanted.keys().chain(held.keys()).filter(|name| wanted.get(*name) != held.get(*name)).collect();
    assert!(
        differ.is_empty(),
        "the answers that the page's tests read are behind the program's: {differ:?}. Run `{WRITE}=1 cargo test -p \
         tearoff-desktop fixtures`."
    );
}

//! The made-up firm: eight months of a small roofing contractor, so that every report has something to say.
//!
//! Its facts lie in `sample-data/`, a file a month, a line a fact, in the order in which they were written down and in
//! the shape that [`desk::record`] reads. Beside facts, a line may be one of six things to do:
//!
//! ```json
//! {"do": "make", "date": "2026-03-02", "owner": "Ruth Quill", "firm": {"name": "Quill and Daughter Roofing"}}
//! {"do": "day", "date": "2026-03-16", "by": "Ada Quill"}
//! {"do": "crew-day", "date": "2026-03-16", "crew": "North", "people": ["Ada Quill"], "job": "26-001", "code": "tear",
//!  "hours": "8"}
//! {"do": "sign", "job": "26-001", "draft": {}, "choices": {"B": {}}, "accept": {"letter": "B", "date": "2026-03-04"}}
//! {"do": "match-bank", "through": "2026-09-30"}
//! {"do": "close", "month": "2026-03"}
//! ```
//! `make` comes first and once; `day` says on which day, and by whom, what follows was written down; `crew-day` is a
//! `time` fact for each of the people; `sign` draws a roof, calculates its estimate and accepts a choice of it, which
//! makes the roof and the contract; `match-bank` matches every line that fits of the statement that ends on that day;
//! `close` closes a month on the day at hand. The clock is a fixed one, so that the firm is the same to the byte
//! wherever and whenever it is written.

mod signing;

use desk::Code;
use desk::OfficeError;
use desk::record::Recorder;
use desk::{Clock, Desk, NewFirm};
use jiff::Timestamp;
use jiff::civil::Date;
use ledger::kinds::kind_spec;
use ledger::links::named_by;
use ledger::{Fact, NewFact};
use serde_json::{Map, Value};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use trade::Month;

/// The files, in order. Each name is the one in `sample-data/`.
const FILES: [(&str, &str); 10] = [
    ("00-firm.jsonl", include_str!("../../../../../sample-data/00-firm.jsonl")),
    ("03-march.jsonl", include_str!("../../../../../sample-data/03-march.jsonl")),
    ("04-april.jsonl", include_str!("../../../../../sample-data/04-april.jsonl")),
    ("05-may.jsonl", include_str!("../../../../../sample-data/05-may.jsonl")),
    ("06-june.jsonl", include_str!("../../../../../sample-data/06-june.jsonl")),
    ("07-july.jsonl", include_str!("../../../../../sample-data/07-july.jsonl")),
    ("08-august.jsonl", include_str!("../../../../../sample-data/08-august.jsonl")),
    ("09-september.jsonl", include_str!("../../../../../sample-data/09-september.jsonl")),
    ("10-october.jsonl", include_str!("../../../../../sample-data/10-october.jsonl")),
    ("11-november.jsonl", include_str!("../../../../../sample-data/11-november.jsonl")),
];

/// Where a line stands, for messages.
#[derive(Clone, Copy, Debug)]
struct Spot {
    file: &'static str,
    line: usize,
}

impl Spot {
    /// A fault in the sample is a fault of ours: it is told with its place.
    fn wrong(self, problem: &OfficeError) -> OfficeError {
        OfficeError {
            message: format!("sample-data/{}, line {}: {}", self.file, self.line, problem.message),
            ..problem.clone()
        }
    }

    fn missing(self, field: &str) -> OfficeError {
        self.wrong(&OfficeError::refused(field, "it is missing", "Add it to the line"))
    }
}

/// Writes the made-up firm into a new ledger and leaves its owner at the desk, on the sample's last day.
///
/// `progress` is told how many lines of how many are in, and may answer no to stop.
///
/// # Errors
/// When something is already there, the disk refuses, or it was stopped; nothing is left behind then.
pub fn write(path: &Path, progress: &mut dyn FnMut(usize, usize) -> bool) -> Result<Desk, OfficeError> {
    let existed = path.exists();
    let attachments = ledger::open::attachment_folder(path);
    let attached = attachments.exists();
    let written = write_all(path, progress);
    if written.is_err() && !existed {
        // What is not there need not be removed; the first trouble is the one to tell.
        for name in ["", "-wal", "-shm"].map(|suffix| beside(path, suffix)) {
            let _ = std::fs::remove_file(name);
        }
        let _ = std::fs::remove_file(ledger::open::lock_path(path));
        if !attached {
            let _ = std::fs::remove_dir_all(attachments);
        }
    }
    written
}

fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

fn write_all(path: &Path, progress: &mut dyn FnMut(usize, usize) -> bool) -> Result<Desk, OfficeError> {
    let lines = lines()?;
    let Some(((spot, make), rest)) = lines.split_first() else {
        return Err(OfficeError::not_found(
            "The sample is empty.",
            "Build Tearoff anew from a whole checkout.",
        ));
    };
    let mut desk = make_firm(path, *spot, make)?;
    let mut book = DayBook::new();
    for (done, (spot, line)) in rest.iter().enumerate() {
        book.take(&mut desk, *spot, line).map_err(|problem| spot.wrong(&problem))?;
        if done % 50 == 49 && !progress(done + 2, lines.len()) {
            return Err(OfficeError {
                code: Code::Stopped,
                field: None,
                message: "The sample was stopped before it was whole.".to_owned(),
                remedy: "Nothing was kept. Write it again when there is time.".to_owned(),
            });
        }
    }
    book.write_down(&mut desk)?;
    progress(lines.len(), lines.len());
    Ok(desk)
}

fn lines() -> Result<Vec<(Spot, Value)>, OfficeError> {
    let mut lines = Vec::new();
    for (file, text) in FILES {
        for (index, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
            let spot = Spot { file, line: index + 1 };
            let json = serde_json::from_str(line).map_err(|error| {
                spot.wrong(&OfficeError::refused("line", &error.to_string(), "Write it as one JSON object"))
            })?;
            lines.push((spot, json));
        }
    }
    Ok(lines)
}

fn make_firm(path: &Path, spot: Spot, make: &Value) -> Result<Desk, OfficeError> {
    let owner = make.get("owner").and_then(Value::as_str).ok_or_else(|| spot.missing("owner"))?;
    let firm = make.get("firm").cloned().ok_or_else(|| spot.missing("firm"))?;
    let Ok(Fact::Firm(firm)) = Fact::from_json("firm", firm) else {
        return Err(spot.wrong(&OfficeError::refused(
            "firm",
            "it is not a firm's settings",
            "Correct the line",
        )));
    };
    let day = day_of(make, "date")?;
    let mut clock = Clock::fixed(Timestamp::UNIX_EPOCH);
    clock.set_day(day);
    Desk::make(path, &NewFirm { firm, owner: owner.to_owned() }, clock)
}

/// What has been read and not yet written down. Facts wait here so that many are one transaction; they are written
/// when the day ends, and before a fact that names one of them.
struct DayBook {
    recorder: Recorder,
    waiting: Vec<NewFact>,
    at: Option<Timestamp>,
    tables: BTreeSet<&'static str>,
}

impl DayBook {
    fn new() -> DayBook {
        DayBook { recorder: Recorder::default(), waiting: Vec::new(), at: None, tables: BTreeSet::new() }
    }

    fn take(&mut self, desk: &mut Desk, spot: Spot, line: &Value) -> Result<(), OfficeError> {
        match line.get("do").and_then(Value::as_str) {
            None => self.fact(desk, line.clone()),
            Some("day") => self.turn(desk, spot, line),
            Some("crew-day") => self.crew_day(desk, spot, line),
            Some("sign") => {
                self.write_down(desk)?;
                signing::sign(desk, line)
            }
            Some("match-bank") => {
                self.write_down(desk)?;
                crate::match_fitting(desk, Some(day_of(line, "through")?)).map(|_| ())
            }
            Some("close") => {
                self.write_down(desk)?;
                let month = line.get("month").and_then(Value::as_str).ok_or_else(|| spot.missing("month"))?;
                let month = Month::parse(month)
                    .map_err(|error| OfficeError::refused("month", &error.to_string(), "Correct the line"))?;
                let today = desk.clock.today();
                crate::month::close::close(desk, month, today, true).map(|_| ())
            }
            Some(other) => {
                let problem = format!("nobody knows how to do “{other}”");
                Err(OfficeError::refused(
                    "do",
                    &problem,
                    "Use make, day, crew-day, sign, match-bank or close",
                ))
            }
        }
    }

    /// A new day, or another person at the desk.
    fn turn(&mut self, desk: &mut Desk, spot: Spot, line: &Value) -> Result<(), OfficeError> {
        let by = line.get("by").and_then(Value::as_str).ok_or_else(|| spot.missing("by"))?;
        let day = day_of(line, "date")?;
        if day > desk.clock.today() || self.tables.contains("person") {
            self.write_down(desk)?;
        }
        desk.clock.set_day(day);
        let names = desk::names::Names::read(desk.books())?;
        let person = names.people.iter().find(|(_, person)| person.name == by).map(|(id, _)| *id);
        let person = person.ok_or_else(|| OfficeError::not_found(format!("Nobody is called {by}."), ""))?;
        desk.sit(person);
        Ok(())
    }

    /// The same hours for each of the people.
    fn crew_day(&mut self, desk: &mut Desk, spot: Spot, line: &Value) -> Result<(), OfficeError> {
        let Value::Object(card) = line else { return Err(spot.missing("people")) };
        let mut card = card.clone();
        card.remove("do");
        let Some(Value::Array(people)) = card.remove("people") else { return Err(spot.missing("people")) };
        card.insert("kind".to_owned(), Value::String("time-entry".to_owned()));
        for person in people {
            let mut time = card.clone();
            time.insert("person".to_owned(), person);
            self.fact(desk, Value::Object(time))?;
        }
        Ok(())
    }

    fn fact(&mut self, desk: &mut Desk, json: Value) -> Result<(), OfficeError> {
        if self.names_waiting(&json)? {
            self.write_down(desk)?;
        }
        let person = desk.person()?;
        let (given, fact) = self.recorder.read(desk, json)?;
        let (at, made) = desk.clock.tick();
        self.at.get_or_insert(at);
        if let Some(spec) = kind_spec(fact.kind()) {
            self.tables.insert(spec.own.table);
        }
        self.waiting.push(NewFact { id: given.unwrap_or(made), person, fact });
        Ok(())
    }

    /// Whether a fact names something that is still waiting to be written.
    fn names_waiting(&self, json: &Value) -> Result<bool, OfficeError> {
        let Value::Object(object) = json else { return Ok(false) };
        let kind = object.get("kind").and_then(Value::as_str).unwrap_or_default();
        let Some(spec) = kind_spec(kind) else { return Ok(false) };
        if kind == "reversal" {
            return Ok(true);
        }
        let names = |table: &str, row: &Map<String, Value>| -> Result<bool, OfficeError> {
            Ok(named_by(table)?.any(|(column, to)| row.contains_key(column) && self.tables.contains(to)))
        };
        if names(spec.own.table, object)? {
            return Ok(true);
        }
        for (name, list) in spec.list_names.iter().zip(&spec.lists) {
            let rows = object.get(*name).and_then(Value::as_array).into_iter().flatten();
            for row in rows.filter_map(Value::as_object) {
                if names(list.table, row)? {
                    return Ok(true);
                }
            }
        }
        Ok(false)
    }

    fn write_down(&mut self, desk: &mut Desk) -> Result<(), OfficeError> {
        let Some(at) = self.at.take() else { return Ok(()) };
        let waiting = std::mem::take(&mut self.waiting);
        desk.append(&waiting, at, &mut |_| true)?;
        // The names just made must be found by what follows, and a reversal may have freed one.
        for table in &self.tables {
            if *table == "reversal" || is_named(table)? {
                self.recorder = Recorder::default();
                break;
            }
        }
        self.tables.clear();
        Ok(())
    }
}

/// Whether some fact can name the records of a table.
fn is_named(table: &str) -> Result<bool, OfficeError> {
    for spec in ledger::kinds::KINDS.iter().flat_map(|spec| std::iter::once(&spec.own).chain(&spec.lists)) {
        if named_by(spec.table)?.any(|(_, to)| to == table) {
            return Ok(true);
        }
    }
    Ok(false)
}

fn day_of(line: &Value, field: &str) -> Result<Date, OfficeError> {
    let text = line.get(field).and_then(Value::as_str).unwrap_or_default();
    text.parse()
        .map_err(|_| OfficeError::refused(field, &format!("“{text}” is not a day"), "Write yyyy-mm-dd"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ledger::facts::{Job, TimeEntry, Warranty};
    use std::sync::LazyLock;

    fn written(folder: &Path, name: &str) -> Desk {
        write(&folder.join(name), &mut |_, _| true).unwrap()
    }

    /// The firm written once, for the tests that only read it.
    static WRITTEN: LazyLock<tempfile::TempDir> = LazyLock::new(|| {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(written(folder.path(), "firm.tearoff").clock.today().to_string(), "2026-11-03");
        folder
    });

    fn reading() -> Desk {
        Desk::read(&WRITTEN.path().join("firm.tearoff"), Clock::System).unwrap()
    }

    #[test]
    fn the_firm_is_the_same_to_the_hash_each_time() {
        let folder = tempfile::tempdir().unwrap();
        // Each hash covers the one before it, so the last one covers the whole firm.
        let last = |name| {
            let desk = written(folder.path(), name);
            let warranties = desk.books().all::<Warranty>().unwrap();
            let last = warranties.into_iter().max_by_key(|held| held.entry.device_seq).unwrap().entry;
            assert_eq!(desk.books().device_ends().unwrap(), [("A".to_owned(), last.device_seq)]);
            assert!(last.device_seq > 1500, "only {} facts", last.device_seq);
            last.hash
        };
        let first = last("one.tearoff");
        assert_eq!(first, last("two.tearoff"));
    }

    #[test]
    fn nothing_is_dated_after_the_day_on_which_it_was_written_down() {
        let desk = reading();
        let jobs = desk.books().all::<Job>().unwrap();
        assert_eq!(jobs.len(), 24);
        for held in jobs {
            assert!(*held.fact.date.to_string() <= held.entry.recorded_at[..10], "{}", held.fact.number);
        }
        for held in desk.books().all::<TimeEntry>().unwrap() {
            assert!(*held.fact.date.to_string() <= held.entry.recorded_at[..10], "{:?}", held.fact);
        }
    }

    #[test]
    fn seven_months_are_closed_and_come_out_as_they_were_frozen() {
        let desk = reading();
        let closed = desk.books().calendar().unwrap().closed_through();
        assert_eq!(closed.map(|month| month.to_string()).as_deref(), Some("2026-09"));
        assert_eq!(crate::month::close::drifts(desk.books()).unwrap(), []);
    }

    #[test]
    fn every_report_has_something_to_say() {
        let desk = reading();
        let verdict = ledger::verify::verify(&desk.path(), &mut |_| true).unwrap();
        assert_eq!(verdict.problems, []);
        let october = Month::parse("2026-10").unwrap();
        let report = crate::month::end::month_end(&desk, october).unwrap();
        assert!(!report.closed);
        let owed = &report.owed;
        for amount in [
            owed.ages.current,
            owed.ages.days_1_to_30,
            owed.ages.days_31_to_60,
            owed.ages.days_61_to_90,
            owed.ages.over_90,
            owed.retainage,
        ] {
            assert!(amount.is_positive(), "{owed:?}");
        }
        let firm = &report.firm;
        for amount in
            [firm.over_billed, firm.under_billed, firm.loss_provision, firm.committed, firm.uninstalled]
        {
            assert!(amount.is_positive(), "{firm:?}");
        }
        let job = |number: &str, month: &str| {
            crate::job_page(&desk, number, Month::parse(month).unwrap()).unwrap().figures.result
        };
        // One job lost money, one is foreseen to, one gave deck sheets away, one was never begun.
        assert!(job("26-003", "2026-04").margin.is_negative());
        assert!(job("26-020", "2026-10").margin.is_negative());
        assert!(job("26-008", "2026-06").hidden.unrecovered.is_positive());
        assert!(job("26-016", "2026-08").margin.is_zero());
        // A bill of June that came in July, when June was closed.
        assert!(job("26-008", "2026-07").cost > job("26-008", "2026-06").cost);
        // One bill came to more than was ordered; two more did, and were paid as they were.
        let ends = crate::month::loose_ends::loose_ends(&desk, october).unwrap();
        let kinds: BTreeSet<_> = ends.iter().map(|end| end.kind).collect();
        // A crew asked on the roof, and nobody has said what that should cost.
        // Of the bank's last week four lines wait: two fit, one has another amount, one is not in the books.
        assert_eq!((ends.len(), kinds.len()), (14, 10), "{ends:?}");
    }

    #[test]
    fn a_stopped_sample_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let stopped = write(&folder.path().join("firm.tearoff"), &mut |_, _| false).unwrap_err();
        assert_eq!(stopped.code, Code::Stopped);
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_file_that_is_there_already_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("firm.tearoff");
        std::fs::write(&path, "mine").unwrap();
        assert_eq!(write(&path, &mut |_, _| true).unwrap_err().code, Code::Exists);
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine");
    }
}

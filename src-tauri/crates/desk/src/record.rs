//! Recording a fact from JSON: the way in for scripts, scenarios and the sample firm.
//!
//! ```json
//! {"kind": "time-entry", "date": "2026-10-05", "person": "Ada Quill", "job": "26-014", "code": "shingle", "hours":
//! "8"}
//! ```
//! Wherever a fact names another, the other's name, number or id may stand: a job's, invoice's or order's number, a
//! person's, vendor's or crew's name, a code's word; a condition or change order as `JOB/NUMBER`; a payment by its
//! reference. Amounts, quantities and rates are strings. `id` may be given, so that a repeated record is recognized,
//! and `sure_of` with the fields whose dates are years from today and right.

use crate::desk::Desk;
use crate::error::OfficeError;
use crate::names::Directory;
use crate::people::recording;
use crate::policy::Act;
use ledger::facts::{Person, Reversal};
use ledger::kind::FactRow;
use ledger::kind::Field;
use ledger::kinds::kind_spec;
use ledger::{Appended, Fact, Id, NewFact};
use serde_json::{Map, Value};

/// Turns JSON into facts, remembering the names it has looked up.
#[derive(Debug, Default)]
pub struct Recorder {
    directory: Directory,
}

/// The shapes of all facts as a page may send them, as the text of a file of TypeScript: one interface with a field
/// for each kind. Amounts, quantities, rates, dates, names and ids are strings.
#[must_use]
pub fn fact_shapes() -> String {
    let fields = |fields: &[Field], indent: &str| -> String {
        fields
            .iter()
            .map(|field| {
                let optional = if field.optional { "?" } else { "" };
                format!("{indent}{}{optional}: {};\n", field.name, field.shape)
            })
            .collect()
    };
    let kinds = ledger::kinds::KINDS.iter().map(|spec| {
        let lists = spec.list_names.iter().zip(&spec.list_fields);
        let lists: String = lists
            .map(|(name, line)| format!("    {name}?: {{\n{}    }}[];\n", fields(line, "      ")))
            .collect();
        format!("  '{}': {{\n{}{lists}  }};\n", spec.kind, fields(&spec.fields, "    "))
    });
    format!(
        "/** What is recorded, by the word of its kind. */\nexport interface Facts {{\n{}}}\n",
        kinds.collect::<String>()
    )
}

/// What became of a recorded fact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Recorded {
    /// Its id.
    pub id: Id,
    /// Whether it was already there.
    pub repeated: bool,
}

impl Recorder {
    /// Reads one fact from JSON and turns names into ids.
    ///
    /// # Errors
    /// The field, what was wrong and what to do.
    pub fn read(&mut self, desk: &Desk, json: Value) -> Result<(Option<Id>, Fact), OfficeError> {
        let Value::Object(mut object) = json else {
            return Err(OfficeError::refused("fact", "it is not a JSON object", "Begin with {\"kind\": …}"));
        };
        let Some(Value::String(kind)) = object.remove("kind") else {
            return Err(OfficeError::refused("kind", "it is missing", "Say what kind of fact this is"));
        };
        let Some(spec) = kind_spec(&kind) else {
            let known: Vec<&str> = ledger::kinds::KINDS.iter().map(|spec| spec.kind).collect();
            let problem = format!("there is no kind of fact called “{kind}”");
            return Err(OfficeError::refused("kind", &problem, format!("Use one of {}", known.join(", "))));
        };
        let id = match object.remove("id") {
            None | Some(Value::Null) => None,
            Some(Value::String(text)) => Some(
                Id::parse(&text).map_err(|problem| OfficeError::refused("id", &problem, "Leave it out"))?,
            ),
            Some(_) => return Err(OfficeError::refused("id", "it is not text", "Leave it out")),
        };
        if let Some(Value::String(word)) = object.get("calculated_on")
            && let Some((problem, remedy)) = ledger::no_burden(word)
        {
            return Err(OfficeError::refused("calculated_on", problem, remedy));
        }
        self.resolve(desk, spec.own.table, &mut object, "")?;
        for list in &spec.lists {
            for (name, value) in &mut object {
                let Value::Array(lines) = value else { continue };
                if !ledger::kinds::is_list(&kind, name, list.table) {
                    continue;
                }
                for (index, line) in lines.iter_mut().enumerate() {
                    if let Value::Object(line) = line {
                        self.resolve(desk, list.table, line, &format!("{name}[{index}]."))?;
                    }
                }
            }
        }
        let fact = Fact::from_json(&kind, Value::Object(object)).map_err(|unread| {
            let ledger::kind::Unread { field, problem } = unread;
            OfficeError::refused(field.unwrap_or_else(|| kind.clone()), &problem, "Correct it and try again")
        })?;
        Ok((id, fact))
    }

    fn resolve(
        &mut self,
        desk: &Desk,
        table: &'static str,
        object: &mut Map<String, Value>,
        prefix: &str,
    ) -> Result<(), OfficeError> {
        for (column, points_at) in ledger::links::named_by(table)? {
            if let Some(Value::String(name)) = object.get(column) {
                let field = format!("{prefix}{column}");
                let id = self.directory.id(desk.books(), points_at, &field, name)?;
                object.insert(column.to_owned(), Value::String(id.to_string()));
            }
        }
        Ok(())
    }

    /// Records several facts from JSON together: all or none. Where one must name another of the same batch, it names
    /// it by an `id` that the caller made.
    ///
    /// # Errors
    /// The first that is refused, with its field, what was wrong and what to do.
    pub fn record_all(&mut self, desk: &mut Desk, batch: Vec<Value>) -> Result<Vec<Recorded>, OfficeError> {
        let person = desk.person()?;
        let mut facts = Vec::with_capacity(batch.len());
        let (mut at, mut sure) = (None, Vec::new());
        for mut json in batch {
            may_record(desk, &json)?;
            sure.push(sure_of(&mut json)?);
            let (given, fact) = self.read(desk, json)?;
            let (moment, made) = desk.clock.tick();
            at.get_or_insert(moment);
            facts.push(NewFact { id: given.unwrap_or(made), person, fact });
        }
        let Some(at) = at else { return Ok(Vec::new()) };
        let outcome = desk.append_sure(&facts, &sure, at, &mut |_| true);
        let outcomes = outcome.map_err(|refused| whose(desk, &facts, refused))?;
        self.directory = Directory::default();
        let recorded = facts.iter().zip(outcomes);
        Ok(recorded
            .map(|(new, outcome)| Recorded {
                id: new.id,
                repeated: matches!(outcome, Appended::AlreadyThere(_)),
            })
            .collect())
    }

    /// Records one fact from JSON.
    ///
    /// # Errors
    /// The field, what was wrong and what to do.
    pub fn record(&mut self, desk: &mut Desk, mut json: Value) -> Result<Recorded, OfficeError> {
        may_record(desk, &json)?;
        let sure = sure_of(&mut json)?;
        let (given, fact) = self.read(desk, json)?;
        let person = desk.person()?;
        let (at, made) = desk.clock.tick();
        let new = NewFact { id: given.unwrap_or(made), person, fact };
        let kind = new.fact.kind();
        let outcome = desk.append_sure(std::slice::from_ref(&new), &[sure], at, &mut |_| true)?;
        let table = kind_spec(kind).map_or("", |spec| spec.own.table);
        self.directory.forget(table);
        if kind == "reversal" {
            self.directory = Directory::default();
        }
        Ok(Recorded { id: new.id, repeated: matches!(outcome.first(), Some(Appended::AlreadyThere(_))) })
    }
}

/// The fields whose unusual dates whoever sends a fact is sure of.
fn sure_of(json: &mut Value) -> Result<Vec<String>, OfficeError> {
    let said = json.as_object_mut().and_then(|object| object.remove("sure_of"));
    said.map_or(Ok(Vec::new()), |said| {
        serde_json::from_value(said).map_err(|_| {
            OfficeError::refused("sure_of", "it is not a list of fields", "Write it as [\"date\"]")
        })
    })
}

/// Refuses what whoever sits here may not record, or may not take back, before a name in it is looked up: what is not
/// theirs tells them of no name either. A reversal that names no fact is the owner's to try.
fn may_record(desk: &Desk, json: &Value) -> Result<(), OfficeError> {
    let text = |field: &str| json.get(field).and_then(Value::as_str);
    let Some(spec) = text("kind").and_then(kind_spec) else { return Ok(()) };
    match text("reverses").and_then(|id| Id::parse(id).ok()) {
        Some(id) if spec.kind == Reversal::KIND => check_take_back(desk, id),
        _ => desk.check(Act::Record(spec.kind)),
    }
}

/// What is not there is left to the ledger to refuse.
fn check_take_back(desk: &Desk, id: Id) -> Result<(), OfficeError> {
    let Some(held) = desk.books().fact(id)? else { return Ok(()) };
    let recording = recording(desk, id)?;
    let own_of_today = recording.person == desk.person()? && recording.on == desk.clock.today();
    desk.check(Act::TakeBack { kind: held.fact.kind(), own_of_today })
}

/// Takes a fact back, where whoever sits here may. Answers with the reversal.
///
/// # Errors
/// When there is no such fact, it is not theirs to take back, or it cannot be taken back.
pub fn take_back(desk: &mut Desk, id: Id, reason: &str) -> Result<Id, OfficeError> {
    recording(desk, id)?;
    check_take_back(desk, id)?;
    desk.reverse(id, reason)
}

/// Where the hours of several people are recorded together and some are refused, whose they are comes first.
fn whose(desk: &mut Desk, batch: &[NewFact], refused: OfficeError) -> OfficeError {
    let at = desk.ledger().ok().and_then(|ledger| ledger.refused_at());
    let Some(Fact::TimeEntry(time)) = at.and_then(|at| batch.get(at)).map(|new| &new.fact) else {
        return refused;
    };
    if batch.len() < 2 {
        return refused;
    }
    let Ok(Some(person)) = desk.books().newest::<Person>(time.person) else { return refused };
    OfficeError { message: format!("{}: {}", person.name, refused.message), ..refused }
}

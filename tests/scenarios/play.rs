//! Playing a scenario on a ledger of its own, in a folder that is thrown away afterwards.

use crate::conditions;
use crate::lookup;
use crate::script::{self, Expect, Spot, Step};
use crate::stage::{Outcome, Played, Stage, holds, met};
use acceptance::tongue::{machine_words, machine_words_in};
use jiff::Timestamp;
use jiff::civil::Date;
use ledger::facts::Firm;
use ledger::{Fact, Id};
use office::{Clock, Desk, NewFirm, Recorded, Recorder, Role};
use serde_json::Value;
use std::path::Path;
use trade::Month;

/// Plays a scenario. It ends at the first fact that does not fare as it should; figures that are wrong are gathered.
pub(crate) fn play(file: &Path) -> Played {
    let mut played = Played { name: script::name_of(file), ..Played::default() };
    let steps = match script::read(file) {
        Ok(steps) => steps,
        Err(problem) => {
            played.failures.push(problem);
            return played;
        }
    };
    let folder = match tempfile::tempdir() {
        Ok(folder) => folder,
        Err(error) => {
            played.failures.push(format!("{}: no folder could be made: {error}", played.name));
            return played;
        }
    };
    let mut stage = Stage::new(folder.path().join("firm.tearoff"));
    let expects_trouble = steps.iter().any(|(_, step)| matches!(step, Step::Verify { finds: Some(_) }));
    for (spot, step) in &steps {
        if let Err(problem) = stage.step(step, &mut played) {
            played.failures.push(format!("{spot}: {problem}"));
            // A wrong figure does not end the play: the next ones may show why it is wrong.
            if !matches!(
                step,
                Step::Figure { .. }
                    | Step::LooseEnds { .. }
                    | Step::Calculated { .. }
                    | Step::ConditionHistory { .. }
                    | Step::Counted { .. }
                    | Step::Settled { .. }
                    | Step::Sheet { .. }
                    | Step::Site { .. }
                    | Step::Page { .. }
                    | Step::Cash { .. }
            ) {
                return played;
            }
        }
    }
    // Whatever a scenario is about, it leaves a ledger that is sound.
    if !expects_trouble && let Some((spot, _)) = steps.last() {
        stage.sound(spot, &mut played);
    }
    played
}

impl Stage {
    /// Another device takes the pen.
    fn device(&mut self, letter: &str) -> Outcome {
        let desk = self.desk.take().ok_or("there is no firm yet: `include firm.part`")?;
        let clock = desk.clock.clone();
        let (person, role) = (desk.person(), desk.role());
        let (person, role) =
            (person.map_err(|error| error.to_string())?, role.map_err(|error| error.to_string())?);
        drop(desk);
        let mut desk = conditions::device(&self.path, letter, clock)?;
        if role != Role::Owner {
            desk.sit(person);
        }
        self.desk = Some(desk);
        Ok(())
    }

    fn step(&mut self, step: &Step, played: &mut Played) -> Outcome {
        match step {
            Step::By(name) => {
                let desk = self.desk()?;
                let people =
                    desk::names::Names::read(desk.books()).map_err(|error| error.to_string())?.people;
                let found = people.into_iter().find(|(_, person)| person.name == *name);
                desk.sit(found.ok_or_else(|| format!("nobody is called {name}"))?.0);
                Ok(())
            }
            Step::Fact { json, label, expect } => self.fact(json, label.as_deref(), expect, played),
            Step::Close { month, date, accepting, label, expect } => {
                let (month, date) = (month_of(month)?, date_of(date)?);
                let desk = self.desk()?;
                desk.clock.set_day(date);
                let closed = office::close(desk, month, date, *accepting);
                if let Ok(closed) = &closed {
                    played.kinds.push("month-closed".to_owned());
                    if let Some(label) = label {
                        self.labels.insert(label.clone(), Id::parse(&closed.id)?);
                    }
                }
                met(closed.map(|_| false), expect, played)
            }
            Step::Reverse { label, date, reason, expect } => {
                let id = self.labels.get(label).ok_or_else(|| format!("nothing is called {label}"))?;
                let id = id.to_string();
                let reversal = serde_json::json!({
                    "kind": "reversal", "date": date, "reverses": id, "reason": reason,
                });
                self.fact(&reversal, None, expect, played)
            }
            Step::Counted { path, value } => {
                played.checks += 1;
                conditions::counted(self, path, value)
            }
            Step::Settled { name, path, value } => {
                played.checks += 1;
                conditions::settled(self, name, path, value)
            }
            Step::Sheet { name, path, value } => {
                played.checks += 1;
                conditions::sheet(self, name, path, value)
            }
            Step::Site { job, path, value } => {
                played.checks += 1;
                conditions::site(self, job, path, value)
            }
            Step::Page { job, path, value } => {
                played.checks += 1;
                conditions::page(self, job, path, value)
            }
            Step::Device(letter) => self.device(letter),
            Step::Calculated { path, value } => self.calculated(path, value, played),
            Step::ConditionHistory { year, through, path, value } => {
                played.checks += 1;
                let year = year.parse().ok();
                let record = office::condition_history(self.desk()?, year, month_of(through)?);
                let record = record.map_err(|error| error.to_string())?;
                holds(serde_json::to_value(record), "condition_history", path, value)
            }
            Step::Accept { letter, date, expect } => self.accept(letter, date, expect, played),
            Step::Figure { month, path, value } => self.figure(month, path, value, played),
            Step::Statement { customer, day, path, value } => {
                played.checks += 1;
                let statement = office::statement(self.desk()?, customer, date_of(day)?);
                let statement = statement.map_err(|error| error.to_string())?;
                holds(serde_json::to_value(statement), &format!("statement {customer}"), path, value)
            }
            Step::AsIf(json) => self.asked_as_if(json),
            Step::Cash { on, path, value } => self.cash(on, path, value, played),
            Step::Bank { ends, path, value } => self.bank(ends, path, value, played),
            Step::MatchBank { ends } => self.match_bank(ends, played),
            Step::Budget { month, path, value } => {
                played.checks += 1;
                let budget = office::firm_budget(self.desk()?, month_of(month)?);
                let budget = budget.map_err(|error| error.to_string())?;
                holds(serde_json::to_value(budget), &format!("budget {month}"), path, value)
            }
            Step::LooseEnds { month, kind, count } => self.loose_ends(month, kind.as_deref(), *count, played),
            Step::LooseEndSays { month, kind, words } => {
                played.checks += 1;
                let told = self.told(month, Some(kind))?;
                if told.iter().any(|text| text.contains(words)) {
                    return Ok(());
                }
                Err(format!("no loose end of {kind} says “{words}” but {told:?}"))
            }
            Step::Verify { finds } => self.verify(finds.as_deref(), played),
            Step::Rebuild => self.rebuild(played),
            Step::ClosedMonthsStand => {
                played.checks += 1;
                let drifts = office::drifts(self.desk()?.books()).map_err(|error| error.to_string())?;
                if drifts.is_empty() { Ok(()) } else { Err(format!("closed months have moved: {drifts:?}")) }
            }
        }
    }

    fn asked_as_if(&mut self, json: &Value) -> Outcome {
        self.as_if = serde_json::from_value(json.clone()).map_err(|error| error.to_string())?;
        Ok(())
    }

    fn cash(&mut self, on: &str, path: &str, value: &str, played: &mut Played) -> Outcome {
        played.checks += 1;
        let as_if = self.as_if.clone();
        let ahead = office::cash(self.desk()?, date_of(on)?, &as_if).map_err(|error| error.to_string())?;
        holds(serde_json::to_value(ahead), &format!("cash {on}"), path, value)
    }

    fn bank(&mut self, ends: &str, path: &str, value: &str, played: &mut Played) -> Outcome {
        played.checks += 1;
        let bank = office::bank(self.desk()?, Some(date_of(ends)?)).map_err(|error| error.to_string())?;
        holds(serde_json::to_value(bank), &format!("bank {ends}"), path, value)
    }

    fn match_bank(&mut self, ends: &str, played: &mut Played) -> Outcome {
        let matched = office::match_fitting(self.desk()?, Some(date_of(ends)?));
        played.kinds.push("bank-cleared".to_owned());
        matched.map(|_| ()).map_err(|error| error.to_string())
    }

    fn fact(&mut self, json: &Value, label: Option<&str>, expect: &Expect, played: &mut Played) -> Outcome {
        if self.desk.is_none() {
            return self.make(json, label);
        }
        if json.get("estimate").is_some() {
            return self.begin(json);
        }
        if conditions::OURS.iter().any(|word| json.get(*word).is_some()) {
            let led = conditions::play(self, json.clone())?;
            // What was drawn up has a number that the recorder has not read yet.
            self.recorder = Recorder::default();
            if let (Some(id), Some(label)) = (conditions::fared(led, expect, played)?, label) {
                self.labels.insert(label.to_owned(), id);
            }
            return Ok(());
        }
        if let Some(words) = json.get("attach").and_then(Value::as_str) {
            return self.attach(words, json.get("name").and_then(Value::as_str), expect, played);
        }
        let json = self.labeled(json)?;
        let kind = json.get("kind").and_then(Value::as_str).unwrap_or_default().to_owned();
        let Some(desk) = self.desk.as_mut() else { return Ok(()) };
        if let Some(Ok(date)) = json.get("date").and_then(Value::as_str).map(str::parse) {
            desk.clock.set_day(date);
        }
        let outcome = self.recorder.record(desk, json);
        if let Ok(Recorded { id, .. }) = outcome {
            played.kinds.push(kind);
            if let Some(label) = label {
                self.labels.insert(label.to_owned(), id);
            }
        }
        met(outcome.map(|recorded| recorded.repeated), expect, played)
    }

    /// A file with these words in it is put beside the ledger, and the fact that names it recorded.
    fn attach(&mut self, words: &str, name: Option<&str>, expect: &Expect, played: &mut Played) -> Outcome {
        let attached = office::attach(self.desk()?, words.as_bytes(), "text/plain", name);
        if attached.is_ok() {
            played.kinds.push("attachment".to_owned());
        }
        met(attached.map(|_| false), expect, played)
    }

    /// The first two facts of a scenario are the firm and its owner, who make the ledger.
    fn make(&mut self, json: &Value, label: Option<&str>) -> Outcome {
        let Value::Object(object) = json else { return Err("a fact is a JSON object".to_owned()) };
        let mut object = object.clone();
        let Some((mut firm, called)) = self.firm.take() else {
            self.firm = Some((object, label.map(str::to_owned)));
            return Ok(());
        };
        firm.remove("kind");
        let Ok(Fact::Firm(firm)) = Fact::from_json("firm", Value::Object(firm)) else {
            return Err("a scenario begins with its firm: `include firm.part`".to_owned());
        };
        let owner = object.remove("name").and_then(|name| name.as_str().map(str::to_owned));
        let owner = owner.ok_or("the second fact is the owner")?;
        let mut clock = Clock::fixed(Timestamp::UNIX_EPOCH);
        clock.set_day(firm.date);
        let mut desk =
            Desk::make(&self.path, &NewFirm { firm, owner }, clock).map_err(|error| error.to_string())?;
        // A scenario writes for the owner, also what a person only does: devices, closes and hand-offs.
        desk.rise();
        let begun = desk.books().all::<Firm>().map_err(|error| error.to_string())?;
        if let (Some(begun), Some(called)) = (begun.first(), called) {
            self.labels.insert(called, begun.entry.id);
        }
        self.desk = Some(desk);
        Ok(())
    }

    /// Puts ids in the place of `@labels`, and the number of the last entry in the place of `@last`.
    fn labeled(&self, json: &Value) -> Result<Value, String> {
        Ok(match json {
            Value::String(text) if text == "@last" => {
                let ends = self.desk.as_ref().map(|desk| desk.books().device_ends());
                let ends = ends.transpose().map_err(|error| error.to_string())?.unwrap_or_default();
                Value::from(ends.first().map_or(0, |(_, seq)| *seq))
            }
            Value::String(text) => match text.strip_prefix('@') {
                None => json.clone(),
                Some(label) => {
                    let id = self.labels.get(label).ok_or_else(|| format!("nothing is called {label}"))?;
                    Value::String(id.to_string())
                }
            },
            Value::Array(items) => {
                Value::Array(items.iter().map(|item| self.labeled(item)).collect::<Result<_, _>>()?)
            }
            Value::Object(object) => Value::Object(
                object
                    .iter()
                    .map(|(key, item)| Ok((key.clone(), self.labeled(item)?)))
                    .collect::<Result<_, String>>()?,
            ),
            other => other.clone(),
        })
    }

    fn figure(&mut self, month: &str, path: &str, said: &str, played: &mut Played) -> Outcome {
        played.checks += 1;
        let report = office::month_end(self.desk()?, month_of(month)?).map_err(|error| error.to_string())?;
        holds(serde_json::to_value(report), &format!("month {month}"), &lookup::spelled_out(path), said)
    }

    /// `{"estimate": "26-001", …}` begins an estimate as the program would and lays what is said over it, object by
    /// object (RFC 7396).
    fn begin(&mut self, json: &Value) -> Outcome {
        let mut over = json.clone();
        let job = over.as_object_mut().and_then(|object| object.remove("estimate"));
        let job = job.as_ref().and_then(Value::as_str).ok_or("`estimate` is the job's number")?.to_owned();
        let recipe = over.as_object_mut().and_then(|object| object.remove("begun_from"));
        let recipe = recipe.as_ref().and_then(Value::as_str);
        let began = office::begin(self.desk()?, &job, recipe).map_err(|error| error.to_string())?;
        let mut whole = serde_json::to_value(began).map_err(|error| error.to_string())?;
        lay_over(&mut whole, &over);
        let estimate =
            serde_json::from_value(whole).map_err(|error| format!("this is no estimate: {error}"))?;
        self.estimate = Some((job, estimate));
        Ok(())
    }

    fn calculated(&mut self, path: &str, said: &str, played: &mut Played) -> Outcome {
        played.checks += 1;
        let (job, estimate) = self.estimate.clone().ok_or("there is no estimate yet")?;
        let calculated =
            office::calculate(self.desk()?, &job, &estimate).map_err(|error| error.to_string())?;
        let calculated = serde_json::to_value(calculated);
        match calculated.as_ref().ok().and_then(machine_words_in) {
            Some(problem) => Err(problem),
            None => holds(calculated, "calculated", path, said),
        }
    }

    fn accept(&mut self, letter: &str, date: &str, expect: &Expect, played: &mut Played) -> Outcome {
        let (job, estimate) = self.estimate.clone().ok_or("there is no estimate yet")?;
        let date = date_of(date)?;
        let desk = self.desk()?;
        desk.clock.set_day(date);
        let taken =
            office::Acceptance { letter: letter.to_owned(), date, begins: None, note: None, proposal: None };
        met(office::accept(desk, &job, &estimate, &taken).map(|_| false), expect, played)
    }

    fn loose_ends(&mut self, month: &str, kind: Option<&str>, count: usize, played: &mut Played) -> Outcome {
        played.checks += 1;
        let of_kind = self.told(month, kind)?;
        if of_kind.len() == count {
            return Ok(());
        }
        Err(format!(
            "{month} has {} loose ends of {}: {of_kind:?}",
            of_kind.len(),
            kind.unwrap_or("any kind")
        ))
    }

    /// What a month's loose ends say, of one kind or all.
    fn told(&mut self, month: &str, kind: Option<&str>) -> Result<Vec<String>, String> {
        let ends = office::loose_ends(self.desk()?, month_of(month)?).map_err(|error| error.to_string())?;
        let ends = serde_json::to_value(ends).map_err(|error| error.to_string())?;
        let ends = ends.as_array().into_iter().flatten();
        let of_kind = ends.filter(|end| kind.is_none() || end.get("kind").and_then(Value::as_str) == kind);
        let text = |end: &Value| end.get("text").and_then(Value::as_str).unwrap_or_default().to_owned();
        Ok(of_kind.map(text).collect())
    }

    fn verify(&mut self, conditions: Option<&str>, played: &mut Played) -> Outcome {
        played.checks += 1;
        let verdict = ledger::verify::verify(&self.path, &mut |_| true).map_err(|error| error.to_string())?;
        let problems: Vec<String> = verdict.problems.iter().map(ToString::to_string).collect();
        match conditions {
            None if problems.is_empty() => Ok(()),
            None => Err(format!("verify finds {problems:?}")),
            Some(words) if problems.iter().any(|problem| problem.contains(words)) => Ok(()),
            Some(words) => Err(format!("verify does not find “{words}” but {problems:?}")),
        }
    }

    /// Verify holds the stored totals against the facts; so it must be content both before and after a rebuild, and the
    /// reports that are read from them must not move.
    fn rebuild(&mut self, played: &mut Played) -> Outcome {
        self.verify(None, played)?;
        let before = self.reports()?;
        let desk = self.desk()?;
        desk.ledger()
            .and_then(|ledger| Ok(ledger.rebuild(&mut |_| true)?))
            .map_err(|error| error.to_string())?;
        self.verify(None, played)?;
        let after = self.reports()?;
        match before.iter().zip(&after).find(|(before, after)| before != after) {
            None if before.len() == after.len() => Ok(()),
            None => {
                Err(format!("{} months became {} when the totals were rebuilt", before.len(), after.len()))
            }
            Some((before, _)) => Err(format!("{} moved when the totals were rebuilt", before.month)),
        }
    }

    fn reports(&mut self) -> Result<Vec<office::MonthEnd>, String> {
        let desk = self.desk()?;
        let Some((mut month, last)) = desk.books().months().map_err(|error| error.to_string())? else {
            return Ok(Vec::new());
        };
        let mut reports = Vec::new();
        while month <= last {
            reports.push(office::month_end(desk, month).map_err(|error| error.to_string())?);
            month = month.next();
        }
        Ok(reports)
    }

    fn sound(&mut self, spot: &Spot, played: &mut Played) {
        let outcome = self
            .rebuild(played)
            .and_then(|()| self.step(&Step::ClosedMonthsStand, played))
            .and_then(|()| self.figures_open())
            .and_then(|()| self.speaks_plainly());
        if let Err(problem) = outcome {
            played.failures.push(format!("{spot}: at the end, {problem}"));
        }
    }

    /// Every loose end is told with its dates and amounts as people write them.
    fn speaks_plainly(&mut self) -> Outcome {
        for month in self.reports()?.iter().map(|report| report.month) {
            for end in office::loose_ends(self.desk()?, month).map_err(|error| error.to_string())? {
                if let Some(word) = machine_words(&end.text).or_else(|| machine_words(&end.remedy)) {
                    return Err(format!("“{word}” is not how people write it: {} {}", end.text, end.remedy));
                }
            }
            let questions = office::questions(self.desk()?, month).map_err(|error| error.to_string())?;
            let questions = serde_json::to_value(questions).map_err(|error| error.to_string())?;
            if let Some(problem) = machine_words_in(&questions) {
                return Err(problem);
            }
        }
        Ok(())
    }

    /// Every figure comes of its working and its facts.
    fn figures_open(&mut self) -> Outcome {
        let Some(desk) = &self.desk else { return Ok(()) };
        let proof = acceptance::proof::prove(desk).map_err(|error| error.to_string())?;
        match proof.faults.as_slice() {
            [] => Ok(()),
            faults => Err(format!("{} figures do not open true:\n  {}", faults.len(), faults.join("\n  "))),
        }
    }
}

fn lay_over(below: &mut Value, over: &Value) {
    match (below, over) {
        (Value::Object(below), Value::Object(over)) => {
            for (key, value) in over {
                lay_over(below.entry(key.clone()).or_insert(Value::Null), value);
            }
        }
        // A line of a list by its place: `"choices": {"0": {…}}` changes the first choice alone.
        (Value::Array(below), Value::Object(over)) => {
            for (key, value) in over {
                if let Some(line) = key.parse::<usize>().ok().and_then(|index| below.get_mut(index)) {
                    lay_over(line, value);
                }
            }
        }
        (below, over) => *below = over.clone(),
    }
}

fn month_of(text: &str) -> Result<Month, String> {
    Month::parse(text).map_err(|error| error.to_string())
}

fn date_of(text: &str) -> Result<Date, String> {
    text.parse().map_err(|_| format!("`{text}` is not a day"))
}

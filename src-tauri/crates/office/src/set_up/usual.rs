//! The usual lists that a company may begin with, as far as it has nothing of the kind yet.

use std::collections::BTreeSet;

use desk::{Desk, OfficeError};
use serde::Serialize;
use serde_json::{Map, Value, json};
use trade::roof::standard;

use super::left::SetUpStep;
use crate::file::lists::{Lists, lists};
use crate::month::overhead::USUAL_ACCOUNTS;
use crate::rates::{Rates, rates, usual_facts, usual_points};

/// Where a figure comes from that no law and no list says.
const PRACTICE: &str = "common practice";

/// A fact that most firms begin with. It is not recorded until somebody has looked it over.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct UsualFact {
    /// What it is, in words.
    pub title: String,
    /// What it is measured in, where it is measured.
    pub measure_word: Option<String>,
    /// Where it comes from.
    pub source: String,
    /// The fields that nobody can know for the firm: they are typed before it is recorded.
    pub asked: Vec<String>,
    /// The fact as it is recorded; codes by their word.
    #[cfg_attr(feature = "ts", ts(type = "Record<string, string | number | boolean>"))]
    pub fact: Map<String, Value>,
}

/// The usual lists, each without what the firm already has.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct UsualLists {
    /// Cost codes.
    pub codes: Vec<UsualFact>,
    /// Employer's taxes and insurance.
    pub burden: Vec<UsualFact>,
    /// Parts with what a package covers; prices are the firm's own.
    pub parts: Vec<UsualFact>,
    /// Hours, four for each part of the roof: by its steepness.
    pub production: Vec<UsualFact>,
    /// What code and company ask.
    pub standards: Vec<UsualFact>,
    /// Points of the checklist.
    pub checklist: Vec<UsualFact>,
    /// The firm's names for the lines of the journal, and its accounts for overhead.
    pub accounts: Vec<UsualFact>,
}

impl UsualLists {
    /// The list of a step, where it has one: people, letterhead and recipe are the firm's own to say.
    #[must_use]
    pub fn of(&self, step: SetUpStep) -> &[UsualFact] {
        match step {
            SetUpStep::Codes => &self.codes,
            SetUpStep::Burden => &self.burden,
            SetUpStep::Parts => &self.parts,
            SetUpStep::Production => &self.production,
            SetUpStep::Standards => &self.standards,
            SetUpStep::Checklist => &self.checklist,
            SetUpStep::Accounts => &self.accounts,
            SetUpStep::People | SetUpStep::Recipe | SetUpStep::Letterhead => &[],
        }
    }
}

/// The usual lists, as they count from the company's first day.
///
/// # Errors
/// When the facts cannot be read.
pub fn usual_lists(desk: &Desk) -> Result<UsualLists, OfficeError> {
    let today = desk.clock.today();
    let (lists, rates) = (lists(desk)?, rates(desk, today)?);
    let since = json!(lists.firm.date.to_string());
    let dated = |kind: &str| {
        usual_facts(kind, today).into_iter().map(|mut fact| {
            fact.insert("date".to_owned(), since.clone());
            fact
        })
    };
    let known: BTreeSet<&str> = lists.codes.iter().map(|code| code.code.as_str()).collect();
    let codes = usual_facts("cost-code", today).into_iter();
    let parts = usual_facts("part", today).into_iter();
    Ok(UsualLists {
        codes: codes.filter(|fact| !known.contains(text(fact, "code"))).map(offered).collect(),
        burden: dated("burden-rate").filter(|fact| !has_burden(&lists, fact)).map(offered).collect(),
        parts: parts
            .filter(|fact| rates.parts.iter().all(|part| part.item.as_str() != text(fact, "item")))
            .map(|fact| measured(&rates, offered(fact)))
            .collect(),
        production: dated("production-rate")
            .filter(|fact| rates.production.iter().all(|row| row.item.as_str() != text(fact, "item")))
            .map(|fact| measured(&rates, offered(fact)))
            .collect(),
        standards: standards(&rates, &since),
        checklist: points(&rates),
        accounts: accounts(&lists),
    })
}

fn text<'a>(fact: &'a Map<String, Value>, field: &str) -> &'a str {
    fact.get(field).and_then(Value::as_str).unwrap_or_default()
}

/// A fact of the lists: what stands open in it is asked.
fn offered(mut fact: Map<String, Value>) -> UsualFact {
    let open = |(field, value): (&String, &Value)| value.is_null().then(|| field.clone());
    let asked: Vec<String> = fact.iter().filter_map(open).collect();
    fact.retain(|_, value| !value.is_null());
    let title = ["title", "name"].map(|field| text(&fact, field)).into_iter().find(|word| !word.is_empty());
    let source = match text(&fact, "source") {
        "" => PRACTICE,
        source => source,
    };
    UsualFact {
        title: title.unwrap_or_default().to_owned(),
        measure_word: None,
        source: source.to_owned(),
        asked,
        fact,
    }
}

/// With the item's own words and measure.
fn measured(rates: &Rates, mut usual: UsualFact) -> UsualFact {
    let item = rates.items.iter().find(|row| row.item.as_str() == text(&usual.fact, "item"));
    usual.measure_word = item.map(|row| row.measure_word.clone());
    if usual.title.is_empty() {
        usual.title = item.map(|row| row.title.clone()).unwrap_or_default();
    }
    usual
}

fn has_burden(lists: &Lists, fact: &Map<String, Value>) -> bool {
    lists.burden.iter().any(|rate| rate.name == text(fact, "name"))
}

fn standards(rates: &Rates, since: &Value) -> Vec<UsualFact> {
    let is_set = |usual: &trade::roof::Setting| {
        let row = rates.standards.iter().find(|row| row.topic == usual.topic);
        row.is_some_and(|row| match usual.origin {
            trade::Origin::Code => row.code.is_some(),
            trade::Origin::Company => row.company.is_some(),
        })
    };
    let missing = trade::roof::usual().into_iter().filter(|usual| !is_set(usual));
    missing
        .map(|usual| UsualFact {
            title: standard::title(usual.topic).to_owned(),
            measure_word: standard::unit(usual.topic).map(str::to_owned),
            fact: object(json!({"kind": "standard", "date": since, "topic": usual.topic.as_str(),
                "origin": usual.origin.as_str(), "value": usual.value.to_string(), "source": usual.source})),
            source: usual.source,
            asked: Vec::new(),
        })
        .collect()
}

fn points(rates: &Rates) -> Vec<UsualFact> {
    let last = rates.check_points.iter().map(|point| point.position).max().unwrap_or(0);
    let known: BTreeSet<&str> = rates.check_points.iter().map(|point| point.words.as_str()).collect();
    let missing = usual_points().iter().filter(|point| !known.contains(point.words));
    missing
        .zip(last + 1..)
        .map(|(point, position)| {
            let mut fact =
                object(json!({"kind": "check-point", "words": point.words, "blocks": point.blocks,
                "position": position}));
            if let Some(item) = point.item {
                fact.insert("item".to_owned(), json!(item.as_str()));
            }
            UsualFact {
                title: point.words.to_owned(),
                measure_word: None,
                source: PRACTICE.to_owned(),
                asked: Vec::new(),
                fact,
            }
        })
        .collect()
}

fn accounts(lists: &Lists) -> Vec<UsualFact> {
    let named = |line: &str| lists.accounts.iter().any(|row| row.line.as_str() == line && row.name.is_some());
    let journal = usual_facts("account", lists.firm.date).into_iter();
    let journal = journal.filter(|fact| !named(text(fact, "line"))).map(offered);
    let known: BTreeSet<&str> = lists.overhead.iter().map(|account| account.name.as_str()).collect();
    let overhead = USUAL_ACCOUNTS.iter().filter(|(_, name)| !known.contains(name)).map(|(number, name)| {
        offered(object(json!({"kind": "overhead-account", "number": number, "name": name})))
    });
    journal.chain(overhead).collect()
}

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(fields) => fields,
        _ => Map::new(),
    }
}

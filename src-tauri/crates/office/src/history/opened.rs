//! Opening a figure of the record: its rule, its working, and the conditions or roofs that it is made of.

use super::kick_outs::{KickOuts, kick_outs};
use super::{By, ConditionGroup, Gathered, One, UnrecoveredReason, gather, group};
use crate::explain::WorkingStep;
use crate::job::page::Source;
use crate::words;
use desk::Desk;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Books;
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use trade::{Money, Month};

/// Which figure of the record.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Which {
    /// What the conditions are gathered by.
    pub by: By,
    /// Which group of these, as its key says; empty for all.
    pub key: String,
    /// The figure's word, such as `spent`.
    pub figure: String,
}

/// A figure of the record, opened.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenedRecord {
    /// The figure's word.
    pub figure: String,
    /// Its value as text; “none” where there is none.
    pub value: String,
    /// The rule, in a sentence.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// The working.
    pub steps: Vec<WorkingStep>,
    /// The conditions together: their sums are those of the list.
    pub group: ConditionGroup,
    /// The conditions, those that make most of the figure first.
    pub conditions: Vec<RecordCondition>,
    /// The roofs, where the figure is made of roofs.
    pub roofs: Vec<RecordRoof>,
}

/// A condition behind a figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RecordCondition {
    /// The fact.
    pub source: Source,
    /// The job's number.
    pub job: String,
    /// The condition's number.
    pub number: String,
    /// When it was found.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Where, in words.
    pub place: String,
    /// What is damaged and how much of it, in words.
    pub damage: String,
    /// Why, in words.
    pub cause: String,
    /// Spent beyond the included sheets.
    pub spent: Money,
    /// Billed.
    pub billed: Money,
    /// Given away.
    pub unrecovered: Money,
    /// Why it was given away, where it was.
    pub reason: Option<UnrecoveredReason>,
}

/// A roof behind a figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RecordRoof {
    /// The job's number.
    pub job: String,
    /// Its title.
    pub title: String,
    /// When work began on it.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub begun: Option<Date>,
    /// What it adds to the figure.
    pub counted: i64,
    /// How that was counted, in words; empty for itself.
    pub how: String,
}

const HOUSE: &str = "company rule";
const COMMON: &str = "common practice";

/// Every figure that opens: its word, its rule and where the rule comes from.
const RULES: &[(&str, &str, &str)] = &[
    ("roofs", "Jobs on which work began, without those that were canceled.", COMMON),
    ("conditions", "Hidden conditions as the crews logged them, each counted once.", COMMON),
    ("jobs", "Jobs with at least one of these conditions.", COMMON),
    ("sheets", "Deck sheets counted on these conditions, whether the price included them or not.", COMMON),
    (
        "spent",
        "Bills, direct costs and hours tied to a condition, for what lies beyond the sheets or feet that the price \
         includes.",
        HOUSE,
    ),
    ("billed", "A condition's share of what was invoiced on its change orders, before sales tax.", HOUSE),
    ("recovery", "Billed ÷ spent beyond the included sheets, never rounded but when shown.", HOUSE),
    (
        "unrecovered",
        "Spent less billed, condition by condition, where nothing more will be billed. Never below zero: a condition \
         that paid for itself does not make up for one that was given away.",
        HOUSE,
    ),
    ("spent-a-job", "Spent on these conditions ÷ the jobs that had them, rounded once.", HOUSE),
    ("price-each", "The lowest price today of a kick-out on offer, ÷ the pieces in its package.", HOUSE),
    (
        "pieces",
        "A kick-out at every wall end of the roofs where one was missing; one where the roof was not measured.",
        HOUSE,
    ),
    ("pieces-cost", "Those kick-outs at today’s price: the pieces alone, without setting them.", HOUSE),
];

/// Opens a figure of the record of a year, or of all years, as it stands at the end of a month.
///
/// # Errors
/// When there is no such figure, or the facts cannot be read.
pub fn opened(
    desk: &Desk,
    year: Option<i16>,
    through: Month,
    which: &Which,
) -> Result<OpenedRecord, OfficeError> {
    let word = which.figure.as_str();
    let Some((_, rule, source)) = RULES.iter().find(|(figure, ..)| *figure == word) else {
        let known: Vec<&str> = RULES.iter().map(|(figure, ..)| *figure).collect();
        return Err(OfficeError::not_found(
            format!("The record has no figure “{word}”."),
            format!("Use one of {}.", known.join(", ")),
        ));
    };
    desk.books().in_one_read(|books| {
        let gathered = gather(books, year, through)?;
        let inside = |one: &&One| which.by.key(one) == which.key;
        let group = group(which.key.clone(), gathered.all.iter().filter(inside));
        let kick_outs = kick_outs(books, desk.clock.today(), &gathered.all, gathered.roofs.len())?;
        let made_of_roofs = matches!(word, "roofs" | "pieces" | "pieces-cost" | "price-each");
        let mut ones: Vec<&One> = gathered.all.iter().filter(inside).filter(|_| !made_of_roofs).collect();
        ones.sort_by_key(|one| {
            let share = if word == "unrecovered" { one.condition.unrecovered } else { one.condition.spent };
            (std::cmp::Reverse(share), one.condition.condition.date, one.condition.id)
        });
        let conditions = ones.iter().map(|one| find(books, &gathered, one)).collect::<Result<_, _>>()?;
        Ok(OpenedRecord {
            figure: word.to_owned(),
            value: value(word, &gathered, &group, &kick_outs),
            rule: (*rule).to_owned(),
            source: (*source).to_owned(),
            steps: steps(word, &group, &kick_outs),
            conditions,
            roofs: roofs(word, &gathered, &kick_outs),
            group,
        })
    })
}

fn find(books: Books<'_>, gathered: &Gathered, one: &One) -> Result<RecordCondition, OfficeError> {
    let fact = &one.condition.condition;
    let held = books.fact(one.condition.id)?.ok_or_else(|| {
        OfficeError::not_found(
            format!("Condition {} of job {} is no longer there.", fact.number, one.number),
            "Open the page again.",
        )
    })?;
    let side = fact.side.as_deref().map(|side| format!(", {side}")).unwrap_or_default();
    Ok(RecordCondition {
        source: Source::of(&held.entry, &gathered.names),
        job: one.number.clone(),
        number: fact.number.clone(),
        date: fact.date,
        place: words::headed(fact.place.as_str()) + &side,
        damage: words::damage(fact.count, fact.damaged, fact.counted_in),
        cause: words::plain(fact.cause.as_str()),
        spent: one.condition.spent,
        billed: one.condition.billed,
        unrecovered: one.condition.unrecovered,
        reason: one.condition.unrecovered.is_positive().then_some(one.reason),
    })
}

fn or_none<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(|| "none".to_owned(), |value| value.to_string())
}

fn value(word: &str, gathered: &Gathered, group: &ConditionGroup, kick_outs: &KickOuts) -> String {
    match word {
        "roofs" => gathered.roofs.len().to_string(),
        "conditions" => group.conditions.to_string(),
        "jobs" => group.jobs.to_string(),
        "sheets" => group.sheets.to_string(),
        "spent" => group.spent.to_string(),
        "billed" => group.billed.to_string(),
        "recovery" => or_none(group.recovery.map(|share| share.normalize())),
        "unrecovered" => group.unrecovered.to_string(),
        "spent-a-job" => or_none(kick_outs.spent_a_job),
        "price-each" => or_none(kick_outs.price_each),
        "pieces" => kick_outs.pieces.to_string(),
        _ => or_none(kick_outs.pieces_cost),
    }
}

fn steps(word: &str, group: &ConditionGroup, kick_outs: &KickOuts) -> Vec<WorkingStep> {
    let step = |label: &str, value: String| WorkingStep { label: label.to_owned(), value };
    let spent = step("spent beyond the included sheets", group.spent.to_string());
    match word {
        "recovery" => vec![
            step("billed", group.billed.to_string()),
            spent,
            step("recovery", or_none(group.recovery.map(|share: Decimal| share.normalize()))),
        ],
        // Where some of it may still be billed, or one condition paid for more than itself, the three do not sum.
        "unrecovered" => vec![
            spent,
            step("billed", group.billed.to_string()),
            step(
                "still to be billed, less what was billed beyond a condition’s cost",
                (group.spent - group.billed - group.unrecovered).to_string(),
            ),
        ],
        "spent-a-job" => vec![spent, step("jobs", group.jobs.to_string())],
        "pieces-cost" => vec![
            step("pieces", kick_outs.pieces.to_string()),
            step("price of one", or_none(kick_outs.price_each)),
        ],
        _ => Vec::new(),
    }
}

fn roofs(word: &str, gathered: &Gathered, kick_outs: &KickOuts) -> Vec<RecordRoof> {
    let title = |number: &str| {
        let job = gathered.names.jobs.values().find(|job| job.number == number);
        job.map(|job| job.title.clone()).unwrap_or_default()
    };
    match word {
        "roofs" => gathered
            .roofs
            .iter()
            .map(|roof| {
                let job = gathered.names.job_number(roof.job);
                let title = title(&job);
                RecordRoof { job, title, begun: Some(roof.begun), counted: 1, how: String::new() }
            })
            .collect(),
        "pieces" | "pieces-cost" => kick_outs
            .without
            .iter()
            .map(|roof| RecordRoof {
                job: roof.job.clone(),
                title: title(&roof.job),
                begun: None,
                counted: roof.pieces,
                how: match roof.wall_ends {
                    None => "not measured: one at least".to_owned(),
                    Some(0) => "measured, no wall end noted: one at least".to_owned(),
                    Some(1) => "measured: one wall end".to_owned(),
                    Some(ends) => format!("measured: {ends} wall ends"),
                },
            })
            .collect(),
        _ => Vec::new(),
    }
}

//! What the firm's own record says of hidden conditions: where rot is found, by cause and age of roof, what was paid
//! for it, by crew and by month, and what was given away. It is a record, not a forecast, and says how thin it is.

mod kick_outs;
mod opened;

pub use kick_outs::{KickOuts, RoofWithout};
pub use opened::{OpenedRecord, RecordFind, RecordRoof, Which, opened};

use crate::desk::Desk;
use crate::error::OfficeError;
use crate::names::Names;
use crate::standing::{ChangeState, FindStanding, Standing};
use jiff::civil::Date;
use ledger::words::{CountedIn, Damaged, JobStage};
use ledger::{Books, Id};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use trade::{Money, Month, Qty};

/// Finds alike in some way, with their money.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FindGroup {
    /// What they have in common, as a word of the ledger, a name or a month.
    pub key: String,
    /// How many finds.
    pub finds: usize,
    /// On how many jobs.
    pub jobs: usize,
    /// Deck sheets among them.
    pub sheets: Qty,
    /// Spent beyond the included sheets.
    pub spent: Money,
    /// Billed.
    pub billed: Money,
    /// Billed ÷ spent.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub recovery: Option<Decimal>,
    /// Given away.
    pub leak: Money,
}

/// Why money leaked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum LeakReason {
    /// The homeowner was never asked.
    NeverAsked,
    /// The homeowner declined and the work was done.
    Declined,
    /// Less was billed than it cost.
    BilledTooLittle,
}

/// Money given away on one find.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct GivenAway {
    /// The find's id.
    pub find: String,
    /// The job's number.
    pub job: String,
    /// The find's number.
    pub number: String,
    /// Where.
    pub place: String,
    /// When it was found.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Why.
    pub reason: LeakReason,
    /// How much.
    pub amount: Money,
}

/// The record.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Learned {
    /// The year shown; absent when all are.
    pub year: Option<i16>,
    /// The years in which anything was found.
    pub years: Vec<i16>,
    /// Roofs opened: jobs on which work began.
    pub roofs: usize,
    /// All finds together.
    pub all: FindGroup,
    /// By place on the roof.
    pub by_place: Vec<FindGroup>,
    /// By cause.
    pub by_cause: Vec<FindGroup>,
    /// By age of the old roof, in bands of ten years.
    pub by_age: Vec<FindGroup>,
    /// By crew.
    pub by_crew: Vec<FindGroup>,
    /// By month in which it was found.
    pub by_month: Vec<FindGroup>,
    /// What was given away, the most first.
    pub given_away: Vec<GivenAway>,
    /// Missing kick-outs.
    pub kick_outs: KickOuts,
    /// Whether the record is too short to say much: fewer than five roofs with finds.
    pub thin: bool,
}

/// Fewer roofs with finds than this say little (house rule).
const THIN_BELOW: usize = 5;

/// A find with what the record asks of its job.
struct One {
    job: Id,
    number: String,
    age: Option<i64>,
    crew: Option<String>,
    find: FindStanding,
    reason: LeakReason,
}

/// A job on which work began.
struct Opened {
    job: Id,
    begun: Date,
}

/// All that the record is made of.
struct Gathered {
    names: Names,
    years: BTreeSet<i16>,
    roofs: Vec<Opened>,
    all: Vec<One>,
}

/// Reads the record of a year, or of all years, as it stands at the end of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn learned(desk: &Desk, year: Option<i16>, through: Month) -> Result<Learned, OfficeError> {
    desk.books().together(|books| {
        let Gathered { names: _, years, roofs, all } = gather(books, year, through)?;
        let of_all = group(String::new(), all.iter());
        Ok(Learned {
            year,
            years: years.into_iter().collect(),
            roofs: roofs.len(),
            by_place: grouped(&all, By::Place),
            by_cause: grouped(&all, By::Cause),
            by_age: grouped(&all, By::Age),
            by_crew: grouped(&all, By::Crew),
            by_month: in_order(grouped(&all, By::Month)),
            given_away: given_away(&all),
            kick_outs: kick_outs::kick_outs(books, desk.clock.today(), &all, roofs.len())?,
            thin: of_all.jobs < THIN_BELOW,
            all: of_all,
        })
    })
}

fn gather(books: Books<'_>, year: Option<i16>, through: Month) -> Result<Gathered, OfficeError> {
    let names = Names::read(books)?;
    let calendar = books.calendar()?;
    let (mut years, mut roofs, mut all) = (BTreeSet::new(), Vec::new(), Vec::new());
    for (id, job) in &names.jobs {
        let standing = Standing::gather(books, &calendar, *id, through)?;
        let begun = standing.begun.filter(|date| year.is_none_or(|year| date.year() == year));
        let cancelled = matches!(standing.ended, Some((JobStage::Cancelled, _)));
        roofs.extend(begun.filter(|_| !cancelled).map(|begun| Opened { job: *id, begun }));
        for find in standing.finds {
            years.insert(find.find.date.year());
            if year.is_some_and(|year| find.find.date.year() != year) {
                continue;
            }
            let declined = standing.changes.iter().any(|change| {
                change.state() == ChangeState::Declined
                    && change.order.lines.iter().any(|line| line.find == Some(find.id))
            });
            let reason = match (find.asked, declined) {
                (false, _) => LeakReason::NeverAsked,
                (true, true) => LeakReason::Declined,
                (true, false) => LeakReason::BilledTooLittle,
            };
            let crew = job.crew.map(|crew| names.crew(crew));
            let number = job.number.clone();
            all.push(One { job: *id, number, age: job.roof_age_years, crew, find, reason });
        }
    }
    Ok(Gathered { names, years, roofs, all })
}

/// What finds are gathered by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(rename_all = "kebab-case")]
pub enum By {
    /// Not at all: every find.
    All,
    /// By place on the roof.
    Place,
    /// By cause.
    Cause,
    /// By age of the old roof.
    Age,
    /// By crew.
    Crew,
    /// By the month in which it was found.
    Month,
    /// Each by itself.
    Find,
}

impl By {
    /// The group in which a find stands.
    fn key(self, one: &One) -> String {
        let find = &one.find.find;
        match self {
            By::All => String::new(),
            By::Place => find.place.as_str().to_owned(),
            By::Cause => find.cause.as_str().to_owned(),
            By::Age => one.age.map(|age| trade::age_band(age).to_string()).unwrap_or_default(),
            By::Crew => one.crew.clone().unwrap_or_default(),
            By::Month => Month::of(find.date).to_string(),
            By::Find => one.find.id.to_string(),
        }
    }
}

fn group<'a>(key: String, ones: impl Iterator<Item = &'a One>) -> FindGroup {
    let mut of = FindGroup { key, ..FindGroup::default() };
    let mut jobs = BTreeSet::new();
    for one in ones {
        of.finds += 1;
        jobs.insert(one.job);
        let find = &one.find;
        if find.find.damaged == Damaged::DeckSheet && find.find.counted_in == CountedIn::Sheet {
            of.sheets += find.find.count;
        }
        of.spent += find.spent;
        of.billed += find.billed;
        of.leak += find.leak;
    }
    of.jobs = jobs.len();
    of.recovery = trade::recovery(of.billed, of.spent);
    of
}

/// The groups, the most finds first.
fn grouped(all: &[One], by: By) -> Vec<FindGroup> {
    let mut by_key: BTreeMap<String, Vec<&One>> = BTreeMap::new();
    for one in all {
        by_key.entry(by.key(one)).or_default().push(one);
    }
    let mut groups: Vec<FindGroup> =
        by_key.into_iter().map(|(key, ones)| group(key, ones.into_iter())).collect();
    groups.sort_by(|left, right| right.finds.cmp(&left.finds).then_with(|| left.key.cmp(&right.key)));
    groups
}

fn in_order(mut groups: Vec<FindGroup>) -> Vec<FindGroup> {
    groups.sort_by(|left, right| left.key.cmp(&right.key));
    groups
}

fn given_away(all: &[One]) -> Vec<GivenAway> {
    let mut leaks: Vec<GivenAway> = all
        .iter()
        .filter(|one| one.find.leak > Money::ZERO)
        .map(|one| GivenAway {
            find: one.find.id.to_string(),
            job: one.number.clone(),
            number: one.find.find.number.clone(),
            place: one.find.find.place.as_str().to_owned(),
            date: one.find.find.date,
            reason: one.reason,
            amount: one.find.leak,
        })
        .collect();
    leaks.sort_by(|left, right| right.amount.cmp(&left.amount).then_with(|| left.find.cmp(&right.find)));
    leaks
}

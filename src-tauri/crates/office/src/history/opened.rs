//! Opening a figure of the record: its rule, its working, and the conditions or roofs that it is made of.

use super::gathered::{By, ConditionGroup, Gathered, JobCondition, UnrecoveredReason, gather, group};
use super::kick_outs::{KickOuts, kick_outs};
use crate::explain::{FactLine, MeasuredIn, Term, Working, tidy};
use crate::job::page::Source;
use crate::phrase;
use desk::Desk;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::Books;
use ledger::closed_lists::{CountedIn, Damaged};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use trade::shown::in_sentence;
use trade::{Money, Month, Rate, Rounding};

/// Which figure of the record.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Which {
    /// What the conditions are gathered by.
    pub by: By,
    /// Which group of these, as its key says; empty for all.
    pub key: String,
    /// Which figure.
    pub figure: HistoryFigure,
}

/// A figure of the record, opened.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenedRecord {
    /// Which figure.
    pub figure: HistoryFigure,
    /// What it is called.
    pub label: String,
    /// What it is measured in.
    pub measure: MeasuredIn,
    /// Its value; absent where there is none.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub value: Option<Decimal>,
    /// The rule, in a sentence.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// The working in a sentence, written from it.
    pub sentence: String,
    /// The working.
    pub working: Working,
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
    /// Unrecovered cost.
    pub unrecovered: Money,
    /// Why it was not recovered, where it was not.
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

const COMPANY: &str = "company rule";
const COMMON: &str = "common practice";

/// A figure is one row of this table; a row without one of its parts does not compile.
macro_rules! figures {
    ($( $figure:ident = $word:literal, $label:literal, $measure:ident, $source:ident: $rule:literal; )+) => {
        /// A figure of the history of hidden conditions that can be opened.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS))]
        #[serde(rename_all = "kebab-case")]
        pub enum HistoryFigure {
            $( #[doc = $rule] $figure, )+
        }

        impl HistoryFigure {
            /// Every figure, in the order in which they are listed.
            pub const ALL: &'static [HistoryFigure] = &[$( HistoryFigure::$figure ),+];

            /// Its word, as it stands in JSON.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $( HistoryFigure::$figure => $word, )+ }
            }

            /// What people call it.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self { $( HistoryFigure::$figure => $label, )+ }
            }

            /// What it is measured in.
            #[must_use]
            pub const fn measure(self) -> MeasuredIn {
                match self { $( HistoryFigure::$figure => MeasuredIn::$measure, )+ }
            }

            /// What it is, in a sentence.
            #[must_use]
            pub const fn rule(self) -> &'static str {
                match self { $( HistoryFigure::$figure => $rule, )+ }
            }

            /// Where the rule comes from.
            #[must_use]
            pub const fn source(self) -> &'static str {
                match self { $( HistoryFigure::$figure => $source, )+ }
            }
        }
    };
}

figures! {
    Roofs = "roofs", "Roofs opened", Count, COMMON: "Jobs on which work began, without those that were canceled.";
    Conditions = "conditions", "Hidden conditions", Count, COMMON:
        "Hidden conditions as the crews logged them, each counted once.";
    Jobs = "jobs", "Jobs with hidden conditions", Count, COMMON: "Jobs with at least one of these conditions.";
    Sheets = "sheets", "Deck sheets", Count, COMMON:
        "Deck sheets counted on these conditions, whether the price included them or not.";
    Spent = "spent", "Spent on hidden conditions", Money, COMPANY:
        "Bills, direct costs and hours tied to a condition, for what lies beyond the sheets or feet that the price \
         includes.";
    Billed = "billed", "Billed for hidden conditions", Money, COMPANY:
        "A condition's share of what was invoiced on its change orders, before sales tax.";
    Recovery = "recovery", "Recovery", Share, COMPANY:
        "Billed ÷ spent beyond the included sheets, never rounded but when shown.";
    Unrecovered = "unrecovered", "Unrecovered cost", Money, COMPANY:
        "Spent less billed, condition by condition, where nothing more will be billed. Never below zero: a condition \
         that paid for itself does not make up for one that was not recovered.";
    SpentAJob = "spent-a-job", "Spent a job", Money, COMPANY:
        "Spent on these conditions ÷ the jobs that had them, rounded once.";
    PriceEach = "price-each", "Price of a kick-out", Money, COMPANY:
        "The lowest price today of a kick-out on offer, ÷ the pieces in its package.";
    Pieces = "pieces", "Kick-outs", Count, COMPANY:
        "A kick-out at every wall end of the roofs where one was missing; one where the roof was not measured.";
    PiecesCost = "pieces-cost", "Kick-outs at today’s price", Money, COMPANY:
        "Those kick-outs at today’s price: the pieces alone, without setting them.";
}

/// Opens a figure of the record of a year, or of all years, as it stands at the end of a month.
///
/// # Errors
/// When the facts cannot be read.
pub fn opened(
    desk: &Desk,
    year: Option<i16>,
    through: Month,
    which: &Which,
) -> Result<OpenedRecord, OfficeError> {
    let figure = which.figure;
    desk.books().in_one_read(|books| {
        let gathered = gather(books, year, through)?;
        let inside = |found: &&JobCondition| which.by.key(found) == which.key;
        let group = group(which.key.clone(), gathered.all.iter().filter(inside));
        let kick_outs = kick_outs(books, desk.clock.today(), &gathered.all, gathered.roofs.len())?;
        let made_of_roofs = matches!(
            figure,
            HistoryFigure::Roofs
                | HistoryFigure::Pieces
                | HistoryFigure::PiecesCost
                | HistoryFigure::PriceEach
        );
        let mut all_found: Vec<&JobCondition> =
            gathered.all.iter().filter(inside).filter(|_| !made_of_roofs).collect();
        all_found.sort_by_key(|found| {
            let by_loss = figure == HistoryFigure::Unrecovered;
            let share = if by_loss { found.condition.unrecovered } else { found.condition.spent };
            (std::cmp::Reverse(share), found.condition.condition.date, found.condition.id)
        });
        let conditions: Vec<RecordCondition> =
            all_found.iter().map(|found| find(books, &gathered, found)).collect::<Result<_, _>>()?;
        let roofs = roofs(figure, &gathered, &kick_outs);
        let working =
            Behind { all_found: &all_found, conditions: &conditions, roofs: &roofs, kick_outs: &kick_outs };
        let working = working.of(figure);
        let measure = figure.measure();
        Ok(OpenedRecord {
            figure,
            label: figure.label().to_owned(),
            measure,
            value: value(figure, &gathered, &group, &kick_outs).map(|value| tidy(measure, value)),
            rule: figure.rule().to_owned(),
            source: figure.source().to_owned(),
            sentence: working.sentence(),
            working,
            conditions,
            roofs,
            group,
        })
    })
}

fn find(books: Books<'_>, gathered: &Gathered, found: &JobCondition) -> Result<RecordCondition, OfficeError> {
    let fact = &found.condition.condition;
    let held = books.fact(found.condition.id)?.ok_or_else(|| {
        OfficeError::not_found(
            format!("Condition {} of job {} is no longer there.", fact.number, found.number),
            "Open the page again.",
        )
    })?;
    let side = fact.side.as_deref().map(|side| format!(", {side}")).unwrap_or_default();
    Ok(RecordCondition {
        source: Source::of(&held.entry, &gathered.names),
        job: found.number.clone(),
        number: fact.number.clone(),
        date: fact.date,
        place: format!("{}{side}", fact.place.label()),
        damage: phrase::damage(fact.count, fact.damaged, fact.counted_in),
        cause: in_sentence(fact.cause.label()),
        spent: found.condition.spent,
        billed: found.condition.billed,
        unrecovered: found.condition.unrecovered,
        reason: found.condition.unrecovered.is_positive().then_some(found.reason),
    })
}

fn value(
    figure: HistoryFigure,
    gathered: &Gathered,
    group: &ConditionGroup,
    kick_outs: &KickOuts,
) -> Option<Decimal> {
    match figure {
        HistoryFigure::Roofs => Some(Decimal::from(gathered.roofs.len())),
        HistoryFigure::Conditions => Some(Decimal::from(group.conditions)),
        HistoryFigure::Jobs => Some(Decimal::from(group.jobs)),
        HistoryFigure::Sheets => Some(group.sheets.decimal()),
        HistoryFigure::Spent => Some(group.spent.decimal()),
        HistoryFigure::Billed => Some(group.billed.decimal()),
        HistoryFigure::Recovery => group.recovery,
        HistoryFigure::Unrecovered => Some(group.unrecovered.decimal()),
        HistoryFigure::SpentAJob => kick_outs.spent_a_job.map(Money::decimal),
        HistoryFigure::PriceEach => kick_outs.price_each.map(Rate::decimal),
        HistoryFigure::Pieces => Some(Decimal::from(kick_outs.pieces)),
        HistoryFigure::PiecesCost => kick_outs.pieces_cost.map(Money::decimal),
    }
}

/// What stands behind a figure of the history.
struct Behind<'a> {
    all_found: &'a [&'a JobCondition],
    conditions: &'a [RecordCondition],
    roofs: &'a [RecordRoof],
    kick_outs: &'a KickOuts,
}

impl Behind<'_> {
    /// How the figure comes about.
    fn of(&self, figure: HistoryFigure) -> Working {
        match figure {
            HistoryFigure::Roofs | HistoryFigure::Pieces => Working::sum(vec![self.pieces(figure.label())]),
            HistoryFigure::Conditions => {
                Working::sum(vec![self.term("conditions", MeasuredIn::Count, |_, _| Some(Decimal::ONE))])
            }
            HistoryFigure::Jobs => Working::sum(vec![self.jobs()]),
            HistoryFigure::Sheets => {
                Working::sum(vec![self.term("deck sheets", MeasuredIn::Count, |found, _| {
                    let condition = &found.condition.condition;
                    let counts =
                        condition.damaged == Damaged::DeckSheet && condition.counted_in == CountedIn::Sheet;
                    counts.then(|| condition.count.decimal())
                })])
            }
            HistoryFigure::Spent => Working::sum(vec![self.spent()]),
            HistoryFigure::Billed => Working::sum(vec![self.billed()]),
            HistoryFigure::Recovery => {
                let spent = self.spent();
                let zero = Term::rule("nothing", MeasuredIn::Money, Decimal::ZERO);
                let spent = if spent.value.is_sign_negative() { zero } else { spent };
                Working::quotient(vec![self.billed(), spent])
            }
            HistoryFigure::Unrecovered => {
                let lost =
                    |_: &JobCondition, condition: &RecordCondition| Some(condition.unrecovered.decimal());
                Working::sum(vec![self.term("unrecovered", MeasuredIn::Money, lost)])
            }
            HistoryFigure::SpentAJob => {
                Working::quotient(vec![self.spent(), self.jobs()]).nearest(Rounding::Cent)
            }
            HistoryFigure::PriceEach => Working::sum(vec![self.price_each()]),
            HistoryFigure::PiecesCost => {
                Working::product(vec![self.pieces("kick-outs"), self.price_each()]).nearest(Rounding::Cent)
            }
        }
    }

    fn term(
        &self,
        label: &str,
        measure: MeasuredIn,
        adds: impl Fn(&JobCondition, &RecordCondition) -> Option<Decimal>,
    ) -> Term {
        let both = self.all_found.iter().zip(self.conditions);
        let facts = both.filter_map(|(found, condition)| {
            Some(FactLine {
                source: Some(condition.source.clone()),
                date: Some(condition.date),
                text: format!("job {}, condition {}", condition.job, condition.number),
                amount: adds(found, condition)?,
            })
        });
        Term::facts(label, measure, facts.collect())
    }

    fn spent(&self) -> Term {
        self.term("spent", MeasuredIn::Money, |_, condition| Some(condition.spent.decimal()))
    }

    fn billed(&self) -> Term {
        self.term("billed", MeasuredIn::Money, |_, condition| Some(condition.billed.decimal()))
    }

    /// The jobs, each by its first condition.
    fn jobs(&self) -> Term {
        let first = |found: &JobCondition| {
            self.all_found.iter().find(|other| other.job == found.job).map(|found| found.condition.id)
        };
        self.term("jobs", MeasuredIn::Count, |found, _| {
            (first(found) == Some(found.condition.id)).then_some(Decimal::ONE)
        })
    }

    fn pieces(&self, label: &str) -> Term {
        let facts = self.roofs.iter().map(|roof| FactLine {
            source: None,
            date: roof.begun,
            text: format!("job {} {}", roof.job, roof.title),
            amount: Decimal::from(roof.counted),
        });
        Term::facts(label, MeasuredIn::Count, facts.collect())
    }

    /// The price is read from the firm's list of today, which is no fact of the history.
    fn price_each(&self) -> Term {
        let facts = self.kick_outs.price_each.map(|price| FactLine {
            source: None,
            date: None,
            text: "the lowest price on the firm’s list".to_owned(),
            amount: price.decimal(),
        });
        Term::facts("price of one", MeasuredIn::Money, facts.into_iter().collect())
    }
}

fn roofs(figure: HistoryFigure, gathered: &Gathered, kick_outs: &KickOuts) -> Vec<RecordRoof> {
    let title = |number: &str| {
        let job = gathered.names.jobs.values().find(|job| job.number == number);
        job.map(|job| job.title.clone()).unwrap_or_default()
    };
    match figure {
        HistoryFigure::Roofs => gathered
            .roofs
            .iter()
            .map(|roof| {
                let job = gathered.names.job_number(roof.job);
                let title = title(&job);
                RecordRoof { job, title, begun: Some(roof.begun), counted: 1, how: String::new() }
            })
            .collect(),
        HistoryFigure::Pieces | HistoryFigure::PiecesCost => kick_outs
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

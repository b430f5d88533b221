//! What people read for the words of the closed lists, as a file of TypeScript for the page. A label is written once,
//! beside its word.

use crate::billing::bank::LineState;
use crate::cash::view::{CashFor, CashFrom, HabitOf};
use crate::history::{HistoryFigure, UnrecoveredReason};
use crate::job::result::Stage;
use crate::job::snapshot::{ChangeState, WorkState};
use crate::month::budget::BudgetedLine;
use crate::month::loose_ends::LooseEndKind;
use ledger::closed_lists::{
    BurdenOn, Cause, CheckState, CountedIn, Course, Damaged, DecidedBy, Every, InvoiceFor, JobStatusWord,
    JournalLine, Language, MarkKind, NoticeOf, OtherBankLine, OverheadBy, OwedFrom, PaidBy, PamphletBy,
    Place, PremiumTo, Pricing, RepairStage, Role, TaxRounding, Verdict, WeekDay,
};
use std::fmt::Write;
use trade::expected::{AgeBand, RecordStrength};
use trade::forecast::ForecastRule;
use trade::price::Setback;
use trade::receivable::Age;
use trade::roof::standard;
use trade::{
    CostKind, CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, ShingleKind, Steepness, Topic,
    ValleyLining, ValleyMethod,
};

/// A closed list of the page: its name there, its type, and what it lists.
struct List {
    name: &'static str,
    of: &'static str,
    about: &'static str,
    /// What each word's entry is made of, as a type.
    entry: &'static str,
    rows: Vec<(&'static str, String)>,
}

/// Lists of which the page needs no more than the labels.
macro_rules! plain {
    ($($name:literal: $of:ident, $about:literal;)+) => {
        vec![$( List {
            name: $name,
            of: stringify!($of),
            about: $about,
            entry: "string",
            rows: $of::ALL.iter().map(|word| (word.as_str(), quoted(word.label()))).collect(),
        } ),+]
    };
}

/// Lists of which it needs more.
macro_rules! with_more {
    (type) => { "string" };
    (type $of:literal) => { $of };
    ($name:literal: $of:ident, $about:literal, { $($field:literal $(of $type:literal)?: $value:expr),+ $(,)? }) => {
        List {
            name: $name,
            of: stringify!($of),
            about: $about,
            entry: concat!("{ ", $($field, ": ", with_more!(type $($type)?), "; ",)+ "}"),
            rows: $of::ALL.iter().map(|word| {
                let fields = [$( format!("{}: {}", $field, quoted($value(*word))) ),+];
                (word.as_str(), format!("{{ {} }}", fields.join(", ")))
            }).collect(),
        }
    };
}

fn of_the_trade() -> Vec<List> {
    plain! {
        "AGES": Age, "How many days past due.";
        "COST_KINDS": CostKind, "What a cost is for.";
        "CUT_UP": CutUp, "How cut up a roof is.";
        "DECKS": DeckKind, "What the deck is made of.";
        "FEATURES": FeatureKind, "What comes through the roof or stands at it.";
        "FORECAST_RULES": ForecastRule, "The rule that gave a forecast.";
        "ITEMS": Item, "What an item is called, in the order of work.";
        "ORIGINS": Origin, "Who asks for it.";
        "RECORDS": RecordStrength, "How much the firm's own history can say.";
        "ROOF_AGES": AgeBand, "How old a roof was.";
        "SETBACKS": Setback, "What may go otherwise than priced.";
        "LININGS": ValleyLining, "What lies under the shingles of a closed valley.";
        "SHINGLE_KINDS": ShingleKind, "What a shingle is.";
        "STEEPNESS": Steepness, "How steep a roof is. Where one ends and the next begins stands in a recipe.";
        "VALLEYS": ValleyMethod, "How a valley is made.";
    }
}

fn of_facts() -> Vec<List> {
    plain! {
        "BURDEN_ON": BurdenOn, "What a burden is calculated on.";
        "CAUSES": Cause, "Why it rotted.";
        "CHECK_STATES": CheckState, "How a point of the checklist stands.";
        "COURSES": Course, "What the owner decides of a repair that the homeowner declined.";
        "DECIDED_BY": DecidedBy, "How a decision came.";
        "EVERY": Every, "How often a cost comes again.";
        "JOB_STATUSES": JobStatusWord, "Where a job is, as it is recorded.";
        "LANGUAGES": Language, "In what a person reads the site view.";
        "MARKS": MarkKind, "What is drawn on a photo.";
        "NOTICES": NoticeOf, "What a notice of a state is about.";
        "OWED_FROM": OwedFrom, "Where a cost of the firm without a bill comes from.";
        "PAID_BY": PaidBy, "How money came.";
        "PAMPHLET_BY": PamphletBy, "What shows that the pamphlet on lead was given.";
        "OTHER_BANK_LINES": OtherBankLine, "What a line of the bank is of which the books hold no payment.";
        "PLACES": Place, "Where on the roof.";
        "PREMIUM_TO": PremiumTo, "Where the overtime premium goes.";
        "PRICINGS": Pricing, "How a change order is priced.";
        "PURPOSES": InvoiceFor, "What an invoice is for.";
        "REPAIR_STAGES": RepairStage, "How far the work on a condition is, as it is recorded.";
        "TAX_ROUNDINGS": TaxRounding, "Where sales tax is rounded.";
        "VERDICTS": Verdict, "What the homeowner said, or the firm for a withdrawal.";
        "WEEK_DAYS": WeekDay, "The days of the week.";
    }
}

fn of_jobs() -> Vec<List> {
    plain! {
        "BANK_LINE_STATES": LineState, "What became of a line of the bank.";
        "BUDGETED_LINES": BudgetedLine, "The lines of the firm's budget.";
        "CASH_CAUSES": CashFor, "What money is expected for.";
        "CASH_FROM": CashFrom, "Where the cash that it begins with comes from.";
        "HABITS": HabitOf, "Whose invoices show when a customer pays.";
        "CHANGE_STATES": ChangeState, "The state of a change order.";
        "HISTORY_FIGURES": HistoryFigure, "The figures of the history of hidden conditions.";
        "LOOSE_ENDS": LooseEndKind, "The heading under which loose ends of a kind stand.";
        "REASONS": UnrecoveredReason, "Why a cost was not recovered.";
        "STAGES": Stage, "Where a job is in its life.";
        "WORK_STATES": WorkState, "The state of the work on a condition.";
    }
}

fn of_more() -> Vec<List> {
    vec![
        with_more!("COUNTED_IN": CountedIn, "What damage is counted in, and one of it.", {
            "label": CountedIn::label, "single": CountedIn::single,
        }),
        with_more!("MEASURES": Measure, "What an item is measured in, behind a figure, and one of it.", {
            "label": Measure::label, "single": Measure::single,
        }),
        with_more!("DAMAGED": Damaged, "What was damaged, and how it is counted where nothing else is said.", {
            "label": Damaged::label,
            "counted_in" of "CountedIn": |damaged: Damaged| damaged.usually_counted_in().as_str(),
            "single": |damaged: Damaged| damaged.counted().0,
            "several": |damaged: Damaged| damaged.counted().1,
        }),
        with_more!("EDGES": EdgeKind, "What an edge of a roof is called, and what it is.", {
            "label": EdgeKind::label, "about": EdgeKind::about,
        }),
        with_more!("JOURNAL_LINES": JournalLine, "The lines of the journal, and what stands on each.", {
            "label": JournalLine::label, "about": JournalLine::about,
        }),
        with_more!("OVERHEAD_BY": OverheadBy, "What overhead is spread by, and what its rate is for.", {
            "label": OverheadBy::label, "rate_of": OverheadBy::rate_of,
        }),
        shingle_sizes(),
        vents(),
        with_more!("ROLES": Role, "What a person does at the firm, and what they see of it.", {
            "label": Role::label, "sees": desk::policy::sees,
        }),
        with_more!("TOPICS": Topic, "What a topic asks about, and in what; no unit where it is a yes or a no.", {
            "label": standard::title,
            "unit": |topic: Topic| standard::unit(topic).unwrap_or_default(),
        }),
    ]
}

/// The items that are vents.
fn vents() -> List {
    let vent = |item: &Item| {
        let (side, area) = (item.vent_side()?, item.usual_free_area_sqin()?);
        let unit = item.measure().label();
        let (label, side, area) = (quoted(item.label()), quoted(side.as_str()), quoted(&area.to_string()));
        let entry = format!("{{ label: {label}, level: {side}, free_area_sqin: {area}, unit: {unit:?} }}");
        Some((item.as_str(), entry))
    };
    List {
        name: "VENTS",
        of: "Item",
        about: "The items that are vents: exhaust or intake, and the net free area that one is usually rated for.",
        entry: "{ label: string; level: string; free_area_sqin: string; unit: string }",
        rows: Item::ALL.iter().filter_map(vent).collect(),
    }
}

/// The kinds of shingle that come in one size.
fn shingle_sizes() -> List {
    let sized = |kind: &ShingleKind| {
        let (per_square, exposure) = kind.usual_size()?;
        let (per_square, exposure) = (quoted(&per_square.to_string()), quoted(&exposure.to_string()));
        Some((kind.as_str(), format!("{{ shingles_per_square: {per_square}, exposure_in: {exposure} }}")))
    };
    List {
        name: "SHINGLE_SIZES",
        of: "ShingleKind",
        about: "What a recipe begins with for a kind of shingle that comes in one size.",
        entry: "{ shingles_per_square: string; exposure_in: string }",
        rows: ShingleKind::ALL.iter().filter_map(sized).collect(),
    }
}

/// Every closed list with its labels, as a file of TypeScript.
#[must_use]
pub fn labels() -> String {
    let mut lists: Vec<List> =
        [of_the_trade(), of_facts(), of_jobs(), of_more()].into_iter().flatten().collect();
    lists.sort_by_key(|list| list.name);
    let mut types: Vec<&str> = lists.iter().map(|list| list.of).collect();
    types.sort_unstable();
    types.dedup();
    let mut text = String::from(
        "/** Written by the program: what people read for the words of the closed lists. */\n\n",
    );
    for of in types {
        let _ = writeln!(text, "import type {{ {of} }} from './{of}';");
    }
    for List { name, of, about, entry, rows } in lists {
        let rows: String = rows.iter().map(|(word, label)| format!("  {word:?}: {label},\n")).collect();
        // Where some words of a list have no entry, whoever asks for one may find none.
        let record = if matches!(name, "VENTS" | "SHINGLE_SIZES") {
            format!("Partial<Record<{of}, {entry}>>")
        } else {
            format!("Record<{of}, {entry}>")
        };
        let _ = write!(text, "\n/** {about} */\nexport const {name}: Readonly<{record}> = {{\n{rows}}};\n");
    }
    text
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_list_has_a_label_for_each_word_and_no_two_the_same() {
        for list in [of_the_trade(), of_facts(), of_jobs(), of_more()].into_iter().flatten() {
            let labels: Vec<&String> = list.rows.iter().map(|(_, label)| label).collect();
            assert!(labels.len() > 1, "{} has no words", list.name);
            for (at, label) in labels.iter().enumerate() {
                assert!(label.len() > 2, "{}: a label is empty", list.name);
                assert!(!labels[..at].contains(label), "{}: {label} stands twice", list.name);
            }
        }
    }
}

//! Items, topics and heights in plain trade English, for those who read them on a page.

use crate::phrase::headed;
use trade::roof::{Recipe, standard};
use trade::{CostKind, Item, Measure, Steepness, Topic};

/// What an item is called.
#[must_use]
pub const fn item_title(item: Item) -> &'static str {
    match item {
        Item::TearOff => "Tear-off",
        Item::Haul => "Haul-off and dump fees",
        Item::DeckSheet => "Deck sheet",
        Item::DeckBoard => "Deck board",
        Item::Barrier => "Membrane",
        Item::Underlayment => "Underlayment",
        Item::DripEdge => "Drip edge",
        Item::Starter => "Starter",
        Item::Shingles => "Field shingles",
        Item::ValleyMetal => "Valley metal",
        Item::RollRoofing => "Roll roofing in valleys",
        Item::StepFlashing => "Step flashing",
        Item::Apron => "Apron flashing",
        Item::CounterFlashing => "Counter-flashing",
        Item::KickOut => "Kick-out",
        Item::Cricket => "Cricket",
        Item::ChimneyFlashing => "Chimney flashing",
        Item::SkylightFlashing => "Skylight flashing",
        Item::PipeBoot => "Pipe boot",
        Item::RidgeVent => "Ridge vent",
        Item::BoxVent => "Box vent",
        Item::TurbineVent => "Turbine vent",
        Item::PowerVent => "Power vent",
        Item::Intake => "Intake vent",
        Item::RidgeCap => "Ridge and hip cap",
        Item::Fasteners => "Fasteners",
        Item::Insulation => "Attic insulation",
        Item::Baffle => "Baffle",
        Item::Gutter => "Gutter",
        Item::Downspout => "Downspout",
        Item::Permit => "Permit",
        Item::Machine => "Lift or other machine",
        Item::SetUp => "Setting up",
        Item::Covering => "Covering and protection",
        Item::CleanUp => "Clean-up",
        Item::Driving => "Driving",
        Item::Other => "Anything else",
    }
}

/// One of a measure.
#[must_use]
pub const fn measure_word(measure: Measure) -> &'static str {
    match measure {
        Measure::Square => "square",
        Measure::SquareFoot => "sq ft",
        Measure::Foot => "ft",
        Measure::Each => "piece",
        Measure::Ton => "ton",
        Measure::Day => "day",
        Measure::Mile => "mile",
    }
}

/// How steep a roof is, in a word.
#[must_use]
pub const fn steepness_title(steepness: Steepness) -> &'static str {
    match steepness {
        Steepness::Low => "Low",
        Steepness::Walkable => "Walkable",
        Steepness::Steep => "Steep",
        Steepness::VerySteep => "Very steep",
    }
}

/// The same with its slopes, by the limits of a recipe.
#[must_use]
pub fn steepness_slopes(steepness: Steepness, recipe: &Recipe) -> String {
    let title = steepness_title(steepness);
    let Recipe { walkable_from, steep_from, very_steep_from, .. } = recipe;
    match steepness {
        Steepness::Low => format!("{title}, under {walkable_from} in 12"),
        Steepness::Walkable => format!("{title}, {walkable_from} to under {steep_from} in 12"),
        Steepness::Steep => format!("{title}, {steep_from} to under {very_steep_from} in 12"),
        Steepness::VerySteep => format!("{title}, {very_steep_from} in 12 and more"),
    }
}

/// What a topic asks about, and in what; the unit is empty where it is a yes or a no.
#[must_use]
pub fn topic_words(topic: Topic) -> (&'static str, &'static str) {
    (standard::title(topic), standard::unit(topic).unwrap_or_default())
}

/// What a person reads for the words of the trade, as a file of TypeScript: a label is written once, here.
#[must_use]
pub fn labels() -> String {
    let topics = Topic::ALL.iter().map(|topic| {
        let (title, unit) = topic_words(*topic);
        (topic.as_str(), format!("{{ title: {title:?}, unit: {unit:?} }}"))
    });
    let items = Item::ALL.iter().map(|item| (item.as_str(), quoted(item_title(*item))));
    let steepness = Steepness::ALL.iter().map(|steep| (steep.as_str(), quoted(steepness_title(*steep))));
    let kinds = CostKind::ALL.iter().map(|kind| (kind.as_str(), quoted(&headed(kind.as_str()))));
    let unit = "/** What a topic asks about, and in what; the unit is empty where it is a yes or a no. */";
    [
        "/** Written by the program: what a person reads for the words of the trade. */\n".to_owned(),
        table("ITEMS", "/** What an item is called, in the order of work. */", items),
        table("TOPICS", unit, topics),
        table(
            "STEEPNESS",
            "/** How steep a roof is. Where one ends and the next begins stands in a recipe. */",
            steepness,
        ),
        table("COST_KINDS", "/** What a cost is for. */", kinds),
    ]
    .join("\n")
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

fn table<'a>(name: &str, about: &str, rows: impl Iterator<Item = (&'a str, String)>) -> String {
    let rows: String = rows.map(|(word, label)| format!("  {word:?}: {label},\n")).collect();
    format!("{about}\nexport const {name} = {{\n{rows}}} as const;\n")
}

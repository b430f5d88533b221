//! Items, topics and heights in plain trade English, for those who read them on a page.

use trade::{Item, Measure, Steepness, Topic};

/// What an item is called.
#[must_use]
pub const fn item_title(item: Item) -> &'static str {
    match item {
        Item::TearOff => "Tear-off",
        Item::Haul => "Haul",
        Item::DeckSheet => "Deck sheet",
        Item::DeckBoard => "Deck board",
        Item::Barrier => "Membrane",
        Item::Underlayment => "Underlayment",
        Item::DripEdge => "Drip edge",
        Item::Starter => "Starter",
        Item::Shingles => "Field shingles",
        Item::ValleyMetal => "Valley metal",
        Item::StepFlashing => "Step flashing",
        Item::Apron => "Apron flashing",
        Item::CounterFlashing => "Counter-flashing",
        Item::KickOut => "Kick-out",
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
        Item::Gutter => "Gutter",
        Item::Downspout => "Downspout",
        Item::Permit => "Permit",
        Item::Machine => "Lift or other machine",
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
    }
}

/// How steep a roof is, in its slope.
#[must_use]
pub const fn steepness_title(steepness: Steepness) -> &'static str {
    match steepness {
        Steepness::Low => "Under 4 in 12",
        Steepness::Walkable => "4 to under 8 in 12",
        Steepness::Steep => "8 to under 12 in 12",
        Steepness::VerySteep => "12 in 12 and more",
    }
}

/// What a topic asks about, and in what; the unit is empty where it is a yes or a no.
#[must_use]
pub const fn topic_words(topic: Topic) -> (&'static str, &'static str) {
    match topic {
        Topic::BarrierEave => ("Membrane at eaves", ""),
        Topic::BarrierEaveInside => ("Eave barrier reaches inside the wall line", "in, level"),
        Topic::BarrierEaveAlong => ("Eave barrier on steep roofs, least width", "in along the slope"),
        Topic::BarrierEaveAlongFrom => ("That least width counts from a slope of", "in 12"),
        Topic::BarrierRake => ("Membrane along rakes", "in wide"),
        Topic::BarrierValley => ("Membrane in valleys", "in wide"),
        Topic::BarrierHip => ("Membrane along hips", "in wide"),
        Topic::BarrierRidge => ("Membrane along ridges", "in wide"),
        Topic::BarrierWall => ("Membrane along walls", "in wide"),
        Topic::BarrierPenetration => ("Membrane round penetrations", "in each side"),
        Topic::LeastSlope => ("Least slope for shingles", "in 12"),
        Topic::DoubleUnderlaymentBelow => ("Underlayment doubled under a slope of", "in 12"),
        Topic::DripEdgeEave => ("Drip edge at eaves", ""),
        Topic::DripEdgeRake => ("Drip edge at rakes", ""),
        Topic::DripEdgeLap => ("Drip edge laps by", "in"),
        Topic::StarterEave => ("Starter at eaves", ""),
        Topic::StarterRake => ("Starter at rakes", ""),
        Topic::ValleyMetalWidth => ("Metal in open valleys, least width", "in"),
        Topic::ValleyEdgeStrips => ("Strips over the edges of valley metal", ""),
        Topic::StepFlashingSide => ("Step flashing, least side", "in"),
        Topic::KickOut => ("Kick-out where an eave ends at a wall", ""),
        Topic::VentRatio => ("Attic floor for each unit of net free area", "to 1"),
        Topic::NailsEach => ("Nails in each shingle", "nails"),
        Topic::NewFlashings => ("New flashings in place of the old", ""),
    }
}
